"""One sheet filled by greedy choice: the room left, the kinds still wanted and a taste in, placements out.

The sheet is cut piece by piece. The part worth most that fits is laid in the corner of the piece in hand, one cut frees it
and one cut more frees its strip, and the two rests are filled in turn, the smaller first. Each cut goes from edge to edge of
the piece in hand, so every plan made here can be sawn.
"""

from __future__ import annotations

from collections.abc import Sequence

Lie = tuple[int, int, int, int]
"""Worth, extent along the length, extent across, kind."""

Laid = tuple[int, int, int, int, int]
"""Kind, x, y, extent along the length, extent across: on the grid, grown by the kerf, from the trimmed corner."""

LONGER_REST, LARGER_REST, SMALLER_REST, LENGTHWISE, CROSSWISE = range(5)
"""How the rest is split after a part is laid."""


def lies_by_worth(lies: Sequence[Lie]) -> list[Lie]:
    """Most worth first; ties in an order that depends on sizes alone."""
    return sorted(lies, key=lambda lie: (-lie[0], -lie[1], -lie[2], lie[3]))


def filled_sheet(*, length: int, width: int, lies: Sequence[Lie], left: list[int], split: int, snug: int) -> list[Laid]:
    """Placements on one sheet; `left` counts the kinds still wanted and is lowered.

    An exact fit in one direction counts `snug` tenths more than its worth, because it leaves one rest and not two.
    """
    laid: list[Laid] = []
    rooms = [(0, 0, length, width)]
    most = 10 + 2 * snug
    while rooms:
        x, y, room_length, room_width = rooms.pop()
        best = 0
        chosen: Lie | None = None
        for lie in lies:
            worth, along, across, kind = lie
            if worth * most <= best:
                break
            if along <= room_length and across <= room_width and left[kind]:
                score = worth * (10 + snug * ((along == room_length) + (across == room_width)))
                if score > best:
                    best, chosen = score, lie
        if chosen is None:
            continue
        _, along, across, kind = chosen
        left[kind] -= 1
        laid.append((kind, x, y, along, across))
        rest_length, rest_width = room_length - along, room_width - across
        if not rest_length and not rest_width:
            continue
        if split == LONGER_REST:
            cross_first = rest_length > rest_width
        elif split == LARGER_REST:
            cross_first = rest_length * room_width > rest_width * room_length
        elif split == SMALLER_REST:
            cross_first = rest_length * room_width <= rest_width * room_length
        else:
            cross_first = split == CROSSWISE
        if cross_first:
            beside = (x + along, y, rest_length, room_width)
            above = (x, y + across, along, rest_width)
        else:
            beside = (x + along, y, rest_length, across)
            above = (x, y + across, room_length, rest_width)
        if beside[2] * beside[3] > above[2] * above[3]:
            beside, above = above, beside
        if above[2] and above[3]:
            rooms.append(above)
        if beside[2] and beside[3]:
            rooms.append(beside)
    return laid
