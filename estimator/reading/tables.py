"""A raw sheet and its form in, rows of values out: columns found by header, each cell read for its column."""

from __future__ import annotations

from estimator.model.form import Column, Sheet, expected
from estimator.model.problems import Place, Row
from estimator.reading.cells import read_cell
from estimator.reading.column_checks import remark_merged, remark_point, tell_of_columns
from estimator.reading.columns import ReadRow, Table, find_columns, header_row, role_columns
from estimator.reading.findings import BLANK, Findings
from estimator.reading.names import fold
from estimator.reading.raw_cells import Cell, RawSheet
from estimator.reading.typed_numbers import Units, Wrong

MOST_ROWS = 5_000
MOST_ROWS_OF = {"Cabinets": 2_000, "Loose parts": 2_000, "Options": 200, "Time log": 100_000}
"""Rows that make parts take 8 ms each until they are printed, and each option is a whole job once more; a log grows with the years."""


def read_table(raw: RawSheet, sheet: Sheet, *, book: str, units: Units, starts_1904: bool, findings: Findings) -> Table:
    """Every row of a sheet, read column by column; problems go to the findings and the row stays, marked."""
    table = Table(sheet, book, raw.name, units)
    columns = {fold(column.header): column for column in sheet.columns}
    table.header_row = header_row(raw, set(columns), roles=bool(sheet.name == "Finishes"))
    if not table.header_row:
        return table
    places = find_columns(raw, table, columns, findings)
    telling = {number for number, column in places.items() if column.field != "note"} | role_columns(table)
    for number in sorted(raw.rows):
        if number <= table.header_row:
            continue
        cells = raw.rows[number]
        if any(column in cells for column in telling):
            if len(table.rows) == MOST_ROWS_OF.get(sheet.name, MOST_ROWS):
                _tell_too_many(raw, table, number, findings)
                break
            table.rows.append(_read_row(cells, number, table, places, starts_1904=starts_1904, findings=findings))
    tell_of_columns(raw, table, findings)
    remark_merged(raw, table, findings)
    return table


def _tell_too_many(raw: RawSheet, table: Table, number: int, findings: Findings) -> None:
    splits = table.sheet.name in ("Cabinets", "Loose parts")
    findings.problem(
        Place(table.book, raw.name, f"row {number}"),
        found=f"more than {len(table.rows):,} rows",
        expected=f"{table.sheet.name}: at most {len(table.rows):,} rows",
        mend="split the job into several workbooks" if splits else "take out the rows that no job uses",
    )


def _read_row(
    cells: dict[int, Cell], number: int, table: Table, places: dict[int, Column], *, starts_1904: bool, findings: Findings
) -> ReadRow:
    at = Row(table.book, table.name, number, table.letters)
    by_field = {column.field: cells[where] for where, column in places.items() if where in cells}
    row = ReadRow(at, {}, set(), frozenset(by_field), {table.further[n]: cell for n, cell in cells.items() if n in table.further})
    for column in table.sheet.columns:
        cell = by_field.get(column.field)
        value = read_cell(cell, column, units=table.units, starts_1904=starts_1904)
        row.values[column.field] = value
        if cell is not None and cell.holds == "text":
            remark_point(cell, column, at.place(column.header), findings)
        if cell is None and column.needed:
            row.bad.add(column.field)
            if column.header in table.letters and column.field not in table.absent:
                findings.problem(
                    at.place(column.header),
                    found=BLANK,
                    expected=expected(column, units=table.units),
                    mend=f"fill it in ({column.hint})",
                )
        elif isinstance(value, Wrong):
            row.bad.add(column.field)
            findings.wrong(at.place(column.header), value, expected=expected(column, units=table.units))
    return row
