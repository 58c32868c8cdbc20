"""A cell of small writing in: the payment schedule as instalments, a rule as the text that the engine will read."""

from __future__ import annotations

import re

from estimator.model.exact import Fraction
from estimator.model.form import Column
from estimator.model.shop_records import Instalment
from estimator.model.units import decimal_text
from estimator.reading.cell_numbers import number_of
from estimator.reading.cell_words import as_text
from estimator.reading.raw_cells import MOST_TEXT, Cell
from estimator.reading.typed_numbers import Units, Wrong, bare_mm, length, plain_number, said, tidy

_STEP = re.compile(r"\s*(\d+(?:[.,]\d+)?(?: \d+/\d+)?)\s*%\s*([^%]*?)\s*(?:[,;]\s*(?=\d+(?:[.,]\d+)?(?: \d+/\d+)?\s*%)|$)")


def read_schedule(cell: Cell, _column: Column, _units: Units, starts_1904: bool) -> tuple[Instalment, ...] | Wrong:
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


_DIGITS_ALONE = re.compile(r"[\d., ]+")


def read_rule(cell: Cell, _column: Column, units: Units, starts_1904: bool) -> str | Wrong:
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
    if isinstance(alone, Wrong):
        return alone if _DIGITS_ALONE.fullmatch(line) else line
    return _fraction_text(alone.mm / bare_mm(units))


def _fraction_text(value: Fraction) -> str:
    text = decimal_text(value)
    return text if Fraction(text) == value else f"{value.numerator}/{value.denominator}"
