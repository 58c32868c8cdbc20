"""The same job in inches and in millimetres agrees to the cent: lengths retyped with their unit, prices a metre retyped a foot."""

import json
import shutil
from decimal import Decimal
from pathlib import Path

import pytest
from openpyxl import Workbook, load_workbook

from estimator.batch import price_book
from estimator.model.form import SHEETS, Sheet
from estimator.model.problems import Refusal
from estimator.papers.estimate_json import estimate_data

WORKBOOKS = Path(__file__).parents[1] / "workbooks"
A_FOOT_M = Decimal("0.3048")


def in_inches(path: Path) -> None:
    book = load_workbook(path)
    for sheet in SHEETS:
        if sheet.name in book.sheetnames:
            (_items if sheet.shape == "items" else _rows)(book, sheet)
    page = book["Job"]
    where = next((row[0].row for row in page.iter_rows() if row[0].value == "Units"), page.max_row + 1)
    page.cell(where, 1, "Units")
    page.cell(where, 2, "inch")
    book.save(path)


def _retyped(what: str, value: object) -> object:
    if not isinstance(value, int | float):
        return value
    number = Decimal(str(value))
    match what:
        case "length":
            return f"{number} mm"
        case "roll length":
            return f"{number} m"
        case "money a metre":
            return number * A_FOOT_M
        case _:
            return value


def _rows(book: Workbook, sheet: Sheet) -> None:
    page = book[sheet.name]
    what = {column.header: column.what for column in sheet.columns}
    for cell in page[1]:
        header = str(cell.value or "").split(" (")[0]
        for row in range(2, page.max_row + 1):
            target = page.cell(row, cell.column)
            target.value = _retyped(what.get(header, ""), target.value)


def _items(book: Workbook, sheet: Sheet) -> None:
    page = book[sheet.name]
    what = {column.header: column.what for column in sheet.columns}
    for row in range(2, page.max_row + 1):
        item = str(page.cell(row, 1).value or "").split(" (")[0]
        kind = what.get(item, "length" if sheet.name == "Shop" else "")
        page.cell(row, 2).value = _retyped(kind, page.cell(row, 2).value)


def answer(path: Path) -> dict[str, object]:
    estimate = price_book(path)
    assert not isinstance(estimate, Refusal), [str(problem) for problem in estimate.problems]
    data = estimate_data(estimate)
    return {key: data[key] for key in ("parts", "boards", "edgings", "adhesives", "minutes", "batches", "plans", "cost", "price")}


def test_inches_and_millimetres_agree(tmp_path: Path) -> None:
    job = Path(shutil.copy(WORKBOOKS / "one-cabinet.xlsx", tmp_path))
    in_mm = json.dumps(answer(job))
    in_inches(job)
    assert json.dumps(answer(job)) == in_mm


def test_a_length_left_as_it_was_is_noticed(tmp_path: Path) -> None:
    """The planted fault: one width stays a bare 600, which in the inch book is 600 inches."""
    job = Path(shutil.copy(WORKBOOKS / "one-cabinet.xlsx", tmp_path))
    in_inches(job)
    book = load_workbook(job)
    book["Cabinets"]["E2"] = 600
    book.save(job)
    with pytest.raises(AssertionError, match="598 9/16 x 11 13/16 inch"):
        answer(job)
