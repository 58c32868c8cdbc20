"""Over a gallery of workbooks: after pricing, every part of the user's book is what it was, and the book holds together."""

import functools
import io
import warnings

import openpyxl
import pytest

from estimator.papers.book import Spliced, add_sheets, dates_from_1904, free_defined_names, free_names
from tests.papers.book.gallery import gallery, read_part, result_sheets, with_parts
from tests.papers.book.harm import harm, orphans, parts_of, unsound
from tests.papers.book.odd_books import odd_books

BOOKS = {**gallery(), **odd_books()}
WANTED = ("Price", "Ways of banding")


def price(book, *, defined="net_total", **options):
    names = free_names(book, WANTED)
    defined = free_defined_names(book, [defined])[defined]
    spliced = add_sheets(user_book=book, ours=result_sheets(names, dates_from_1904=dates_from_1904(book),
                                                                defined=defined, **options))
    assert isinstance(spliced, Spliced), spliced
    return spliced


@functools.cache
def priced(name):
    return price(BOOKS[name]).workbook


every_book = pytest.mark.parametrize("name", BOOKS)


@every_book
def test_every_part_of_the_user_is_what_it_was(name):
    assert harm(BOOKS[name], priced(name)) == []


@every_book
def test_the_new_book_holds_together(name):
    assert unsound(priced(name)) == unsound(BOOKS[name]) == []
    assert orphans(priced(name)) == orphans(BOOKS[name])


@every_book
def test_pricing_again_gives_the_same_bytes(name):
    assert price(BOOKS[name]).workbook == priced(name)
    again = price(priced(name))
    assert again.replaced == again.added == WANTED
    assert again.workbook == priced(name)


@every_book
def test_pricing_again_with_other_answers_leaves_nothing_of_the_old_behind(name):
    """Three other pricings, then the first one again: the same parts as after the first alone."""
    book = priced(name)
    for factor in (3, 4, 5):
        book = price(book, factor=factor, picture=factor, defined="").workbook
        assert harm(BOOKS[name], book) == []
    assert price(book).workbook == priced(name)


@every_book
def test_openpyxl_reads_the_users_values_and_ours(name):
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        before = openpyxl.load_workbook(io.BytesIO(BOOKS[name]), data_only=True)
        after = openpyxl.load_workbook(io.BytesIO(priced(name)), data_only=True)
    assert after.sheetnames == [*before.sheetnames, *WANTED]
    for sheet in before.worksheets:
        assert [[cell.value for cell in row] for row in sheet] == [[cell.value for cell in row] for row in after[sheet.title]]
        for row in sheet:
            for cell in row:
                same = after[sheet.title][cell.coordinate]
                assert look(cell) == look(same)
    ours = after["Price"]
    assert [ours[cell].value for cell in ("A1", "A2", "B2", "B3", "B4", "A7")] == [
        'Price of "oak & ash" <net>', "= not a formula", 42, 48, ' s="7" t="s"', "plain strong"]
    assert (ours["A1"].font.name, ours["A1"].font.size) == ("Arial", 20)
    assert (ours["B2"].number_format, ours["B2"].fill.fgColor.rgb, ours["B2"].font.bold, ours["B2"].border.left.style) == (
        '#,##0.00 "€"', "FFDDEEFF", True, "thin")
    rule, = (rule for rules in ours.conditional_formatting for rule in rules.rules)
    assert (rule.dxf.font.color.rgb, rule.dxf.numFmt.formatCode) == ("FF008800", '0.000 "h"')
    assert ours["B2"].comment.text == "What the client pays"
    assert ours["A6"].hyperlink.target == "https://shop.example/?a=1&b=2"
    assert (ours.print_area, ours.print_title_rows, ours.freeze_panes) == ("'Price'!$A$1:$C$9", "$1:$1", "A2")
    assert after.defined_names["net_total"].attr_text == "'Price'!$B$2"
    assert len(ours._images) == len(after["Ways of banding"]._charts) == 1


def look(cell):
    return cell.number_format, repr(cell.font), repr(cell.fill), repr(cell.border)



# ---------------------------------------------------------------- faults planted, so that the checks above are known to see

def test_the_comparison_sees_what_openpyxl_loses():
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        book = openpyxl.load_workbook(io.BytesIO(BOOKS["XlsxWriter many things"]))
        out = io.BytesIO()
        book.save(out)
    assert len(harm(BOOKS["XlsxWriter many things"], out.getvalue())) > 5


@pytest.mark.parametrize(("part", "old", "new"), [
    ("xl/worksheets/sheet1.xml", b"<v>21</v>", b"<v>22</v>"),
    ("xl/sharedStrings.xml", b"Wage", b"wage"),
    ("xl/media/image1.png", b"IHDR", b"IHDQ"),
    ("xl/workbook.xml", b'name="Shop"', b'name="Stop"'),
    ("xl/workbook.xml", b"Shop!$B$5", b"Shop!$B$6"),
    ("xl/workbook.xml", b"xmlns:r=", b"xmlns:q='urn:q' xmlns:r="),
    ("xl/styles.xml", b'<font><sz val="11"/>', b'<font><sz val="12"/>'),
    ("xl/_rels/workbook.xml.rels", b'Id="rId2"', b'Id="rId77"'),
    ("[Content_Types].xml", b'Extension="png"', b'Extension="gif"'),
])
def test_the_comparison_sees_a_planted_change(part, old, new):
    good = priced("XlsxWriter many things")
    content = read_part(good, part)
    assert old in content
    assert harm(BOOKS["XlsxWriter many things"], with_parts(good, {part: content.replace(old, new, 1)}))


@pytest.mark.parametrize(("part", "old", "new"), [
    ("xl/worksheets/sheet1.xml", b"<sheetView ", b'<sheetView tabSelected="1" '),
    ("xl/worksheets/sheet3.xml", b"<sheetView ", b'<sheetView tabSelected="1" '),
    ("xl/worksheets/sheet3.xml", b' s="', b' s="9'),
    ("xl/workbook.xml", b'localSheetId="3"', b'localSheetId="33"'),
    ("xl/workbook.xml", b'sheetId="4"', b'sheetId="1"'),
    ("[Content_Types].xml", b"/xl/worksheets/sheet3.xml", b"/xl/worksheets/sheet9.xml"),
    ("xl/styles.xml", b'<cellXfs count="', b'<cellXfs count="1'),
    ("xl/worksheets/sheet3.xml", None, None),
])
def test_the_check_of_the_whole_sees_a_planted_fault(part, old, new):
    good = priced("XlsxWriter many things")
    if part == "xl/worksheets/sheet1.xml":   # the user's own first sheet is the chosen one already
        part = "xl/worksheets/sheet4.xml"
    changed = read_part(good, part).replace(old, new, 1) if old else None
    assert changed != read_part(good, part)
    assert unsound(with_parts(good, {part: changed}))


def test_a_part_left_behind_is_seen():
    good = priced("openpyxl plain")
    assert orphans(with_parts(good, {"xl/charts/chart9.xml": b"<a/>"})) == {"xl/charts/chart9.xml"}
    assert len(parts_of(good)) == len(parts_of(price(good, factor=9).workbook))
