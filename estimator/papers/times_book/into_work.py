"""A shop's book and new figures for cells of its sheet Work in; the same book with those cells changed and every other byte kept out.

Only the part of that one sheet is written anew, and in it only the cells named. A cell that holds a formula is the shop's own
reckoning: it is left as it is, and told. Formulas that reckon with a changed cell lose their saved answers, wherever they stand,
and the book asks to be worked out when it is opened (`old_answers.py`).
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import replace

from estimator.model.dataclass import dataclass
from estimator.model.exact import Fraction
from estimator.model.units import decimal_text
from estimator.model.written import counted
from estimator.papers.book.marked_text import Edit, Element, Marked, edited, encode, escape, read_marked
from estimator.papers.book.refused import Refused
from estimator.papers.book.users_book import UsersBook, open_users_book
from estimator.papers.book.workbook_part import recalculated
from estimator.papers.book.zipped import Part, pack, zip_of
from estimator.papers.times_book.old_answers import old_answers, without_answers

NewCells = Mapping[str, Fraction | str]
"""Cell name to what shall stand there: a number, or a word."""
_CELL = re.compile(
    r"<(?P<tag>(?:[\w.-]+:)?c)(?P<attributes>\s[^<>]*?)?(?:/>|>(?P<inside>.*?)</(?P=tag)\s*>)", re.DOTALL
)
_NAME = re.compile(r"\sr\s*=\s*[\"']([A-Z]+)(\d+)[\"']")
_STYLE = re.compile(r"\ss\s*=\s*[\"'](\d+)[\"']")
_FORMULA = re.compile(r"<(?:[\w.-]+:)?f[\s/>]")


@dataclass(frozen=True, slots=True)
class Noted:
    """What whoever asked for the new figures has to know."""

    left: tuple[str, ...]
    """Cells that were left as they are, because a formula stands in them."""
    waiting: tuple[str, ...]
    """Formulas elsewhere that reckon with a changed cell, as `Sheet > Cell`: they wait to be worked out."""


def with_new_cells(book: bytes, sheet: str, cells: NewCells) -> tuple[bytes, Noted] | Refused:
    """The book with the cells of one sheet changed."""
    users = open_users_book(book)
    if isinstance(users, Refused):
        return users
    there = next((one for one in users.sheets if one.name == sheet), None)
    marked = users.package.read(there.relation.target) if there else Refused(f"The workbook has no sheet {sheet}.")
    if isinstance(marked, Refused):
        return marked
    text, left = _changed(marked, cells)
    if isinstance(text, Refused):
        return text
    key = there.relation.target if there else ""
    new = {key: encode(text, marked.encoding)}
    old = _old_answers(users, sheet, set(cells) - set(left))
    if isinstance(old, Refused):
        return old
    for name, names in old.items():
        at = next(one.relation.target for one in users.sheets if one.name == name)
        page = read_marked(new[at], at) if at in new else users.package.read(at)
        if isinstance(page, Refused):
            return page
        new[at] = encode(edited(page, without_answers(page, frozenset(names))), page.encoding)
    if old:
        new[users.key] = encode(edited(users.workbook, recalculated(users.workbook)), users.workbook.encoding)
    parts = {**users.package.parts, **{at: _packed_as(users, at, content) for at, content in new.items()}}
    return zip_of(parts.values()), Noted(left, tuple(f"{name} > {cell}" for name, names in old.items() for cell in names))


def _old_answers(users: UsersBook, sheet: str, changed: set[str]) -> dict[str, tuple[str, ...]] | Refused:
    pages: dict[str, Marked] = {}
    for one in users.sheets:
        if one.relation.role == "worksheet":
            page = users.package.read(one.relation.target)
            if isinstance(page, Refused):
                return page
            pages[one.name] = page
    return old_answers(pages, {sheet: changed})


def _packed_as(users: UsersBook, key: str, content: bytes) -> Part:
    before = users.package.parts[key]
    now = pack(before.name, content)
    return replace(now, flags=before.flags, time=before.time, date=before.date, attributes=before.attributes)


def _changed(marked: Marked, cells: NewCells) -> tuple[str | Refused, tuple[str, ...]]:
    by_row: dict[int, dict[str, Fraction | str]] = {}
    for name, value in cells.items():
        letters = name.rstrip("0123456789")
        by_row.setdefault(int(name[len(letters) :]), {})[letters] = value
    edits: list[Edit] = []
    left: list[str] = []
    for row in marked.children("sheetData", "row"):
        number = counted(marked.attributes(row).get("r"))
        if number is not None and number in by_row:
            edits += _in_row(marked, row, by_row.pop(number), left)
    if by_row:
        return Refused("The rows of the sheet Work carry no numbers: open the book in a spreadsheet program and save it again."), ()
    return edited(marked, edits), tuple(left)


def _in_row(marked: Marked, row: Element, wanted: dict[str, Fraction | str], left: list[str]) -> list[Edit]:
    """The edits of one row: cells that stand there replaced, missing ones put in before the next column's."""
    edits: list[Edit] = []
    at = row.inner
    ahead = dict(sorted(wanted.items(), key=lambda one: _place(one[0])))
    prefix = row.prefix
    for found in _CELL.finditer(marked.text, row.inner, row.inside_end):
        name = _NAME.search(found["attributes"] or "")
        if name is None:
            continue
        for letters in [one for one in ahead if _place(one) < _place(name[1])]:
            edits.append(Edit(found.start(), found.start(), _cell(prefix, f"{letters}{name[2]}", "", ahead.pop(letters))))
        if name[1] in ahead:
            value = ahead.pop(name[1])
            style = _STYLE.search(found["attributes"] or "")
            if _FORMULA.search(found["inside"] or ""):
                left.append(f"{name[1]}{name[2]}")
            else:
                edits.append(Edit(found.start(), found.end(), _cell(prefix, name[1] + name[2], style[1] if style else "", value)))
        at = found.end()
    number = marked.attributes(row)["r"]
    words = "".join(_cell(prefix, f"{letters}{number}", "", value) for letters, value in ahead.items())
    if words and row.inner == row.end:  # the row was written as <row/>
        opening = marked.text[row.start : row.end].rstrip().removesuffix("/>")
        return [Edit(row.start, row.end, f"{opening}>{words}</{row.name}>")]
    return [*edits, Edit(at, at, words)] if words else edits


def _cell(prefix: str, name: str, style: str, value: Fraction | str) -> str:
    look = f' s="{style}"' if style else ""
    if isinstance(value, str):
        inside = f"<{prefix}is><{prefix}t>{escape(value)}</{prefix}t></{prefix}is>"
        return f'<{prefix}c r="{name}"{look} t="inlineStr">{inside}</{prefix}c>'
    return f'<{prefix}c r="{name}"{look}><{prefix}v>{decimal_text(value)}</{prefix}v></{prefix}c>'


def _place(letters: str) -> tuple[int, str]:
    """The order of columns: Z before AA."""
    return len(letters), letters
