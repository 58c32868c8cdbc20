"""What a person would type in, a cell value and its number format out; fractions and sizes with a unit stay as text."""

import re
from datetime import date

from estimator.model.dataclass import dataclass
from estimator.model.form import Column, What

_NUMBER = re.compile(r"-?\d+(\.\d+)?")
_PERCENT = re.compile(r"(-?\d+(?:\.\d+)?) ?%")
_PLAIN, _MONEY, _DATE = "General", "#,##0.00", "yyyy-mm-dd"
_FORMATS: dict[What, str] = {"money": _MONEY, "money a metre": "#,##0.00##", "date": _DATE}


@dataclass(frozen=True, slots=True)
class Typed:
    """A cell as it is written: text, a number or a date, and how it shows."""

    value: str | float | date
    number_format: str = _PLAIN


def column_format(column: Column | None) -> str:
    """The number format of a whole column, so that what is typed later looks like what stands there.

    A percent column stays general: typed with its sign a percentage shows as one, and a bare 15 is not turned into 1500 %.
    """
    return _FORMATS.get(column.what, _PLAIN) if column else _PLAIN


def typed(column: Column | None, text: str) -> Typed:
    """A text as the cell that a spreadsheet program would make of it in this column."""
    what: What = column.what if column else "number"
    if what in ("text", "name", "choice", "yes no", "mark", "schedule", "banding", "currency", "lengths"):
        return Typed(text)
    if what == "date":
        return Typed(date.fromisoformat(text), _DATE)
    if percent := _PERCENT.fullmatch(text):
        share = _shifted(percent.group(1))
        return Typed(share, "0%" if "." not in percent.group(1) else "0." + "0" * len(percent.group(1).split(".")[1]) + "%")
    if not _NUMBER.fullmatch(text):
        return Typed(text)
    shown = _MONEY if what == "percent or money" else column_format(column)
    return Typed(float(text), shown)


def _shifted(percent: str) -> float:
    """15 % as the number that a spreadsheet stores, 0.15, by its digits and not by a division of binary numbers."""
    return float(f"{percent}e-2")
