"""The cutting diagrams: an estimate in; one drawing to scale for each way in which sheets are cut, with its cuts in order, out."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from estimator.model.cutting_plan import NamedPattern, NamedPlacement, StockSheet
from estimator.model.results import BoardUse, Part
from estimator.papers.drawings.pencil import Around, Pencil, drawing, round_scale
from estimator.papers.page.fonts import draw_text, text_width_pt
from estimator.papers.page.look import HAIR_PT, LINE_PT, PT_PER_MM, SMALL_PT
from estimator.papers.page.pieces import gap, heading, paragraph, title
from estimator.papers.shop.cuts import cuts_table
from estimator.papers.shop.paper import ShopPaper, counted
from estimator.papers.shop.part_drawing import arrow, lying_sides, thick_edges
from estimator.papers.shop.pieces import Room, lines_that_fit, write_in

if TYPE_CHECKING:
    from reportlab.platypus.flowables import Flowable

_SCALES = (5, 8, 10, 12, 15, 16, 18, 20, 25, 30, 40, 50, 60, 80, 100)
_HIGHEST_PT = 400.0
_AROUND = Around(left_pt=16, bottom_pt=30, right_pt=2, top_pt=4)
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
    look = paper.look
    trim = "Each sheet is trimmed first, then cut in the order of the numbers: the piece in hand is always cut right through."
    story = [
        title("Cutting diagrams", look),
        paragraph(
            f"All sizes in {paper.unit}, saw cuts of {paper.language.length(paper.estimate.job.shop.kerf_mm)} already taken off. {trim} "
            "Thick edges are banded.",
            look,
        ),
    ]
    for use in paper.estimate.boards:
        story += heading(use.board, look)
        story.append(paragraph(board_words(paper, use), look))
        for number, entry in enumerate(use.plan_entries, start=1):
            story += _diagram(paper, use, entry, number=number)
    return story


def board_words(paper: ShopPaper, use: BoardUse) -> str:
    """How many sheets, and how sure that is."""
    sizes = ", ".join(
        f"{size.sheets} of {paper.language.sizes(size.board.sheet_length_mm, size.board.sheet_width_mm)}" for size in use.by_size
    )
    sheets = f"{counted(use.sheets, 'sheet')} ({sizes})" if use.sheets else "No new sheet"
    if use.plan is None:
        share = paper.language.percent(use.yield_share)
        return f"{sheets}, counted by the expected yield of {share}: there is no cutting plan, the saw decides as it goes."
    if len(use.by_size) > 1 or any(entry.pattern.sheet >= len(paper.sizes_of(use.board)) for entry in use.plan_entries):
        return f"{sheets}, chosen for their price, sheets and offcuts on hand first."
    if use.sheets == use.bound:
        return f"{sheets}; no plan needs fewer than {use.bound}."
    return f"{sheets}; a plan with {use.bound} could not be ruled out, none with fewer is possible."


def _diagram(paper: ShopPaper, use: BoardUse, entry: NamedPattern, *, number: int) -> list[Flowable]:
    from reportlab.platypus import CondPageBreak, KeepTogether

    look, stock = paper.look, use.plan_stock[entry.pattern.sheet]
    size = paper.language.sizes(stock.length_mm, stock.width_mm)
    what = "Offcut on hand" if entry.pattern.sheet >= len(paper.sizes_of(use.board)) else "Sheet"
    words = f"{what} {size}, to be cut {counted(entry.count, 'time')}"
    picture, unwritten = _picture(paper, use, entry, stock)
    pieces = counted(len(entry.pieces), "piece")
    head = heading(f"{use.board}, diagram {number}: {counted(entry.count, 'sheet')}", look, level=1)[1:]
    trim = f" Trim {paper.language.length(stock.trim_mm)} off each side first." if stock.trim_mm else ""
    block: list[Flowable] = [*head, paragraph(f"{words}, {pieces}.{trim}", look), gap(0.3), picture]
    block += [paragraph(f"Too small to write in: {words}", look, name="small") for words in unwritten]
    cuts = cuts_table(paper, entry.pattern.cuts)
    if len(entry.pattern.cuts) > 60:
        return [CondPageBreak(300), KeepTogether(block), gap(0.5), *cuts]
    return [KeepTogether([*block, gap(0.5), *cuts])]


def _picture(paper: ShopPaper, use: BoardUse, entry: NamedPattern, stock: StockSheet) -> tuple[Flowable, list[str]]:
    """The drawing, and the words of those pieces that have no room for them."""
    room = paper.look.width_pt - _AROUND.left_pt - _AROUND.right_pt
    scale = round_scale(
        width_mm=stock.length_mm, height_mm=stock.width_mm, room_width_pt=room, room_height_pt=_HIGHEST_PT, scales=_SCALES
    )
    pieces = pieces_of(use, entry)
    unwritten = [_long_words(paper, piece) for piece in pieces if lines_that_fit(_room(piece), _ways(paper, piece), scale=scale) is None]

    def draw(pencil: Pencil) -> None:
        pencil.box(x_mm=0, y_mm=0, width_mm=stock.length_mm, height_mm=stock.width_mm)
        for piece in pieces:
            _draw_piece(paper, pencil, piece)
        pencil.pen(width_pt=HAIR_PT)
        for offcut in entry.pattern.offcuts:
            pencil.box(x_mm=offcut.x_mm, y_mm=offcut.y_mm, width_mm=offcut.length_mm, height_mm=offcut.width_mm)
            size = paper.language.sizes(offcut.length_mm, offcut.width_mm)
            write_in(pencil, Room(offcut.x_mm, offcut.y_mm, offcut.length_mm, offcut.width_mm), [(f"rest {size}",), ("rest", size)])
        _draw_cuts(pencil, entry)
        pencil.pen()
        pencil.width_size(paper.language.length(stock.length_mm), x0_mm=0, x1_mm=stock.length_mm, y_mm=0, up_pt=-14)
        pencil.height_size(paper.language.length(stock.width_mm), x_mm=0, y0_mm=0, y1_mm=stock.width_mm, right_pt=-6)
        _draw_grain(paper, pencil, use.board, stock)

    return drawing(draw, width_mm=stock.length_mm, height_mm=stock.width_mm, scale=scale, around=_AROUND), unwritten


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
    return f"{piece.placed.ref} {piece.placed.part} {size}, {length(place.x_mm)} from the left and {length(place.y_mm)} from the foot"


def _draw_piece(paper: ShopPaper, pencil: Pencil, piece: DiagramPiece) -> None:
    place, (along, across) = piece.placed.placement, piece.size_mm
    pencil.pen(width_pt=LINE_PT)
    pencil.box(x_mm=place.x_mm, y_mm=place.y_mm, width_mm=along, height_mm=across)
    x, y = pencil.at(place.x_mm, place.y_mm)
    sides = lying_sides(piece.part, turned=place.turned)
    thick_edges(pencil.canvas, sides, x_pt=x, y_pt=y, width_pt=pencil.pt(along), height_pt=pencil.pt(across))
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


def _draw_grain(paper: ShopPaper, pencil: Pencil, board: str, stock: StockSheet) -> None:
    if not paper.grain_of(board):
        return
    pencil.words("grain", x_mm=0, y_mm=0, up_pt=-25, align="left", size_pt=SMALL_PT)
    x, y = pencil.at(0, 0)
    start = x + text_width_pt("grain", size_pt=SMALL_PT) + 5
    pencil.pen(width_pt=HAIR_PT)
    arrow(pencil.canvas, from_pt=(start, y - 25), to_pt=(start + 30 * PT_PER_MM, y - 25))
    pencil.pen()
