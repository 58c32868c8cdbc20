"""How sure the minutes and the cost are: low, likely and high in, mean, P80, P90 and the chance of no margin out (A35).

Deterministic: sums of three-point estimates, once as if they were independent and once as if all went wrong together.
"""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from decimal import Context, Decimal

from estimator.model.decision import StepRisk
from estimator.model.exact import Fraction
from estimator.model.records import Job
from estimator.model.results import Estimate, Minutes, RiskAnswer, StepMinutes

P80_DEVIATIONS = Fraction("0.84162123357291441")
"""How many standard deviations above the mean 80 % of a normal distribution lie."""

P90_DEVIATIONS = Fraction("1.2815515655446004")

_WIDE = Context(prec=40)
_SURE_DEVIATIONS = 9
"""Beyond so many standard deviations a chance differs from 0 or 1 by less than 1e-18."""


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


def share_below(count: Fraction) -> Fraction:
    """Share of a normal distribution that lies below so many standard deviations from its mean.

        share  =  1/2 + (z - z^3/6 + z^5/40 - ...) / sqrt(2 pi)

    By hand: half lies below the mean; 0.8413 below one deviation above it.

    >>> share_below(Fraction(0)), abs(share_below(Fraction(1)) - Fraction("0.841344746")) < Fraction(1, 10**9)
    (Fraction(1, 2), True)

    Holds for: a sum of many small doubts, which is close to normal.
    Error: the series to 1e-30; the sum of few steps is less normal than this.
    Source: three-point.
    """
    if abs(count) > _SURE_DEVIATIONS:
        return Fraction(1 if count > 0 else 0)
    wide = Context(prec=60)
    z = wide.divide(Decimal(count.numerator), Decimal(count.denominator))
    minus_half_square = wide.divide(wide.multiply(z, z), Decimal(-2))
    power, total, k = z, z, 0
    while abs(power) > Decimal("1e-45"):
        k += 1
        power = wide.divide(wide.multiply(power, minus_half_square), Decimal(k))
        total = wide.add(total, wide.divide(power, Decimal(2 * k + 1)))
    two_pi = Decimal("6.283185307179586476925286766559005768394338798750211641949889")
    return Fraction(1, 2) + Fraction(wide.divide(total, wide.sqrt(two_pi)))


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
        p90_min=mean + P90_DEVIATIONS * apart,
        p90_together_min=mean + P90_DEVIATIONS * together,
    )


def _points(worked: StepMinutes) -> tuple[Fraction, Fraction, Fraction]:
    """Low, likely and high minutes of a step in this job; a blank low or high is the likely."""
    step: Sequence[Fraction | None] = (worked.step.low_min, worked.step.minutes, worked.step.high_min)
    factor = worked.minutes / worked.step.minutes if worked.step.minutes else Fraction(0)
    low, likely, high = (worked.step.minutes if one is None else one for one in step)
    return low * factor, likely * factor, high * factor


# --- in money ---------------------------------------------------------------------------------------------------------

Points = tuple[str, Fraction, Fraction, Fraction]
"""What it is; low, likely and high money."""


def with_cost(risk: RiskAnswer, estimate: Estimate) -> RiskAnswer:
    """The risk of the minutes, and of the whole cost on the chosen plan: what carries it and whether the margin is eaten."""
    rate = (estimate.rates.direct + estimate.rates.overhead) / 60
    points: list[Points] = []
    for step in estimate.minutes.steps:
        low, likely, high = _points(step)
        points.append((step.step.step, low * rate, likely * rate, high * rate))
    points += _prices(estimate.job, estimate)
    means = [three_point_mean(low=low, likely=likely, high=high) for _, low, likely, high in points]
    cost = estimate.cost.total + sum((mean - one[2] for mean, one in zip(means, points, strict=True)), start=Fraction(0))
    variances = [three_point_variance(low=low, high=high) for _, low, _, high in points]
    apart = square_root(sum(variances, start=Fraction(0)))
    together = sum(((high - low) / 6 for _, low, _, high in points), start=Fraction(0))
    earned = estimate.price.net - estimate.price.delivery - _own_prices(estimate)
    p80_together = cost + P80_DEVIATIONS * together
    return replace(
        risk,
        cost=cost,
        cost_sd=apart,
        cost_p80=cost + P80_DEVIATIONS * apart,
        cost_p90=cost + P90_DEVIATIONS * apart,
        cost_sd_together=together,
        cost_p80_together=p80_together,
        cost_p90_together=cost + P90_DEVIATIONS * together,
        margin_eaten_share=_chance_above(earned, mean=cost, sd=apart),
        margin_eaten_together_share=_chance_above(earned, mean=cost, sd=together),
        contingency_share=max(Fraction(0), p80_together / estimate.cost.total - 1) if estimate.cost.total else Fraction(0),
        doubts=_doubts(points, means, variances),
    )


def _chance_above(limit: Fraction, *, mean: Fraction, sd: Fraction) -> Fraction:
    if not sd:
        return Fraction(int(mean > limit))
    return 1 - share_below((limit - mean) / sd)


def _doubts(points: Sequence[Points], means: Sequence[Fraction], variances: Sequence[Fraction]) -> tuple[StepRisk, ...]:
    whole = sum(variances, start=Fraction(0))
    doubts = [
        StepRisk(one[0], mean, (one[3] - one[1]) / 6, variance / whole)
        for one, mean, variance in zip(points, means, variances, strict=True)
        if variance
    ]
    return tuple(sorted(doubts, key=lambda doubt: -doubt.variance_share))


def _own_prices(estimate: Estimate) -> Fraction:
    """Lines at a price of their own: they stand outside the cost, so they do not pay for it."""
    return sum((line.net for line in estimate.price.lines if line.prime == 0), start=Fraction(0))


def _prices(job: Job, estimate: Estimate) -> Iterator[Points]:
    """Bought things whose price the shop gave a low or a high, in money of this job."""
    for use in estimate.boards:
        for row in (one.board for one in use.by_size[:1]):
            yield from _priced(row.board, use.cost, row.low_price, row.price, row.high_price)
    for edging in estimate.banding.bought:
        for width in edging.widths:
            strip = width.edging
            yield from _priced(strip.edging, width.cost, strip.low_price_per_m, strip.price_per_m, strip.high_price_per_m)
    for glue in estimate.banding.adhesives:
        tin = glue.adhesive
        yield from _priced(tin.adhesive, glue.cost, tin.low_price, tin.price, tin.high_price)
    for fitting in estimate.fittings:
        one = fitting.fitting
        yield from _priced(one.item, fitting.cost, one.low_price, one.price, one.high_price)
    offers = {row.edging: row for row in reversed(job.contract_prices)}
    for line in estimate.banding.invoice.lines if estimate.banding.invoice else ():
        offer = offers[line.edging]
        what = f"contract price of {line.edging}"
        yield from _priced(what, line.amount, offer.low_price_per_m, offer.price_per_m, offer.high_price_per_m)


def _priced(what: str, cost: Fraction, low: Fraction | None, price: Fraction, high: Fraction | None) -> Iterator[Points]:
    if price and (low is not None or high is not None):
        share = cost / price
        yield (what, share * (price if low is None else low), cost, share * (price if high is None else high))
