"""Workbooks drawn as small text tables: one line a row, a bar between cells; what stands before a colon says how a cell is stored."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date, time
from pathlib import Path
from typing import Any

from openpyxl import Workbook
from openpyxl.cell.cell import Cell

Tables = Mapping[str, str]


def draw(path: Path, tables: Tables, *, changes: Mapping[tuple[str, str], str | None] | None = None) -> Path:
    """A workbook with one sheet a table; `changes` then sets single cells ((sheet, cell) -> content, None clears)."""
    book = Workbook()
    book.remove(book.active)
    for name, table in tables.items():
        sheet = book.create_sheet(name)
        for number, line in enumerate(table.strip("\n").splitlines(), start=1):
            for column, content in enumerate(line.split("|"), start=1):
                store(sheet.cell(number, column), content.strip())
    for (name, cell), content in (changes or {}).items():
        target = book[name][cell]
        target.value = None
        target.number_format = "General"
        if content is not None:
            store(target, content)
    book.save(path)
    return path


def store(cell: Cell, content: str) -> None:
    """One cell: `text:0015`, `percent:0.15`, `date:2031-02-03`, `time:12:30`, `bool:true`, `error:#REF!`, `=1+1`, a number, or text."""
    kind, colon, rest = content.partition(":")
    value: Any = content
    if colon and kind in ("text", "percent", "date", "time", "bool", "error", "number"):
        value = {
            "text": lambda: rest, "percent": lambda: float(rest), "date": lambda: date.fromisoformat(rest), "time": lambda: time.fromisoformat(rest),
            "bool": lambda: rest == "true", "error": lambda: rest, "number": lambda: float(rest),
        }[kind]()  # fmt: skip
        cell.value = value
        if kind == "percent":
            cell.number_format = "0.00%"
        elif kind == "text":
            cell.data_type = "s"
        elif kind == "error":
            cell.data_type = "e"
        elif kind == "date":
            cell.number_format = "yyyy-mm-dd"
        return
    if not content:
        return
    try:
        value = int(content) if content.lstrip("-").isdigit() else float(content)
    except ValueError:
        value = content
    cell.value = value


def redraw_with_shared_texts(path: Path, target: Path) -> Path:
    """The same workbook as another library writes it: texts apart from the sheets, in one shared list."""
    import xlsxwriter
    from openpyxl import load_workbook

    old, new = load_workbook(path), xlsxwriter.Workbook(target)
    percent, day = new.add_format({"num_format": "0.0%"}), new.add_format({"num_format": "d mmm yyyy"})
    for sheet in old:
        copy = new.add_worksheet(sheet.title)
        for row in sheet.iter_rows():
            for cell in row:
                at = (cell.row - 1, cell.column - 1)
                if cell.is_date:
                    copy.write_datetime(*at, cell.value, day)
                elif isinstance(cell.value, str):
                    copy.write_string(*at, cell.value)
                elif cell.value is not None:
                    copy.write(*at, cell.value, percent if "%" in cell.number_format else None)
    new.close()
    return target
