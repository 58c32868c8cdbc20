"""Rows of shares and a ratio in, the factor of each column out: least squares with wild rows named and left aside, and an interval.

A row says: of the minutes that were reckoned with, these shares were for these steps, and in truth it took so many times the
whole. What is sought is each step's own factor. Because every row is taken relative to what was reckoned, a long day and a short
one count alike, and a row's doubt grows with its size, as a workshop's does.
"""

from __future__ import annotations

from collections.abc import Sequence

from estimator.costing.times.student import standard_errors_for
from estimator.model.dataclass import dataclass
from estimator.model.exact import Fraction

LEVEL = Fraction(9, 10)
"""How often the interval holds the truth, over many fits."""
WILD_SHARE = Fraction(1, 100)
"""How often a set of sound rows may have one called wild by chance."""
NEVER_WILD = Fraction(1, 4)
"""A row that lies no farther than this from its fit is never called wild, however well the others agree."""
_ROUNDS = 40
_FINE, _SHORT, _FINEST = 10**6, 10**9, 10**18
_LEAST_OFF = Fraction(1, 10**4)
NONE = Fraction(0)


@dataclass(frozen=True, slots=True)
class Row:
    """One row of the time log as shares of what was reckoned, and real over reckoned."""

    shares: tuple[Fraction, ...]
    ratio: Fraction


@dataclass(frozen=True, slots=True)
class LeastSquares:
    """Factors, and the inverse of the sums of products from which their doubt is reckoned."""

    factors: tuple[Fraction, ...]
    inverse: tuple[tuple[Fraction, ...], ...]
    square_sum: Fraction
    """Of what is left over, row by row."""
    freedom: int
    """Rows less columns."""

    @property
    def variance(self) -> Fraction:
        """Of one row about its fit."""
        return self.square_sum / self.freedom


@dataclass(frozen=True, slots=True)
class Fit:
    """The fit of the rows that were kept, and which were not."""

    squares: LeastSquares
    wild: tuple[int, ...]
    """Numbers of the rows left aside, the wildest first."""


@dataclass(slots=True)
class _Sums:
    """Sums of products over the rows: what a fit is made from, and what a row can be taken out of again."""

    squares: list[list[Fraction]]
    """Of the shares, each column by each."""
    products: list[Fraction]
    """Of the shares and the ratio."""
    whole: Fraction
    """Of the ratio by itself."""

    @classmethod
    def over(cls, rows: Sequence[Row], weights: Sequence[int]) -> _Sums:
        many = len(rows[0].shares)
        sums = cls([[NONE] * many for _ in range(many)], [NONE] * many, NONE)
        for row, weight in zip(rows, weights, strict=True):
            sums.add(row, weight)
        return sums

    def add(self, row: Row, weight: int) -> None:
        """A row more, or with a weight of -1 a row less."""
        filled = [(j, share) for j, share in enumerate(row.shares) if share]
        for j, share in filled:
            line, pull = self.squares[j], weight * share
            for k, other in filled:
                line[k] += pull * other
            self.products[j] += pull * row.ratio
        self.whole += weight * row.ratio**2

    def left(self, factors: Sequence[Fraction]) -> Fraction:
        """What these factors leave over, squared and added up."""
        return self.whole - sum((factor * product for factor, product in zip(factors, self.products, strict=True)), start=NONE)


def least_squares(rows: Sequence[Row], weights: Sequence[int] | None = None) -> LeastSquares | None:
    """The factors for which the squares of what is left over add up to the least; None when the rows cannot tell them.

        for each column j:  sum of share_j x (ratio - sum of share_k x factor_k)  =  0
        what is left over, squared  =  sum of ratio^2 - sum of factor_j x (sum of share_j x ratio)

    By hand: one column of whole shares and ratios 1, 2 and 3: the factor is their mean, 2, and 1 + 0 + 1 is left over.

    >>> fit = least_squares([Row((Fraction(1),), Fraction(n)) for n in (1, 2, 3)])
    >>> fit.factors, fit.square_sum, fit.freedom
    ((Fraction(2, 1),), Fraction(2, 1), 2)

    Holds for: rows that tell the columns apart.
    Error: none; exact fractions.
    Source: least-squares.
    """
    many = len(rows[0].shares)
    sums = _Sums.over(rows, weights or [1] * len(rows))
    table = [[*line, *(Fraction(int(j == k)) for k in range(many)), sums.products[j]] for j, line in enumerate(sums.squares)]
    if not _cleared(table, many):
        return None
    factors = tuple(line[-1] for line in table)
    return LeastSquares(factors, tuple(tuple(line[many : 2 * many]) for line in table), sums.left(factors), len(rows) - many)


def _cleared(table: list[list[Fraction]], many: int) -> bool:
    """Clear the first columns to the unit table, in place; False when the columns cannot be told apart."""
    for j in range(many):
        pivot = next((i for i in range(j, many) if table[i][j]), None)
        if pivot is None:
            return False
        table[j], table[pivot] = table[pivot], table[j]
        head = table[j][j]
        table[j] = [value / head for value in table[j]]
        for i in range(many):
            if i != j and table[i][j]:
                times = table[i][j]
                table[i] = [value - times * own for value, own in zip(table[i], table[j], strict=True)]
    return True


def _left(row: Row, factors: Sequence[Fraction]) -> Fraction:
    return row.ratio - sum((share * factor for share, factor in zip(row.shares, factors, strict=True) if share), start=NONE)


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
    sums = _Sums.over(rows, [1] * len(rows))
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


def _errors_squared(row: Row, rest: _Sums, *, freedom: int) -> Fraction | None:
    """How many standard errors a row lies from the fit of the others, squared; 0 where it does not lie grossly off.

        (left over)^2 / (variance x (1 + shares x inverse x shares))

    None where the others cannot tell the columns apart.
    """
    solved = _solved(rest.squares, (rest.products, row.shares))
    if solved is None:
        return None
    factors, pull = solved
    off = _left(row, factors)
    if abs(off) <= NEVER_WILD * abs(row.ratio - off):
        return NONE
    reach = 1 + sum((share * one for share, one in zip(row.shares, pull, strict=True) if share), start=NONE)
    spread = rest.left(factors) / freedom * reach
    return off**2 / spread if spread else off**2 * _SHORT**2  # the others agree wholly: any row that is grossly off is wild


def _solved(squares: Sequence[Sequence[Fraction]], wanted: Sequence[Sequence[Fraction]]) -> list[list[Fraction]] | None:
    """For each wanted column the factors that the squares turn into it; None when the columns cannot be told apart."""
    many = len(squares)
    table = [[*line, *(column[j] for column in wanted)] for j, line in enumerate(squares)]
    for j in range(many):
        pivot = next((i for i in range(j, many) if table[i][j]), None)
        if pivot is None:
            return None
        table[j], table[pivot] = table[pivot], table[j]
        head = table[j]
        for line in table[j + 1 :]:
            if line[j]:
                times = line[j] / head[j]
                line[j:] = [value - times * own for value, own in zip(line[j:], head[j:], strict=True)]
    found = [[NONE] * many for _ in wanted]
    for j in reversed(range(many)):
        line = table[j]
        for factors, value in zip(found, line[many:], strict=True):
            behind = sum((line[k] * factors[k] for k in range(j + 1, many) if line[k]), start=NONE)
            factors[j] = (value - behind) / line[j]
    return found


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
        sums = _Sums.over(rough, weights)
        line = _solved(sums.squares, (sums.products,))
        if line is None:
            return []  # at millionths the columns are one, though not at the decimals that came in: no row is farther off than another
        factors = [_millionths(factor) for factor in line[0]]
        off = [abs(_left(row, factors)) for row in rough]
        weighed = [int(1 / max(one, _LEAST_OFF)) + 1 for one in off]
        if weighed == weights:
            break
        weights = weighed
    far = [i for i, row in enumerate(rough) if 2 * off[i] > NEVER_WILD * abs(row.ratio - _left(row, factors))]
    return sorted(far, key=lambda i: (-off[i], i))


def shortened(row: Row) -> Row:
    """The row at nine decimals, so that sums over hundreds of rows stay short; what is told apart must be told before."""
    return Row(tuple(_at(share, _SHORT) for share in row.shares), _at(row.ratio, _SHORT))


def _at(value: Fraction, parts: int) -> Fraction:
    return Fraction(int(value * parts), parts) if value else NONE


def _fine(value: Fraction) -> Fraction:
    """At eighteen decimals: a sum over thousands of rows, each with a denominator of its own, would grow without end."""
    return _at(value, _FINEST)


def _millionths(value: Fraction) -> Fraction:
    return _at(value, _FINE)


def doubts(rows: Sequence[Row], fit: LeastSquares) -> tuple[Fraction, ...]:
    """Variance of each factor, from how far it would move if each row in turn were not there.

        reach of a row  =  shares x inverse x shares
        variance of factor k  =  sum over the rows of ((inverse x shares)_k x left over / (1 - reach))^2

    By hand: whole shares and ratios 1, 2 and 3: each row reaches 1/3 and moves the mean by a third of what is left over, so
    ((1/3 x 1 / (2/3))^2) x 2 = 1/2.

    >>> rows = [Row((Fraction(1),), Fraction(n)) for n in (1, 2, 3)]
    >>> doubts(rows, least_squares(rows))
    (Fraction(1, 2),)

    Holds for: rows whose doubt is not alike too, where the common formula promises too much.
    Error: a little on the wide side with few rows; each step to eighteen decimals.
    Source: heteroscedastic.
    """
    moved = [NONE] * len(fit.factors)
    for row in rows:
        pull = [sum((a * b for a, b in zip(line, row.shares, strict=True) if b), start=NONE) for line in fit.inverse]
        reach = sum((a * b for a, b in zip(pull, row.shares, strict=True) if b), start=NONE)
        if reach < 1:
            off = _left(row, fit.factors) / (1 - reach)
            moved = [so_far + _fine(one * off) ** 2 for so_far, one in zip(moved, pull, strict=True)]
    return tuple(moved)
