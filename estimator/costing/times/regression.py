"""Rows of shares and a ratio in, the factor of each column out: least squares, and how far each factor may be doubted.

A row says: of the minutes that were reckoned with, these shares were for these steps, and in truth it took so many times the
whole. What is sought is each step's own factor. Because every row is taken relative to what was reckoned, a long day and a short
one count alike, and a row's doubt grows with its size, as a workshop's does.
"""

from __future__ import annotations

from collections.abc import Sequence

from estimator.model.dataclass import dataclass
from estimator.model.exact import Fraction

LEVEL = Fraction(9, 10)
"""How often the interval holds the truth, over many fits."""
_SHORT, _FINEST = 10**9, 10**18
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


@dataclass(slots=True)
class Sums:
    """Sums of products over the rows: what a fit is made from, and what a row can be taken out of again."""

    squares: list[list[Fraction]]
    """Of the shares, each column by each."""
    products: list[Fraction]
    """Of the shares and the ratio."""
    whole: Fraction
    """Of the ratio by itself."""

    @classmethod
    def over(cls, rows: Sequence[Row], weights: Sequence[int]) -> Sums:
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
    sums = Sums.over(rows, weights or [1] * len(rows))
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


def left_over(row: Row, factors: Sequence[Fraction]) -> Fraction:
    """How far a row's ratio lies above what the factors make of its shares."""
    return row.ratio - sum((share * factor for share, factor in zip(row.shares, factors, strict=True) if share), start=NONE)


def solved(squares: Sequence[Sequence[Fraction]], wanted: Sequence[Sequence[Fraction]]) -> list[list[Fraction]] | None:
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


def shortened(row: Row) -> Row:
    """The row at nine decimals, so that sums over hundreds of rows stay short; what is told apart must be told before."""
    return Row(tuple(at_parts(share, parts=_SHORT) for share in row.shares), at_parts(row.ratio, parts=_SHORT))


def at_parts(value: Fraction, *, parts: int) -> Fraction:
    """A value in whole parts of one, what is beyond them cut off."""
    return Fraction(int(value * parts), parts) if value else NONE


def _fine(value: Fraction) -> Fraction:
    """At eighteen decimals: a sum over thousands of rows, each with a denominator of its own, would grow without end."""
    return at_parts(value, parts=_FINEST)


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
            off = left_over(row, fit.factors) / (1 - reach)
            moved = [so_far + _fine(one * off) ** 2 for so_far, one in zip(moved, pull, strict=True)]
    return tuple(moved)
