"""Parts from the board merchant: an estimate in; whether buying them cut or banded pays, whole and board by board, out."""

from __future__ import annotations

from typing import TYPE_CHECKING

from estimator.model.decision import MerchantAnswer, MerchantWay
from estimator.papers.owner.paper import OwnerPaper
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
        *heading(paper.say("merchant"), look, needs_pt=_NEEDS_PT),
        paragraph(merchant_words(paper, answer), look, name="strong"),
        gap(0.5),
        _table(paper, answer),
        gap(0.5),
        *[paragraph(words, look, name="small") for words in _notes(paper, answer)],
    ]


def merchant_words(paper: OwnerPaper, answer: MerchantAnswer) -> str:
    """What the comparison comes to, in one sentence."""
    say, best, here = paper.say, answer.best, answer.here
    if not best.boards or best.cost is None:
        return say("merchant gains nothing")
    delivers = {row.board: row.delivers for row in reversed(paper.estimate.job.merchant)}
    kinds = {board: delivers.get(board) or delivers.get("") or "cut" for board in best.boards}
    doing = [
        say(f"boards {kind}", boards=", ".join(board for board in best.boards if kinds[board] == kind))
        for kind in ("cut and banded", "cut")
        if kind in kinds.values()
    ]
    said = {"doing": "; ".join(doing), "cost": paper.money(best.cost)}
    if here.cost is None:
        words = say("merchant only way", **said)
    else:
        words = say("merchant saves", **said, saved=paper.money(here.cost - best.cost))
    return f"{words} {say.counted('merchant days', answer.lead_time_days)}" if answer.lead_time_days else words


def _ways(paper: OwnerPaper, answer: MerchantAnswer) -> list[tuple[str, MerchantWay]]:
    """All made here, each board alone, the best mix where it is neither, and all from the merchant."""
    ways = [(paper.say("nothing from it"), answer.here)]
    if len(answer.by_board) > 1:
        ways += [(paper.listed(way.boards), way) for way in answer.by_board]
    known = {way.boards for _, way in ways} | {answer.whole.boards}
    if answer.best.boards not in known:
        ways.append((paper.say("the best mix", boards=paper.listed(answer.best.boards)), answer.best))
    return [*ways, (paper.say("all that it offers") if answer.by_board[1:] else paper.listed(answer.whole.boards), answer.whole)]


def _table(paper: OwnerPaper, answer: MerchantAnswer) -> Flowable:
    """A row a way; the best in bold."""
    ways, now, say = _ways(paper, answer), answer.here.cost, paper.say
    rows = []
    for name, way in ways:
        asked = way.sheets + way.cuts + way.parts + way.banding + way.top_up
        figures = [paper.amount(one) for one in (asked, way.boards_here, way.work_here, way.banding_here)]
        saved = "" if now is None or way.cost is None else paper.amount(now - way.cost)
        rows.append([name, *figures, say("not possible") if way.cost is None else paper.amount(way.cost), saved])
    columns = [
        Column(say("from the merchant", currency=paper.terms.currency), share=1.6),
        Column(say("it asks"), align="right"),
        Column(say("board for here"), align="right"),
        Column(say("cutting here"), align="right"),
        Column(say("banding here"), align="right"),
        Column(say("together"), align="right"),
        Column(say("saved"), align="right"),
    ]
    best = [place for place, (_, way) in enumerate(ways) if way.boards == answer.best.boards]
    return table(columns, rows, look=paper.look, strong_rows=best[:1])


def _notes(paper: OwnerPaper, answer: MerchantAnswer) -> list[str]:
    """What the figures count, how what is left is banded, and what stands in the way."""
    say, best = paper.say, answer.best
    notes = [say("merchant note", freed=paper.money(paper.estimate.rates.freed))]
    if best.boards:
        asked = (("sheets", best.sheets), ("cuts", best.cuts), ("parts", best.parts), ("banding", best.banding), ("minimum", best.top_up))
        parts = ", ".join(say(f"asked for {what}", amount=paper.money(money)) for what, money in asked if money)
        notes.append(say("of what the best asks", parts=parts))
    if best.boards and best.edgings:
        notes.append(say("left to band", way=paper.way_words(best.sent, of=best.edgings)))
    notes += [
        say("merchant not possible", way=paper.listed(way.boards) or say("all made here"), why=way.why)
        for _, way in _ways(paper, answer)
        if way.why
    ]
    if not answer.every_mix:
        notes.append(say("not every mix"))
    return notes
