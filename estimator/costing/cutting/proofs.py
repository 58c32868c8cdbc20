"""Better proofs of how few sheets are possible: the kinds and one sheet size in, a proven count out.

A dual feasible function gives each extent a weight so that whatever fits side by side in the sheet never weighs more than the
sheet. With one such function along the length and one across, no sheet holds parts of more weight than its own, whatever the
cuts; so the parts' weight over the sheet's is a bound, and the best over many pairs of functions is taken.

Source of the functions: Fekete and Schepers, New classes of fast lower bounds for bin packing problems, Mathematical
Programming 91 (2001); Carlier, Clautiaux and Moukrim, New reduction procedures and lower bounds for the two-dimensional bin
packing problem with fixed orientation, Computers and Operations Research 34 (2007). Formulas from memory; the tests prove
each function on its own.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from math import isqrt
from operator import mul

from estimator.costing.cutting.kerf import Kind

Weights = tuple[dict[int, int], int]
"""The weight of each extent, and the weight of the whole sheet's."""

_PRODUCTS = 200_000
"""Products of two weights that one proof may take; a job of many kinds tries fewer functions."""


def proven_sheets(*, kinds: Sequence[Kind], length: int, width: int) -> int:
    """Sheets that no plan can do without, by the best pair of weights."""
    fitting = [(_fitting(kind, length, width), kind.count) for kind in kinds]
    most = max(8, isqrt(_PRODUCTS // max(1, len(kinds))))
    long, wide = ({lie[side] for lies, _ in fitting for lie in lies} for side in (0, 1))
    along, across = weightings(whole=length, extents=long, most=most), weightings(whole=width, extents=wide, most=most)
    one_way = [(lies[0], count) for lies, count in fitting if len(lies) == 1]
    two_ways = [(lies, count) for lies, count in fitting if len(lies) == 2]
    square = length == width and all(b in wide and a in long for (b, a), _ in one_way)
    by_along = [_along_rows(weights, one_way, two_ways) for weights in along]
    by_across = [_across_rows(weights, one_way, two_ways) for weights in across]
    best = 0
    for (weigh, whole), (single, first, second) in zip(along, by_along, strict=True):
        for (weigh_across, whole_across), (beside, beside_first, beside_second) in zip(across, by_across, strict=True):
            weight = sum(map(mul, single, beside))
            one, other = list(map(mul, first, beside_first)), list(map(mul, second, beside_second))
            best = max(best, -(-(weight + sum(map(min, one, other))) // (whole * whole_across)))
            if square and two_ways:
                # A plan and the same plan turned by 90 degrees hold every part both ways on twice the sheets.
                turned = sum(count * weigh[b] * weigh_across[a] for (a, b), count in one_way)
                best = max(best, -(-(weight + turned + sum(one) + sum(other)) // (2 * whole * whole_across)))
    return best


OneWay = Sequence[tuple[tuple[int, int], int]]
TwoWays = Sequence[tuple[tuple[tuple[int, int], ...], int]]


def _along_rows(weights: Weights, one_way: OneWay, two_ways: TwoWays) -> tuple[list[int], list[int], list[int]]:
    """Weights along, times the count: of parts with one lie, and of both lies of the others."""
    weigh, _ = weights
    single = [count * weigh[a] for (a, _), count in one_way]
    first, second = ([count * weigh[lies[lie][0]] for lies, count in two_ways] for lie in (0, 1))
    return single, first, second


def _across_rows(weights: Weights, one_way: OneWay, two_ways: TwoWays) -> tuple[list[int], list[int], list[int]]:
    weigh, _ = weights
    first, second = ([weigh[lies[lie][1]] for lies, _ in two_ways] for lie in (0, 1))
    return [weigh[b] for (_, b), _ in one_way], first, second


def _fitting(kind: Kind, length: int, width: int) -> tuple[tuple[int, int], ...]:
    return tuple((a, b) for a, b in kind.lies if a <= length and b <= width)


def weightings(*, whole: int, extents: set[int], most: int) -> list[Weights]:
    """Dual feasible functions worth trying on these extents; the plain one, which weighs by size, first."""
    functions: list[Weights] = [({extent: extent for extent in extents}, whole)]
    seen = {tuple(functions[0][0].items())}
    each = max(1, (most - 6) // 2)
    for made in [*_all_rounded(whole), *_all_steps(whole, extents, each), *_all_folded(whole, extents, each)]:
        weights = {extent: made[0](extent) for extent in extents}
        key = tuple(weights.items())
        if key not in seen:
            seen.add(key)
            functions.append((weights, made[1]))
    return functions


Made = tuple[Callable[[int], int], int]


def _spread(values: Sequence[int], most: int) -> list[int]:
    """At most so many of the values, evenly taken, so that the work stays small."""
    if len(values) <= most:
        return list(values)
    return sorted({values[place * (len(values) - 1) // max(1, most - 1)] for place in range(most)})


def _all_steps(whole: int, extents: set[int], most: int) -> list[Made]:
    """Extents under a step weigh nothing, and those that leave less than the step weigh as the whole."""
    steps = {*extents, *(whole - extent + 1 for extent in extents if extent < whole)}
    return [_step(whole, step) for step in _spread(sorted(step for step in steps if 2 * step <= whole), most)]


def _step(whole: int, step: int) -> Made:
    def weigh(extent: int) -> int:
        if extent > whole - step:
            return whole
        return extent if extent >= step else 0

    return weigh, whole


def _all_rounded(whole: int) -> list[Made]:
    return [_rounded(whole, pieces) for pieces in range(1, 6)]


def _rounded(whole: int, pieces: int) -> Made:
    """Extents over a part of the whole weigh a full part of one fewer."""

    def weigh(extent: int) -> int:
        times, rest = divmod((pieces + 1) * extent, whole)
        return times * whole if rest else pieces * extent

    return weigh, pieces * whole


def _all_folded(whole: int, extents: set[int], most: int) -> list[Made]:
    steps = sorted(extent for extent in extents if 2 * extent <= whole)
    return [_folded(whole, step) for step in _spread(steps, most)]


def _folded(whole: int, step: int) -> Made:
    """Counted in whole steps; over half the whole, what the extent leaves is counted instead."""

    def weigh(extent: int) -> int:
        if 2 * extent > whole:
            return 2 * (whole // step - (whole - extent) // step)
        return whole // step if 2 * extent == whole else 2 * (extent // step)

    return weigh, 2 * (whole // step)
