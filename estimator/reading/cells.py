"""One cell and its column of the form in, one value out: or a Wrong, with what was found and how to mend it."""

from __future__ import annotations

import re
from collections.abc import Callable
from datetime import date, timedelta
from fractions import Fraction
from typing import Any

from estimator.model.form import Column
from estimator.model.records import Instalment, Money, Share
from estimator.model.units import MM_PER_M, decimal_text
from estimator.reading.currencies import CURRENCIES
from estimator.reading.names import close_to, fold
from estimator.reading.spreadsheet import MOST_TEXT, Cell
from estimator.reading.typed_numbers import (
    Units,
    Wrong,
    bare_metre_mm,
    bare_mm,
    length,
    plain_number,
    said,
    shortened,
    stored_number,
    tidy,
)

NO_ANSWER = Wrong(
    "a formula whose answer was not saved", "open the workbook in your spreadsheet program, save it there, and run again"
)
MOST_NAME = 200
_NAMES = frozenset({
    "ref", "room", "kind", "part", "finish", "board", "edging", "adhesive", "item", "step", "stage", "option", "job_name", "quote_number",
    "revision", "material", "of", "per",
})  # fmt: skip
MOST_WHOLE = {"qty": 10_000, "shelves": 1_000, "doors": 1_000, "drawers": 1_000}
MOST_WHOLE_ELSE = 1_000_000
FIRST_YEAR, LAST_YEAR = 1990, 2199


def read_cell(cell: Cell | None, column: Column, *, units: Units, starts_1904: bool = False) -> Any:
    """The value of one cell for its column: blank takes the column's default, and a Wrong says why it cannot be read."""
    if cell is None:
        if not column.default:
            return _BLANK.get(column.what)
        cell = Cell(column.default)
    if cell.holds == "no answer":
        return NO_ANSWER
    if cell.holds == "error":
        return _wrong_error(cell, column)
    value = _READERS[column.what](cell, column, units, starts_1904)
    return value


_BLANK: dict[str, Any] = {
    "text": "", "name": "", "choice": "", "mark": "", "rule": "", "yes no": False, "lengths": (), "banding": "", "currency": "",
    "schedule": (),
}  # fmt: skip


def _wrong_error(cell: Cell, column: Column) -> Wrong:
    if column.what == "rule":
        return Wrong(f"the error {shortened(cell.text)}", "type the rule as text, without = before it")
    return Wrong(f"the error {shortened(cell.text)}", "mend the formula in this cell, or type its answer")


# --- text -------------------------------------------------------------------------------------------------------------


def as_text(cell: Cell, starts_1904: bool = False) -> str:
    """What a cell shows, as text: a number as its decimal text, a percentage with its sign, a date as 2031-02-03."""
    if cell.holds == "yes or no":
        return "true" if cell.text == "1" else "false"
    if cell.holds == "iso date":
        return cell.text[:10]
    if cell.holds != "number":
        return cell.text.strip()
    if cell.shows in ("date", "time"):
        day = _day_of_serial(cell, starts_1904)
        return day.isoformat() if day and cell.shows == "date" else cell.text
    value = stored_number(cell.text)
    if isinstance(value, Wrong):
        return shortened(cell.text)
    return f"{decimal_text(value * 100)} %" if cell.shows == "percent" else decimal_text(value)


def found(cell: Cell, starts_1904: bool = False) -> str:
    """A cell's content as a message names it."""
    text = shortened(as_text(cell, starts_1904))
    match cell.holds:
        case "text":
            return said(text)
        case "yes or no":
            return f"{text.upper()}, which is a yes or a no"
        case "iso date":
            return f"the date {text}"
        case "no answer":
            return NO_ANSWER.found
        case "error":
            return f"the error {text}"
    return {"percent": "the percentage ", "date": "the date ", "time": "a time of day: "}.get(cell.shows, "the number ") + text


def _text(cell: Cell, column: Column, _units: Units, starts_1904: bool) -> str | Wrong:
    text = as_text(cell, starts_1904)
    most = MOST_NAME if column.field in _NAMES or column.what in ("name", "mark") else MOST_TEXT
    if len(text) > most:
        return Wrong(f"a text of more than {most:,} signs", f"shorten it to {most:,} signs or fewer")
    return text if column.what == "text" and most == MOST_TEXT else " ".join(text.split())


def _choice(cell: Cell, column: Column, _units: Units, starts_1904: bool) -> str | Wrong:
    typed = as_text(cell, starts_1904)
    for choice in column.choices:
        if fold(choice) == fold(typed):
            return choice
    guess = close_to(typed, column.choices)
    return Wrong(found(cell, starts_1904), f"did you mean {guess}?" if guess else f"choose one of {', '.join(column.choices)}")


_YES, _NO = ("yes", "y", "x", "true"), ("no", "n", "false")


def _yes_no(cell: Cell, _column: Column, _units: Units, starts_1904: bool) -> bool | Wrong:
    typed = fold(as_text(cell, starts_1904))
    if cell.holds in ("text", "yes or no") and typed in (*_YES, *_NO):
        return typed in _YES
    return Wrong(found(cell, starts_1904), "type yes or no")


def _mark(cell: Cell, column: Column, units: Units, starts_1904: bool) -> str | Wrong:
    if cell.holds == "yes or no":
        return "x" if cell.text == "1" else ""
    text = _text(cell, column, units, starts_1904)
    return "x" if not isinstance(text, Wrong) and fold(text) == "x" else text


def _currency(cell: Cell, _column: Column, _units: Units, starts_1904: bool) -> str | Wrong:
    typed = as_text(cell, starts_1904)
    code = typed.upper()
    if code in CURRENCIES:
        return code
    guess = {"€": "EUR", "£": "GBP", "$": "USD", "EURO": "EUR", "EUROS": "EUR"}.get(code) or close_to(code, sorted(CURRENCIES))
    return Wrong(found(cell, starts_1904), f"did you mean {guess}?" if guess else "type the three letters of the currency, such as EUR")


# --- numbers ----------------------------------------------------------------------------------------------------------


def number_of(cell: Cell, starts_1904: bool = False) -> Fraction | Wrong:
    """The plain number in a cell; a date, a time, a percentage, a yes or no is none."""
    odd = _not_plain(cell, starts_1904)
    if odd is not None:
        return odd
    return stored_number(cell.text) if cell.holds == "number" else plain_number(cell.text)


def _not_plain(cell: Cell, starts_1904: bool) -> Wrong | None:
    words = found(cell, starts_1904)
    if cell.holds == "yes or no":
        return Wrong(words, "type a number")
    if cell.holds == "iso date" or (cell.holds == "number" and cell.shows == "date"):
        return Wrong(words, "format the cell as a number, then type it again: 3/4 turns into a date, =3/4 or 0.75 does not")
    if cell.holds == "number" and cell.shows == "time":
        return Wrong(words, "format the cell as a number, then type it again without a colon")
    if cell.holds == "number" and cell.shows == "percent":
        return Wrong(words, "format the cell as a plain number, then type it again: a percentage means nothing here")
    return None


def _in_bounds(value: Fraction, cell: Cell, column: Column) -> Wrong | None:
    """Whether a number keeps the column's bounds, in the unit of its header's words (percentages in %)."""
    if column.above_0 and value <= 0:
        return Wrong(found(cell), "type a number above 0" if column.needed else "type a number above 0, or leave the cell blank")
    if column.at_most and value > Fraction(column.at_most):
        return Wrong(found(cell), f"type {column.at_most} or less")
    if column.below and value >= Fraction(column.below):
        return Wrong(found(cell), f"type a number below {column.below}")
    if not column.above_0 and value < Fraction(column.at_least):
        return Wrong(found(cell), f"type {column.at_least} or more")
    return None


def _number(cell: Cell, column: Column, _units: Units, starts_1904: bool) -> Fraction | Wrong:
    value = number_of(cell, starts_1904)
    return value if isinstance(value, Wrong) else _in_bounds(value, cell, column) or value


_MONEY_SIGNS = re.compile(r"^[€$£¥] ?(?=[\d.,-])|(?<=[\d.,]) ?[€$£¥]$")


def _money(cell: Cell, column: Column, units: Units, starts_1904: bool) -> Fraction | Wrong:
    return _number(_without_currency_sign(cell), column, units, starts_1904)


def _without_currency_sign(cell: Cell) -> Cell:
    if cell.holds != "text" or cell.text.isalnum():
        return cell
    return cell._replace(text=_MONEY_SIGNS.sub("", tidy(cell.text)))


def _money_a_metre(cell: Cell, column: Column, units: Units, starts_1904: bool) -> Fraction | Wrong:
    value = _money(cell, column, units, starts_1904)
    return value if isinstance(value, Wrong) else value * MM_PER_M / bare_metre_mm(units)


def _whole(cell: Cell, column: Column, _units: Units, starts_1904: bool) -> int | Wrong:
    value = number_of(cell, starts_1904)
    if isinstance(value, Wrong):
        return value
    if value.denominator != 1:
        return Wrong(found(cell), "type a whole number, without a fraction")
    most = MOST_WHOLE.get(column.field, MOST_WHOLE_ELSE)
    if value > most:
        return Wrong(found(cell), f"type {most:,} or less: more than that is out of all measure")
    return _in_bounds(value, cell, column) or int(value)


_PERCENT = re.compile(r"(.*?) ?%")


def _percent(cell: Cell, column: Column, _units: Units, starts_1904: bool) -> Fraction | Wrong:
    """A share of 1. A bare number above 0 and below 1 may mean two things, so it is asked about."""
    typed = _signed_percent(cell)
    if typed is None:
        bare = number_of(cell, starts_1904)
        if isinstance(bare, Wrong):
            return bare
        if 0 < bare < 1:
            one, other = decimal_text(bare), decimal_text(bare * 100)
            return Wrong(found(cell), f"is it {one} % or {other} %? type the one that is meant, with its % sign")
        typed = bare
    if isinstance(typed, Wrong):
        return typed
    return _in_bounds(typed, cell, column) or typed / 100


def _signed_percent(cell: Cell) -> Fraction | Wrong | None:
    """The percentage of a cell that says %, by its sign or its format; None when it does not."""
    if cell.holds == "number" and cell.shows == "percent":
        value = stored_number(cell.text)
        return value if isinstance(value, Wrong) else value * 100
    if cell.holds != "text":
        return None
    match = _PERCENT.fullmatch(tidy(cell.text))
    if match is None:
        return None
    number = plain_number(match[1])
    return Wrong(said(cell.text), number.mend) if isinstance(number, Wrong) else number


def _percent_or_money(cell: Cell, column: Column, units: Units, starts_1904: bool) -> Share | Money | Wrong:
    typed = _signed_percent(cell)
    if typed is None:
        amount = _money(cell, column, units, starts_1904)
        return amount if isinstance(amount, Wrong) else Money(amount)
    if isinstance(typed, Wrong):
        return typed
    if not 0 <= typed <= 100:
        return Wrong(found(cell), "type a percentage from 0 % to 100 %")
    return Share(typed / 100)


def _freed_hour(cell: Cell, column: Column, units: Units, starts_1904: bool) -> str | Money | Wrong:
    words = ("idle", "wage", "full rate")
    typed = fold(as_text(cell, starts_1904))
    if typed in words:
        return typed
    amount = _money(cell, column, units, starts_1904)
    if isinstance(amount, Wrong):
        guess = close_to(typed, words)
        return Wrong(amount.found, f"did you mean {guess}?") if guess else Wrong(amount.found, "type idle, wage, full rate or an amount")
    return Money(amount)


# --- lengths ----------------------------------------------------------------------------------------------------------


def length_of(cell: Cell, *, bare: Fraction, starts_1904: bool = False) -> Fraction | Wrong:
    """The length in a cell in mm; `bare` is what a bare 1 is worth."""
    if cell.holds == "text":
        typed = length(cell.text, bare_mm=bare)
        return typed if isinstance(typed, Wrong) else typed.mm
    value = number_of(cell, starts_1904)
    return value if isinstance(value, Wrong) else value * bare


def _length(cell: Cell, column: Column, units: Units, starts_1904: bool) -> Fraction | Wrong:
    value = length_of(cell, bare=bare_mm(units), starts_1904=starts_1904)
    return value if isinstance(value, Wrong) else _in_bounds(value, cell, column) or value


def _roll_length(cell: Cell, column: Column, units: Units, starts_1904: bool) -> Fraction | Wrong:
    value = length_of(cell, bare=bare_metre_mm(units), starts_1904=starts_1904)
    return value if isinstance(value, Wrong) else _in_bounds(value, cell, column) or value / MM_PER_M


def _lengths(cell: Cell, column: Column, units: Units, starts_1904: bool) -> tuple[Fraction, ...] | Wrong:
    """Several lengths with commas between them; a comma before a blank, or a semicolon, parts them."""
    if cell.holds != "text":
        one = length_of(cell, bare=bare_mm(units), starts_1904=starts_1904)
        return one if isinstance(one, Wrong) else _above_0((one,), cell)
    line = tidy(cell.text)
    parting = ";" if ";" in line else (", " if ", " in line else ",")
    sizes = []
    for piece in line.rstrip(",; ").split(parting):
        size = length(piece, bare_mm=bare_mm(units))
        if isinstance(size, Wrong):
            return Wrong(said(line), f"look at '{shortened(piece)}': {size.mend}")
        sizes.append(size.mm)
    return _above_0(tuple(sizes), cell)


def _above_0(sizes: tuple[Fraction, ...], cell: Cell) -> tuple[Fraction, ...] | Wrong:
    return sizes if all(size > 0 for size in sizes) else Wrong(found(cell), "type heights above 0")


# --- dates, the schedule, rules ---------------------------------------------------------------------------------------


def _day_of_serial(cell: Cell, starts_1904: bool) -> date | None:
    try:
        days = int(float(cell.text))
        return (date(1904, 1, 1) if starts_1904 else date(1899, 12, 30)) + timedelta(days=days)
    except (ValueError, OverflowError):
        return None


_ISO = re.compile(r"(\d{4})-(\d{1,2})-(\d{1,2})(?:[T ].*)?")


def _date(cell: Cell, _column: Column, _units: Units, starts_1904: bool) -> date | Wrong:
    day: date | None = None
    mend = "type the date as year-month-day, such as 2031-02-03"
    if cell.holds in ("text", "iso date"):
        match = _ISO.fullmatch(tidy(cell.text))
        if match is None:
            if sum(sign.isdigit() for sign in cell.text) >= 3:
                mend += ": other orders are read differently in different countries"
            return Wrong(found(cell, starts_1904), mend)
        try:
            day = date(int(match[1]), int(match[2]), int(match[3]))
        except ValueError:
            return Wrong(found(cell, starts_1904), f"no calendar has this day: {mend}")
    elif cell.holds == "number" and cell.shows == "date":
        day = _day_of_serial(cell, starts_1904)
    elif cell.holds == "number" and cell.shows == "":
        day = _day_of_serial(cell, starts_1904)
        if day and FIRST_YEAR <= day.year <= LAST_YEAR:
            mend = f"if {day.isoformat()} is meant, format the cell as a date or type {day.isoformat()}"
        return Wrong(found(cell, starts_1904), mend)
    if day is None:
        return Wrong(found(cell, starts_1904), mend)
    if not FIRST_YEAR <= day.year <= LAST_YEAR:
        return Wrong(found(cell, starts_1904), f"type a date from {FIRST_YEAR} to {LAST_YEAR}")
    return day


_STEP = re.compile(r"\s*(\d+(?:[.,]\d+)?(?: \d+/\d+)?)\s*%\s*([^%]*?)\s*(?:[,;]\s*(?=\d+(?:[.,]\d+)?(?: \d+/\d+)?\s*%)|$)")


def _schedule(cell: Cell, _column: Column, _units: Units, starts_1904: bool) -> tuple[Instalment, ...] | Wrong:
    """Shares with their words; they must add up to exactly 100 %."""
    line = ", ".join(part.strip().rstrip(",;") for part in as_text(cell, starts_1904).splitlines() if part.strip())
    line = tidy(line).rstrip(",;. ")
    steps: list[Instalment] = []
    at = 0
    while at < len(line):
        match = _STEP.match(line, at)
        share = plain_number(match[1]) if match else None
        if match is None or share is None or isinstance(share, Wrong):
            return Wrong(said(line), "type each share with its % sign and its words, such as 50 % deposit, 50 % on completion")
        steps.append(Instalment(share / 100, match[2] or f"payment {len(steps) + 1}"))
        at = match.end()
    total = sum((step.share for step in steps), Fraction(0))
    if total != 1:
        return Wrong(f"shares that add up to {decimal_text(total * 100)} %", "change a share so that they add up to exactly 100 %")
    return tuple(steps)


def _rule(cell: Cell, _column: Column, units: Units, starts_1904: bool) -> str | Wrong:
    """A rule stays text for the engine; a lone length with a unit, or with a fraction, becomes a number of the book's unit."""
    if cell.holds != "text":
        value = number_of(cell, starts_1904)
        return value if isinstance(value, Wrong) else _fraction_text(value)
    line = tidy(cell.text).removeprefix("=").strip()
    if len(line) > MOST_TEXT // 5:
        return Wrong(f"a rule of {len(line):,} signs", f"shorten it to {MOST_TEXT // 5:,} signs or fewer")
    if not line[:1].isdigit():
        return line
    alone = length(line, bare_mm=bare_mm(units))
    return line if isinstance(alone, Wrong) else _fraction_text(alone.mm / bare_mm(units))


def _fraction_text(value: Fraction) -> str:
    text = decimal_text(value)
    return text if Fraction(text) == value else f"{value.numerator}/{value.denominator}"


_READERS: dict[str, Callable[[Cell, Column, Units, bool], Any]] = {
    "text": _text, "name": _text, "choice": _choice, "yes no": _yes_no, "date": _date, "rule": _rule, "mark": _mark,
    "number": _number, "whole": _whole, "percent": _percent, "money": _money, "percent or money": _percent_or_money,
    "length": _length, "lengths": _lengths, "roll length": _roll_length, "money a metre": _money_a_metre, "rating": _number,
    "schedule": _schedule, "freed hour": _freed_hour, "banding": _text, "currency": _currency,
}  # fmt: skip
