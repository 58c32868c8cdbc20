"""Laws over random jobs: what must not change when rows change places, when quantities double, when an input gets dearer.

The jobs come from the seeded generator of the second opinion, are written as workbooks and read back as a shop's would be.
ESTIMATOR_RANDOM_JOBS sets how many (a few every day; 500 and more in the long checks).
"""

import os
from collections.abc import Callable
from dataclasses import replace
from functools import cache
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest

from estimator.costing.estimate import estimate_job
from estimator.model.exact import Fraction
from estimator.model.records import Job
from estimator.model.refusal import Refusal
from estimator.model.results import Estimate
from estimator.reading.workbook import read_job
from tests.oracle.book import write
from tests.oracle.random_jobs import random_job

COUNT = int(os.environ.get("ESTIMATOR_RANDOM_JOBS", "14"))
SEEDS = range(70_000, 70_000 + COUNT)


@cache
def job_of(seed: int) -> Job:
    with TemporaryDirectory() as folder:
        job = read_job(Path(write(random_job(seed, most_cabinets=12), Path(folder))))
    assert not isinstance(job, Refusal), job
    return job


@cache
def estimate_of(seed: int) -> Estimate:
    return priced(job_of(seed))


def priced(job: Job) -> Estimate:
    answer = estimate_job(job)
    assert not isinstance(answer, Refusal), [str(problem) for problem in answer.problems]
    return answer


def by_plan(estimate: Estimate) -> bool:
    return any(use.plan is not None for use in estimate.boards)


@pytest.mark.parametrize("seed", SEEDS)
def test_the_order_of_rows_changes_no_area_metre_litre_or_sheet(seed: int) -> None:
    job, before = job_of(seed), estimate_of(seed)
    turned = replace(job, cabinets=job.cabinets[::-1], loose_parts=job.loose_parts[::-1], options=())
    after = priced(turned)
    assert [(use.board, use.area_m2, use.sheets, use.bound, use.cost) for use in after.boards] == [
        (use.board, use.area_m2, use.sheets, use.bound, use.cost) for use in before.boards
    ]
    assert [(use.edging, use.edges, use.net_m, use.strip_m, use.bought_m) for use in after.edgings] == [
        (use.edging, use.edges, use.net_m, use.strip_m, use.bought_m) for use in before.edgings
    ]
    if after.banding.chosen.sent == before.banding.chosen.sent:
        assert [use.litres for use in after.banding.adhesives] == [use.litres for use in before.banding.adhesives]
        assert without_batches(after) == without_batches(before)


def without_batches(estimate: Estimate) -> list[Fraction]:
    """Minutes of every step but those that count glue batches, which alone may follow the order of the rows."""
    return [step.minutes for step in estimate.minutes.steps if step.step.per != "batch"]


@pytest.mark.parametrize("seed", SEEDS)
def test_twice_the_cabinets_take_twice_the_area_and_metres(seed: int) -> None:
    job, before = job_of(seed), estimate_of(seed)
    after = priced(
        replace(
            job,
            cabinets=tuple(replace(row, qty=2 * row.qty) for row in job.cabinets),
            loose_parts=tuple(replace(row, qty=2 * row.qty) for row in job.loose_parts),
            options=(),
        )
    )
    assert [use.area_m2 for use in after.boards] == [2 * use.area_m2 for use in before.boards]
    assert [use.net_m for use in after.edgings] == [2 * use.net_m for use in before.edgings]
    # where a board comes in one size only: among several the cheapest set may well be more of the smaller sheets
    one_size = {row.board for row in job.boards if sum(other.board == row.board for other in job.boards) == 1}
    for one, two in zip(before.boards, after.boards, strict=True):
        assert one.plan is not None or one.board not in one_size or two.sheets <= 2 * one.sheets


def _dearer(job: Job) -> dict[str, Job]:
    more = Fraction(6, 5)
    return {
        "boards": replace(job, boards=tuple(replace(row, price=row.price * more) for row in job.boards)),
        "edgings": replace(job, edgings=tuple(replace(row, price_per_m=row.price_per_m * more) for row in job.edgings)),
        "adhesives": replace(job, adhesives=tuple(replace(row, price=row.price * more) for row in job.adhesives)),
        "fittings": replace(job, fittings=tuple(replace(row, price=row.price * more) for row in job.fittings)),
        "minutes": replace(job, work=tuple(replace(row, minutes=row.minutes * more) for row in job.work if not row.during)),
    }


@pytest.mark.parametrize("seed", SEEDS)
def test_with_the_plan_held_a_dearer_input_never_lowers_the_target(seed: int) -> None:
    before = estimate_of(seed)
    held = ", ".join(before.banding.chosen.sent) or "by hand"
    job = replace(job_of(seed), terms=replace(job_of(seed).terms, banding=held), options=())
    job = replace(job, work=tuple(row for row in job.work if not row.during))
    base = priced(job).price.target
    for what, dearer in _dearer(job).items():
        after = priced(dearer)
        assert after.price.target >= base, what


@pytest.mark.parametrize("seed", SEEDS)
def test_the_best_plan_is_never_dearer_than_by_hand_or_sent_out(seed: int) -> None:
    banding = estimate_of(seed).banding
    assert banding.best.relevant_cost is not None
    for plan in banding.plans:
        assert plan.relevant_cost is None or banding.best.relevant_cost <= plan.relevant_cost


@pytest.mark.parametrize("seed", SEEDS)
def test_the_same_job_twice_is_the_same_answer(seed: int) -> None:
    assert priced(job_of(seed)).price == estimate_of(seed).price


CHECKS: tuple[Callable[[Estimate], bool], ...] = (
    lambda estimate: estimate.price.gross == sum(step.amount for step in estimate.price.instalments),
    lambda estimate: sum(part.count for part in estimate.parts) == sum(use.parts for use in estimate.boards),
)


@pytest.mark.parametrize("seed", SEEDS)
def test_money_and_parts_are_kept(seed: int) -> None:
    assert all(check(estimate_of(seed)) for check in CHECKS)
