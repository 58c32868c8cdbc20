"""Rows of Cabinets in, whole cabinets out: what the kind and the job give is filled in, and further columns become names."""

from __future__ import annotations

from collections.abc import Container
from typing import Any

from estimator.model.exact import Fraction
from estimator.model.form import CABINETS, expected
from estimator.reading.books import Sheets
from estimator.reading.cell_lengths import length_of
from estimator.reading.cell_numbers import number_of
from estimator.reading.cell_words import found
from estimator.reading.columns import ReadRow, Table, cell_place
from estimator.reading.findings import BLANK
from estimator.reading.names import fold, fold_header, rule_name, unit_in_brackets
from estimator.reading.raw_cells import Cell
from estimator.reading.terms import names_in_rules
from estimator.reading.typed_numbers import Length, Wrong, bare_mm, length

_LENGTH_ENDINGS = (
    "height", "width", "depth", "length", "thickness", "gap", "inset", "setback", "joint", "rail", "overhang",
)  # fmt: skip
_COLUMNS = {column.field: column for column in CABINETS.columns}
_COUNTS = ("shelves", "doors", "drawers")


def fill_from_kind(row: ReadRow, kinds: dict[str, ReadRow], *, kinds_unsound: bool, sheets: Sheets) -> None:
    """Blank sizes and counts take the kind's own; a size that nobody gives is a problem, a count is then 0."""
    kind = kinds.get(fold(str(row.values["kind"])))
    given: dict[str, Any] = kind.values if kind else {}
    for field in ("height_mm", "depth_mm", *_COUNTS):
        if field in row.bad or row.values[field] is not None:
            continue
        if kind and (field in kind.bad or field in sheets.tables["Kinds"].absent):
            row.bad.add(field)
            continue
        row.values[field] = given.get(field)
        if row.values[field] is None and field in _COUNTS:
            row.values[field] = 0
        elif row.values[field] is None:
            row.bad.add(field)
            if not (kind is None and kinds_unsound) and "kind" not in row.bad:
                column = _COLUMNS[field]
                table = sheets.tables["Cabinets"]
                sheets.findings.problem(
                    row.at.place(column.header),
                    found=f"{BLANK}, and the kind {row.values['kind']} gives none",
                    expected=expected(column, units=table.units),
                    mend=f"fill it in, or give the kind its {column.header} in the sheet Kinds",
                )


def fill_finish(row: ReadRow, finish: str, *, finish_unsound: bool, sheets: Sheets) -> None:
    """A blank Finish takes the job's."""
    if row.values["finish"] or "finish" in row.bad:
        return
    row.values["finish"] = finish
    if not finish:
        row.bad.add("finish")
        if not finish_unsound:
            sheets.findings.problem(
                row.at.place("Finish"),
                found=f"{BLANK}, and Job > Finish is blank too",
                expected=expected(_COLUMNS["finish"], units="mm"),
                mend="fill it in, or fill in Finish in the sheet Job",
            )


# --- refs -------------------------------------------------------------------------------------------------------------


def number_refs(rows_by_sheet: list[list[ReadRow]], sheets: Sheets) -> None:
    """A blank Ref is the next number in its room that nobody took; a Ref that stands twice in a sheet is a problem."""
    taken = {fold(str(row.values["ref"])) for rows in rows_by_sheet for row in rows if row.values["ref"] and "ref" not in row.bad}
    last: dict[str, int] = {}
    for rows in rows_by_sheet:
        first: dict[str, ReadRow] = {}
        for row in rows:
            if "ref" in row.bad:
                continue
            if row.values["ref"]:
                _tell_second(row, first, sheets)
            else:
                row.values["ref"] = _next_ref(str(row.values["room"]), taken, last)


def _tell_second(row: ReadRow, first: dict[str, ReadRow], sheets: Sheets) -> None:
    key = fold(str(row.values["ref"]))
    if key not in first:
        first[key] = row
        return
    row.bad.add("ref")
    sheets.findings.problem(
        row.at.place("Ref"),
        found=f"the Ref {row.values['ref']} a second time",
        expected="a Ref that no other row of this sheet has",
        mend=f"change this one or {first[key].at.place('Ref').cell}, or leave it blank for the next number",
    )


def _next_ref(room: str, taken: set[str], last: dict[str, int]) -> str:
    number = last.get(fold(room), 0)
    while True:
        number += 1
        ref = f"{room} {number}".strip()
        if fold(ref) not in taken:
            break
    last[fold(room)] = number
    taken.add(fold(ref))
    return ref


# --- further columns --------------------------------------------------------------------------------------------------


def own_columns(table: Table | None, *, rules: str, of_the_shop: Container[str], sheets: Sheets) -> frozenset[str]:
    """Read the user's own number columns into every row (`own_numbers`); gives the names among them that are lengths."""
    lengths: set[str] = set()
    if table is None:
        return frozenset()
    seen: set[str] = set()
    for row in table.rows:
        row.values["own_numbers"] = {}
    for number, header in sorted(table.further.items()):
        cells = [(row, row.further[header]) for row in table.rows if header in row.further]
        name = rule_name(header)
        asked = names_in_rules(name, rules)
        has_numbers = any(_holds_number(cell) for _, cell in cells)
        if not name or not (has_numbers or (asked and cells)):
            continue
        if name in seen:
            sheets.findings.problem(
                cell_place(table, number),
                found=f"a second column named {header}",
                expected="one column of each name",
                mend="give one of the two another name",
            )
            continue
        seen.add(name)
        is_length = _is_length_column(header, [cell for _, cell in cells])
        if is_length:
            lengths.add(name)
        blank = None if name in of_the_shop else Fraction(0)
        _read_own_column(table, header, name, is_length=is_length, asked=asked, blank=blank, sheets=sheets)
    return frozenset(lengths)


def _holds_number(cell: Cell) -> bool:
    if cell.holds == "number":
        return not isinstance(number_of(cell), Wrong)
    return cell.holds == "text" and cell.text[:1].isdigit() and not isinstance(length(cell.text, bare_mm=Fraction(1)), Wrong)


def _is_length_column(header: str, cells: list[Cell]) -> bool:
    if unit_in_brackets(header) in ("mm", "cm", "m", "inch", "inches", "in", "ft", "feet", '"'):
        return True
    if fold_header(header).endswith(_LENGTH_ENDINGS):
        return True
    typed = (length(cell.text, bare_mm=Fraction(1)) for cell in cells if cell.holds == "text")
    return any(isinstance(one, Length) and one.with_unit for one in typed)


def _read_own_column(
    table: Table, header: str, name: str, *, is_length: bool, asked: bool, blank: Fraction | None, sheets: Sheets
) -> None:
    """Blank is what the Shop says under that name (None here), as if the column were not there; where the Shop has no such row, 0."""
    bare = bare_mm(table.units) if is_length else Fraction(1)
    for row in table.rows:
        cell = row.further.get(header)
        if cell is None:
            if blank is not None:
                row.values["own_numbers"][name] = blank
            continue
        value = length_of(cell, bare=bare) if is_length or cell.holds == "text" else number_of(cell)
        if not isinstance(value, Wrong):
            row.values["own_numbers"][name] = value
        elif asked:
            row.bad.add(name)
            unit = f" in {'inches' if table.units == 'inch' else 'mm'}" if is_length else ""
            sheets.findings.problem(
                row.at.place(header),
                found=found(cell),
                expected=f"{header}{unit}: a number, for the rules of Construction",
                mend=value.mend,
            )
        else:
            row.values["own_numbers"][name] = Fraction(0)
