"""Counts to minutes: the rows of Work in, the standard minutes of each step on a way of banding out."""

from collections.abc import Mapping, Sequence

from estimator.costing.counts import Counted, Tally, tally
from estimator.costing.limits import limit_of
from estimator.model.dataclass import dataclass
from estimator.model.exact import Fraction
from estimator.model.records import Job
from estimator.model.results import Minutes, Rates, StepMinutes
from estimator.model.shop_records import Shop, Step
from estimator.model.units import MINUTES_PER_HOUR


@dataclass(frozen=True, slots=True)
class StepTally:
    """A step, its standard minutes, and how often it counts on any way of banding."""

    step: Step
    each_min: Fraction
    tally: Tally

    def minutes(self, *, by_hand: int, sent: int) -> StepMinutes:
        """The step when the edgings of `by_hand` stay at the bench and those of `sent` go out."""
        count = self.tally.of(sent if self.step.route == "send out" else by_hand)
        return StepMinutes(self.step, self.each_min, count, count * self.each_min)


def standard_min(*, minutes: Fraction, rating: Fraction, allowance_share: Fraction) -> Fraction:
    """Standard minutes of a step (A15).

        standard  =  minutes x rating / 100 x (1 + allowance)

    By hand: a mean of 20 timed at a rating of 120 is 24 normal; 20 % allowance makes it 28.8.

    >>> standard_min(minutes=20, rating=120, allowance_share=Fraction(20, 100))
    Fraction(144, 5)

    Holds for: an allowance that is a share of the basic time; as a share of the shift 13 % would be 1/(1 - 0.13).
    Error: the timing's own.
    Source: time-study.
    """
    return minutes * rating / Fraction(100) * (1 + allowance_share)


def step_standard_min(step: Step, shop: Shop) -> Fraction:
    """Standard minutes of one row of Work; a blank allowance is the shop's."""
    allowance = shop.allowance_share if step.allowance_share is None else step.allowance_share
    return standard_min(minutes=step.minutes, rating=step.rating, allowance_share=allowance)


def step_tallies(counted: Counted, known: Mapping[str, frozenset[str]]) -> tuple[StepTally, ...]:
    """Every row of Work with its tally, in the order of the sheet. A step of coating passes over edges without adhesive."""
    return tuple(
        StepTally(
            step,
            step_standard_min(step, counted.job.shop),
            tally(
                counted,
                route=step.route,
                per=step.per,
                limit=limit_of(step.of, known=known),
                glued_only=step.during == "coating",
            ),
        )
        for step in counted.job.work
    )


def minutes_of(tallies: Sequence[StepTally], job: Job, *, by_hand: int, sent: int) -> Minutes:
    """All minutes of the job on one way of banding, and the extras' that are priced with it."""
    steps = tuple(one.minutes(by_hand=by_hand, sent=sent) for one in tallies)

    def on(route: str) -> Fraction:
        return sum((one.minutes for one in steps if one.step.route == route), start=Fraction(0))

    extras = sum((extra.qty * (extra.minutes_each or 0) for extra in job.extras if extra.price_each is None), start=Fraction(0))
    always = on("") + extras
    return Minutes(
        steps=steps,
        always=always,
        by_hand=on("by hand"),
        send_out=on("send out"),
        extras=extras,
        total=always + on("by hand") + on("send out"),
    )


# --- an hour in money (A17) -------------------------------------------------------------------------------------------


def direct_rate(*, wage: Fraction, paid_hours: Fraction, on_cost_share: Fraction, productive_hours: Fraction) -> Fraction:
    """What a productive hour of a worker costs (A17).

        direct rate  =  wage x paid hours x (1 + on-cost) / productive hours

    By hand: 20 an hour for 2080 paid hours, 25 % on-cost, 1600 productive hours: 52,000 / 1600 = 32.50.

    >>> direct_rate(wage=20, paid_hours=2080, on_cost_share=Fraction(1, 4), productive_hours=1600)
    Fraction(65, 2)

    Holds for: one worker and a year.
    Error: none.
    Source: common-practice.
    """
    return wage * paid_hours * (1 + on_cost_share) / Fraction(productive_hours)


def overhead_rate(*, overhead_a_year: Fraction, productive_hours: Fraction, workers: Fraction) -> Fraction:
    """What the shop costs for each productive hour (A17).

        overhead rate  =  overhead a year / (productive hours x workers)

    By hand: 250,000 a year over 100,000 hours is 2.50 an hour.

    >>> overhead_rate(overhead_a_year=250000, productive_hours=1000, workers=100)
    Fraction(5, 2)

    Holds for: hours that are sold; idle hours carry none.
    Error: none.
    Source: managerial-accounting.
    """
    return Fraction(overhead_a_year) / (productive_hours * workers)


def rates_of(shop: Shop) -> Rates:
    """The hour in money: typed rates win over the build-up; then what a freed hour is worth in the decision."""
    direct = shop.direct_rate
    if direct is None and shop.wage is not None and shop.paid_hours is not None and shop.productive_hours is not None:
        direct = direct_rate(
            wage=shop.wage,
            paid_hours=shop.paid_hours,
            on_cost_share=shop.on_cost_share,
            productive_hours=shop.productive_hours,
        )
    over = shop.overhead_rate
    if over is None and shop.overhead_a_year is not None and shop.productive_hours is not None:
        over = overhead_rate(
            overhead_a_year=shop.overhead_a_year, productive_hours=shop.productive_hours, workers=shop.workers or Fraction(1)
        )
    assert direct is not None, "the reading lets no job through without its rates"
    assert over is not None, "the reading lets no job through without its rates"
    match shop.value_of_a_freed_hour:
        case "idle":
            freed = Fraction(0)
        case "wage":
            freed = direct
        case "full rate":
            freed = direct + over
        case amount:
            freed = amount.amount
    return Rates(direct=direct, overhead=over, freed=freed)


def money_for(minutes: Fraction, *, rate: Fraction) -> Fraction:
    """Minutes in money: minutes / 60 x rate an hour.

    >>> money_for(Fraction(30), rate=Fraction(44))
    Fraction(22, 1)
    """
    return minutes / MINUTES_PER_HOUR * rate
