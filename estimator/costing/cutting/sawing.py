"""The order of the saw: the pieces of one sheet in, numbered cuts, offcuts and the pieces' final places out.

At each piece in hand all cuts that run the same way are made first, then each strip is taken in turn. Where a piece could be
cut both ways first, the way that leaves the largest single offcut is taken, then the one with fewer cuts, then the rip.
Gaps between strips are closed as they are cut, so that what is left over lies together at the end.
"""

from __future__ import annotations

from collections.abc import Sequence
from operator import itemgetter

from estimator.model.dataclass import dataclass

Room = tuple[int, int, int, int]
"""x, y, extent along the length, extent across, all grown by the kerf."""

Lying = tuple[int, int, int, int, int]
"""x, y, extent along the length, extent across, kind."""


@dataclass(frozen=True, slots=True)
class GridCut:
    """A cut on the grid: a rip at y or a cross cut at x, where the kerf begins, and the piece in hand (kerf off)."""

    rip: bool
    at: int
    piece: Room


@dataclass(frozen=True, slots=True)
class Sawn:
    """Pieces in their final places, cuts in order, the offcuts left, and the area of the largest of them."""

    pieces: tuple[Lying, ...]
    cuts: tuple[GridCut, ...]
    offcuts: tuple[Room, ...]
    largest: int


def sawn(*, room: Room, pieces: Sequence[Lying], kerf: int) -> Sawn | None:
    """How to saw the pieces out of the room; None when no order of edge to edge cuts frees them."""
    x, y, length, width = room
    if not pieces:
        offcut = (x, y, length - kerf, width - kerf)
        if offcut[2] > 0 and offcut[3] > 0:
            return Sawn((), (), (offcut,), offcut[2] * offcut[3])
        return Sawn((), (), (), 0)
    if len(pieces) == 1 and pieces[0][:4] == room:
        return Sawn((pieces[0],), (), (), 0)
    best: Sawn | None = None
    for rip in (True, False):
        found = _sawn_one_way(room, pieces, kerf, rip)
        if found and (best is None or (-found.largest, len(found.cuts)) < (-best.largest, len(best.cuts))):
            best = found
    return best


def _sawn_one_way(room: Room, pieces: Sequence[Lying], kerf: int, rip: bool) -> Sawn | None:
    """All cuts one way, then each strip; None when no cut that way runs clear of the pieces."""
    strips = _strips(room, pieces, rip)
    if len(strips) < 2:
        return None
    x, y, length, width = room
    end_x, end_y = x + length, y + width
    cuts = []
    for (strip_x, strip_y, strip_length, strip_width), _ in strips[:-1]:
        if rip:
            piece = (x, strip_y, length - kerf, end_y - strip_y - kerf)
            at = strip_y + strip_width - kerf
        else:
            piece = (strip_x, y, end_x - strip_x - kerf, width - kerf)
            at = strip_x + strip_length - kerf
        cuts.append(GridCut(rip=rip, at=at, piece=piece))
    placed: list[Lying] = []
    offcuts: list[Room] = []
    largest = 0
    for strip, inside in strips:
        deeper = sawn(room=strip, pieces=inside, kerf=kerf)
        if deeper is None:
            return None
        placed += deeper.pieces
        cuts += deeper.cuts
        offcuts += deeper.offcuts
        largest = max(largest, deeper.largest)
    return Sawn(tuple(placed), tuple(cuts), tuple(offcuts), largest)


def _strips(room: Room, pieces: Sequence[Lying], rip: bool) -> list[tuple[Room, list[Lying]]]:
    """The room parted wherever a cut runs clear of every piece, gaps closed; the last strip may be empty."""
    x, y, length, width = room
    place, end = (y, y + width) if rip else (x, x + length)
    strips: list[tuple[Room, list[Lying]]] = []
    for start, reach, inside in _groups(pieces, rip):
        gap, extent = start - place, reach - start
        if rip:
            closed = [(px, py - gap, along, across, kind) for px, py, along, across, kind in inside]
            strips.append(((x, place, length, extent), closed))
        else:
            closed = [(px - gap, py, along, across, kind) for px, py, along, across, kind in inside]
            strips.append(((place, y, extent, width), closed))
        place += extent
    if place < end:
        strips.append(((x, place, length, end - place) if rip else (place, y, end - place, width), []))
    return strips


def _groups(pieces: Sequence[Lying], rip: bool) -> list[tuple[int, int, list[Lying]]]:
    """Pieces that no clear cut parts from each other, with where they begin and how far they reach."""
    low, extent = (1, 3) if rip else (0, 2)
    groups: list[tuple[int, int, list[Lying]]] = []
    for piece in sorted(pieces, key=itemgetter(low)):
        reach = piece[low] + piece[extent]
        if groups and piece[low] < groups[-1][1]:
            start, before, inside = groups[-1]
            inside.append(piece)
            groups[-1] = start, max(before, reach), inside
        else:
            groups.append((piece[low], reach, [piece]))
    return groups
