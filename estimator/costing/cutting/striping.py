"""A sheet begun in strips: the room and the kinds still wanted in; a few full strips and the rooms that are left out.

A strip is as wide as its widest part, and its parts are chosen so that their lengths together leave least of it: by whole
numbers whose bits say which sums can be reached, so all choices are weighed at once. Greedy filling takes the rooms that are left.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence

from estimator.costing.cutting.filling import Laid, Lie, Room

_MOST_STRIPS = 5
_LEADERS = 3
"""The widest strip is led by one of the first so many lies, most worth first."""
_NARROWER = 6
"""Parts down to one part in so many narrower than the strip may lie in it; what is above them is a room of its own."""
_FINEST = 100_000
"""On a finer grid than this no strip is begun: the numbers would be too long to be quick."""


def striped(
    *, length: int, width: int, lies: Sequence[Lie], left: list[int], below: Callable[[int], int]
) -> tuple[list[Laid], list[Room]]:
    """Parts laid in strips, and the rooms left, the smallest last; `left`, the kinds still wanted, is lowered."""
    along, across = (1, 2) if below(3) else (2, 1)
    whole, end = (length, width) if along == 1 else (width, length)
    laid: list[Laid] = []
    rooms: list[Room] = []
    place, strips = 0, 1 + below(_MOST_STRIPS)
    while strips and place < end and whole <= _FINEST:
        strips -= 1
        leaders = [lie for lie in lies if lie[across] <= end - place and lie[along] <= whole and left[lie[3]]][:_LEADERS]
        if not leaders:
            break
        high = leaders[below(len(leaders))][across]
        at = 0
        for lie in _fullest(lies, left, whole, high, along, across):
            left[lie[3]] -= 1
            laid.append((lie[3], at, place, lie[along], lie[across]))
            if lie[across] < high:
                rooms.append((at, place + lie[across], lie[along], high - lie[across]))
            at += lie[along]
        if at < whole:
            rooms.append((at, place, whole - at, high))
        place += high
    if place < end:
        rooms.append((0, place, whole, end - place))
    if along == 2:
        laid = [(kind, y, x, high, long) for kind, x, y, long, high in laid]
        rooms = [(y, x, high, long) for x, y, long, high in rooms]
    rooms.sort(key=lambda room: (-room[2] * room[3], room))
    return laid, rooms


def _fullest(lies: Sequence[Lie], left: Sequence[int], whole: int, high: int, along: int, across: int) -> list[Lie]:
    """The lies that leave least of the strip; those as wide as the strip are preferred."""
    low = high - high // _NARROWER
    snug = [lie for lie in lies if lie[across] == high and lie[along] <= whole and left[lie[3]]]
    taken = {lie[3] for lie in snug}
    loose = [lie for lie in lies if low <= lie[across] < high and lie[along] <= whole and left[lie[3]] and lie[3] not in taken]
    pieces: list[Lie] = []
    seen: set[int] = set()
    for lie in [*snug, *loose]:
        if lie[3] not in seen:
            seen.add(lie[3])
            pieces += [lie] * min(left[lie[3]], whole // lie[along])
    mask = (2 << whole) - 1
    reach = [1]
    for lie in pieces:
        reach.append((reach[-1] | reach[-1] << lie[along]) & mask)
    sum_of = reach[-1].bit_length() - 1
    chosen: list[Lie] = []
    for number in range(len(pieces), 0, -1):
        if not reach[number - 1] >> sum_of & 1:
            chosen.append(pieces[number - 1])
            sum_of -= pieces[number - 1][along]
    return sorted(chosen, key=lambda lie: (-lie[across], lie[3], lie[along]))
