"""The roles of Construction beside the finishes of the job: does each finish give what its cabinets need."""

from __future__ import annotations

from estimator.model.records import SIDES
from estimator.reading.books import Sheets
from estimator.reading.names import close_to, fold
from estimator.reading.references import Known, tell_x_without_edging
from estimator.reading.tables import ReadRow
from estimator.reading.typed_numbers import said

_COUNTED = ("shelves", "doors", "drawers")


def spell_roles(row: ReadRow, kinds: Known) -> None:
    """Roles in small letters with single blanks, as the finishes hold them; a kind as its first row spells it."""
    kind = row.values["kind"]
    if kind:
        row.values["kind"] = kinds.get(fold(str(kind)), kind)
    for field in ("board", "edging", *SIDES):
        if isinstance(row.values[field], str):
            row.values[field] = fold(row.values[field])


def roles_are_given(sheets: Sheets, headers: dict[tuple[str, str], str]) -> None:
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
        if "kind" in cabinet.bad:
            continue
        for part in parts.get(fold(str(cabinet.values["kind"])), ()):
            key = (part.at.number, fold(str(cabinet.values["finish"])))
            if key in asked or not _surely_stands(part, cabinet):
                continue
            asked.add(key)
            tell_x_without_edging(part, "Edging", sheets)
            _ask_finish(part, finish, headers, sheets)


def _surely_stands(part: ReadRow, cabinet: ReadRow) -> bool:
    count = fold(str(part.values["count"]))
    if count in _COUNTED:
        return count not in cabinet.bad and bool(cabinet.values[count])
    return count.isascii() and count.isdigit() and int(count) > 0


def _ask_finish(part: ReadRow, finish: ReadRow | None, headers: dict[tuple[str, str], str], sheets: Sheets) -> None:
    banded = [side for side in SIDES if part.values[side]]
    wanted = [("board", "board", str(part.values["board"]))]
    if any(part.values[side] == "x" for side in banded):
        wanted.append(("edging", "edging", str(part.values["edging"])))
    wanted += [(side, "edging", str(part.values[side])) for side in banded if part.values[side] != "x"]
    for field, what, role in wanted:
        if not role or field in part.bad:
            continue
        known = [name for name, kind in headers if kind == what]
        if role not in known:
            _tell_no_role(part, field, what, role, known, sheets)
        elif finish and role not in finish.values[f"{what}s"] and f"{role} {what}" not in finish.bad:
            finish.bad.add(f"{role} {what}")
            sheets.findings.problem(
                finish.at.place(f"{role} {what}"),
                found="nothing: the cell is blank",
                expected=f"{role} {what}: a name that stands in the sheet {what.title()}s",
                mend=f"fill it in: the {part.values['part']} of {part.values['kind']} needs it (row {part.at.number})",
            )


def _tell_no_role(part: ReadRow, field: str, what: str, role: str, known: list[str], sheets: Sheets) -> None:
    part.bad.add(field)
    guess = close_to(role, known)
    sheets.findings.problem(
        part.at.place(field.title()),
        found=said(role),
        expected=f"{field.title()}: a role, for which Finishes has a column {role} {what}",
        mend=f"did you mean {guess}?" if guess else f"use one of {', '.join(known)}, or add a column {role} {what} to Finishes",
    )
