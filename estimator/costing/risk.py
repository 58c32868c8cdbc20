"""How sure the minutes are: each step's low, likely and high in, the mean and the 80 % figure of the job out (A35)."""

from collections.abc import Sequence
from decimal import Context, Decimal
from fractions import Fraction

from estimator.model.results import Minutes, RiskAnswer, StepMinutes

P80_DEVIATIONS = Fraction("0.84162123357291441")
"""How many standard deviations above the mean 80 % of a normal distribution lie."""

_WIDE = Context(prec=40)


def three_point_mean(*, low: Fraction, likely: Fraction, high: Fraction) -> Fraction:
    """Expected value of a three-point estimate.

        mean  =  (low + 4 x likely + high) / 6

    By hand: 3, 4 and 5 give 4; 5, 11 and 29 give 13.

    >>> three_point_mean(low=Fraction(5), likely=Fraction(11), high=Fraction(29))
    Fraction(13, 1)

    Holds for: low not above likely, likely not above high.
    Error: the guesses' own.
    Source: three-point.
    """
    return (low + 4 * likely + high) / 6


def three_point_variance(*, low: Fraction, high: Fraction) -> Fraction:
    """Variance of a three-point estimate: ((high - low) / 6) squared.

    By hand: 5 and 29 give 4 squared, 16.

    >>> three_point_variance(low=Fraction(5), high=Fraction(29))
    Fraction(16, 1)

    Source: three-point.
    """
    return ((high - low) / 6) ** 2


def square_root(value: Fraction) -> Fraction:
    """The square root to 40 digits, as a fraction."""
    number = _WIDE.divide(Decimal(value.numerator), Decimal(value.denominator))
    return Fraction(_WIDE.sqrt(number))


def risk_of(minutes: Minutes) -> RiskAnswer:
    """Minutes of the job as a sum of three-point estimates: independent of one another, and all together.

    P80 is mean + 0.8416 standard deviations. Independent steps even one another out; in a shop a bad day is bad for all of
    them, so the second line adds the deviations up.
    """
    points = [_points(step) for step in minutes.steps]
    mean = sum((three_point_mean(low=low, likely=likely, high=high) for low, likely, high in points), start=minutes.extras)
    variances = [three_point_variance(low=low, high=high) for low, _, high in points]
    apart = square_root(sum(variances, start=Fraction(0)))
    together = sum(((high - low) / 6 for low, _, high in points), start=Fraction(0))
    untimed = sum((step.minutes for step in minutes.steps if not step.step.timed), start=Fraction(0))
    return RiskAnswer(
        mean_min=mean,
        sd_min=apart,
        p80_min=mean + P80_DEVIATIONS * apart,
        sd_together_min=together,
        p80_together_min=mean + P80_DEVIATIONS * together,
        untimed_minutes_share=untimed / minutes.total if minutes.total else Fraction(0),
    )


def _points(worked: StepMinutes) -> tuple[Fraction, Fraction, Fraction]:
    """Low, likely and high minutes of a step in this job; a blank low or high is the likely."""
    step: Sequence[Fraction | None] = (worked.step.low_min, worked.step.minutes, worked.step.high_min)
    factor = worked.minutes / worked.step.minutes if worked.step.minutes else Fraction(0)
    low, likely, high = (worked.step.minutes if one is None else one for one in step)
    return low * factor, likely * factor, high * factor
