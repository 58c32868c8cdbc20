"""The random jobs are written in the form of the workbook, and a plain reader reads back what was meant."""

from datetime import date, datetime
from decimal import Decimal

import pytest
from openpyxl import load_workbook

from tests.oracle.book import COLUMNS, headers, write
from tests.oracle.cells import Percent, blank
from tests.oracle.jobs import ITEM_SHEETS
from tests.oracle.random_jobs import random_job
from tests.oracle.worked import one_cabinet


def header_of(cell):
    return str(cell).partition("(")[0].strip().lower()


def test_the_plain_form_has_every_column_of_its_sheets(tmp_path):
    book = load_workbook(write(one_cabinet(), tmp_path))
    assert set(book.sheetnames) == set(one_cabinet())
    for page in book:
        first = [cell.value for cell in page[1]]
        assert first[: len(headers(page.title))] == headers(page.title)


@pytest.mark.parametrize("seed", range(25))
def test_a_book_reads_back_as_it_was_meant(seed, tmp_path):
    job = random_job(seed, most_cabinets=12)
    path = write(job, tmp_path)
    books = {False: load_workbook(path)}
    if job["shop book"]:
        books[True] = load_workbook(path.parent / "shop.xlsx")
    for sheet in COLUMNS:
        if job.get(sheet):
            _same_rows(job, sheet, books[sheet in job["shop book"]][sheet])


def _same_rows(job, sheet, page):
    rows = [row for row in page.iter_rows(values_only=True) if any(cell is not None for cell in row)]
    columns = [header_of(cell) for cell in rows[0]]
    assert len(columns) == len(set(columns))
    if sheet in ITEM_SHEETS:
        at, value = columns.index("item"), columns.index("value")
        found = {header_of(row[at]): row[value] for row in rows[1:]}
        for name, typed in job[sheet].items():
            assert _agrees(typed, found.get(header_of(name))), (sheet, name)
        return
    typed_rows = [row for row in job[sheet] if any(not blank(cell) for cell in row.values())]
    assert len(typed_rows) == len(rows) - 1
    for typed, row in zip(typed_rows, rows[1:], strict=True):
        found = dict(zip(columns, row, strict=True))
        for name, cell in typed.items():
            assert _agrees(cell, found.get(name.lower())), (sheet, name)


def _agrees(typed, found):
    if blank(typed):
        return found is None
    if isinstance(typed, Percent):
        return Decimal(repr(float(found))) == typed.share
    if isinstance(typed, date):
        return found == datetime(typed.year, typed.month, typed.day)
    if isinstance(typed, str):
        return str(found).replace("\u00a0", " ").strip() == typed
    return Decimal(repr(found)) == typed if not isinstance(typed, bool) else found is typed


def test_random_jobs_differ_and_repeat():
    one, again, other = random_job(3), random_job(3), random_job(4)
    assert one == again
    assert one != other


def sorts_in(job):
    """What a random job holds of all that the rules tell apart."""
    both = {**job["Shop"], **job["Job"]}
    return {
        ("currency", job["Job"].get("Currency") or job["Shop"].get("Currency")),
        ("units", job["Job"].get("Units")),
        ("books", bool(job["shop book"])),
        *((name, bool(job[sheet])) for name, sheet in (("loose", "Loose parts"), ("cabinets", "Cabinets"))),
        *((name, bool(job[sheet])) for name, sheet in (("contract", "Contract"), ("options", "Options"))),
        *((name, job["Contract"].get(name)) for name in ("Breaks apply to", "Breaks count")),
        *(("yield", blank(row["Expected yield"])) for row in job["Boards"]),
        *(("extra", blank(row["Price each"])) for row in job["Extras"]),
        *(("per", row.get("Route"), row["Per"]) for row in job["Work"]),
        *((name, name in both) for name in ("Margin", "Markup")),
    }


def test_a_hundred_jobs_meet_every_sort():
    """The sample must hold what the rules tell apart, or agreement on it would say little."""
    wanted = {("currency", code) for code in ("EUR", "JPY", "BHD")} | {("units", unit) for unit in ("mm", "inch", None)}
    for word in ("books", "loose", "cabinets", "contract", "options", "yield", "extra", "Margin", "Markup"):
        wanted |= {(word, True), (word, False)}
    wanted |= {("Breaks apply to", "quantity above"), ("Breaks apply to", "whole quantity"), ("Breaks count", "whole order")}
    wanted |= {("per", None, word) for word in ("job", "site trip", "sheet", "part", "m2", "cabinet", "door", "drawer")}
    wanted |= {("per", "by hand", word) for word in ("job", "batch", "part", "edge", "metre")}
    wanted |= {("per", "send out", word) for word in ("order", "trip", "part", "metre")}
    for seed in range(100):
        wanted -= sorts_in(random_job(seed, most_cabinets=8))
        if not wanted:
            break
    assert not wanted
