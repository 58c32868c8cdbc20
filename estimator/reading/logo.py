"""A job's workbooks in, the name of its logo out, without reading the rest: so that the picture can travel with the job."""

from __future__ import annotations

import contextlib
from pathlib import Path

from estimator.reading.cell_words import as_text
from estimator.reading.findings import Findings
from estimator.reading.item_sheets import read_items
from estimator.reading.names import fold
from estimator.reading.spreadsheet import Book, open_book
from estimator.reading.workbook import shop_book_beside


def logo_named(path: Path, *, shop: Path | None = None) -> str:
    """What Job > Logo says, or else Shop > Logo; blank where nothing can be read: the pricing will tell why."""
    with contextlib.ExitStack() as opened, contextlib.suppress(Exception):
        book = opened.enter_context(contextlib.closing(open_book(path)))
        if named := _logo(book, _tab(book, "job")):
            return named
        second = None if _tab(book, "shop") else shop_book_beside(path, shop)
        if second:
            book = opened.enter_context(contextlib.closing(open_book(second)))
        return _logo(book, _tab(book, "shop"))
    return ""


def _logo(book: Book, tab: str | None) -> str:
    if tab is None:
        return ""
    items = read_items(book.read(tab), book=book.name, units="mm", starts_1904=book.starts_1904, findings=Findings())
    item = items.item("Logo")
    return as_text(item.value).strip() if item and item.value else ""


def _tab(book: Book, name: str) -> str | None:
    return next((tab for tab in book.sheets if fold(tab) == name), None)
