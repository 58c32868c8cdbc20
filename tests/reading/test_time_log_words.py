"""What a row of the Time log is told, whole: whose job, which step, how many, how long; and where the same row is read."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from estimator.model.problems import Place
from estimator.model.records import Job
from estimator.reading import time_log
from estimator.reading.time_log import TimeLog, read_time_log
from tests.reading.held import Held, job_of

HEAD = "Date | Job | Step | Count | Minutes | Note\n"
DAY = "2031-03-04"
HOME = "mill-lane.xlsx"
BY_NAME = "Job: the job's workbook, its Job name or its Quote number"
A_STEP = "Step: a step or a stage of the sheet Work, several steps with + between them, or a board or an edging"
HOW_MANY = "type how many were done, in digits, or leave it blank for all that the job counts"
A_COUNT = "Count: a number above 0"
EACH = "; one number; or one for each step with + between them"


@pytest.fixture(autouse=True)
def _held(monkeypatch: pytest.MonkeyPatch) -> None:
    """A log is given as a table instead of a file."""
    monkeypatch.setattr(time_log, "open_or_tell", lambda path, findings: opened[path.name])


opened: dict[str, Any] = {}
JOB = job_of()


def log(*rows: str, jobs: dict[str, Job] | None = None, home: str = HOME, tables: dict[str, str] | None = None) -> TimeLog:
    held: Any = Held("times.xlsx", tables or {"Notes": "a sheet of the shop's own", " TIME LOG": HEAD + "\n".join(rows)}, {})
    held.close = lambda: None
    opened["times.xlsx"] = held
    return read_time_log(Path("times.xlsx"), {HOME: JOB} if jobs is None else jobs, home=home)


def told(*rows: str, **more: Any) -> list[str]:
    return [f"{one.place.cell}: {one.found} | {one.expected} | {one.mend}" for one in log(*rows, **more).problems]


@pytest.mark.parametrize(
    ("row", "words"),
    [
        # the day
        ("| | cut | 4 | 20 |", "A2: nothing: the cell is blank | Date: a date, such as 2031-02-03 | type the day it was done"),
        # the step
        (f"{DAY} | | sewing | 4 | 20 |", f"C2: the text sewing | {A_STEP} | use the name as it stands in Work, Boards or Edgings"),
        (f"{DAY} | | cutt | 4 | 20 |", f"C2: the text cutt | {A_STEP} | did you mean cut?"), (f"{DAY} | | oak 18 | 4 | 20 |", f"C2: the text oak 18 | {A_STEP} | did you mean oak 19?"),
        (f"{DAY} | | cut + asemble | 4 | 20 |", f"C2: the text asemble | {A_STEP} | did you mean assemble?"), (f"{DAY} | | bandin + cut | 4 | 20 |",
         f"C2: the text bandin | {A_STEP} | use the name as it stands in Work, Boards or Edgings"), (f"{DAY} | | + | 4 | 20 |", f"C2: the text + | {A_STEP} | use the name as it stands in Work, Boards or Edgings"),
        (f"{DAY} | | cut + oak 19 | 4 | 20 |", f"C2: the text oak 19 | {A_STEP} | use the name as it stands in Work, Boards or Edgings"),
        (f"{DAY} | | | 4 | 20 |", "C2: nothing: the cell is blank | Step: a few words | fill it in (a step of Work; several with + between them; a stage; a board or an edging really used)"),
        # the count
        (f"{DAY} | | cut | four | 20 |", f"D2: the text four | {A_COUNT} | {HOW_MANY}"), (f"{DAY} | | cut | 0 | 20 |", f"D2: the number 0 | {A_COUNT} | {HOW_MANY}"),
        (f"{DAY} | | cut | -4 | 20 |", f"D2: the number -4 | {A_COUNT} | {HOW_MANY}"), (f"{DAY} | | cut + assemble | 4 + | 20 |", f"D2: the text 4 + | {A_COUNT} | {HOW_MANY}"),
        (f"{DAY} | | cut + assemble | + 4 | 20 |", f"D2: the text + 4 | {A_COUNT} | {HOW_MANY}"), (f"{DAY} | | cut + assemble | 4 + x | 20 |", f"D2: the text 4 + x | {A_COUNT} | {HOW_MANY}"),
        (f"{DAY} | | cut + assemble | 1 + 2 + 3 | 20 |", f"D2: the text 1 + 2 + 3 | Count: blank for all that the job counts{EACH} | give each step its number, as in 40 + 28.5"),
        (f"{DAY} | | cut | 1 + 2 | 20 |", f"D2: the text 1 + 2 | Count: blank for all that the job counts{EACH} | give each step its number, as in 40 + 28.5"),
        (f"{DAY} | | banding | 4 | 20 |", "D2: the number 4 | Count: blank for all that the job counts | leave it blank for a whole stage"),
        # material
        (f"{DAY} | | white 18 | | |", "D2: nothing: the cell is blank | Count: how many sheets of white 18 were used | type the number"),
        (f"{DAY} | | WHITE 1 | 1 + 2 | |", "D2: the text 1 + 2 | Count: how many metres of white 1 were used | type the number"),
        # the minutes
        (f"{DAY} | | cut | 4 | |", "E2: nothing: the cell is blank | Minutes: a number above 0 | type how long it took, in minutes, or take the row out"),
        (f"{DAY} | | cut | 4 | 0 |", "E2: the number 0 | Minutes: a number above 0 | type a number above 0, or leave the cell blank"),
        # whose job
        (f"{DAY} | elm row | cut | 4 | 20 |", f"B2: the text elm row | {BY_NAME}; blank: this workbook's own job | leave it blank, or type {HOME}; work for another job stands in that "
         "job's own workbook, or in times.xlsx"),
        (f"{DAY} | mill-lan | cut | 4 | 20 |", f"B2: the text mill-lan | {BY_NAME}; blank: this workbook's own job | did you mean {HOME}?"),
    ],
)  # fmt: skip
def test_the_whole_sentence(row: str, words: str) -> None:
    assert told(row) == [words]
    assert log(row).rows == ()


def test_feet_are_counted_in_a_job_in_inches() -> None:
    in_inches = {HOME: replace(JOB, terms=replace(JOB.terms, units="inch"))}
    assert told(f"{DAY} | | white 1 | | |", jobs=in_inches) == ["D2: nothing: the cell is blank | Count: how many feet of white 1 were used | type the number"]
    assert told(f"{DAY} | | white 18 | | |", jobs=in_inches) == ["D2: nothing: the cell is blank | Count: how many sheets of white 18 were used | type the number"]


@pytest.mark.parametrize(
    ("step", "count", "minutes", "kind", "names", "counts"),
    [
        ("cut", "", "20", "steps", ("cut",), ()), ("CUT", "4.5", "20", "steps", ("cut",), (4.5,)), ("cut + assemble", "text:4 + 1,5", "20", "steps", ("cut", "assemble"), (4, 1.5)),
        ("cut+assemble", "7", "20", "steps", ("cut", "assemble"), (7,)), ("cut + cut", "", "20", "steps", ("cut",), ()), ("+ cut +", "", "20", "steps", ("cut",), ()),
        ("Banding", "", "20", "stage", ("banding",), ()), ("Oak  19", "2", "", "board", ("oak 19",), (2,)), ("oak veneer", "0.5", "", "edging", ("oak veneer",), (0.5,)),
        ("white 18", "2", "15", "board", ("white 18",), (2,)),
    ],
)  # fmt: skip
def test_what_a_row_says(step: str, count: str, minutes: str, kind: str, names: tuple[str, ...], counts: tuple[float, ...]) -> None:
    assert told(f"{DAY} | | {step} | {count} | {minutes} | as ever") == []
    (row,) = log(f"{DAY} | | {step} | {count} | {minutes} | as ever").rows
    assert (row.job, row.kind, row.names, row.counts, row.note) == (HOME, kind, names, counts, "as ever")
    assert row.minutes == (int(minutes) if minutes else None)
    assert row.at.place("Minutes") == Place("times.xlsx", " TIME LOG", "E2")


@pytest.mark.parametrize("row", ["| | cut | 4 | |", "| | banding | | | to come", "| | cut + assemble | | |"])
def test_what_is_prepared_and_not_done_yet_is_passed_over(row: str) -> None:
    assert told(row) == []
    assert log(row).rows == ()


@pytest.mark.parametrize(
    ("row", "cells"),
    [
        ("| | white 18 | 4 | |", ["A2"]), ("| | cut | | 20 |", ["A2"]), (f"{DAY} | | cut | | |", ["E2"]), ("soon | elm | sewing | four | ages |", ["A2", "B2", "C2", "D2", "E2"]),
        (f"{DAY} | elm row | cut | 1 + 2 | |", ["B2"]), ("yesterday | | white 18 | | |", ["A2"]), (f"{DAY} | | cut | error:#REF! | 20 |", ["D2"]), (f"{DAY} | | error:#REF! | 4 | 20 |", ["C2"]),
        (f"{DAY} | error:#REF! | cut | 4 | 20 |", ["B2"]),
    ],
)  # fmt: skip
def test_all_that_is_wrong_in_a_row_is_told_in_one_run(row: str, cells: list[str]) -> None:
    assert [one.partition(":")[0] for one in told(row)] == cells


# --- whose job it was -----------------------------------------------------------------------------------------------------------------------


def jobs(many: int) -> dict[str, Job]:
    return {f"job {number}.xlsx": replace(JOB, terms=replace(JOB.terms, job_name=f"kitchen {number * 1111}", quote_number=f"Q{number * 1111}")) for number in range(1, many + 1)}


@pytest.mark.parametrize("typed", ["job 2.xlsx", "JOB  2", "kitchen 2222", "q2222"])
def test_a_job_is_known_by_its_file_its_name_and_its_number(typed: str) -> None:
    assert [row.job for row in log(f"{DAY} | {typed} | cut | 4 | 20 |", jobs=jobs(2), home="").rows] == ["job 2.xlsx"]
    assert [row.job for row in log(f"{DAY} | {typed} | cut | 4 | 20 |", jobs=jobs(2), home="job 1.xlsx").rows] == ["job 2.xlsx"]


def test_of_two_jobs_of_one_name_the_first_is_meant() -> None:
    alike = {"a.xlsx": JOB, "b.xlsx": JOB}
    assert [row.job for row in log(f"{DAY} | 2031-014 | cut | 4 | 20 |", jobs=alike, home="").rows] == ["a.xlsx"]


@pytest.mark.parametrize(
    ("many", "mend"),
    [
        (1, "use one of job 1.xlsx"), (6, "use one of job 1.xlsx, job 2.xlsx, job 3.xlsx, job 4.xlsx, job 5.xlsx, job 6.xlsx"),
        (7, "use one of job 1.xlsx, job 2.xlsx, job 3.xlsx, job 4.xlsx, job 5.xlsx, job 6.xlsx, ..."), (0, "put the job's workbook in the folder"),
    ],
)  # fmt: skip
def test_a_log_of_the_whole_shop_names_the_jobs_that_there_are(many: int, mend: str) -> None:
    assert told(f"{DAY} | | cut | 4 | 20 |", jobs=jobs(many), home="") == [f"B2: nothing: the cell is blank | {BY_NAME} | {mend}"]
    assert told(f"{DAY} | elm row | cut | 4 | 20 |", jobs=jobs(many), home="") == [f"B2: the text elm row | {BY_NAME} | {mend}"]


def test_a_name_beside_others_is_looked_for_in_all_jobs_where_the_job_is_unknown() -> None:
    other = replace(JOB, work=(replace(JOB.work[0], step="turn"),))
    both = {"a.xlsx": JOB, "b.xlsx": other}
    assert [one[:2] for one in told(f"{DAY} | elm | turn | 4 | 20 |", jobs=both, home="")] == ["B2"]
    assert [one[:2] for one in told(f"{DAY} | a | turn | 4 | 20 |", jobs=both, home="")] == ["C2"]
    assert told(f"{DAY} | b | turn | 4 | 20 |", jobs=both, home="") == []


def test_without_a_home_every_row_names_its_job() -> None:
    opened["times.xlsx"] = held = Held("times.xlsx", {"Time log": f"{HEAD}{DAY} | | cut | 4 | 20 |"}, {})
    held.close = lambda: None  # type: ignore[attr-defined]
    read = read_time_log(Path("times.xlsx"), {HOME: JOB})
    assert ([one.place.cell for one in read.problems], read.rows) == (["B2"], ())


def test_steps_without_a_stage_make_no_stage_of_no_name() -> None:
    unstaged = {HOME: replace(JOB, work=tuple(replace(step, stage="") for step in JOB.work))}
    assert told(f"{DAY} | | banding | | 20 |", jobs=unstaged) == [f"C2: the text banding | {A_STEP} | use the name as it stands in Work, Boards or Edgings"]


def test_a_book_without_the_sheet_has_no_row_and_no_problem() -> None:
    read = log(tables={"Notes": HEAD + f"{DAY} | | cut | 4 | 20 |"})
    assert (read.rows, read.problems, read.remarks) == ((), (), ())
    opened["times.xlsx"] = None
    assert read_time_log(Path("times.xlsx"), {HOME: JOB}, home=HOME).rows == ()
