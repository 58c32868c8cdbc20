"""A raw sheet and its form in, rows of values out: columns found by header, each cell read for its column."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from estimator.model.form import Column, Sheet, expected, unit_words
from estimator.model.problems import Place, Row
from estimator.reading.cell_words import as_text
from estimator.reading.cells import read_cell
from estimator.reading.findings import BLANK, Findings
from estimator.reading.names import close_to, fold, fold_header, unit_in_brackets
from estimator.reading.raw_cells import Cell, RawSheet, column_letter
from estimator.reading.typed_numbers import Units, Wrong, shortened

_LOOK_FOR_HEADERS_IN_ROWS = 30
_SOURCE_LENGTHS = ("length", "lengths")


@dataclass(slots=True)
class ReadRow:
    """One row: its values by field, which of them could not be read, and which cells were filled in."""

    at: Row
    values: dict[str, Any]
    bad: set[str]
    filled: frozenset[str]
    further: dict[str, Cell]
    """Cells under the user's own headers, by the header as typed."""

    @property
    def sound(self) -> bool:
        return not self.bad


@dataclass(slots=True)
class Table:
    """A sheet of rows as it was found in a book."""

    sheet: Sheet
    book: str
    name: str
    units: Units
    header_row: int = 0
    letters: dict[str, str] = field(default_factory=dict)
    further: dict[int, str] = field(default_factory=dict)
    rows: list[ReadRow] = field(default_factory=list)
    absent: frozenset[str] = frozenset()
    """Needed columns that the sheet does not have, by field."""

    @property
    def place(self) -> Place:
        return Place(self.book, self.name)

    def header_place(self, header: str) -> Place:
        return Place(self.book, self.name, f"{self.letters[header]}{self.header_row}")


def read_table(raw: RawSheet, sheet: Sheet, *, book: str, units: Units, starts_1904: bool, findings: Findings) -> Table:
    """Every row of a sheet, read column by column; problems go to the findings and the row stays, marked."""
    table = Table(sheet, book, raw.name, units)
    columns = {fold(column.header): column for column in sheet.columns}
    table.header_row = header_row(raw, set(columns), roles=bool(sheet.name == "Finishes"))
    if not table.header_row:
        return table
    places = _find_columns(raw, table, columns, findings)
    for number in sorted(raw.rows):
        if number <= table.header_row:
            continue
        cells = raw.rows[number]
        if any(column in cells for column, known in places.items() if known.field != "note"):
            table.rows.append(_read_row(cells, number, table, places, starts_1904=starts_1904, findings=findings))
    _tell_absent_columns(raw, table, findings)
    return table


def header_row(raw: RawSheet, known: set[str], *, roles: bool = False) -> int:
    """The row of the headers: the first with two known ones (a title may stand above), else the first that is not blank."""
    numbers = sorted(raw.rows)
    for number in numbers[:_LOOK_FOR_HEADERS_IN_ROWS]:
        headers = {fold_header(cell.text) for cell in raw.rows[number].values() if cell.holds == "text"}
        hits = len(headers & known)
        if roles:
            hits += sum(1 for header in headers if header.endswith((" board", " edging")))
        if hits >= 2:
            return number
    return next((number for number in numbers if raw.rows[number]), 0)


def _find_columns(raw: RawSheet, table: Table, columns: Mapping[str, Column], findings: Findings) -> dict[int, Column]:
    """Which column of the form stands where; what is neither known nor misspelt is the user's own."""
    places: dict[int, Column] = {}
    strange: list[tuple[int, str]] = []
    for number, cell in sorted(raw.rows[table.header_row].items()):
        typed = " ".join(as_text(cell).split())
        column = columns.get(fold_header(typed))
        if column is None:
            strange.append((number, typed))
        elif column.header in table.letters:
            first = f"{table.letters[column.header]}{table.header_row}"
            findings.problem(
                _cell_place(table, number),
                found=f"a second column named {column.header}",
                expected="one column of each name",
                mend=f"take this one or {first} out, or give it another name",
            )
        else:
            places[number] = column
            table.letters[column.header] = column_letter(number)
            _remark_other_unit(typed, column, table, number, findings)
    for number, typed in strange:
        if not _is_misspelt(number, typed, table, findings):
            table.further[number] = typed
            table.letters.setdefault(" ".join(typed.split()), column_letter(number))
    return places


def _cell_place(table: Table, column: int) -> Place:
    return Place(table.book, table.name, f"{column_letter(column)}{table.header_row}")


def _is_misspelt(number: int, typed: str, table: Table, findings: Findings) -> bool:
    if table.sheet.name == "Finishes" and fold_header(typed).endswith((" board", " edging")):
        return False
    absent = [column.header for column in table.sheet.columns if column.header not in table.letters]
    guess = close_to(fold_header(typed), absent)
    if guess is None:
        return False
    findings.problem(
        _cell_place(table, number),
        found=f"a column named {shortened(typed)}",
        expected=f"a column named {guess}, or a name unlike any of ours",
        mend=f"did you mean {guess}?",
    )
    table.absent |= {column.field for column in table.sheet.columns if column.header == guess}
    return True


def _remark_other_unit(typed: str, column: Column, table: Table, number: int, findings: Findings) -> None:
    said = {"mm": "mm", "inch": "inch", "inches": "inch", "in": "inch", '"': "inch", "cm": "cm", "m": "m"}.get(unit_in_brackets(typed))
    if said and column.what in _SOURCE_LENGTHS and said != table.units:
        findings.remark(
            _cell_place(table, number),
            f"the header says {said}, but this workbook's Units are {table.units}: bare numbers here are read as "
            f"{unit_words(column.what, units=table.units)}",
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
        if cell is None and column.needed:
            row.bad.add(column.field)
            if column.header in table.letters and column.field not in table.absent:
                findings.problem(
                    at.place(column.header),
                    found=BLANK,
                    expected=expected(column, units=table.units),
                    mend=f"fill it in: {column.hint}",
                )
        elif isinstance(value, Wrong):
            row.bad.add(column.field)
            findings.wrong(at.place(column.header), value, expected=expected(column, units=table.units))
    return row


def _tell_absent_columns(raw: RawSheet, table: Table, findings: Findings) -> None:
    """A needed column that is not there is one problem of the sheet, however many rows it has."""
    if not table.rows:
        return
    for column in table.sheet.columns:
        if not column.needed or column.header in table.letters or column.field in table.absent:
            continue
        nameless = _nameless_columns(raw, table)
        where = f"{column_letter(nameless[0])}{table.header_row}" if len(nameless) == 1 else f"row {table.header_row}"
        found = "a column of values without a name" if len(nameless) == 1 else f"no column named {column.header}"
        findings.problem(
            Place(table.book, table.name, where),
            found=found,
            expected=f"a column named {column.header}: {column.hint}",
            mend=f"type {column.header} above the column that holds it",
        )


def _nameless_columns(raw: RawSheet, table: Table) -> list[int]:
    named = raw.rows[table.header_row].keys()
    return sorted({column for row in table.rows for column in raw.rows[row.at.number] if column not in named})
