"""A sheet of rows, drawn: headers with units and notes, one row a row, drop-downs far below the last one."""

from collections.abc import Mapping
from typing import Any

from estimator.model.form import Column, Sheet
from estimator.papers.form_book.cells import column_format
from estimator.papers.form_book.pen import LINE, ROWS_WITH_CHOICES, Pen, height_of, look_of
from estimator.papers.form_book.tables import Rows
from estimator.papers.form_book.words import header_of, note_of

NOTE = Column("Note", "note", "text", "where it comes from; for the shop only")
_LINE_ABOVE_EACH = {"Construction": "Kind", "Work": "Stage", "Cabinets": "Room", "Loose parts": "Room"}
_NARROW = ("yes no", "mark", "whole", "number", "percent", "length", "rating", "date")
_WIDEST = {"rule": 62, "text": 34}
_SENTENCE, _NAME = 36, 15
"""Least widths: an empty sheet too has room for what a person will type there."""


def draw_rows(pen: Pen, page: Any, sheet: Sheet, rows: Rows) -> None:
    """The headers in the first row, then the rows; a thin line stands where a new group begins."""
    headers = columns_of(sheet, rows)
    page.freeze_panes(1, 1)
    titles = [header_of(column, units=pen.units, currency=pen.currency) if column else name for name, column in headers]
    widths = [
        _width(title, column, [row.get(name, "") for row in rows])
        for title, (name, column) in zip(titles, headers, strict=True)
    ]
    page.set_row(0, height_of(lines=max(_lines(title, width) for title, width in zip(titles, widths, strict=True))))
    for x, (_, column) in enumerate(headers):
        page.set_column(x, x, widths[x], pen.ink(**look_of(column), num_format=column_format(column)))
        page.write_string(0, x, titles[x], pen.header(column))
        words = note_of(column, units=pen.units) if column else "a column of your own: rules know it by this name"
        page.write_comment(0, x, words, _note_look(words))
        pen.offer(page, column, first=(1, x), last=(ROWS_WITH_CHOICES, x))
    _fill_in(pen, page, sheet, rows, headers, widths)


def _fill_in(
    pen: Pen,
    page: Any,
    sheet: Sheet,
    rows: Rows,
    headers: tuple[tuple[str, Column | None], ...],
    widths: list[float],
) -> None:
    group = _LINE_ABOVE_EACH.get(sheet.name, "")
    before: Mapping[str, str] = rows[0] if rows else {}
    for y, row in enumerate(rows, start=1):
        line: dict[str, object] = {"top": 1, "top_color": LINE} if row.get(group) != before.get(group) else {}
        before = row
        wrapped = [(widths[x], row.get(name, "")) for x, (name, column) in enumerate(headers) if look_of(column).get("text_wrap")]
        page.set_row(y, max((height_of({width: text}) for width, text in wrapped), default=height_of()))
        for x, (name, column) in enumerate(headers):
            if line and not row.get(name):
                page.write_blank(y, x, None, pen.ink(**look_of(column), **line, num_format=column_format(column)))
            pen.write(page, y, x, column, row.get(name, ""), **line)


def columns_of(sheet: Sheet, rows: Rows) -> tuple[tuple[str, Column | None], ...]:
    """Headers as drawn: the form's, then the rows' own, then a Note; in Finishes the roles follow the finish's name."""
    form: list[tuple[str, Column | None]] = [(column.header, column) for column in sheet.columns]
    known = {column.header for column in sheet.columns}
    own = [header for header in dict.fromkeys(header for row in rows for header in row) if header not in known]
    note = [(NOTE.header, NOTE)] if NOTE.header in own else []
    others: list[tuple[str, Column | None]] = [(name, _own_column(sheet, name)) for name in own if name != NOTE.header]
    return (*form[:1], *others, *form[1:], *note) if sheet.name == "Finishes" else (*form, *others, *note)


def _own_column(sheet: Sheet, header: str) -> Column | None:
    """A role's column of Finishes names a board or an edging; any other column of the user's own holds numbers."""
    role, _, last = header.rpartition(" ")
    if sheet.name != "Finishes" or last not in ("board", "edging"):
        return None
    return Column(header, "", "name", f"the {last} of the role {role}; blank: the role has none", names_in=f"{last.title()}s")


def _width(title: str, column: Column | None, cells: list[str]) -> float:
    """Wide enough for what stands there; a header may break over two or three lines."""
    longest = max((len(cell) for cell in cells), default=0)
    broken = max(len(word) for word in title.split()) + 3.5
    if column is not None and column.header == "Note":
        return 54
    if column is None or column.what in _NARROW:
        return max(broken, min(longest, 14) + 3, 8)
    least = _SENTENCE if column.header == "Words for the quote" else _NAME if column.what in ("text", "name") else 10
    return max(broken, min(longest, _WIDEST.get(column.what, 30)) * 1.05 + 3.5, least)


def _lines(title: str, width: float) -> int:
    """Lines that a header takes when it breaks between words."""
    lines, left = 1, width - 2
    for word in title.split():
        if left < len(word) and left < width - 2:
            lines, left = lines + 1, width - 2
        left -= len(word) + 1
    return lines


def _note_look(words: str) -> dict[str, object]:
    lines = sum(1 + len(line) // 34 for line in words.splitlines())
    return {"x_scale": 1.9, "y_scale": max(0.5, 0.27 * lines), "color": "#FBFAF6", "font_size": 9, "author": "form"}
