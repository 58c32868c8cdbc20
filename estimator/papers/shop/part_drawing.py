"""A part laid flat: a part and a scale go in; a small drawing with its banded edges thick and an arrow for the grain comes out.

Its length lies level: front at the foot, back at the top, the ends left and right. Long thin parts are drawn a little wider than
they are where the drawing is only a sign (in a list, on a label).
"""

from __future__ import annotations

from collections.abc import Collection
from typing import TYPE_CHECKING

from reportlab.platypus.flowables import Flowable

from estimator.model.exact import Fraction
from estimator.model.shop_records import Side
from estimator.model.taken import Part
from estimator.papers.page.look import HAIR_PT, PT_PER_MM, black

if TYPE_CHECKING:
    from reportlab.pdfgen.canvas import Canvas

THICK_PT = 2.4
_LEAST_PT = 6.0
_HEAD_PT = 2.0
_LEAST_FREE_PT = 3.2
"""An arrow in less room would be a blot."""
_TURNED: dict[Side, Side] = {"front": "right", "right": "back", "back": "left", "left": "front"}
"""Where an edge comes to lie when the part is turned by a quarter to the left."""


def lying_sides(part: Part, *, turned: bool) -> frozenset[Side]:
    """On which sides of the drawn piece a band lies: front is its foot, back its top."""
    return frozenset(_TURNED[band.side] if turned else band.side for band in part.bands)


def thick_edges(
    canvas: Canvas, sides: Collection[Side], *, x_pt: float, y_pt: float, width_pt: float, height_pt: float, clear_pt: float = 0
) -> None:
    """Thick lines within the outline of a piece, along its banded sides; a clear gap tells it from a neighbour's edge."""
    thick_pt = THICK_PT if not clear_pt else THICK_PT - 0.6
    within = thick_pt / 2 + clear_pt
    left, right, foot, top = x_pt + within, x_pt + width_pt - within, y_pt + within, y_pt + height_pt - within
    ends = {
        "front": (x_pt + clear_pt, foot, x_pt + width_pt - clear_pt, foot),
        "back": (x_pt + clear_pt, top, x_pt + width_pt - clear_pt, top),
        "left": (left, y_pt + clear_pt, left, y_pt + height_pt - clear_pt),
        "right": (right, y_pt + clear_pt, right, y_pt + height_pt - clear_pt),
    }
    canvas.saveState()
    canvas.setLineCap(0)
    canvas.setLineWidth(thick_pt)
    for side in ("front", "back", "left", "right"):
        if side in sides:
            canvas.line(*ends[side])
    canvas.restoreState()


def arrow(
    canvas: Canvas, *, from_pt: tuple[float, float], to_pt: tuple[float, float], head_pt: float = _HEAD_PT, along_pt: float = 1.6 * _HEAD_PT
) -> None:
    """A thin arrow with a head at both ends: grain has a line, not a way. A head is so wide to either side, and so long."""
    (x0, y0), (x1, y1) = from_pt, to_pt
    canvas.line(x0, y0, x1, y1)
    level = y0 == y1
    for x, y, sign in ((x0, y0, 1), (x1, y1, -1)):
        for across in (head_pt, -head_pt):
            canvas.line(x, y, x + (sign * along_pt if level else across), y + (across if level else sign * along_pt))


def _draw_grain(canvas: Canvas, *, x_pt: float, y_pt: float, width_pt: float, height_pt: float, level: bool) -> None:
    """The grain in the free middle of a part: none where an arrow would be a blot, its heads smaller where they would meet."""
    if height_pt < _LEAST_FREE_PT or width_pt < _LEAST_FREE_PT:
        return
    x, y = x_pt + width_pt / 2, y_pt + height_pt / 2
    half = 0.3 * width_pt if level else 0.5 * height_pt - 0.8
    beside = (height_pt if level else width_pt) / 2 - 0.6
    along = min(1.6 * _HEAD_PT, 0.7 * half)
    ends = ((x - half, y), (x + half, y)) if level else ((x, y - half), (x, y + half))
    arrow(canvas, from_pt=ends[0], to_pt=ends[1], head_pt=min(_HEAD_PT, beside, along), along_pt=along)


def draw_part(canvas: Canvas, part: Part, *, x_pt: float, y_pt: float, width_pt: float, height_pt: float, grain: bool) -> None:
    """A part in a given room on a canvas."""
    canvas.saveState()
    canvas.setStrokeColor(black())
    canvas.setLineWidth(HAIR_PT)
    canvas.rect(x_pt, y_pt, width_pt, height_pt, stroke=1, fill=0)
    sides = lying_sides(part, turned=False)
    thick_edges(canvas, sides, x_pt=x_pt, y_pt=y_pt, width_pt=width_pt, height_pt=height_pt)
    if grain and part.grain != "any":
        band = {side: THICK_PT if side in sides else 0.0 for side in ("front", "back", "left", "right")}
        free = width_pt - band["left"] - band["right"], height_pt - band["front"] - band["back"]
        x, y = x_pt + band["left"], y_pt + band["front"]
        _draw_grain(canvas, x_pt=x, y_pt=y, width_pt=free[0], height_pt=free[1], level=part.grain == "length")
    canvas.restoreState()


def fitted_pt(part: Part, *, width_pt: float, height_pt: float) -> tuple[float, float]:
    """How large a part is drawn as a sign in a room: in its own proportions, but never too thin to be seen."""
    length, width = float(part.length_mm), float(part.width_mm)
    scale = min(width_pt / length, height_pt / width)
    return max(length * scale, _LEAST_PT), max(width * scale, _LEAST_PT)


def small_part(part: Part, *, width_pt: float, height_pt: float, grain: bool) -> Flowable:
    """A part as a sign in a row of a list."""
    wide, high = fitted_pt(part, width_pt=width_pt, height_pt=height_pt)
    return FlatPart(part, width_pt=wide, height_pt=high, grain=grain)


def part_to_scale(part: Part, *, scale: Fraction, grain: bool) -> Flowable:
    """A part at a scale that it shares with its neighbours."""
    to_pt = float(scale) * PT_PER_MM
    return FlatPart(part, width_pt=float(part.length_mm) * to_pt, height_pt=float(part.width_mm) * to_pt, grain=grain)


class FlatPart(Flowable):  # type: ignore[misc]  # reportlab has no types
    """A part as large as said, in a row of a page."""

    def __init__(self, part: Part, *, width_pt: float, height_pt: float, grain: bool) -> None:
        super().__init__()
        self.part, self.grain = part, grain
        self.width, self.height = width_pt, height_pt

    def drawOn(self, canvas: Canvas, x: float, y: float, _sW: float = 0) -> None:
        draw_part(canvas, self.part, x_pt=x, y_pt=y, width_pt=self.width, height_pt=self.height, grain=self.grain)
