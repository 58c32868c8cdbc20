"""Sheets of several sizes and prices, offcuts on hand among them: a plan in, a cheaper plan out where one is found.

One or two sheets are exchanged for none, one or two others that cost less together, and the parts of the sheets that went
are placed on what is there now, by undoing and refilling. The exchange that leaves most room is tried first.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import combinations_with_replacement, islice
from math import lcm

from estimator.costing.cutting.assembling import money_to_buy
from estimator.costing.cutting.effort import Effort
from estimator.costing.cutting.improving import OpenSheet, Refitting, likely
from estimator.costing.cutting.kerf import Grid
from estimator.costing.cutting.several_proofs import Proof
from estimator.model.cutting_plan import StockSheet
from estimator.model.exact import Fraction

Money = tuple[Fraction, Fraction, int]
"""To be bought, worth with what is on hand, and area: each breaks the ties of the one before."""

Exchange = tuple[tuple[int, ...], tuple[int, ...]]
"""The stocks of the sheets that go, and of those that come."""

_MOST_EXCHANGES = 1200
_MOST_SPARE = 6
_LAST_EFFORT = 40_000
_FIRST_TURN, _LAST_TURN = 15_000, 2_000_000
"""Effort that every exchange gets before any gets more, so that one that cannot succeed does not eat it all."""


def money_of(used: Sequence[int], stock: Sequence[StockSheet], grid: Grid) -> Money:
    worth = sum((count * sheet.price for count, sheet in zip(used, stock, strict=True)), Fraction(0))
    area = sum(count * length * width for count, (length, width) in zip(used, grid.sheets, strict=True))
    return money_to_buy(used, stock), worth, area


def cheaper_sheets(
    *, grid: Grid, stock: Sequence[StockSheet], plan: Sequence[OpenSheet], proofs: Sequence[Proof], effort: Effort
) -> list[OpenSheet]:
    """The plan after every exchange that worked: first those that cost less to buy, then those that take less of the stock."""
    refitting = Refitting(grid)
    turn, best = _FIRST_TURN, list(plan)
    begun: dict[Exchange, tuple[list[OpenSheet], list[int]]] = {}
    while effort.left > 0:
        exchanges = _exchanges(_used(best, stock), stock, grid, proofs, likely_only=turn > _FIRST_TURN)
        found = _first_that_works(best, exchanges, refitting, begun, effort, turn)
        if found:
            best, turn = found, _FIRST_TURN
            begun.clear()
        elif begun and turn < _LAST_TURN:
            turn *= 2
        else:
            break
    last = Effort(_LAST_EFFORT)
    smaller: list[OpenSheet] | None = best
    while smaller:
        best = smaller
        smaller = _first_that_works(best, _smaller(_used(best, stock), stock, grid), refitting, {}, last, _LAST_EFFORT // 8)
    return best


def _first_that_works(
    plan: Sequence[OpenSheet],
    exchanges: Sequence[Exchange],
    refitting: Refitting,
    begun: dict[Exchange, tuple[list[OpenSheet], list[int]]],
    effort: Effort,
    turn: int,
) -> list[OpenSheet] | None:
    """The sheets after the first exchange that places every part; the others are left as far as they came, to go on from."""
    for exchange in exchanges:
        if effort.left <= 0:
            break
        sheets, aside = begun.get(exchange) or begun.setdefault(exchange, _exchanged(plan, *exchange))
        share = Effort(min(effort.left, turn))
        effort.left -= share.left
        found = refitting.placed_all(sheets, aside, share)
        effort.left += share.left
        if found:
            return [sheet for sheet in sheets if sheet.laid]
    return None


def _used(sheets: Sequence[OpenSheet], stock: Sequence[StockSheet]) -> list[int]:
    used = [0] * len(stock)
    for sheet in sheets:
        used[sheet.stock] += 1
    return used


def _exchanges(
    used: Sequence[int], stock: Sequence[StockSheet], grid: Grid, proofs: Sequence[Proof], *, likely_only: bool
) -> list[Exchange]:
    """Sheets that go and sheets that come: only such as cost less to buy and are not proven to be too few.

    Whatever is on hand and not used yet comes too. Roomiest first: it is the likeliest to hold every part, and what it saves is
    kept when the next one is tried.
    """
    sizes = _in_coins(stock, grid)
    now = _money(used, sizes)[0]
    buyable = [index for index, sheet in enumerate(stock) if sheet.buyable]
    found = []
    for gone, come in islice(_pairs([index for index in buyable if used[index]], buyable), _MOST_EXCHANGES):
        after = _after(used, gone, come)
        if min(after) < 0 or _money(after, sizes)[0] >= now:
            continue
        spare = _spare(after, stock, sizes)
        after = _after(after, (), spare)
        if not all(proof.allows(after) for proof in proofs):
            continue
        unlikely = not likely(grid, [size for size, count in zip(grid.sheets, after, strict=True) for _ in range(count)])
        if not (unlikely and likely_only):
            found.append((unlikely, -_money(after, sizes)[2], len(gone) + len(come), gone, (*come, *spare)))
    return [(gone, come) for *_, gone, come in sorted(found)]


def _smaller(used: Sequence[int], stock: Sequence[StockSheet], grid: Grid) -> list[Exchange]:
    """Exchanges that cost the same to buy and take sheets of less worth, or less area of them."""
    sizes = _in_coins(stock, grid)
    now, need = _money(used, sizes), sum(kind.area * kind.count for kind in grid.kinds)
    found = []
    here = [index for index, count in enumerate(used) if count]
    for gone, come in islice(_pairs(here, range(len(stock))), _MOST_EXCHANGES // 4):
        after = _after(used, gone, come)
        if min(after) >= 0 and all(sheet.buyable or count <= sheet.on_hand for count, sheet in zip(after, stock, strict=True)):
            money = _money(after, sizes)
            if money < now and money[2] >= need:
                found.append((-money[2], len(gone) + len(come), gone, come))
    return [(gone, come) for *_, gone, come in sorted(found)]


def _after(used: Sequence[int], gone: Sequence[int], come: Sequence[int]) -> list[int]:
    after = list(used)
    for index in gone:
        after[index] -= 1
    for index in come:
        after[index] += 1
    return after


def _spare(used: Sequence[int], stock: Sequence[StockSheet], sizes: Sequence[tuple[int, int, int]]) -> tuple[int, ...]:
    """The largest pieces on hand that are not used."""
    pieces = [index for index, sheet in enumerate(stock) for _ in range(sheet.on_hand - used[index])]
    return tuple(sorted(pieces, key=lambda index: (-sizes[index][2], index))[:_MOST_SPARE])


def _in_coins(stock: Sequence[StockSheet], grid: Grid) -> list[tuple[int, int, int]]:
    """On hand, price as whole numbers of the smallest coin that the prices need, and area: quick to compare by the hundred."""
    coin = lcm(*(sheet.price.denominator for sheet in stock))
    return [
        (sheet.on_hand, (sheet.price * coin).numerator, length * width)
        for sheet, (length, width) in zip(stock, grid.sheets, strict=True)
    ]


def _money(used: Sequence[int], sizes: Sequence[tuple[int, int, int]]) -> tuple[int, int, int]:
    buy = worth = area = 0
    for count, (on_hand, price, size) in zip(used, sizes, strict=True):
        if count:
            buy += price * max(0, count - on_hand)
            worth += price * count
            area += size * count
    return buy, worth, area


def _pairs(here: Sequence[int], stocks: Sequence[int]) -> Iterator[Exchange]:
    """Stocks that go and stocks that come, few before many; none goes and comes at once."""
    for going, coming in ((1, 0), (1, 1), (2, 1), (1, 2), (2, 0), (2, 2), (3, 1), (3, 2), (2, 3), (1, 3), (3, 3)):
        for gone in combinations_with_replacement(here, going):
            others = [index for index in stocks if index not in gone]
            for come in combinations_with_replacement(others, coming):
                yield gone, come


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
