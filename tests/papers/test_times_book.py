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
from estimator.papers.book.marked_text import edited, read_marked
from estimator.papers.times_book import times_book, with_new_cells
from estimator.papers.times_book.old_answers import old_answers, without_answers
from tests.costing.times.simulated_logs import step
from workbooks.draw import HERE

SHOP = (HERE / "shop.xlsx").read_bytes()


def parts_of(book: bytes) -> dict[str, bytes]:
    with zipfile.ZipFile(io.BytesIO(book)) as package:
        return {name: package.read(name) for name in package.namelist()}


def changed(book: bytes, sheet: str, cells: dict[str, Fraction | str]) -> tuple[bytes, tuple[str, ...]]:
    answer = with_new_cells(book, sheet, cells)
    assert not isinstance(answer, Refused), answer
    return answer[0], answer[1].left


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


def test_answers_that_rest_on_a_new_time_are_asked_for_and_never_believed() -> None:
    """B2 rests on F2 directly, B3 through B2, B4 through a name, B5 by a range, B6 through a roaming function; the last four do not."""
    rest = {"B2": "=Work!$F$2*2", "B3": "=B2+1", "B4": "=hour/60", "B5": "=SUM(Work!F1:F9)", "B6": '=INDIRECT("Work!F2")'}
    free = {"C2": "=Work!F3", "C3": '="Work!F2"&"B2"', "C4": "=C2*LOG10(100)", "C5": "=SUM(Work!G:G)"}

    def write(book: xlsxwriter.Workbook, page) -> None:
        page.write_number("F2", 3)
        page.write_number("F3", 4)
        page.write_formula("G2", "=F2*1.1", None, 3.3)
        page.write_formula("G3", "=F3*1.1", None, 4.4)
        other = book.add_worksheet("Our sums")
        book.define_name("hour", "=Work!$F$2*60")
        for cell, words in {**rest, **free}.items():
            other.write_formula(cell, words, None, 7)

    answer = with_new_cells(drawn(write), "Work", {"F2": Fraction(5)})
    assert not isinstance(answer, Refused)
    new, noted = answer
    old = {"Work > G2", "Our sums > C5", *(f"Our sums > {cell}" for cell in rest)}  # G:G holds G2
    assert set(noted.waiting) == old
    answers = openpyxl.load_workbook(io.BytesIO(new), data_only=True)
    assert [answers["Our sums"][cell].value for cell in rest] == [None] * len(rest)
    assert [answers["Our sums"][cell].value for cell in ("C2", "C3", "C4")] == [7, 7, 7]
    assert (answers["Work"]["G2"].value, answers["Work"]["G3"].value) == (None, 4.4)
    formulas = openpyxl.load_workbook(io.BytesIO(new))
    assert {cell: formulas["Our sums"][cell].value for cell in {**rest, **free}} == {**rest, **free}
    assert b'fullCalcOnLoad="1"' in parts_of(new)["xl/workbook.xml"]


def test_a_formula_that_shares_anothers_words_goes_with_it() -> None:
    marked = read_marked(
        b'<worksheet><sheetData><row r="2"><c r="A2"><f t="shared" ref="A2:A3" si="0">Work!F2</f><v>1</v></c></row>'
        b'<row r="3"><c r="A3" t="n"><f t="shared" si="0"/><v>2</v></c></row></sheetData></worksheet>', "sums"
    )  # fmt: skip
    assert not isinstance(marked, Refused)
    assert old_answers({"Sums": marked}, {"Work": {"F3"}}) == {"Sums": ("A2", "A3")}
    text = edited(marked, without_answers(marked, frozenset({"A3"})))
    assert '<c r="A3"><f t="shared" si="0"/></c>' in text
    assert "<v>1</v>" in text
