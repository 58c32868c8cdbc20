"""The bytes of a user's workbook in, the places where our sheets have to be made known out, or why that cannot be done."""

from collections.abc import Iterable

from estimator.model.dataclass import dataclass
from estimator.model.written import counted
from estimator.papers.book.marked_text import Element, Marked
from estimator.papers.book.names import MARK, mark_text
from estimator.papers.book.package import (
    STRICT,
    ContentTypes,
    Package,
    Relation,
    content_types,
    open_package,
    relations_in,
    relations_key,
    workbook_key,
)
from estimator.papers.book.refused import Refused

MAIN = "http://schemas.openxmlformats.org/spreadsheetml/2006/main"
MOST_LOOKS = 65_000   # cell formats; programs take 65,490 in a workbook and repair what holds more
STRICT_SPACES = "http://purl.oclc.org/ooxml/"


@dataclass(frozen=True, slots=True)
class Sheet:
    """One sheet that stands in the user's book: what it is called, its part, and whether we wrote it."""

    name: str
    number: int          # its own for life, whatever its position
    relation: Relation
    element: Element
    is_hidden: bool
    is_ours: bool


@dataclass(frozen=True, slots=True)
class UsersBook:
    """The user's package, and the few parts of it that list what is in it."""

    package: Package
    types: ContentTypes
    key: str             # of the part that lists the sheets
    workbook: Marked
    rels: Marked
    relations: tuple[Relation, ...]
    styles: Marked | None
    sheets: tuple[Sheet, ...]

    def uses(self, role: str) -> Relation | None:
        """The part that serves the whole book in one way: its styles, its shared strings, its calculation chain."""
        return next((relation for relation in self.relations if relation.role == role), None)

    @property
    def folder(self) -> str:
        return self.key.rpartition("/")[0]

    @property
    def dates_from_1904(self) -> bool:
        properties = self.workbook.first("workbookPr")
        return properties is not None and self.workbook.attributes(properties).get("date1904") in ("1", "true", "on")


def open_users_book(content: bytes | UsersBook) -> UsersBook | Refused:
    """A user's book that can take sheets of ours; one that has been opened already is given back."""
    if isinstance(content, UsersBook):
        return content
    package = open_package(content)
    if isinstance(package, Refused):
        return package
    key = workbook_key(package)
    if isinstance(key, Refused):
        return key
    types = content_types(package)
    workbook = package.read(key)
    rels = package.read(relations_key(key))
    if isinstance(types, Refused):
        return types
    if isinstance(workbook, Refused):
        return workbook
    if isinstance(rels, Refused):
        return rels
    if workbook.root.space.startswith(STRICT_SPACES):
        return STRICT
    if workbook.root.local != "workbook" or workbook.root.space != MAIN or workbook.first("sheets") is None:
        return Refused("The file is an Office document but not a workbook (.xlsx or .xlsm).")
    relations = tuple(relations_in(rels, key.rpartition("/")[0]))
    styles = _styles(package, relations)
    if isinstance(styles, Refused):
        return styles
    sheets = _sheets(workbook, relations)
    if isinstance(sheets, Refused):
        return sheets
    return UsersBook(package, types, key, workbook, rels, relations, styles, sheets)


def _styles(package: Package, relations: Iterable[Relation]) -> Marked | Refused | None:
    for relation in relations:
        if relation.role == "styles":
            styles = package.read(relation.target)
            looks = styles.first("cellXfs") if isinstance(styles, Marked) else None
            if looks is not None and len(looks.children) > MOST_LOOKS:
                return Refused(f"The workbook holds {len(looks.children)} cell formats, and spreadsheet programs take no more than "
                               "65,490: there is no room for ours. Copy its sheets into a new workbook and price that.")
            return styles
    return None


def _sheets(workbook: Marked, relations: Iterable[Relation]) -> tuple[Sheet, ...] | Refused:
    """The sheets in their order; ours are those whose mark fits their name."""
    by_id = {relation.id: relation for relation in relations}
    marks = {(line.get("localSheetId"), words)
             for line, words in ((workbook.attributes(element), workbook.words(element))
                                 for element in workbook.children("definedNames", "definedName"))
             if line.get("name") == MARK}
    sheets = []
    for position, element in enumerate(workbook.children("sheets", "sheet")):
        line = workbook.attributes(element)
        relation = next((by_id[value] for name, value in line.items() if name.endswith(":id") and value in by_id), None)
        number = counted(line.get("sheetId"))
        if relation is None or "name" not in line or number is None:
            return Refused(f"The workbook is damaged: its list of sheets does not say where sheet {position + 1} is. "
                           "Open it in a spreadsheet program, save it and price it again.")
        is_ours = relation.role == "worksheet" and (str(position), mark_text(line["name"])) in marks
        sheets.append(Sheet(line["name"], number, relation, element,
                            line.get("state", "visible") != "visible", is_ours))
    return tuple(sheets)
