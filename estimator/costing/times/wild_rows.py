"""Rows of shares and a ratio in, the fit of the sound ones out: rows that lie wildly off are named and left aside.

A few wild rows pull a line of least squares towards themselves, so that they look sound and others wild.
"""

from __future__ import annotations

from collections.abc import Sequence

from estimator.costing.times.regression import LeastSquares, Row, Sums, at_parts, least_squares, left_over, solved
from estimator.costing.times.student import standard_errors_for
from estimator.model.dataclass import dataclass
from estimator.model.exact import Fraction

WILD_SHARE = Fraction(1, 100)
"""How often a set of sound rows may have one called wild by chance."""
NEVER_WILD = Fraction(1, 4)
"""A row that lies no farther than this from its fit is never called wild, however well the others agree."""
_ROUNDS = 40
_FINE = 10**6
_LEAST_OFF = Fraction(1, 10**4)
_BEYOND_ALL = 10**18
"""Standard errors, squared, of a row that is grossly off where the others agree wholly."""
NONE = Fraction(0)


@dataclass(frozen=True, slots=True)
class Fit:
    """The fit of the rows that were kept, and which were not."""

    squares: LeastSquares
    wild: tuple[int, ...]
    """Numbers of the rows left aside, the wildest first."""


def robust_fit(rows: Sequence[Row], *, wild_share: Fraction = WILD_SHARE) -> Fit | None:
    """Least squares of the rows without the wild ones; None when the rows cannot tell the columns apart, or are too few.

    Rows are put in the order of how far they lie from the line of least absolute differences, on which a few wild rows have no
    pull. From the farthest inward each is held against the rows nearer than it: it is wild when it lies farther from their fit
    than the t distribution allows for the farthest of so many. All rows from the farthest to the last wild one are left aside
    (so two wild rows cannot hide each other); what is asked of a row is what the generalised extreme studentised deviate test asks.

    Source: extreme-deviate.
    """
    whole = least_squares(rows)
    if whole is None or whole.freedom < 2:
        return None
    order = _farthest_first(rows)
    most = min(len(order), len(rows) // 3, whole.freedom - 2)
    last = _last_wild(rows, order[:most], freedom=whole.freedom, wild_share=wild_share)
    if not last:
        return Fit(whole, ())
    aside = set(order[:last])
    kept = least_squares([row for i, row in enumerate(rows) if i not in aside])
    return Fit(kept, tuple(order[:last])) if kept else None


def _last_wild(rows: Sequence[Row], order: Sequence[int], *, freedom: int, wild_share: Fraction) -> int:
    """How many of the farthest rows come up to the last wild one; none where none is wild.

    Each row is taken out of the sums, and the fit of the rest is asked for no more than how far that row lies from it.
    """
    if not order:
        return 0
    sums = Sums.over(rows, [1] * len(rows))
    # of all the limits below this is the lowest: the widest freedom, and a row among the fewest
    lowest = standard_errors_for(1 - wild_share / (len(rows) - len(order) + 1), freedom=freedom - 1)
    last = 0
    for many, at in enumerate(order, 1):
        sums.add(rows[at], -1)
        errors_squared = _errors_squared(rows[at], sums, freedom=freedom - many)
        if errors_squared is None:
            break
        among = len(rows) - many + 1
        if errors_squared > lowest**2 and errors_squared > standard_errors_for(1 - wild_share / among, freedom=freedom - many) ** 2:
            last = many
    return last


def _errors_squared(row: Row, rest: Sums, *, freedom: int) -> Fraction | None:
    """How many standard errors a row lies from the fit of the others, squared; 0 where it does not lie grossly off.

        (left over)^2 / (variance x (1 + shares x inverse x shares))

    None where the others cannot tell the columns apart.
    """
    found = solved(rest.squares, (rest.products, row.shares))
    if found is None:
        return None
    factors, pull = found
    off = left_over(row, factors)
    if abs(off) <= NEVER_WILD * abs(row.ratio - off):
        return NONE
    reach = 1 + sum((share * one for share, one in zip(row.shares, pull, strict=True) if share), start=NONE)
    spread = rest.left(factors) / freedom * reach
    return off**2 / spread if spread else Fraction(_BEYOND_ALL)


def _farthest_first(rows: Sequence[Row]) -> list[int]:
    """Numbers of the rows that lie far off at all, farthest from the line of least absolute differences first.

    Least squares over and over, each row weighed by one over how far it lay off, comes to that line. Only an order is asked for,
    so millionths will do.
    """
    rough = [Row(tuple(_millionths(share) for share in row.shares), _millionths(row.ratio)) for row in rows]
    factors: list[Fraction] = []
    weights = [1] * len(rows)
    off = [NONE] * len(rows)
    for _ in range(_ROUNDS):
        sums = Sums.over(rough, weights)
        line = solved(sums.squares, (sums.products,))
        if line is None:
            return []  # at millionths the columns are one, though not at the decimals that came in: no row is farther off than another
        factors = [_millionths(factor) for factor in line[0]]
        off = [abs(left_over(row, factors)) for row in rough]
        weighed = [int(1 / max(one, _LEAST_OFF)) + 1 for one in off]
        if weighed == weights:
            break
        weights = weighed
    far = [i for i, row in enumerate(rough) if 2 * off[i] > NEVER_WILD * abs(row.ratio - left_over(row, factors))]
    return sorted(far, key=lambda i: (-off[i], i))


def _millionths(value: Fraction) -> Fraction:
    return at_parts(value, parts=_FINE)
