"""Time logs as people keep them: what is understood, and what each wrong row is told, all in one run."""

from pathlib import Path

import pytest

from estimator.model.exact import Fraction
from estimator.model.records import Job
from estimator.reading.time_log import read_time_log
from estimator.reading.workbook import read_job
from tests.reading.drawing import draw
from workbooks.draw import HERE

JOB = "one-cabinet.xlsx"
HEAD = "Date | Job | Step | Count | Minutes | Note\n"


@pytest.fixture(scope="module")
def job() -> Job:
    read = read_job(HERE / JOB)
    assert isinstance(read, Job)
    return read


def log(tmp_path: Path, rows: str, job: Job, *, home: str = JOB):
    path = draw(tmp_path / "log.xlsx", {"Time log": HEAD + rows})
    return read_time_log(path, {JOB: job}, home=home)


def test_what_is_understood(tmp_path: Path, job: Job) -> None:
    steps = [step.step for step in job.work]
    board, edging = job.boards[0].board, job.edgings[0].edging
    stage = next(step.stage for step in job.work if step.stage)
    read = log(
        tmp_path,
        f"""
date:2031-03-04 |  | {steps[0].upper()} | 40 | 95.5 | a quick day
2031-03-04 | {JOB} | {steps[0]} + {steps[1]} | text:12 + 3.5 | 30 |
2031-03-05 | one-cabinet | {steps[0]} | | 60 |
2031-03-05 | | {board} | 2 | |
2031-03-05 | | {edging} | 3.6 | |
2031-03-06 | | {stage} | | 45 |
""".strip("\n"),
        job,
    )
    assert read.problems == ()
    assert [row.kind for row in read.rows] == ["steps", "steps", "steps", "board", "edging", "stage"]
    assert read.rows[0].names == (steps[0],)
    assert (read.rows[0].counts, read.rows[0].minutes, read.rows[0].note) == ((Fraction(40),), Fraction("95.5"), "a quick day")
    assert read.rows[1].names == (steps[0], steps[1])
    assert read.rows[1].counts == (Fraction(12), Fraction("3.5"))
    assert read.rows[2].counts == ()
    assert {row.job for row in read.rows} == {JOB}


def test_every_wrong_row_is_told_at_its_cell_in_one_run(tmp_path: Path, job: Job) -> None:
    step = job.work[0].step
    read = log(
        tmp_path,
        f"""
 | | {step} | 4 | 20 | no date
2031-03-04 | | {step[:-1]} | 4 | 20 | a letter lost
2031-03-04 | | whittling | 4 | 20 | nobody's step
2031-03-04 | | {step} | 4 | two hours |
2031-03-04 | | {step} | 4 | -20 |
2031-03-04 | | {step} | -4 | 20 |
2031-03-04 | | {step} | 4 | |
2031-03-04 | | {step} | 0 | 20 |
2031-03-04 | Onecabinet | {step} | 4 | 20 | whose?
2031-03-04 | | {job.boards[0].board} | | |
2031-03-04 | | {step} | text:1 + 2 + 3 | 20 |
yesterday | | {step} | 4 | 20 |
2031-03-04 | | {step} | 4 | 20 | the only sound one
 | | {step} | 4 | | prepared and not done yet
 | | {job.boards[0].board} | 4 | | taken on no day
""".strip("\n"),
        job,
    )
    told = {problem.place.cell: problem for problem in read.problems}
    assert sorted(told, key=lambda cell: int(cell[1:])) == ["A2", "C3", "C4", "E5", "E6", "D7", "E8", "D9", "B10", "D11", "D12", "A13", "A16"]
    assert told["A2"].found.startswith("nothing")
    assert told["C3"].mend == f"did you mean {step}?"
    assert "Work, Boards or Edgings" in told["C4"].mend
    assert "two hours" in told["E5"].found
    assert told["B10"].mend == f"did you mean {JOB}?"
    assert "sheets" in told["D11"].expected
    assert [row.note for row in read.rows] == ["the only sound one"]


def test_a_log_of_the_whole_shop_must_name_the_job(tmp_path: Path, job: Job) -> None:
    read = log(tmp_path, f"2031-03-04 | | {job.work[0].step} | 4 | 20 |", job, home="")
    assert [problem.place.cell for problem in read.problems] == ["B2"]
    assert read.rows == ()


def test_a_workbook_without_the_sheet_has_no_log(tmp_path: Path, job: Job) -> None:
    assert read_time_log(HERE / JOB, {JOB: job}, home=JOB).rows == ()
