"""What a person would type in, a cell value and its number format out; fractions and sizes with a unit stay as text."""

import re
from dataclasses import dataclass
from datetime import date

from estimator.model.form import Column, What

_NUMBER = re.compile(r"-?\d+(\.\d+)?")
_PERCENT = re.compile(r"(-?\d+(?:\.\d+)?) ?%")
MONEY, PERCENT, DATE = "#,##0.00", "0.##%", "yyyy-mm-dd"
_FORMATS: dict[What, str] = {"money": MONEY, "money a metre": "#,##0.00##", "date": DATE}


@dataclass(frozen=True, slots=True)
class Typed:
    """A cell as it is written: text, a number as its decimal text, or a date."""

    value: str | float | date
    number_format: str = ""


def column_format(what: What) -> str:
    """The number format of a whole column, so that what is typed later looks like what stands there.

    A percent column stays general: a bare 15 and a 15 % are both understood, and neither is turned into the other.
    """
    return _FORMATS.get(what, "")


def typed(column: Column | None, text: str) -> Typed:
    """A text as the cell that a spreadsheet program would make of it in this column."""
    what: What = column.what if column else "number"
    if what in ("text", "name", "choice", "yes no", "mark", "schedule", "banding", "currency", "lengths"):
        return Typed(text)
    if what == "date":
        return Typed(date.fromisoformat(text), DATE)
    if percent := _PERCENT.fullmatch(text):
        share = _shifted(percent.group(1))
        return Typed(share, "0%" if "." not in percent.group(1) else "0." + "0" * len(percent.group(1).split(".")[1]) + "%")
    if not _NUMBER.fullmatch(text):
        return Typed(text)
    shown = MONEY if what == "percent or money" else column_format(what)
    return Typed(float(text), shown)


def _shifted(percent: str) -> float:
    """15 % as the number that a spreadsheet stores, 0.15, by its digits and not by a division of binary numbers."""
    return float(f"{percent}e-2")
