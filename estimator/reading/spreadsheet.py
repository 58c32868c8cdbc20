"""A workbook file in, its sheets as rows of raw cells out: what each cell holds, with its format, formula and hidden rows.

Written on the XML itself, because a percent format, a hidden row and a formula without an answer must all be seen, and fast.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from pathlib import Path
from typing import Literal, NamedTuple

from estimator.reading.number_formats import Shows, shows_of_styles
from estimator.reading.package import DAMAGED, Enough, Package, Unfit, open_package

MOST_SHEETS = 250
MOST_CELLS = 1_000_000
MOST_COLUMNS = 700
MOST_TEXT = 5_000
MOST_TEXTS = 1_000_000
BLANK_ROWS_BEFORE_THE_END = 2_000
_MOST_MERGED_CELLS = 100_000

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


@dataclass(slots=True)
class Book:
    """An opened workbook; sheets are read one by one, when somebody asks for them."""

    name: str
    package: Package
    sheets: dict[str, tuple[str, bool]]
    """Sheet name to its part and whether it is hidden, in the order of the tabs."""
    starts_1904: bool
    _texts: list[str] | None = None
    _shows: tuple[Shows, ...] | None = None
    _texts_part: str = ""
    _styles_part: str = ""
    _cells: int = 0

    def read(self, sheet: str) -> RawSheet:
        part, hidden = self.sheets[sheet]
        if self._texts is None:
            self._texts = _shared_texts(self.package, self._texts_part)
        if self._shows is None:
            self._shows = shows_of_styles(self.package, self._styles_part)
        raw = RawSheet(sheet, hidden)
        self._cells += _read_rows(raw, self.package, part, texts=self._texts, shows=self._shows)
        if self._cells > MOST_CELLS:
            raise Unfit(f"a workbook of more than {MOST_CELLS:,} filled cells", "split the job into several workbooks")
        return raw

    def close(self) -> None:
        self.package.archive.close()


def open_book(path: Path) -> Book:
    """Open a workbook file; raises Unfit with what was found and how to mend it."""
    package = open_package(path)
    try:
        return _book(path.name, package)
    except BaseException:
        package.archive.close()
        raise


def _book(name: str, package: Package) -> Book:
    main = _targets(package, "_rels/.rels").get("officeDocument", ["xl/workbook.xml"])[0]
    folder, _, file = main.rpartition("/")
    sheets: list[tuple[str, str, bool]] = []
    starts_1904 = False

    def start(tag: str, attributes: dict[str, str]) -> None:
        nonlocal starts_1904
        if tag == "sheet":
            link = next((value for key, value in attributes.items() if key.endswith(":id")), "")
            sheets.append((attributes.get("name", ""), link, attributes.get("state", "visible") != "visible"))
        elif tag == "workbookPr":
            starts_1904 = attributes.get("date1904", "0") in ("1", "true", "on")

    package.parse(main, start=start)
    if len(sheets) > MOST_SHEETS:
        raise Unfit(f"a workbook of {len(sheets):,} sheets, more than {MOST_SHEETS}", "take the sheets out that the job does not need")
    rels = f"{folder}/_rels/{file}.rels" if folder else f"_rels/{file}.rels"
    by_id: dict[str, str] = {}
    by_kind = _targets(package, rels, by_id=by_id)
    found = {title: (by_id[link], hidden) for title, link, hidden in sheets if link in by_id}
    return Book(
        name, package, found, starts_1904,
        _texts_part=by_kind.get("sharedStrings", [""])[0], _styles_part=by_kind.get("styles", [""])[0],
    )  # fmt: skip


def _targets(package: Package, rels: str, *, by_id: dict[str, str] | None = None) -> dict[str, list[str]]:
    """Parts that a part points to, by the last word of their kind; links that leave the workbook are passed over."""
    base = rels.replace("_rels/", "", 1) if rels.startswith("_rels/") else rels.replace("/_rels/", "/", 1)
    folder = base.rpartition("/")[0]
    by_kind: dict[str, list[str]] = {}

    def start(tag: str, attributes: dict[str, str]) -> None:
        if tag != "Relationship" or attributes.get("TargetMode", "").casefold() == "external":
            return
        target = _inside(folder, attributes.get("Target", ""))
        by_kind.setdefault(attributes.get("Type", "").rpartition("/")[2], []).append(target)
        is_sheet = attributes.get("Type", "").endswith("/worksheet")
        if by_id is not None and is_sheet:
            by_id[attributes.get("Id", "")] = target

    if package.has(rels):
        package.parse(rels, start=start)
    return by_kind


def _inside(folder: str, target: str) -> str:
    """A target as a part name: relative to its folder, or from the root of the package."""
    if target.startswith("/"):
        return target.lstrip("/")
    steps = folder.split("/") if folder else []
    for step in target.split("/"):
        if step == "..":
            steps = steps[:-1]
        elif step not in (".", ""):
            steps.append(step)
    return "/".join(steps)


_ESCAPED = re.compile(r"_x([0-9A-Fa-f]{4})_")
_CONTROL = re.compile(r"[\x00-\x08\x0b\x0c\x0e-\x1f\ufffe\uffff\ud800-\udfff]")


def _plain(text: str) -> str:
    """The text of a cell without control signs; longer than any name or note can be, it is cut one sign above the limit."""
    if len(text) > MOST_TEXT:
        text = text[: MOST_TEXT + 1]
    if "_x" in text:
        text = _ESCAPED.sub(lambda match: chr(int(match[1], 16)), text)
    return text if text.isprintable() else _CONTROL.sub("", text.replace("\r\n", "\n").replace("\r", "\n"))


def _shared_texts(package: Package, part: str) -> list[str]:
    if not part or not package.has(part):
        return []
    texts: list[str] = []
    pieces: list[str] = []
    inside, spoken = False, 0

    def start(tag: str, attributes: dict[str, str]) -> None:
        nonlocal inside, spoken
        if tag == "si":
            pieces.clear()
        elif tag == "rPh":
            spoken += 1
        elif tag == "t":
            inside = spoken == 0

    def end(tag: str) -> None:
        nonlocal inside, spoken
        if tag == "t":
            inside = False
        elif tag == "rPh":
            spoken -= 1
        elif tag == "si":
            if len(texts) >= MOST_TEXTS:
                raise Unfit(f"a workbook of more than {MOST_TEXTS:,} texts", "split the job into several workbooks")
            texts.append(_plain("".join(pieces)))

    def characters(text: str) -> None:
        if inside:
            pieces.append(text)

    package.parse(part, start=start, end=end, characters=characters)
    return texts


_LETTERS = {letter: number for number, letter in enumerate("ABCDEFGHIJKLMNOPQRSTUVWXYZ", start=1)}
_HOLDS: dict[str, Holds] = {"n": "number", "s": "text", "str": "text", "inlineStr": "text", "b": "yes or no", "e": "error", "d": "iso date"}


def column_number(reference: str) -> int:
    """The number of a column from a cell's name.

    >>> column_number("C7"), column_number("AA1")
    (3, 27)
    """
    number = 0
    for sign in reference:
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


def _read_rows(raw: RawSheet, package: Package, part: str, *, texts: list[str], shows: tuple[Shows, ...]) -> int:
    """Fill a raw sheet from its part; gives how many filled cells it had."""
    reader = _SheetReader(raw, texts, shows)
    package.parse(part, start=reader.start, end=reader.end, characters=reader.characters)
    _keep_top_left(raw)
    return reader.filled


class _SheetReader:
    """The three calls of the XML walker over one sheet, and what they have to remember between them."""

    __slots__ = (
        "answered",
        "cells",
        "column",
        "filled",
        "formula",
        "kind",
        "last_filled",
        "pieces",
        "raw",
        "row",
        "shows",
        "spoken",
        "style",
        "taking",
        "texts",
    )  # fmt: skip

    def __init__(self, raw: RawSheet, texts: list[str], shows: tuple[Shows, ...]) -> None:
        self.raw, self.texts, self.shows = raw, texts, shows
        self.row = self.column = self.filled = self.last_filled = self.spoken = 0
        self.cells: dict[int, Cell] = {}
        self.kind, self.style = "n", "0"
        self.formula = self.answered = self.taking = False
        self.pieces: list[str] = []

    def start(self, tag: str, attributes: dict[str, str]) -> None:
        if tag == "c":
            place = attributes.get("r")
            self.column = column_number(place) if place else self.column + 1
            self.kind, self.style = attributes.get("t", "n"), attributes.get("s", "0")
            self.formula = self.answered = False
            self.pieces = []
        elif tag == "v":
            self.taking = self.answered = True
        elif tag == "t":
            self.taking = self.spoken == 0
            self.answered = True
        elif tag == "f":
            self.formula = True
        elif tag == "row":
            self._start_row(attributes)
        elif tag == "rPh":
            self.spoken += 1
        elif tag == "mergeCell" and len(self.raw.merged) < _MOST_MERGED_CELLS:
            self.raw.merged.append(attributes.get("ref", ""))

    def end(self, tag: str) -> None:
        if tag == "c":
            self._end_cell()
        elif tag in ("v", "t"):
            self.taking = False
        elif tag == "rPh":
            self.spoken -= 1

    def characters(self, text: str) -> None:
        if self.taking:
            self.pieces.append(text)

    def _start_row(self, attributes: dict[str, str]) -> None:
        number = attributes.get("r", "")
        self.row = int(number) if number.isascii() and number.isdigit() and len(number) < 9 else self.row + 1
        self.column, self.cells = 0, {}
        if attributes.get("hidden", "0") in ("1", "true"):
            self.raw.hidden_rows.append(self.row)
        self.last_filled += 1
        if self.last_filled > BLANK_ROWS_BEFORE_THE_END:
            raise Enough

    def _end_cell(self) -> None:
        text = "".join(self.pieces)
        if not text and not self.formula:
            return
        cell = self._cell(text)
        if cell is None or not 0 < self.column <= MOST_COLUMNS:
            return
        self.filled += 1
        if self.filled > MOST_CELLS:
            raise Unfit(f"a workbook of more than {MOST_CELLS:,} filled cells", "split the job into several workbooks")
        self.last_filled = 0
        self.cells[self.column] = cell
        self.raw.rows.setdefault(self.row, self.cells)

    def _cell(self, text: str) -> Cell | None:
        holds = _HOLDS.get(self.kind, "text")
        if self.kind == "s":
            try:
                text = self.texts[int(text)]
            except (ValueError, IndexError) as error:
                raise Unfit("a damaged workbook: a cell points to a text that is not there", DAMAGED) from error
        elif self.formula and not text:
            if self.answered and self.kind == "str":
                return None
            holds = "no answer"
        elif holds == "text":
            text = _plain(text)
        if holds == "text" and not text.strip():
            return None
        return Cell(text, holds, self._style_shows(), self.formula)

    def _style_shows(self) -> Shows:
        if self.style == "0":
            return self.shows[0] if self.shows else ""
        try:
            return self.shows[int(self.style)]
        except (ValueError, IndexError):
            return ""


_RANGE = re.compile(r"([A-Z]{1,3})(\d{1,7}):([A-Z]{1,3})(\d{1,7})")


def _keep_top_left(raw: RawSheet) -> None:
    """Of merged cells only the one at the top left counts: what still stands under it is not seen by anybody."""
    if len(raw.merged) > _MOST_MERGED_CELLS // 10:
        return
    for merged in raw.merged:
        match = _RANGE.fullmatch(merged)
        if match is None:
            continue
        left, right = column_number(match[1]), column_number(match[3])
        top, bottom = int(match[2]), int(match[4])
        rows = range(top, bottom + 1) if bottom - top < len(raw.rows) else [n for n in raw.rows if top <= n <= bottom]
        for number in rows:
            cells = raw.rows.get(number, {})
            for column in [c for c in cells if left <= c <= right and (number, c) != (top, left)]:
                del cells[column]
