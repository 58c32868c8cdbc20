"""The job's own sheets beside the others: every name found, every cabinet whole, every option a change."""

from __future__ import annotations

from collections.abc import Iterable

from estimator.model.form import SHEETS, Column, expected
from estimator.model.records import Terms
from estimator.reading import agreement
from estimator.reading.books import Sheets
from estimator.reading.cabinets import fill_finish, fill_from_kind
from estimator.reading.columns import ReadRow
from estimator.reading.names import fold
from estimator.reading.references import Known, banding_words, refer, tell_unknown

_COLUMNS: dict[str, dict[str, Column]] = {sheet.name: {column.field: column for column in sheet.columns} for sheet in SHEETS}
_A_KIND = "Kind: a kind that stands in the sheet Construction"


def something_to_price(sheets: Sheets) -> None:
    if sheets.rows("Cabinets") or sheets.rows("Loose parts") or sheets.meant & {"Cabinets", "Loose parts"}:
        return
    there = next((name for name in ("Cabinets", "Loose parts") if sheets.has(name)), "Cabinets")
    place = sheets.home(there)
    told = any(problem.place.sheet == place.sheet for problem in sheets.findings.problems.values())
    if not told:
        sheets.findings.problem(
            place,
            found="no cabinet and no loose part",
            expected="at least one row in Cabinets or in Loose parts",
            mend="fill in a row: a job needs something to build",
        )


def tell_names_twice(sheets: Sheets) -> None:
    """Names that stand for one row only."""
    for sheet, field in (("Finishes", "finish"), ("Kinds", "kind"), ("Adhesives", "adhesive")):
        key = agreement.name_key(field)
        agreement.tell_twice(sheets.rows(sheet), key, field.title(), sheets, what=f"the {field} {{{field}}}")


def job_finish(terms: Terms, sheets: Sheets, known: dict[str, Known]) -> str:
    """The job's Finish, spelt as in Finishes; blank when it is unknown there."""
    if not terms.finish or not sheets.has("Finishes"):
        return terms.finish
    name = known["Finishes"].get(terms.finish)
    if name is None:
        words = expected(_COLUMNS["Job"]["finish"], units="mm")
        tell_unknown(terms.at.place("Finish"), terms.finish, known["Finishes"], sheets, words=words)
    return name or ""


def banding(terms: Terms, sheets: Sheets, known: dict[str, Known]) -> str:
    words = expected(_COLUMNS["Job"]["banding"], units="mm")
    return banding_words(terms.banding, terms.at.place("Banding"), known["Edgings"], sheets, words=words)


def check_cabinets(sheets: Sheets, known: dict[str, Known], *, finish: str, finish_unsound: bool) -> None:
    rows = sheets.rows("Cabinets")
    kind_rows = sheets.rows("Kinds")
    if sheets.has("Construction"):
        for row in kind_rows:
            refer(row, _COLUMNS["Kinds"]["kind"], known["Construction"], sheets, words=_A_KIND)
    if not rows:
        return
    has_kinds = sheets.need("Construction", "what each kind of cabinet is made of")
    has_finishes = sheets.need("Finishes", "the board and the edging of each finish choice")
    kinds = {fold(str(row.values["kind"])): row for row in reversed(kind_rows)}
    kinds_unsound = any("kind" in row.bad for row in kind_rows) or "Kinds" in sheets.meant or _has_absent_column(sheets, "Kinds")
    for row in rows:
        if has_kinds:
            refer(row, _COLUMNS["Cabinets"]["kind"], known["Construction"], sheets, words=_A_KIND)
        fill_from_kind(row, kinds, kinds_unsound=kinds_unsound, sheets=sheets)
        if has_finishes:
            refer(row, _COLUMNS["Cabinets"]["finish"], known["Finishes"], sheets)
        fill_finish(row, finish, finish_unsound=finish_unsound, sheets=sheets)
        if not (has_kinds and has_finishes):
            row.bad.add("sheets")


def _has_absent_column(sheets: Sheets, name: str) -> bool:
    return bool(name in sheets.tables and sheets.tables[name].absent)


def spell_alike(rows: Iterable[ReadRow], field: str) -> None:
    """A name that no sheet lists is spelt everywhere as where it stands first: Kitchen and kitchen are one room."""
    first: dict[str, str] = {}
    for row in rows:
        if field not in row.bad and row.values[field]:
            row.values[field] = first.setdefault(fold(row.values[field]), row.values[field])


def check_extras_and_options(sheets: Sheets, known: dict[str, Known]) -> None:
    for row in sheets.rows("Extras"):
        agreement.extra_has_a_worth(row, sheets)
    options = sheets.rows("Options")
    for row in options:
        if sheets.need("Finishes", "the finishes that Options name"):
            refer(row, _COLUMNS["Options"]["replace_finish"], known["Finishes"], sheets)
            refer(row, _COLUMNS["Options"]["with_finish"], known["Finishes"], sheets)
    agreement.tell_twice(
        options,
        agreement.name_key("option", "replace_finish"),
        "Replace finish",
        sheets,
        what="the finish {replace_finish} in the option {option}",
    )
    spell_alike(options, "option")
    used = {fold(str(row.values["finish"])) for name in ("Cabinets", "Loose parts") for row in sheets.rows(name)}
    agreement.options_change_something(options, used, sheets)
