"""The same job in inches and in millimetres agrees to the cent: lengths retyped with their unit, prices a metre retyped a foot."""

import io
import json
import shutil
from decimal import Decimal
from pathlib import Path

import pypdf
import pytest
from openpyxl import Workbook, load_workbook

from estimator.batch import price_book
from estimator.model.exact import Fraction
from estimator.model.form import SHEETS, Sheet
from estimator.model.refusal import Refusal
from estimator.papers.book import Refused as NotTaken
from estimator.papers.estimate_json import estimate_data
from estimator.papers.priced_workbook import priced_book
from estimator.papers.shop_papers import shop_pdf

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
    with pytest.raises(AssertionError, match="598 19/32 x 11 13/16 inch"):
        answer(job)


def test_the_papers_of_an_inch_job_show_fractions_and_the_cells_hold_the_exact_size(tmp_path: Path) -> None:
    """A side of 23 1/4 inches with a band of 1 mm deducted: (590.55 - 1) / 25.4 = 23.21062992 inches, a little less than 23 7/32."""
    job = Path(shutil.copy(WORKBOOKS / "inch-job.xlsx", tmp_path))
    book = load_workbook(job)
    where = next(row[0].row for row in book["Job"].iter_rows() if row[0].value == "Show fractions")
    book["Job"].cell(where, 2).value = 32
    book.save(job)
    estimate = price_book(job)
    assert not isinstance(estimate, Refusal)
    words = " ".join(page.extract_text() for page in pypdf.PdfReader(io.BytesIO(shop_pdf(estimate))).pages)
    assert "inches to the nearest 1/32" in words
    assert "23 7/32−" in words
    priced = priced_book(estimate, user_book=job.read_bytes(), shop_book=None)
    assert not isinstance(priced, NotTaken)
    answer = load_workbook(io.BytesIO(priced.book), data_only=True)["Answer"]
    feet = next(answer.cell(cell.row + 1, cell.column) for row in answer.iter_rows() for cell in row if cell.value == "Feet of edge")
    assert (round(feet.value, 1), feet.number_format) == (237.6, '#,##0.0" ft"')
    buy = load_workbook(io.BytesIO(priced.book), data_only=True)["Buy list"]
    edging = [row for row in buy.iter_rows(values_only=True) if row[0] == "Edging"]
    needed = {use.edging: use.widths[0].strip_m * (1 + use.widths[0].edging.spare_share) / Fraction("0.3048") for use in estimate.edgings}
    rolls_ft = {row.edging: row.roll_length_m / Fraction("0.3048") for row in estimate.job.edgings}
    assert [(name, *units) for _, name, _, _, _, *units in edging] == [(name, "ft", 1, rolls_ft[name]) for name in needed]
    assert [row[2] for row in edging] == pytest.approx([float(one) for one in needed.values()], rel=1e-12)
    ours = [sheet for sheet in load_workbook(io.BytesIO(priced.book)) if "estimator_result_sheet" in sheet.defined_names]
    assert len(ours) > 12
    assert {sheet.page_setup.paperSize for sheet in ours if sheet.sheet_state == "visible"} == {1}, "Letter, as Job says"
    sizes = load_workbook(io.BytesIO(priced.book))["Larger and smaller"]
    assert {"Feet of edge", "Feet in this job"} <= {cell.value for row in sizes.iter_rows() for cell in row}
    parts = load_workbook(io.BytesIO(priced.book))["Parts list"]
    cells = [cell for row in parts.iter_rows(min_row=6, max_row=6) for cell in row if cell.value and "/32" in cell.number_format]
    assert [cell.number_format for cell in cells] == ["# ??/32"] * 4
    assert cells[3].value == pytest.approx(23.21062992125984, abs=1e-12)
