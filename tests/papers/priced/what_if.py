"""A priced workbook in, the same with one live figure changed out; and the result sheets of two workbooks compared."""

from __future__ import annotations

import io
import xml.etree.ElementTree as ET
import zipfile
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from random import Random

from openpyxl import Workbook, load_workbook
from python_calamine import CalamineWorkbook

from estimator.batch import price_book
from estimator.model.results import Estimate
from estimator.papers.priced.letters import column_letters
from estimator.papers.priced_workbook import PricedBook, priced_book

_MAIN = "{http://schemas.openxmlformats.org/spreadsheetml/2006/main}"
_ID = "{http://schemas.openxmlformats.org/officeDocument/2006/relationships}id"
WAY = "Way to price"
FILLED_IN = {
    "Contingency": 5, "Least price": 400, "Round total to": 10, "Working days available": 6, "Set-up": 7.5, "Spare": 5, "Discount": 25,
    "Delivery charge": 40, "Delivery tax rate": 6, "Direct rate": 41, "Overhead rate": 12.5, "Allowance": 8, "On-cost": 30, "Rating": 90,
    "Minimum charge": 55, "Charge per part": 0.25, "Added length per edge": 15, "Cost each": 12, "Minutes each": 20, "Price": 3.2,
}  # fmt: skip
"""What is typed where nothing stood."""
WHOLE = ("Trips", "Lead time", "Working days available")
OF_THE_PRICING = {"Figures in use": "ADFH", "What has changed": "ABCD", "As priced": "*", "Larger and smaller": "*"}
"""Columns that tell of the pricing itself: what was typed, what it was, whether it has changed."""


@dataclass(frozen=True)
class Change:
    sheet: str
    cell: str
    figure: str
    before: float
    after: float | str

    def __str__(self) -> str:
        return f"{self.figure} at {self.sheet} {self.cell}: {self.before} to {self.after}"


def priced(path: Path, shop: Path | None = None) -> tuple[Estimate, bytes]:
    """A workbook of a job, priced and filled in."""
    estimate = price_book(path, shop=shop)
    assert isinstance(estimate, Estimate), estimate
    second = shop or path.with_name("shop.xlsx")
    book = priced_book(
        estimate,
        user_book=path.read_bytes(),
        shop_book=second.read_bytes() if second.exists() else None,
    )
    assert isinstance(book, PricedBook), book
    return estimate, book.book


def live_figures(book: bytes) -> list[tuple[str, str, str, float]]:
    """Sheet, cell, figure and number of every figure that was typed as a number."""
    return _live_figures(load_workbook(io.BytesIO(book)))


def _live_figures(opened: Workbook) -> list[tuple[str, str, str, float]]:
    found = []
    for row in opened["Figures in use"].iter_rows(min_row=6):
        place, figure, typed = row[0].value, row[2].value, row[3].value
        if place and figure and isinstance(typed, int | float) and not isinstance(typed, bool):
            name, _, cell = str(place).rpartition(" ")
            found.append((name, cell, str(figure), float(typed)))
    return found


def drawn_change(book: bytes, rng: Random) -> Change:
    """One live input: a figure larger or smaller, a blank filled in, a row's tax rate, the freed hour, or another way of banding."""
    kinds: dict[str, list[Change]] = {}
    for changes in changes_by_kind(load_workbook(io.BytesIO(book)), rng).values():
        kinds.setdefault(changes[0].figure, []).extend(changes)
    return rng.choice(kinds[rng.choice(sorted(kinds))])


def changes_by_kind(opened: Workbook, rng: Random) -> dict[str, list[Change]]:
    """Every change of a live input that can be made in a book, by sheet and figure."""
    kinds: dict[str, list[Change]] = {}
    for change in (*_larger_or_smaller(opened, rng), *_filled_in(opened), *_rates_of_rows(opened), *_other_ways(opened), *_hours(opened)):
        kinds.setdefault(f"{change.sheet} > {change.figure}", []).append(change)
    return kinds


def watched_by_kind(opened: Workbook) -> dict[str, list[tuple[str, str]]]:
    """Sheet and first cell of every column or item that decides sizes or counts, by sheet and header."""
    kinds: dict[str, list[tuple[str, str]]] = {}
    for row in opened["What has changed"].iter_rows(min_row=6):
        if row[2].value:
            sheet, _, cell = str(row[2].value).rpartition(" ")
            kinds.setdefault(f"{row[0].value} > {str(row[1].value).partition(':')[0]}", []).append((sheet, cell))
    return kinds


def _larger_or_smaller(opened: Workbook, rng: Random) -> Iterator[Change]:
    for sheet, cell, figure, before in _live_figures(opened):
        after = round(before * rng.choice((0.6, 0.8, 0.9, 1.1, 1.25, 1.5)), 4)
        if figure in WHOLE:
            after = before + rng.choice((1, 2))
        elif before > 1 and after < 1:
            after = before + 1
        yield Change(sheet, cell, figure, before, after)


def _filled_in(opened: Workbook) -> Iterator[Change]:
    for row in opened["Figures in use"].iter_rows(min_row=6):
        place, figure, typed = row[0].value, row[2].value, row[3].value
        if place and figure in FILLED_IN and typed in (None, "") and "not in your sheet" not in str(row[7].value):
            name, _, cell = str(place).rpartition(" ")
            yield Change(name, cell, f"{figure}, blank before", 0, FILLED_IN[figure])


def _rates_of_rows(opened: Workbook) -> Iterator[Change]:
    """A line's own tax rate, brought to the one of another line, or to a new one."""
    for name in ("Cabinets", "Loose parts", "Extras"):
        if name not in opened.sheetnames:
            continue
        heads = [cell for row in opened[name].iter_rows(max_row=8) for cell in row if str(cell.value).strip().casefold() == "tax rate"]
        for cell in (cell for head in heads[:1] for cell, in opened[name].iter_rows(
            min_row=head.row + 1, min_col=head.column, max_col=head.column
        )):  # fmt: skip
            if isinstance(cell.value, int | float):
                share = "%" in cell.number_format
                yield Change(name, cell.coordinate, "Tax rate of a row", cell.value, 0.19 if share else 19)


def _other_ways(opened: Workbook) -> Iterator[Change]:
    ways = opened["Ways of banding"]
    for row in ways.iter_rows(min_row=12):
        if isinstance(row[1].value, int) and row[0].value:
            yield Change("Ways of banding", "B5", WAY, 0, row[0].value)


def _hours(opened: Workbook) -> Iterator[Change]:
    for row in opened["Figures in use"].iter_rows(min_row=6):
        if row[2].value == "Value of a freed hour" and row[0].value and " " in str(row[0].value):
            name, _, cell = str(row[0].value).rpartition(" ")
            for value in ("idle", "wage", "full rate", 17.5):
                yield Change(name, cell, "Value of a freed hour", 0, value)


def asked_for(book: bytes, way: str) -> bytes:
    """The workbook with a way of banding written in Job > Banding, as a fresh run takes it."""
    opened = load_workbook(io.BytesIO(book))
    job = opened["Job"]
    head = next(cell for row in job.iter_rows(max_row=8) for cell in row if str(cell.value).strip().casefold() == "item")
    value = next(cell.column for cell in job[head.row] if str(cell.value).strip().casefold() == "value")
    own = (row for row in range(head.row + 1, job.max_row + 1) if str(job.cell(row, head.column).value).strip().casefold() == "banding")
    at = next(own, job.max_row + 1)
    job.cell(at, head.column).value = "Banding"
    job.cell(at, value).value = way.removeprefix("send out: ")
    memory = io.BytesIO()
    opened.save(memory)
    return memory.getvalue()


def changed(book: bytes, change: Change) -> bytes:
    """The workbook with the figure changed, as an owner would change it."""
    return with_value(load_workbook(io.BytesIO(book)), change.sheet, change.cell, change.after)


def with_value(opened: Workbook, sheet: str, cell: str, value: object) -> bytes:
    """The workbook with another value in one cell; the opened one is as it was afterwards."""
    memory, kept = io.BytesIO(), opened[sheet][cell].value
    opened[sheet][cell].value = value
    opened.save(memory)
    opened[sheet][cell].value = kept
    return memory.getvalue()


def result_sheets(book: bytes) -> dict[str, dict[str, object]]:
    """The values of our sheets, by sheet and cell."""
    opened = load_workbook(io.BytesIO(book), data_only=True)
    ours = [sheet for sheet in opened if "estimator_result_sheet" in sheet.defined_names]
    return {
        sheet.title: {cell.coordinate: cell.value for row in sheet.iter_rows() for cell in row if cell.value is not None}
        for sheet in ours
    }


def result_sheets_quickly(book: bytes) -> dict[str, dict[str, object]]:
    """The same by a faster reader, which shows a cell with an error as blank: so errors are looked for in the sheets as they are saved."""
    with zipfile.ZipFile(io.BytesIO(book)) as package:
        root = ET.fromstring(package.read("xl/workbook.xml"))
        rels = ET.fromstring(package.read("xl/_rels/workbook.xml.rels"))
        targets = {line.get("Id"): str(line.get("Target")) for line in rels}
        lines = [(str(line.get("name")), targets[line.get(_ID)]) for line in root.iter(f"{_MAIN}sheet")]
        marks = (line for line in root.iter(f"{_MAIN}definedName") if line.get("name") == "estimator_result_sheet")
        ours = [lines[int(str(mark.get("localSheetId")))] for mark in marks]
        errors = [name for name, target in ours if b' t="e"' in package.read(f"xl/{target.removeprefix('/xl/')}")]
    if errors:
        return result_sheets(book)
    opened = CalamineWorkbook.from_filelike(io.BytesIO(book))
    return {
        name: {
            f"{column_letters(column)}{row}": value
            for row, values in enumerate(opened.get_sheet_by_name(name).to_python(skip_empty_area=False), 1)
            for column, value in enumerate(values)
            if value != ""
        }
        for name, _ in ours
    }


def differences(
    wanted: dict[str, dict[str, object]], found: dict[str, dict[str, object]], *, told_at_pricing: bool = False
) -> list[str]:
    """Every cell of the result sheets that differs: numbers by more than a millionth, words at all.

    `told_at_pricing` leaves out what tells of the pricing itself: remarks, and what stood in the user's cells then.
    """
    said = []
    for sheet, cells in wanted.items():
        left_out = OF_THE_PRICING.get(sheet, "") if told_at_pricing else ""
        remarks = first_row_of_remarks(cells) if told_at_pricing and sheet == "Answer" else None
        for cell in sorted({*cells, *found.get(sheet, {})}):
            letters = cell.rstrip("0123456789")
            row = int(cell[len(letters) :])
            if left_out == "*" or letters in left_out or (told_at_pricing and cell in ("A3", "B3")) or (remarks and row >= remarks):
                continue
            label, above = cells.get(f"A{row}", ""), cells.get(f"{letters}{row - 1}", "")
            if told_at_pricing and any(str(words).endswith("when priced") for words in (label, above)):
                continue
            one, other = cells.get(cell, ""), found.get(sheet, {}).get(cell, "")
            if not alike(one, other):
                said.append(f"{sheet} {cell}: {one!r} wanted, {other!r} found")
    return said


def first_row_of_remarks(answer: dict[str, object]) -> int:
    return next(int(cell[1:]) for cell, value in answer.items() if value == "Worth a look")


def alike(one: object, other: object) -> bool:
    """Numbers to a millionth; a blank and a 0 that shows nothing are one."""
    if isinstance(one, int | float) and isinstance(other, int | float):
        return abs(one - other) <= 1e-6 * max(1.0, abs(one) / 1e6)
    return one == other or (one in (0, "", None) and other in (0, "", None))
