"""Parts and sheets in millimetres become whole numbers on one grid, grown by the kerf, so that the saw vanishes.

A piece and its neighbour are one kerf apart and nothing is lost at the trimmed edge (A8), so n parts of p fit in L when
n p + (n - 1) k <= L, which is n (p + k) <= L + k. With every part and every trimmed sheet grown by one kerf both ways, a
plan is plain packing of rectangles. The grid is as fine as the finest fraction in the job; Python's whole numbers have no
end, so nothing is ever rounded to it.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import lcm

from estimator.model.cutting_plan import StockSheet, WantedPart
from estimator.model.dataclass import dataclass
from estimator.model.exact import Fraction


@dataclass(frozen=True, slots=True)
class Kind:
    """Parts that take the same room on a sheet, whichever rows asked for them; sizes on the grid, grown by the kerf."""

    lies: tuple[tuple[int, int], ...]
    """Each way it may lie: extent along the sheet's length, extent across it. The longer lies along in the first."""
    count: int
    rows: tuple[int, ...]
    """Indices into the wanted parts."""

    @property
    def area(self) -> int:
        return self.lies[0][0] * self.lies[0][1]


@dataclass(frozen=True, slots=True)
class Grid:
    """How many grid steps make a millimetre, the kerf in steps, the kinds of part and the sheets on the grid."""

    steps: int
    kerf: int
    kinds: tuple[Kind, ...]
    sheets: tuple[tuple[int, int], ...]
    """Length and width of the trimmed stock sheets, grown by the kerf."""

    def mm(self, steps: int) -> Fraction:
        return Fraction(steps, self.steps)


def grid_of(*, wanted: Sequence[WantedPart], stock: Sequence[StockSheet], kerf_mm: Fraction) -> Grid:
    """Everything on one grid; equal parts are merged and stand largest first, so that the order of rows does not matter."""
    usable = [(sheet.length_mm - 2 * sheet.trim_mm, sheet.width_mm - 2 * sheet.trim_mm) for sheet in stock]
    lengths = [kerf_mm, *(side for sheet in usable for side in sheet)]
    lengths += [side for part in wanted for side in (part.length_mm, part.width_mm)]
    steps = lcm(*{length.denominator for length in lengths})

    def grown(length_mm: Fraction) -> int:
        return ((length_mm + kerf_mm) * steps).numerator

    rows: dict[tuple[tuple[int, int], ...], list[int]] = {}
    for index, part in enumerate(wanted):
        if part.count > 0:
            rows.setdefault(_lies(grown(part.length_mm), grown(part.width_mm), part.way), []).append(index)
    kinds = [
        Kind(lies=lies, count=sum(wanted[row].count for row in found), rows=tuple(found)) for lies, found in rows.items()
    ]
    kinds.sort(key=lambda kind: (-kind.area, tuple(-extent for extent in kind.lies[0]), len(kind.lies)))
    sheets = tuple((grown(length_mm), grown(width_mm)) for length_mm, width_mm in usable)
    return Grid(steps=steps, kerf=(kerf_mm * steps).numerator, kinds=tuple(kinds), sheets=sheets)


def _lies(length: int, width: int, way: str) -> tuple[tuple[int, int], ...]:
    if way == "along" or length == width:
        return ((length, width),)
    if way == "across":
        return ((width, length),)
    return ((max(length, width), min(length, width)), (min(length, width), max(length, width)))
