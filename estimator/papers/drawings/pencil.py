"""A pencil: lengths in mm and plain words go in; black lines to scale and sizes in place come out on a canvas.

    def rectangle(pencil: Pencil) -> None:
        pencil.box(x_mm=0, y_mm=0, width_mm=600, height_mm=410)
        pencil.words("rest 600 x 410", x_mm=300, y_mm=205)

    story.append(drawing(rectangle, width_mm=600, height_mm=410, scale=Fraction(1, 10)))

A drawing is told its own size in mm, from its lower left corner, and how much room the words around it need, in points.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

from estimator.model.dataclass import dataclass
from estimator.model.exact import Fraction
from estimator.papers.page.fonts import Align, draw_text, text_width_pt
from estimator.papers.page.look import HAIR_PT, LINE_PT, PT_PER_MM, SMALL_PT, black

if TYPE_CHECKING:
    from reportlab.pdfgen.canvas import Canvas
    from reportlab.platypus.flowables import Flowable

Mm = Fraction | int | float
ROUND_SCALES = (5, 10, 15, 20, 25, 30, 40, 50, 60, 80, 100)
_TICK_PT = 1.6
_OVERSHOOT_PT = 1.4
_BELOW_MIDDLE = 0.36
"""Figures stand so far below the middle of their height, as a share of their size."""


@dataclass(frozen=True, slots=True)
class Around:
    """Room for words around a drawing, in points."""

    left_pt: float = 0
    right_pt: float = 0
    top_pt: float = 0
    bottom_pt: float = 0


def round_scale(
    *, width_mm: Mm, height_mm: Mm, room_width_pt: float, room_height_pt: float, scales: tuple[int, ...] = ROUND_SCALES
) -> Fraction:
    """The largest round scale at which a drawing fits its room; smaller than the last one only when it must be.

        needed  =  the larger of width / room width and height / room height

    >>> round_scale(width_mm=3000, height_mm=2100, room_width_pt=425, room_height_pt=300)
    Fraction(1, 25)
    """
    needed = max(float(width_mm) * PT_PER_MM / room_width_pt, float(height_mm) * PT_PER_MM / room_height_pt)
    for scale in scales:
        if scale >= needed:
            return Fraction(1, scale)
    return Fraction(1, int(needed) + 1)


@dataclass(slots=True)
class Pencil:
    """Draws on a canvas in mm at a scale, from the lower left corner of the drawing."""

    canvas: Canvas
    scale: Fraction
    x_pt: float
    y_pt: float

    def pt(self, length_mm: Mm) -> float:
        """How long so many mm are on the paper."""
        return float(length_mm) * float(self.scale) * PT_PER_MM

    def at(self, x_mm: Mm, y_mm: Mm) -> tuple[float, float]:
        return self.x_pt + self.pt(x_mm), self.y_pt + self.pt(y_mm)

    def pen(self, *, width_pt: float = LINE_PT, dashed: bool = False) -> None:
        """How thick the next lines are. Every line is black; meaning is in thickness and words."""
        self.canvas.setStrokeColor(black())
        self.canvas.setFillColor(black())
        self.canvas.setLineWidth(width_pt)
        self.canvas.setLineCap(1)
        self.canvas.setDash([2, 2] if dashed else [])

    def line(self, *, from_mm: tuple[Mm, Mm], to_mm: tuple[Mm, Mm]) -> None:
        (x0, y0), (x1, y1) = self.at(*from_mm), self.at(*to_mm)
        self.canvas.line(x0, y0, x1, y1)

    def box(self, *, x_mm: Mm, y_mm: Mm, width_mm: Mm, height_mm: Mm, within_pt: float = 0) -> None:
        """A rectangle, drawn some points within its true outline where it must be told from its neighbour."""
        x, y = self.at(x_mm, y_mm)
        wide, high = self.pt(width_mm) - 2 * within_pt, self.pt(height_mm) - 2 * within_pt
        self.canvas.rect(x + within_pt, y + within_pt, max(wide, 0.1), max(high, 0.1), stroke=1, fill=0)

    def pencilled_box(self, *, x_mm: Mm, y_mm: Mm, width_mm: Mm, height_mm: Mm) -> None:
        """A box whose lines run a little past its corners, as a pencil along a straightedge leaves them."""
        (left, bottom), (right, top) = self.at(x_mm, y_mm), self.at(float(x_mm) + float(width_mm), float(y_mm) + float(height_mm))
        over = _OVERSHOOT_PT
        for y in (bottom, top):
            self.canvas.line(left - over, y, right + over, y)
        for x in (left, right):
            self.canvas.line(x, bottom - over, x, top + over)

    def words(
        self, text: str, *, x_mm: Mm, y_mm: Mm, align: Align = "centre", size_pt: float = SMALL_PT,
        strong: bool = False, right_pt: float = 0, up_pt: float = 0, turned: bool = False,
    ) -> None:  # fmt: skip
        """Words at a place, their middle on its height, moved by some points; turned words read from below."""
        x, y = self.at(x_mm, y_mm)
        x, y, low = x + right_pt, y + up_pt, _BELOW_MIDDLE * size_pt
        x, y = (x + low, y) if turned else (x, y - low)
        draw_text(self.canvas, text, x_pt=x, y_pt=y, size_pt=size_pt, align=align, strong=strong, turned=turned)

    def fits(self, text: str, *, width_mm: Mm, size_pt: float = SMALL_PT, strong: bool = False) -> bool:
        """Whether words can stand within so many mm of the drawing."""
        return text_width_pt(text, size_pt=size_pt, strong=strong) + 2 <= self.pt(width_mm)

    def width_size(self, text: str, *, x0_mm: Mm, x1_mm: Mm, y_mm: Mm, up_pt: float) -> None:
        """A width: a thin line with a tick at either end, its size above it (turned below it where it is too narrow)."""
        (x0, y), (x1, _) = self.at(x0_mm, y_mm), self.at(x1_mm, y_mm)
        y += up_pt
        self._size_line((x0, y), (x1, y))
        middle = (float(x0_mm) + float(x1_mm)) / 2
        if self.fits(text, width_mm=float(x1_mm) - float(x0_mm)):
            self.words(text, x_mm=middle, y_mm=y_mm, up_pt=up_pt + 0.65 * SMALL_PT)
        else:
            self.words(text, x_mm=middle, y_mm=y_mm, up_pt=up_pt - 3, turned=True, align="right")

    def height_size(self, text: str, *, x_mm: Mm, y0_mm: Mm, y1_mm: Mm, right_pt: float) -> None:
        """A height: a thin upright line with a tick at either end, its size turned beside it (level where it is too low)."""
        (x, y0), (_, y1) = self.at(x_mm, y0_mm), self.at(x_mm, y1_mm)
        x += right_pt
        self._size_line((x, y0), (x, y1))
        middle = (float(y0_mm) + float(y1_mm)) / 2
        if self.fits(text, width_mm=float(y1_mm) - float(y0_mm)):
            self.words(text, x_mm=x_mm, y_mm=middle, right_pt=right_pt - 0.65 * SMALL_PT, turned=True)
        else:
            self.words(text, x_mm=x_mm, y_mm=middle, right_pt=right_pt - 3, align="right")

    def _size_line(self, start: tuple[float, float], end: tuple[float, float]) -> None:
        self.pen(width_pt=HAIR_PT)
        self.canvas.line(*start, *end)
        for x, y in (start, end):
            self.canvas.line(x - _TICK_PT, y - _TICK_PT, x + _TICK_PT, y + _TICK_PT)
        self.pen()


def drawing(
    draw: Callable[[Pencil], None], *, width_mm: Mm, height_mm: Mm, scale: Fraction, around: Around = Around()
) -> Flowable:
    """A drawing as a flowable: as large as its mm at this scale and the room around them."""
    from reportlab.platypus.flowables import Flowable

    class Drawing(Flowable):  # type: ignore[misc]  # reportlab has no types
        def __init__(self) -> None:
            super().__init__()
            self.width = float(width_mm) * float(scale) * PT_PER_MM + around.left_pt + around.right_pt
            self.height = float(height_mm) * float(scale) * PT_PER_MM + around.top_pt + around.bottom_pt

        def draw(self) -> None:
            pencil = Pencil(self.canv, scale, around.left_pt, around.bottom_pt)
            self.canv.saveState()
            pencil.pen()
            draw(pencil)
            self.canv.restoreState()

    return Drawing()
