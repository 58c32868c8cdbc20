"""Every name that refers to a row of another sheet: found there and spelt as there, or told with a guess."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import field

from estimator.model.dataclass import dataclass
from estimator.model.form import Column, expected
from estimator.model.problems import Place
from estimator.reading.books import Sheets
from estimator.reading.columns import ReadRow
from estimator.reading.names import fold, meant
from estimator.reading.typed_numbers import said


@dataclass(slots=True)
class Known:
    """The names of a sheet by their folded form, spelt as there."""

    names: dict[str, str] = field(default_factory=dict)
    complete: bool = True
    """False when a name could not be read: a reference that is not found may mean that row, and is no second problem."""

    def get(self, name: str) -> str | None:
        return self.names.get(fold(name))

    def add(self, name: str) -> None:
        self.names.setdefault(fold(name), name)


def known_names(sheets: Sheets, sheet: str, field: str) -> Known:
    """The names that stand in a sheet, those of unsound rows too."""
    known = Known()
    table = sheets.tables.get(sheet)
    if table is None:
        return known
    column = next(column for column in table.sheet.columns if column.field == field)
    known.complete = column.field not in table.absent
    for row in table.rows:
        name = row.values[field]
        if field in row.bad or f"second {column.header}" in row.bad:
            known.complete = False
        elif isinstance(name, str) and name:
            known.add(name)
    return known


def refer(row: ReadRow, column: Column, known: Known, sheets: Sheets, *, words: str = "", also: Iterable[str] = ()) -> None:
    """Spell a reference as in its own sheet; an unknown one is a problem of its cell. `words` replaces the form's own."""
    name = row.values.get(column.field)
    if not isinstance(name, str) or not name or column.field in row.bad:
        return
    there = known.get(name)
    if there is not None:
        row.values[column.field] = there
        return
    row.bad.add(column.field)
    tell_unknown(row.at.place(column.header), name, known, sheets, words=words or expected(column, units="mm"), also=also)


def tell_unknown(place: Place, name: str, known: Known, sheets: Sheets, *, words: str, also: Iterable[str] = ()) -> None:
    """A problem for a name that stands nowhere; nothing when it may stand in a row that could not be read."""
    if not known.complete:
        return
    names = [*known.names.values(), *also]
    guess = meant(name, names)
    few = ", ".join(names[:6]) + (", ..." if len(names) > 6 else "")
    mend = f"did you mean {guess}?" if guess else f"use one of {few}" if names else "add the row that it names"
    sheets.findings.problem(place, found=said(name), expected=words, mend=mend)


def names_for_of(sheets: Sheets, roles: Iterable[str], *, roles_complete: bool) -> Known:
    """Whatever a count may be limited to: kinds, finishes, roles, boards, edgings, adhesives, materials of edging."""
    known = Known(complete=roles_complete)
    for sheet, field_ in (
        ("Construction", "kind"), ("Kinds", "kind"), ("Finishes", "finish"), ("Boards", "board"), ("Edgings", "edging"),
        ("Adhesives", "adhesive"), ("Edgings", "material"),
    ):  # fmt: skip
        there = known_names(sheets, sheet, field_)
        known.complete &= there.complete or field_ == "material"
        for name in there.names.values():
            known.add(name)
    for role in (*roles, *_roles_in_rules(sheets)):
        known.add(fold(role))
    return known


def _roles_in_rules(sheets: Sheets) -> list[str]:
    return [name for field_ in ("board", "edging") for name in known_names(sheets, "Construction", field_).names]


def banding_words(text: str, place: Place, known: Known, sheets: Sheets, *, words: str) -> str:
    """Job > Banding: one of three words, or edgings with commas between them, spelt as in Edgings."""
    choices = {fold(choice): choice for choice in ("best", "by hand", "send out")}
    whole = choices.get(fold(text)) or known.get(text)
    if whole:
        return whole
    chosen: list[str] = []
    for piece in text.replace(";", ",").split(","):
        name = known.get(piece)
        if fold(piece) and name is None:
            tell_unknown(place, piece.strip(), known, sheets, words=words, also=choices.values())
            return "best"
        if name and name not in chosen:
            chosen.append(name)
    return ", ".join(chosen) or "best"
