"""What the engine finds in a job that could be read only in part: numbers of Fittings and the bench's day, without any sheet counted."""

from dataclasses import replace

from estimator.costing.estimate import problems_of
from tests.samples import sample


def test_a_rule_that_gives_no_number_and_a_day_that_is_none_are_told_together() -> None:
    job = sample("one-cabinet")
    fittings = (replace(job.fittings[0], number="2 - width"), *job.fittings[1:])
    found = [problem.found for problem in problems_of(replace(job, fittings=fittings, shop=replace(job.shop, start_of_day="half past seven")))]
    assert found == ["a rule that comes out below 0: cabinet Kitchen 1", "the text half past seven"]


def test_a_sound_job_has_none() -> None:
    assert problems_of(sample("kitchen")) == ()
