"""All sheets in, everything that only two of them together can tell out; rows are completed and spelt alike on the way."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Any

from estimator.model.form import CONTRACT, MACHINE, SHEETS, Column, Sheet, expected
from estimator.model.problems import Place
from estimator.model.records import Contract, Machine, Shop, Terms
from estimator.reading import agreement
from estimator.reading.books import Sheets
from estimator.reading.cabinets import fill_finish, fill_from_kind, known_kinds, number_refs, own_columns
from estimator.reading.item_sheets import read_values, tell_misspelt
from estimator.reading.names import fold
from estimator.reading.references import (
    Known,
    banding_words,
    known_names,
    names_for_of,
    read_roles,
    refer,
    refer_loose_part,
    role_headers,
    tell_unknown,
    tell_x_without_edging,
)
from estimator.reading.terms import read_shop, read_terms


@dataclass(slots=True)
class Checked:
    terms: Terms
    shop: Shop
    contract: Contract | None
    machine: Machine | None
    own_lengths: frozenset[str]


_COLUMNS: dict[str, dict[str, Column]] = {sheet.name: {column.field: column for column in sheet.columns} for sheet in SHEETS}


def check(sheets: Sheets) -> Checked:
    """Every check of the reading, in the order of the sheets."""
    rules = _text_of_rules(sheets)
    terms, unsound_terms = read_terms(sheets)
    shop, unsound_shop = read_shop(sheets, rules=rules)
    _something_to_price(sheets)
    known = {name: known_names(sheets, name, field) for name, field in (
        ("Finishes", "finish"), ("Boards", "board"), ("Edgings", "edging"), ("Adhesives", "adhesive"),
    )}  # fmt: skip
    known["Construction"] = known_kinds(sheets)
    headers = role_headers(sheets.tables.get("Finishes"), sheets)
    for row in sheets.rows("Finishes"):
        read_roles(row, headers, sheets, known)
    finish = _terms_references(terms, sheets, known)
    own_lengths = _cabinets(sheets, known, rules=rules, finish=finish, finish_unsound="finish" in unsound_terms or (bool(terms.finish) and not finish))
    _loose_parts(sheets, known)
    _roles_of_construction(sheets, headers, known)
    _other_job_sheets(sheets, known)
    number_refs([sheets.rows(name) for name in ("Cabinets", "Loose parts", "Extras")], sheets)
    _boards_and_edgings(sheets, known, shop, trim_unsound="trim_mm" in unsound_shop)
    _work_and_fittings(sheets, names_for_of(sheets, headers))
    contract, machine = _contract(sheets, known), _machine(sheets)
    terms = _with(terms, finish=finish, banding=_banding(terms, sheets, known))
    return Checked(terms, shop, contract, machine, own_lengths)


def _with(terms: Terms, **values: Any) -> Terms:
    from dataclasses import replace

    return replace(terms, **values)


def _text_of_rules(sheets: Sheets) -> str:
    texts = [str(row.values[field]) for row in sheets.rows("Construction") for field in ("count", "length", "width")]
    texts += [str(row.values["number"]) for row in sheets.rows("Fittings")]
    return "\n".join(dict.fromkeys(texts)).casefold()


def _something_to_price(sheets: Sheets) -> None:
    if sheets.rows("Cabinets") or sheets.rows("Loose parts") or sheets.meant & {"Cabinets", "Loose parts"}:
        return
    there = next((name for name in ("Cabinets", "Loose parts") if sheets.has(name)), "Cabinets")
    place = sheets.home(there)
    told = any(problem.place.sheet == place.sheet for problem in sheets.findings.problems.values())
    if not told:
        sheets.findings.problem(
            place, found="no cabinet and no loose part", expected="at least one row in Cabinets or in Loose parts",
            mend="fill in a row: a job needs something to build",
        )


def _terms_references(terms: Terms, sheets: Sheets, known: dict[str, Known]) -> str:
    """The job's Finish, spelt as in Finishes; blank when it is unknown there."""
    if not terms.finish or not sheets.has("Finishes"):
        return terms.finish
    name = known["Finishes"].get(fold(terms.finish))
    if name is None:
        column = _COLUMNS["Job"]["finish"]
        tell_unknown(terms.at.place("Finish"), terms.finish, known["Finishes"].values(), sheets, words=expected(column, units="mm"))
    return name or ""


def _banding(terms: Terms, sheets: Sheets, known: dict[str, Known]) -> str:
    words = expected(_COLUMNS["Job"]["banding"], units="mm")
    return banding_words(terms.banding, terms.at.place("Banding"), known["Edgings"], sheets, words=words)


def _cabinets(sheets: Sheets, known: dict[str, Known], *, rules: str, finish: str, finish_unsound: bool) -> frozenset[str]:
    rows = sheets.rows("Cabinets")
    kind_rows = sheets.rows("Kinds")
    agreement.tell_twice(kind_rows, agreement.name_key("kind"), "Kind", sheets, what="this kind")
    if sheets.has("Construction"):
        for row in kind_rows:
            refer(row, _COLUMNS["Kinds"]["kind"], known["Construction"], sheets, words="Kind: a kind that stands in the sheet Construction")
    if not rows:
        return frozenset()
    has_kinds = sheets.need("Construction", "what each kind of cabinet is made of")
    has_finishes = sheets.need("Finishes", "the board and the edging of each finish choice")
    kinds = {fold(str(row.values["kind"])): row for row in reversed(kind_rows) if row.values["kind"]}
    kinds_unsound = any("kind" in row.bad for row in kind_rows) or "Kinds" in sheets.meant or _has_absent_column(sheets, "Kinds")
    for row in rows:
        if has_kinds:
            refer(row, _COLUMNS["Cabinets"]["kind"], known["Construction"], sheets, words="Kind: a kind that stands in the sheet Construction")
        fill_from_kind(row, kinds, kinds_unsound=kinds_unsound, sheets=sheets)
        if has_finishes:
            refer(row, _COLUMNS["Cabinets"]["finish"], known["Finishes"], sheets)
        fill_finish(row, finish, finish_unsound=finish_unsound, sheets=sheets)
        if not (has_kinds and has_finishes):
            row.bad.add("sheets")
    return own_columns(sheets.tables["Cabinets"], rules=rules, sheets=sheets)


def _has_absent_column(sheets: Sheets, name: str) -> bool:
    return bool(name in sheets.tables and sheets.tables[name].absent)


def _loose_parts(sheets: Sheets, known: dict[str, Known]) -> None:
    finishes = {fold(str(row.values["finish"])): row for row in reversed(sheets.rows("Finishes")) if row.values["finish"]}
    columns = _COLUMNS["Loose parts"]
    for row in sheets.rows("Loose parts"):
        if row.values["finish"] and sheets.need("Finishes", "the finishes that Loose parts name"):
            refer(row, columns["finish"], known["Finishes"], sheets)
        refer_loose_part(row, columns, sheets, known, finishes)
        tell_x_without_edging(row, "Edging", sheets)


def _other_job_sheets(sheets: Sheets, known: dict[str, Known]) -> None:
    agreement.tell_twice(sheets.rows("Finishes"), agreement.name_key("finish"), "Finish", sheets, what="this finish")
    for row in sheets.rows("Extras"):
        agreement.extra_has_a_worth(row, sheets)
    options = sheets.rows("Options")
    for row in options:
        if sheets.need("Finishes", "the finishes that Options name"):
            refer(row, _COLUMNS["Options"]["replace_finish"], known["Finishes"], sheets)
            refer(row, _COLUMNS["Options"]["with_finish"], known["Finishes"], sheets)
    agreement.tell_twice(options, agreement.name_key("option", "replace_finish"), "Replace finish", sheets, what="this finish in the same option")
    used = {fold(str(row.values["finish"])) for name in ("Cabinets", "Loose parts") for row in sheets.rows(name)}
    agreement.options_change_something(options, used, sheets)


def _boards_and_edgings(sheets: Sheets, known: dict[str, Known], shop: Shop, *, trim_unsound: bool) -> None:
    boards = sheets.rows("Boards")
    agreement.boards_agree(boards, sheets)
    for row in boards:
        agreement.sheet_holds_something(row, Fraction(0) if trim_unsound else shop.trim_mm, sheets)
        if row.values["trim_mm"] is None:
            row.values["trim_mm"] = shop.trim_mm
    _remark_blank_saw(sheets, shop)
    edgings = sheets.rows("Edgings")
    agreement.tell_twice(edgings, agreement.name_key("edging", "width_mm"), "Width", sheets, what="this edging in this width")
    for row in edgings:
        if row.values["charge"] == "":
            row.values["charge"] = "whole rolls" if row.values["roll_length_m"] is not None else "metres"
        if fold(str(row.values["adhesive"])) == "none":
            row.values["adhesive"] = ""
        if row.values["adhesive"] and sheets.need("Adhesives", "the adhesives that Edgings name"):
            refer(row, _COLUMNS["Edgings"]["adhesive"], known["Adhesives"], sheets)
    adhesives = sheets.rows("Adhesives")
    agreement.tell_twice(adhesives, agreement.name_key("adhesive"), "Adhesive", sheets, what="this adhesive")
    for row in adhesives:
        agreement.opens_after_drying(row, sheets)


def _remark_blank_saw(sheets: Sheets, shop: Shop) -> None:
    """Without an expected yield the sheets come from a cutting plan, and a saw that takes nothing flatters it."""
    planned = [row for row in sheets.rows("Boards") if row.values["expected_yield_share"] is None]
    if not planned or not sheets.has("Shop"):
        return
    own = sheets.items["Shop"]
    kerf, trim = own.item("Saw kerf"), own.item("Sheet trim")
    if not (kerf and kerf.value):
        sheets.findings.remark(shop.at.place("Saw kerf"), "no Saw kerf: cutting plans are made as if the blade took nothing")
    without = any(row.values["trim_mm"] == 0 for row in planned)
    if not (trim and trim.value) and without:
        sheets.findings.remark(shop.at.place("Sheet trim"), "no Sheet trim: cutting plans use the sheets up to their raw edges")


def _work_and_fittings(sheets: Sheets, of_names: Known) -> None:
    words = "Of: blank, or a kind, finish, role, board, edging, adhesive or material of edging that stands in its sheet"
    for name in ("Fittings", "Work"):
        for row in sheets.rows(name):
            agreement.per_suits_route(row, sheets)
            refer(row, _COLUMNS[name]["of"], of_names, sheets, words=words)
    steps = sheets.rows("Work")
    agreement.tell_twice(steps, agreement.name_key("step"), "Step", sheets, what="this step")
    for row in steps:
        agreement.during_suits_per(row, sheets)
        agreement.low_and_high(row, sheets)


def _roles_of_construction(sheets: Sheets, headers: dict[tuple[str, str], str], known: dict[str, Known]) -> None:
    """Roles are spelt as the finishes know them; whether a finish gives a role is asked for rows that surely stand in a cabinet."""
    from estimator.reading.roles import roles_are_given, spell_roles

    kinds = known["Construction"]
    for row in sheets.rows("Construction"):
        if row.values["kind"]:
            row.values["kind"] = kinds.get(fold(str(row.values["kind"])), row.values["kind"])
        spell_roles(row)
    roles_are_given(sheets, headers)


def _contract(sheets: Sheets, known: dict[str, Known]) -> Contract | None:
    prices = sheets.rows("Contract prices")
    for row in prices:
        if row.values["edging"] and sheets.need("Edgings", "the edgings that Contract prices name"):
            refer(row, _COLUMNS["Contract prices"]["edging"], known["Edgings"], sheets)
    agreement.tell_twice(prices, agreement.name_key("edging", "from_m"), "From metres", sheets, what="a price of this edging from these metres")
    agreement.setups_agree(prices, sheets)
    values = _item_values(CONTRACT, sheets)
    if values is None:
        return None
    agreement.breaks_can_be_counted(values, sheets)
    return Contract(**{name: value for name, value in values.values.items()}, at=values.at) if not values.bad else None


def _machine(sheets: Sheets) -> Machine | None:
    values = _item_values(MACHINE, sheets)
    return Machine(**values.values, at=values.at) if values and not values.bad else None


def _item_values(sheet: Sheet, sheets: Sheets) -> Any:
    """The values of Contract or Machine; None when the sheet has no value at all."""
    own = sheets.items.get(sheet.name)
    if own is None:
        return None
    meant = tell_misspelt(own, [column.header for column in sheet.columns], sheets.findings)
    known = {fold(column.header) for column in sheet.columns}
    if not any(item.value for key, item in own.items.items() if key in known):
        return None
    return read_values(sheet.columns, (own,), home=Place(own.book, own.name), findings=sheets.findings, meant=meant)


