"""What the boards yield: an estimate in; a table of expected yields beside those of the cutting plans out."""

from __future__ import annotations

from typing import TYPE_CHECKING

from estimator.model.taken import BoardUse
from estimator.papers.owner.paper import OwnerPaper
from estimator.papers.page.pieces import gap, heading, paragraph
from estimator.papers.page.tables import Column, table

if TYPE_CHECKING:
    from reportlab.platypus.flowables import Flowable


def yields_story(paper: OwnerPaper) -> list[Flowable]:
    """Every board with its sheets and yields; a few words on how to use them where a board is bought by its yield."""
    uses = paper.estimate.boards
    if not uses:
        return []
    columns = [
        Column("Board"),
        Column("Sheets", width_mm=18, align="right"),
        Column("At least", width_mm=18, align="right"),
        Column("Expected yield", width_mm=30, align="right"),
        Column("Sheets of the plan", width_mm=34, align="right"),
        Column("Yield of the plan", width_mm=32, align="right"),
    ]
    words = (
        "Yield is the parts' area over the trimmed sheets' area. Where a board is bought by its expected yield, the cutting plan "
        "beside it shows what such a job really takes; over many jobs that is the yield to expect."
        if any(use.by_yield for use in uses)
        else "Yield is the parts' area over the trimmed sheets' area. Sheets: what is bought or taken from stock, offcuts apart."
    )
    return [
        *heading("What the boards yield", paper.look),
        table(columns, [yield_row(paper, use) for use in uses], look=paper.look),
        gap(0.5),
        paragraph(words, paper.look, name="small"),
    ]


def yield_row(paper: OwnerPaper, use: BoardUse) -> list[str | Flowable]:
    expected = paper.percent(use.yield_share) if use.by_yield else "–"
    own = paper.percent(use.plan_yield_share) if use.plan_yield_share is not None else "–"
    return [use.board, str(use.sheets), str(use.bound), expected, str(use.plan.sheets) if use.plan else "–", own]
