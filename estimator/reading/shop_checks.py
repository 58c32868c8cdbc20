"""The shop's sheets beside one another: boards, edgings, adhesives, stock, the merchant, work and fittings."""

from __future__ import annotations

from estimator.model.exact import Fraction
from estimator.model.form import SHEETS, Column
from estimator.model.shop_records import Shop
from estimator.model.units import at_least_words, length_words
from estimator.reading import agreement
from estimator.reading.books import Sheets
from estimator.reading.columns import ReadRow
from estimator.reading.names import fold
from estimator.reading.references import Known, refer

_PAPER_MM = {"A4": (Fraction(210), Fraction(297)), "Letter": (Fraction("215.9"), Fraction("279.4"))}
_LABEL_MM = (48, 30)
"""The least that a label's words, drawing and code find room in."""
_USUAL_BLADE_MM, _WIDEST_BLADE_MM = Fraction("3.2"), 12
"""No circular saw blade of a workshop is wider (common practice): whoever types more has taken another unit."""
_COLUMNS: dict[str, dict[str, Column]] = {sheet.name: {column.field: column for column in sheet.columns} for sheet in SHEETS}


def check_labels(sheets: Sheets, shop: Shop, *, paper: str) -> None:
    """A label has room for its words, its drawing and its code; the sheet of paper is wide and high enough for all of them."""
    across_mm, down_mm = _PAPER_MM[paper]
    room = (
        ("Label columns", across_mm - 2 * shop.label_side_mm, shop.label_columns, _LABEL_MM[0], "wide"),
        ("Label rows", down_mm - 2 * shop.label_top_mm, shop.label_rows, _LABEL_MM[1], "high"),
    )
    for header, room_mm, count, least_mm, way in room:
        if room_mm / count < least_mm:
            fit = max(room_mm // least_mm, 0)
            wide, least = length_words(room_mm, units=shop.units), at_least_words(Fraction(least_mm), units=shop.units)
            sheets.findings.problem(
                shop.at.place(header),
                found=f"{count} labels on {wide} of paper",
                expected=f"labels at least {least} {way}: at most {fit} of them",
                mend="type a smaller number, or make the margin smaller" if fit else "make the margin smaller",
            )


def check_boards(sheets: Sheets, shop: Shop, *, trim_unsound: bool) -> None:
    boards = sheets.rows("Boards")
    agreement.boards_agree(boards, sheets)
    agreement.sizes_can_be_tried(boards, sheets)
    for row in boards:
        agreement.sheet_holds_something(row, Fraction(0) if trim_unsound else shop.trim_mm, sheets)
        if row.values["trim_mm"] is None:
            row.values["trim_mm"] = shop.trim_mm
    _remark_blank_saw(sheets, shop)


def check_edgings(sheets: Sheets, known: dict[str, Known]) -> None:
    """Edgings with the adhesives that they name, and the adhesives with their drying tables."""
    edgings = sheets.rows("Edgings")
    agreement.tell_twice(edgings, agreement.name_key("edging", "width_mm"), "Width", sheets, what="the edging {edging} in this width")
    for row in edgings:
        if row.values["charge"] == "":
            row.values["charge"] = "whole rolls" if row.values["roll_length_m"] is not None else "metres"
        agreement.roll_has_a_length(row, sheets)
        if fold(str(row.values["adhesive"])) == "none":
            row.values["adhesive"] = ""
        _refer(row, "Edgings", "adhesive", "Adhesives", sheets, known)
    times = agreement.name_key("adhesive", "temperature", "humidity")
    agreement.tell_twice(
        sheets.rows("Drying"), times, "Temperature", sheets, what="the adhesive {adhesive} at this temperature and humidity"
    )
    for row in sheets.rows("Drying"):
        _refer(row, "Drying", "adhesive", "Adhesives", sheets, known)
    for row in (*sheets.rows("Adhesives"), *sheets.rows("Drying")):
        agreement.opens_after_drying(row, sheets)


def check_stock(sheets: Sheets, known: dict[str, Known]) -> None:
    """Offcuts, roll ends and what a merchant delivers name boards and edgings that stand in their sheets."""
    for row in sheets.rows("Offcuts"):
        _refer(row, "Offcuts", "board", "Boards", sheets, known)
    for row in sheets.rows("Merchant"):
        _refer(row, "Merchant", "board", "Boards", sheets, known)
    agreement.tell_twice(sheets.rows("Merchant"), agreement.name_key("board"), "Board", sheets, what="the board {board}")
    for row in sheets.rows("Roll ends"):
        _refer(row, "Roll ends", "edging", "Edgings", sheets, known)
        agreement.roll_end_has_a_width(row, sheets.rows("Edgings"), sheets)


def _refer(row: ReadRow, sheet: str, field: str, there: str, sheets: Sheets, known: dict[str, Known]) -> None:
    if row.values[field] and sheets.need(there, f"the rows that {sheet} name"):
        refer(row, _COLUMNS[sheet][field], known[there], sheets)


def _remark_blank_saw(sheets: Sheets, shop: Shop) -> None:
    """Without an expected yield the sheets come from a cutting plan, and a saw that takes nothing flatters it."""
    planned = [row for row in sheets.rows("Boards") if row.values["expected_yield_share"] is None]
    if not planned or not sheets.has("Shop"):
        return
    own = sheets.items["Shop"]
    kerf, trim = own.item("Saw kerf"), own.item("Sheet trim")
    if not (kerf and kerf.value):
        words = "no Saw kerf: cutting plans are made as if the blade took nothing; measure a cut, and type it in"
        sheets.findings.remark(shop.at.place("Saw kerf"), words)
    if shop.kerf_mm > _WIDEST_BLADE_MM:
        typed, usual = (length_words(length_mm, units=shop.units) for length_mm in (shop.kerf_mm, _USUAL_BLADE_MM))
        words = f"a Saw kerf of {typed}, where a blade takes about {usual}: in which unit was it measured?"
        sheets.findings.remark(shop.at.place("Saw kerf"), words)
    without = any(row.values["trim_mm"] == 0 for row in planned)
    if not (trim and trim.value) and without:
        words = "no Sheet trim: cutting plans use the sheets up to their raw edges; type what you cut off each side"
        sheets.findings.remark(shop.at.place("Sheet trim"), words)


def check_work_and_fittings(sheets: Sheets, of_names: Known) -> None:
    words = "Of: blank, or a kind, finish, role, board, edging, adhesive or material of edging that stands in its sheet"
    for name in ("Fittings", "Work"):
        for row in sheets.rows(name):
            agreement.per_suits_route(row, sheets)
            refer(row, _COLUMNS[name]["of"], of_names, sheets, words=words)
    steps = sheets.rows("Work")
    agreement.tell_twice(steps, agreement.name_key("step"), "Step", sheets, what="the step {step}")
    for row in steps:
        agreement.during_suits_per(row, sheets)
        agreement.low_and_high(row, sheets)
