"""Sheets of several sizes and prices, offcuts on hand among them: a plan in, a cheaper plan out where one is found.

One or two sheets are exchanged for none, one or two others that cost less together, and the parts of the sheets that went
are placed on what is there now, by undoing and refilling. The exchange that saves most is tried first.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import combinations_with_replacement, islice
from math import lcm

from estimator.costing.cutting.assembling import money_to_buy
from estimator.costing.cutting.improving import Effort, OpenSheet, Refitting
from estimator.costing.cutting.kerf import Grid
from estimator.model.cutting_plan import StockSheet
from estimator.model.exact import Fraction

Money = tuple[Fraction, Fraction, int]
"""To be bought, worth with what is on hand, and area: each breaks the ties of the one before."""

_MOST_EXCHANGES = 1200
_SHARE_OF_EFFORT = 20
"""An exchange may take this part of the effort that is left, so that one that cannot succeed does not eat it all."""


def money_of(used: Sequence[int], stock: Sequence[StockSheet], grid: Grid) -> Money:
    worth = sum((count * sheet.price for count, sheet in zip(used, stock, strict=True)), Fraction(0))
    area = sum(count * length * width for count, (length, width) in zip(used, grid.sheets, strict=True))
    return money_to_buy(used, stock), worth, area


def cheaper_sheets(
    *, grid: Grid, stock: Sequence[StockSheet], plan: Sequence[OpenSheet], bound_money: Fraction, effort: Effort
) -> list[OpenSheet]:
    """The plan after every exchange that worked."""
    best = list(plan)
    refitting = Refitting(grid)
    need = sum(sheet.used for sheet in plan)
    tried: set[tuple[tuple[int, ...], tuple[int, ...]]] = set()
    while effort.left > 0:
        used = _used(best, stock)
        for gone, come in _exchanges(used, stock, grid, need):
            if (gone, come) in tried or effort.left <= 0:
                continue
            slice_of_effort = Effort(min(effort.left, max(20_000, effort.left // _SHARE_OF_EFFORT)))
            effort.left -= slice_of_effort.left
            sheets, aside = _exchanged(best, gone, come)
            found = refitting.placed_all(sheets, aside, slice_of_effort)
            effort.left += max(0, slice_of_effort.left)
            if found:
                best = [sheet for sheet in sheets if sheet.laid]
                tried.clear()
                break
            tried.add((gone, come))
        else:
            break
    return best


def _used(sheets: Sequence[OpenSheet], stock: Sequence[StockSheet]) -> list[int]:
    used = [0] * len(stock)
    for sheet in sheets:
        used[sheet.stock] += 1
    return used


def _exchanges(
    used: Sequence[int], stock: Sequence[StockSheet], grid: Grid, need: int
) -> Iterator[tuple[tuple[int, ...], tuple[int, ...]]]:
    """Stocks that go and stocks that come, most saved first; only such as leave room enough and can be had."""
    here = [index for index, count in enumerate(used) if count]
    coin = lcm(*(sheet.price.denominator for sheet in stock))
    sizes = [
        (sheet.on_hand, (sheet.price * coin).numerator, length * width)
        for sheet, (length, width) in zip(stock, grid.sheets, strict=True)
    ]
    now = _in_coins(used, sizes)
    found = []
    for gone, come in islice(_pairs(here, range(len(stock))), _MOST_EXCHANGES):
        after = list(used)
        for index in gone:
            after[index] -= 1
        for index in come:
            after[index] += 1
        if min(after) < 0 or not _to_be_had(after, stock):
            continue
        money = _in_coins(after, sizes)
        if money < now and money[2] >= need:
            found.append((money, len(gone) + len(come), gone, come))
    for _, _, gone, come in sorted(found):
        yield gone, come


def _in_coins(used: Sequence[int], sizes: Sequence[tuple[int, int, int]]) -> tuple[int, int, int]:
    """Money as whole numbers of the smallest coin that the prices need: quick to compare by the hundred."""
    buy = worth = area = 0
    for count, (on_hand, price, size) in zip(used, sizes, strict=True):
        if count:
            buy += price * max(0, count - on_hand)
            worth += price * count
            area += size * count
    return buy, worth, area


def _pairs(here: Sequence[int], stocks: Sequence[int]) -> Iterator[tuple[tuple[int, ...], tuple[int, ...]]]:
    """Stocks that go and stocks that come, few before many; none goes and comes at once."""
    for going, coming in ((1, 0), (1, 1), (2, 1), (1, 2), (2, 0), (2, 2), (3, 1), (3, 2), (2, 3), (1, 3), (3, 3)):
        for gone in combinations_with_replacement(here, going):
            others = [index for index in stocks if index not in gone]
            for come in combinations_with_replacement(others, coming):
                yield gone, come


def _to_be_had(used: Sequence[int], stock: Sequence[StockSheet]) -> bool:
    return all(sheet.buyable or count <= sheet.on_hand for count, sheet in zip(used, stock, strict=True))


def _exchanged(
    plan: Sequence[OpenSheet], gone: Sequence[int], come: Sequence[int]
) -> tuple[list[OpenSheet], list[int]]:
    """The sheets after the exchange, and the kinds that lay on those that went: of each stock the emptiest go."""
    sheets = [OpenSheet(sheet.stock, sheet.laid, sheet.used) for sheet in sorted(plan, key=lambda sheet: -sheet.used)]
    aside: list[int] = []
    for index in gone:
        place = max(place for place, sheet in enumerate(sheets) if sheet.stock == index)
        aside += [piece[0] for piece in sheets.pop(place).laid]
    sheets += [OpenSheet(index, [], 0) for index in come]
    return sheets, aside


def least_money(*, grid: Grid, stock: Sequence[StockSheet]) -> Fraction:
    """What any plan must buy at least: sheets that have room enough, also for the parts that only some sizes can hold."""
    holders = [
        frozenset(
            index
            for index, (length, width) in enumerate(grid.sheets)
            if any(along <= length and across <= width for along, across in kind.lies)
        )
        for kind in grid.kinds
    ]
    needs = []
    for group in sorted(set(holders), key=sorted):
        area = sum(kind.area * kind.count for kind, holder in zip(grid.kinds, holders, strict=True) if holder <= group)
        free = sum(grid.sheets[index][0] * grid.sheets[index][1] * stock[index].on_hand for index in group)
        needs.append((group, area - free))
    best = max((_least_for(group, need, grid, stock) for group, need in needs), default=Fraction(0))
    return max(best, Fraction(0))


def _least_for(group: frozenset[int], need: int, grid: Grid, stock: Sequence[StockSheet]) -> Fraction:
    """The cheapest whole sheets of a group of sizes that have this much room."""
    sizes = sorted(
        ((stock[index].price, grid.sheets[index][0] * grid.sheets[index][1]) for index in group if stock[index].buyable),
        key=lambda size: Fraction(size[0]) / size[1],
    )
    if need <= 0 or not sizes:
        return Fraction(0)
    return _cheapest_cover(need, sizes, None)


def _cheapest_cover(need: int, sizes: Sequence[tuple[Fraction, int]], most: Fraction | None) -> Fraction:
    """Branch on how many of the best-value size; a branch that cannot beat the best by its price an area is left."""
    price, area = sizes[0]
    if len(sizes) == 1:
        return price * -(-need // area)
    best = most
    for count in range(-(-need // area), -1, -1):
        rest = max(0, need - count * area)
        spent = price * count
        if best is not None and spent + rest * Fraction(sizes[1][0]) / sizes[1][1] >= best:
            if rest:
                break
            continue
        found = spent + (_cheapest_cover(rest, sizes[1:], None) if rest else 0)
        if best is None or found < best:
            best = found
    assert best is not None
    return best
