"""The XML of one sheet, or of the shared texts, in: rows of raw cells out."""

from __future__ import annotations

import re

from estimator.model.written import counted
from estimator.reading.number_formats import Shows
from estimator.reading.package import DAMAGED, Enough, Package, Unfit
from estimator.reading.raw_cells import MOST_TEXT, Cell, Holds, RawSheet, column_number

MOST_CELLS = 400_000
MOST_COLUMNS = 700
MOST_TEXTS = 400_000
BLANK_ROWS_BEFORE_THE_END = 2_000
_DIGITS = 8
"""Of a row, a style or a text by its number."""
_MOST_MERGED_CELLS = 100_000
_MOST_MERGED_LOOKED_AT = 10_000
_MOST_MERGED_ROWS = 2_000_000
"""Rows below all merged cells together: cells that do not overlap, as in every sound sheet, stay far below."""

_ESCAPED = re.compile(r"_x([0-9A-Fa-f]{4})_")
_CONTROL = re.compile(r"[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x84\x86-\x9f\ufffe\uffff\ud800-\udfff]")
"""Signs that no cell shows, and that a terminal may take for orders; \x85 is a line's end."""


def _plain(text: str) -> str:
    """The text of a cell without control signs; longer than any name or note can be, it is cut one sign above the limit."""
    if len(text) > MOST_TEXT:
        text = text[: MOST_TEXT + 1]
    if "_x" in text:
        text = _ESCAPED.sub(lambda match: chr(int(match[1], 16)), text)
    return text if text.isprintable() else _CONTROL.sub("", text.replace("\r\n", "\n").replace("\r", "\n"))


def shared_texts(package: Package, part: str) -> list[str]:
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


_HOLDS: dict[str, Holds] = {"n": "number", "b": "yes or no", "e": "error", "d": "iso date"}
"""By the kind of a cell; every other kind is one of text."""


def read_rows(raw: RawSheet, package: Package, part: str, *, texts: list[str], shows: tuple[Shows, ...]) -> int:
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
        elif tag in ("v", "is"):
            if self.pieces:
                raise Unfit(f"a damaged workbook: a cell in row {self.row} of the sheet {self.raw.name[:40]} holds two values", DAMAGED)
            self.answered, self.taking = True, tag == "v"
        elif tag == "t":
            self.taking = self.spoken == 0
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
        number = counted(attributes.get("r"), most_digits=_DIGITS)
        self.row = self.row + 1 if number is None else number
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
        if cell is None or self.column > MOST_COLUMNS:
            return
        self.filled += 1
        if self.filled > MOST_CELLS:
            raise Unfit(f"a workbook of more than {MOST_CELLS:,} filled cells", "split the job into several workbooks")
        self.last_filled = 0
        if self.column in self.cells or self.column < 1 or self.raw.rows.setdefault(self.row, self.cells) is not self.cells:
            where = f"row {self.row} of the sheet {self.raw.name[:40]}"
            raise Unfit(f"a damaged workbook: {where} stands there twice, or has two cells in one place, or one that is nowhere", DAMAGED)
        self.cells[self.column] = cell

    def _cell(self, text: str) -> Cell | None:
        holds = _HOLDS.get(self.kind, "text")
        if holds != "text":
            text = text.strip()
        if self.kind == "s":
            number = counted(text.strip(), most_digits=_DIGITS)
            if number is None or number >= len(self.texts):
                raise Unfit("a damaged workbook: a cell points to a text that is not there", DAMAGED)
            text = self.texts[number]
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
        number = counted(self.style, most_digits=_DIGITS)
        return self.shows[number] if number is not None and number < len(self.shows) else ""


_RANGE = re.compile(r"([A-Z]{1,3})(\d{1,7}):([A-Z]{1,3})(\d{1,7})")


def _keep_top_left(raw: RawSheet) -> None:
    """Of merged cells only the one at the top left counts: what still stands under it is not seen by anybody."""
    if len(raw.merged) > _MOST_MERGED_LOOKED_AT:
        return
    looked_at = 0
    for merged in raw.merged:
        match = _RANGE.fullmatch(merged)
        if match is None:
            continue
        left, right = column_number(match[1]), column_number(match[3])
        top, bottom = int(match[2]), int(match[4])
        looked_at += min(bottom - top + 1, len(raw.rows))
        if looked_at > _MOST_MERGED_ROWS:
            raise Unfit(f"a damaged workbook: merged cells of the sheet {raw.name[:40]} lie on one another", DAMAGED)
        rows = range(top, bottom + 1) if bottom - top < len(raw.rows) else [n for n in raw.rows if top <= n <= bottom]
        for number in rows:
            cells = raw.rows.get(number, {})
            for column in [c for c in cells if left <= c <= right and (number, c) != (top, left)]:
                del cells[column]
