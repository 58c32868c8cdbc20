"""Whole plans with care: every sheet is filled in many tastes and the fullest is kept, before the next is begun.

This finds dense plans of boards with many parts a sheet, where one taste for the whole plan does not.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from estimator.costing.cutting.assembling import FilledSheet
from estimator.costing.cutting.effort import Effort
from estimator.costing.cutting.filling import BY_TURNS, Laid, Lie, Room, SnugLies, Taste, filled_sheet, snug_lies
from estimator.costing.cutting.kerf import Grid
from estimator.costing.cutting.shuffled import ShuffledNumbers
from estimator.costing.cutting.striping import striped
from estimator.model.cutting_plan import StockSheet
from estimator.model.exact import Fraction

_SNUG = (0, 1, 3, 8)
_SPREAD = (20, 60, 100)
_TABLES = 16
_TRIES = (8, 64, 192, 64, 16, 192, 64, 16, 192, 64, 16, 192, 64)
_FAVOUR = 10
"""Sizes are favoured by up to so many hundredths, another way in each plan: the best value sheet by sheet is not always best."""
_MUCH = 20
_FREE = 10**20
"""Value of a full sheet on hand beside money: it is always taken first."""


def careful_plans(grid: Grid, stock: Sequence[StockSheet], effort: Effort) -> Iterator[list[FilledSheet]]:
    """Plans that place every part, as long as the effort lasts."""
    for number, tries in enumerate(_TRIES):
        if effort.left <= 0:
            return
        plan = _Careful(grid, stock, effort, ShuffledNumbers(10 + number)).plan(tries, favoured=number % (1 + len(stock)) - 1)
        if plan is not None:
            yield plan


class _Careful:
    def __init__(self, grid: Grid, stock: Sequence[StockSheet], effort: Effort, numbers: ShuffledNumbers) -> None:
        self._grid, self._stock, self._effort, self._numbers = grid, stock, effort, numbers
        self._tables: dict[int, tuple[list[Lie], SnugLies]] = {}
        self._starts = [numbers.below(1 << 30) for _ in range(_TABLES)]

    def _table(self, number: int) -> tuple[list[Lie], SnugLies]:
        """The worths of every lie under one taste, made when the taste is first used."""
        if number not in self._tables:
            below, spread = ShuffledNumbers(self._starts[number]).below, _SPREAD[number % len(_SPREAD)]
            lies = [
                (kind.area * (100 + below(spread)), along, across, index)
                for index, kind in enumerate(self._grid.kinds)
                for along, across in kind.lies
            ]
            lies.sort(reverse=True)
            self._tables[number] = lies, snug_lies(lies)
        return self._tables[number]

    def plan(self, tries: int, favoured: int) -> list[FilledSheet] | None:
        """One plan; None when the sheets on hand run out, or the effort."""
        left = [kind.count for kind in self._grid.kinds]
        tries = max(4, 2 * tries // (1 + len(self._stock)))
        on_hand = [sheet.on_hand for sheet in self._stock]
        favour = [100 + self._numbers.below(_FAVOUR) for _ in self._stock]
        if favoured >= 0:
            favour[favoured] += _MUCH
        filled: list[FilledSheet] = []
        while any(left):
            best: tuple[Fraction, int, list[Laid], list[int]] | None = None
            for index, sheet in enumerate(self._stock):
                if self._effort.left <= 0 or not (on_hand[index] or sheet.buyable):
                    continue
                laid, after = self._fullest(index, left, tries)
                area = sum(piece[3] * piece[4] for piece in laid)
                length, width = self._grid.sheets[index]
                if on_hand[index] or not sheet.price:
                    value = Fraction(area * _FREE, length * width)
                else:
                    value = Fraction(area * favour[index]) / sheet.price
                if laid and (best is None or value > best[0]):
                    best = value, index, laid, after
            if best is None:
                return None
            _, index, laid, after = best
            times = min(before // (before - then) for before, then in zip(left, after, strict=True) if before > then)
            if on_hand[index]:
                times = min(times, on_hand[index])
                on_hand[index] -= times
            left = [before - times * (before - then) for before, then in zip(left, after, strict=True)]
            filled.append(FilledSheet(index, tuple(laid), times))
        return filled

    def _begun(self, length: int, width: int, lies: Sequence[Lie], left: list[int]) -> tuple[list[Laid], list[Room]]:
        below = self._numbers.below
        if below(2):
            return [], [(0, 0, length, width)]
        return striped(length=length, width=width, lies=lies, left=left, below=below)

    def _fullest(self, stock: int, left: Sequence[int], tries: int) -> tuple[list[Laid], list[int]]:
        """The filling that wastes least of so many, and the kinds still wanted after it."""
        below = self._numbers.below
        length, width = self._grid.sheets[stock]
        waste = length * width
        best: tuple[list[Laid], list[int]] = [], list(left)
        for _ in range(tries):
            table, exact = self._table(below(_TABLES))
            lies = [lie for lie in table if left[lie[3]]]
            taste = Taste(_SNUG[below(len(_SNUG))], BY_TURNS, below(1 << 40), 200)
            after = list(left)
            begun, rooms = self._begun(length, width, lies, after)
            laid, still = filled_sheet(rooms=rooms, lies=lies, exact=exact, left=after, taste=taste, waste=waste)
            laid = begun + laid
            self._effort.left -= 4 + len(lies) // 4 + len(laid) * (4 + len(lies) // 8)
            if still < 0:
                continue
            best = laid, after
            waste -= still + 1  # what this one wasted, less one: the next must be better
            if waste < 0 or not any(after):
                break
        return best
