"""A workbook's styles in, what each cell style shows out: a percentage, a date, a time, or nothing special."""

from __future__ import annotations

import re
from typing import Literal

from estimator.reading.package import Package, Unfit

Shows = Literal["", "percent", "date", "time"]

MOST_STYLES = 65_490
"""More than that no spreadsheet program takes."""
_TOO_MANY = "copy its sheets into a new workbook and price that"
_DATES = {*range(14, 18), 22, *range(27, 37), *range(50, 59)}
_TIMES = {18, 19, 20, 21, 45, 46, 47}
_PERCENTS = {9, 10}
# Text in quotes, a sign after a backslash, a filler after _ or *, and colours or conditions in brackets ([h] stays: hours).
# What is never closed hides the rest, so that no sign is looked at twice.
_NOT_SHOWN = re.compile(r'"[^"]*(?:"|$)|\\.|_.|\*.|\[(?!h+\]|m+\]|s+\])[^\]]*(?:\]|$)', re.IGNORECASE)


def shows_of_styles(package: Package, part: str) -> tuple[Shows, ...]:
    """What each style of a workbook shows, by the style's number in the cells."""
    if not package.has(part):
        return ()
    own: dict[str, str] = {}
    styles: list[str] = []
    inside = False

    def start(tag: str, attributes: dict[str, str]) -> None:
        nonlocal inside
        if tag == "numFmt":
            own[attributes.get("numFmtId", "")] = attributes.get("formatCode", "")
        elif tag == "cellXfs":
            inside = True
        elif tag == "xf" and inside:
            styles.append(attributes.get("numFmtId", "0"))
            if len(styles) > MOST_STYLES:
                raise Unfit(f"a workbook of more than {MOST_STYLES:,} cell formats, which no program opens", _TOO_MANY)

    def end(tag: str) -> None:
        nonlocal inside
        if tag == "cellXfs":
            inside = False

    package.parse(part, start=start, end=end)
    known: dict[str, Shows] = {number: shows_of_code(own[number]) if number in own else _built_in(number) for number in set(styles)}
    return tuple(known[number] for number in styles)


def _built_in(number: str) -> Shows:
    try:
        known = int(number)
    except ValueError:
        return ""
    if known in _PERCENTS:
        return "percent"
    if known in _DATES:
        return "date"
    return "time" if known in _TIMES else ""


def shows_of_code(code: str) -> Shows:
    """What a number format shows, from its code.

    >>> shows_of_code("0.0 %"), shows_of_code("yyyy-mm-dd"), shows_of_code("[h]:mm"), shows_of_code('0 "mm"')
    ('percent', 'date', 'time', '')
    """
    bare = _NOT_SHOWN.sub("", code).split(";")[0].casefold()
    if "%" in bare:
        return "percent"
    if "y" in bare or "d" in bare:
        return "date"
    if "h" in bare or "s" in bare:
        return "time"
    return "date" if "m" in bare else ""
