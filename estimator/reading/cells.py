"""One cell and its column of the form in, one value out: or a Wrong, with what was found and how to mend it."""

from __future__ import annotations

from collections.abc import Callable
from functools import cache
from typing import Any

from estimator.model.form import Column
from estimator.reading.cell_dates import read_date
from estimator.reading.cell_lengths import read_length, read_lengths, read_roll_length
from estimator.reading.cell_numbers import (
    read_freed_hour,
    read_money,
    read_money_a_metre,
    read_number,
    read_percent,
    read_percent_or_money,
    read_whole,
)
from estimator.reading.cell_rules import read_rule, read_schedule
from estimator.reading.cell_texts import read_choice, read_currency, read_mark, read_text, read_yes_no
from estimator.reading.cell_words import MEND_AN_ERROR, NO_ANSWER
from estimator.reading.raw_cells import Cell
from estimator.reading.typed_numbers import Units, Wrong, shortened


def read_cell(cell: Cell | None, column: Column, *, units: Units, starts_1904: bool = False) -> Any:
    """The value of one cell for its column: blank takes the column's default, and a Wrong says why it cannot be read."""
    if cell is None:
        return _blank(column, units)
    if cell.holds == "no answer":
        return NO_ANSWER
    if cell.holds == "error":
        return _wrong_error(cell, column)
    return _READERS[column.what](cell, column, units, starts_1904)


@cache
def _blank(column: Column, units: Units) -> Any:
    """What a blank cell means: the column's default, read as if it were typed."""
    if not column.default:
        return _BLANK.get(column.what)
    return _READERS[column.what](Cell(column.default), column, units, False)


_BLANK: dict[str, Any] = {
    "text": "", "name": "", "choice": "", "mark": "", "rule": "", "yes no": False, "lengths": (), "banding": "", "currency": "",
    "schedule": (),
}  # fmt: skip


def _wrong_error(cell: Cell, column: Column) -> Wrong:
    if column.what == "rule":
        return Wrong(f"the error {shortened(cell.text)}", "type the rule as text, without = before it")
    return Wrong(f"the error {shortened(cell.text)}", MEND_AN_ERROR)


_READERS: dict[str, Callable[[Cell, Column, Units, bool], Any]] = {
    "text": read_text,
    "name": read_text,
    "banding": read_text,
    "choice": read_choice,
    "yes no": read_yes_no,
    "mark": read_mark,
    "currency": read_currency,
    "date": read_date,
    "rule": read_rule,
    "schedule": read_schedule,
    "number": read_number,
    "rating": read_number,
    "whole": read_whole,
    "money": read_money,
    "money a metre": read_money_a_metre,
    "percent": read_percent,
    "percent or money": read_percent_or_money,
    "freed hour": read_freed_hour,
    "length": read_length,
    "lengths": read_lengths,
    "roll length": read_roll_length,
}
