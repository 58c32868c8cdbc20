"""compare.xlsx: a Bridge in, the bytes of a workbook out: from the old price to the new one step by step, and every changed cell.

The running price is a live formula over the steps, so the sheet itself shows that they add up. Text from outside is written as text.
"""

from __future__ import annotations

from datetime import datetime
from decimal import Decimal
from io import BytesIO
from typing import TYPE_CHECKING, Any

from estimator.model.comparison import Bridge, RowChange
from estimator.model.exact import Fraction
from estimator.model.units import decimal_text, minor_decimals

if TYPE_CHECKING:
    from xlsxwriter.workbook import Workbook
    from xlsxwriter.worksheet import Worksheet

_MADE = datetime(2000, 1, 1)
"""A fixed date, so that the same comparison gives the same bytes."""
_FIRST = 3
"""Row of the first price below title, words and heads, counted from 0."""


def compare_book(bridge: Bridge, *, old_name: str, new_name: str) -> bytes:
    """The workbook of one comparison."""
    from xlsxwriter import Workbook as NewBook

    out = BytesIO()
    plain = {"strings_to_formulas": False, "strings_to_urls": False, "strings_to_numbers": False, "in_memory": True}
    book: Workbook = NewBook(out, plain)
    book.set_properties({"created": _MADE, "title": "What moved the price"})
    decimals = minor_decimals(bridge.currency)
    money = "#,##0" + ("." + "0" * decimals if decimals else "")
    looks = {
        "title": book.add_format({"bold": True, "font_size": 15, "font_color": "#24425C"}),
        "head": book.add_format({"bold": True, "bottom": 1, "text_wrap": True, "valign": "bottom"}),
        "head of numbers": book.add_format({"bold": True, "bottom": 1, "text_wrap": True, "valign": "bottom", "align": "right"}),
        "text": book.add_format({"text_wrap": True, "valign": "top"}),
        "place": book.add_format({"text_wrap": True, "valign": "top", "indent": 1, "align": "left"}),
        "head of places": book.add_format({"bold": True, "bottom": 1, "valign": "bottom", "indent": 1, "align": "left"}),
        "strong": book.add_format({"bold": True, "text_wrap": True, "valign": "top"}),
        "money": book.add_format({"num_format": money, "valign": "top"}),
        "total": book.add_format({"num_format": money, "valign": "top", "bold": True}),
        "moved": book.add_format({"num_format": f"+{money};-{money};{money}", "valign": "top"}),
    }
    _steps_sheet(book.add_worksheet("From old to new"), bridge, looks, old_name=old_name, new_name=new_name)
    _cells_sheet(book.add_worksheet("What changed"), bridge, looks)
    book.close()
    return out.getvalue()


def _number(value: Fraction) -> Decimal:
    return Decimal(decimal_text(value))


def _steps_sheet(sheet: Worksheet, bridge: Bridge, looks: dict[str, Any], *, old_name: str, new_name: str) -> None:
    for at, width in enumerate((64, 16, 16, 16, 46)):
        sheet.set_column(at, at, width)
    sheet.write_string(0, 0, "From the old price to the new one", looks["title"])
    sheet.write_string(1, 0, "Each step is worked out on top of those before it; the whole job is priced anew each time.")
    heads = ("What changed", f"With tax, {bridge.currency}", "Price then", "Before tax", "Where")
    for at, head in enumerate(heads):
        sheet.write_string(2, at, head, looks["head" if at == 0 else "head of places" if at == 4 else "head of numbers"])
    sheet.write_string(_FIRST, 0, old_name, looks["strong"])
    sheet.write_number(_FIRST, 2, _number(bridge.old.gross), looks["total"])
    row = _FIRST
    for row, step in enumerate(bridge.steps, start=_FIRST + 1):
        sheet.write_string(row, 0, step.words[:32_000], looks["text"])
        sheet.write_number(row, 1, _number(step.gross), looks["moved"])
        sheet.write_formula(row, 2, f"=C{row}+B{row + 1}", looks["money"], _number(step.after.gross))
        sheet.write_number(row, 3, _number(step.net), looks["moved"])
        sheet.write_string(row, 4, place_of(step.changes[0]), looks["place"])
    last = row + 1
    sheet.write_string(last, 0, new_name, looks["strong"])
    for column, letter, value in ((1, "B", bridge.new.gross - bridge.old.gross), (3, "D", bridge.new.net - bridge.old.net)):
        formula = f"=SUM({letter}{_FIRST + 2}:{letter}{row + 1})" if bridge.steps else "=0"
        sheet.write_formula(last, column, formula, looks["moved"], _number(value))
    sheet.write_formula(last, 2, f"=C{row + 1}", looks["total"], _number(bridge.new.gross))
    sheet.freeze_panes(_FIRST, 1)
    _page(sheet)


def _cells_sheet(sheet: Worksheet, bridge: Bridge, looks: dict[str, Any]) -> None:
    heads = (("Sheet", 16), ("Row", 34), ("What happened", 14), ("Column", 22), ("Was", 30), ("Is now", 30), ("Where", 44))
    for at, (head, width) in enumerate(heads):
        sheet.set_column(at, at, width)
        sheet.write_string(0, at, head, looks["head"])
    row = 0
    for change in bridge.changes:
        for words in _lines(change):
            row += 1
            for at, text in enumerate(words):
                sheet.write_string(row, at, text[:32_000], looks["text"])
    sheet.freeze_panes(1, 2)
    sheet.autofilter(0, 0, max(row, 1), 6)
    _page(sheet)


def _lines(change: RowChange) -> list[tuple[str, ...]]:
    """One line a cell; a row that came, went or moved has at least one."""
    head = (change.sheet, change.name, change.kind)
    if not change.cells:
        return [(*head, "", "", "", str(change.place))]
    return [(*head, cell.header, cell.before, cell.after, str(cell.place)) for cell in change.cells]


def place_of(change: RowChange) -> str:
    """The cell to go to for a change."""
    return str(change.cells[0].place if change.kind == "changed" and change.cells else change.place)


def _page(sheet: Worksheet) -> None:
    sheet.set_landscape()
    sheet.fit_to_pages(1, 0)
