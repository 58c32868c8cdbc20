"""Student's t distribution: how far a mean of few observations may lie from the truth.

Degrees of freedom are whole here, so the distribution is a finite sum and needs no table.
"""

from decimal import Context, Decimal, localcontext
from functools import cache

from estimator.model.exact import Fraction

_WIDE = Context(prec=36)
_PI = Decimal("3.14159265358979323846264338327950288419716939937510582")
_SMALLEST = Decimal("1e-34")
_HALVINGS = 80


def share_within(count: Fraction, *, freedom: int) -> Fraction:
    """Share of a t distribution that lies less than so many standard errors from its middle, on both sides together.

        with angle = arctan(count / sqrt(freedom)):
        even freedom:  sin x (1 + 1/2 cos^2 + 1x3/(2x4) cos^4 + ... up to cos^(freedom - 2))
        odd freedom:   2/pi x (angle + sin x (cos + 2/3 cos^3 + 2x4/(3x5) cos^5 + ... up to cos^(freedom - 2)))

    By hand: with two degrees of freedom 1 standard error holds 1/sqrt(3), 57.7 %; with one it holds half.

    >>> half, third = share_within(Fraction(1), freedom=1), share_within(Fraction(1), freedom=2)
    >>> abs(half - Fraction(1, 2)) < Fraction(1, 10**20), abs(3 * third**2 - 1) < Fraction(1, 10**20)
    (True, True)

    Holds for: whole degrees of freedom, from 1.
    Error: the series to 1e-30.
    Source: student-t.
    """
    with localcontext(_WIDE):
        return Fraction(_share_within(abs(Decimal(count.numerator) / Decimal(count.denominator)), freedom))


def _share_within(count: Decimal, freedom: int) -> Decimal:
    whole = count * count + freedom
    sine, cosine = count / whole.sqrt(), (freedom / whole).sqrt()
    odd = freedom % 2
    term = total = (cosine if freedom > 1 else Decimal(0)) if odd else Decimal(1)
    for k in range(2 + odd, freedom - 1, 2):
        term = term * cosine * cosine * (k - 1) / k
        total += term
    if not odd:
        return sine * total
    return 2 / _PI * (_arctan(count / Decimal(freedom).sqrt()) + sine * total)


def _arctan(x: Decimal) -> Decimal:
    """The series, after the angle has been halved four times so that it runs quickly."""
    for _ in range(4):
        x = x / (1 + (1 + x * x).sqrt())
    power = total = x
    k = 1
    while abs(power) > _SMALLEST:
        power = -power * x * x
        k += 2
        total += power / k
    return 16 * total


@cache
def standard_errors_for(share: Fraction, *, freedom: int) -> Fraction:
    """How many standard errors on both sides hold a share of the t distribution: the other way round, by halving.

    By hand: with 4 degrees of freedom 90 % lie within 2.132, with 10 within 1.812.

    >>> from estimator.model.units import decimal_text
    >>> [decimal_text(standard_errors_for(Fraction(9, 10), freedom=n), places=3) for n in (1, 4, 10, 120)]
    ['6.314', '2.132', '1.812', '1.658']

    Holds for: shares below 1.
    Error: below 1e-20.
    Source: student-t.
    """
    with localcontext(_WIDE):
        wanted, low, high = Decimal(share.numerator) / Decimal(share.denominator), Decimal(0), Decimal(1)
        while _share_within(high, freedom) < wanted:
            high *= 2
        for _ in range(_HALVINGS):
            middle = (low + high) / 2
            if _share_within(middle, freedom) < wanted:
                low = middle
            else:
                high = middle
        return Fraction(high)
