"""How little the sheets of several sizes can cost: the grid and the stock in, proofs of what no set of sheets can do without out.

Extents are weighed so that whatever lies side by side in a sheet never weighs more than the sheet, of whichever size: that
holds for every function that gives the sum of two extents at least the two weights together. With one such function along
the length and one across, the sheets of a plan together weigh at least as much as its parts, and the cheapest sheets that
weigh so much cost no more than the plan.

Source of the functions: as in proofs.py; the whole numbers of a step that an extent holds are the plainest of them.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import isqrt
from operator import mul

from estimator.costing.cutting.kerf import Grid, Kind
from estimator.costing.cutting.proofs import Weights, weightings
from estimator.model.cutting_plan import StockSheet
from estimator.model.dataclass import dataclass
from estimator.model.exact import Fraction

_PRODUCTS = 30_000
_KEPT = 8
"""So many of the strongest proofs are kept: they are asked about every exchange of sheets."""


@dataclass(frozen=True, slots=True)
class Proof:
    """What the parts weigh and what one sheet of each stock weighs: sheets of less weight cannot hold the parts."""

    parts: int
    sheets: tuple[int, ...]

    def allows(self, used: Sequence[int]) -> bool:
        return self.parts <= sum(count * weight for count, weight in zip(used, self.sheets, strict=True))


def area_proofs(*, grid: Grid, stock: Sequence[StockSheet]) -> tuple[Proof, ...]:
    """By area alone, which is quickly had: for all parts, and for those that only some of the sizes can hold."""
    return tuple(_by_area(kinds, group, grid) for group, kinds in _groups(grid, stock))


def proofs_of(*, grid: Grid, stock: Sequence[StockSheet]) -> tuple[Proof, ...]:
    """By area, and by the strongest weights."""
    found = list(area_proofs(grid=grid, stock=stock))
    for group, kinds in _groups(grid, stock):
        proofs = sorted(_of_group(kinds, group, grid), key=lambda proof: (-_strength(proof, stock), proof.parts, proof.sheets))
        found += proofs[:_KEPT]
    return tuple(found)


def _groups(grid: Grid, stock: Sequence[StockSheet]) -> Iterator[tuple[frozenset[int], list[Kind]]]:
    """Stocks, and the kinds that no stock beyond them can hold."""
    there = [index for index, sheet in enumerate(stock) if sheet.buyable or sheet.on_hand]
    holders = [
        frozenset(index for index in there if any(_lies_on(lie, grid.sheets[index]) for lie in kind.lies)) for kind in grid.kinds
    ]
    for group in sorted(set(holders), key=sorted):
        yield group, [kind for kind, holder in zip(grid.kinds, holders, strict=True) if holder <= group]


def _lies_on(lie: tuple[int, int], sheet: tuple[int, int]) -> bool:
    return lie[0] <= sheet[0] and lie[1] <= sheet[1]


def _by_area(kinds: Sequence[Kind], group: frozenset[int], grid: Grid) -> Proof:
    sheets = tuple(length * width if index in group else 0 for index, (length, width) in enumerate(grid.sheets))
    return Proof(sum(kind.area * kind.count for kind in kinds), sheets)


def _strength(proof: Proof, stock: Sequence[StockSheet]) -> Fraction:
    """The least money by weight alone, fractions of a sheet allowed."""
    free = sum(sheet.on_hand * weight for sheet, weight in zip(stock, proof.sheets, strict=True))
    best = [sheet.price / weight for sheet, weight in zip(stock, proof.sheets, strict=True) if sheet.buyable and weight]
    return max(0, proof.parts - free) * min(best) if best else Fraction(0)


def _of_group(kinds: Sequence[Kind], group: frozenset[int], grid: Grid) -> Iterator[Proof]:
    """A proof for each pair of functions: each part weighs as it lies lightest among the ways that fit a sheet."""
    sheets = [grid.sheets[index] for index in sorted(group)]
    lies = [[lie for lie in kind.lies if any(_lies_on(lie, sheet) for sheet in sheets)] for kind in kinds]
    counts = [kind.count for kind in kinds]
    most = max(6, isqrt(_PRODUCTS // max(1, len(kinds))))
    along = _functions({lie[0] for two in lies for lie in two}, {sheet[0] for sheet in sheets}, most)
    across = _functions({lie[1] for two in lies for lie in two}, {sheet[1] for sheet in sheets}, most)
    ends = [(two[0], two[-1]) for two in lies]
    firsts = [[[weigh[lies[end][0]] for lies in ends] for end in (0, 1)] for weigh in along]
    seconds = [
        [[count * weigh[lies[end][1]] for lies, count in zip(ends, counts, strict=True)] for end in (0, 1)] for weigh in across
    ]
    for weigh, (one, other) in zip(along, firsts, strict=True):
        for weigh_across, (beside, other_beside) in zip(across, seconds, strict=True):
            parts = sum(map(min, map(mul, one, beside), map(mul, other, other_beside)))
            rooms = tuple(
                weigh[length] * weigh_across[width] if index in group else 0 for index, (length, width) in enumerate(grid.sheets)
            )
            yield Proof(parts, rooms)


def _functions(extents: set[int], sheets: set[int], most: int) -> list[dict[int, int]]:
    """Weights of the extents and of the sheets' own sides, the plain one first."""
    everything = extents | sheets
    found: list[Weights] = weightings(whole=max(sheets), extents=everything, most=most // 2)
    steps = sorted(extents)
    many = max(1, most - len(found))
    chosen = {steps[place * (len(steps) - 1) // max(1, many - 1)] for place in range(many)}
    chosen |= {side // pieces + 1 for side in sheets for pieces in (2, 3)}
    functions = [weigh for weigh, _ in found]
    return functions + [{extent: extent // step for extent in everything} for step in sorted(chosen)]


_MOST_TRIES = 500
"""Of covers in one search; boards of a few sizes take a handful. Far fewer than calls within calls that Python bears."""


def least_money(*, proofs: Sequence[Proof], stock: Sequence[StockSheet]) -> Fraction:
    """What any plan must buy at least: the cheapest whole sheets that some proof asks for."""
    return max((_least_for(proof, stock) for proof in proofs), default=Fraction(0))


def _least_for(proof: Proof, stock: Sequence[StockSheet]) -> Fraction:
    need = proof.parts - sum(sheet.on_hand * weight for sheet, weight in zip(stock, proof.sheets, strict=True))
    sizes = sorted(
        ((sheet.price, weight) for sheet, weight in zip(stock, proof.sheets, strict=True) if sheet.buyable and weight),
        key=lambda size: (Fraction(size[0]) / size[1], size),
    )
    if need <= 0 or not sizes:
        return Fraction(0)
    return _cheapest_cover(need, sizes, tries=iter(range(_MOST_TRIES)))


def _cheapest_cover(need: int, sizes: Sequence[tuple[Fraction, int]], *, tries: Iterator[int]) -> Fraction:
    """Branch on how many of the best-value size; a branch that cannot beat the best by its price a weight is left.

    Out of tries, part of a sheet is let be bought for part of its price: nothing costs less, so what is proven stays true.
    """
    price, weight = sizes[0]
    if next(tries, None) is None:
        return need * Fraction(price) / weight
    best = price * -(-need // weight)
    if len(sizes) == 1:
        return best
    for count in range(-(-need // weight) - 1, -1, -1):
        rest = need - count * weight
        spent = price * count
        if spent + rest * Fraction(sizes[1][0]) / sizes[1][1] >= best:
            break
        best = min(best, spent + _cheapest_cover(rest, sizes[1:], tries=tries))
    return best
