"""The same books in LibreOffice: a spreadsheet program that shares nothing with us opens, works out and saves them."""

import io
import shutil
import subprocess
import warnings

import openpyxl
import pytest
from python_calamine import load_workbook as calamine

from tests.papers.book.gallery import WAGE, read_part, with_parts
from tests.papers.book.harm import harm, named_parts, orphans, unsound
from tests.papers.book.test_unharmed import BOOKS, WANTED, price, priced

SOFFICE = shutil.which("soffice")
if SOFFICE is None:
    warnings.warn("LibreOffice (soffice) is not installed: nothing here was checked against a spreadsheet program", stacklevel=1)
needs_office = pytest.mark.skipif(SOFFICE is None, reason="LibreOffice (soffice) is not installed")

RECALCULATE = """<?xml version="1.0"?><oor:items xmlns:oor="http://openoffice.org/2001/registry">
<item oor:path="/org.openoffice.Office.Calc/Formula/Load"><prop oor:name="OOXMLRecalcMode"><value>0</value></prop></item>
</oor:items>"""


@pytest.fixture(scope="session")
def resaved(tmp_path_factory):
    """Books by name in, the same books as LibreOffice saves them out, every formula worked out anew."""
    profile = tmp_path_factory.mktemp("profile")
    (profile / "user").mkdir()
    (profile / "user" / "registrymodifications.xcu").write_text(RECALCULATE)

    def resave(books):
        folder, out = tmp_path_factory.mktemp("books"), tmp_path_factory.mktemp("resaved")
        for number, content in enumerate(books.values()):
            (folder / f"{number}.xlsx").write_bytes(content)
        subprocess.run([SOFFICE, f"-env:UserInstallation={profile.as_uri()}", "--headless", "--convert-to", "xlsx",
                        "--outdir", out, *sorted(folder.iterdir())], check=True, capture_output=True, timeout=300)
        assert len(list(out.iterdir())) == len(books), "LibreOffice did not open every book"
        return {name: (out / f"{number}.xlsx").read_bytes() for number, name in enumerate(books)}

    return resave


def values(book):
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        read = openpyxl.load_workbook(io.BytesIO(book), data_only=True)
    return {sheet.title: {cell.coordinate: cell.value for row in sheet for cell in row if cell.value is not None}
            for sheet in read.worksheets}


@pytest.fixture(scope="session")
def written_by_libreoffice(resaved):
    return resaved(BOOKS)


@needs_office
@pytest.mark.parametrize("name", BOOKS)
def test_books_that_libreoffice_wrote_are_unharmed_too(written_by_libreoffice, name):
    before = written_by_libreoffice[name]
    after = price(before).workbook
    assert harm(before, after) == []
    assert unsound(after) == unsound(before)
    assert orphans(after) == orphans(before)
    assert price(after).workbook == after


@needs_office
def test_libreoffice_works_out_our_formulas_from_the_users_cells(resaved):
    """The answers planted in our cells are wrong by one: it must find the right ones in the user's own sheet."""
    books = {name: BOOKS[name] for name in BOOKS}
    wrong = {name: with_wrong_answers(priced(name)) for name in books}
    assert values(wrong["openpyxl plain"])["Price"]["B2"] == WAGE * 2 + 1
    worked_out = resaved(wrong)
    for name, book in books.items():
        found, users = values(worked_out[name]), values(book)
        assert (found["Price"]["B2"], found["Price"]["B3"], found["Ways of banding"]["B2"]) == (42, 48, 47), name
        assert found["Price"]["A2"] == "= not a formula"
        for sheet, cells in users.items():
            assert {where: value for where, value in found[sheet].items() if where in cells} == cells, (name, sheet)


def with_wrong_answers(book):
    part, = (name for name, content in named_parts(book).items() if b"B5*2</f><v>42</v>" in content)
    return with_parts(book, {part: read_part(book, part).replace(b"<v>42</v>", b"<v>43</v>")})


@needs_office
@pytest.mark.parametrize("name", ["openpyxl plain", "openpyxl many things", "XlsxWriter many things",
                                  "by hand, prefixes and single quotes"])
def test_our_sheets_are_known_again_after_libreoffice_has_saved_them(resaved, name):
    once = resaved({name: priced(name)})[name]
    again = price(once)
    assert again.replaced == again.added == WANTED
    assert values(again.workbook).keys() == values(once).keys()
    assert unsound(again.workbook) == []
    assert orphans(again.workbook) == orphans(once)


UNREADABLE = {"by hand, list of sheets elsewhere", "by hand, UTF-16", "by hand, Latin letters", "by hand, other namespaces"}   # by calamine, priced or not


@pytest.mark.parametrize("name", sorted(BOOKS.keys() - UNREADABLE))
def test_calamine_reads_the_users_values_and_ours(name):
    before, after = (calamine(io.BytesIO(book)) for book in (BOOKS[name], priced(name)))
    assert after.sheet_names == [*before.sheet_names, *WANTED]
    for sheet in values(BOOKS[name]):
        assert before.get_sheet_by_name(sheet).to_python() == after.get_sheet_by_name(sheet).to_python()
    ours = after.get_sheet_by_name("Price").to_python()
    assert [ours[1][:2], ours[2][1]] == [["= not a formula", 42], 48]
