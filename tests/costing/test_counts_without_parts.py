"""Doors typed on a kind that makes none are remarked on at their cell; doors that are made are not."""

from dataclasses import replace
from pathlib import Path

from estimator.costing.estimate import estimate_job
from estimator.model.records import Job
from estimator.model.results import Estimate
from estimator.reading.workbook import read_job

KITCHEN = Path(__file__).parents[2] / "workbooks" / "kitchen.xlsx"


def remarks(job: Job) -> list[str]:
    estimate = estimate_job(job)
    assert isinstance(estimate, Estimate)
    return [f"{remark.place.cell}: {remark.words}" for remark in estimate.remarks if "counts as a" in remark.words]


def test_counts_without_parts_are_told_and_others_are_not() -> None:
    job = read_job(KITCHEN)
    assert isinstance(job, Job)
    job = replace(job, options=())
    assert remarks(job) == []
    cabinets = tuple(replace(one, doors=2, drawers=1) if one.kind == "open" else one for one in job.cabinets)
    assert remarks(replace(job, cabinets=cabinets)) == [
        "I12: Kitchen 11 has 2 under Doors, but no part of the kind open counts as a door: none is made, drawn or priced. "
        "Clear the cell, or give that kind such a part in Construction",
        "J12: Kitchen 11 has 1 under Drawers, but no part of the kind open counts as a drawer: none is made, drawn or priced. "
        "Clear the cell, or give that kind such a part in Construction",
    ]
