"""A few sheets undone and refilled, over and over, until the parts of one sheet fewer are all placed.

One sheet's parts are put aside. Then two to four sheets are emptied, their parts and those put aside are laid anew with
another taste, and the new sheets are kept when no more is left aside than before. Filling is given up as soon as it has
wasted more than could still be kept, so most tries are short. The tries are counted, never timed, and their tastes come from
a fixed row of numbers.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import TypeVar

from estimator.costing.cutting.effort import Effort
from estimator.costing.cutting.filling import BY_TURNS, Laid, Lie, SnugLies, Taste, filled_sheet, snug_lies
from estimator.costing.cutting.kerf import Grid
from estimator.costing.cutting.shuffled import ShuffledNumbers
from estimator.costing.cutting.striping import striped
from estimator.model.dataclass import dataclass

_SNUG = (0, 1, 3, 8)
_SPREAD = (20, 60, 100)
_SHEETS_AT_ONCE, _OF_MANY_PIECES = (2, 3), (1, 2, 2)
_MANY_PIECES = 7
"""With so many pieces a sheet and more, fewer sheets are refilled at once."""
_TABLES = 48
_TURNS = 1 << 30
_STRIPS_SELDOM = (4, 2)
"""One sheet in so many is begun in strips: where few pieces lie on a sheet, and where many do."""

Chosen = TypeVar("Chosen")


@dataclass(slots=True)
class OpenSheet:
    """A sheet whose filling may still change."""

    stock: int
    laid: list[Laid]
    used: int
    """Area of its parts on the grid."""


def opened(stock: int, laid: Sequence[Laid]) -> OpenSheet:
    return OpenSheet(stock, list(laid), sum(piece[3] * piece[4] for piece in laid))


class Refitting:
    """The worths of the kinds under each taste, and the row of numbers that picks tastes and sheets."""

    def __init__(self, grid: Grid, *, tastes: int = _TABLES) -> None:
        self._grid = grid
        self._tastes = tastes
        self._numbers = ShuffledNumbers(1)
        self._areas = [kind.area for kind in grid.kinds]
        self._pieces = sum(kind.count for kind in grid.kinds)
        self._tables: dict[int, tuple[list[list[Lie]], SnugLies]] = {}

    def _table(self, number: int) -> tuple[list[list[Lie]], SnugLies]:
        """The worths of every kind under one taste, made when the taste is first used."""
        if number not in self._tables:
            below, spread = ShuffledNumbers(number).below, _SPREAD[number % len(_SPREAD)]
            lies = [
                [(kind.area * (100 + below(spread)), along, across, index) for along, across in kind.lies]
                for index, kind in enumerate(self._grid.kinds)
            ]
            self._tables[number] = lies, snug_lies(lie for two in lies for lie in two)
        return self._tables[number]

    def placed_all(self, sheets: list[OpenSheet], aside: list[int], effort: Effort) -> bool:
        """Whether the kinds put aside could all be placed; sheets and those still aside are as they were left, to go on from."""
        while aside and effort.left > 0 and sheets:
            chosen = self.some(sheets, used=[sheet.used for sheet in sheets])
            refilled = self.refilled(chosen, aside, effort)
            if refilled is None:
                continue
            fillings, aside[:] = refilled
            for sheet, laid in zip(chosen, fillings, strict=True):
                sheet.laid = laid
                sheet.used = sum(piece[3] * piece[4] for piece in laid)
        return not aside

    def some(self, sheets: Sequence[Chosen], *, used: Sequence[int] = ()) -> list[Chosen]:
        """One, two or three of the sheets; where it is known how full they are, each is the emptier of two."""
        below = self._numbers.below
        at_once = _OF_MANY_PIECES if self._pieces >= _MANY_PIECES * len(sheets) else _SHEETS_AT_ONCE
        many = min(at_once[below(len(at_once))], len(sheets))
        places: list[int] = []
        while len(places) < many:
            place = below(len(sheets))
            if used:
                place = min(place, below(len(sheets)), key=lambda place: used[place])
            if place not in places:
                places.append(place)
        return [sheets[place] for place in places]

    def refilled(
        self, chosen: list[OpenSheet], aside: list[int], effort: Effort
    ) -> tuple[list[list[Laid]], list[int]] | None:
        """New fillings and what is left aside; None when more would be left aside than before."""
        below = self._numbers.below
        effort.left -= 40 + len(self._areas)
        left = [0] * len(self._areas)
        for kind in aside:
            left[kind] += 1
        waste = 0
        for sheet in chosen:
            length, width = self._grid.sheets[sheet.stock]
            waste += length * width - sheet.used
            for piece in sheet.laid:
                left[piece[0]] += 1
        table, exact = self._table(below(self._tastes))
        lies: list[Lie] = []
        for kind, many in enumerate(left):
            if many:
                lies += table[kind]
        lies.sort(reverse=True)
        fillings = []
        seldom = _STRIPS_SELDOM[sum(left) >= _MANY_PIECES * len(chosen)]
        for sheet in chosen:
            length, width = self._grid.sheets[sheet.stock]
            taste = Taste(_SNUG[below(len(_SNUG))], BY_TURNS, below(_TURNS), 200)
            begun: list[Laid] = []
            rooms = [(0, 0, length, width)]
            if not below(seldom):
                begun, rooms = striped(length=length, width=width, lies=lies, left=left, below=below)
            laid, waste = filled_sheet(rooms=rooms, lies=lies, exact=exact, left=left, taste=taste, waste=waste)
            laid = begun + laid
            effort.left -= 6 + len(laid) * (4 + len(lies) // 3)
            if waste < 0:
                return None
            fillings.append(laid)
        return fillings, [kind for kind, many in enumerate(left) for _ in range(many)]


def likely(grid: Grid, sheets: Sequence[tuple[int, int]]) -> bool:
    """Whether sheets of these sizes are likely to hold every part: the fewer lie on a sheet, the more of it is wasted.

    Observed on shop boards: with 5 parts a sheet no plan filled more than 90 hundredths, with 20 no more than 96.
    """
    room = sum(length * width for length, width in sheets)
    pieces = sum(kind.count for kind in grid.kinds)
    return sum(kind.area * kind.count for kind in grid.kinds) * 2 * pieces <= room * (2 * pieces - len(sheets))


def fewer_sheets(*, grid: Grid, plan: Sequence[OpenSheet], bound: int, effort: Effort) -> list[OpenSheet]:
    """Sheets of one size: one fewer, and one fewer again, until the bound is met or the effort is spent."""
    best = list(plan)
    refitting = Refitting(grid) if len(best) > bound else None
    while refitting and len(best) > bound and effort.left > 0:
        sheets = [OpenSheet(sheet.stock, sheet.laid, sheet.used) for sheet in sorted(best, key=lambda sheet: -sheet.used)]
        aside = [piece[0] for piece in sheets.pop().laid]
        if not refitting.placed_all(sheets, aside, effort):
            break
        best = sheets
    return best
