"""Parts, sheets and kerf in; the cutting plan of one board out, checked before anybody sees it.

In choosing, money for sheets comes first (sheets on hand count 0), then few patterns, then a large offcut. Nothing here
looks at a clock or draws a lot: the same parts give the same plan, in whatever order the rows stand.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction

from estimator.costing.cutting.assembling import FilledSheet, assembled, money_to_buy
from estimator.costing.cutting.bounds import area_bound, big_part_bound, usable_mm
from estimator.costing.cutting.checker import check_plan
from estimator.costing.cutting.filling import CROSSWISE, LENGTHWISE, Lie, filled_sheet, lies_by_worth
from estimator.costing.cutting.kerf import Grid, grid_of
from estimator.model.cutting_plan import CuttingPlan, StockSheet, Unplaceable, WantedPart
from estimator.model.problems import Fault
from estimator.model.units import whole_up


def plan_board(
    *, wanted: Sequence[WantedPart], stock: Sequence[StockSheet], kerf_mm: Fraction
) -> CuttingPlan | Unplaceable:
    """The cutting plan of one board, or which parts have no sheet to come from."""
    grid = grid_of(wanted=wanted, stock=stock, kerf_mm=kerf_mm)
    too_large = _too_large(grid, stock)
    if too_large:
        return Unplaceable(too_large=too_large, left_over=())
    bound, bound_money = _bounds(wanted, stock, kerf_mm)
    best: tuple[tuple[Fraction, int], list[FilledSheet]] | None = None
    short: list[int] = []
    for filled, left in _greedy_plans(grid, stock):
        if any(left):
            short = short or left
            continue
        used = [0] * len(stock)
        for sheet in filled:
            used[sheet.stock] += sheet.count
        money = money_to_buy(used, stock)
        rank = (money, sum(used))
        if best is None or rank < best[0]:
            best = rank, filled
        if money <= bound_money and sum(used) <= bound:
            break
    if best is None:
        rows = (row for kind, count in zip(grid.kinds, short, strict=True) if count for row in kind.rows)
        return Unplaceable(too_large=(), left_over=tuple(sorted(rows)))
    plan = assembled(filled=best[1], grid=grid, wanted=wanted, stock=stock, bound=bound, bound_money=bound_money)
    wrong = check_plan(plan=plan, wanted=wanted, stock=stock, kerf_mm=kerf_mm)
    if wrong:
        raise Fault("The cutting plan breaks its own laws. " + " ".join(wrong))
    return plan


def _too_large(grid: Grid, stock: Sequence[StockSheet]) -> tuple[int, ...]:
    sizes = {size for size, sheet in zip(grid.sheets, stock, strict=True) if sheet.buyable or sheet.on_hand}
    rows = [
        row
        for kind in grid.kinds
        if not any(along <= length and across <= width for along, across in kind.lies for length, width in sizes)
        for row in kind.rows
    ]
    return tuple(sorted(rows))


def _bounds(wanted: Sequence[WantedPart], stock: Sequence[StockSheet], kerf_mm: Fraction) -> tuple[int, Fraction]:
    """Fewest sheets and least money."""
    sizes = {usable_mm(sheet) for sheet in stock}
    if len(sizes) == 1:
        bound = max(bound_of(wanted=wanted, sheet=stock[0], kerf_mm=kerf_mm) for bound_of in (area_bound, big_part_bound))
        return bound, _least_money_for(bound, stock)
    largest_mm2 = max((length + kerf_mm) * (width + kerf_mm) for length, width in sizes)
    parts_mm2 = sum(((p.length_mm + kerf_mm) * (p.width_mm + kerf_mm) * p.count for p in wanted), Fraction(0))
    bound = whole_up(parts_mm2 / largest_mm2)
    return bound, Fraction(0)


def _least_money_for(sheets: int, stock: Sequence[StockSheet]) -> Fraction:
    """The least that this many sheets of one size can cost."""
    bought = max(0, sheets - sum(sheet.on_hand for sheet in stock))
    prices = [sheet.price for sheet in stock if sheet.buyable]
    return bought * min(prices) if prices else Fraction(0)


def _greedy_plans(grid: Grid, stock: Sequence[StockSheet]) -> Iterator[tuple[list[FilledSheet], list[int]]]:
    tastes = [
        (split, snug, worth)
        for worth in (_by_area, _by_long_side, _by_length, _by_width)
        for snug in (2, 6, 0)
        for split in range(5)
        if split in (LENGTHWISE, CROSSWISE) or worth in (_by_area, _by_long_side)
    ]
    for split, snug, worth in tastes:
        lies = [
            (worth(along, across), along, across, index)
            for index, kind in enumerate(grid.kinds)
            for along, across in kind.lies
        ]
        yield _greedy_plan(grid, stock, lies_by_worth(lies), split, snug)


def _greedy_plan(
    grid: Grid, stock: Sequence[StockSheet], lies: Sequence[Lie], split: int, snug: int
) -> tuple[list[FilledSheet], list[int]]:
    """Sheet after sheet, each time of the stock that gives most part for its money; a good sheet is repeated."""
    left = [kind.count for kind in grid.kinds]
    on_hand = [sheet.on_hand for sheet in stock]
    filled: list[FilledSheet] = []
    while any(left):
        best: tuple[Fraction, int, list[int], FilledSheet] | None = None
        for index, sheet in enumerate(stock):
            if not on_hand[index] and not sheet.buyable:
                continue
            length, width = grid.sheets[index]
            after = left.copy()
            laid = filled_sheet(length=length, width=width, lies=lies, left=after, split=split, snug=snug)
            area = sum(piece[3] * piece[4] for piece in laid)
            price = Fraction(0) if on_hand[index] else sheet.price
            worth = Fraction(area, length * width) * 1000 if not price else area / price / (length * width)
            if laid and (best is None or worth > best[0]):
                best = worth, index, after, FilledSheet(index, tuple(laid))
        if best is None:
            break
        _, index, after, sheet_filled = best
        times = min(
            before // (before - then) for before, then in zip(left, after, strict=True) if before > then
        )
        if on_hand[index] or not stock[index].buyable:
            times = min(times, on_hand[index])
            on_hand[index] -= times
        left = [before - times * (before - then) for before, then in zip(left, after, strict=True)]
        filled.append(FilledSheet(index, sheet_filled.laid, times))
    return filled, left


def _by_area(along: int, across: int) -> int:
    return along * across


def _by_long_side(along: int, across: int) -> int:
    return max(along, across) ** 2


def _by_length(along: int, across: int) -> int:
    return along**2


def _by_width(along: int, across: int) -> int:
    return across**2
