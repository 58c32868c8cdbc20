"""Every input that a shop can ask about, multiplied in the question, against the same job with that figure typed otherwise in its sheets.

The question which way to band is asked again and again at other prices, minutes and sizes without counting the job anew; the rules, which price each plan
from its counted parts, are asked here for what the very same change gives. The stakes of every plan must be the same to the last fraction.
"""

from collections.abc import Callable
from dataclasses import replace
from typing import Any

import pytest

from estimator.costing.banding.changing import stakes_at
from estimator.costing.banding.decide import today_at
from estimator.costing.banding.every_plan import plans_of
from estimator.costing.banding.question import question_of
from estimator.costing.banding.stakes import cost_of
from estimator.costing.machine_volumes import BY_HAND, SENT_OUT, TODAY
from estimator.model.exact import Fraction
from estimator.model.records import Job
from tests.costing.banding.test_decision import random_job, ways_of

F = Fraction
BY = F(7, 4)


def rows(job: Job, field: str, change: Callable[[Any], Any], only: Callable[[Any], bool] = lambda _: True) -> Job:
    return replace(job, **{field: tuple(change(row) if only(row) else row for row in getattr(job, field))})


def times(name: str, by: Fraction) -> Callable[[Any], Any]:
    return lambda row: row if getattr(row, name) is None else replace(row, **{name: getattr(row, name) * by})


def by_route(route: str) -> Callable[[Any], bool]:
    return lambda row: row.route == route


def an_hour(job: Job, by: Fraction) -> Job:
    return replace(job, shop=replace(job.shop, direct_rate=job.shop.direct_rate * by, overhead_rate=job.shop.overhead_rate * by))


def contract(job: Job, name: str, by: Fraction) -> Job:
    assert job.contract is not None
    return replace(job, contract=times(name, by)(job.contract))


TYPED: dict[str, Callable[[Job, Fraction], Job]] = {
    "edging prices": lambda job, by: rows(job, "edgings", times("price_per_m", by)),
    "adhesive prices": lambda job, by: rows(job, "adhesives", times("price", by)),
    "minutes by hand": lambda job, by: rows(job, "work", times("minutes", by), by_route("by hand")),
    "minutes of sending out": lambda job, by: rows(job, "work", times("minutes", by), by_route("send out")),
    "sundries by hand": lambda job, by: rows(job, "fittings", times("price", by), by_route("by hand")),
    "sundries of sending out": lambda job, by: rows(job, "fittings", times("price", by), by_route("send out")),
    "value of a freed hour": an_hour,
    "the contractor's prices": lambda job, by: rows(job, "contract_prices", times("price_per_m", by)),
    "set-ups": lambda job, by: rows(job, "contract_prices", times("setup", by)),
    "charge per part": lambda job, by: contract(job, "charge_per_part", by),
    "minimum charge": lambda job, by: contract(job, "minimum_charge", by),
    "cost of the trips": lambda job, by: contract(job, "cost_per_distance", by),
}


def plain(job: Job) -> Job:
    """Without what grows with more than one input: spoilt edges (they cost edging and minutes anew), and batches that the open time shuts."""
    assert job.contract is not None
    job = rows(job, "adhesives", lambda row: replace(row, open_min=F(10**6)))
    return replace(job, shop=replace(job.shop, spoilt_by_hand_share=F(0)), contract=replace(job.contract, spoilt_share=F(0)))


def every_plan_costs_the_same(typed: Job, job: Job, what: str, by: Fraction) -> None:
    ways, stakes = ways_of(typed), stakes_at(question_of(ways_of(job)), {what: by})
    for plan in (plan for plan in plans_of(ways) if plan.possible):
        assert F(cost_of(stakes, ways.group(plan.sent)), stakes.scale) == plan.relevant_cost, (what, plan.sent)


@pytest.mark.parametrize("what", list(TYPED))
def test_a_price_or_a_time_that_changes_is_what_it_would_be_in_its_sheet(what: str) -> None:
    moved = 0
    for seed in range(20, 26):
        job = plain(random_job(seed, kinds=3))
        every_plan_costs_the_same(TYPED[what](job, BY), job, what, BY)
        now, then = (stakes_at(question_of(ways_of(job)), {what: by}) for by in (F(1), BY))
        moved += sum(F(cost_of(now, group), now.scale) != F(cost_of(then, group), then.scale) for group in range(8))
    assert moved >= 3, "the input moves some plans of these jobs"


def test_so_many_times_the_job_is_every_part_so_many_times() -> None:
    """Twice the quantity of every part; without steps by the batch, which fill up otherwise, and without what comes once a job."""
    for seed in range(20, 26):
        job = plain(random_job(seed, kinds=3))
        job = rows(job, "work", lambda step: replace(step, minutes=F(0)), lambda step: step.per in ("batch", "job", "trip", "order"))
        every_plan_costs_the_same(rows(job, "loose_parts", lambda part: replace(part, qty=part.qty * 2)), job, "parts and edges", F(2))


@pytest.mark.parametrize("seed", range(20, 26))
def test_a_metre_at_twice_the_volume_costs_what_twice_the_job_costs_without_its_edging(seed: int) -> None:
    """What a machine is held against: by hand, sent out and the cheapest way, each less all the edging, over the metres; rolls of 25 m and packs too."""
    job = plain(random_job(seed, kinds=3))
    job = rows(job, "work", lambda step: replace(step, minutes=F(0)), lambda step: step.per in ("batch", "job", "trip", "order"))
    ways, twice = ways_of(job), ways_of(rows(job, "loose_parts", lambda part: replace(part, qty=part.qty * 2)))
    metres = sum((use.net_m for use in twice.edgings), start=F(0))
    costs = {plan.sent: plan.relevant_cost for plan in plans_of(twice)}
    told = today_at(question_of(ways))(metres)
    edging = sum((use.cost for use in twice.edgings), start=F(0))
    everything = twice.names(twice.everything)
    for way, cost in (
        (BY_HAND, costs[()]),
        (SENT_OUT, costs[everything]),
        (TODAY, min((one for one in costs.values() if one is not None), default=None)),
    ):
        assert told[way] == (None if cost is None else (cost - edging) / metres), way


@pytest.mark.parametrize("seed", range(20, 26))
def test_spoilt_edges_grow_with_both_shares(seed: int) -> None:
    job = random_job(seed, kinds=3)
    assert job.contract is not None
    shop = replace(job.shop, spoilt_by_hand_share=F(3, 100))
    job = replace(job, shop=shop, contract=replace(job.contract, spoilt_share=F(2, 100)))
    typed = replace(
        job,
        shop=replace(job.shop, spoilt_by_hand_share=F(6, 100)),
        contract=replace(job.contract, spoilt_share=F(4, 100)),  # type: ignore[type-var]
    )
    every_plan_costs_the_same(typed, job, "spoilt edges", F(2))
