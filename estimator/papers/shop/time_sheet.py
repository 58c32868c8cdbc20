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
    look, steps = paper.look, timed_steps(paper)
    if not steps:
        return []
    rows = [["", step, count, per, "", ""] for step, count, per in steps] + [[""] * 6] * _EMPTY_ROWS
    columns = [
        Column("Date", width_mm=22),
        Column("Step"),
        Column("Count", width_mm=16, align="right"),
        Column("of", width_mm=20),
        Column("Minutes", width_mm=24),
        Column("Note", width_mm=34),
    ]
    return [
        title("Time sheet", look),
        paragraph(
            f"Job {paper.estimate.job.workbook}. Write what each step really took, in minutes of one person: two people count twice, "
            "drying does not count. Strike a count out and write the right one where another number was made; a step done on two "
            "days takes a line a day. Typed into the sheet Time log, these lines make the next price better.",
            look,
        ),
        gap(0.5),
        table(columns, rows, look=look, least_row_pt=_ROW_PT),
    ]
