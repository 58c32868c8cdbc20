"""Hours at the bench against days away: the plans in, what is freed and worth, the last day to send, and whether it fits, out."""

from estimator.costing.banding.clock import Day, working_day
from estimator.model.decision import FreedHours, TimeAway
from estimator.model.exact import Fraction
from estimator.model.records import Job
from estimator.model.results import BandingPlan, Rates
from estimator.model.shop_records import Money
from estimator.model.units import MINUTES_PER_HOUR

NONE = Fraction(0)


def time_away(job: Job, rates: Rates, day: Day, *, by_hand: BandingPlan, chosen: BandingPlan) -> TimeAway:
    """What the chosen plan asks of the bench and of the calendar.

    hours freed  =  minutes with everything by hand - minutes of the chosen plan, handling included;  worth  =  hours x rate
    may wait  =  working days available - lead time;  days at the bench  =  minutes / (working minutes of a day x workers)
    """
    all_hand_min = _minutes(by_hand)
    minutes = _minutes(chosen)
    freed_hours = (all_hand_min - minutes) / MINUTES_PER_HOUR if by_hand.possible else NONE
    available = job.terms.working_days_available
    away = job.contract.lead_time_days if chosen.sent and job.contract else None
    spare = available - away if available is not None and away is not None else None
    bench_days = minutes / (day.work_min * job.shop.bench_workers)
    return TimeAway(
        by_hand_hours=all_hand_min / MINUTES_PER_HOUR,
        chosen_hours=minutes / MINUTES_PER_HOUR,
        freed_hours=freed_hours,
        freed=_readings(job, rates, freed_hours),
        away_days=away,
        spare_days=spare,
        send_by=working_day(job.terms.quote_date, days=spare).isoformat() if spare is not None else "",
        bench_days=bench_days,
        fits=None if available is None else bench_days <= available,
    )


def _minutes(plan: BandingPlan) -> Fraction:
    return (plan.by_hand_min or NONE) + (plan.send_out_min or NONE)


def _readings(job: Job, rates: Rates, hours: Fraction) -> tuple[FreedHours, ...]:
    """The freed hours by each reading: nothing else to do, the wage, wage and overhead, and the shop's own amount."""
    readings = [
        FreedHours("idle", NONE, NONE),
        FreedHours("wage", rates.direct, hours * rates.direct),
        FreedHours("full rate", rates.direct + rates.overhead, hours * (rates.direct + rates.overhead)),
    ]
    if isinstance(job.shop.value_of_a_freed_hour, Money):
        amount = job.shop.value_of_a_freed_hour.amount
        readings.append(FreedHours("an amount", amount, hours * amount))
    return tuple(readings)
