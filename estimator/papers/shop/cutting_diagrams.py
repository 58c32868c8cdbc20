"""The cutting diagrams: an estimate in; a drawing to scale for each way of cutting a sheet, its cuts in order beside it, out."""

from __future__ import annotations

from typing import TYPE_CHECKING

from estimator.model.cutting_plan import NamedPattern, NamedPlacement, StockSheet
from estimator.model.dataclass import dataclass
from estimator.model.exact import Fraction
from estimator.model.taken import BoardUse, Part
from estimator.model.units import half_away
from estimator.papers.drawings.pencil import Around, Pencil, drawing, round_scale
from estimator.papers.page.fonts import draw_text, text_width_pt
from estimator.papers.page.look import HAIR_PT, PT_PER_MM, SMALL_PT
from estimator.papers.page.pieces import Beside, gap, heading, paragraph, title
from estimator.papers.shop.cuts import cuts_beside
from estimator.papers.shop.paper import ShopPaper
from estimator.papers.shop.part_drawing import arrow, lying_sides, thick_edges
from estimator.papers.shop.pieces import Room, lines_that_fit, write_in

if TYPE_CHECKING:
    from reportlab.platypus.flowables import Flowable

_SCALES = (5, 8, 10, 12, 13, 14, 15, 16, 18, 20, 25, 30, 40, 50, 60, 80, 100)
_CUTS_PT = {"mm": 55 * PT_PER_MM, "inch": 66 * PT_PER_MM}
"""Room of the list of cuts: inches with their fractions are longer words."""
_BETWEEN_PT = 10.0
_MOST_COLUMNS, _TRIES = 2, 4
"""Columns of cuts beside a drawing, and how often it is drawn anew until all has its room."""
_MOST_NOTES_PT = 52.0
"""What the words below a drawing may take of its page: four lines."""
_HEAD_PT = 42.0
"""What the heading and the line below it take."""
_AROUND = Around(left_pt=16, bottom_pt=29, right_pt=2, top_pt=4)
_NUMBER_PT = 7.0
_NUMBER_IN_PT = 6.0
"""So far from the start of its cut a number stands."""


@dataclass(frozen=True, slots=True)
class DiagramPiece:
    """One piece of a diagram, with the part that it is."""

    placed: NamedPlacement
    part: Part
    sheets: int

    @property
    def size_mm(self) -> tuple[float, float]:
        """Its size along and across the sheet."""
        length, width = float(self.part.cut_length_mm), float(self.part.cut_width_mm)
        return (width, length) if self.placed.placement.turned else (length, width)


def pieces_of(use: BoardUse, entry: NamedPattern) -> tuple[DiagramPiece, ...]:
    """The pieces of a sheet; the labels choose among parts of one row of the plan, so the part is the plan's own."""
    return tuple(DiagramPiece(placed, use.plan_parts[placed.placement.part], entry.count) for placed in entry.pieces)


def cutting_diagrams_story(paper: ShopPaper) -> list[Flowable]:
    """A page that says how many sheets, then a page for each way of cutting one. All pages lie on their side."""
    from reportlab.platypus import PageBreak

    look, say, kerf = paper.look, paper.say, paper.language.length(paper.estimate.job.shop.kerf_mm)
    story = [title(say("cutting diagrams"), look), paragraph(say("cutting diagrams lead", unit=paper.unit, kerf=kerf), look)]
    for use in paper.estimate.boards:
        story += [*heading(use.board, look, level=1), paragraph(board_words(paper, use), look)]
    for use in paper.estimate.boards:
        for number, entry in enumerate(use.plan_entries, start=1):
            story += [PageBreak(), *_diagram(paper, use, entry, number=number)]
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


def _diagram(paper: ShopPaper, use: BoardUse, entry: NamedPattern, *, number: int) -> list[Flowable]:
    """One page: the drawing with its cuts beside it, and below what was too small to write in. The drawing leaves them their room."""
    look, stock, column_pt = paper.look, use.plan_stock[entry.pattern.sheet], _CUTS_PT[paper.terms.units]
    columns_beside, notes_pt = 1, 0.0
    for _ in range(_TRIES):
        left_pt = look.across_width_pt - columns_beside * (column_pt + _BETWEEN_PT) + _BETWEEN_PT
        picture, unwritten = _picture(paper, use, entry, stock, width_pt=left_pt, below_pt=notes_pt)
        notes = [paragraph(paper.say("too small to write in", words="; ".join(unwritten)), look)] if unwritten else []
        # notes that took more would shrink the drawing until nothing can be written in: the rest of them goes on over the page
        noted_pt = sum(note.wrap(look.across_width_pt, look.height_pt)[1] + note.getSpaceBefore() for note in notes)
        wanted_pt = min(noted_pt, _MOST_NOTES_PT)
        columns = cuts_beside(
            paper, entry.pattern.cuts, width_pt=column_pt, height_pt=_page_height_pt(paper) - _HEAD_PT - wanted_pt
        )
        wanted_columns = min(len(columns), _MOST_COLUMNS)
        if wanted_pt <= notes_pt and wanted_columns == columns_beside:
            break
        columns_beside, notes_pt = wanted_columns, max(notes_pt, wanted_pt)
    beside = Beside(
        [[picture], *([one] for one in columns[:columns_beside])],
        widths_pt=[left_pt - _BETWEEN_PT, *[column_pt] * columns_beside],
        between_pt=_BETWEEN_PT,
    )
    words = paper.say("diagram of several", board=use.board, n=number, of=len(use.plan_entries))
    head = heading(words, look, level=1)[1:]
    return [*head, paragraph(_sheet_words(paper, use, entry, stock), look), gap(0.3), beside, *notes, *columns[columns_beside:]]


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


def _picture(
    paper: ShopPaper, use: BoardUse, entry: NamedPattern, stock: StockSheet, *, width_pt: float, below_pt: float
) -> tuple[Flowable, list[str]]:
    """The drawing in a width, with room left below it, and the words of those pieces that have no room for them."""
    pieces = pieces_of(use, entry)
    scale = round_scale(
        width_mm=stock.length_mm,
        height_mm=stock.width_mm,
        room_width_pt=width_pt - _BETWEEN_PT - _AROUND.left_pt - _AROUND.right_pt,
        room_height_pt=_page_height_pt(paper) - _HEAD_PT - below_pt - _AROUND.top_pt - _AROUND.bottom_pt,
        scales=_SCALES,
    )
    unwritten = [
        _long_words(paper, piece) for piece in pieces if lines_that_fit(_room(piece), _ways(paper, piece), scale=scale) is None
    ]

    def draw(pencil: Pencil) -> None:
        pencil.box(x_mm=0, y_mm=0, width_mm=stock.length_mm, height_mm=stock.width_mm)
        _draw_rests(paper, pencil, entry)
        for piece in pieces:
            _draw_piece(paper, pencil, piece)
        _draw_cuts(pencil, entry)
        pencil.width_size(paper.language.length(stock.length_mm), x0_mm=0, x1_mm=stock.length_mm, y_mm=0, up_pt=-14)
        pencil.height_size(paper.language.length(stock.width_mm), x_mm=0, y0_mm=0, y1_mm=stock.width_mm, right_pt=-6)
        if paper.grain_of(use.board):
            _draw_grain(pencil, paper.say("grain"))

    return drawing(draw, width_mm=stock.length_mm, height_mm=stock.width_mm, scale=scale, around=_AROUND), unwritten


def _draw_rests(paper: ShopPaper, pencil: Pencil, entry: NamedPattern) -> None:
    """What is left over, in words where there is room."""
    pencil.pen(width_pt=HAIR_PT)
    for rest in entry.pattern.offcuts:
        pencil.box(x_mm=rest.x_mm, y_mm=rest.y_mm, width_mm=rest.length_mm, height_mm=rest.width_mm)
        size = paper.language.sizes(rest.length_mm, rest.width_mm)
        word = paper.say("rest")
        write_in(pencil, Room(rest.x_mm, rest.y_mm, rest.length_mm, rest.width_mm), [(f"{word} {size}",), (word, size)])


def _room(piece: DiagramPiece) -> Room:
    along, across = piece.size_mm
    return Room(piece.placed.placement.x_mm, piece.placed.placement.y_mm, along, across)


def _ways(paper: ShopPaper, piece: DiagramPiece) -> list[tuple[str, ...]]:
    """The words of a piece in three lines, in two, in one."""
    ref, name = piece.placed.ref, piece.placed.part
    size = paper.language.sizes(piece.part.cut_length_mm, piece.part.cut_width_mm)
    return [(ref, name, size), (f"{ref} {name}", size), (ref, f"{name} {size}"), (f"{ref} {name} {size}",)]


def _long_words(paper: ShopPaper, piece: DiagramPiece) -> str:
    length, place = paper.language.length, piece.placed.placement
    size = paper.language.sizes(piece.part.cut_length_mm, piece.part.cut_width_mm)
    what = f"{piece.placed.ref} {piece.placed.part} {size}"
    return paper.say("where a piece lies", piece=what, left=length(place.x_mm), foot=length(place.y_mm))


def _draw_piece(paper: ShopPaper, pencil: Pencil, piece: DiagramPiece) -> None:
    place, (along, across) = piece.placed.placement, piece.size_mm
    pencil.pen(width_pt=HAIR_PT)
    pencil.box(x_mm=place.x_mm, y_mm=place.y_mm, width_mm=along, height_mm=across)
    x, y = pencil.at(place.x_mm, place.y_mm)
    sides = lying_sides(piece.part, turned=place.turned)
    thick_edges(pencil.canvas, sides, x_pt=x, y_pt=y, width_pt=pencil.pt(along), height_pt=pencil.pt(across), clear_pt=1)
    write_in(pencil, _room(piece), _ways(paper, piece))


def _draw_cuts(pencil: Pencil, entry: NamedPattern) -> None:
    """The number of each cut near where the saw enters, on a small clear patch of the line."""
    for number, cut in enumerate(entry.pattern.cuts, start=1):
        x, y = pencil.at(*((cut.x_mm, cut.at_mm) if cut.direction == "rip" else (cut.at_mm, cut.y_mm)))
        x, y = (x + _NUMBER_IN_PT, y) if cut.direction == "rip" else (x, y + _NUMBER_IN_PT)
        text = str(number)
        wide = text_width_pt(text, size_pt=_NUMBER_PT) + 1.6
        canvas = pencil.canvas
        canvas.saveState()
        canvas.setFillGray(1)
        canvas.rect(x - wide / 2, y - _NUMBER_PT / 2, wide, _NUMBER_PT, stroke=0, fill=1)
        canvas.setFillGray(0)
        draw_text(canvas, text, x_pt=x, y_pt=y - 0.36 * _NUMBER_PT, size_pt=_NUMBER_PT, align="centre", strong=True)
        canvas.restoreState()


def _draw_grain(pencil: Pencil, word: str) -> None:
    """The grain of a sheet runs along its length."""
    pencil.words(word, x_mm=0, y_mm=0, up_pt=-25, align="left", size_pt=SMALL_PT)
    x, y = pencil.at(0, 0)
    start = x + text_width_pt(word, size_pt=SMALL_PT) + 5
    pencil.pen(width_pt=HAIR_PT)
    arrow(pencil.canvas, from_pt=(start, y - 25), to_pt=(start + 30 * PT_PER_MM, y - 25))
    pencil.pen()
