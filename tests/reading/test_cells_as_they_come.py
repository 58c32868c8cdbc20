"""Whole workbooks to a Job: formulas, hidden, merged and blank cells, values beside the table, and what a number format shows."""

from __future__ import annotations

from pathlib import Path

from openpyxl import load_workbook

from estimator.model.exact import Fraction
from estimator.model.refusal import Refusal
from estimator.reading.number_formats import shows_of_code
from estimator.reading.workbook import read_job
from tests.reading.base_books import CABINETS, ONE_BOOK
from tests.reading.drawing import draw, redraw_with_shared_texts
from tests.reading.whole_books import job_of, one, words


def test_formulas_are_read_by_their_saved_answer(tmp_path: Path) -> None:
    import xlsxwriter

    path = tmp_path / "job.xlsx"
    redraw_with_shared_texts(draw(tmp_path / "drawn.xlsx", ONE_BOOK), path)
    assert job_of(path).cabinets[0].width_mm == 600
    book = xlsxwriter.Workbook(tmp_path / "shop.xlsx")
    sheet = book.add_worksheet("Boards")
    for column, header in enumerate(("Board", "Thickness", "Sheet length", "Sheet width", "Price")):
        sheet.write_string(0, column, header)
    for row, name in enumerate(("white 18", "white 8", "oak 19"), start=1):
        sheet.write_formula(row, 0, f'="{name}"', None, name)
        for column, value in enumerate((18, 2800, 2070), start=1):
            sheet.write_number(row, column, value)
        sheet.write_formula(row, 4, "=50+11.5", None, 61.5)
    book.close()
    shared = {name: table for name, table in ONE_BOOK.items() if name != "Boards"}
    assert [board.price for board in job_of(draw(path, shared)).boards] == [Fraction("61.5")] * 3


def test_a_formula_without_an_answer_is_told(tmp_path: Path) -> None:
    answer = read_job(draw(tmp_path / "job.xlsx", ONE_BOOK, changes={("Cabinets", "E2"): "=300+300", ("Cabinets", "N2"): '="by "&"sink"'}))
    assert isinstance(answer, Refusal)
    assert [str(problem.place) for problem in answer.problems] == ["job.xlsx > Cabinets > E2", "job.xlsx > Cabinets > N2"]
    assert answer.problems[0].mend == "open the workbook in your spreadsheet program, save it there, and run again"


def test_hidden_rows_and_sheets_are_read_and_remarked_on(tmp_path: Path) -> None:
    path = draw(tmp_path / "job.xlsx", ONE_BOOK)
    book = load_workbook(path)
    for row in (2, 3):
        book["Cabinets"].row_dimensions[row].hidden = True
    book["Boards"].sheet_state = "hidden"
    book.save(path)
    job = job_of(path)
    assert len(job.cabinets) == 3
    assert words(job) == [
        "job.xlsx > Cabinets: rows 2 to 3 are hidden, and read all the same",
        "job.xlsx > Boards: this sheet is hidden; it is read all the same",
    ]


def test_merged_cells_hold_a_value_in_the_first_only(tmp_path: Path) -> None:
    path = draw(tmp_path / "job.xlsx", ONE_BOOK)
    book = load_workbook(path)
    book["Cabinets"].merge_cells("B2:B3")
    book.save(path)
    job = job_of(path)
    assert [cabinet.room for cabinet in job.cabinets] == ["Kitchen", "", "Pantry"]
    assert words(job) == ["job.xlsx > Cabinets > B2: cells B2:B3 are merged: only B2 is read, the rows below it are blank there. "
        "Unmerge them, and type into each row what holds for it"
    ]


def test_blank_rows_and_notes_beside_the_table_are_passed_over(tmp_path: Path) -> None:
    lines = CABINETS.strip().splitlines()
    table = "\n".join([lines[0], "", lines[1], "", "", *lines[2:], "|||||||||||||only a note"])
    assert len(one(tmp_path, {**ONE_BOOK, "Cabinets": table}).cabinets) == 3


def test_values_beside_the_table_are_remarked_on(tmp_path: Path) -> None:
    assert words(one(tmp_path, Cabinets_R3="call the client")) == [
        "job.xlsx > Cabinets > R1: values without a name above them are not read: type a name there, or take them out"
    ]


def test_texts_in_the_users_own_columns_are_left_alone(tmp_path: Path) -> None:
    lines = CABINETS.strip().splitlines()
    table = "\n".join([f"{lines[0]} | Supplier code", f"{lines[1]} | 7", f"{lines[2]} | A 12", f"{lines[3]} | error:#N/A"])
    job = one(tmp_path, {**ONE_BOOK, "Cabinets": table})
    assert [cabinet.own_numbers["supplier_code"] for cabinet in job.cabinets] == [7, 0, 0]


def test_a_point_that_may_mean_thousands_is_remarked_on(tmp_path: Path) -> None:
    job = one(tmp_path, Extras_E2="text:1.500")
    assert job.extras[0].cost_each == Fraction(3, 2)
    assert words(job) == ["job.xlsx > Extras > E2: 1.500 is read as 1.5; if 1500 is meant, type it without the point"]


def test_number_formats_of_all_kinds() -> None:
    percents = ("0%", "0.00 %", "[Red]0%;[Blue]-0%", '0" of "%')
    dates = ("d mmm yyyy", "yyyy-mm-dd", "[$-407]dd.mm.yyyy;@", "mmm", "dd/mm", "d.m.yy h:mm")
    times = ("h:mm", "[h]:mm:ss", "mm:ss", "h AM/PM")
    plain = (
        "General",
        "@",
        "0.00",
        '#,##0.00 "days"',
        '0 "mm"',
        "# ?/?",
        "#,##0 [$kr-414]",
        "0.00E+00",
        r"0\d",
        '0"%"',
        "_-* #,##0.00_-",
        "",
    )
    for codes, shows in ((percents, "percent"), (dates, "date"), (times, "time"), (plain, "")):
        assert [shows_of_code(code) for code in codes] == [shows] * len(codes)
