"""The cutting diagrams: an estimate in; how many sheets each board takes, and a page for each way of cutting one, out."""

from __future__ import annotations

from typing import TYPE_CHECKING

from estimator.model.cutting_plan import NamedPattern, StockSheet
from estimator.model.exact import Fraction
from estimator.model.taken import BoardUse
from estimator.model.units import half_away
from estimator.papers.page.pieces import gap, heading, paragraph, stacked_pt, title
from estimator.papers.shop.diagram_page import laid_out
from estimator.papers.shop.paper import ShopPaper

if TYPE_CHECKING:
    from reportlab.platypus.flowables import Flowable

_ALSO_DRAWN_SHARE = 0.3
"""Of a page: where the words on the sheets take no more, the first drawing stands below them."""
_BELOW_PT = 2.0
"""Left free at the foot of a page, so that what was measured never misses it by a hair."""


def cutting_diagrams_story(paper: ShopPaper) -> list[Flowable]:
    """How many sheets, then a page for each way of cutting one. All pages lie on their side."""
    from reportlab.platypus import PageBreak

    look, say, kerf = paper.look, paper.say, paper.language.length(paper.estimate.job.shop.kerf_mm)
    lead = [title(say("cutting diagrams"), look), paragraph(say("cutting diagrams lead", unit=paper.unit, kerf=kerf), look)]
    boards = [(heading(use.board, look, level=1), paragraph(board_words(paper, use), look)) for use in paper.estimate.boards]
    words_pt = stacked_pt([*lead, *(one for head, line in boards for one in (head[-1], line))], look.across_width_pt)
    above_pt = words_pt if words_pt <= _ALSO_DRAWN_SHARE * _page_height_pt(paper) else None
    story = [*lead, *(one for head, line in boards for one in (*head, line))]
    for use in paper.estimate.boards:
        for number, entry in enumerate(use.plan_entries, start=1):
            story += [*([PageBreak()] if above_pt is None else []), *_diagram(paper, use, entry, number=number, above_pt=above_pt or 0)]
            above_pt = None
    return story


def board_words(paper: ShopPaper, use: BoardUse) -> str:
    """How many sheets, and how sure that is."""
    say, sheets = paper.say, _sheets_words(paper, use)
    if use.by_yield:
        counted_by = say("counted by yield", sheets=sheets, share=paper.language.percent(use.yield_share))
        if use.plan is None or use.plan_yield_share is None:
            return say("no cutting plan", counted=counted_by)
        own = paper.language.percent(Fraction(half_away(use.plan_yield_share * 1000), 1000))
        return say("cut as drawn", counted=counted_by, sheets=say.counted("sheets", use.plan.sheets), share=own)
    if len(use.by_size) > 1 or any(entry.pattern.sheet >= len(paper.sizes_of(use.board)) for entry in use.plan_entries):
        return say("chosen for their price", sheets=sheets)
    if use.sheets == use.bound:
        return say("no plan needs fewer", sheets=sheets, bound=use.bound)
    return say("none with fewer is possible", sheets=sheets, bound=use.bound)


def _sheets_words(paper: ShopPaper, use: BoardUse) -> str:
    """How many sheets of which size."""
    say = paper.say
    sizes = [(one.sheets, paper.language.sizes(one.board.sheet_length_mm, one.board.sheet_width_mm)) for one in use.by_size]
    if len(sizes) > 1:
        said = ", ".join(say("so many of", n=count, size=size) for count, size in sizes)
        return f"{say.counted('sheets', use.sheets)} ({said})"
    return say.counted("sheets of", sizes[0][0], size=sizes[0][1]) if sizes else say("no new sheet")


def _diagram(paper: ShopPaper, use: BoardUse, entry: NamedPattern, *, number: int, above_pt: float) -> list[Flowable]:
    """A page, or what is left of it: a heading, what is cut how often, the drawing and its cuts."""
    look, stock = paper.look, use.plan_stock[entry.pattern.sheet]
    words = paper.say("diagram of several", board=use.board, n=number, of=len(use.plan_entries))
    head = [*heading(words, look, level=1)[1:], paragraph(_sheet_words(paper, use, entry, stock), look), gap(0.3)]
    free_pt = _page_height_pt(paper) - above_pt - stacked_pt(head, look.across_width_pt) - _BELOW_PT
    return [*head, *laid_out(paper, use, entry, stock, height_pt=free_pt).story]


def _sheet_words(paper: ShopPaper, use: BoardUse, entry: NamedPattern, stock: StockSheet) -> str:
    """What is cut, how often, and what is taken off it first."""
    say, size = paper.say, paper.language.sizes(stock.length_mm, stock.width_mm)
    kind = "offcuts cut" if entry.pattern.sheet >= len(paper.sizes_of(use.board)) else "sheets cut"
    words = say.counted(kind, entry.count, size=size, pieces=say.counted("pieces", len(entry.pieces)))
    return f"{words} {say('trim first', trim=paper.language.length(stock.trim_mm))}" if stock.trim_mm else words


def _page_height_pt(paper: ShopPaper) -> float:
    """Height between the margins of a page that lies on its side."""
    look = paper.look
    return look.page_width_pt - look.top_pt - look.foot_pt
