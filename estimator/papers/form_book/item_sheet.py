"""A sheet of names and values, drawn: every item of the form, filled in or not, with its unit and what blank means."""

from collections.abc import Mapping
from typing import Any

from estimator.model.form import JOB, Column, Sheet
from estimator.papers.form_book.pen import QUIET, Pen, height_of
from estimator.papers.form_book.tables import Rows
from estimator.papers.form_book.words import header_of, hint_of, unit_of

_WIDTHS = {"Item": 32, "Value": 42, "Unit": 24, "Note": 80}
_OWN = Column("", "", "number", "")


def draw_items(pen: Pen, page: Any, sheet: Sheet, rows: Rows) -> None:
    """The form's items in their order, then the rows' own."""
    headers = ("Item", "Value", "Note") if sheet is JOB else ("Item", "Value", "Unit", "Note")
    page.freeze_panes(1, 1)
    page.set_row(0, height_of())
    page.fit_to_pages(1, 1)
    for x, name in enumerate(headers):
        page.set_column(x, x, _WIDTHS[name])
        page.write_string(0, x, name, pen.header(Column(name, "", "text", "")))
    given = {row["Item"]: row for row in rows}
    by_header = {column.header: column for column in sheet.columns}
    own = [item for item in given if item not in by_header]
    for y, item in enumerate((*by_header, *own), start=1):
        _draw_item(pen, page, y, item, by_header.get(item), given.get(item, {}), with_unit="Unit" in headers)


def _draw_item(
    pen: Pen, page: Any, y: int, item: str, column: Column | None, row: Mapping[str, str], *, with_unit: bool
) -> None:
    title = item if column is None or with_unit else header_of(column, units=pen.units, currency=pen.currency)
    from_shop = not with_unit and item in pen.names.get("Shop", ())
    value, note = row.get("Value", ""), row.get("Note", "") or (hint_of(column, units=pen.units, from_shop=from_shop) if column else "")
    page.set_row(y, max(height_of({_WIDTHS["Value"] - 2: value}), height_of({_WIDTHS["Note"]: note})))
    page.write_string(y, 0, title, pen.ink(indent=1, bold=bool(column and column.needed and not from_shop)))
    look = {"align": "left", "indent": 1, "text_wrap": True}
    if value:
        pen.write(page, y, 1, column or _job_item(item) or _OWN, value, **look)
    else:
        pen.leave(page, y, 1, column, **look)
    pen.offer(page, column, first=(y, 1), last=(y, 1))
    if with_unit:
        unit = unit_of(column, units=pen.units, currency=pen.currency) if column else ""
        words = row.get("Unit", "").replace("money", pen.currency) or unit
        page.write_string(y, 2, words, pen.ink(indent=1, font_color=QUIET))
    page.write_string(y, 3 if with_unit else 2, note, pen.ink(indent=1, font_color=QUIET, italic=True, text_wrap=True))


def _job_item(item: str) -> Column | None:
    """A row of Job that stands in Shop as the shop's default."""
    return next((column for column in JOB.columns if column.header == item), None)
