"""The workbook that XlsxWriter wrote with our result sheets in, its sheets out, ready to stand in the user's book.

Strings are written inside their cells. XlsxWriter keeps them in a table of the whole book; putting ours into the user's
table would mean to rewrite what can be the largest part of their book, and to leave words behind in it whenever a result
sheet is replaced.

Anything here that does not fit is our own fault, never the user's, so it is raised and not refused.
"""

import re
from collections.abc import Mapping, Sequence
from typing import TypeVar

from estimator.model.dataclass import dataclass
from estimator.papers.book.marked_text import Marked
from estimator.papers.book.package import (
    OFFICE,
    ContentTypes,
    Package,
    Relation,
    content_types,
    open_package,
)
from estimator.papers.book.refused import Refused
from estimator.papers.book.zipped import unpack

CARRIED = frozenset({"worksheet", "styles", "theme", "sharedStrings"})            # what our workbook may use
BESIDE_A_SHEET = frozenset({"drawing", "chart", "image", "vmlDrawing", "comments", "hyperlink"})
WORKBOOK = "xl/workbook.xml"
T = TypeVar("T")

_STYLED = re.compile(r'(<c r="[A-Z]+[0-9]+" s="|<row [^>]*? s="|<col [^>]*? style=")([0-9]+)(?=")')
_CONDITIONAL = re.compile(r'(<cfRule [^>]*? dxfId=")([0-9]+)(?=")')
_SHARED = re.compile(r' t="s"><v>([0-9]+)</v>')
_STRING = re.compile(r"<si>(.*?)</si>", re.DOTALL)


@dataclass(frozen=True, slots=True)
class OurSheet:
    """One result sheet: its name, where its part stands, and its state when it is hidden."""

    name: str
    key: str
    state: str | None


@dataclass(frozen=True, slots=True)
class OurName:
    """One defined name: the sheet that it belongs to (None: the whole book), other attributes, and what it stands for."""

    name: str
    sheet: int | None
    hidden: bool
    words: str   # as it stands in XML


@dataclass(frozen=True, slots=True)
class OurBook:
    """The result sheets with all that they use."""

    package: Package
    types: ContentTypes
    styles: Marked
    strings: tuple[str, ...]
    sheets: tuple[OurSheet, ...]
    names: tuple[OurName, ...]
    dates_from_1904: bool

    def used_by(self, sheet: OurSheet) -> tuple[str, ...]:
        """The keys of all parts that a sheet uses, itself first, in the order of the zip."""
        reached = _sound(self.package.reached_from([sheet.key]))
        return (sheet.key, *(key for key in self.package.parts if key in reached and key != sheet.key
                             and not key.endswith(".rels")))

    def relations(self, key: str) -> tuple[Relation, ...]:
        return _sound(self.package.relations(key))

    def text(self, key: str) -> str:
        return _sound(unpack(self.package.parts[key])).decode("utf-8")


def read_ours(workbook: bytes) -> OurBook:
    """Our result sheets, from the workbook that holds nothing else."""
    package = _sound(open_package(workbook))
    relations = _sound(package.relations(WORKBOOK))
    _only(CARRIED, relations)
    marked = _sound(package.read(WORKBOOK))
    targets = {relation.id: relation.target for relation in relations}
    sheets = tuple(OurSheet(line["name"], targets[line["r:id"]], line.get("state"))
                   for line in map(marked.attributes, marked.children("sheets", "sheet")))
    names = tuple(_name(marked.attributes(element), marked.inside(element))
                  for element in marked.children("definedNames", "definedName"))
    properties = marked.first("workbookPr")
    own = OurBook(package, _sound(content_types(package)), _sound(package.read("xl/styles.xml")), _strings(package),
                  sheets, names, properties is not None and marked.attributes(properties).get("date1904") == "1")
    for sheet in sheets:
        for key in own.used_by(sheet):
            _only(BESIDE_A_SHEET, own.relations(key))
    return own


def sheet_text(text: str, *, cells: Sequence[int], conditional: Sequence[int], strings: Sequence[str],
               selected: bool) -> str:
    """The XML of a result sheet with its styles where the user's book has them and its strings in the cells."""
    text = _moved(_STYLED, text, cells)
    text = _moved(_CONDITIONAL, text, conditional)
    pieces = _SHARED.split(text)
    pieces[1::2] = [f' t="inlineStr"><is>{strings[int(number)]}</is>' for number in pieces[1::2]]
    text = "".join(pieces).replace(' tabSelected="1"', "", 1)
    return text.replace("<sheetView ", '<sheetView tabSelected="1" ', 1) if selected else text


def _moved(pattern: re.Pattern[str], text: str, places: Sequence[int]) -> str:
    """Every number that the pattern finds, replaced by the number in its place."""
    pieces = pattern.split(text)
    pieces[2::3] = [str(places[int(number)]) for number in pieces[2::3]]
    return "".join(pieces)


def _strings(package: Package) -> tuple[str, ...]:
    part = package.parts.get("xl/sharedstrings.xml")
    return tuple(_STRING.findall(_sound(unpack(part)).decode("utf-8"))) if part else ()


def _name(line: Mapping[str, str], words: str) -> OurName:
    sheet = line.get("localSheetId")
    return OurName(line["name"], None if sheet is None else int(sheet), line.get("hidden") == "1", words)


def _only(allowed: frozenset[str], relations: Sequence[Relation]) -> None:
    for relation in relations:
        if relation.role not in allowed or not relation.type.startswith(OFFICE):
            raise ValueError(f"a result sheet may not use a {relation.role}: nothing here moves it into another book")


def _sound(found: T | Refused) -> T:
    if isinstance(found, Refused):
        raise ValueError(f"the workbook of our own sheets cannot be read: {found.reason}")
    return found
