"""A run: the cabinets of a room in workbook order go in; where each stands or hangs comes out, in lines that fit the paper.

What stands on the floor stands side by side from the left. What hangs goes above it, in its own order from the left, passing over
whatever reaches up to it. How high it hangs is decided at the site measure; the drawing leaves the usual space above a
worktop, or lines up with a tall cabinet of the run.
"""

from __future__ import annotations

from collections.abc import Sequence

from estimator.model.dataclass import dataclass
from estimator.model.exact import Fraction
from estimator.model.records import Cabinet, Kind
from estimator.papers.drawings.front import FrontView

LONGEST_MM = 5600
"""A longer run goes on in the next line."""
_ABOVE_MM = 560
"""From the top of a base cabinet to a wall cabinet: a worktop and the usual space above it."""
_CLEAR_MM = 250
"""A standing cabinet that comes nearer than this to the wall cabinets pushes them aside."""
_HANGS = ("wall", "hang", "hänge", "ober", "wand")
_STANDS = ("base", "tall", "floor", "unter", "hoch", "boden", "sockel")
_TABLE_MM = 1400
"""A cabinet higher than this has nothing hung above it."""
_SHALLOW_MM = 420
_LOW_MM = 1100


@dataclass(frozen=True, slots=True)
class Standing:
    """One cabinet's front in a run: the place of the lower left corner of all that is seen of it."""

    view: FrontView
    hangs: bool
    x_mm: Fraction
    y_mm: Fraction


@dataclass(frozen=True, slots=True)
class RunLine:
    """One line of a run, and how large it is."""

    cabinets: tuple[Standing, ...]
    width_mm: Fraction
    height_mm: Fraction


def hangs_on_the_wall(cabinet: Cabinet, kinds: Sequence[Kind]) -> bool:
    """Whether a cabinet hangs: what its kind's Stands says; else what its words say; else whether it is shallow and low.

    A kind named wall (or Hängeschrank) hangs, base, tall or floor stands; a plinth stands. Else less than 420 deep and
    1100 high hangs.
    """
    own = [kind for kind in kinds if kind.kind.casefold() == cabinet.kind.casefold()]
    if own and own[0].stands:
        return own[0].stands == "wall"
    words = " ".join([cabinet.kind, *(kind.words for kind in own)]).casefold()
    if any(word in words for word in _HANGS):
        return True
    if any(word in words for word in _STANDS) or cabinet.own_numbers.get("plinth_height"):
        return False
    return cabinet.depth_mm <= _SHALLOW_MM and cabinet.height_mm <= _LOW_MM


def run_lines(views: Sequence[tuple[FrontView, bool]], *, longest_mm: int = LONGEST_MM) -> tuple[RunLine, ...]:
    """The lines of a run, from the fronts of its cabinets and whether each hangs."""
    floors = _broken([view for view, hangs in views if not hangs], longest_mm=longest_mm)
    lines: list[RunLine] = []
    waiting = [view for view, hangs in views if hangs]
    for floor in floors:
        room_mm = max(longest_mm, sum(view.outer_width_mm for view in floor))
        line = _line(floor, waiting, room_mm=Fraction(room_mm))
        waiting = waiting[sum(1 for cabinet in line.cabinets if cabinet.hangs) :]
        lines.append(line)
    return (*lines, *(_line([], rest) for rest in _broken(waiting, longest_mm=longest_mm)))


def _broken(views: Sequence[FrontView], *, longest_mm: int) -> list[list[FrontView]]:
    """The fronts in lines none of which is longer than may be (but for one cabinet that is longer alone)."""
    lines: list[list[FrontView]] = []
    used = Fraction(0)
    for view in views:
        if not lines or used + view.outer_width_mm > longest_mm:
            lines.append([])
            used = Fraction(0)
        lines[-1].append(view)
        used += view.outer_width_mm
    return lines


def _line(floor: Sequence[FrontView], wall: Sequence[FrontView], *, room_mm: Fraction | None = None) -> RunLine:
    placed: list[Standing] = []
    x = Fraction(0)
    for view in floor:
        placed.append(Standing(view, False, x, Fraction(0)))
        x += view.outer_width_mm
    top = _top_of_the_wall(floor, wall)
    x = Fraction(0)
    for view in wall:
        bottom = top - view.outer_height_mm
        x = _past_what_is_in_the_way(placed, x_mm=x, width_mm=view.outer_width_mm, bottom_mm=bottom)
        if room_mm is not None and x + view.outer_width_mm > room_mm:
            break
        placed.append(Standing(view, True, x, bottom))
        x += view.outer_width_mm
    width = max((stood.x_mm + stood.view.outer_width_mm for stood in placed), default=Fraction(0))
    height = max((stood.y_mm + stood.view.outer_height_mm for stood in placed), default=Fraction(0))
    return RunLine(tuple(placed), width, height)


def _top_of_the_wall(floor: Sequence[FrontView], wall: Sequence[FrontView]) -> Fraction:
    """The height at which the tops of what hangs line up: a tall cabinet's top, or the usual space above the lowest one."""
    highest = max((view.outer_height_mm for view in wall), default=Fraction(0))
    if not floor:
        return highest
    tallest, lowest = (pick(view.outer_height_mm for view in floor) for pick in (max, min))
    under = lowest if lowest <= _TABLE_MM else Fraction(0)
    return tallest if tallest - highest >= under + _CLEAR_MM else under + _ABOVE_MM + highest


def _past_what_is_in_the_way(placed: Sequence[Standing], *, x_mm: Fraction, width_mm: Fraction, bottom_mm: Fraction) -> Fraction:
    """The next place from x on where nothing that stands reaches up to the cabinet."""
    for stood in placed:
        right = stood.x_mm + stood.view.outer_width_mm
        tall = not stood.hangs and stood.view.outer_height_mm > bottom_mm - _CLEAR_MM
        if tall and stood.x_mm < x_mm + width_mm and right > x_mm:
            x_mm = right
    return x_mm
