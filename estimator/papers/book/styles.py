"""The user's styles and ours in, the user's with ours behind them out, and where each style of ours now stands.

A spreadsheet keeps fonts, fills, borders and number formats in lists, cell formats that name them by position, and
cells that name a cell format by position. The user's positions never move: what is new stands behind, and what is
already there word for word is used again, so that pricing a book ten times does not grow it.
"""

import re
from collections.abc import Callable, Iterable
from dataclasses import field

from estimator.model.dataclass import dataclass
from estimator.model.written import counted
from estimator.papers.book.marked_text import (
    Edit,
    Element,
    Marked,
    append,
    edited,
    encode,
    escape,
    read_marked,
    unescape,
    with_attributes,
)

ORDER = ("numFmts", "fonts", "fills", "borders", "cellStyleXfs", "cellXfs", "cellStyles", "dxfs", "tableStyles", "colors",
         "extLst")
FIRST_FREE_FORMAT = 164   # number formats below are built in
RESERVED_FILLS = ('<fill><patternFill patternType="none"/></fill>',      # the first two fills mean this in every book,
                  '<fill><patternFill patternType="gray125"/></fill>')   # whatever stands there
_HYPERLINK = "8"          # the number of the built-in cell style for links


@dataclass(frozen=True, slots=True)
class MergedStyles:
    """The new styles part, and the new position of each of our cell formats and conditional formats."""

    content: bytes
    cells: tuple[int, ...]
    conditional: tuple[int, ...]


@dataclass(slots=True)
class _List:
    """One list of the user's styles: what is in it, and what we put behind."""

    prefix: str
    held: dict[str, int]
    length: int
    new: list[str] = field(default_factory=list)

    def place(self, words: str) -> int:
        """The position of an entry, which is put behind when it is not there yet."""
        entry = re.sub(r"<(/?)(?=[A-Za-z])", rf"<\1{self.prefix}", words) if self.prefix else words
        if entry not in self.held:
            self.held[entry] = self.length
            self.length += 1
            self.new.append(entry)
        return self.held[entry]


def merge_styles(users: Marked, ours: Marked) -> MergedStyles:
    """The user's styles part with all of our formats in it."""
    lists = {local: _list(users, local) for local in ("fonts", "fills", "borders", "cellXfs", "dxfs")}
    for fill in RESERVED_FILLS[lists["fills"].length:]:
        lists["fills"].place(fill)
    formats = _Formats(users)
    base_style = _base_style(users)
    if not lists["cellXfs"].length:
        _place_cell(ours, _entries(ours, "cellXfs")[0], lists, formats, base_style)
    cells = [0] + [_place_cell(ours, entry, lists, formats, base_style) for entry in _entries(ours, "cellXfs")[1:]]
    conditional = [lists["dxfs"].place(formats.renumbered(ours.whole(entry))) for entry in _entries(ours, "dxfs")]
    edits = _grown(users, "numFmts", formats.new, formats.length)
    for local in ("fonts", "fills", "borders", "cellXfs", "dxfs"):
        edits += _grown(users, local, lists[local].new, lists[local].length)
    return MergedStyles(encode(edited(users, edits), users.encoding), tuple(cells), tuple(conditional))


def bare_styles(ours: Marked) -> Marked:
    """The styles of a book that has none: nothing but what a cell without any format looks like."""
    lists = "".join(f'<{local} count="1">{ours.whole(_entries(ours, local)[0])}</{local}>'
                    for local in ("fonts", "borders", "cellStyleXfs"))
    text = (f'<?xml version="1.0" encoding="UTF-8" standalone="yes"?>\n<styleSheet xmlns="{ours.root.space}">{lists}'
            '<cellStyles count="1"><cellStyle name="Normal" xfId="0" builtinId="0"/></cellStyles></styleSheet>')
    bare = read_marked(text.encode(), "styles")
    assert isinstance(bare, Marked), "well-formed as written above"
    return bare


def _list(marked: Marked, local: str) -> _List:
    entries = _entries(marked, local)
    held: dict[str, int] = {}
    for position, entry in enumerate(entries):
        held.setdefault(marked.whole(entry), position)
    return _List(marked.root.prefix, held, len(entries))


def _entries(marked: Marked, local: str) -> tuple[Element, ...]:
    section = marked.first(local)
    return section.children if section else ()


def _place_cell(ours: Marked, entry: Element, lists: dict[str, _List], formats: "_Formats",
                base_style: Callable[[bool], int | None]) -> int:
    """Put one cell format of ours in, pointing at where its font, fill, border and number format stand now."""
    was = ours.attributes(entry)
    part = {local: ours.whole(_entries(ours, local)[int(was[name])])
            for local, name in (("fonts", "fontId"), ("fills", "fillId"), ("borders", "borderId"))}
    opening = ours.text[entry.start:entry.inner]
    now = with_attributes(opening, entry.name, {
        "numFmtId": formats.place(int(was["numFmtId"]), ours),
        "fontId": lists["fonts"].place(part["fonts"]),
        "fillId": lists["fills"].place(part["fills"]),
        "borderId": lists["borders"].place(part["borders"]),
        "xfId": base_style(was.get("xfId", "0") != "0"),
        "applyFont": "1", "applyFill": "1", "applyBorder": "1"})
    return lists["cellXfs"].place(now + ours.text[entry.inner:entry.end])


def _base_style(users: Marked) -> Callable[[bool], int | None]:
    """Where the user keeps the named style behind a cell format: that of links, or the plain one; None without any."""
    plain = 0 if _entries(users, "cellStyleXfs") else None
    link = next((number for style in map(users.attributes, _entries(users, "cellStyles"))
                 if style.get("builtinId") == _HYPERLINK and (number := counted(style.get("xfId"))) is not None), plain)
    return lambda is_link: link if is_link else plain


class _Formats:
    """The user's number formats by their code, and those of ours behind them."""

    def __init__(self, users: Marked) -> None:
        lines = [users.attributes(entry) for entry in _entries(users, "numFmts")]
        numbered = [(number, line) for line in lines if (number := counted(line.get("numFmtId"))) is not None]
        numbers = [number for number, _ in numbered]
        self.held = {line["formatCode"]: number for number, line in reversed(numbered) if "formatCode" in line}
        self.next = max((FIRST_FREE_FORMAT - 1, *numbers)) + 1
        self.length = len(lines)
        self.prefix = users.root.prefix
        self.new: list[str] = []

    def place(self, number: int, ours: Marked) -> int:
        """The user's number for a number format of ours."""
        if number < FIRST_FREE_FORMAT:
            return number
        codes = {int(line["numFmtId"]): line["formatCode"] for line in map(ours.attributes, _entries(ours, "numFmts"))}
        return self._number(codes[number])

    def renumbered(self, words: str) -> str:
        """A conditional format, which spells out its number format, with the user's number for it."""
        found = re.search(r'<numFmt numFmtId="(\d+)" formatCode="([^"]*)"', words)
        if found is None or int(found[1]) < FIRST_FREE_FORMAT:
            return words
        return words[:found.start(1)] + str(self._number(unescape(found[2]))) + words[found.end(1):]

    def _number(self, code: str) -> int:
        if code not in self.held:
            self.held[code] = self.next
            self.new.append(f'<{self.prefix}numFmt numFmtId="{self.next}" formatCode="{escape(code)}"/>')
            self.next += 1
            self.length += 1
        return self.held[code]


def _grown(users: Marked, local: str, new: Iterable[str], length: int) -> list[Edit]:
    """The edits that put new entries behind a list, or the whole list where it belongs when the user has none."""
    words = "".join(new)
    if not words:
        return []
    section = users.first(local)
    if section:
        return append(users, section, words, {"count": length} if "count" in users.attributes(section) else {})
    name = users.root.prefix + local
    whole = f'<{name} count="{length}">{words}</{name}>'
    for later in ORDER[ORDER.index(local) + 1:]:
        if (follower := users.first(later)) is not None:
            return [Edit(follower.start, follower.start, whole)]
    return append(users, users.root, whole)
