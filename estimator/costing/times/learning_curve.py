"""A run of identical cabinets: how much quicker the later ones go. Two models that share a percentage and nothing else.

At 80 % each doubling of the run takes 80 %: in the unit model of the unit's own time, in the cumulative average model of the average
of all so far. For the same percentage the second promises far more, so the shop says which one its percentage was measured by.
"""

from __future__ import annotations

from decimal import Context, Decimal, localcontext
from functools import cache
from typing import Literal

from estimator.model.exact import Fraction

LearningModel = Literal["unit", "cumulative average"]
_WIDE = Context(prec=30)
_TWO = Decimal(2)


@cache
def power_of_run(number: int, *, learning_share: Fraction) -> Fraction:
    """Share that is left after a run of so many: number ^ (ln share / ln 2).

    By hand: at 80 % the second takes 0.8, the fourth 0.8 x 0.8 = 0.64.

    >>> from estimator.model.units import decimal_text
    >>> [decimal_text(power_of_run(n, learning_share=Fraction(8, 10)), places=4) for n in (1, 2, 4, 10)]
    ['1', '0.8', '0.64', '0.4765']

    Holds for: shares above 0, up to 1.
    Error: below 1e-25.
    Source: learning-coefficients.
    """
    with localcontext(_WIDE):
        share = Decimal(learning_share.numerator) / Decimal(learning_share.denominator)
        return Fraction((share.ln() / _TWO.ln() * Decimal(number).ln()).exp())


def unit_share(number: int, *, model: LearningModel, learning_share: Fraction, floor_share: Fraction = Fraction(0)) -> Fraction:
    """Time of one unit of the run, as a share of the first; never below the floor.

        unit model:                number ^ b
        cumulative average model:  number x number ^ b  -  (number - 1) x (number - 1) ^ b,     b = ln share / ln 2

    By hand, at 80 %: the second unit takes 0.8 by the unit model; by the other the first two average 0.8, so it takes 0.6.

    >>> from estimator.model.units import decimal_text
    >>> share = Fraction(8, 10)
    >>> [decimal_text(unit_share(2, model=m, learning_share=share), places=4) for m in ("unit", "cumulative average")]
    ['0.8', '0.6']

    Holds for: the same work by the same people without a long break.
    Error: the model's; it is a what-if, and no price rests on it.
    Source: learning-coefficients.
    """
    own = power_of_run(number, learning_share=learning_share)
    if model == "cumulative average" and number > 1:
        own = number * own - (number - 1) * power_of_run(number - 1, learning_share=learning_share)
    return max(own, floor_share)


def run_share(count: int, *, model: LearningModel, learning_share: Fraction, floor_share: Fraction = Fraction(0)) -> Fraction:
    """Time of a whole run, as a multiple of the first unit's.

        run  =  sum of the units from 1 to count

    By hand, at 80 % by the unit model: 1 + 0.8 = 1.8 for two; by the cumulative average model 2 x 0.8 = 1.6.

    >>> from estimator.model.units import decimal_text
    >>> share = Fraction(8, 10)
    >>> [decimal_text(run_share(2, model=m, learning_share=share), places=4) for m in ("unit", "cumulative average")]
    ['1.8', '1.6']

    Holds for: as for one unit.
    Source: learning-coefficients.
    """
    units = (unit_share(n, model=model, learning_share=learning_share, floor_share=floor_share) for n in range(1, count + 1))
    return sum(units, start=Fraction(0))
