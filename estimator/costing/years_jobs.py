"""A year's jobs put to the machine: what each job bands and what that costs in, whether the machine pays on all of them out."""

from collections.abc import Sequence
from dataclasses import replace

from estimator.costing.machine import machine_answer
from estimator.model.decision import JobBanding
from estimator.model.exact import Fraction
from estimator.model.results import Estimate, MachineAnswer
from estimator.model.shop_records import Machine

NONE = Fraction(0)


def banding_of(estimate: Estimate) -> JobBanding:
    """The figures of one estimate, ready to be added up with those of other jobs.

    edging apart  =  relevant cost - what all the edging costs the shop, which a machine needs too
    """
    edging = sum((use.cost for use in estimate.edgings), start=NONE)
    names = {use.edging for use in estimate.edgings}
    plans = {frozenset(plan.sent): plan.relevant_cost for plan in estimate.banding.plans}

    def apart(cost: Fraction | None) -> Fraction | None:
        return None if cost is None else cost - edging

    return JobBanding(
        net_m=sum((use.net_m for use in estimate.edgings), start=NONE),
        by_hand=apart(plans.get(frozenset())),
        sent_out=apart(plans.get(frozenset(names))),
        best=apart(estimate.banding.best.relevant_cost),
    )


def added_up(jobs: Sequence[JobBanding]) -> JobBanding:
    """All jobs as one; a way that is not possible in one of them is not possible for all."""

    def whole(costs: Sequence[Fraction | None]) -> Fraction | None:
        known = [cost for cost in costs if cost is not None]
        return sum(known, start=NONE) if len(known) == len(costs) else None

    return JobBanding(
        net_m=sum((job.net_m for job in jobs), start=NONE),
        by_hand=whole([job.by_hand for job in jobs]),
        sent_out=whole([job.sent_out for job in jobs]),
        best=whole([job.best for job in jobs]),
    )


def machines_on_jobs(machines: Sequence[Machine], jobs: Sequence[JobBanding]) -> tuple[MachineAnswer, ...]:
    """Each machine on the metres of all these jobs, against what they cost by each job's best way (A36).

    metres a year  =  sum of the jobs' net metres;  alternative  =  sum of their best relevant costs, edging apart / metres

    The jobs stand for a year's work. Each keeps its own set-ups, trips and minimum, as it was priced; a metre that is typed as the
    alternative is not looked at, because here it is known. No answer is given where the jobs band nothing.

    By hand: jobs of 100 m for 300 and 300 m for 500 are 400 m at 2.00 a metre.

    >>> together = added_up([JobBanding(Fraction(100), None, None, Fraction(300)), JobBanding(Fraction(300), None, None, Fraction(500))])
    >>> together.net_m, together.best
    (Fraction(400, 1), Fraction(800, 1))

    Source: machine-finance.
    """
    together = added_up(jobs)
    if not together.net_m or together.best is None:
        return ()
    a_metre = together.best / together.net_m
    return tuple(
        machine_answer(replace(one, metres_a_year=together.net_m, alternative_per_m=None), alternative_per_m=a_metre) for one in machines
    )
