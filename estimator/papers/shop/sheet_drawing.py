"""A sheet with its pieces, to scale: a way of cutting and its room go in; the drawing, and what was too small to write in, out."""

from __future__ import annotations

from typing import TYPE_CHECKING

from estimator.model.cutting_plan import NamedPattern, NamedPlacement, StockSheet
from estimator.model.dataclass import dataclass
from estimator.model.exact import Fraction
from estimator.model.taken import BoardUse, Part
from estimator.papers.drawings.pencil import Around, Pencil, drawing, round_scale
from estimator.papers.page.fonts import draw_text, text_width_pt
from estimator.papers.page.look import HAIR_PT, PT_PER_MM, SMALL_PT
from estimator.papers.shop.paper import ShopPaper
from estimator.papers.shop.part_drawing import arrow, lying_sides, thick_edges
from estimator.papers.shop.pieces import Room, lines_that_fit, write_in

if TYPE_CHECKING:
    from reportlab.platypus.flowables import Flowable

_SCALES = (5, 8, 10, 12, 13, 14, 15, 16, 18, 20, 25, 30, 40, 50, 60, 80, 100)
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


@dataclass(frozen=True, slots=True)
class DrawnSheet:
    """The drawing, its scale, and the words of those pieces that have no room for them."""

    picture: Flowable
    scale: Fraction
    unwritten: tuple[str, ...]


def drawn_sheet(
    paper: ShopPaper, use: BoardUse, entry: NamedPattern, stock: StockSheet, *, width_pt: float, height_pt: float
) -> DrawnSheet:
    """A sheet as large as a round scale allows in the room."""
    pieces = pieces_of(use, entry)
    scale = round_scale(
        width_mm=stock.length_mm,
        height_mm=stock.width_mm,
        room_width_pt=max(width_pt - _AROUND.left_pt - _AROUND.right_pt, 1),
        room_height_pt=max(height_pt - _AROUND.top_pt - _AROUND.bottom_pt, 1),
        scales=_SCALES,
    )
    unwritten = tuple(
        _long_words(paper, piece) for piece in pieces if lines_that_fit(_room(piece), _ways(paper, piece), scale=scale) is None
    )

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

    picture = drawing(draw, width_mm=stock.length_mm, height_mm=stock.width_mm, scale=scale, around=_AROUND)
    return DrawnSheet(picture, scale, unwritten)


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
