"""The time sheet: an estimate in; the steps of this job with their counts out, and room to write what each really took.

Its columns are those of the sheet Time log, so that a filled-in page is typed into it as it stands. What was planned is not
printed: a bench that knows the plan writes the plan.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from estimator.model.results import StepMinutes
from estimator.model.units import M_PER_FOOT
from estimator.papers.page.pieces import gap, paragraph, title
from estimator.papers.page.tables import Column, table
from estimator.papers.shop.paper import ShopPaper

if TYPE_CHECKING:
    from reportlab.platypus.flowables import Flowable

_ROW_PT, _LEAST_ROW_PT = 21.0, 18.8
"""High enough to write in by hand, and what that may shrink to where all then stands on one page."""
_WAYS = ((4, _ROW_PT), (4, _LEAST_ROW_PT), (2, _LEAST_ROW_PT), (1, _LEAST_ROW_PT), (0, _LEAST_ROW_PT))
"""Empty rows for what nobody thought of, and the height of all, in turn until the page holds them; else two pages as the first says."""


_IN_FEET = {"metre": M_PER_FOOT, "m2": M_PER_FOOT**2}


def timed_steps(paper: ShopPaper) -> list[tuple[str, str, str]]:
    """Each step that this job takes: its name as in Work, how many, and of what, as the Time log of the job reads it."""
    return [(one.step.step, *_counted(paper, one)) for one in paper.estimate.minutes.steps if one.minutes]


def _counted(paper: ShopPaper, one: StepMinutes) -> tuple[str, str]:
    """The Time log of an inch job counts runs in feet and areas in square feet, where Work counts metres."""
    per, count = one.step.per, one.count
    if paper.terms.units == "inch" and per in _IN_FEET:
        per, count = f"{per} in inch", count / _IN_FEET[per]
    return paper.language.number(count, most_decimals=2), paper.say.counted(f"count {per}", count)


def time_sheet_story(paper: ShopPaper) -> list[Flowable]:
    look, say, steps = paper.look, paper.say, timed_steps(paper)
    if not steps:
        return []
    rows = [["", step, count, per, "", ""] for step, count, per in steps]
    columns = [
        Column(say("date"), width_mm=22),
        Column(say("step")),
        Column(say("count"), width_mm=16, align="right"),
        Column(say("count of"), width_mm=20 if paper.terms.units == "mm" else 22),
        Column(say("minutes head"), width_mm=24),
        Column(say("note"), width_mm=34),
    ]
    head = [title(say("time sheet"), look), paragraph(say("time sheet lead", workbook=paper.estimate.job.workbook), look), gap(0.5)]
    left_pt = look.height_pt - sum(one.wrap(look.width_pt, look.height_pt)[1] for one in head)
    for empty, row_pt in _WAYS:
        sheet = table(columns, [*rows, *[[""] * 6] * empty], look=look, least_row_pt=row_pt)
        if sheet.height <= left_pt:
            return [*head, sheet]
    empty, row_pt = _WAYS[0]
    return [*head, table(columns, [*rows, *[[""] * 6] * empty], look=look, least_row_pt=row_pt)]
