"""The roles of Finishes and of Construction: which board and edging a finish gives, and whether it gives what its cabinets need."""

from __future__ import annotations

from dataclasses import field as own_default

from estimator.model.dataclass import dataclass
from estimator.model.form import Column, expected
from estimator.model.shop_records import SIDES
from estimator.reading.agreement import tell_x_without_edging
from estimator.reading.books import Sheets
from estimator.reading.cells import read_cell
from estimator.reading.columns import ReadRow, Table, cell_place
from estimator.reading.findings import BLANK
from estimator.reading.names import close_to, fold, fold_header
from estimator.reading.raw_cells import column_letter
from estimator.reading.references import Known, tell_unknown
from estimator.reading.typed_numbers import Wrong, said, shortened

_COUNTED = ("shelves", "doors", "drawers")
_SHEET_OF = {"board": "Boards", "edging": "Edgings"}


@dataclass(slots=True)
class Roles:
    """(role, board or edging) to the header as typed; the role is all that stands before the last word."""

    headers: dict[tuple[str, str], str] = own_default(default_factory=dict)
    complete: bool = True
    """False when a header is misspelt: what seems to lack may be under it."""


def find_roles(table: Table | None, sheets: Sheets) -> Roles:
    """The roles that the headers of Finishes make."""
    roles = Roles()
    if table is None:
        return roles
    for number, typed in table.further.items():
        role, _, what = fold_header(typed).rpartition(" ")
        guess = close_to(what, _SHEET_OF) if len(what) >= 4 else None
        if not role or (what not in _SHEET_OF and not guess):
            continue
        found, mend, wanted = (
            f"a column named {shortened(typed)}",
            f"did you mean {role} {guess}?",
            "a role's board or edging, such as front board",
        )
        if (role, what) in roles.headers:
            found, mend, wanted = f"a second column named {shortened(typed)}", "take one of the two out", "one column of each name"
        elif what in _SHEET_OF:
            roles.headers[role, what] = typed
            table.letters[f"{role} {what}"] = column_letter(number)
            continue
        roles.complete = False
        sheets.findings.problem(cell_place(table, number), found=found, expected=wanted, mend=mend)
    return roles


def read_roles(row: ReadRow, roles: Roles, sheets: Sheets, known: dict[str, Known]) -> None:
    """The boards and edgings of one finish, by role; what names no row of Boards or Edgings is told at its cell."""
    chosen: dict[str, dict[str, str]] = {"board": {}, "edging": {}}
    for (role, what), typed in roles.headers.items():
        cell = row.further.get(typed)
        if cell is None:
            continue
        sheet = _SHEET_OF[what]
        column = Column(f"{role} {what}", f"{role} {what}", "name", "", names_in=sheet)
        name = read_cell(cell, column, units="mm")
        there = None if isinstance(name, Wrong) else known[sheet].get(name)
        if there is not None:
            chosen[what][role] = there
            continue
        row.bad.add(column.field)
        words = expected(column, units="mm")
        if isinstance(name, Wrong):
            sheets.findings.wrong(row.at.place(column.header), name, expected=words)
        elif sheets.need(sheet, f"the {what}s that the finishes name"):
            tell_unknown(row.at.place(column.header), name, known[sheet], sheets, words=words)
    row.values["boards"], row.values["edgings"] = chosen["board"], chosen["edging"]


def spell_roles(row: ReadRow, kinds: Known) -> None:
    """Roles in small letters with single blanks, as the finishes hold them; a kind as its first row spells it."""
    kind = row.values["kind"]
    if kind:
        row.values["kind"] = kinds.get(str(kind)) or kind
    for field in ("board", "edging", *SIDES):
        if isinstance(row.values[field], str):
            row.values[field] = fold(row.values[field])


def roles_are_given(sheets: Sheets, roles: Roles) -> None:
    """Every part that surely stands in a cabinet of the job must find its board and its edging in that cabinet's finish.

    Surely: its Count is a number, or one of shelves, doors, drawers. Rules that must be worked out are the engine's to ask.
    """
    finishes = {fold(str(row.values["finish"])): row for row in reversed(sheets.rows("Finishes")) if row.values["finish"]}
    parts: dict[str, list[ReadRow]] = {}
    for row in sheets.rows("Construction"):
        parts.setdefault(fold(str(row.values["kind"])), []).append(row)
    asked: set[tuple[int, str]] = set()
    for cabinet in sheets.rows("Cabinets"):
        finish = finishes.get(fold(str(cabinet.values["finish"])))
        for part in parts.get(fold(str(cabinet.values["kind"])), ()):
            key = (part.at.number, fold(str(cabinet.values["finish"])))
            if key in asked or not _surely_stands(part, cabinet):
                continue
            asked.add(key)
            tell_x_without_edging(part, sheets)
            _ask_finish(part, finish, roles, sheets)


def _surely_stands(part: ReadRow, cabinet: ReadRow) -> bool:
    count = fold(str(part.values["count"]))
    if count in _COUNTED:
        return count not in cabinet.bad and bool(cabinet.values[count])
    return count.isascii() and count.isdigit() and int(count) > 0


def _ask_finish(part: ReadRow, finish: ReadRow | None, roles: Roles, sheets: Sheets) -> None:
    wanted = [("board", "board", str(part.values["board"]))]
    if any(part.values[side] == "x" for side in SIDES):
        wanted.append(("edging", "edging", str(part.values["edging"])))
    wanted += [(side, "edging", str(part.values[side])) for side in SIDES if part.values[side] != "x"]
    for field, what, role in wanted:
        if not role or field in part.bad:
            continue
        if (role, what) not in roles.headers:
            _tell_no_role(part, field, what, role, roles, sheets)
        elif finish:
            need_of_finish(finish, role, what, f"the {part.values['part']} of {part.values['kind']}", sheets)


def need_of_finish(finish: ReadRow, role: str, what: str, who: str, sheets: Sheets) -> bool:
    """Whether a finish gives a role its board or edging; a blank cell there is a problem of that cell, told once."""
    field = f"{role} {what}"
    if role in finish.values[f"{what}s"] or field in finish.bad:
        return field not in finish.bad
    finish.bad.add(field)
    sheets.findings.problem(
        finish.at.place(field),
        found=BLANK,
        expected=f"{field}: a name that stands in the sheet {what.title()}s",
        mend=f"fill it in: {who} needs it" + ("; for raw edges take out its x" if what == "edging" else ""),
    )
    return False


def _tell_no_role(part: ReadRow, field: str, what: str, role: str, roles: Roles, sheets: Sheets) -> None:
    part.bad.add(field)
    if not roles.complete or not sheets.has("Finishes"):  # told already, of the header or of the sheet
        return
    known = [name for name, kind in roles.headers if kind == what]
    guess = close_to(role, known)
    sheets.findings.problem(
        part.at.place(field.title()),
        found=said(role),
        expected=f"{field.title()}: a role that has its column in Finishes, such as {next(iter(known), 'carcass')} {what}",
        mend=f"did you mean {guess}?" if guess else f"use one of {', '.join(known)}, or add a column {role} {what} to Finishes",
    )
