"""Cells that were given new figures, and the sheets of their book, in; the formulas whose saved answers are old by that out.

A spreadsheet program keeps each formula's answer beside it, and whoever reads the file without one takes that answer. So an answer
that may rest on a changed cell, through however many formulas, is taken out: it is worked out when the book is next opened, and
until then it is asked for rather than believed. Where it is not plain on what a formula rests, it is taken to rest on all.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping

from estimator.model.dataclass import dataclass
from estimator.papers.book.marked_text import Edit, Marked, unescape

_CELL = re.compile(
    r"<(?P<tag>(?:[\w.-]+:)?c)(?P<attributes>\s[^<>]*?)?(?:/>|>(?P<inside>.*?)</(?P=tag)\s*>)", re.DOTALL
)
_NAME = re.compile(r"\sr\s*=\s*[\"']([A-Z]+)(\d+)[\"']")
_TYPE = re.compile(r"\st\s*=\s*[\"']\w+[\"']")
_FORMULA = re.compile(r"<(?:[\w.-]+:)?f(?P<attributes>\s[^<>]*?)?(?:/>|>(?P<words>.*?)</(?:[\w.-]+:)?f\s*>)", re.DOTALL)
_ANSWER = re.compile(r"<(?P<tag>(?:[\w.-]+:)?v)(?:\s[^<>]*)?(?:/>|>.*?</(?P=tag)\s*>)", re.DOTALL)
_SHARED = re.compile(r"\bsi\s*=\s*[\"'](\d+)[\"']")

_TEXT = re.compile(r'"(?:[^"]|"")*"')
_ELSEWHERE = re.compile(r"(?:'[^']*\[\d+\][^']*'|\[\d+\][\w.]*)!\$?[A-Z]{1,3}\$?\d+(?::\$?[A-Z]{1,3}\$?\d+)?")
"""A cell of another workbook: nothing of this one."""
_PLACE = re.compile(
    r"(?<![\w.$])(?:(?P<sheet>'(?:[^']|'')+'|[^\W\d][\w.]*)!)?"
    r"(?:\$?(?P<left>[A-Z]{1,3})\$?(?P<top>\d+)(?::\$?(?P<right>[A-Z]{1,3})\$?(?P<foot>\d+))?"
    r"|\$?(?P<from>[A-Z]{1,3}):\$?(?P<to>[A-Z]{1,3})|\$?(?P<first>\d+):\$?(?P<last>\d+))(?![\w(.!])"
)
_PLAIN = re.compile(r"[\w.]+\(|[\d.]+(?:E[+-]?\d+)?%?|TRUE|FALSE|[-+*/^&=<>(),;{}%@\s]|#\w+[!?/]?\w*[!?]?", re.IGNORECASE)
_ROAMING = re.compile(r"\b(?:INDIRECT|OFFSET)\(", re.IGNORECASE)
"""Functions that reach cells which their words do not name."""
_MOST = 2**31

Cell = tuple[str, int, int]
"""Sheet in small letters, column, row."""
Block = tuple[str, int, int, int, int]
"""Sheet, first and last column, first and last row."""


@dataclass(frozen=True, slots=True)
class Formula:
    """A cell with a formula: what it reaches, as far as its words say; `everything` where they do not."""

    cell: Cell
    name: str
    blocks: tuple[Block, ...]
    everything: bool


def old_answers(sheets: Mapping[str, Marked], changed: Mapping[str, set[str]]) -> dict[str, tuple[str, ...]]:
    """By sheet, the cells whose answers may rest on the changed ones. `changed` holds cell names by sheet."""
    formulas = [one for name, marked in sheets.items() for one in formulas_in(name, marked)]
    moved: set[Cell] = {(sheet.casefold(), *_at(name)) for sheet, names in changed.items() for name in names}
    old: list[Formula] = []
    fresh = formulas
    while True:
        now: list[Formula] = []
        rest: list[Formula] = []
        for one in fresh:
            touched = one.everything or any(_within(cell, block) for block in one.blocks for cell in moved)
            (now if touched else rest).append(one)
        if not now:
            break
        old, fresh = [*old, *now], rest
        moved = {one.cell for one in now}
    spelt = {name.casefold(): name for name in sheets}
    return {spelt[sheet]: tuple(one.name for one in old if one.cell[0] == sheet) for sheet in {one.cell[0] for one in old}}


def without_answers(marked: Marked, cells: frozenset[str]) -> Iterator[Edit]:
    """The edits that take the saved answers of these formulas out; the formulas and their looks stay."""
    for found in _CELL.finditer(marked.text):
        name = _NAME.search(found["attributes"] or "")
        if name is None or name[1] + name[2] not in cells:
            continue
        look = _TYPE.sub("", found["attributes"])
        yield Edit(found.start(), found.end(), f"<{found['tag']}{look}>{_ANSWER.sub('', found['inside'])}</{found['tag']}>")


def formulas_in(sheet: str, marked: Marked) -> Iterator[Formula]:
    """Every formula of a sheet; one that shares another's words moves along with its place, so it reaches whole sheets."""
    shared: dict[str, str] = {}
    for found in _CELL.finditer(marked.text):
        name, formula = _NAME.search(found["attributes"] or ""), _FORMULA.search(found["inside"] or "")
        if name is None or formula is None:
            continue
        words, group = unescape(formula["words"] or ""), _SHARED.search(formula["attributes"] or "")
        if group and words:
            shared[group[1]] = words
        blocks, everything = reached(words or (shared.get(group[1], "") if group else ""), sheet)
        if group:
            blocks = tuple((block[0], 0, _MOST, 0, _MOST) for block in blocks)
        column, row = _at(name[1] + name[2])
        yield Formula((sheet.casefold(), column, row), name[1] + name[2], blocks, everything or (not words and not group))


def reached(words: str, sheet: str) -> tuple[tuple[Block, ...], bool]:
    """The blocks of cells that a formula names, and whether it may reach any other.

    >>> reached("Work!$F$5*2+SUM(B2:B9)", "Shop")
    ((('work', 6, 6, 5, 5), ('shop', 2, 2, 2, 9)), False)
    >>> reached("wage_an_hour*2", "Shop")[1], reached("INDIRECT(A1)", "Shop")[1], reached('"Work!F5"&TRUE', "Shop")
    (True, True, ((), False))
    """
    bare = _ELSEWHERE.sub("0", _TEXT.sub("0", words))
    blocks: list[Block] = []
    for place in _PLACE.finditer(bare):
        named = (place["sheet"] or sheet).strip("'").replace("''", "'").casefold()
        blocks.append((named, *_sides(place)))
    rest = _PLACE.sub(" ", bare)
    return tuple(blocks), bool(_ROAMING.search(rest) or _PLAIN.sub("", rest).strip())


def _sides(place: re.Match[str]) -> tuple[int, int, int, int]:
    if place["left"]:
        left, top = _column(place["left"]), int(place["top"])
        return left, _column(place["right"]) if place["right"] else left, top, int(place["foot"] or top)
    if place["from"]:
        return _column(place["from"]), _column(place["to"]), 0, _MOST
    return 0, _MOST, int(place["first"]), int(place["last"])


def _within(cell: Cell, block: Block) -> bool:
    sheet, column, row = cell
    there, left, right, top, foot = block
    return sheet == there and left <= column <= right and top <= row <= foot


def _at(name: str) -> tuple[int, int]:
    letters = name.rstrip("0123456789")
    return _column(letters), int(name[len(letters) :])


def _column(letters: str) -> int:
    """A is 1, Z is 26, AA is 27."""
    number = 0
    for letter in letters:
        number = 26 * number + ord(letter) - 64
    return number
