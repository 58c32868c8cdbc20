"""The user's workbook and our result sheets in, the user's workbook with our sheets at its end out.

Every part of the user's package goes over byte for byte, packed as it was, but for these: the list of part kinds, the list
of sheets and its `.rels`, the styles (ours are put behind), and the calculation chain, which is left out because spreadsheet
programs make it anew. A result sheet from an earlier pricing is replaced, with all that only it used.
"""

import posixpath
import re
from collections.abc import Collection, Iterable, Mapping, Sequence

from estimator.model.dataclass import dataclass
from estimator.papers.book.marked_text import escape
from estimator.papers.book.names import free_name, is_ours
from estimator.papers.book.our_sheets import OurBook, read_ours, sheet_text
from estimator.papers.book.package import (
    CONTENT_TYPES,
    OFFICE,
    Package,
    Relation,
    relations_key,
    with_relations,
)
from estimator.papers.book.refused import Refused
from estimator.papers.book.styles import MergedStyles, bare_styles, merge_styles
from estimator.papers.book.users_book import MAIN, UsersBook, open_users_book
from estimator.papers.book.workbook_part import Line, new_positions, open_tab, workbook_with
from estimator.papers.book.zipped import Part, pack, zip_of

_SPREADSHEET = "application/vnd.openxmlformats-officedocument.spreadsheetml"
_NO_STRINGS = (f'<?xml version="1.0" encoding="UTF-8" standalone="yes"?>\n<sst xmlns="{MAIN}" count="0" uniqueCount="0"/>'
               ).encode()


@dataclass(frozen=True, slots=True)
class Spliced:
    """The new workbook, the sheets of ours that now stand in it, and those of an earlier pricing that they replaced."""

    workbook: bytes
    added: tuple[str, ...]
    replaced: tuple[str, ...]


def free_names(user_book: bytes | UsersBook, wanted: Iterable[str]) -> dict[str, str] | Refused:
    """The name that each wanted sheet can have in the user's book: ask before the sheets and their formulas are written.

    A name is free when no sheet has it, or only a result sheet of ours, which will be replaced.
    """
    book = open_users_book(user_book)
    if isinstance(book, Refused):
        return book
    return _free(wanted, [sheet.name for sheet in book.sheets if not sheet.is_ours], "{} ({})", 31)


def free_defined_names(user_book: bytes | UsersBook, wanted: Iterable[str]) -> dict[str, str] | Refused:
    """The same for names that stand for the whole book; needed only by a workbook of ours that defines such names."""
    book = open_users_book(user_book)
    if isinstance(book, Refused):
        return book
    asked = tuple(wanted)
    return _free(asked, _names_of_the_user(book, asked), "{}_{}", 255)


def dates_from_1904(user_book: bytes | UsersBook) -> bool | Refused:
    """Whether the user's book counts days from 1904: XlsxWriter must then be told `date_1904`, else dates shift."""
    book = open_users_book(user_book)
    return book if isinstance(book, Refused) else book.dates_from_1904


def add_sheets(*, user_book: bytes | UsersBook, ours: bytes, given: Collection[str] = ()) -> Spliced | Refused:
    """The user's book with our sheets last; `ours` is a workbook from XlsxWriter that holds nothing but them.

    Sheets that are `given` away are the user's from then on: a later pricing keeps them as they are.

    Raises: ValueError when `ours` takes a name that the user's book has (ask `free_names`), counts days otherwise than it
    (ask `dates_from_1904`), or uses a kind of part that nothing here moves; those are faults of whoever wrote it.
    """
    book = open_users_book(user_book)
    if isinstance(book, Refused):
        return book
    results = read_ours(ours)
    _agree(book, results)
    gone = _gone(book)
    if isinstance(gone, Refused):
        return gone
    kept = {key: part for key, part in book.package.parts.items() if key not in gone}
    return Spliced(zip_of(_parts(book, results, kept, gone, given)), tuple(sheet.name for sheet in results.sheets),
                   tuple(sheet.name for sheet in book.sheets if sheet.is_ours))


def _free(wanted: Iterable[str], taken: Sequence[str], form: str, longest: int) -> dict[str, str]:
    found: dict[str, str] = {}
    for name in wanted:
        found[name] = free_name(name, (*taken, *found.values()), form=form, longest=longest)
    return found


def _names_of_the_user(book: UsersBook, wanted: Sequence[str]) -> list[str]:
    """The names for the whole book that will still stand there once our earlier sheets are gone."""
    replaced = [sheet.name for sheet in book.sheets if sheet.is_ours]
    names = [(book.workbook.attributes(element), book.workbook.words(element))
             for element in book.workbook.children("definedNames", "definedName")]
    return [line.get("name", "") for line, words in names
            if "localSheetId" not in line and not is_ours(line, words, replaced=replaced, wanted=wanted)]


def _agree(book: UsersBook, ours: OurBook) -> None:
    """Names and the count of days were to be asked for before our sheets were written."""
    taken = {sheet.name.casefold() for sheet in book.sheets if not sheet.is_ours}
    clashes = [sheet.name for sheet in ours.sheets if sheet.name.casefold() in taken]
    names = [name.name for name in ours.names if name.sheet is None]
    taken_names = {name.casefold() for name in _names_of_the_user(book, names)}
    clashes += [name for name in names if name.casefold() in taken_names]
    if clashes:
        raise ValueError(f"the user's book already has {', '.join(clashes)}")
    if book.dates_from_1904 != ours.dates_from_1904:
        raise ValueError("the user's book and our sheets count days from different years")


def _gone(book: UsersBook) -> frozenset[str] | Refused:
    """The parts that are left out: the calculation chain, and what only our earlier sheets used."""
    chain = book.uses("calcChain")
    gone = {chain.target, relations_key(chain.target)} if chain else set()
    replaced = [sheet.relation.target for sheet in book.sheets if sheet.is_ours]
    if replaced:
        theirs = book.package.reached_from(replaced)
        others = [relation.target for relation in book.relations if relation.target not in replaced]
        root = book.package.relations("")
        if isinstance(theirs, Refused):
            return theirs
        if isinstance(root, Refused):
            return root
        others += [relation.target for relation in root if relation.target != book.key]
        still_used = book.package.reached_from(others)
        if isinstance(still_used, Refused):
            return still_used
        gone |= theirs - still_used - {book.key, relations_key(book.key)}
    return frozenset(gone)


def _parts(
    book: UsersBook, ours: OurBook, kept: Mapping[str, Part], gone: frozenset[str], given: Collection[str]
) -> list[Part]:
    """All parts of the new workbook: the user's in their order, then ours."""
    strings = None if book.uses("sharedStrings") else _free_part("sharedStrings.xml", kept)
    styles = None if book.uses("styles") else _free_part("styles.xml", kept)
    promised = (Package(kept).promised() | book.types.overrides.keys()) - gone
    names = _part_names(ours, {*kept, *promised, *(name.lower() for name in (strings, styles) if name)})
    merged = _merged(book, ours)
    changed, lines = _directories(book, ours, names, gone, strings, styles)
    changed[book.key] = workbook_with(book, lines, ours.names, given)
    if book_styles := book.uses("styles"):
        changed[book_styles.target] = merged.content
    parts = [part if key not in changed else pack(part.name, changed[key]) for key, part in kept.items()]
    parts += [pack(strings, _NO_STRINGS)] if strings else []
    parts += [pack(styles, merged.content)] if styles else []
    return parts + _our_parts(book, ours, names, merged)


def _merged(book: UsersBook, ours: OurBook) -> MergedStyles:
    """The styles of both; ours behind plain ones when the user's book has none."""
    return merge_styles(bare_styles(ours.styles) if book.styles is None else book.styles, ours.styles)


def _directories(book: UsersBook, ours: OurBook, names: Mapping[str, str], gone: frozenset[str], strings: str | None,
                 styles: str | None) -> tuple[dict[str, bytes], list[Line]]:
    """The list of part kinds and the `.rels` of the list of sheets, by key; and our sheets with their new ids."""
    ids = [int(found[1]) for relation in book.relations if relation.target not in gone
           and (found := re.fullmatch(r"rId(\d{1,9})", relation.id))]
    free_id = max((0, *ids)) + 1
    free_number = max((0, *(sheet.number for sheet in book.sheets if not sheet.is_ours))) + 1
    new: list[tuple[str, str, str]] = []
    kinds: dict[str, tuple[str, bool]] = {}
    for name, role in ((strings, "sharedStrings"), (styles, "styles")):
        if name:
            new.append((f"rId{free_id + len(new)}", role, name))
            kinds[name] = (f"{_SPREADSHEET}.{role}+xml", False)
    lines = []
    for number, sheet in enumerate(ours.sheets, free_number):
        lines.append(Line(sheet, number, f"rId{free_id + len(new)}"))
        new.append((lines[-1].relation_id, "worksheet", names[sheet.key]))
    for key, name in names.items():
        kinds[name] = (ours.types.of(key) or "application/xml", key not in ours.types.overrides)
    leaving = {relation.id for relation in book.relations if relation.target in gone and not relation.outside}
    rels = with_relations(book.rels, gone=leaving, new=[
        (id_, f"{OFFICE}/{role}", _target(name, book.key)) for id_, role, name in new])
    types = book.types.without_and_with(gone, kinds)
    return {CONTENT_TYPES.lower(): types, relations_key(book.key): rels}, lines


def _free_part(name: str, kept: Mapping[str, Part]) -> str:
    """A name that no part has, where most programs keep such a part; some look for it nowhere else."""
    stem, ending = name.rsplit(".", 1)
    path = "xl/{}.{}"
    return path.format(free_name(stem, [key.rpartition("/")[2].rpartition(".")[0] for key in kept], form="{}{}"), ending)


def _part_names(ours: OurBook, taken: Iterable[str]) -> dict[str, str]:
    """A free name for every part of ours: its own, with the number after the highest that stands there."""
    highest: dict[tuple[str, str], int] = {}
    for key in taken:
        stem, number, ending = _numbered(key.replace("_rels/", "").removesuffix(".rels"))
        highest[stem, ending] = max(highest.get((stem, ending), 0), number)
    names: dict[str, str] = {}
    for sheet in ours.sheets:
        for key in ours.used_by(sheet):
            if key not in names:
                stem, _, ending = _numbered(ours.package.parts[key].name)
                place = stem.lower(), ending.lower()
                highest[place] = highest.get(place, 0) + 1
                names[key] = f"{stem}{highest[place]}.{ending}"
    return names


def _numbered(name: str) -> tuple[str, int, str]:
    """`xl/charts/chart12.xml` as its stem, its number and its ending."""
    stem, _, ending = name.rpartition(".")
    bare = stem.rstrip("0123456789")
    digits = stem[len(bare):]
    return bare, int(digits) if 0 < len(digits) < 10 else 0, ending


def _our_parts(book: UsersBook, ours: OurBook, names: Mapping[str, str], merged: MergedStyles) -> list[Part]:
    """Our sheets and all that they use, under their new names."""
    tab = open_tab(book)
    selected = new_positions(book, ours.sheets).get(tab) if tab is not None and tab < len(book.sheets) \
        and book.sheets[tab].is_ours else None
    first = sum(not sheet.is_ours for sheet in book.sheets)
    sheets = {sheet.key: position for position, sheet in enumerate(ours.sheets, first)}
    parts = []
    for key, name in names.items():
        if key in sheets:
            text = sheet_text(ours.text(key), cells=merged.cells, conditional=merged.conditional, strings=ours.strings,
                              selected=sheets[key] == selected)
            parts.append(pack(name, text.encode()))
        else:
            was = ours.package.parts[key]
            parts.append(Part(name, was.packed, was.method, was.crc, was.size))
        if relations := ours.relations(key):
            parts.append(pack(relations_key(name), _rels(relations, names, name)))
    return parts


def _rels(relations: Sequence[Relation], names: Mapping[str, str], user: str) -> bytes:
    """What a part of ours uses, under the new names."""
    lines = []
    for relation in relations:
        target = relation.target if relation.outside else _target(names[relation.target], user)
        mode = ' TargetMode="External"' if relation.outside else ""
        lines.append(f'<Relationship Id="{relation.id}" Type="{relation.type}" Target="{escape(target)}"{mode}/>')
    return ('<?xml version="1.0" encoding="UTF-8" standalone="yes"?>\n'
            '<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships">'
            f'{"".join(lines)}</Relationships>').encode()


def _target(name: str, user: str) -> str:
    """Where a part is, seen from the part that uses it.

    >>> _target("xl/media/image3.png", "xl/drawings/drawing2.xml")
    '../media/image3.png'
    """
    return posixpath.relpath(f"/{name}", f"/{posixpath.dirname(user)}")  # from the root, so that no folder of the computer is asked
