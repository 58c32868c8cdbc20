"""A formula and its exact answer as one thing: cells and numbers in, the words of a formula and its value out.

Every live cell holds both, so that a program that computes and one that only reads show the same. The two are built by the same
steps, and what a step does to the words it does to the exact fraction; the sheets then check the answer against the Estimate's.

Only functions that spreadsheet programs compute alike are used: SUM, SUMPRODUCT, ROUND, ROUNDUP, INT, IF, MIN, MAX, ABS, INDEX,
MATCH, ISNUMBER, EXACT, SQRT. A number in binary is brought to a few decimals before it is rounded up or to money, because
0.1 + 0.2 is not quite 0.3 there.
"""

from __future__ import annotations

from collections.abc import Sequence

from estimator.model.dataclass import dataclass
from estimator.model.exact import Fraction
from estimator.model.units import decimal_text, half_away
from estimator.model.units import whole_up as _whole_up

NOISE_DECIMALS = 9
"""Decimals that survive binary arithmetic; what lies behind them is noise."""

_SUM, _PRODUCT, _ONE = 1, 2, 3


@dataclass(frozen=True, slots=True)
class Term:
    """The words of a formula, without its =, and what it gives."""

    words: str
    value: Fraction
    binds: int = _ONE
    """How tightly it holds together: a sum needs brackets in a product."""

    def __add__(self, other: Term | int) -> Term:
        other = term(other)
        return Term(f"{self.words}+{other.words}", self.value + other.value, _SUM)

    def __sub__(self, other: Term | int) -> Term:
        other = term(other)
        return Term(f"{self.words}-{_held(other, _PRODUCT)}", self.value - other.value, _SUM)

    def __rsub__(self, other: int) -> Term:
        return term(other) - self

    def __radd__(self, other: int) -> Term:
        return term(other) + self

    def __mul__(self, other: Term | int) -> Term:
        other = term(other)
        return Term(f"{_held(self, _PRODUCT)}*{_held(other, _PRODUCT)}", self.value * other.value, _PRODUCT)

    def __truediv__(self, other: Term | int) -> Term:
        """Division; by 0 the formula shows an error and the value is never asked for, so it must not happen when written."""
        other = term(other)
        return Term(f"{_held(self, _PRODUCT)}/{_held(other, _ONE)}", self.value / other.value, _PRODUCT)


def _held(one: Term, tightly: int) -> str:
    return one.words if one.binds >= tightly else f"({one.words})"


def term(value: Term | Fraction | int) -> Term:
    """A number as a term; fractions must end as decimals.

    >>> (term(2) * (term(3) + 4)).words, (term(2) * (term(3) + 4)).value
    ('2*(3+4)', Fraction(14, 1))
    """
    if isinstance(value, Term):
        return value
    return (
        Term(decimal_text(value, places=15), Fraction(value)) if value >= 0 else Term(f"({decimal_text(value)})", Fraction(value))
    )


def total(terms: Sequence[Term]) -> Term:
    """Terms added one by one; nothing is 0."""
    if not terms:
        return term(0)
    return Term("+".join(one.words for one in terms), sum((one.value for one in terms), start=Fraction(0)), _SUM)


def greater(*terms: Term) -> Term:
    return Term(f"MAX({','.join(one.words for one in terms)})", max(one.value for one in terms))


def smaller(*terms: Term) -> Term:
    return Term(f"MIN({','.join(one.words for one in terms)})", min(one.value for one in terms))


def rounded(one: Term, *, decimals: int) -> Term:
    """To money, half away from zero: first clean of binary noise, so that 2.675 is a half everywhere.

    >>> rounded(Term("A1", Fraction("2.675")), decimals=2)
    Term(words='ROUND(ROUND(A1,8),2)', value=Fraction(67, 25), binds=3)
    """
    parts = 10**decimals
    return Term(f"ROUND(ROUND({one.words},{decimals + 6}),{decimals})", Fraction(half_away(one.value * parts), parts))


def whole_up(one: Term) -> Term:
    """Up to the next whole number, clean of binary noise first.

    >>> whole_up(Term("A1/A2", Fraction(21, 10), 2)).words
    'ROUNDUP(ROUND(A1/A2,9),0)'
    """
    return Term(f"ROUNDUP(ROUND({one.words},{NOISE_DECIMALS}),0)", Fraction(_whole_up(one.value)))


def whole_down(one: Term) -> Term:
    """The whole part of a number that is 0 or more."""
    return Term(f"INT({one.words})", Fraction(-_whole_up(-one.value)))


def choose(asks: str, holds: bool, then: Term, otherwise: Term) -> Term:
    """One of two by a question in the words of a formula, and whether it holds now."""
    return Term(f"IF({asks},{then.words},{otherwise.words})", then.value if holds else otherwise.value)


@dataclass(frozen=True, slots=True)
class Span:
    """A row or column of cells that lie side by side, and what they hold."""

    words: str
    values: tuple[Fraction, ...]

    def sum(self) -> Term:
        return Term(f"SUM({self.words})", sum(self.values, start=Fraction(0)))


def products(one: Span, other: Span) -> Term:
    """Sum of the products of two spans of one shape.

    >>> products(Span("A1:A2", (Fraction(2), Fraction(3))), Span("B1:B2", (Fraction(5), Fraction(7)))).value
    Fraction(31, 1)
    """
    value = sum((a * b for a, b in zip(one.values, other.values, strict=True)), start=Fraction(0))
    return Term(f"SUMPRODUCT({one.words},{other.words})", value)
