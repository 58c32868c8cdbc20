"""What somebody typed into a cell goes in; an exact Fraction (lengths in mm), a share of 1 or yes/no comes out.

A cell is an int, a Decimal, a text, a bool, a date, None, or a Percent (a number in a cell that is formatted as percent).
"""

import re
from decimal import Decimal
from fractions import Fraction
from typing import NamedTuple

INCH_MM = Fraction(254, 10)
FOOT_M = Fraction(3048, 10000)
UNITS_MM = {
    "mm": Fraction(1),
    "cm": Fraction(10),
    "m": Fraction(1000),
    '"': INCH_MM,
    "in": INCH_MM,
    "inch": INCH_MM,
    "'": 12 * INCH_MM,
    "ft": 12 * INCH_MM,
}
NUMBER = r"\d+\s+\d+/\d+|\d+/\d+|\d+(?:[.,]\d+)?|[.,]\d+"
QUANTITY = re.compile(rf"\s*({NUMBER})\s*(mm|cm|m|inch|in|\"|'|ft)?")


class Percent(NamedTuple):
    """A number in a cell formatted as percent: Percent(Decimal("0.15")) shows as 15 %."""

    share: Decimal


def text(cell):
    """The words of a cell without the blanks at either end, '' for an empty cell."""
    return "" if cell is None else str(cell).replace("\u00a0", " ").strip()


def blank(cell):
    return text(cell) == "" and not isinstance(cell, Percent)


def same(one, other):
    """Two names are one name whatever their capitals.

    >>> same(" Oak 1 mm", "oak 1 MM")
    True
    """
    return text(one).casefold() == text(other).casefold()


def _number_in(words):
    whole, _, rest = words.replace(",", ".").partition(" ")
    return Fraction(whole) + (Fraction(rest.strip()) if rest else 0)


def number(cell):
    """A number without a unit.

    >>> number("23 1/2"), number("2,5"), number(7)
    (Fraction(47, 2), Fraction(5, 2), Fraction(7, 1))
    """
    if isinstance(cell, (int, Decimal, Fraction)):
        return Fraction(cell)
    words = text(cell)
    if words.startswith("-"):
        return -number(words[1:])
    if not re.fullmatch(NUMBER, words):
        raise ValueError(f"not a number: {cell!r}")
    return _number_in(words)


def length_mm(cell, unit):
    """A length in mm; a bare number is in the unit of its book ("mm" or "inch").

    >>> length_mm("23 1/2", "inch"), length_mm("60 cm", "inch"), length_mm("2' 6\\"", "mm"), length_mm(19, "mm")
    (Fraction(5969, 10), Fraction(600, 1), Fraction(762, 1), Fraction(19, 1))
    """
    if not isinstance(cell, str):
        return number(cell) * UNITS_MM[unit]
    words, at, total = text(cell), 0, Fraction(0)
    while at < len(words):
        match = QUANTITY.match(words, at)
        if not match:
            raise ValueError(f"not a length: {cell!r}")
        total += _number_in(match[1]) * UNITS_MM[match[2] or unit]
        at = match.end()
    return total


def metres(cell, unit):
    """Roll length, bench length, break metres: metres in a book in mm, feet in a book in inches."""
    return number(cell) * (FOOT_M if unit == "inch" else 1)


def price_a_metre(cell, unit):
    """An edging price: per metre in a book in mm, per foot in a book in inches."""
    return number(cell) / (FOOT_M if unit == "inch" else 1)


def is_share(cell):
    """Whether a cell says percent, by its format or its sign."""
    return isinstance(cell, Percent) or "%" in text(cell)


def share(cell, default=0):
    """A percent column as a share of 1; a bare number is a number of percents.

    >>> share("15 %"), share(Percent(Decimal("0.0825"))), share(20), share(None)
    (Fraction(3, 20), Fraction(33, 400), Fraction(1, 5), Fraction(0, 1))
    """
    if blank(cell):
        return Fraction(default)
    if isinstance(cell, Percent):
        return Fraction(cell.share)
    return number(text(cell).rstrip("% ") if isinstance(cell, str) else cell) / 100


def yes(cell, default=False):
    """Yes or no; blank is the column's default."""
    words = text(cell).casefold()
    return default if words == "" else words in {"yes", "y", "x", "true"}
