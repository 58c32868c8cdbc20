"""What the engine finds in a job that could be read only in part, and what it says of one of which no line carries the work."""

from dataclasses import replace

import pytest

from estimator.costing.estimate import estimate_job, problems_of
from estimator.model.exact import Fraction
from estimator.model.records import Job
from estimator.model.results import Estimate
from tests.building import extra
from tests.samples import sample

NONE_CARRIES = "no line of the quote costs anything by itself, so none carries its share of the 72.00 that the job must bring"


def test_a_rule_that_gives_no_number_and_a_day_that_is_none_are_told_together() -> None:
    job = sample("one-cabinet")
    fittings = (replace(job.fittings[0], number="2 - width"), *job.fittings[1:])
    found = [problem.found for problem in problems_of(replace(job, fittings=fittings, shop=replace(job.shop, start_of_day="half past seven")))]
    assert found == ["a rule that comes out below 0: cabinet Kitchen 1", "the text half past seven"]


def test_a_sound_job_has_none() -> None:
    assert problems_of(sample("kitchen")) == ()


@pytest.mark.parametrize(("minutes", "told"), [(60, True), (0, False)])
def test_work_that_no_line_carries_in_a_job_of_extras_alone(minutes: int, told: bool) -> None:
    """An hour by the job at 54 with a margin of 25 % asks for 72; the one line has a price of its own, and there is no board to point at."""
    job = replace(by_the_job_alone(minutes), cabinets=(), extras=(extra("100"),))
    assert carried_by_none(job) == told * [f"{NONE_CARRIES}: every line has a price of its own, which does not rise with the work"]


def test_work_that_no_line_carries_where_cabinets_have_no_parts() -> None:
    job = by_the_job_alone(60)
    job = replace(job, construction=tuple(replace(row, count="0") for row in job.construction), fittings=())
    assert carried_by_none(job) == [f"{NONE_CARRIES}: the kinds of its cabinets have no parts. Look at their Count in Construction"]


def by_the_job_alone(minutes: int) -> Job:
    """The sample whose only work is of so many minutes a job."""
    job = sample("one-cabinet")
    step = replace(job.work[0], route="", per="job", of="", minutes=Fraction(minutes), rating=Fraction(100))
    return replace(job, work=(step,), shop=replace(job.shop, allowance_share=Fraction(0)))


def carried_by_none(job: Job) -> list[str]:
    answer = estimate_job(job)
    assert isinstance(answer, Estimate)
    return [one.words for one in answer.remarks if "none carries" in one.words]
