"""The part that is signed: what is accepted, the options to tick, a place for both to sign."""

from __future__ import annotations

from typing import TYPE_CHECKING

from estimator.papers.page.look import PT_PER_MM
from estimator.papers.page.pieces import gap, heading, line_to_write_on, paragraph
from estimator.papers.quote.letterhead import side_by_side
from estimator.papers.quote.paper import QuotePaper, one_line
from estimator.papers.quote.price import options_table

if TYPE_CHECKING:
    from reportlab.platypus.flowables import Flowable

_GUTTER_MM = 14


def acceptance_story(paper: QuotePaper) -> list[Flowable]:
    """Kept together on one page unless there are more options than a page holds."""
    from reportlab.platypus import CondPageBreak

    look, words = paper.look, paper.words
    options = [options_table(paper, to_tick=True), gap()] if paper.estimate.options else []
    story: list[Flowable] = [
        *heading(words.label("acceptance"), look, needs_pt=0)[1:],
        *words.story("acceptance", paper.values(), look),
        gap(),
        *options,
        _signatures(paper),
    ]
    needs_pt = sum(flowable.wrap(look.width_pt, look.height_pt)[1] for flowable in story) + 40
    return [CondPageBreak(min(needs_pt, look.height_pt)), *story]


def _signatures(paper: QuotePaper) -> Flowable:
    words, look = paper.words, paper.look
    shop = one_line(paper.estimate.job.shop.shop_name)
    width_mm = (look.width_pt / PT_PER_MM - _GUTTER_MM) / 2
    columns = [
        [
            paragraph(head, look, name="strong"),
            gap(0.5),
            line_to_write_on(words.label("signature"), look, width_mm=width_mm),
            line_to_write_on(words.label("name and date"), look, width_mm=width_mm),
        ]
        for head in (words.label("for the client"), words.label("for the shop", shop=shop))
    ]
    gutter_pt = _GUTTER_MM * PT_PER_MM
    half = width_mm * PT_PER_MM
    return side_by_side([columns[0], [], columns[1]], widths_pt=[half, gutter_pt, half])
