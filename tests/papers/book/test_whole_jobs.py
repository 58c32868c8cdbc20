"""Whole jobs whose workbooks carry what other programs put into them: priced once and twice, every part of theirs as it was."""

import io
import os
import warnings
import xml.etree.ElementTree as ET
from pathlib import Path

import openpyxl
import pytest

from estimator.batch import price_book
from estimator.model.results import Estimate
from estimator.papers.priced_workbook import PricedBook, priced_book
from tests.papers.book import things_put_in
from tests.papers.book.harm import MAIN, harm, list_of_sheets, named_parts, orphans, parts_of, unsound
from tests.papers.priced.recalculation import libreoffice, recalculated
from tests.papers.priced.what_if import differences, result_sheets

JOBS = int(os.environ.get("PRICED_JOBS", "2"))
SAMPLE = Path(__file__).parents[3] / "workbooks" / "one-cabinet.xlsx"
MAY_CHANGE = {"[Content_Types].xml", "xl/workbook.xml", "xl/_rels/workbook.xml.rels", "xl/styles.xml", "xl/calcChain.xml"}


def priced(book, path):
    path.write_bytes(book)
    estimate = price_book(path)
    assert isinstance(estimate, Estimate), estimate
    filled = priced_book(estimate, user_book=book, shop_book=None)
    assert isinstance(filled, PricedBook), filled
    return estimate, filled


def changed_bytes(before, after):
    old, new = named_parts(before), named_parts(after)
    return [name for name, content in old.items() if name not in MAY_CHANGE and new.get(name) != content]


def listed(book):
    """The names in the list of sheets."""
    parts = parts_of(book)
    return [line.get("name") for line in ET.fromstring(parts[list_of_sheets(parts)[0]]).iter(f"{MAIN}sheet")]


def opened(book):
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        return openpyxl.load_workbook(io.BytesIO(book)).sheetnames


@pytest.fixture(scope="module")
def once(tmp_path_factory):
    """Each book with its things, priced once: the book, its estimate, and the filled-in workbook."""
    folder = tmp_path_factory.mktemp("once")
    books = {name: things_put_in.with_things(SAMPLE.read_bytes(), things) for name, things in things_put_in.BOOKS.items()}
    return {name: (book, *priced(book, folder / "job.xlsx")) for name, book in books.items()}


@pytest.mark.parametrize("name", things_put_in.BOOKS)
def test_a_whole_job_is_priced_and_nothing_in_its_book_is_harmed(name, once, tmp_path):
    book, estimate, filled = once[name]
    again, twice = priced(filled.book, tmp_path / "again.xlsx")
    assert str(float(estimate.price.gross)) == str(float(again.price.gross)) == "179.65", "the sample's total, worked out on paper"
    for after in (filled.book, twice.book):
        assert changed_bytes(book, after) == []
        assert harm(book, after) == []
        assert unsound(after) == unsound(book)
        assert orphans(after) == orphans(book)
    assert named_parts(twice.book).keys() == named_parts(filled.book).keys()
    assert listed(filled.book) == listed(twice.book) == opened(filled.book)
    assert listed(filled.book)[: len(listed(book))] == listed(book)


def test_a_sheet_of_the_users_that_is_called_as_ours_is_kept_and_said(once):
    filled = once["put in by other programs"][2]
    assert {"ANSWER", "Answer (2)", "price", "Price (2)", "As priced", "As priced (2)"} <= set(listed(filled.book))
    assert "your book has a sheet Answer of its own, so ours is called Answer (2)" in filled.remarks


def test_a_part_of_the_users_that_is_changed_is_seen(once):
    """The control: were one letter of one part another, the comparison would say so."""
    book, _, filled = once["put in by other programs"]
    parts = things_put_in.parts_of(filled.book)
    parts["customXml/item1.xml"] = parts["customXml/item1.xml"].replace("kept", "lost")
    assert changed_bytes(book, things_put_in.book_of(parts)) == ["customXml/item1.xml"]


@pytest.mark.skipif(libreoffice() is None, reason="LibreOffice IS NOT INSTALLED: nobody else opens these books")
@pytest.mark.skipif(JOBS < 12, reason="the full run only: PRICED_JOBS=12 or more")
@pytest.mark.parametrize("name", things_put_in.BOOKS)
def test_libreoffice_opens_it_and_shows_theirs_and_ours(name, once, tmp_path):
    book, _, filled = once[name]
    paths = [tmp_path / "theirs.xlsx", tmp_path / "filled.xlsx"]
    for path, content in zip(paths, (book, filled.book), strict=True):
        path.write_bytes(content)
    theirs, both = (openpyxl.load_workbook(path, data_only=True) for path in recalculated(paths, tmp_path / "back"))
    for sheet in theirs.worksheets:
        assert [[cell.value for cell in row] for row in sheet] == [[cell.value for cell in row] for row in both[sheet.title]], sheet.title
    assert not differences(result_sheets(filled.book), result_sheets((tmp_path / "back" / "filled.xlsx").read_bytes()))
