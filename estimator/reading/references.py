"""Every name that refers to a row of another sheet: found there and spelt as there, or told with a guess."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from estimator.model.form import Column, expected
from estimator.model.problems import Place
from estimator.model.records import SIDES
from estimator.reading.books import Sheets
from estimator.reading.cell_words import found
from estimator.reading.cells import read_cell
from estimator.reading.names import close_to, fold, fold_header
from estimator.reading.tables import ReadRow, Table
from estimator.reading.typed_numbers import Wrong, said, shortened

Known = dict[str, str]
"""Names by their folded form, spelt as in their own sheet."""

_ROLE_ENDINGS = (" board", " edging")


def known_names(sheets: Sheets, sheet: str, field: str) -> Known:
    """The names that stand in a sheet, unsound rows too: a reference to such a row is not a second problem."""
    names: Known = {}
    for row in sheets.rows(sheet):
        name = row.values.get(field)
        if isinstance(name, str) and name:
            names.setdefault(fold(name), name)
    return names


def refer(row: ReadRow, column: Column, known: Known, sheets: Sheets, *, words: str = "", also: Iterable[str] = ()) -> None:
    """Spell a reference as in its own sheet; an unknown one is a problem of its cell. `words` replaces the form's own."""
    name = row.values.get(column.field)
    if not isinstance(name, str) or not name or column.field in row.bad:
        return
    there = known.get(fold(name))
    if there is not None:
        row.values[column.field] = there
        return
    row.bad.add(column.field)
    tell_unknown(row.at.place(column.header), name, [*known.values(), *also], sheets, words=words or expected(column, units="mm"))


def tell_unknown(place: Place, name: str, known: Iterable[str], sheets: Sheets, *, words: str) -> None:
    names = list(known)
    guess = close_to(name, names)
    few = ", ".join(names[:6]) + (", ..." if len(names) > 6 else "")
    mend = f"did you mean {guess}?" if guess else f"use one of {few}" if names else "add the row that it names"
    sheets.findings.problem(place, found=said(name), expected=words, mend=mend)


# --- finishes: a board and an edging for each role --------------------------------------------------------------------


def role_headers(table: Table | None, sheets: Sheets) -> dict[tuple[str, str], str]:
    """(role, board or edging) to the header as typed; the role is all that stands before the last word."""
    headers: dict[tuple[str, str], str] = {}
    if table is None:
        return headers
    for _, typed in sorted(table.further.items()):
        key = fold_header(typed)
        role, _, what = key.rpartition(" ")
        place = table.header_place(typed)
        if role and what not in ("board", "edging"):
            guess = close_to(what, ("board", "edging"))
            if guess and len(what) > 4:
                sheets.findings.problem(
                    place,
                    found=f"a column named {shortened(typed)}",
                    expected="a role's board or edging, such as front board",
                    mend=f"did you mean {role} {guess}?",
                )
        elif role and (role, what) in headers:
            sheets.findings.problem(
                place,
                found=f"a second column named {shortened(typed)}",
                expected="one column of each name",
                mend="take one of the two out",
            )
        elif role:
            headers[role, what] = typed
            table.letters[f"{role} {what}"] = table.letters[typed]
    return headers


def read_roles(row: ReadRow, headers: dict[tuple[str, str], str], sheets: Sheets, known: dict[str, Known]) -> None:
    """The boards and edgings of one finish, by role; what names no row of Boards or Edgings is told at its cell."""
    chosen: dict[str, dict[str, str]] = {"board": {}, "edging": {}}
    for (role, what), typed in headers.items():
        cell = row.further.get(typed)
        if cell is None:
            continue
        sheet = "Boards" if what == "board" else "Edgings"
        column = Column(f"{role} {what}", f"{role} {what}", "name", "", names_in=sheet)
        name = read_cell(cell, column, units="mm")
        place = row.at.place(column.header)
        if isinstance(name, Wrong):
            row.bad.add(column.field)
            sheets.findings.wrong(place, name, expected=expected(column, units="mm"))
        elif not sheets.need(sheet, f"{'the boards' if what == 'board' else 'the edgings'} that the finishes name"):
            row.bad.add(column.field)
        elif fold(name) in known[sheet]:
            chosen[what][role] = known[sheet][fold(name)]
        else:
            row.bad.add(column.field)
            tell_unknown(place, name, known[sheet].values(), sheets, words=expected(column, units="mm"))
    row.values["boards"], row.values["edgings"] = chosen["board"], chosen["edging"]


# --- loose parts: boards and edgings, or roles of their finish --------------------------------------------------------


def refer_loose_part(
    row: ReadRow, columns: dict[str, Column], sheets: Sheets, known: dict[str, Known], finishes: dict[str, ReadRow]
) -> None:
    finish = finishes.get(fold(str(row.values.get("finish") or "")))
    if row.values.get("finish") and finish is None:
        return
    for field, sheet in (("board", "Boards"), ("edging", "Edgings"), *((side, "Edgings") for side in SIDES)):
        name = row.values.get(field)
        if not isinstance(name, str) or not name or field in row.bad or (field in SIDES and name == "x"):
            continue
        roles: dict[str, Any] = finish.values["boards" if sheet == "Boards" else "edgings"] if finish else {}
        if fold(name) in roles:
            row.values[field] = fold(name)
            continue
        if finish and _role_of_unsound_finish(finish, fold(name), "board" if sheet == "Boards" else "edging"):
            row.bad.add(field)
            continue
        if not sheets.need(sheet, "the rows that Loose parts name"):
            row.bad.add(field)
            continue
        words = f"{columns[field].header}: a name that stands in the sheet {sheet}" + (
            f", or a role of the finish {finish.values['finish']}" if finish else ""
        )
        if field in SIDES:
            words = f"{columns[field].header}: x for the row's Edging, or a name that stands in the sheet Edgings"
        refer(row, columns[field], known[sheet], sheets, words=words, also=roles)


def _role_of_unsound_finish(finish: ReadRow, role: str, what: str) -> bool:
    return f"{role} {what}" in finish.bad


def tell_x_without_edging(row: ReadRow, header: str, sheets: Sheets) -> None:
    """An x bands with the row's Edging, so the row must have one."""
    sides = [side for side in SIDES if row.values.get(side) == "x"]
    if not sides or row.values.get("edging") or "edging" in row.bad:
        return
    row.bad.add("edging")
    sheets.findings.problem(
        row.at.place(header),
        found="nothing, but there is an x under " + " and ".join(side.title() for side in sides),
        expected="Edging: the name with which the edges marked x are banded",
        mend="fill in the Edging, or take the x away",
    )


# --- Of: what a step or a fitting is limited to -----------------------------------------------------------------------


def names_for_of(sheets: Sheets, headers: dict[tuple[str, str], str]) -> Known:
    """Whatever a count may be limited to: kinds, finishes, roles, boards, edgings, adhesives, materials of edging."""
    known: Known = {}
    for sheet, field in (
        ("Construction", "kind"), ("Kinds", "kind"), ("Finishes", "finish"), ("Boards", "board"), ("Edgings", "edging"),
        ("Adhesives", "adhesive"), ("Edgings", "material"),
    ):  # fmt: skip
        for key, name in known_names(sheets, sheet, field).items():
            known.setdefault(key, name)
    roles = [role for role, _ in headers]
    roles += [name for field in ("board", "edging") for name in known_names(sheets, "Construction", field)]
    for role in roles:
        known.setdefault(fold(role), fold(role))
    return known


def banding_words(text: str, place: Place, known: Known, sheets: Sheets, *, words: str) -> str:
    """Job > Banding: one of three words, or edgings with commas between them, spelt as in Edgings."""
    choices = {fold(choice): choice for choice in ("best", "by hand", "send out")}
    if fold(text) in choices:
        return choices[fold(text)]
    if fold(text) in known:
        return known[fold(text)]
    chosen: list[str] = []
    for piece in text.replace(";", ",").split(","):
        if not fold(piece):
            continue
        name = known.get(fold(piece))
        if name is None:
            tell_unknown(place, piece.strip(), [*choices.values(), *known.values()], sheets, words=words)
            return "best"
        if name not in chosen:
            chosen.append(name)
    return ", ".join(chosen) or "best"


def found_in(row: ReadRow, header: str) -> str:
    cell = row.further.get(header)
    return found(cell) if cell else ""
