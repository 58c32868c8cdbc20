"""A sheet of names and values in, its items with their cells out: Job, Shop, Contract, Machine."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import field
from typing import Any, NamedTuple

from estimator.model.dataclass import dataclass
from estimator.model.form import Column, expected
from estimator.model.problems import Items, Place
from estimator.reading.cell_words import as_text
from estimator.reading.cells import read_cell
from estimator.reading.column_checks import remark_point
from estimator.reading.columns import header_row
from estimator.reading.findings import BLANK, Findings
from estimator.reading.names import close_to, fold_header
from estimator.reading.raw_cells import Cell, RawSheet, column_letter
from estimator.reading.typed_numbers import Units, Wrong, shortened


@dataclass(frozen=True, slots=True)
class Item:
    """One row: its name as typed, the cell of its value (None when blank) and where both stand."""

    typed: str
    value: Cell | None
    name_place: Place
    place: Place
    unit: str = ""


@dataclass(slots=True)
class ItemSheet:
    """A sheet of names and values as it was found in a book."""

    book: str
    name: str
    units: Units
    starts_1904: bool
    items: dict[str, Item] = field(default_factory=dict)
    complete: bool = True
    """False when a header or the name of a value cannot be read: what seems to lack may stand there."""

    def item(self, header: str) -> Item | None:
        return self.items.get(item_key(header))


def item_key(name: str) -> str:
    """What is one name: capitals, blanks, a unit in brackets do not matter, and `gap_side` is `gap side`."""
    return " ".join(fold_header(name).replace("_", " ").split())


def read_items(raw: RawSheet, *, book: str, units: Units, starts_1904: bool, findings: Findings, value_column: int = 0) -> ItemSheet:
    """Every named row of a sheet with the headers Item and Value, or with another column of values."""
    sheet = ItemSheet(book, raw.name, units, starts_1904)
    top = header_row(raw, {"item", "value", "unit", "note"})
    headers = _headers(raw, top)
    if not top or not _has_its_headers(raw, top, headers, sheet, findings):
        sheet.complete = not top
        return sheet
    where = _Columns(headers["item"], value_column or headers["value"], headers.get("unit", 0))
    for number in sorted(raw.rows):
        if number > top and where.item in raw.rows[number]:
            _add(sheet, raw, number, where, findings)
        elif number > top and where.value in raw.rows[number]:
            sheet.complete = False
            _tell_nameless(sheet, raw, number, where, findings)
    return sheet


class _Columns(NamedTuple):
    item: int
    value: int
    unit: int


def _headers(raw: RawSheet, top: int) -> dict[str, int]:
    """Column numbers by header; of two alike the first counts."""
    headers: dict[str, int] = {}
    for number, cell in sorted(raw.rows.get(top, {}).items()):
        headers.setdefault(fold_header(as_text(cell)), number)
    return headers


def further_value_columns(raw: RawSheet, first_item: str) -> dict[str, int]:
    """Further columns, headed by a name, that hold a number in the row of the first item."""
    top = header_row(raw, {"item", "value", "unit", "note"})
    headers = _headers(raw, top)
    item = headers.get("item", 0)
    row = next(
        (cells for n, cells in raw.rows.items() if n > top and item in cells and fold_header(as_text(cells[item])) == first_item),
        {},
    )
    named = {as_text(raw.rows[top][number]): number for key, number in headers.items() if key not in _OWN_HEADERS}
    return {name: number for name, number in named.items() if number in row and row[number].holds == "number"}


_OWN_HEADERS = ("item", "value", "unit", "note")


def _has_its_headers(raw: RawSheet, top: int, headers: dict[str, int], sheet: ItemSheet, findings: Findings) -> bool:
    for needed in ("item", "value"):
        if needed in headers:
            continue
        title = needed.title()
        guess = next((number for name, number in headers.items() if close_to(name, (needed,))), None)
        findings.problem(
            Place(sheet.book, raw.name, f"{column_letter(guess)}{top}" if guess else f"row {top}"),
            found=f"a column named {shortened(as_text(raw.rows[top][guess]))}" if guess else f"no column named {title}",
            expected=f"a column named {title}: the headers are Item, Value and Note",
            mend=f"did you mean {title}?" if guess else f"name the column {title}",
        )
    return "item" in headers and "value" in headers


def _add(sheet: ItemSheet, raw: RawSheet, number: int, where: _Columns, findings: Findings) -> None:
    row = raw.rows[number]
    typed = " ".join(as_text(row[where.item]).split())
    name_place = Place(sheet.book, raw.name, f"{column_letter(where.item)}{number}")
    place = Place(sheet.book, raw.name, f"{column_letter(where.value)}{number}")
    key = item_key(typed)
    first = sheet.items.get(key)
    if first is not None:
        findings.problem(
            name_place, found=f"a second row named {shortened(typed)}", expected="one row of each name",
            mend=f"take this one or {first.name_place.cell} out",
        )  # fmt: skip
        return
    unit = as_text(row[where.unit]) if where.unit in row else ""
    sheet.items[key] = Item(typed, row.get(where.value), name_place, place, unit)


def _tell_nameless(sheet: ItemSheet, raw: RawSheet, number: int, where: _Columns, findings: Findings) -> None:
    findings.problem(
        Place(sheet.book, raw.name, f"{column_letter(where.item)}{number}"), found="a value whose name is blank",
        expected="the name of the item", mend=f"name it, or take {column_letter(where.value)}{number} out",
    )  # fmt: skip


def tell_misspelt(
    found: ItemSheet, known: Iterable[str], findings: Findings, *, spared: Callable[[Item, str], bool] = lambda item, guess: False
) -> set[str]:
    """A problem for each row whose name is close to a known one that is absent; gives the names that were meant."""
    by_key = {item_key(name): name for name in known}
    absent = {key: name for key, name in by_key.items() if key not in found.items}
    meant: set[str] = set()
    for key, item in found.items.items():
        if key in by_key:
            continue
        guess = close_to(key, absent.values())
        if guess is None or spared(item, guess):
            continue
        meant.add(guess)
        findings.problem(
            item.name_place,
            found=f"a row named {shortened(item.typed)}",
            expected=f"a row named {guess}, or a name unlike any of ours",
            mend=f"did you mean {guess}?",
        )
    return meant


@dataclass(slots=True)
class ReadItems:
    """The values of a sheet of names and values, by field; which could not be read; where each stands."""

    values: dict[str, Any]
    bad: set[str]
    at: Items
    cells: dict[str, Place]
    filled: set[str]


def read_values(
    columns: Iterable[Column], sources: tuple[ItemSheet, ...], *, home: Place, findings: Findings, meant: Iterable[str] = ()
) -> ReadItems:
    """Each item from the first sheet that gives a value, else its default; a needed one that nobody gives is a problem."""
    values: dict[str, Any] = {}
    bad: set[str] = set()
    filled: set[str] = set()
    cells: dict[str, Place] = {}
    for column in columns:
        found = [(source, item) for source in sources if (item := source.item(column.header)) is not None]
        source, item = next(((s, i) for s, i in found if i.value is not None), (found[0] if found else (None, None)))
        place = item.place if item else Place(home.workbook, home.sheet, column.header)
        if item:
            cells[column.header] = place
        units: Units = source.units if source else "mm"
        cell = item.value if item else None
        value = read_cell(cell, column, units=units, starts_1904=source.starts_1904 if source else False)
        values[column.field] = value
        if cell is not None and cell.holds == "text":
            remark_point(cell, column, place, findings)
        if cell is not None:
            filled.add(column.field)
        if isinstance(value, Wrong):
            bad.add(column.field)
            findings.wrong(place, value, expected=expected(column, units=units))
        elif cell is None and column.needed:
            bad.add(column.field)
            if column.header not in meant and all(source.complete for source in sources):
                findings.problem(
                    place,
                    found=BLANK if item else f"no row named {column.header}",
                    expected=expected(column, units=units),
                    mend=f"fill it in ({column.hint})" if item else f"add a row {column.header} ({column.hint})",
                )
    return ReadItems(values, bad, Items(home.workbook, home.sheet, cells), cells, filled)
