"""Parts, sheets and kerf in; the cutting plan of one board out, checked before anybody sees it.

In choosing, money for sheets comes first (sheets on hand count 0), then few patterns, then a large offcut. Nothing here
looks at a clock or draws a lot: the same parts give the same plan, in whatever order the rows stand.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from estimator.costing.cutting.assembling import FilledSheet, assembled
from estimator.costing.cutting.bounds import area_bound, big_part_bound, usable_mm
from estimator.costing.cutting.careful import careful_plans
from estimator.costing.cutting.checker import check_plan
from estimator.costing.cutting.effort import (
    Effort,
    effort_for_few_a_sheet,
    effort_for_many_a_sheet,
    effort_for_several_sizes,
    effort_to_the_rescue,
)
from estimator.costing.cutting.greedy import greedy_plans
from estimator.costing.cutting.improving import Refitting, fewer_sheets, likely, opened
from estimator.costing.cutting.kerf import Grid, grid_of
from estimator.costing.cutting.proofs import proven_sheets
from estimator.costing.cutting.several_proofs import Proof, area_proofs, least_money, proofs_of
from estimator.costing.cutting.several_sizes import cheaper_sheets, money_of
from estimator.costing.cutting.tidying import tidied
from estimator.model.cutting_plan import CuttingPlan, StockSheet, Unplaceable, WantedPart
from estimator.model.exact import Fraction
from estimator.model.problems import Fault
from estimator.model.units import whole_up

GREEDY_EFFORT, ENOUGH_TASTES = 150_000, 8
MANY_A_SHEET, CARE_A_SHARE = 7, 5
CLOSE = Fraction("1.02")


def plan_board(
    *, wanted: Sequence[WantedPart], stock: Sequence[StockSheet], kerf_mm: Fraction, with_care: bool = True
) -> CuttingPlan | Unplaceable:
    """The cutting plan of one board, or which parts have no sheet to come from; without care it is quick and less good."""
    order = sorted(range(len(stock)), key=lambda index: _in_order(stock[index]))
    plan = _planned(wanted, [stock[index] for index in order], kerf_mm, with_care=with_care)
    if isinstance(plan, Unplaceable):
        return plan
    plan = replace(plan, patterns=tuple(replace(pattern, sheet=order[pattern.sheet]) for pattern in plan.patterns))
    wrong = check_plan(plan=plan, wanted=wanted, stock=stock, kerf_mm=kerf_mm)
    if wrong:
        raise Fault("The cutting plan breaks its own laws. " + " ".join(wrong))
    return plan


def _in_order(sheet: StockSheet) -> tuple[bool, Fraction, Fraction, Fraction, Fraction, int]:
    """What can be bought first, the largest first: so that the order of rows does not matter."""
    return not sheet.buyable, -sheet.length_mm * sheet.width_mm, -sheet.length_mm, sheet.price, sheet.trim_mm, -sheet.on_hand


def _planned(
    wanted: Sequence[WantedPart], stock: Sequence[StockSheet], kerf_mm: Fraction, *, with_care: bool
) -> CuttingPlan | Unplaceable:
    grid = grid_of(wanted=wanted, stock=stock, kerf_mm=kerf_mm)
    too_large = _too_large(grid, stock)
    if too_large:
        return Unplaceable(too_large=too_large, left_over=())
    bound, bound_money = _bounds(wanted, stock, kerf_mm, grid)
    filled, short = _best_greedy(grid, stock, bound, bound_money)
    if filled is None:
        filled = _rescued(grid, stock)
    if filled is None:
        rows = (row for kind, count in zip(grid.kinds, short, strict=True) if count for row in kind.rows)
        return Unplaceable(too_large=(), left_over=tuple(sorted(rows)))
    if with_care:
        filled, bound, bound_money = _searched(grid, stock, filled, bound, bound_money)
        filled = tidied(grid=grid, filled=filled)
    return assembled(filled=filled, grid=grid, wanted=wanted, stock=stock, bound=bound, bound_money=bound_money)


def _searched(
    grid: Grid, stock: Sequence[StockSheet], filled: list[FilledSheet], bound: int, bound_money: Fraction
) -> tuple[list[FilledSheet], int, Fraction]:
    """A better plan, fewest sheets and least money: where the plan does not meet the bounds yet, or takes pieces on hand."""
    used = _used(filled, stock)
    if len(set(grid.sheets)) == 1:
        return _fewer(grid, stock, filled, bound, bound_money) if sum(used) > bound else (filled, bound, bound_money)
    proofs: Sequence[Proof] = ()
    effort = Effort(0)
    if money_of(used, stock, grid)[0] > bound_money:
        proofs = proofs_of(grid=grid, stock=stock)
        bound_money = max(bound_money, least_money(proofs=proofs, stock=stock))
        many = _many_a_sheet(grid, stock, filled)
        close = money_of(used, stock, grid)[0] <= bound_money * CLOSE
        effort = effort_for_several_sizes(grid, many_a_sheet=many, close=close)
        filled = _careful(grid, stock, filled, bound, bound_money, effort)
    if effort.left or any(count and sheet.on_hand for count, sheet in zip(used, stock, strict=True)):
        filled = _exchanged(grid, stock, filled, proofs, effort)
    return filled, bound, bound_money


def _fewer(
    grid: Grid, stock: Sequence[StockSheet], filled: list[FilledSheet], bound: int, bound_money: Fraction
) -> tuple[list[FilledSheet], int, Fraction]:
    """Fewer sheets of one size, with a better proof of how few are possible."""
    length, width = grid.sheets[0]
    bound = max(bound, proven_sheets(kinds=grid.kinds, length=length, width=width))
    bound_money = _least_money_for(bound, stock)
    if _many_a_sheet(grid, stock, filled):
        one_fewer = [grid.sheets[0]] * (sum(sheet.count for sheet in filled) - 1)
        effort = effort_for_many_a_sheet(grid, likely=likely(grid, one_fewer))
    else:
        effort = effort_for_few_a_sheet(grid)
    filled = _careful(grid, stock, filled, bound, bound_money, effort)
    return _improved(grid, stock, filled, bound, effort), bound, bound_money


def _best_greedy(
    grid: Grid, stock: Sequence[StockSheet], bound: int, bound_money: Fraction
) -> tuple[list[FilledSheet] | None, list[int]]:
    """The cheapest greedy plan; None, and what was left, when none could place every part."""
    best: list[FilledSheet] | None = None
    best_rank: tuple[Fraction, Fraction, int, int] | None = None
    short: list[int] = []
    for number, (filled, left) in enumerate(greedy_plans(grid, stock, Effort(GREEDY_EFFORT)), start=1):
        if any(left):
            short = short or left
            continue
        rank = (*money_of(_used(filled, stock), stock, grid), len(filled))
        if best_rank is None or rank < best_rank:
            best, best_rank = filled, rank
        if number >= ENOUGH_TASTES and best_rank[0] <= bound_money and sum(_used(best or [], stock)) <= bound:
            break
    return best, short


def _rescued(grid: Grid, stock: Sequence[StockSheet]) -> list[FilledSheet] | None:
    """A plan on sheets on hand that no greedy plan found room on: with care, and by refilling all of them."""
    effort = effort_to_the_rescue(grid)
    for plan in careful_plans(grid, stock, Effort(effort.left // 2)):
        return plan
    sheets = [opened(index, ()) for index, sheet in enumerate(stock) for _ in range(sheet.on_hand)]
    everything = [index for index, kind in enumerate(grid.kinds) for _ in range(kind.count)]
    if Refitting(grid).placed_all(sheets, everything, effort):
        return [FilledSheet(sheet.stock, tuple(sheet.laid)) for sheet in sheets if sheet.laid]
    return None


def _used(filled: Sequence[FilledSheet], stock: Sequence[StockSheet]) -> list[int]:
    used = [0] * len(stock)
    for sheet in filled:
        used[sheet.stock] += sheet.count
    return used


def _many_a_sheet(grid: Grid, stock: Sequence[StockSheet], filled: Sequence[FilledSheet]) -> bool:
    return sum(kind.count for kind in grid.kinds) >= MANY_A_SHEET * sum(_used(filled, stock))


def _careful(
    grid: Grid,
    stock: Sequence[StockSheet],
    filled: list[FilledSheet],
    bound: int,
    bound_money: Fraction,
    effort: Effort,
) -> list[FilledSheet]:
    """The cheapest of the greedy plan and the careful plans that a share of the effort can make.

    Care pays where many parts lie on a sheet; where few do, undoing and refilling finds more.
    """
    best, best_money = filled, money_of(_used(filled, stock), stock, grid)
    few = len(set(grid.sheets)) > 1 or not _many_a_sheet(grid, stock, filled)
    careful = Effort(effort.left // (CARE_A_SHARE * 2 if few else CARE_A_SHARE))
    effort.left -= careful.left
    for plan in careful_plans(grid, stock, careful):
        money = money_of(_used(plan, stock), stock, grid)
        if money < best_money:
            best, best_money = plan, money
        if best_money[0] <= bound_money and sum(_used(best, stock)) <= bound:
            break
    effort.left += careful.left
    return best


def _improved(
    grid: Grid, stock: Sequence[StockSheet], filled: list[FilledSheet], bound: int, effort: Effort
) -> list[FilledSheet]:
    """Fewer sheets of one size where that can be; the sheets stay those of the stock that was chosen first."""
    sheets = [opened(sheet.stock, sheet.laid) for sheet in filled for _ in range(sheet.count)]
    fewer = fewer_sheets(grid=grid, plan=sheets, bound=bound, effort=effort)
    if len(fewer) == len(sheets):
        return filled
    return _from_cheapest(stock, [FilledSheet(0, tuple(sheet.laid)) for sheet in fewer])


def _exchanged(
    grid: Grid, stock: Sequence[StockSheet], filled: list[FilledSheet], proofs: Sequence[Proof], effort: Effort
) -> list[FilledSheet]:
    """Sheets of several sizes, exchanged for cheaper ones where that can be."""
    sheets = [opened(sheet.stock, sheet.laid) for sheet in filled for _ in range(sheet.count)]
    cheaper = cheaper_sheets(grid=grid, stock=stock, plan=sheets, proofs=proofs, effort=effort)
    before, after = _used(filled, stock), _used([FilledSheet(s.stock, tuple(s.laid)) for s in cheaper], stock)
    if money_of(after, stock, grid) >= money_of(before, stock, grid):
        return filled
    return [FilledSheet(sheet.stock, tuple(sheet.laid)) for sheet in cheaper]


def _from_cheapest(stock: Sequence[StockSheet], filled: Sequence[FilledSheet]) -> list[FilledSheet]:
    """Sheets of one size taken from what is on hand first, then from the cheapest that can be bought."""
    order = [index for index, sheet in enumerate(stock) for _ in range(sheet.on_hand)]
    cheapest = min((index for index in range(len(stock)) if stock[index].buyable), key=lambda i: stock[i].price, default=0)
    order += [cheapest] * (len(filled) - len(order))
    return [FilledSheet(place, sheet.laid) for place, sheet in zip(order, filled, strict=False)]


def _too_large(grid: Grid, stock: Sequence[StockSheet]) -> tuple[int, ...]:
    sizes = {size for size, sheet in zip(grid.sheets, stock, strict=True) if sheet.buyable or sheet.on_hand}
    rows = [
        row
        for kind in grid.kinds
        if not any(along <= length and across <= width for along, across in kind.lies for length, width in sizes)
        for row in kind.rows
    ]
    return tuple(sorted(rows))


def _bounds(
    wanted: Sequence[WantedPart], stock: Sequence[StockSheet], kerf_mm: Fraction, grid: Grid
) -> tuple[int, Fraction]:
    """Fewest sheets and least money."""
    sizes = {usable_mm(sheet) for sheet in stock}
    if len(sizes) == 1:
        bound = max(bound_of(wanted=wanted, sheet=stock[0], kerf_mm=kerf_mm) for bound_of in (area_bound, big_part_bound))
        return bound, _least_money_for(bound, stock)
    largest_mm2 = max((length + kerf_mm) * (width + kerf_mm) for length, width in sizes)
    parts_mm2 = sum(((p.length_mm + kerf_mm) * (p.width_mm + kerf_mm) * p.count for p in wanted), Fraction(0))
    bound = whole_up(parts_mm2 / largest_mm2)
    return bound, least_money(proofs=area_proofs(grid=grid, stock=stock), stock=stock)


def _least_money_for(sheets: int, stock: Sequence[StockSheet]) -> Fraction:
    """The least that this many sheets of one size can cost."""
    bought = max(0, sheets - sum(sheet.on_hand for sheet in stock))
    prices = [sheet.price for sheet in stock if sheet.buyable]
    return bought * min(prices) if prices else Fraction(0)
