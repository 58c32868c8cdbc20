"""Workbooks held in memory as the reader finds them in a file: one cell is changed, and the whole is read in a few milliseconds.

That a table held here is what comes out of the same table drawn into a file is a test of its own (`test_held.py`).
"""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from functools import cache
from typing import Any

from estimator.model.records import Job
from estimator.model.refusal import Refusal
from estimator.reading.findings import Findings
from estimator.reading.raw_cells import Cell, RawSheet, column_number
from estimator.reading.workbook import _read
from tests.reading.base_books import ONE_BOOK
from tests.reading.drawing import Tables

Changes = Mapping[tuple[str, str], str | None]


class Held:
    """Stands for an opened workbook."""

    def __init__(self, name: str, tables: Tables, changes: Changes, *, starts_1904: bool = False) -> None:
        self.name, self.starts_1904 = name, starts_1904
        self.sheets = {tab: sheet_of(tab, table) for tab, table in tables.items()}
        for tab in {tab for tab, _ in changes}:
            old = self.sheets[tab]
            self.sheets[tab] = RawSheet(tab, old.hidden, {number: dict(cells) for number, cells in old.rows.items()})
        for (tab, place), content in changes.items():
            rows, cell = self.sheets[tab].rows, cell_of(content or "")
            row, column = int(place.lstrip("ABCDEFGHIJKLMNOPQRSTUVWXYZ")), column_number(place)
            rows.setdefault(row, {}).pop(column, None)
            if cell is not None:
                rows[row][column] = cell
            if not rows[row]:
                del rows[row]

    def read(self, tab: str) -> RawSheet:
        return self.sheets[tab]


@cache
def sheet_of(tab: str, table: str) -> RawSheet:
    """One line a row, a bar between cells."""
    sheet = RawSheet(tab, hidden=False)
    for number, line in enumerate(table.strip("\n").splitlines(), start=1):
        cells = {column: cell for column, content in enumerate(line.split("|"), start=1) if (cell := cell_of(content.strip()))}
        if cells:
            sheet.rows[number] = cells
    return sheet


def cell_of(content: str) -> Cell | None:
    """A cell from what `drawing.store` understands: `percent:0.15`, `date:2031-02-03`, `=1+1`, a number, or text."""
    kind, _, rest = content.partition(":")
    match kind:
        case "text":
            return Cell(rest)
        case "percent":
            return Cell(rest, "number", "percent")
        case "number":
            return Cell(rest, "number")
        case "date":
            return Cell(str((date.fromisoformat(rest) - date(1899, 12, 30)).days), "number", "date")
        case "time":
            hours, minutes = rest.split(":")
            return Cell(repr((int(hours) * 60 + int(minutes)) / 1440), "number", "time")
        case "bool":
            return Cell(str(int(rest == "true")), "yes or no")
        case "error":
            return Cell(rest, "error")
    if content.startswith("="):
        return Cell("", "no answer", "", True)
    return (Cell(content, "number") if _is_number(content) else Cell(content)) if content else None


def _is_number(content: str) -> bool:
    try:
        return bool(float(content)) or True
    except ValueError:
        return False


def read(tables: Tables = ONE_BOOK, changes: Changes | None = None, *, shop: Tables | None = None, name: str = "job.xlsx", **how: Any) -> Job | Refusal:
    """A job from tables, with the shop's book beside it where tables are given for that."""
    beside: Any = Held("shop.xlsx", shop, {}) if shop else None
    opened: Any = Held(name, tables, changes or {}, **how)
    return _read(opened, beside, Findings(), shop_unread=False)


def job_of(tables: Tables = ONE_BOOK, changes: Changes | None = None, **more: Any) -> Job:
    answer = read(tables, changes, **more)
    assert isinstance(answer, Job), "\n".join(map(str, answer.problems))
    return answer


def told(tables: Tables = ONE_BOOK, changes: Changes | None = None, **more: Any) -> str:
    """Every problem in its whole words; blank where there is none."""
    answer = read(tables, changes, **more)
    return "\n".join(map(str, answer.problems)) if isinstance(answer, Refusal) else ""


def problems_of(changes: Mapping[str, str | None], *beside: str, shop: Tables | None = None) -> list[str]:
    """`Sheet Cell: found | expected | mend` of the correct book with some cells changed ("Boards H3").

    Only the sheets that are changed, and those named beside them, are read: that is quicker, and what other sheets lack is not told.
    """
    cells = {(place.rpartition(" ")[0], place.rpartition(" ")[2]): content for place, content in changes.items()}
    tables = {name: table for name, table in ONE_BOOK.items() if name in beside or name in {sheet for sheet, _ in cells}}
    answer = read(tables, cells, shop=shop)
    told = answer.problems if isinstance(answer, Refusal) else ()
    return [f"{one.place.sheet} {one.place.cell}: {one.found} | {one.expected} | {one.mend}" for one in told if one.place.sheet in tables or not one.place.sheet]


def remarks(tables: Tables = ONE_BOOK, changes: Changes | None = None, **more: Any) -> list[str]:
    return [str(remark) for remark in read(tables, changes, **more).remarks]
