"""A cell of words in, its text out: plain text, one of several choices, yes or no, a mark for an edge, a currency."""

from __future__ import annotations

from estimator.model.form import Column
from estimator.reading.cell_words import as_text, found
from estimator.reading.currencies import CURRENCIES
from estimator.reading.names import close_to, fold
from estimator.reading.raw_cells import MOST_TEXT, Cell
from estimator.reading.typed_numbers import Units, Wrong

MOST_NAME = 200
_NAMES = frozenset({
    "ref", "room", "kind", "part", "finish", "board", "edging", "adhesive", "item", "step", "stage", "option", "job_name",
    "prepared_by", "quote_number", "revision", "material", "of", "per", "merchant",
})  # fmt: skip


def read_text(cell: Cell, column: Column, _units: Units, starts_1904: bool) -> str | Wrong:
    text = as_text(cell, starts_1904)
    most = MOST_NAME if column.field in _NAMES or column.what in ("name", "mark") else MOST_TEXT
    if len(text) > most:
        return Wrong(f"a text of more than {most:,} signs", f"shorten it to {most:,} signs or fewer")
    return text if column.what == "text" and most == MOST_TEXT else " ".join(text.split())


_SAME_UNIT = {
    **dict.fromkeys(("inches", "in", '"', "imperial"), "inch"),
    **dict.fromkeys(("millimetre", "millimetres", "millimeter", "millimeters", "metric"), "mm"),
}


def read_choice(cell: Cell, column: Column, _units: Units, starts_1904: bool) -> str | Wrong:
    typed = as_text(cell, starts_1904)
    meant = _SAME_UNIT.get(fold(typed), typed) if column.field == "units" else typed
    for choice in column.choices:
        if fold(choice) == fold(meant):
            return choice
    guess = close_to(typed, column.choices)
    return Wrong(found(cell, starts_1904), f"did you mean {guess}?" if guess else f"choose one of {', '.join(column.choices)}")


_YES, _NO = ("yes", "y", "x", "true"), ("no", "n", "false")


def read_yes_no(cell: Cell, _column: Column, _units: Units, starts_1904: bool) -> bool | Wrong:
    typed = fold(as_text(cell, starts_1904))
    if cell.holds in ("text", "yes or no") and typed in (*_YES, *_NO):
        return typed in _YES
    return Wrong(found(cell, starts_1904), "type yes or no")


def read_mark(cell: Cell, column: Column, units: Units, starts_1904: bool) -> str | Wrong:
    if cell.holds == "yes or no":
        return "x" if cell.text == "1" else ""
    text = read_text(cell, column, units, starts_1904)
    return "x" if not isinstance(text, Wrong) and fold(text) == "x" else text


_MONEY = {
    "€": "EUR", "EURO": "EUR", "EUROS": "EUR", "£": "GBP", "POUND": "GBP", "POUNDS": "GBP", "$": "USD", "DOLLAR": "USD",
    "DOLLARS": "USD", "¥": "JPY", "YEN": "JPY",
}  # fmt: skip


def read_currency(cell: Cell, _column: Column, _units: Units, starts_1904: bool) -> str | Wrong:
    typed = as_text(cell, starts_1904)
    code = typed.upper()
    if code in CURRENCIES:
        return code
    guess = _MONEY.get(code) or close_to(code, sorted(CURRENCIES))
    return Wrong(found(cell, starts_1904), f"did you mean {guess}?" if guess else "type the three letters of the currency, such as EUR")
