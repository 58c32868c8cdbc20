"""The user's list of sheets and names in, the same list with our sheets at its end out, as edits of the text.

Positions matter here: names that belong to one sheet, and the tabs that were open, are counted by position. Ours stand
last, so the user's keep theirs, unless a result sheet of an earlier pricing stood between them and is now replaced.
"""

import functools
from collections.abc import Collection, Mapping, Sequence

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
    remove,
    set_attributes,
)
from estimator.papers.book.names import COMMENT, MARK, cut_off, is_ours, mark_text
from estimator.papers.book.our_sheets import OurName, OurSheet
from estimator.papers.book.package import OFFICE
from estimator.papers.book.users_book import Sheet, UsersBook

BEFORE_NAMES = ("sheets", "functionGroups", "externalReferences")   # the order that the file format asks for
BEFORE_RECALCULATION = (*BEFORE_NAMES, "definedNames")


@dataclass(frozen=True, slots=True)
class Line:
    """A result sheet as the list of sheets will have it."""

    sheet: OurSheet
    number: int
    relation_id: str


def new_positions(book: UsersBook, ours: Sequence[OurSheet]) -> dict[int, int]:
    """Where each sheet that now stands in the book will stand; a replaced one, where the sheet of its name will."""
    kept = [position for position, sheet in enumerate(book.sheets) if not sheet.is_ours]
    by_name = {sheet.name.casefold(): len(kept) + position for position, sheet in enumerate(ours)}
    positions = {before: after for after, before in enumerate(kept)}
    for before, sheet in enumerate(book.sheets):
        if sheet.is_ours and sheet.name.casefold() in by_name:
            positions[before] = by_name[sheet.name.casefold()]
    return positions


def open_tab(book: UsersBook) -> int | None:
    """The position of the tab that the user had open, when the book says so."""
    view = book.workbook.first("bookViews", "workbookView")
    return counted(book.workbook.attributes(view).get("activeTab")) if view else None


def workbook_with(book: UsersBook, lines: Sequence[Line], names: Sequence[OurName], given: Collection[str]) -> bytes:
    """The part that lists the sheets, with ours in place of those that we wrote before; those given away carry no mark."""
    marked = book.workbook
    positions = new_positions(book, [line.sheet for line in lines])
    first = sum(not sheet.is_ours for sheet in book.sheets)
    edits = _views(book, positions)
    edits += [remove(sheet.element) for sheet in book.sheets if sheet.is_ours]
    edits += _listed(marked, lines)
    edits += _names(book, positions, lines, names, first, given)
    edits += recalculated(marked)
    return encode(edited(marked, edits), marked.encoding)


def _views(book: UsersBook, positions: Mapping[int, int]) -> list[Edit]:
    """The tabs that were open and foremost, counted anew; the first that can be seen when theirs is gone."""
    marked = book.workbook
    first = min((positions[before] for before, sheet in enumerate(book.sheets)
                 if before in positions and not sheet.is_hidden), default=0)
    edits = []
    for view in marked.children("bookViews", "workbookView"):
        line = marked.attributes(view)
        moved: dict[str, str | int | None] = {
            name: positions.get(number, first) for name in ("activeTab", "firstSheet")
            if (number := counted(line.get(name))) is not None and positions.get(number) != number}
        if moved:
            edits.append(set_attributes(marked, view, moved))
    return edits


def _listed(marked: Marked, lines: Sequence[Line]) -> list[Edit]:
    """Our sheets at the end of the list, with the prefixes that this book uses."""
    sheets = _present(marked, "sheets")
    prefix, declared = _relation_prefix(marked, sheets)
    words = []
    for line in lines:
        state = f' state="{line.sheet.state}"' if line.sheet.state else ""
        words.append(f'<{sheets.prefix}sheet name="{escape(line.sheet.name)}" sheetId="{line.number}"{state}'
                     f'{declared} {prefix}:id="{line.relation_id}"/>')
    return append(marked, sheets, "".join(words))


def _relation_prefix(marked: Marked, sheets: Element) -> tuple[str, str]:
    """The prefix that this book has for ids of other parts, and its declaration where it has none."""
    for element in (sheets, marked.root):
        for name, value in marked.attributes(element).items():
            if value == OFFICE and name.startswith("xmlns:"):
                return name.removeprefix("xmlns:"), ""
    return "r", f' xmlns:r="{OFFICE}"'


def _names(book: UsersBook, positions: Mapping[int, int], lines: Sequence[Line], names: Sequence[OurName],
           first: int, given: Collection[str]) -> list[Edit]:
    """The user's names with their sheets counted anew, without those that we wrote before, and ours behind them."""
    marked = book.workbook
    replaced = [sheet for sheet in book.sheets if sheet.is_ours]
    gone = [sheet.name for position, sheet in enumerate(book.sheets) if position not in positions]
    edits = [edit for element in marked.children("definedNames", "definedName")
             for edit in _users_name(book, element, positions, replaced, gone, names)]
    section = marked.first("definedNames")
    prefix = (section or _present(marked, "sheets")).prefix
    words = "".join(_our_name(prefix, name, first) for name in names)
    words += "".join(f'<{prefix}definedName name="{MARK}" localSheetId="{first + position}" hidden="1">'
                     f'{escape(mark_text(line.sheet.name))}</{prefix}definedName>' for position, line in enumerate(lines)
                     if line.sheet.name not in given)
    if section:
        return edits + append(marked, section, words)
    at = _end_of_last(marked, BEFORE_NAMES)
    return [*edits, Edit(at, at, f"<{prefix}definedNames>{words}</{prefix}definedNames>")]


def _users_name(book: UsersBook, element: Element, positions: Mapping[int, int], replaced: Sequence[Sheet],
                gone: Sequence[str], names: Sequence[OurName]) -> list[Edit]:
    """What happens to one name that stands in the book: mostly nothing."""
    marked = book.workbook
    line, words = marked.attributes(element), marked.words(element)
    position = counted(line.get("localSheetId"))
    if position is not None and position < len(book.sheets):
        if book.sheets[position].is_ours:
            return [remove(element)]
        if positions[position] != position:
            return [set_attributes(marked, element, {"localSheetId": positions[position]})]
        return []
    if is_ours(line, words, replaced=[sheet.name for sheet in replaced],
               wanted=[name.name for name in names if name.sheet is None]):
        return [remove(element)]
    cut = functools.reduce(cut_off, gone, words)
    return [Edit(element.inner, element.inside_end, escape(cut))] if cut != words else []


def _our_name(prefix: str, name: OurName, first: int) -> str:
    hidden = ' hidden="1"' if name.hidden else ""
    where = f' comment="{COMMENT}"' if name.sheet is None else f' localSheetId="{first + name.sheet}"'
    return f'<{prefix}definedName name="{escape(name.name)}"{where}{hidden}>{name.words}</{prefix}definedName>'


def recalculated(marked: Marked) -> list[Edit]:
    """Every formula is worked out when the book is opened: sheets of the user's may look at results that have changed."""
    asked = marked.first("calcPr")
    if asked is None:
        at = _end_of_last(marked, BEFORE_RECALCULATION)
        return [Edit(at, at, f'<{_present(marked, "sheets").prefix}calcPr fullCalcOnLoad="1"/>')]
    if marked.attributes(asked).get("fullCalcOnLoad") in ("1", "true"):
        return []
    return [set_attributes(marked, asked, {"fullCalcOnLoad": 1})]


def _end_of_last(marked: Marked, locals_: Sequence[str]) -> int:
    return max(element.end for local in locals_ for element in marked.children(local))


def _present(marked: Marked, local: str) -> Element:
    element = marked.first(local)
    assert element is not None, f"a book without {local} was to be refused when it was opened"
    return element
