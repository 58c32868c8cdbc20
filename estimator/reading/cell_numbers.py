"""A cell of a number in, an exact fraction out: plain numbers, money, counts, percentages."""

from __future__ import annotations

import re

from estimator.model.exact import Fraction
from estimator.model.form import Column
from estimator.model.shop_records import Money, Share
from estimator.model.units import MM_PER_M, decimal_text
from estimator.reading.cell_words import MEND_AN_ERROR, NO_ANSWER, as_text, found
from estimator.reading.names import close_to, fold
from estimator.reading.raw_cells import Cell
from estimator.reading.typed_numbers import Units, Wrong, bare_metre_mm, plain_number, said, stored_number, tidy

MOST_WHOLE = {"qty": 10_000, "shelves": 1_000, "doors": 1_000, "drawers": 1_000}
MOST_WHOLE_ELSE = 1_000_000


def number_of(cell: Cell, starts_1904: bool = False) -> Fraction | Wrong:
    """The plain number in a cell; a date, a time, a percentage, a yes or no is none."""
    odd = _not_plain(cell, starts_1904)
    if odd is not None:
        return odd
    return stored_number(cell.text) if cell.holds == "number" else plain_number(cell.text)


_AS_NUMBER = "format the cell as a number (right click on it, then Format Cells)"


def _not_plain(cell: Cell, starts_1904: bool) -> Wrong | None:
    words = found(cell, starts_1904)
    if cell.holds == "no answer":
        return NO_ANSWER
    if cell.holds == "error":
        return Wrong(words, MEND_AN_ERROR)
    if cell.holds == "yes or no":
        return Wrong(words, "type a number")
    if cell.holds == "iso date" or (cell.holds == "number" and cell.shows == "date"):
        return Wrong(words, f"{_AS_NUMBER}, and type it again: 3/4 turns into a date, =3/4 or 0.75 does not")
    if cell.holds == "number" and cell.shows == "time":
        return Wrong(words, f"{_AS_NUMBER}, and type it again without a colon")
    if cell.holds == "number" and cell.shows == "percent":
        return Wrong(words, f"{_AS_NUMBER}, and type it again: a percentage means nothing here")
    return None


def in_bounds(value: Fraction, cell: Cell, column: Column) -> Wrong | None:
    """Whether a number keeps the column's bounds, in the unit of its header's words (percentages in %)."""
    if column.above_0 and value <= 0:
        return Wrong(found(cell), "type a number above 0" if column.needed else "type a number above 0, or leave the cell blank")
    sign = " %" if column.what == "percent" else ""
    if column.at_most and value > Fraction(column.at_most):
        return Wrong(found(cell), f"type {column.at_most}{sign} or less")
    if column.below and value >= Fraction(column.below):
        return Wrong(found(cell), f"type less than {column.below}{sign}")
    if not column.above_0 and value < Fraction(column.at_least):
        return Wrong(found(cell), f"type {column.at_least}{sign} or more")
    return None


def read_number(cell: Cell, column: Column, _units: Units, starts_1904: bool) -> Fraction | Wrong:
    value = number_of(cell, starts_1904)
    return value if isinstance(value, Wrong) else in_bounds(value, cell, column) or value


_MONEY_SIGNS = re.compile(r"^[€$£¥] ?(?=[\d.,-])|(?<=[\d.,]) ?[€$£¥]$")


def read_money(cell: Cell, column: Column, units: Units, starts_1904: bool) -> Fraction | Wrong:
    return read_number(_without_currency_sign(cell), column, units, starts_1904)


def _without_currency_sign(cell: Cell) -> Cell:
    if cell.holds != "text" or cell.text.isalnum():
        return cell
    return cell._replace(text=_MONEY_SIGNS.sub("", tidy(cell.text)))


def read_money_a_metre(cell: Cell, column: Column, units: Units, starts_1904: bool) -> Fraction | Wrong:
    value = read_money(cell, column, units, starts_1904)
    return value if isinstance(value, Wrong) else value * MM_PER_M / bare_metre_mm(units)


def read_whole(cell: Cell, column: Column, _units: Units, starts_1904: bool) -> int | Wrong:
    value = number_of(cell, starts_1904)
    if isinstance(value, Wrong):
        return value
    if value.denominator != 1:
        return Wrong(found(cell), "type a whole number, without a fraction")
    most = MOST_WHOLE.get(column.field, MOST_WHOLE_ELSE)
    if value > most:
        return Wrong(found(cell), f"type {most:,} or less: more than that is out of all measure")
    return in_bounds(value, cell, column) or int(value)


_PERCENT = re.compile(r"(.*?) ?%")
_PERCENT_IN_WORDS = re.compile(r"([\d.,]+) ?(?:percent|per cent|pct\.?|p\.c\.|prozent)", re.IGNORECASE)


def read_percent(cell: Cell, column: Column, _units: Units, starts_1904: bool) -> Fraction | Wrong:
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
    return in_bounds(typed, cell, column) or typed / 100


def _signed_percent(cell: Cell) -> Fraction | Wrong | None:
    """The percentage of a cell that says %, by its sign or its format; None when it does not."""
    if cell.holds == "number" and cell.shows == "percent":
        value = stored_number(cell.text)
        return value if isinstance(value, Wrong) else value * 100
    if cell.holds != "text":
        return None
    text = tidy(cell.text)
    if in_words := _PERCENT_IN_WORDS.fullmatch(text):
        return Wrong(said(cell.text), f"type {in_words[1]} %, with the sign in place of the word")
    match = _PERCENT.fullmatch(text)
    if match is None:
        return None
    number = plain_number(match[1])
    return Wrong(said(cell.text), number.mend) if isinstance(number, Wrong) else number


def read_percent_or_money(cell: Cell, column: Column, units: Units, starts_1904: bool) -> Share | Money | Wrong:
    typed = _signed_percent(cell)
    if typed is None:
        amount = read_money(cell, column, units, starts_1904)
        return amount if isinstance(amount, Wrong) else Money(amount)
    if isinstance(typed, Wrong):
        return typed
    if not 0 <= typed <= 100:
        return Wrong(found(cell), "type a percentage from 0 % to 100 %")
    return Share(typed / 100)


def read_freed_hour(cell: Cell, column: Column, units: Units, starts_1904: bool) -> str | Money | Wrong:
    words = ("idle", "wage", "full rate")
    typed = fold(as_text(cell, starts_1904))
    if typed in words:
        return typed
    amount = read_money(cell, column, units, starts_1904)
    if isinstance(amount, Wrong):
        guess = close_to(typed, words)
        return Wrong(amount.found, f"did you mean {guess}?") if guess else Wrong(amount.found, "type idle, wage, full rate or an amount")
    return Money(amount)
