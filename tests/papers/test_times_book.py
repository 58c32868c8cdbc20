"""New times written into a shop's own book: those cells change, every other byte stays; and times.xlsx as another program reads it."""

import io
import re
import zipfile
from datetime import date
from pathlib import Path

import openpyxl
import pytest
import xlsxwriter

from estimator.model.exact import Fraction
from estimator.model.times import Learned
from estimator.papers.book import Refused
from estimator.papers.times_book import times_book, with_new_cells
from tests.costing.times.simulated_logs import step
from workbooks.draw import HERE

SHOP = (HERE / "shop.xlsx").read_bytes()


def parts_of(book: bytes) -> dict[str, bytes]:
    with zipfile.ZipFile(io.BytesIO(book)) as package:
        return {name: package.read(name) for name in package.namelist()}


def changed(book: bytes, sheet: str, cells: dict[str, Fraction | str]) -> tuple[bytes, tuple[str, ...]]:
    answer = with_new_cells(book, sheet, cells)
    assert not isinstance(answer, Refused), answer
    return answer[0], answer[1].cells


def cells_of(book: bytes, sheet: str) -> dict[str, object]:
    page = openpyxl.load_workbook(io.BytesIO(book))[sheet]
    return {cell.coordinate: cell.value for row in page.iter_rows() for cell in row if cell.value is not None}


def drawn(write) -> bytes:
    out = io.BytesIO()
    book = xlsxwriter.Workbook(out, {"in_memory": True})
    write(book, book.add_worksheet("Work"))
    book.close()
    return out.getvalue()


def test_only_the_cells_named_change_and_no_other_part() -> None:
    new, left = changed(SHOP, "Work", {"F5": Fraction("3.1394"), "L5": "yes"})
    before, after = parts_of(SHOP), parts_of(new)
    assert left == ()
    assert list(before) == list(after)
    differ = [name for name in before if before[name] != after[name]]
    assert len(differ) == 1
    assert differ[0].startswith("xl/worksheets/")
    # in that part, all but the two cells is the same text
    without = re.compile(rb'<c r="(?:F5|L5)"[^>]*>.*?</c>')
    assert without.sub(b"", before[differ[0]]) == without.sub(b"", after[differ[0]])
    was, now = cells_of(SHOP, "Work"), cells_of(new, "Work")
    assert {name: now[name] for name in now if was.get(name) != now[name]} == {"F5": 3.1394, "L5": "yes"}


def test_a_cell_keeps_its_look_and_a_missing_one_is_put_in_its_place() -> None:
    def write(book, sheet):
        red = book.add_format({"font_color": "#FF0000"})
        sheet.write("A2", "cut")
        sheet.write("C2", 2.5, red)
        sheet.write("AA2", "far out")

    new, _ = changed(drawn(write), "Work", {"B2": Fraction(1, 2), "C2": Fraction(3), "Z2": "yes", "AB2": "last"})
    assert cells_of(new, "Work") == {"A2": "cut", "B2": 0.5, "C2": 3, "Z2": "yes", "AA2": "far out", "AB2": "last"}
    assert openpyxl.load_workbook(io.BytesIO(new))["Work"]["C2"].font.color.rgb == "FFFF0000"


def test_a_formula_of_the_shop_is_left_and_told() -> None:
    def write(book, sheet):
        sheet.write("A2", "cut")
        sheet.write_formula("F2", "=1+1", None, 2)
        sheet.write("I2", 1)

    new, left = changed(drawn(write), "Work", {"F2": Fraction(9), "I2": Fraction(8)})
    assert left == ("F2",)
    assert cells_of(new, "Work") == {"A2": "cut", "F2": "=1+1", "I2": 8}


def test_a_book_with_prefixes_and_an_empty_row_is_understood() -> None:
    def write(book, sheet):
        sheet.write("A2", "cut")
        sheet.set_row(2, 30)

    plain = drawn(write)
    parts = parts_of(plain)
    text = parts["xl/worksheets/sheet1.xml"].decode()
    text = re.sub(r"<(/?)(?=[a-zA-Z])", r"<\1x:", text.partition("?>")[2]).replace(' xmlns="', ' xmlns:x="')
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w") as package:
        for name, content in {**parts, "xl/worksheets/sheet1.xml": text.encode()}.items():
            package.writestr(name, content)
    new, _ = changed(out.getvalue(), "Work", {"B2": Fraction(1, 4), "C3": "a & b"})
    assert cells_of(new, "Work")["B2"] == 0.25
    assert cells_of(new, "Work")["C3"] == "a & b"


def test_a_sheet_that_is_not_there_is_a_sentence() -> None:
    assert isinstance(with_new_cells(SHOP, "Wrok", {"A1": "x"}), Refused)
    assert isinstance(with_new_cells(b"not a workbook", "Work", {"A1": "x"}), Refused)


def test_other_programs_read_times_xlsx(tmp_path: Path) -> None:
    calamine = pytest.importorskip("python_calamine")
    learned = Learned((), (), (), (), (), (), (), date(2031, 3, 4))
    work = (step("=cut", "part", Fraction("2.5")),)
    book = times_book(learned, work, units="mm")
    assert book == times_book(learned, work, units="mm")
    path = tmp_path / "times.xlsx"
    path.write_bytes(book)
    sheets = calamine.CalamineWorkbook.from_path(str(path))
    assert sheets.sheet_names == ["New times", "Real and estimated", "By job", "The whole log", "Material", "Quotes again", "Work"]
    assert sheets.get_sheet_by_name("Work").to_python()[1][0] == "=cut"
