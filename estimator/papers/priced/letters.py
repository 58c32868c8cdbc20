"""The letters of a column from its number."""

from __future__ import annotations


def _letters(number: int) -> str:
    """Of a column counted from 1."""
    letters = ""
    while number:
        number, rest = divmod(number - 1, 26)
        letters = chr(65 + rest) + letters
    return letters


_FIRST = tuple(_letters(number) for number in range(1, 703))
"""A to ZZ, made once: every cell and every formula asks for them."""


def column_letters(column: int) -> str:
    """Letters of a column counted from 0.

    >>> column_letters(0), column_letters(27), column_letters(702)
    ('A', 'AB', 'AAA')
    """
    return _FIRST[column] if column < 702 else _letters(column + 1)
