"""Rows of a job or a shop in, the bytes of a workbook out: every sheet that is asked for, the everyday ones first.

Nothing is protected and no colour means anything; what may stand in a cell is said by the form.
"""

from collections.abc import Mapping
from datetime import datetime
from io import BytesIO
from typing import Any

from estimator.model.form import SHEETS, Sheet
from estimator.papers.form_book.item_sheet import draw_items
from estimator.papers.form_book.pen import DARK, LINE, QUIET, Pen, height_of
from estimator.papers.form_book.row_sheet import draw_rows
from estimator.papers.form_book.tables import Rows

DIVIDER = "leave alone until you need it"
_CREATED = datetime(2031, 1, 1)
_PAPER = {"A4": 9, "Letter": 1}


def draw_book(
    sheets: Mapping[str, Rows],
    *,
    units: str = "mm",
    currency: str = "EUR",
    paper: str = "A4",
    names: Mapping[str, tuple[str, ...]] | None = None,
) -> bytes:
    """A workbook with these sheets, in the order of the form; the same rows give the same bytes.

    `names` holds the names of sheets that stand in another workbook, for the drop-downs.
    """
    import xlsxwriter

    stream = BytesIO()
    book = xlsxwriter.Workbook(stream, {"in_memory": True})
    book.set_properties({"created": _CREATED})
    pen = Pen(book, units, currency, frozenset(sheets), names or {})
    wanted = [sheet for sheet in SHEETS if sheet.name in sheets]
    everyday, behind = [sheet for sheet in wanted if sheet.everyday], [sheet for sheet in wanted if not sheet.everyday]
    for sheet in everyday:
        _draw_sheet(pen, sheet, sheets[sheet.name], paper=paper)
    if everyday and behind:
        _draw_divider(pen, behind, paper=paper)
    for sheet in behind:
        _draw_sheet(pen, sheet, sheets[sheet.name], paper=paper)
    book.close()
    return stream.getvalue()


def _page(pen: Pen, name: str, *, paper: str) -> Any:
    """A new sheet that prints on one page's width."""
    page = pen.book.add_worksheet(name)
    page.set_landscape()
    page.set_paper(_PAPER[paper])
    page.fit_to_pages(1, 0)
    page.set_margins(left=0.4, right=0.4, top=0.5, bottom=0.6)
    page.set_footer("&L&8&F, &A&R&8page &P of &N")
    page.set_default_row(height_of())
    page.ignore_errors({"number_stored_as_text": "A1:AZ1000"})
    return page


def _draw_sheet(pen: Pen, sheet: Sheet, rows: Rows, *, paper: str) -> None:
    page = _page(pen, sheet.name, paper=paper)
    page.set_tab_color(DARK if sheet.everyday else LINE)
    page.repeat_rows(0)
    (draw_items if sheet.shape == "items" else draw_rows)(pen, page, sheet, rows)


def _draw_divider(pen: Pen, behind: list[Sheet], *, paper: str) -> None:
    """A page that the program does not read: it only says what stands behind it."""
    page = _page(pen, DIVIDER, paper=paper)
    page.set_tab_color("#FFFFFF")
    page.hide_gridlines(2)
    page.set_column(0, 0, 24)
    page.set_column(1, 1, 90)
    page.set_row(0, 30)
    page.write_string(0, 0, "Leave these alone until you need them", pen.ink(bold=True, font_size=16, font_color=DARK))
    page.write_string(1, 0, "What stands behind this sheet is filled in where a shop can start from it.", pen.ink())
    for y, sheet in enumerate(behind, start=3):
        page.write_string(y, 0, sheet.name, pen.ink(bold=True))
        page.write_string(y, 1, sheet.hint, pen.ink(font_color=QUIET))
