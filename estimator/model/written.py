"""What programs write into the parts of a workbook, held narrower than Python would take it: counts, columns, encodings."""

import re

COLUMN_LETTERS = 6
"""Looked at in the name of a cell: three name the last column that there is, so more are beyond every sheet, whatever follows."""
_ENCODING = re.compile(r"utf-?(8|16)|(us-)?ascii|iso-8859-\d{1,2}|latin-?1|(windows-|cp)125\d", re.IGNORECASE)


def counted(words: str | None, *, most_digits: int = 10) -> int | None:
    """A number that counts from 0, as programs write it; None for all else that Python would take for one, such as ³, ٣ and -1.

    >>> counted("12"), counted("³"), counted("-1"), counted(None), counted("123", most_digits=2)
    (12, None, None, None, None)
    """
    return int(words) if words and len(words) <= most_digits and words.isascii() and words.isdigit() else None


def is_known_encoding(name: str) -> bool:
    """Whether spreadsheet programs and their neighbours write it; Python knows many codecs that are no letters at all.

    >>> is_known_encoding("UTF-8"), is_known_encoding("windows-1252"), is_known_encoding("idna")
    (True, True, False)
    """
    return _ENCODING.fullmatch(name) is not None
