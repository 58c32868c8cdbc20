"""The header row of a sheet in, which column of the form stands where out; what is neither known nor misspelt is the user's own."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import field
from typing import Any

from estimator.model.dataclass import dataclass
from estimator.model.form import Column, Sheet, unit_words
from estimator.model.problems import Place, Row
from estimator.reading.cell_words import as_text
from estimator.reading.findings import Findings
from estimator.reading.names import close_to, fold_header, unit_in_brackets
from estimator.reading.raw_cells import Cell, RawSheet, column_letter
from estimator.reading.typed_numbers import Units, shortened

_LOOK_FOR_HEADERS_IN_ROWS = 30
_SOURCE_LENGTHS = ("length", "lengths")
_MONEY = frozenset({"price", "low_price", "high_price", "price_per_m", "low_price_per_m", "high_price_per_m", "priced_on"})
_BOUGHT = frozenset({"charge", "on_hand", "on_hand_m", "expected_yield_share", "roll_length_m", "spare_share", "overhang_mm"})
_SIZELESS: Mapping[str, frozenset[str]] = {
    "Boards": _MONEY | _BOUGHT | {"density_kg_m3", "e_modulus_n_mm2"},
    "Edgings": _MONEY | _BOUGHT | {"material", "by_hand", "send_out", "adhesive"},
    "Cabinets": frozenset({"qty", "tax_rate_share", "note"}),
    "Loose parts": frozenset({"qty", "tax_rate_share", "note"}),
    "Finishes": frozenset({"words"}),
}
"""Columns on which no size of a part rests, by sheet."""


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

    def has_sizes(self, sheet: str) -> bool:
        """Whether all that sizes rest on could be read: the engine can look at the row though a price in it is wrong."""
        return self.bad <= _SIZELESS.get(sheet, frozenset())


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


def role_columns(table: Table) -> set[int]:
    """A row of Finishes is not blank when only its boards and edgings are filled in."""
    return {number for number, header in table.further.items() if _is_role(header)} if table.sheet.name == "Finishes" else set()


def _is_role(header: str) -> bool:
    return fold_header(header).endswith((" board", " edging"))


def header_row(raw: RawSheet, known: set[str], *, roles: bool = False) -> int:
    """The row of the headers: the first with two known ones (a title may stand above), else the first that is not blank."""
    numbers = sorted(raw.rows)
    for number in numbers[:_LOOK_FOR_HEADERS_IN_ROWS]:
        headers = {fold_header(cell.text) for cell in raw.rows[number].values() if cell.holds == "text"}
        hits = len(headers & known)
        if roles:
            hits += sum(map(_is_role, headers))
        if hits >= 2:
            return number
    return next((number for number in numbers if raw.rows[number]), 0)


def find_columns(raw: RawSheet, table: Table, columns: Mapping[str, Column], findings: Findings) -> dict[int, Column]:
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
                cell_place(table, number),
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


def cell_place(table: Table, column: int) -> Place:
    return Place(table.book, table.name, f"{column_letter(column)}{table.header_row}")


def _is_misspelt(number: int, typed: str, table: Table, findings: Findings) -> bool:
    if table.sheet.name == "Finishes" and _is_role(typed):
        return False
    absent = [column.header for column in table.sheet.columns if column.header not in table.letters]
    guess = close_to(fold_header(typed), absent)
    if guess is None:
        return False
    findings.problem(
        cell_place(table, number),
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
            cell_place(table, number),
            f"the header says {said}, but this workbook's Units are {table.units}: bare numbers here are read as "
            f"{unit_words(column.what, units=table.units)}",
        )
