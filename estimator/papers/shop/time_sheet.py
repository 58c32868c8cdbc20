"""The time sheet: an estimate in; the steps of this job with their counts out, and room to write what each really took.

Its columns are those of the sheet Time log, so that a filled-in page is typed into it as it stands. What was planned is not
printed: a bench that knows the plan writes the plan.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from estimator.papers.page.pieces import gap, paragraph, title
from estimator.papers.page.rows import Rows
from estimator.papers.page.tables import Column, table
from estimator.papers.shop.paper import ShopPaper

if TYPE_CHECKING:
    from reportlab.platypus.flowables import Flowable

_EMPTY_ROWS = 4
_ROW_PT, _LEAST_ROW_PT = 21.0, 18.8
"""High enough to write in by hand, and what that may shrink to where all then stands on one page."""


def timed_steps(paper: ShopPaper) -> list[tuple[str, str, str]]:
    """Each step that this job takes: its name as in Work, how many, and of what."""
    return [
        (one.step.step, paper.language.number(one.count, most_decimals=2), paper.say.counted(f"count {one.step.per}", one.count))
        for one in paper.estimate.minutes.steps
        if one.minutes
    ]


def time_sheet_story(paper: ShopPaper) -> list[Flowable]:
    look, say, steps = paper.look, paper.say, timed_steps(paper)
    if not steps:
        return []
    empty = [[""] * 6] * _EMPTY_ROWS
    rows = [["", step, count, per, "", ""] for step, count, per in steps] + empty
    columns = [
        Column(say("date"), width_mm=22),
        Column(say("step")),
        Column(say("count"), width_mm=16, align="right"),
        Column(say("count of"), width_mm=20),
        Column(say("minutes head"), width_mm=24),
        Column(say("note"), width_mm=34),
    ]
    head = [title(say("time sheet"), look), paragraph(say("time sheet lead", workbook=paper.estimate.job.workbook), look), gap(0.5)]
    left_pt = look.height_pt - sum(one.wrap(look.width_pt, look.height_pt)[1] for one in head)
    for row_pt in (_ROW_PT, _LEAST_ROW_PT):
        sheet = table(columns, rows, look=look, least_row_pt=row_pt)
        if sheet.height <= left_pt:
            return [*head, sheet]
    return [*head, table(columns, rows[: -len(empty)] if _would_be_alone(sheet, left_pt) else rows, look=look, least_row_pt=_ROW_PT)]


def _would_be_alone(sheet: Rows, left_pt: float) -> bool:
    """Whether nothing but the empty rows would stand on a second page."""
    return sheet.height - sum(sheet.heights_pt[-_EMPTY_ROWS:]) <= left_pt
