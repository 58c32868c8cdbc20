"""What a spreadsheet holds before anybody asks what it means: cells with their text, kind and format, by row and column."""

from __future__ import annotations

from dataclasses import field
from typing import Literal, NamedTuple

from estimator.model.dataclass import dataclass
from estimator.model.written import COLUMN_LETTERS
from estimator.reading.number_formats import Shows

MOST_TEXT = 5_000
"""Signs of the longest text that a cell may hold."""

Holds = Literal["number", "text", "yes or no", "error", "no answer", "iso date"]


class Cell(NamedTuple):
    """One cell that is not blank: what it holds, as it stands in the file, and what its format shows."""

    text: str
    holds: Holds = "text"
    shows: Shows = ""
    formula: bool = False


@dataclass(slots=True)
class RawSheet:
    """One sheet: row number to column number (from 1) to cell."""

    name: str
    hidden: bool
    rows: dict[int, dict[int, Cell]] = field(default_factory=dict)
    hidden_rows: list[int] = field(default_factory=list)
    merged: list[str] = field(default_factory=list)


_LETTERS = {letter: number for number, letter in enumerate("ABCDEFGHIJKLMNOPQRSTUVWXYZ", start=1)}


def column_number(reference: str) -> int:
    """The number of a column from a cell's name.

    >>> column_number("C7"), column_number("AA1")
    (3, 27)
    """
    number = 0
    for sign in reference[:COLUMN_LETTERS]:
        value = _LETTERS.get(sign)
        if value is None:
            break
        number = number * 26 + value
    return number


def column_letter(number: int) -> str:
    """The letter of a column.

    >>> column_letter(3), column_letter(27)
    ('C', 'AA')
    """
    letters = ""
    while number > 0:
        number, rest = divmod(number - 1, 26)
        letters = chr(65 + rest) + letters
    return letters
