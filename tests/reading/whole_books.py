"""Whole workbooks drawn into a file and read: tables and changed cells in, the Job, its remarks or its problems out."""

from __future__ import annotations

from pathlib import Path

from estimator.model.records import Job
from estimator.model.refusal import Refusal
from estimator.reading.workbook import read_job
from tests.reading.base_books import ONE_BOOK
from tests.reading.drawing import Tables, draw


def job_of(path: Path, *, shop: Path | None = None) -> Job:
    answer = read_job(path, shop=shop)
    assert isinstance(answer, Job), "\n".join(map(str, answer.problems))
    return answer


def one(folder: Path, tables: Tables = ONE_BOOK, **changes: str | None) -> Job:
    """A job from one book; `Job_B5="..."` sets a cell."""
    cells = {tuple(name.replace("_", " ").rsplit(" ", 1)): content for name, content in changes.items()}
    return job_of(draw(folder / "job.xlsx", tables, changes=cells))  # type: ignore[arg-type]


def words(job: Job) -> list[str]:
    return [str(remark) for remark in job.remarks]


def problems(folder: Path, tables: Tables, **changes: str | None) -> list[tuple[str, str]]:
    cells = {tuple(name.replace("_", " ").rsplit(" ", 1)): content for name, content in changes.items()}
    answer = read_job(draw(folder / "job.xlsx", tables, changes=cells))  # type: ignore[arg-type]
    assert isinstance(answer, Refusal)
    return [(str(problem.place).removeprefix("job.xlsx > "), problem.found) for problem in answer.problems]
