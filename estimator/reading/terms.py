"""The Job and Shop sheets in, the terms of the job and what the shop is out."""

from __future__ import annotations

import re
from datetime import date
from typing import Any

from estimator.model.dataclass import dataclass
from estimator.model.exact import Fraction
from estimator.model.form import JOB, SHOP, Column, Sheet
from estimator.model.problems import Place
from estimator.model.records import Terms
from estimator.model.shop_records import Shop
from estimator.reading.books import Sheets
from estimator.reading.cell_lengths import length_of
from estimator.reading.cell_words import found
from estimator.reading.cells import read_cell
from estimator.reading.item_sheets import Item, ItemSheet, ReadItems, item_key, read_values, tell_misspelt
from estimator.reading.names import fold, rule_name
from estimator.reading.typed_numbers import Wrong, bare_mm

BOX_LENGTHS = (
    "joint", "gap side", "gap mid", "gap top", "gap bottom", "groove", "back inset", "rail", "shelf play", "shelf setback",
    "drawer front", "slide play",
)  # fmt: skip
_SHARES = ("Margin", "Markup")
_STAND_INS: dict[str, Any] = {
    "quote_date": date(2000, 1, 1), "currency": "EUR", "tax_rate_share": Fraction(0),
    "direct_rate": Fraction(0), "overhead_rate": Fraction(0),
}  # fmt: skip


def read_terms(sheets: Sheets) -> tuple[Terms, set[str]]:
    """The terms, with a stand-in for what could not be read, and the fields for which one stands in."""
    home = sheets.home("Job")
    own, shop = sheets.items.get("Job"), sheets.items.get("Shop")
    sources = tuple(source for source in (own, shop) if source)
    sheets.need("Job", "who the job is for and on what terms")
    names = [column.header for column in JOB.columns]
    meant = tell_misspelt(own, names, sheets.findings) if own else set(names)
    read = read_values(JOB.columns, sources, home=home, findings=sheets.findings, meant=meant)
    if own:
        _margin_or_markup(read, own, shop, home, sheets, meant)
        _remark_shop_items(own, sheets)
    return Terms(**_with_stand_ins(JOB, read), at=read.at), read.bad


def _with_stand_ins(sheet: Sheet, read: ReadItems) -> dict[str, Any]:
    """The values, with what blank means for those that could not be read, so that the engine can look at the rest."""
    values = dict(read.values)
    for column in sheet.columns:
        if column.field in read.bad:
            blank = read_cell(None, column, units="mm")
            values[column.field] = _STAND_INS.get(column.field, blank)
    return values


def _margin_or_markup(read: ReadItems, own: ItemSheet, shop: ItemSheet | None, home: Place, sheets: Sheets, meant: set[str]) -> None:
    """Exactly one of the two; what the Job sheet says of either sets aside what the Shop sheet says of both."""
    in_job = [name for name in _SHARES if (item := own.item(name)) and item.value]
    in_shop = [name for name in _SHARES if shop and (item := shop.item(name)) and item.value]
    given = in_job or in_shop
    for name in _SHARES:
        if name not in given:
            read.values[f"{name.lower()}_share"] = None
    if len(given) == 1 or (not given and (meant & set(_SHARES) or not own.complete)):
        return
    item = own.item("Margin")
    place = item.place if item else Place(home.workbook, home.sheet, "Margin")
    sheets.findings.problem(
        place,
        found="a Margin and a Markup as well" if given else "neither a Margin nor a Markup",
        expected="exactly one of Margin (a share of the price) and Markup (a share of the cost)",
        mend="clear one of the two" if given else "fill in one of the two: a margin of 20 % is a markup of 25 %",
    )
    read.bad.add("margin_share")


def _remark_shop_items(own: ItemSheet, sheets: Sheets) -> None:
    for column in SHOP.columns:
        item = own.item(column.header)
        if item and item.value:
            sheets.findings.remark(item.name_place, f"{column.header} counts in the sheet Shop only, and is not read here: type it there")


# --- the shop ---------------------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class _BuildUp:
    rate: str
    rate_field: str
    parts: tuple[str, ...]


_BUILD_UPS = (
    _BuildUp("Direct rate", "direct_rate", ("Wage", "Paid hours", "Productive hours")),
    _BuildUp("Overhead rate", "overhead_rate", ("Overhead a year", "Productive hours", "Workers")),
)


def read_shop(sheets: Sheets, *, rules: str) -> tuple[Shop, set[str]]:
    """The shop, with a stand-in for what could not be read; `rules` is the text of all rules, in which lengths are named."""
    home = sheets.home("Shop")
    own = sheets.items.get("Shop")
    is_there = sheets.need("Shop", "the shop's hour, its saw and the lengths of its box")
    known = [column.header for column in (*SHOP.columns, *JOB.columns)] + list(BOX_LENGTHS)
    texts = {column.header for column in (*SHOP.columns, *JOB.columns) if column.what == "text"}

    def is_own_length(item: Item, guess: str) -> bool:
        is_number = item.value is not None and item.value.holds == "number"
        return (is_number and guess in texts) or names_in_rules(rule_name(item.typed), rules)

    meant = tell_misspelt(own, known, sheets.findings, spared=is_own_length) if own else set()
    read = read_values(SHOP.columns, (own,) if own else (), home=home, findings=sheets.findings, meant=meant)
    if is_there and own and own.complete:
        _rates(read, home, meant, sheets)
    lengths_mm, cells = _box_lengths(own, sheets, rules=rules) if own else ({}, {})
    for name in meant & set(BOX_LENGTHS):
        lengths_mm.setdefault(rule_name(name), Fraction(0))
    _remark_unit_column(own, sheets)
    read.cells.update(cells)
    units = own.units if own else "mm"
    return Shop(**_with_stand_ins(SHOP, read), lengths_mm=lengths_mm, units=units, at=read.at), read.bad


def _rates(read: ReadItems, home: Place, meant: set[str], sheets: Sheets) -> None:
    """Either rate is typed, or built up from its parts; both given is worth a remark, a hole in the build-up is a problem."""
    columns = {column.header: column for column in SHOP.columns}
    for build_up in _BUILD_UPS:
        given = [name for name in build_up.parts if columns[name].field in read.filled]
        telling = [name for name in given if name != "Productive hours"]
        if build_up.rate_field in read.filled:
            if telling:
                unused = f"{' and '.join(telling)} {'is' if len(telling) == 1 else 'are'} not used for it"
                sheets.findings.remark(read.at.place(build_up.rate), f"{build_up.rate} is typed, so {unused}")
            continue
        if len(given) == len(build_up.parts) or build_up.rate in meant:
            continue
        read.bad.add(build_up.rate_field)
        if any(columns[name].field in read.bad for name in build_up.parts) or meant & set(build_up.parts):
            continue
        missing = next(name for name in build_up.parts if name not in given) if telling else build_up.rate
        sheets.findings.problem(
            read.cells.get(missing, Place(home.workbook, home.sheet, missing)),
            found=f"no {missing}",
            expected=f"{build_up.rate}, or all of {', '.join(build_up.parts)}",
            mend=f"fill in {missing}" if telling else f"fill in {build_up.rate}: money an hour; a typed 0 is an answer",
        )


def _box_lengths(own: ItemSheet, sheets: Sheets, *, rules: str) -> tuple[dict[str, Fraction], dict[str, Place]]:
    """Every further row with a number is a length for the rules, by the name that they use."""
    known = {item_key(column.header) for column in (*SHOP.columns, *JOB.columns)}
    lengths_mm: dict[str, Fraction] = {}
    cells: dict[str, Place] = {}
    for key, item in own.items.items():
        if key in known or item.value is None:
            continue
        name = rule_name(item.typed)
        value = length_of(item.value, bare=bare_mm(own.units), starts_1904=own.starts_1904)
        if not isinstance(value, Wrong):
            lengths_mm[name], cells[name] = value, item.place
        elif _is_meant_as_length(item, name, rules):
            lengths_mm[name], cells[name] = Fraction(0), item.place
            sheets.findings.wrong(
                item.place,
                Wrong(found(item.value), value.mend),
                expected=f"{item.typed}: a length in {'inches' if own.units == 'inch' else 'mm'}, for the rules",
            )
    return lengths_mm, cells


def _is_meant_as_length(item: Item, name: str, rules: str) -> bool:
    return item_key(item.typed) in BOX_LENGTHS or names_in_rules(name, rules)


def names_in_rules(name: str, rules: str) -> bool:
    """Whether a name stands in the text of the rules, with blanks or underscores.

    >>> names_in_rules("gap_side", "(width - 2 * gap side) / doors"), names_in_rules("gap", "gap side")
    (True, False)
    """
    spelt = r"[\s_]+".join(re.escape(word) for word in name.split("_") if word)
    return bool(spelt) and re.search(rf"(?<![a-z0-9_])(?<![a-z0-9_] ){spelt}(?![a-z0-9_])(?! [a-z_])", rules) is not None


def _remark_unit_column(own: ItemSheet | None, sheets: Sheets) -> None:
    """A Unit column is for the reader's eye; where it names another length unit than the book, that is worth a remark."""
    if own is None:
        return
    lengths: dict[str, Column] = {item_key(column.header): column for column in SHOP.columns if column.what == "length"}
    for key, item in own.items.items():
        said = {"mm": "mm", "inch": "inch", "inches": "inch", "in": "inch"}.get(fold(item.unit))
        if said and said != own.units and (key in lengths or key in BOX_LENGTHS) and item.value and item.value.holds == "number":
            sheets.findings.remark(
                item.place,
                f"Unit says {said}, but a bare number in this workbook is in {own.units}: it is read as {own.units}. "
                "Type the unit behind the number, as in 3 mm, where another is meant",
            )
