"""A folder's jobs put to the machine: what the sentence says of the data of several estimates."""

import json
from pathlib import Path

from estimator.costing.estimate import estimate_job
from estimator.model.exact import Fraction
from estimator.model.results import Estimate
from estimator.papers.estimate_json import estimate_data
from estimator.papers.register import RegisterRow, row_of
from estimator.registering import rows_below
from estimator.weighing import machine_words
from tests.building import terms
from tests.costing.banding.worked import four_edgings
from tests.costing.test_machine import a_machine


def row(**other: object) -> RegisterRow:
    return row_of(data_of(**other), name="job", revision_folder="1")


def data_of(**other: object) -> dict:
    answer = estimate_job(four_edgings(**other))
    assert isinstance(answer, Estimate)
    return estimate_data(answer)


MACHINE = a_machine(cost_per_m=Fraction("0.01"), name="a used one")


def test_metres_and_costs_of_all_jobs_are_put_to_the_machine() -> None:
    """Twice 243 m, each at 404.10 less 394.55 of edging: 9.55 over 243 m is 0.04 a metre; nothing pays back 16,500."""
    words = machine_words([row(machine=MACHINE), row()])
    assert words.startswith("As a year's work (2 jobs, 486 m of edges at 0.04 a metre today, edging apart), a used one loses ")
    assert "its price back" not in words
    even = int(words.split("breaks even at ")[1].split(" m")[0])
    assert abs(even - Fraction("3359.10") / (Fraction("19.10") / 486 - Fraction("0.01"))) < 1  # the worked machine's cost a year


def test_lost_jobs_one_job_and_no_machine_say_nothing() -> None:
    with_machine = row(machine=MACHINE)
    assert machine_words([with_machine]) == ""
    assert machine_words([with_machine, row(terms=terms(status="lost"))]) == ""
    assert machine_words([row(), row()]) == ""


def test_several_machines_have_a_sentence_each() -> None:
    words = machine_words([row(machine=MACHINE, more_machines=(a_machine(name="a new one"),)), row()])
    assert [line.split("apart), ")[1].split(" loses")[0] for line in words.splitlines()] == ["a used one", "a new one"]


def test_jobs_in_several_currencies_are_not_added_up() -> None:
    assert "several currencies" in machine_words([row(machine=MACHINE), row(terms=terms(currency="JPY"))])


def test_what_lies_under_the_folder_of_papers_is_weighed_latest_revision_first(tmp_path: Path) -> None:
    """Two jobs, one with an earlier revision: only the latest of each counts."""
    for name, revision, other in (("one", "1", {}), ("two", "1", {}), ("two", "2", {"machine": MACHINE})):
        data = data_of(terms=terms(job_name=name, revision=revision), **other)
        folder = tmp_path / name / revision
        folder.mkdir(parents=True)
        (folder / "estimate.json").write_text(json.dumps(data), encoding="utf-8")
    assert machine_words(rows_below(tmp_path)[0]).startswith("As a year's work (2 jobs, 486 m of edges at 0.04 a metre today")
    assert machine_words(rows_below(tmp_path / "nothing here")[0]) == ""
