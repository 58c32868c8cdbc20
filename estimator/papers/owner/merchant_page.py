"""Parts from the board merchant: an estimate in; whether buying them cut or banded pays, whole and board by board, out."""

from __future__ import annotations

from typing import TYPE_CHECKING

from estimator.model.decision import MerchantAnswer, MerchantWay
from estimator.papers.owner.paper import OwnerPaper, listed, way_words
from estimator.papers.page.pieces import gap, heading, paragraph
from estimator.papers.page.tables import Column, table

if TYPE_CHECKING:
    from reportlab.platypus.flowables import Flowable

_NEEDS_PT = 220.0


def merchant_story(paper: OwnerPaper) -> list[Flowable]:
    """Nothing where no merchant offers a board of this job."""
    answer, look = paper.estimate.merchant, paper.look
    if answer is None:
        return []
    return [
        *heading("Parts from the board merchant", look, needs_pt=_NEEDS_PT),
        paragraph(f"{answer.sentence}.", look, name="strong"),
        gap(0.5),
        _table(paper, answer),
        gap(0.5),
        *[paragraph(words, look, name="small") for words in _notes(paper, answer)],
    ]


def _ways(answer: MerchantAnswer) -> list[tuple[str, MerchantWay]]:
    """All made here, each board alone, the best mix where it is neither, and all from the merchant."""
    ways = [("nothing: all made here", answer.here)]
    if len(answer.by_board) > 1:
        ways += [(listed(way.boards), way) for way in answer.by_board]
    known = {way.boards for _, way in ways} | {answer.whole.boards}
    if answer.best.boards not in known:
        ways.append((f"the best mix: {listed(answer.best.boards)}", answer.best))
    return [*ways, ("all that it offers" if answer.by_board[1:] else listed(answer.whole.boards), answer.whole)]


def _table(paper: OwnerPaper, answer: MerchantAnswer) -> Flowable:
    """A row a way; the best in bold."""
    ways, now = _ways(answer), answer.here.cost
    rows = []
    for name, way in ways:
        asked = way.sheets + way.cuts + way.parts + way.banding + way.top_up
        figures = [paper.amount(one) for one in (asked, way.boards_here, way.work_here, way.banding_here)]
        saved = "" if now is None or way.cost is None else paper.amount(now - way.cost)
        rows.append([name, *figures, "not possible" if way.cost is None else paper.amount(way.cost), saved])
    columns = [
        Column(f"From the merchant ({paper.terms.currency})", share=1.6),
        Column("It asks", align="right"),
        Column("Board for here", align="right"),
        Column("Cutting here", align="right"),
        Column("Banding here", align="right"),
        Column("Together", align="right"),
        Column("Saved", align="right"),
    ]
    best = [place for place, (_, way) in enumerate(ways) if way.boards == answer.best.boards]
    return table(columns, rows, look=paper.look, strong_rows=best[:1])


def _notes(paper: OwnerPaper, answer: MerchantAnswer) -> list[str]:
    """What the figures count, how what is left is banded, and what stands in the way."""
    notes = [
        f"A comparison beside the price, which stays as it is: board, the steps of the stages cutting and banding at "
        f"{paper.money(paper.estimate.rates.freed)} an hour, and all that depends on the way of banding."
    ]
    best = answer.best
    if best.boards:
        asked = (("sheets", best.sheets), ("cuts", best.cuts), ("parts", best.parts), ("banding", best.banding))
        notes.append(f"Of what the best asks: {', '.join(f'{paper.money(money)} for {what}' for what, money in asked if money)}.")
    if best.boards and best.edgings:
        notes.append(f"With the best of these, what is left to band: {way_words(best.sent, of=best.edgings)}.")
    notes += [f"{listed(way.boards) or 'all made here'}: not possible, {way.why}." for _, way in _ways(answer) if way.why]
    if not answer.every_mix:
        notes.append("With so many boards only all of them and each alone were compared, not every mix.")
    return notes
