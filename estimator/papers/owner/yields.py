"""What the boards yield: an estimate in; a table of expected yields beside those of the cutting plans out."""

from __future__ import annotations

from typing import TYPE_CHECKING

from estimator.model.taken import BoardUse
from estimator.papers.owner.paper import OwnerPaper, capital
from estimator.papers.page.pieces import gap, heading, paragraph
from estimator.papers.page.tables import Column, table

if TYPE_CHECKING:
    from reportlab.platypus.flowables import Flowable


def yields_story(paper: OwnerPaper) -> list[Flowable]:
    """Every board with its sheets and yields; a few words on how to use them where a board is bought by its yield."""
    uses, say = paper.estimate.boards, paper.say
    if not uses:
        return []
    columns = [
        Column(capital(say("board"))),
        Column(capital(say("sheets")), width_mm=18, align="right"),
        Column(say("at least"), width_mm=18, align="right"),
        Column(say("expected yield"), width_mm=30, align="right"),
        Column(say("sheets of the plan"), width_mm=34, align="right"),
        Column(say("yield of the plan"), width_mm=32, align="right"),
    ]
    words = say("yield by expectation" if any(use.by_yield for use in uses) else "yield by the plan")
    return [
        *heading(say("what the boards yield"), paper.look),
        table(columns, [yield_row(paper, use) for use in uses], look=paper.look),
        gap(0.5),
        paragraph(words, paper.look, name="small"),
    ]


def yield_row(paper: OwnerPaper, use: BoardUse) -> list[str | Flowable]:
    expected = paper.percent_in_column(use.yield_share) if use.by_yield else "–"
    own = paper.percent_in_column(use.plan_yield_share) if use.plan_yield_share is not None else "–"
    return [use.board, str(use.sheets), str(use.bound), expected, str(use.plan.sheets) if use.plan else "–", own]
