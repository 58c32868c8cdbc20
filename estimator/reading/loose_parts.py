"""Loose parts beside Boards, Edgings and Finishes: with a Finish they may name its roles."""

from __future__ import annotations

from estimator.model.form import LOOSE_PARTS
from estimator.model.shop_records import SIDES
from estimator.reading.agreement import tell_x_without_edging
from estimator.reading.books import Sheets
from estimator.reading.columns import ReadRow
from estimator.reading.names import fold
from estimator.reading.references import Known, refer
from estimator.reading.roles import Roles, need_of_finish

_COLUMNS = {column.field: column for column in LOOSE_PARTS.columns}
_FIELDS = (("board", "board"), ("edging", "edging"), *((side, "edging") for side in SIDES))


def check_loose_parts(sheets: Sheets, known: dict[str, Known], roles: Roles) -> None:
    """Every name in Loose parts, and an Edging for every x."""
    finishes = {fold(str(row.values["finish"])): row for row in reversed(sheets.rows("Finishes")) if row.values["finish"]}
    for row in sheets.rows("Loose parts"):
        named = str(row.values["finish"] if "finish" not in row.bad else "")
        if named and sheets.need("Finishes", "the finishes that Loose parts name"):
            refer(row, _COLUMNS["finish"], known["Finishes"], sheets)
        finish = finishes.get(fold(named))
        if finish or not named:
            _refer_one(row, sheets, known, finish, roles)
            tell_x_without_edging(row, sheets)


def _refer_one(row: ReadRow, sheets: Sheets, known: dict[str, Known], finish: ReadRow | None, roles: Roles) -> None:
    """Spell the board and the edgings of a loose part as in their sheets, or as roles of its finish."""
    for field, what in _FIELDS:
        name = row.values[field]
        if not isinstance(name, str) or not name or field in row.bad or (field in SIDES and name == "x"):
            continue
        sheet = "Boards" if what == "board" else "Edgings"
        if finish and (fold(name), what) in roles.headers:
            row.values[field] = fold(name)
            if not need_of_finish(finish, fold(name), what, f"the loose part {row.values['part']}", sheets):
                row.bad.add(field)
        elif sheets.need(sheet, f"the {what}s that Loose parts name"):
            own = [role for role, kind in roles.headers if kind == what] if finish else []
            refer(row, _COLUMNS[field], known[sheet], sheets, words=_words(field, sheet, finish), also=own)
        else:
            row.bad.add(field)


def _words(field: str, sheet: str, finish: ReadRow | None) -> str:
    x = "x for the row's Edging, or " if field in SIDES else ""
    role = f", or a role of the finish {finish.values['finish']}" if finish else ""
    return f"{_COLUMNS[field].header}: {x}a name that stands in the sheet {sheet}{role}"
