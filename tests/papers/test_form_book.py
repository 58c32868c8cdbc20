"""The form as a workbook: what a person opens, and that nothing of the form is missing from it."""

import re
from datetime import datetime
from io import BytesIO

import openpyxl
import pytest
from openpyxl.workbook import Workbook
from openpyxl.worksheet.worksheet import Worksheet

from estimator.model.exact import Fraction
from estimator.model.form import SHEETS, Column, Sheet
from estimator.papers.form_book import blank_book, columns_table, draw_book, starter_rows
from estimator.papers.form_book.cells import typed
from estimator.papers.form_book.draw import DIVIDER
from workbooks.draw import BEGINS, ENDS, README, with_columns

EVERYDAY = ["Job", "Cabinets", "Loose parts", "Shop", "Boards", "Edgings", "Finishes"]


@pytest.fixture(scope="module")
def book() -> Workbook:
    return openpyxl.load_workbook(BytesIO(blank_book()))


def headers_of(page: Worksheet) -> list[str]:
    return [str(cell.value).split(" (")[0] for cell in page[1]]


def items_of(page: Worksheet) -> list[str]:
    return [str(page.cell(row, 1).value).split(" (")[0] for row in range(2, page.max_row + 1)]


def test_the_everyday_sheets_stand_first_and_all_others_behind_plain_words(book: Workbook) -> None:
    others = [sheet.name for sheet in SHEETS if sheet.name not in EVERYDAY]
    assert book.sheetnames == [*EVERYDAY, DIVIDER, *others]


@pytest.mark.parametrize("sheet", SHEETS, ids=lambda sheet: sheet.name)
def test_every_column_and_item_of_the_form_is_drawn_once(book: Workbook, sheet: Sheet) -> None:
    drawn = items_of(book[sheet.name]) if sheet.shape == "items" else headers_of(book[sheet.name])
    assert [drawn.count(column.header) for column in sheet.columns] == [1] * len(sheet.columns)


@pytest.mark.parametrize("sheet", [sheet for sheet in SHEETS if sheet.shape == "rows"], ids=lambda sheet: sheet.name)
def test_every_header_carries_a_note_and_stays_in_sight(book: Workbook, sheet: Sheet) -> None:
    page = book[sheet.name]
    assert all(cell.comment is not None and cell.comment.text for cell in page[1])
    assert page.freeze_panes == "B2"


@pytest.mark.parametrize("name", ["Job", "Shop"])
def test_a_blank_value_has_the_look_of_its_neighbours(book: Workbook, name: str) -> None:
    """What is typed into a blank cell must not stand elsewhere than what was there: it is the same form."""
    page = book[name]
    looks = {
        (cell.alignment.horizontal, cell.alignment.indent, cell.alignment.vertical, cell.font.name)
        for cell in (page.cell(row, 2) for row in range(2, page.max_row + 1))
    }
    assert looks == {("left", 1, "center", "Calibri")}


def test_headers_and_items_carry_their_unit_in_brackets(book: Workbook) -> None:
    assert [cell.value for cell in book["Cabinets"][1]][4:7] == ["Width (mm)", "Height (mm)", "Depth (mm)"]
    assert "Valid for (days)" in [cell.value for cell in book["Job"]["A"]]


def test_nothing_is_protected_and_nothing_is_hidden(book: Workbook) -> None:
    for page in book:
        assert not page.protection.sheet
        assert page.sheet_state == "visible"
        assert not any(row.hidden for row in page.row_dimensions.values())
        assert not any(column.hidden for column in page.column_dimensions.values())
    assert book.security is None or not book.security.lockStructure


def offered(page: Worksheet, cell: str) -> str:
    found = [rule for rule in page.data_validations.dataValidation if cell in rule.sqref]
    assert len(found) == 1
    assert not found[0].showErrorMessage  # it offers and never forbids
    return str(found[0].formula1)


def test_drop_downs_offer_choices_yes_and_no_and_the_names_of_other_sheets(book: Workbook) -> None:
    def letter(sheet: str, header: str) -> str:
        return book[sheet].cell(1, headers_of(book[sheet]).index(header) + 1).column_letter

    assert offered(book["Cabinets"], letter("Cabinets", "Kind") + "2").startswith("Kinds!$A$2") or "Kinds" in offered(
        book["Cabinets"], letter("Cabinets", "Kind") + "2"
    )
    assert "Finishes" in offered(book["Cabinets"], letter("Cabinets", "Finish") + "200")
    assert offered(book["Cabinets"], letter("Cabinets", "Finished ends") + "2") == '"none,left,right,both"'
    assert offered(book["Boards"], letter("Boards", "Grain") + "2") == '"yes,no"'
    assert "Boards" in offered(book["Finishes"], letter("Finishes", "front board") + "2")
    assert "Adhesives" in offered(book["Edgings"], letter("Edgings", "Adhesive") + "2")


def test_sample_rows_say_that_they_are_samples(book: Workbook) -> None:
    for name in ("Cabinets", "Loose parts", "Boards", "Edgings", "Finishes"):
        page = book[name]
        notes = [page.cell(row, headers_of(page).index("Note") + 1).value for row in range(2, page.max_row + 1)]
        assert notes
        assert all(str(note).startswith("sample") for note in notes)


def test_every_number_to_start_from_says_where_it_comes_from() -> None:
    for sheet in ("Work", "Fittings", "Adhesives", "Kinds", "Boards", "Edgings"):
        assert all(row["Note"] for row in starter_rows()[sheet])
    assert all(row["Note"] for row in starter_rows()["Shop"] if row["Value"])


def test_untimed_minutes_are_marked_and_carry_low_and_high() -> None:
    for row in starter_rows()["Work"]:
        assert row["Timed"] == "no"
        assert Fraction(row["Low"]) < Fraction(row["Minutes"]) < Fraction(row["High"])


def test_there_is_no_offer_of_a_contract_bander_to_start_from(book: Workbook) -> None:
    assert all(book["Contract"].cell(row, 2).value is None for row in range(2, book["Contract"].max_row + 1))
    assert book["Contract prices"].max_row == 1


@pytest.mark.parametrize(
    ("what", "text", "value", "shows"),
    [
        ("percent", "15 %", 0.15, "0%"),
        ("percent", "8.25 %", 0.0825, "0.00%"),
        ("percent or money", "3 %", 0.03, "0%"),
        ("percent or money", "250", 250, "#,##0.00"),
        ("length", "600", 600, "General"),
        ("length", "23 1/2", "23 1/2", "General"),
        ("length", "2' 6\"", "2' 6\"", "General"),
        ("text", "007", "007", "General"),
        ("text", "=1+1", "=1+1", "General"),
        ("rule", "width - 2 * carcass thickness", "width - 2 * carcass thickness", "General"),
        ("rule", "2", 2, "General"),
    ],
)
def test_a_text_becomes_the_cell_that_a_person_would_have_typed(what: str, text: str, value: object, shows: str) -> None:
    cell = typed(Column("Any", "any", what, ""), text)  # type: ignore[arg-type]
    assert (cell.value, cell.number_format) == (value, shows)


def test_a_date_is_a_date_cell_and_a_text_is_never_a_formula() -> None:
    rows = ({"Item": "Quote date", "Value": "2031-02-03"}, {"Item": "Client", "Value": "=1+1"})
    page = openpyxl.load_workbook(BytesIO(draw_book({"Job": rows})))["Job"]
    cells = {page.cell(row, 1).value: page.cell(row, 2) for row in range(2, page.max_row + 1)}
    assert cells["Quote date"].value == datetime(2031, 2, 3)
    assert (cells["Client"].value, cells["Client"].data_type) == ("=1+1", "s")


def test_an_inch_book_says_inches_and_feet() -> None:
    page = openpyxl.load_workbook(BytesIO(draw_book({"Edgings": ()}, units="inch", currency="USD")))["Edgings"]
    titles = [cell.value for cell in page[1]]
    assert {"Thickness (inches)", "Price (USD a foot)", "Roll length (feet)"} <= set(titles)


def test_the_blank_workbook_is_the_same_every_time() -> None:
    assert blank_book() == blank_book()


def test_the_columns_table_holds_every_sheet_and_column() -> None:
    table = columns_table()
    for sheet in SHEETS:
        assert f"<b>{sheet.name}</b>" in table
        assert all(f"| {column.header}" in table for column in sheet.columns)


def test_the_readme_holds_the_table_of_the_form_as_it_is_now() -> None:
    """After a change of the form: `python -m workbooks.draw`."""
    readme = README.read_text(encoding="utf-8")
    assert BEGINS in readme
    assert ENDS in readme
    assert with_columns(readme) == readme


def test_the_form_of_an_inch_shop_says_no_millimetre_but_what_edgings_are_called(book: Workbook) -> None:
    """Thickness of a band is sold in mm everywhere; a step may be counted by the metre, and its note says how long that is in feet."""
    inch = openpyxl.load_workbook(BytesIO(blank_book("inch")))
    metric = {
        (page.title, str(head.value))
        for page in inch
        for head in page[1]
        if re.search(r"\bmm\b|\bmetres?\b", f"{head.value} {head.comment.text if head.comment else ''}")
    }
    assert metric == {
        ("Boards", "Density (kg/m³)"), ("Boards", "E modulus (N/mm²)"), ("Adhesives", "Coverage (m²/l)"),  # as data sheets print them
        ("Edgings", "Width (inches)"), ("Edgings", "Charge"), ("Fittings", "Per"), ("Work", "Per"), ("Work", "During"),
        ("Contract prices", "From metres (feet)"), ("Merchant", "Price per metre banded (USD a foot)"),
    }  # fmt: skip
    assert {"Width (inches)", "Height (inches)"} <= {str(cell.value) for cell in inch["Cabinets"][1]}
    assert [str(cell.value) for cell in inch["Edgings"][1]][4:6] == ["Price (USD a foot)", "Roll length (feet)"]
    assert any("metre" in str(cell.comment.text) for cell in book["Edgings"][1] if cell.comment)  # so a search can find one


def test_the_inch_form_starts_from_sheets_of_four_by_eight_feet() -> None:
    sizes = {(row["Sheet length"], row["Sheet width"]) for row in starter_rows("inch")["Boards"]}
    assert sizes == {("96", "48"), ("97", "49")}  # plywood; faced particle board is an inch over
    assert [set(row) for row in starter_rows("inch")["Work"]] == [set(row) for row in starter_rows()["Work"]]
