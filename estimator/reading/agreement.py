"""Do the rows of a sheet agree with one another: nothing twice, one thickness a board, a Per that its Route knows."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from functools import partial
from typing import Any

from estimator.model.exact import Fraction
from estimator.model.form import PER_OF_ROUTE
from estimator.model.problems import Place
from estimator.model.shop_records import SIDES
from estimator.model.units import decimal_text, length_words
from estimator.reading.books import Sheets
from estimator.reading.columns import ReadRow
from estimator.reading.findings import BLANK
from estimator.reading.item_sheets import ReadItems
from estimator.reading.names import fold

MOST_SIZES = 50
_TRIM_THAT_NOBODY_CUTS_MM = 100
Key = Callable[[ReadRow], tuple[Any, ...] | None]


def tell_twice(rows: Iterable[ReadRow], key: Key, header: str, sheets: Sheets, *, what: str) -> None:
    """A row with the key of an earlier one is a problem of its cell under the header; `what` names it by its {fields}."""
    first: dict[tuple[Any, ...], ReadRow] = {}
    for row in rows:
        of_row = key(row)
        if of_row is None:
            continue
        if of_row in first:
            row.bad.add(f"second {header}")
            place, named = row.at.place(header), what.format_map(row.values)
            sheets.findings.problem(
                place,
                found=f"{named} a second time",
                expected=f"{header}: {named} once only",
                mend=f"change this row or row {first[of_row].at.number}, or take one of the two out",
            )
        else:
            first[of_row] = row


def name_key(*fields: str) -> Key:
    """The folded names and the numbers of a row under some fields; None when one of them could not be read."""

    def key(row: ReadRow) -> tuple[Any, ...] | None:
        if any(field in row.bad for field in fields):
            return None
        return tuple(fold(value) if isinstance(value := row.values[field], str) else value for field in fields)

    return key


def boards_agree(rows: list[ReadRow], sheets: Sheets) -> None:
    """Several sizes of one board share its thickness, grain, charge, and whether a yield is expected."""
    first: dict[str, ReadRow] = {}
    for row in rows:
        if "board" in row.bad:
            continue
        start = first.setdefault(fold(str(row.values["board"])), row)
        for field, header in (
            ("thickness_mm", "Thickness"),
            ("grain", "Grain"),
            ("charge", "Charge"),
            ("expected_yield_share", "Expected yield"),
        ):
            if row is start or field in row.bad or field in start.bad:
                continue
            one, other = start.values[field], row.values[field]
            if field == "expected_yield_share":
                one, other = one is not None, other is not None
            if one != other:
                _tell_other(row, start, field, header, sheets)


def sizes_can_be_tried(rows: list[ReadRow], sheets: Sheets) -> None:
    """Every size of a board is tried beside every other: of more than any merchant has, none is."""
    many: dict[str, int] = {}
    for row in rows:
        name = fold(str(row.values["board"]))
        many[name] = many.get(name, 0) + 1
        if many[name] == MOST_SIZES + 1:
            sheets.findings.problem(
                row.at.place("Board"),
                found=f"more than {MOST_SIZES} sizes of {row.values['board']}",
                expected=f"Board: at most {MOST_SIZES} sheet sizes of one board",
                mend="take out the sizes that are not bought any more",
            )


def _tell_other(row: ReadRow, start: ReadRow, field: str, header: str, sheets: Sheets) -> None:
    row.bad.add(field)
    there = start.at.place(header).cell
    found = f"another {header} than in row {start.at.number} for the same board"
    if field == "expected_yield_share":
        found = f"{'nothing' if row.values[field] is None else 'a yield'}, unlike row {start.at.number} of the same board"
    sheets.findings.problem(
        row.at.place(header),
        found=found,
        expected=f"{header}: alike in every row of {row.values['board']}",
        mend=f"make it the same as {there}, or give this board a name of its own",
    )


def sheet_holds_something(row: ReadRow, shop_trim_mm: Fraction, sheets: Sheets) -> None:
    """A sheet must be larger than what is trimmed off both its sides."""
    if row.bad & {"trim_mm", "sheet_length_mm", "sheet_width_mm"}:
        return
    own = row.values["trim_mm"]
    trim = shop_trim_mm if own is None else own
    said = partial(length_words, units=sheets.units("Boards"), finest=32, places=3)
    for field, header in (("sheet_length_mm", "Sheet length"), ("sheet_width_mm", "Sheet width")):
        size = row.values[field]
        if size > 2 * trim:
            continue
        row.bad.add(field)
        header = "Trim" if own is not None and own > _TRIM_THAT_NOBODY_CUTS_MM else header
        sheets.findings.problem(
            row.at.place(header),
            found=f"a sheet of {said(size)} and a trim of {said(trim)} off each side: nothing is left",
            expected=f"{header}: a sheet larger than twice its trim",
            mend="look at the size of the sheet and at its trim",
        )
        return


def roll_has_a_length(row: ReadRow, sheets: Sheets) -> None:
    """Whole rolls can only be counted where it is known how much is on one."""
    if row.values["charge"] != "whole rolls" or row.values["roll_length_m"] is not None:
        return
    row.bad.add("charge")
    sheets.findings.problem(
        row.at.place("Charge"),
        found="whole rolls, and the Roll length is blank",
        expected="Charge: whole rolls only where it is known how much is on one",
        mend="type what is on one roll under Roll length, or choose metres",
    )


def opens_after_drying(row: ReadRow, sheets: Sheets) -> None:
    if row.bad & {"drying_min", "open_min"} or row.values["open_min"] > row.values["drying_min"]:
        return
    row.bad.add("open_min")
    drying, open_time = decimal_text(row.values["drying_min"]), decimal_text(row.values["open_min"])
    sheets.findings.problem(
        row.at.place("Open time"),
        found=f"an open time of {open_time} min with a drying time of {drying} min",
        expected="Open time: longer than Drying, both counted from coating",
        mend="take both from the adhesive's data sheet",
    )


def per_suits_route(row: ReadRow, sheets: Sheets) -> None:
    """What a count is by depends on the route."""
    if row.bad & {"route", "per"}:
        return
    route, per = row.values["route"], row.values["per"]
    allowed = PER_OF_ROUTE[route]
    if per in allowed:
        return
    row.bad.add("per")
    others = [name or "blank" for name, known in PER_OF_ROUTE.items() if per in known]
    sheets.findings.problem(
        row.at.place("Per"),
        found=f"Per {per} with Route {route or 'blank'}",
        expected=f"Per: with Route {route or 'blank'} one of {', '.join(allowed)}",
        mend=f"change Per, or the Route to {' or '.join(others)}",
    )


def during_suits_per(row: ReadRow, sheets: Sheets) -> None:
    if row.bad & {"during", "route", "per"} or not row.values["during"]:
        return
    if row.values["route"] == "by hand" and row.values["per"] in ("edge", "metre"):
        return
    row.bad.add("during")
    sheets.findings.problem(
        row.at.place("During"),
        found=f"During {row.values['during']} with Route {row.values['route'] or 'blank'} and Per {row.values['per']}",
        expected="During: only with Route by hand and Per edge or metre",
        mend="clear it, or change Route and Per",
    )


def low_and_high(row: ReadRow, sheets: Sheets) -> None:
    low, minutes, high = (row.values[field] for field in ("low_min", "minutes", "high_min"))
    if row.bad & {"low_min", "minutes", "high_min"}:
        return
    if low is not None and low > minutes:
        sheets.findings.remark(row.at.place("Low"), "Low is above Minutes: it should be what the step takes when all goes well")
    if high is not None and high < minutes:
        sheets.findings.remark(row.at.place("High"), "High is below Minutes: it should be what the step takes when it does not go well")


def setups_agree(rows: list[ReadRow], sheets: Sheets) -> None:
    """Set-up is one amount an edging: blank on further rows repeats the first."""
    first: dict[str, ReadRow] = {}
    for row in rows:
        if row.bad & {"edging", "setup"} or row.values["setup"] is None:
            continue
        start = first.setdefault(fold(str(row.values["edging"])), row)
        if start.values["setup"] != row.values["setup"]:
            row.bad.add("setup")
            sheets.findings.problem(
                row.at.place("Set-up"),
                found=f"another Set-up than in {start.at.place('Set-up').cell} for the same edging",
                expected="Set-up: one amount an edging; blank on further rows repeats the first",
                mend="clear it, or make the two alike",
            )


def breaks_can_be_counted(contract: ReadItems, sheets: Sheets) -> None:
    values = contract.values
    if values["breaks_count"] == "whole order" and values["breaks_apply_to"] == "quantity above":
        contract.bad.add("breaks_apply_to")
        sheets.findings.problem(
            contract.at.place("Breaks apply to"),
            found="quantity above, while Breaks count is whole order",
            expected="Breaks apply to: whole quantity when Breaks count is whole order",
            mend="change one of the two, as the offer says",
        )


def extra_has_a_worth(row: ReadRow, sheets: Sheets) -> None:
    fields = ("cost_each", "minutes_each", "price_each")
    if row.bad & set(fields) or any(row.values[field] is not None for field in fields):
        return
    row.bad.add("cost_each")
    sheets.findings.problem(
        row.at.place("Cost each"),
        found="no cost, no minutes and no price",
        expected="at least one of Cost each, Minutes each, Price each",
        mend="fill in what it costs, how long it takes or what it is sold for",
    )


def options_change_something(rows: list[ReadRow], used: set[str], sheets: Sheets) -> None:
    for row in rows:
        if row.bad:
            continue
        gone, come = str(row.values["replace_finish"]), str(row.values["with_finish"])
        if gone == come:
            words = f"{come} is replaced by itself, so the option changes nothing: name another finish, or take the row out"
            sheets.findings.remark(row.at.place("With finish"), words)
        elif fold(gone) not in used:
            words = f"no cabinet and no loose part has the finish {gone}, so the option changes nothing"
            sheets.findings.remark(row.at.place("Replace finish"), f"{words}: name a finish that the job uses, or take the row out")


def roll_end_has_a_width(row: ReadRow, edgings: list[ReadRow], sheets: Sheets) -> None:
    """A roll end has a width of its edging; blank where the edging has only one."""
    if "width_mm" in row.bad:
        return
    name = fold(str(row.values["edging"]))
    rows = [edging for edging in edgings if fold(str(edging.values["edging"])) == name]
    if any("edging" in edging.bad for edging in edgings) or any("width_mm" in edging.bad for edging in rows):
        return
    widths = sorted({edging.values["width_mm"] for edging in rows})
    width = row.values["width_mm"]
    if not widths or width in widths or (width is None and len(widths) == 1):
        return
    row.bad.add("width_mm")
    said = partial(length_words, units=sheets.units("Roll ends"), finest=32, places=3)
    sheets.findings.problem(
        row.at.place("Width"),
        found=BLANK if width is None else f"a width of {said(width)}",
        expected=f"Width: one of the widths of {row.values['edging']}: {', '.join(said(one) for one in widths)}",
        mend="measure the roll end, and fill its width in",
    )


def tell_x_without_edging(row: ReadRow, sheets: Sheets) -> None:
    """An x bands with the row's Edging, so the row must have one."""
    sides = [side for side in SIDES if row.values.get(side) == "x"]
    if not sides or row.values.get("edging"):
        return
    row.bad.add("edging")
    has_column = "Edging" in row.at.letters  # without it every row lacks an edging: that is said once, of the sheet
    sheets.findings.problem(
        row.at.place("Edging") if has_column else Place(row.at.workbook, row.at.sheet),
        found="nothing, but there is an x under " + " and ".join(side.title() for side in sides),
        expected="Edging: the name with which the edges marked x are banded",
        mend="fill in the Edging, or take the x away",
    )
