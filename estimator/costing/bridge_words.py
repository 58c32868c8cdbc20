"""A value of a record as a person would type it in its cell: the column and the job's unit in, text out."""

from collections.abc import Mapping
from datetime import date
from typing import Any

from estimator.model.exact import Fraction
from estimator.model.form import Column
from estimator.model.shop_records import Instalment, Money, Share
from estimator.model.units import M_PER_FOOT, decimal_text, inches_text

_PLACES = 6


def cell_words(value: Any, column: Column | None, *, units: str) -> str:
    """The text of one cell; blank for nothing.

    >>> cell_words(Fraction(3, 20), None, units="mm"), cell_words(True, None, units="mm"), cell_words(None, None, units="mm")
    ('0.15', 'yes', '')
    """
    if value is None or value == "":
        return ""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, (Fraction, int)):
        return number_words(Fraction(value), column.what if column else "number", units=units)
    if isinstance(value, Share):
        return _percent(value.of_one)
    if isinstance(value, Money):
        return decimal_text(value.amount, places=_PLACES)
    if isinstance(value, date):
        return value.isoformat()
    if isinstance(value, Mapping):
        return ", ".join(f"{name} {cell_words(one, column, units=units)}" for name, one in sorted(value.items()))
    if isinstance(value, (tuple, frozenset)):
        return ", ".join(_one_of_many(one, column, units=units) for one in (value if isinstance(value, tuple) else sorted(value)))
    return str(value)


def _one_of_many(value: Any, column: Column | None, *, units: str) -> str:
    if isinstance(value, Instalment):
        return f"{_percent(value.share)} {value.words}"
    return cell_words(value, column, units=units)


def number_words(value: Fraction, what: str, *, units: str) -> str:
    """A number as it is typed in a column of this kind."""
    inch = units == "inch"
    match what:
        case "percent":
            return _percent(value)
        case "length" | "lengths" if inch:
            return f'{inches_text(value, finest=64)}"'
        case "roll length" if inch:
            return decimal_text(value / M_PER_FOOT, places=_PLACES)
        case "money a metre" if inch:
            return decimal_text(value * M_PER_FOOT, places=_PLACES)
        case _:
            return decimal_text(value, places=_PLACES)


def _percent(share: Fraction) -> str:
    return f"{decimal_text(share * 100, places=_PLACES)} %"
