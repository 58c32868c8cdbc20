"""The sample jobs that ship, read and priced once for all tests of a process."""

from dataclasses import replace
from functools import cache
from pathlib import Path

from estimator.costing.estimate import estimate_job
from estimator.model.records import Job
from estimator.model.results import Estimate
from estimator.reading.workbook import read_job

WORKBOOKS = Path(__file__).parents[1] / "workbooks"


@cache
def sample(name: str) -> Job:
    job = read_job(WORKBOOKS / f"{name}.xlsx")
    assert isinstance(job, Job)
    return job


@cache
def estimate_of(name: str, banding: str = "best", language: str = "en") -> Estimate:
    """A sample priced; Banding and Language of its Job sheet may be other ones."""
    job = sample(name)
    estimate = estimate_job(replace(job, terms=replace(job.terms, banding=banding, language=language)))
    assert isinstance(estimate, Estimate)
    return estimate
