"""The rows of a table on paper: cells that know their lines go in; rows that run over pages, under their repeated heading, come out.

    height of a row  =  its tallest cell  +  a little above and below

Every width is known when a table is made, so the heights are worked out once; the place of a page's end is then found by adding.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from reportlab.platypus.flowables import Flowable

from estimator.model.dataclass import dataclass
from estimator.papers.page.fonts import Align, draw_text
from estimator.papers.page.look import HAIR_PT, LEADING_PT, LINE_PT, TEXT_PT

if TYPE_CHECKING:
    from reportlab.lib.colors import Color
    from reportlab.pdfgen.canvas import Canvas

PAD_PT = 4.0
_LONE = 1
"""So many rows never stand alone on the last page: the one before comes along."""
_ROW_PAD_PT = 3.0


@dataclass(frozen=True, slots=True)
class Cell:
    """Lines of plain text, or flowables one below the other."""

    lines: Sequence[str]
    align: Align = "left"
    strong: bool = False
    pad_pt: float = 0
    """Kept free at the right, besides the padding of every cell."""
    size_pt: float = TEXT_PT
    leading_pt: float = LEADING_PT
    flowables: tuple[Flowable, ...] = ()


@dataclass(frozen=True, slots=True)
class Line:
    """One row: its cells, the lines above and below it, the colour of its words."""

    cells: Sequence[Cell]
    ink: Color
    above: Color | None = None
    below: Color | None = None
    below_pt: float = HAIR_PT
    at_foot: bool = False
    """Whether short cells stand at the foot of the row, as headings do."""


class Rows(Flowable):  # type: ignore[misc]  # reportlab has no types
    """A table; `kept` is how many of its last rows a page's end never parts."""

    def __init__(
        self, *, head: Line | None, lines: Sequence[Line], kept: int, columns_pt: Sequence[float], page_height_pt: float,
        least_row_pt: float = 0, known_pt: dict[int, tuple[Line, float]] | None = None,
    ) -> None:  # fmt: skip
        super().__init__()
        # what is left after a page is not measured anew
        self.known_pt: dict[int, tuple[Line, float]] = {} if known_pt is None else known_pt
        self.least_row_pt = least_row_pt
        self.head, self.lines, self.kept, self.columns_pt, self.page_height_pt = head, lines, kept, columns_pt, page_height_pt
        self.width, self.rooms_pt = sum(columns_pt), inner_widths_pt(columns_pt)
        self.heights_pt = [max(self._row_pt(line), least_row_pt) for line in lines]
        self.head_pt = self._row_pt(head) if head else 0.0
        self.height = self.head_pt + sum(self.heights_pt)

    def wrap(self, _width_pt: float, _height_pt: float) -> tuple[float, float]:
        return self.width, self.height

    def _row_pt(self, line: Line) -> float:
        if id(line) not in self.known_pt:
            cells_pt = max((_cell_pt(cell, room) for cell, room in zip(line.cells, self.rooms_pt, strict=True)), default=0)
            self.known_pt[id(line)] = line, cells_pt + 2 * _ROW_PAD_PT
        return self.known_pt[id(line)][1]

    def split(self, _width_pt: float, height_pt: float) -> list[Flowable]:
        """At the last row that fits; a row taller than a page is parted between its own lines."""
        from reportlab.platypus import CondPageBreak

        room, fit = height_pt - self.head_pt, 0
        for high in self.heights_pt:
            if high > room:
                break
            room -= high
            fit += 1
        first_kept = len(self.lines) - self.kept
        if self.kept and first_kept < fit and sum(self.heights_pt[first_kept:]) < self.page_height_pt - self.head_pt:
            fit = first_kept
        would_be_lone = _LONE < fit == len(self.lines) - _LONE and not self.kept and self.heights_pt[fit - 1] < self.page_height_pt / 4
        if would_be_lone:
            fit -= 1
        if fit:
            rest = self._part(self.lines[fit:], kept=self.kept)
            # the room that the row left is not offered to the rest, which would begin there under a second heading
            end = [CondPageBreak(min(rest.height, self.page_height_pt))] if would_be_lone else []
            return [self._part(self.lines[:fit], kept=0), *end, rest]
        if not self.heights_pt or self.heights_pt[0] <= self.page_height_pt - self.head_pt:
            return []
        upper, lower = _parted(self.lines[0], self.rooms_pt, room - 2 * _ROW_PAD_PT)
        if upper is None:
            return []
        return [self._part([upper], kept=0), self._part([lower, *self.lines[1:]], kept=self.kept)]

    def _part(self, lines: Sequence[Line], *, kept: int) -> Rows:
        return Rows(
            head=self.head, lines=lines, kept=min(kept, len(lines)), columns_pt=self.columns_pt,
            page_height_pt=self.page_height_pt, least_row_pt=self.least_row_pt, known_pt=self.known_pt,
        )  # fmt: skip

    def drawOn(self, canvas: Canvas, x: float, y: float, _sW: float = 0) -> None:
        top = y + self.height
        if self.head:
            self._draw_line(canvas, self.head, x=x, top=top, high=self.head_pt)
            top -= self.head_pt
        for line, high in zip(self.lines, self.heights_pt, strict=True):
            self._draw_line(canvas, line, x=x, top=top, high=high)
            top -= high

    def _draw_line(self, canvas: Canvas, line: Line, *, x: float, top: float, high: float) -> None:
        if canvas._fillColorObj is not line.ink:
            canvas.setFillColor(line.ink)
        left, end = x, x + self.width
        for number, (cell, width) in enumerate(zip(line.cells, self.columns_pt, strict=True)):
            start = left + (PAD_PT if number else 0)
            stop = left + width - cell.pad_pt - (PAD_PT if number < len(line.cells) - 1 else 0)
            if cell.flowables:
                _draw_flowables(canvas, cell, start=start, stop=stop, top=top - _ROW_PAD_PT)
                if canvas._fillColorObj is not line.ink:
                    canvas.setFillColor(line.ink)
            else:
                down = high - 2 * _ROW_PAD_PT - len(cell.lines) * cell.leading_pt if line.at_foot else 0
                at = {"left": start, "right": stop, "centre": (start + stop) / 2}[cell.align]
                base = top - _ROW_PAD_PT - down - cell.size_pt
                for words in cell.lines:
                    draw_text(canvas, words, x_pt=at, y_pt=base, size_pt=cell.size_pt, align=cell.align, strong=cell.strong)
                    base -= cell.leading_pt
            left += width
        for colour, at, thick in ((line.above, top, LINE_PT), (line.below, top - high, line.below_pt)):
            if colour is not None:
                canvas.setStrokeColor(colour)
                canvas.setLineWidth(thick)
                canvas.line(x, at, end, at)


def inner_widths_pt(widths_pt: Sequence[float]) -> list[float]:
    """What each column leaves for its cells: the first starts, and the last ends, where the table does."""
    last = len(widths_pt) - 1
    return [width - PAD_PT * ((at > 0) + (at < last)) for at, width in enumerate(widths_pt)]


def _cell_pt(cell: Cell, room_pt: float) -> float:
    if not cell.flowables:
        return len(cell.lines) * cell.leading_pt
    return float(sum(one.wrap(room_pt, 1e6)[1] + (one.getSpaceBefore() if at else 0) for at, one in enumerate(cell.flowables)))


def _draw_flowables(canvas: Canvas, cell: Cell, *, start: float, stop: float, top: float) -> None:
    for at, one in enumerate(cell.flowables):
        top -= one.height + (one.getSpaceBefore() if at else 0)
        free = stop - start - one.width
        one.drawOn(canvas, start + {"left": 0, "right": free, "centre": free / 2}[cell.align], top)


def _parted(line: Line, rooms_pt: Sequence[float], room_pt: float) -> tuple[Line | None, Line]:
    """A row in two: what fits on this page, and the rest; no first half where nothing would stand in it."""
    upper, lower, moved = [], [], False
    for cell, width in zip(line.cells, rooms_pt, strict=True):
        fit = max(int(room_pt / cell.leading_pt), 0)
        first, rest = (cell.lines[:fit], cell.lines[fit:]) if not cell.flowables else ((), ())
        above, below = cell.flowables, ()
        if cell.flowables and _cell_pt(cell, width) > room_pt:
            above, below = _parted_flowables(cell.flowables, width_pt=width, room_pt=room_pt)
        moved = moved or bool(first or above)
        upper.append(Cell(first, cell.align, cell.strong, cell.pad_pt, cell.size_pt, cell.leading_pt, above))
        lower.append(Cell(rest, cell.align, cell.strong, cell.pad_pt, cell.size_pt, cell.leading_pt, below))
    rest_line = Line(lower, line.ink, None, line.below, line.below_pt, line.at_foot)
    return (Line(upper, line.ink, line.above, None, line.below_pt, line.at_foot) if moved else None), rest_line


def _parted_flowables(
    flowables: tuple[Flowable, ...], *, width_pt: float, room_pt: float
) -> tuple[tuple[Flowable, ...], tuple[Flowable, ...]]:
    """Those that fit, and the rest; one that can be split is."""
    for at, one in enumerate(flowables):
        high = one.wrap(width_pt, room_pt)[1] + (one.getSpaceBefore() if at else 0)
        if high > room_pt:
            parts = tuple(one.split(width_pt, room_pt))
            halves = (parts[:1], parts[1:]) if len(parts) > 1 else ((), (one,))
            return (*flowables[:at], *halves[0]), (*halves[1], *flowables[at + 1 :])
        room_pt -= high
    return flowables, ()
