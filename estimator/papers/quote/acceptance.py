"""The part that is signed: what is accepted, the options to tick, a place for both to sign."""

from __future__ import annotations

from typing import TYPE_CHECKING

from estimator.papers.page.look import PT_PER_MM
from estimator.papers.page.pieces import gap, heading, kept_whole, line_to_write_on, paragraph
from estimator.papers.quote.letterhead import side_by_side
from estimator.papers.quote.paper import QuotePaper, one_line
from estimator.papers.quote.price import options_table

if TYPE_CHECKING:
    from reportlab.platypus.flowables import Flowable

_GUTTER_MM = 14


def acceptance_story(paper: QuotePaper) -> list[Flowable]:
    """Kept together on one page unless there are more options than a page holds."""
    look, words = paper.look, paper.words
    options = [options_table(paper, to_tick=True), gap()] if paper.estimate.options else []
    story: list[Flowable] = [
        *heading(words.label("acceptance"), look, needs_pt=0)[1:],
        *words.story("acceptance", paper.values(), look),
        gap(),
        *options,
        signatures(paper),
    ]
    return kept_whole(story, look)


def signatures(paper: QuotePaper) -> Flowable:
    """Who signs above, the lines to sign on below, level with each other however long the names are."""
    words, look = paper.words, paper.look
    shop = one_line(paper.estimate.job.shop.shop_name)
    gutter_pt = _GUTTER_MM * PT_PER_MM
    half_pt = (look.width_pt - gutter_pt) / 2
    widths_pt = [half_pt, gutter_pt, half_pt]

    def signer(head: str) -> list[Flowable]:
        return [paragraph(head, look, name="strong"), gap(0.5)]

    def lines() -> list[Flowable]:
        return [
            line_to_write_on(words.label(name), look, width_mm=half_pt / PT_PER_MM) for name in ("signature", "name and date")
        ]

    for_the_shop = words.label("for the shop", shop=shop) if shop else words.label("for the workshop")
    heads = [signer(words.label("for the client")), [], signer(for_the_shop)]
    whole = [side_by_side(heads, widths_pt=widths_pt), side_by_side([lines(), [], lines()], widths_pt=widths_pt)]
    return side_by_side([whole], widths_pt=[look.width_pt])
