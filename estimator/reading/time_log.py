"""The Time log of a finished job's workbook, or of a shop's times.xlsx, in; its rows with their names spelt as in the sheets out.

A row names a step of Work, several steps with ` + ` between them, a whole stage, or a board or an edging for material really used.
Every row that cannot be read is a problem at its cell, all in one run; the others are read all the same.
"""

from __future__ import annotations

import contextlib
from collections.abc import Iterable, Mapping
from dataclasses import replace
from datetime import date
from pathlib import Path
from typing import Any, Literal

from estimator.model.dataclass import dataclass
from estimator.model.exact import Fraction
from estimator.model.form import TIME_LOG, expected
from estimator.model.problems import Problem, Remark
from estimator.model.records import Job
from estimator.model.times import LogRow
from estimator.reading.cells import read_cell
from estimator.reading.columns import ReadRow
from estimator.reading.findings import BLANK, Findings
from estimator.reading.names import close_to, fold
from estimator.reading.raw_cells import Cell
from estimator.reading.tables import read_table
from estimator.reading.typed_numbers import Wrong, said
from estimator.reading.workbook import open_or_tell

SHEET = TIME_LOG.name
_BY_FIELD = {column.field: column for column in TIME_LOG.columns}
_AS_READ: Mapping[str, Mapping[str, Any]] = {"count": {"what": "text"}, "date": {"needed": False}, "minutes": {"above_0": True}}
_READ_AS = replace(TIME_LOG, columns=tuple(replace(column, **_AS_READ.get(column.field, {})) for column in TIME_LOG.columns))
"""Count is read as text first: between several steps it may hold several numbers. A row without date and minutes is not done yet."""


@dataclass(frozen=True, slots=True)
class TimeLog:
    rows: tuple[LogRow, ...]
    problems: tuple[Problem, ...]
    remarks: tuple[Remark, ...]


def read_time_log(path: Path, jobs: Mapping[str, Job], *, home: str = "") -> TimeLog:
    """Every row of the sheet Time log. `jobs` are those that a row may name, by file name; a blank Job is `home`."""
    findings = Findings()
    book = open_or_tell(path, findings)
    rows: list[LogRow] = []
    if book is not None:
        with contextlib.closing(book):
            tab = next((tab for tab in book.sheets if fold(tab) == fold(SHEET)), None)
            if tab is not None:
                table = read_table(
                    book.read(tab), _READ_AS, book=book.name, units="mm", starts_1904=book.starts_1904, findings=findings
                )
                rows = [read for row in table.rows if (read := _log_row(row, jobs, home, findings))]
    return TimeLog(tuple(rows), findings.problems_in_order(path.name), findings.remarks_in_order(path.name))


def _log_row(row: ReadRow, jobs: Mapping[str, Job], home: str, findings: Findings) -> LogRow | None:
    """One row, or None where something in it must be mended first; whatever else is wrong in it is told as well."""
    job = _job_named(row, jobs, home, findings)
    names = _names(row, [jobs[job]] if job else list(jobs.values()), findings)
    if names and names[0] in ("steps", "stage") and not {"date", "minutes"} & row.filled:
        return None  # prepared with its step and count, not done yet
    counts = _counts(row, findings)
    day, minutes = row.values["date"], row.values["minutes"]
    if day is None:
        wanted = expected(_BY_FIELD["date"], units="mm")
        findings.problem(row.at.place("Date"), found=BLANK, expected=wanted, mend="type the day it was done")
    if names is None or counts is None or not job or not row.sound or not isinstance(day, date):
        return None
    kind, spelt = names
    if not _fits(row, kind, spelt, counts, minutes, findings, units=jobs[job].terms.units):
        return None
    return LogRow(day, job, spelt, kind, counts, minutes, str(row.values["note"]), row.at)


def _job_named(row: ReadRow, jobs: Mapping[str, Job], home: str, findings: Findings) -> str:
    """The workbook of the job that a row names by its file, its Job name or its Quote number."""
    typed = row.values["job"] if isinstance(row.values["job"], str) else ""
    if not typed and home:
        return home
    by_name: dict[str, str] = {}
    for workbook, job in jobs.items():
        for name in (workbook, Path(workbook).stem, job.terms.job_name, job.terms.quote_number):
            if fold(name):
                by_name.setdefault(fold(name), workbook)
    if fold(typed) in by_name:
        return by_name[fold(typed)]
    guess = close_to(typed, by_name)
    known = ", ".join(list(jobs)[:6]) + (", ..." if len(jobs) > 6 else "")
    findings.problem(
        row.at.place("Job"),
        found=said(typed) if typed else BLANK,
        expected="Job: the job's workbook, its Job name or its Quote number" + ("; blank: this workbook's own job" if home else ""),
        mend=f"did you mean {by_name[guess]}?" if guess else _job_mend(home, known),
    )
    return ""


def _job_mend(home: str, known: str) -> str:
    if home:
        return f"leave it blank, or type {home}; work for another job stands in that job's own workbook, or in times.xlsx"
    return f"use one of {known}" if known else "put the job's workbook in the folder"


Kind = Literal["steps", "stage", "board", "edging"]


def _names(row: ReadRow, jobs: Iterable[Job], findings: Findings) -> tuple[Kind, tuple[str, ...]] | None:
    """What was done, spelt as in the sheets: the whole cell as one name, or steps between plus signs."""
    typed = row.values["step"]
    if not isinstance(typed, str) or not typed:
        return None
    jobs = list(jobs)
    steps = {fold(step.step): step.step for job in jobs for step in job.work}
    others: list[tuple[Kind, dict[str, str]]] = [
        ("steps", steps),
        ("board", {fold(one.board): one.board for job in jobs for one in job.boards}),
        ("edging", {fold(one.edging): one.edging for job in jobs for one in job.edgings}),
        ("stage", {fold(step.stage): step.stage for job in jobs for step in job.work}),
    ]
    for kind, known in others:
        if fold(typed) in known:
            return kind, (known[fold(typed)],)
    pieces = [piece for piece in typed.split("+") if fold(piece)]
    unknown = [piece.strip() for piece in pieces if fold(piece) not in steps]
    if not unknown and pieces:
        return "steps", tuple(dict.fromkeys(steps[fold(piece)] for piece in pieces))
    everything = [name for _, known in others for name in known.values()]
    if jobs:
        guess = close_to(unknown[0] if unknown else typed, steps.values() if len(pieces) > 1 else everything)
        findings.problem(
            row.at.place("Step"),
            found=said(unknown[0] if unknown else typed),
            expected="Step: a step or a stage of the sheet Work, several steps with + between them, or a board or an edging",
            mend=f"did you mean {guess}?" if guess else "use the name as it stands in Work, Boards or Edgings",
        )
    return None


def _counts(row: ReadRow, findings: Findings) -> tuple[Fraction, ...] | None:
    """The numbers of Count: none, one, or one for each step with + between them."""
    typed = row.values["count"]
    if not isinstance(typed, str):
        return None
    counts: list[Fraction] = []
    for piece in typed.split("+") if typed.strip() else []:
        value: Any = read_cell(Cell(piece.strip()), _BY_FIELD["count"], units="mm") if piece.strip() else None
        if isinstance(value, Wrong) or value is None or value <= 0:
            mend = "type how many were done, in digits, or leave it blank for all that the job counts"
            wrong = value._replace(found=_count_said(typed), mend=mend) if isinstance(value, Wrong) else Wrong(_count_said(typed), mend)
            findings.wrong(row.at.place("Count"), wrong, expected=_above_0("count"))
            return None
        counts.append(value)
    return tuple(counts)


def _fits(
    row: ReadRow,
    kind: Kind,
    names: tuple[str, ...],
    counts: tuple[Fraction, ...],
    minutes: Fraction | None,
    findings: Findings,
    *,
    units: str,
) -> bool:
    """Whether count and minutes suit what the row is about."""
    if kind in ("board", "edging"):
        if len(counts) != 1:
            what = "sheets" if kind == "board" else "feet" if units == "inch" else "metres"
            told = _count_said(str(row.values["count"])) if counts else BLANK
            wanted = f"Count: how many {what} of {names[0]} were used"
            findings.problem(row.at.place("Count"), found=told, expected=wanted, mend="type the number")
        return len(counts) == 1
    if minutes is None:
        findings.problem(
            row.at.place("Minutes"),
            found=BLANK,
            expected=_above_0("minutes"),
            mend="type how long it took, in minutes, or take the row out",
        )
        return False
    if (len(counts) > 1 and len(counts) != len(names)) or (kind == "stage" and counts):
        findings.problem(
            row.at.place("Count"),
            found=_count_said(str(row.values["count"])),
            expected="Count: blank for all that the job counts"
            + ("" if kind == "stage" else "; one number; or one for each step with + between them"),
            mend="leave it blank for a whole stage" if kind == "stage" else "give each step its number, as in 40 + 28.5",
        )
        return False
    return True


def _count_said(typed: str) -> str:
    """What stands in Count, which is read as text though it mostly holds a number."""
    number = read_cell(Cell(typed), replace(_BY_FIELD["count"], at_least="-1000000000"), units="mm")
    return said(typed) if isinstance(number, Wrong) else f"the number {typed}"


def _above_0(field: str) -> str:
    return expected(replace(_BY_FIELD[field], above_0=True), units="mm")
