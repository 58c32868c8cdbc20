"""A number as a person types it in, an exact fraction out: fractions, units, decimal commas, spaces between thousands.

What could be read in two ways is not read at all: the answer is then a Wrong, with what was found and how to mend it.
"""

from __future__ import annotations

import re
from typing import Literal, NamedTuple

from estimator.model.exact import Fraction
from estimator.model.units import MM_PER_FOOT, MM_PER_INCH, MM_PER_M

Units = Literal["mm", "inch"]

MOST_DIGITS = 40
LARGEST = 10**12
SHOWN_DIGITS = 15
"""Digits that a spreadsheet program keeps of what a person types; further ones are noise of its binary arithmetic."""
_NOISE_BELOW = Fraction(1, 10**12)


class Wrong(NamedTuple):
    """A cell that cannot be read: what was found and how to mend it; `expected` only where the form's words do not fit."""

    found: str
    mend: str
    expected: str = ""


_SIGNS = str.maketrans({
    **dict.fromkeys("\u2010\u2011\u2012\u2013\u2212", "-"),
    **dict.fromkeys("\u2044\u2215", "/"),
    **dict.fromkeys("\u2018\u2019\u2032\u00b4", "'"),
    **dict.fromkeys("\u201c\u201d\u2033", '"'),
    **dict.fromkeys("\uff05\ufe6a", "%"),
    **dict.fromkeys("\u200b\u200e\u200f\u2060\ufeff", ""),
    "\uff0c": ",", "\uff0e": ".",
    "¼": " 1/4", "½": " 1/2", "¾": " 3/4", "⅓": " 1/3", "⅔": " 2/3",
    "⅛": " 1/8", "⅜": " 3/8", "⅝": " 5/8", "⅞": " 7/8", "⅙": " 1/6",
    **{chr(0xFF10 + digit): str(digit) for digit in range(10)},
})  # fmt: skip


def tidy(text: str) -> str:
    """One line with single spaces, and the many forms of a dash, a quote, a space and a fraction as one each."""
    if not text.isascii():
        text = text.translate(_SIGNS)
    return " ".join(text.split())


_STORED = re.compile(r"[+-]?([0-9]+\.?[0-9]*|\.[0-9]+)([eE][+-]?[0-9]+)?")


def stored_number(text: str) -> Fraction | Wrong:
    """A number as a workbook stores it: exactly its decimal text, to the 15 digits that a spreadsheet program shows.

    >>> stored_number("0.1"), stored_number("0.30000000000000004"), stored_number("1.1000000000000001")
    (Fraction(1, 10), Fraction(3, 10), Fraction(11, 10))
    """
    if len(text) <= 12 and text.isascii() and text.isdigit():
        return Fraction(int(text))
    if len(text) > MOST_DIGITS:
        return _too_large(text)
    if not _STORED.fullmatch(text):
        return Wrong(f"a number that is none: {shortened(text)}", "type the number again")
    value = float(text)
    if not -LARGEST <= value <= LARGEST:
        return _too_large(text)
    exact = Fraction(text) if len(text) <= SHOWN_DIGITS else Fraction(format(value, f".{SHOWN_DIGITS}g"))
    return exact if abs(exact) >= _NOISE_BELOW else Fraction(0)


def _too_large(text: str) -> Wrong:
    return Wrong(f"the number {shortened(text)}", "type a number that a workshop can have: it is out of all measure")


def shortened(text: str) -> str:
    """A text short enough to stand in a message."""
    line = " ".join(text.split())
    return line if len(line) <= 60 else f"{line[:50]}... ({len(text):,} signs)"


def said(text: str) -> str:
    """A typed text as a message names it."""
    return f"the text {shortened(text)}"


_PLAIN = re.compile(r"[+-]?\d+(\.\d*)?|[+-]?\.\d+")
_WITH_FRACTION = re.compile(r"([+-]?)(?:(\d{1,12})[ -])?(\d{1,12}) ?/ ?(\d{1,12})")
_GROUPED = re.compile(r"[+-]?[1-9]\d{0,2}(?P<sign>[., ])\d{3}(?:(?P=sign)\d{3})*")


def plain_number(text: str) -> Fraction | Wrong:
    """A number without a unit, typed as text.

    >>> plain_number("23 1/2"), plain_number("1,5"), plain_number("1.234,56"), plain_number("1 234.5")
    (Fraction(47, 2), Fraction(3, 2), Fraction(30864, 25), Fraction(2469, 2))
    >>> plain_number("1,500").mend
    'type it without a comma: 1500, or 1.5 if that is meant'
    """
    line = tidy(text)
    if sum(sign.isdigit() for sign in line) > MOST_DIGITS:
        return _too_large(line)
    fraction = _WITH_FRACTION.fullmatch(line)
    if fraction:
        return _mixed(fraction, line)
    decimal = _as_point_decimal(line)
    if isinstance(decimal, Wrong):
        return decimal
    value = Fraction(decimal)
    return value if abs(value) <= LARGEST else _too_large(line)


def _mixed(match: re.Match[str], line: str) -> Fraction | Wrong:
    sign, whole, above, below = match.groups()
    if int(below) == 0:
        return Wrong(said(line), "a fraction cannot have 0 below its line")
    value = Fraction(int(whole or 0)) + Fraction(int(above), int(below))
    return -value if sign == "-" else value


def _as_point_decimal(line: str) -> str | Wrong:
    """Digits with a point from digits with commas, points and spaces, where they can mean one number only."""
    if _PLAIN.fullmatch(line) and line.isascii():
        return line
    body = line.lstrip("+-")
    commas, points = body.count(","), body.count(".")
    if not body or not body.isascii() or len(line) - len(body) > 1:
        return _not_a_number(line)
    if commas and points:
        decimal = "," if body.rindex(",") > body.rindex(".") else "."
    elif commas == 1 and _GROUPED.fullmatch(body):
        one, other = body.replace(",", ""), body.replace(",", ".").rstrip("0").rstrip(".")
        return Wrong(said(line), f"type it without a comma: {one}, or {other} if that is meant")
    elif commas == 1 or points == 1:
        decimal = "," if commas else "."
    else:
        decimal = ""
    whole, rest = body, ""
    if decimal:
        whole, _, rest = body.rpartition(decimal)
    grouped = bool(whole) and not whole.isdigit()
    if (grouped and not _GROUPED.fullmatch(whole)) or (rest and not rest.isdigit()) or (decimal and not whole and not rest):
        return _not_a_number(line)
    digits = "".join(sign for sign in whole if sign.isdigit())
    return f"{'-' if line.startswith('-') else ''}{digits or '0'}.{rest or '0'}"


_LOOKS_LIKE_A_DIGIT = {"O": "0", "o": "0", "Q": "0", "l": "1", "I": "1", "|": "1", "S": "5", "B": "8", "Z": "2"}


_WITHOUT_A_UNIT = "type the number only, without a unit"


def _not_a_number(line: str) -> Wrong:
    return Wrong(said(line), _hint(line))


def _hint(line: str) -> str:
    letters = [sign for sign in line if sign.isalpha()]
    digits = sum(sign.isdigit() for sign in line)
    if digits and letters and all(sign in _LOOKS_LIKE_A_DIGIT for sign in letters):
        meant = "".join(_LOOKS_LIKE_A_DIGIT.get(sign, sign) for sign in line)
        name = "O" if letters[0] in "Oo" else letters[0]
        if not isinstance(_as_point_decimal(meant), Wrong):
            return f"type digits only: a letter {name} turns the number into text; {meant} may be meant"
    if "%" in line:
        return "type a plain number: this is no percentage"
    if digits and letters:
        return _WITHOUT_A_UNIT
    return "type a number, with digits only" if digits or letters else "type a number here"


# --- lengths ----------------------------------------------------------------------------------------------------------

_UNIT_MM: dict[str, Fraction] = {
    **dict.fromkeys(("mm", "millimetre", "millimetres", "millimeter", "millimeters"), Fraction(1)),
    **dict.fromkeys(("cm", "centimetre", "centimetres", "centimeter", "centimeters"), Fraction(10)),
    **dict.fromkeys(("m", "metre", "metres", "meter", "meters"), Fraction(MM_PER_M)),
    **dict.fromkeys(("in", "in.", "inch", "inches", '"', "''"), MM_PER_INCH),
    **dict.fromkeys(("ft", "ft.", "foot", "feet", "'"), MM_PER_FOOT),
}
_UNIT_AT_END = re.compile(r"(.*?[\d./,]) ?([a-z]+\.?|\"|''|')", re.IGNORECASE)
_FEET_AND_INCHES = re.compile(r"(.*?\d) ?(?:'|ft\.?|foot|feet)(?: ?- ?| ?)(\d[\d ./]*?) ?(?:\"|''|in\.?|inch|inches)", re.IGNORECASE)


class Length(NamedTuple):
    """A length in mm, and whether its unit was typed with it."""

    mm: Fraction
    with_unit: bool


def length(text: str, *, bare_mm: Fraction) -> Length | Wrong:
    """A length typed as text; `bare_mm` is what a bare 1 is worth.

    >>> [length(text, bare_mm=Fraction(1)).mm for text in ('2\\' 6"', "60 cm", "23 1/2 in")]
    [Fraction(762, 1), Fraction(600, 1), Fraction(5969, 10)]
    """
    line = tidy(text)
    if len(line) > 3 * MOST_DIGITS:
        return _too_large(line)
    both = _FEET_AND_INCHES.fullmatch(line)
    if both:
        return _feet_and_inches(both[1], both[2], line)
    one = _UNIT_AT_END.fullmatch(line)
    unit = _UNIT_MM.get(one[2].casefold()) if one else None
    number = plain_number(line if one is None or unit is None else one[1])
    if isinstance(number, Wrong):
        mend = "type the number alone, or with mm, cm, m, in or ft after it" if number.mend == _WITHOUT_A_UNIT else number.mend
        return Wrong(number.found if unit is None else said(line), mend)
    return Length(number * (bare_mm if unit is None else unit), unit is not None)


def _feet_and_inches(feet_text: str, inches_text: str, line: str) -> Length | Wrong:
    feet, inches = plain_number(feet_text), plain_number(inches_text)
    if isinstance(feet, Wrong) or isinstance(inches, Wrong):
        return Wrong(said(line), "type feet and inches such as 2' 6\" or 2 ft 6 1/2 in")
    size = abs(feet) * MM_PER_FOOT + inches * MM_PER_INCH
    return Length(-size if feet_text.startswith("-") else size, True)


def bare_mm(units: Units) -> Fraction:
    """What a bare 1 is worth in a column of lengths."""
    return MM_PER_INCH if units == "inch" else Fraction(1)


def bare_metre_mm(units: Units) -> Fraction:
    """What a bare 1 is worth in a column of metres (feet where Units is inch)."""
    return MM_PER_FOOT if units == "inch" else Fraction(MM_PER_M)
