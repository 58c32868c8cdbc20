"""Whole plans by greedy choice, one for each taste: the grid and the stock in, filled sheets out.

Sheet after sheet is filled, each time of the stock that gives most part for its money, and a good sheet is repeated as long
as the parts last, so that equal sheets can be cut together.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence

from estimator.costing.cutting.assembling import FilledSheet
from estimator.costing.cutting.effort import Effort
from estimator.costing.cutting.filling import LARGER_REST, LONGER_REST, Lie, Taste, filled_sheet, lies_by_worth, snug_lies
from estimator.costing.cutting.kerf import Grid
from estimator.model.cutting_plan import StockSheet
from estimator.model.exact import Fraction


def greedy_plans(
    grid: Grid, stock: Sequence[StockSheet], effort: Effort
) -> Iterator[tuple[list[FilledSheet], list[int]]]:
    """Plans in many tastes, with the count of each kind that found no sheet; at least one, then as effort lasts."""
    for worth, snug, parting in _tastes():
        lies = lies_by_worth(
            [
                (worth(along, across), along, across, index)
                for index, kind in enumerate(grid.kinds)
                for along, across in kind.lies
            ]
        )
        yield greedy_plan(grid, stock, lies, Taste(snug, parting), effort)
        if effort.left <= 0:
            return


def _tastes() -> Iterator[tuple[Callable[[int, int], int], int, int]]:
    for snug in (2, 6, 0):
        for parting in (LARGER_REST, LONGER_REST):
            for worth in (_by_area, _by_long_side, _by_width, _by_length):
                yield worth, snug, parting


def greedy_plan(
    grid: Grid, stock: Sequence[StockSheet], lies: Sequence[Lie], taste: Taste, effort: Effort
) -> tuple[list[FilledSheet], list[int]]:
    """One plan, and how many of each kind found no sheet."""
    left = [kind.count for kind in grid.kinds]
    on_hand = [sheet.on_hand for sheet in stock]
    filled: list[FilledSheet] = []
    exact = snug_lies(lies)
    while any(left):
        wanted = [lie for lie in lies if left[lie[3]]]
        best: tuple[Fraction, FilledSheet, list[int]] | None = None
        for index, sheet in enumerate(stock):
            if not on_hand[index] and not sheet.buyable:
                continue
            length, width = grid.sheets[index]
            after = left.copy()
            laid, _ = filled_sheet(
                rooms=[(0, 0, length, width)], lies=wanted, exact=exact, left=after, taste=taste, waste=length * width
            )
            effort.left -= 6 + len(laid) * (6 + len(wanted) // 4)
            share = Fraction(sum(piece[3] * piece[4] for piece in laid), length * width)
            value = share * length * width / sheet.price if not on_hand[index] and sheet.price else share * 10**20
            if laid and (best is None or value > best[0]):
                best = value, FilledSheet(index, tuple(laid)), after
        if best is None:
            break
        _, chosen, after = best
        times = min(before // (before - then) for before, then in zip(left, after, strict=True) if before > then)
        if on_hand[chosen.stock]:
            times = min(times, on_hand[chosen.stock])
            on_hand[chosen.stock] -= times
        left = [before - times * (before - then) for before, then in zip(left, after, strict=True)]
        filled.append(FilledSheet(chosen.stock, chosen.laid, times))
    return filled, left


def _by_area(along: int, across: int) -> int:
    return along * across


def _by_long_side(along: int, across: int) -> int:
    return max(along, across) ** 2


def _by_length(along: int, across: int) -> int:
    return along**2


def _by_width(along: int, across: int) -> int:
    return across**2
