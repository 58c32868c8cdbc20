"""What is worth telling about a sheet beside its cells: columns that lack, merged cells, a point that may be taken for thousands."""

from __future__ import annotations

import re

from estimator.model.form import Column
from estimator.model.problems import Place
from estimator.reading.columns import Table, cell_place
from estimator.reading.findings import Findings
from estimator.reading.raw_cells import Cell, RawSheet, column_number


def tell_of_columns(raw: RawSheet, table: Table, findings: Findings) -> None:
    """What is wrong with whole columns: a needed one that is not there, values without a name above them."""
    below = [number for number in raw.rows if number > table.header_row and raw.rows[number]]
    if not below:
        return
    absent = [
        column
        for column in table.sheet.columns
        if column.needed and column.header not in table.letters and column.field not in table.absent
    ]
    named = {column_number(letter) for letter in table.letters.values()}
    typed = raw.rows[table.header_row].keys()
    table.absent |= {column.field for column in absent}
    nameless = sorted({column for number in below for column in raw.rows[number] if column not in typed})
    inside = [column for column in nameless if column < max(named, default=0)]
    if len(absent) == 1 and len(nameless) == 1:
        _tell_nameless(table, nameless[0], absent[0].header, findings)
    elif absent:
        _tell_absent(table, absent, findings)
    else:
        for column in inside:
            _tell_nameless(table, column, "", findings)
        for column in set(nameless) - set(inside):
            findings.remark(cell_place(table, column), "values without a name above them are not read: type a name there, or take them out")


def _tell_nameless(table: Table, column: int, header: str, findings: Findings) -> None:
    findings.problem(
        cell_place(table, column),
        found="a column of values without a name",
        expected=f"a column named {header}" if header else "a name above every column",
        mend=f"type {header} above it" if header else "type its name above it, or take its values out",
    )


def _tell_absent(table: Table, absent: list[Column], findings: Findings) -> None:
    names = [column.header for column in absent]
    known = [column for column in table.sheet.columns if column.header in table.letters]
    findings.problem(
        Place(table.book, table.name, f"row {table.header_row}"),
        found=f"no column named {' and none named '.join(names)}" if known else "headers of which we know none",
        expected=f"the headers {', '.join(column.header for column in table.sheet.columns)}"
        if not known
        else "; ".join(f"{column.header}: {column.hint}" for column in absent),
        mend=f"type {' and '.join(names)} above the column that holds it"
        if known
        else "name the columns as in the blank form (estimator blank writes it)",
    )


def remark_merged(raw: RawSheet, table: Table, findings: Findings) -> None:
    """Cells that are merged over several rows hold a value in the first of them only."""
    for merged in raw.merged:
        first, _, last = merged.partition(":")
        top, bottom = (int("0" + cell.lstrip("ABCDEFGHIJKLMNOPQRSTUVWXYZ")) for cell in (first, last or first))
        if table.header_row < top < bottom and top in raw.rows:
            findings.remark(
                Place(table.book, table.name, first),
                f"cells {merged} are merged: only {first} is read, the rows below it are blank there. "
                "Unmerge them, and type into each row what holds for it"
            )


_POINT_OR_THOUSANDS = re.compile(r"[1-9]\d{0,2}\.\d{3}")


def remark_point(cell: Cell, column: Column, place: Place, findings: Findings) -> None:
    """A text such as 1.500 is read with a decimal point; some countries mean 1500 by it."""
    if column.what in _WORDS or not _POINT_OR_THOUSANDS.fullmatch(cell.text.strip()):
        return
    typed = cell.text.strip()
    findings.remark(
        place, f"{typed} is read as {typed.rstrip('0').rstrip('.')}; if {typed.replace('.', '')} is meant, type it without the point"
    )


_WORDS = ("text", "name", "choice", "yes no", "mark", "date", "banding", "currency")
