"""The time sheet: an estimate in; the steps of this job with their counts out, and room to write what each really took.

Its columns are those of the sheet Time log, so that a filled-in page is typed into it as it stands. What was planned is not
printed: a bench that knows the plan writes the plan.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from estimator.papers.page.pieces import gap, paragraph, title
from estimator.papers.page.tables import Column, table
from estimator.papers.shop.paper import ShopPaper

if TYPE_CHECKING:
    from reportlab.platypus.flowables import Flowable

_EMPTY_ROWS = 4
_ROW_PT = 21.0
"""High enough to write in by hand."""


def timed_steps(paper: ShopPaper) -> list[tuple[str, str, str]]:
    """Each step that this job takes: its name as in Work, how many, and of what."""
    return [
        (one.step.step, paper.language.number(one.count, most_decimals=2), one.step.per)
        for one in paper.estimate.minutes.steps
        if one.minutes
    ]


def time_sheet_story(paper: ShopPaper) -> list[Flowable]:
    look, say, steps = paper.look, paper.say, timed_steps(paper)
    if not steps:
        return []
    rows = [["", step, count, per, "", ""] for step, count, per in steps] + [[""] * 6] * _EMPTY_ROWS
    columns = [
        Column(say("date"), width_mm=22),
        Column(say("step")),
        Column(say("count"), width_mm=16, align="right"),
        Column(say("count of"), width_mm=20),
        Column(say("minutes head"), width_mm=24),
        Column(say("note"), width_mm=34),
    ]
    return [
        title(say("time sheet"), look),
        paragraph(say("time sheet lead", workbook=paper.estimate.job.workbook), look),
        gap(0.5),
        table(columns, rows, look=look, least_row_pt=_ROW_PT),
    ]
