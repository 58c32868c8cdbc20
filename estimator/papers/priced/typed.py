"""The bytes of a workbook in, what was typed into its cells out: numbers, texts, and which cells show a percentage or a date.

The formulas of the result sheets point at these cells, so they must know whether 15 % stands there as 0.15, as 15 or as text.
"""

from __future__ import annotations

import contextlib
from collections.abc import Callable, Iterator, Mapping
from functools import cached_property
from typing import NamedTuple
from xml.parsers import expat

from estimator.model.written import COLUMN_LETTERS, counted
from estimator.papers.book.package import Package
from estimator.papers.book.refused import Refused
from estimator.papers.book.users_book import UsersBook, open_users_book
from estimator.papers.book.zipped import unpack

_PERCENTS = frozenset({"9", "10"})
_DATES = frozenset(str(number) for number in (*range(14, 23), *range(27, 37), 45, 46, 47, *range(50, 59)))


class TypedCell(NamedTuple):
    """What one cell holds; a formula counts as its saved answer."""

    value: float | str | bool
    shows: str = ""
    """`percent`, `date` or nothing special."""

    @property
    def number(self) -> float | None:
        return self.value if isinstance(self.value, float) else None


Cells = Mapping[tuple[int, int], TypedCell]
"""By row and column, both from 0 as XlsxWriter counts them."""


class TypedBook:
    """A workbook whose sheets are read when somebody asks for them."""

    def __init__(self, content: bytes) -> None:
        self._opened = open_users_book(content)
        self._sheets: dict[str, Cells] = {}

    @property
    def book(self) -> UsersBook | Refused:
        return self._opened

    def sheet(self, name: str) -> Cells:
        """The cells of a sheet that are not blank; none for a sheet that is not there."""
        if name not in self._sheets:
            self._sheets[name] = self._read(name)
        return self._sheets[name]

    def names(self) -> tuple[str, ...]:
        return () if isinstance(self._opened, Refused) else tuple(sheet.name for sheet in self._opened.sheets)

    def sheets(self, more: Mapping[str, Cells]) -> Mapping[str, Cells]:
        """The cells of every sheet by its name, and of more behind them; one that nobody asks for, however large, is never read."""
        return _Sheets(self, more)

    def ours(self) -> tuple[str, ...]:
        """Sheets that an earlier pricing wrote."""
        return () if isinstance(self._opened, Refused) else tuple(sheet.name for sheet in self._opened.sheets if sheet.is_ours)

    def _read(self, name: str) -> Cells:
        if isinstance(self._opened, Refused):
            return {}
        target = next((sheet.relation.target for sheet in self._opened.sheets if sheet.name == name), None)
        if target is None:
            return {}
        return cells_of(_content(self._opened.package, target), texts=self._texts, shows=self._shows)

    @cached_property
    def _texts(self) -> list[str]:
        assert isinstance(self._opened, UsersBook)
        part = self._opened.uses("sharedStrings")
        return shared_texts(_content(self._opened.package, part.target)) if part else []

    @cached_property
    def _shows(self) -> tuple[str, ...]:
        assert isinstance(self._opened, UsersBook)
        styles = self._opened.styles
        if styles is None:
            return ()
        own = {
            line["numFmtId"]: line.get("formatCode", "")
            for line in map(styles.attributes, styles.children("numFmts", "numFmt"))
            if "numFmtId" in line
        }
        return tuple(_shows(line.get("numFmtId", "0"), own) for line in map(styles.attributes, styles.children("cellXfs", "xf")))


class _Sheets(Mapping[str, Cells]):
    """The sheets of a workbook, each read when somebody asks for it, and more behind them."""

    def __init__(self, book: TypedBook, more: Mapping[str, Cells]) -> None:
        self._book, self._more = book, more
        self._names = dict.fromkeys((*book.names(), *more))

    def __getitem__(self, name: str) -> Cells:
        if name not in self._names:
            raise KeyError(name)
        return self._more[name] if name in self._more else self._book.sheet(name)

    def __contains__(self, name: object) -> bool:
        return name in self._names

    def __iter__(self) -> Iterator[str]:
        return iter(self._names)

    def __len__(self) -> int:
        return len(self._names)


def _content(package: Package, key: str) -> bytes:
    part = package.parts.get(key)
    content = unpack(part) if part else b""
    return b"" if isinstance(content, Refused) else content


def _shows(number: str, own: Mapping[str, str]) -> str:
    code = own.get(number, "")
    if number in _PERCENTS or "%" in code:
        return "percent"
    return "date" if number in _DATES or any(sign in code.lower() for sign in ("yy", "dd")) else ""


def shared_texts(content: bytes) -> list[str]:
    """The table of texts that cells point into."""
    texts: list[str] = []
    pieces: list[str] = []
    state = {"t": False, "rPh": False}

    def start(tag: str, _: dict[str, str]) -> None:
        if tag == "si":
            pieces.clear()
        elif tag in state:
            state[tag] = True

    def end(tag: str) -> None:
        if tag == "si":
            texts.append("".join(pieces))
        elif tag in state:
            state[tag] = False

    def letters(words: str) -> None:
        if state["t"] and not state["rPh"]:
            pieces.append(words)

    _walk(content, start, end, letters)
    return texts


def cells_of(content: bytes, *, texts: list[str], shows: tuple[str, ...]) -> Cells:
    """The cells of one sheet's XML."""
    reader = _Reader(texts, shows)
    _walk(content, reader.start, reader.end, reader.letters)
    return reader.cells


class _Reader:
    """The three calls of the XML walker over one sheet, and what they have to remember between them."""

    def __init__(self, texts: list[str], shows: tuple[str, ...]) -> None:
        self.texts, self.shows = texts, shows
        self.cells: dict[tuple[int, int], TypedCell] = {}
        self.row, self.column, self.kind, self.style = -1, -1, "n", 0
        self.pieces: list[str] = []
        self.taking = False

    def start(self, tag: str, line: dict[str, str]) -> None:
        if tag == "row":
            self.row = _number(line["r"]) - 1 if "r" in line else self.row + 1
            self.column = -1
        elif tag == "c":
            self.column = _column(line["r"]) if "r" in line else self.column + 1
            self.kind, self.style = line.get("t", "n"), _number(line.get("s", "0"))
            self.pieces = []
        elif tag in ("v", "t"):
            self.taking = True

    def letters(self, words: str) -> None:
        if self.taking:
            self.pieces.append(words)

    def end(self, tag: str) -> None:
        if tag in ("v", "t"):
            self.taking = False
        elif tag == "c" and self.pieces:
            value = self._value("".join(self.pieces))
            if value != "":
                shows = self.shows[self.style] if self.style < len(self.shows) else ""
                self.cells[self.row, self.column] = TypedCell(value, shows)

    def _value(self, words: str) -> float | str | bool:
        """What the cell holds; nothing where it holds no number though it says so: no formula can follow that."""
        try:
            if self.kind == "n":
                return float(words)
            if self.kind == "b":
                return words == "1"
            return self.texts[int(words)] if self.kind == "s" else words
        except (ValueError, IndexError):
            return ""


def _number(words: str) -> int:
    """A row or style as the sheet's XML says it; 0 for what is no number, as a damaged sheet may hold."""
    return counted(words) or 0


def _column(reference: str) -> int:
    number = 0
    for sign in reference[:COLUMN_LETTERS]:
        if sign.isdigit():
            break
        number = number * 26 + ord(sign) - 64
    return number - 1


def _walk(
    content: bytes, start: Callable[[str, dict[str, str]], None], end: Callable[[str], None], letters: Callable[[str], None]
) -> None:
    """Names go without their prefix: there is one kind of row, cell and text in a sheet. A damaged sheet is walked as far as it goes."""
    if not content:
        return
    parser = expat.ParserCreate()
    parser.StartElementHandler = lambda tag, line: start(tag.rpartition(":")[2], line)
    parser.EndElementHandler = lambda tag: end(tag.rpartition(":")[2])
    parser.CharacterDataHandler = letters
    parser.buffer_text = True
    with contextlib.suppress(expat.ExpatError, LookupError):
        parser.Parse(content, True)
