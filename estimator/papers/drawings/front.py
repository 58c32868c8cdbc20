"""One cabinet from the front: the cabinet and its parts go in; where its doors, drawers and open shelves lie comes out.

Kinds are the shop's own words, so nothing is read from a kind's name: what counts as a door, a drawer or a shelf says so itself,
and its sizes tell how it lies. Drawers lie on top of one another above the doors (below them in a tall cabinet); what neither
covers is open, and its shelves are seen, evenly spread. All in mm from the lower left corner of the box.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from typing import Literal

from estimator.model.dataclass import dataclass
from estimator.model.exact import Fraction
from estimator.model.records import Cabinet
from estimator.model.taken import Part

What = Literal["door", "drawer", "panel", "shelf", "partition"]
_USUAL_GAP_MM = Fraction(3)
_USUAL_BOARD_MM = Fraction(18)
_OPEN_FROM_MM = 60
"""A lower gap between fronts is only a joint."""
_REACH_MM = 1400
"""In a higher cabinet drawers are put at the foot, where one can look into them."""
_OVERLAP_MM = 60
"""So far may a front reach past its box: a handle edge, a finished end, a plinth."""


@dataclass(frozen=True, slots=True)
class Shape:
    """A rectangle of the front view, from the lower left corner of the box."""

    what: What
    x_mm: Fraction
    y_mm: Fraction
    width_mm: Fraction
    height_mm: Fraction
    words: str = ""
    """What is written on it, where there is room: a fixed panel's name."""


@dataclass(frozen=True, slots=True)
class FrontView:
    """What is seen of one cabinet from the front."""

    ref: str
    width_mm: Fraction
    height_mm: Fraction
    plinth_mm: Fraction
    board_mm: Fraction
    left_end_mm: Fraction
    right_end_mm: Fraction
    fronts: tuple[Shape, ...]
    inside: tuple[Shape, ...]
    openings: tuple[tuple[Fraction, Fraction], ...]
    """Heights from and to which the box is open to the front."""

    @property
    def outer_width_mm(self) -> Fraction:
        """With its finished ends."""
        return self.left_end_mm + self.width_mm + self.right_end_mm

    @property
    def outer_height_mm(self) -> Fraction:
        """With its plinth."""
        return self.plinth_mm + self.height_mm


def parts_by_row(parts: Iterable[Part]) -> Mapping[tuple[str, int], tuple[Part, ...]]:
    """The parts of each row of the workbook, by its sheet and number."""
    rows: dict[tuple[str, int], list[Part]] = {}
    for part in parts:
        rows.setdefault((part.owner.at.sheet, part.owner.at.number), []).append(part)
    return {row: tuple(found) for row, found in rows.items()}


def front_view(cabinet: Cabinet, parts: Sequence[Part], *, lengths_mm: Mapping[str, Fraction], hangs: bool) -> FrontView:
    """The front of a cabinet, from its own parts and the shop's gaps; one that hangs has no plinth but what is typed for it."""
    width, height = cabinet.width_mm, cabinet.height_mm
    board = parts[0].thickness_mm if parts else _USUAL_BOARD_MM
    drawers = _rows_of_fronts(parts, what="drawer", width_mm=width, height_mm=height)
    beside_drawers = height - _stack_height(drawers, between_mm=_USUAL_GAP_MM)
    doors = _rows_of_fronts(parts, what="door", width_mm=width, height_mm=beside_drawers)
    stacked = _stacked(drawers, doors, width_mm=width, height_mm=height, lengths_mm=lengths_mm)
    fronts = _beside_panels(stacked, parts, width_mm=width)
    openings = _openings(fronts, height_mm=height, board_mm=board)
    front_board = next((part.thickness_mm for part in parts if part.counts_as in ("door", "drawer")), board)
    ends = cabinet.finished_ends
    return FrontView(
        ref=cabinet.ref,
        width_mm=width,
        height_mm=height,
        plinth_mm=cabinet.own_numbers.get(
            "plinth_height", Fraction(0) if hangs else lengths_mm.get("plinth_height", Fraction(0))
        ),
        board_mm=board,
        left_end_mm=front_board if ends in ("left", "both") else Fraction(0),
        right_end_mm=front_board if ends in ("right", "both") else Fraction(0),
        fronts=fronts,
        inside=_inside(cabinet, parts, openings=openings, board_mm=board),
        openings=openings,
    )


@dataclass(frozen=True, slots=True)
class _RowOfFronts:
    """Fronts side by side: how many, and how wide and high each is."""

    what: What
    count: int
    across_mm: Fraction
    up_mm: Fraction


def _rows_of_fronts(
    parts: Sequence[Part], *, what: Literal["door", "drawer"], width_mm: Fraction, height_mm: Fraction
) -> list[_RowOfFronts]:
    """The drawers or the doors in rows, the way of each chosen so that a row fills the width best."""
    rows: list[_RowOfFronts] = []
    for part in parts:
        if part.counts_as != what or part.count_each < 1:
            continue
        ways = ((part.length_mm, part.width_mm), (part.width_mm, part.length_mm))
        across, up = min(ways, key=lambda way: _misfit(way, count=part.count_each, width_mm=width_mm, height_mm=height_mm))
        columns = _columns(across, count=part.count_each, width_mm=width_mm)
        left = part.count_each
        while left > 0:
            rows.append(_RowOfFronts(what, min(columns, left), across, up))
            left -= columns
    return _side_by_side(rows, width_mm=width_mm)


def _side_by_side(rows: list[_RowOfFronts], *, width_mm: Fraction) -> list[_RowOfFronts]:
    """Rows of one from separate rules (a left and a right door) joined where they share a height and fit beside each other."""
    joined: list[_RowOfFronts] = []
    for row in rows:
        last = joined[-1] if joined else None
        if last and last.up_mm == row.up_mm and last.across_mm == row.across_mm:
            count = last.count + row.count
            if count * row.across_mm <= width_mm:
                joined[-1] = _RowOfFronts(row.what, count, row.across_mm, row.up_mm)
                continue
        joined.append(row)
    return joined


def _columns(across_mm: Fraction, *, count: int, width_mm: Fraction) -> int:
    return max(1, min(count, (width_mm + _OVERLAP_MM // 2) // across_mm))


def _misfit(
    way: tuple[Fraction, Fraction], *, count: int, width_mm: Fraction, height_mm: Fraction
) -> tuple[bool, Fraction, Fraction]:
    """How badly fronts lie this way: past their room at all, then how far from filling its width or its height, then both."""
    across, up = way
    columns = _columns(across, count=count, width_mm=width_mm)
    rows = -(-count // columns)
    too_large = across > width_mm + _OVERLAP_MM or rows * up > height_mm + _OVERLAP_MM
    free = abs(width_mm - columns * across), abs(height_mm - rows * up)
    return too_large, min(free), free[0] + free[1]


def _stacked(
    drawers: list[_RowOfFronts], doors: list[_RowOfFronts], *, width_mm: Fraction, height_mm: Fraction,
    lengths_mm: Mapping[str, Fraction],
) -> tuple[Shape, ...]:  # fmt: skip
    """Drawers from the top down with the doors at the foot; in a tall cabinet, or alone in an open one, drawers at the foot."""
    between = lengths_mm.get("gap_mid", _USUAL_GAP_MM)
    top, bottom = lengths_mm.get("gap_top", between), lengths_mm.get("gap_bottom", between)
    drawers_high, doors_high = (_stack_height(rows, between_mm=between) for rows in (drawers, doors))
    doors_top = bottom + doors_high
    if drawers and height_mm > _REACH_MM:
        drawers_top = bottom + drawers_high
        doors_top += drawers_high + between
    elif doors or height_mm - drawers_high - top - bottom < _OPEN_FROM_MM:
        drawers_top = height_mm - top
        doors_top = min(doors_top, drawers_top - drawers_high - between) if drawers else doors_top
    else:
        drawers_top = bottom + drawers_high
    return (
        *_laid(drawers, top_mm=drawers_top, width_mm=width_mm, between_mm=between),
        *_laid(doors, top_mm=doors_top, width_mm=width_mm, between_mm=between),
    )


def _stack_height(rows: Sequence[_RowOfFronts], *, between_mm: Fraction) -> Fraction:
    return sum((row.up_mm for row in rows), Fraction(0)) + max(len(rows) - 1, 0) * between_mm


def _laid(rows: Sequence[_RowOfFronts], *, top_mm: Fraction, width_mm: Fraction, between_mm: Fraction) -> Iterable[Shape]:
    for row in rows:
        bottom = top_mm - row.up_mm
        whole = row.count * row.across_mm + (row.count - 1) * between_mm
        left = (width_mm - whole) / 2
        for column in range(row.count):
            yield Shape(row.what, left + column * (row.across_mm + between_mm), bottom, row.across_mm, row.up_mm)
        top_mm = bottom - between_mm


def _beside_panels(fronts: tuple[Shape, ...], parts: Sequence[Part], *, width_mm: Fraction) -> tuple[Shape, ...]:
    """Fronts that leave much of the width free, as a corner's do, with the fixed panels and fillers of their height at the left.

    A part is such a panel when it is there once, is as high as the front and not wider than the free width.
    """
    heights = {front.height_mm for front in fronts}
    free = width_mm - sum(front.width_mm for front in fronts)
    if len(heights) != 1 or free < _OPEN_FROM_MM:
        return fronts
    (height,) = heights
    bottom = fronts[0].y_mm
    panels: list[Shape] = []
    x = Fraction(0)
    for part in parts:
        if part.counts_as or part.count_each != 1 or height not in (part.length_mm, part.width_mm):
            continue
        across = part.width_mm if part.length_mm == height else part.length_mm
        if x + across <= free:
            panels.append(Shape("panel", x, bottom, across, height, part.part))
            x += across
    if not panels:
        return fronts
    moved = width_mm - max(front.x_mm + front.width_mm for front in fronts) - _USUAL_GAP_MM / 2
    return (*panels, *(Shape(f.what, f.x_mm + moved, f.y_mm, f.width_mm, f.height_mm) for f in fronts))


def _openings(fronts: Sequence[Shape], *, height_mm: Fraction, board_mm: Fraction) -> tuple[tuple[Fraction, Fraction], ...]:
    """Where the box is open to the front, from the foot up."""
    openings: list[tuple[Fraction, Fraction]] = []
    reached = board_mm
    covered = sorted({(front.y_mm, front.y_mm + front.height_mm) for front in fronts})
    for bottom, top in [*covered, (height_mm - board_mm, height_mm)]:
        if bottom - reached >= _OPEN_FROM_MM:
            openings.append((reached, bottom))
        reached = max(reached, top)
    return tuple(openings)


def _inside(
    cabinet: Cabinet, parts: Sequence[Part], *, openings: Sequence[tuple[Fraction, Fraction]], board_mm: Fraction
) -> tuple[Shape, ...]:
    """Shelves and partitions behind the largest opening; the shelves of each bay evenly spread."""
    if not openings:
        return ()
    bottom, top = max(openings, key=lambda opening: opening[1] - opening[0])
    inner = cabinet.width_mm - 2 * board_mm
    shelves = [part for part in parts if part.counts_as == "shelf"]
    across = [max((size for size in (s.length_mm, s.width_mm) if size <= inner), default=inner) for s in shelves]
    asked = int(cabinet.own_numbers.get("partitions", 0))
    bays = max([asked + 1] + [int((inner + board_mm) // (width + board_mm)) for width in across])
    bay = (inner - (bays - 1) * board_mm) / bays
    partitions = [
        Shape("partition", board_mm + at * (bay + board_mm) - board_mm, bottom, board_mm, top - bottom) for at in range(1, bays)
    ]
    levels = -(-sum(part.count_each for part in shelves) // bays)
    thick = shelves[0].thickness_mm if shelves else board_mm
    space = (top - bottom - levels * thick) / (levels + 1)
    seen = sum(part.count_each for part in shelves)
    laid = [
        Shape("shelf", board_mm + column * (bay + board_mm), bottom + space + level * (space + thick), bay, thick)
        for column in range(bays)
        for level in range(levels)
    ]
    return (*partitions, *laid[:seen])
