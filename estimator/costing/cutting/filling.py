"""One sheet filled by greedy choice: the room, the kinds still wanted and a taste in, placements out.

The sheet is cut piece by piece. The part worth most that fits is laid in the corner of the piece in hand, one cut frees it
and one cut more frees its strip, and the two rests are filled in turn, the smaller first. Each cut goes from edge to edge of
the piece in hand, so every plan made here can be sawn.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterable, Mapping, Sequence

from estimator.model.dataclass import dataclass

Lie = tuple[int, int, int, int]
"""Worth, extent along the length, extent across, kind."""

Room = tuple[int, int, int, int]
"""x, y, extent along the length, extent across; on the grid, from the trimmed corner."""

Laid = tuple[int, int, int, int, int]
"""Kind, x, y, extent along the length, extent across: on the grid, grown by the kerf, from the trimmed corner."""

LONGER_REST, LARGER_REST, BY_TURNS = range(3)
"""How the rest is parted after a part is laid: by its longer side, into the larger rest, or by the bits of `turns`."""

_NONE: Mapping[int, Sequence[Lie]] = {}
_MANY_LIES = 16
"""With more lies than this it pays to know the least extents, so that slivers are seen at once."""


@dataclass(frozen=True, slots=True)
class Taste:
    """An exact fit in one direction counts `snug` tenths more than its worth, because it leaves one rest and not two."""

    snug: int
    parting: int
    turns: int = 0
    """Bit by bit: 1 parts the rest by a cross cut first, 0 by a rip first."""
    dearest: int = 0
    """No lie is worth more than so many times its area, so those worth more cannot fit a small room; 0: not known."""


def lies_by_worth(lies: Sequence[Lie]) -> list[Lie]:
    """Most worth first; ties in an order that depends on sizes alone."""
    return sorted(lies, key=lambda lie: (-lie[0], -lie[1], -lie[2], lie[3]))


SnugLies = tuple[Mapping[int, Sequence[Lie]], Mapping[int, Sequence[Lie]]]
"""The lies of each extent along, and of each extent across: those that may fit a room exactly are found at once."""


def snug_lies(lies: Iterable[Lie]) -> SnugLies:
    along: dict[int, list[Lie]] = {}
    across: dict[int, list[Lie]] = {}
    for lie in lies:
        along.setdefault(lie[1], []).append(lie)
        across.setdefault(lie[2], []).append(lie)
    return along, across


def filled_sheet(
    *, rooms: list[Room], lies: Sequence[Lie], exact: SnugLies, left: list[int], taste: Taste, waste: int
) -> tuple[list[Laid], int]:
    """Placements in the rooms of one sheet, and what is left of the waste that may be made; `left`, the kinds still wanted, is lowered.

    `exact` may hold more lies than `lies`, of the same worth. When more is wasted than may be, the filling is given up there
    and the waste left is below 0.
    """
    laid: list[Laid] = []
    push = rooms.append
    parting, turns = taste.parting, taste.turns
    snug, twice = 10 + taste.snug, 10 + 2 * taste.snug
    of_along, of_across = (exact[0].get, exact[1].get) if taste.snug else (_NONE.get, _NONE.get)
    least_along = least_across = 0
    worths: list[int] = []
    if len(lies) > _MANY_LIES:
        least_along, least_across = min([lie[1] for lie in lies]), min([lie[2] for lie in lies])
        worths = [-lie[0] for lie in lies] if taste.dearest else []
    while rooms:
        x, y, room_length, room_width = rooms.pop()
        chosen = None
        if room_length >= least_along and room_width >= least_across:
            small_enough = bisect_left(worths, -room_length * room_width * taste.dearest) if worths else 0
            for lie in lies[small_enough:] if small_enough else lies:
                if lie[1] <= room_length and lie[2] <= room_width and left[lie[3]]:
                    chosen = lie
                    break
        if chosen is None:
            waste -= room_length * room_width
            if waste < 0:
                return laid, waste
            continue
        best = chosen[0] * 10
        for lie in of_along(room_length, ()):
            if lie[2] <= room_width and left[lie[3]]:
                score = lie[0] * (twice if lie[2] == room_width else snug)
                if score > best:
                    best, chosen = score, lie
        for lie in of_across(room_width, ()):
            if lie[1] < room_length and left[lie[3]] and lie[0] * snug > best:
                best, chosen = lie[0] * snug, lie
        _, along, across, kind = chosen
        left[kind] -= 1
        laid.append((kind, x, y, along, across))
        beyond, above = room_length - along, room_width - across
        if not beyond or not above:
            if beyond or above:
                push((x + along, y, beyond, room_width) if beyond else (x, y + across, room_length, above))
            continue
        if parting == BY_TURNS:
            cross_first = turns & 1
            turns >>= 1
        else:
            cross_first = beyond > above if parting == LONGER_REST else beyond * room_width > above * room_length
        if cross_first:
            one, other = (x + along, y, beyond, room_width), (x, y + across, along, above)
        else:
            one, other = (x + along, y, beyond, across), (x, y + across, room_length, above)
        if one[2] * one[3] < other[2] * other[3]:
            one, other = other, one
        push(one)
        push(other)
    return laid, waste
