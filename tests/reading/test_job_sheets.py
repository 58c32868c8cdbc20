"""The job's own sheets beside the others: something to price, extras and options, offers and machines, and what is set aside when a board is unsound."""

from __future__ import annotations

from typing import Any

import pytest

from estimator.model.refusal import Refusal
from estimator.reading.raw_cells import column_letter
from tests.reading.base_books import ONE_BOOK
from tests.reading.held import problems_of, read

CABINETS = "Ref | Kind | Qty | Width"
LOOSE = "Ref | Part | Qty | Length | Width | Board"
NOTHING = "no cabinet and no loose part | at least one row in Cabinets or in Loose parts | fill in a row: a job needs something to build"


@pytest.mark.parametrize(
    ("tables", "told"),
    [
        ({}, [f"Cabinets: {NOTHING}"]), ({"Cabinets": CABINETS}, [f"Cabinets: {NOTHING}"]), ({"Loose parts": LOOSE}, [f"Loose parts: {NOTHING}"]), ({"Cabinets": CABINETS, "Loose parts": LOOSE}, [f"Cabinets: {NOTHING}"]),
        ({"Cabinets": f"{CABINETS}\nA | base | 1 | 600"}, []), ({"Loose parts": f"{LOOSE}\nA | shelf | 1 | 600 | 300 | white"}, []), ({"Cabinet": CABINETS}, []), ({"Lose parts": LOOSE}, []),
        ({"Cabinets": f"{CABINETS} | Kind"}, []), ({"Cabinets": "Room | Kindd\n"}, []),
    ],
)  # fmt: skip
def test_a_job_needs_something_to_build(tables: dict[str, str], told: list[str]) -> None:
    answer = read(tables)
    assert isinstance(answer, Refusal)
    assert [f"{one.place.sheet}: {one.found} | {one.expected} | {one.mend}" for one in answer.problems if "no cabinet" in one.found] == told


@pytest.mark.parametrize(("sheet", "cell", "again", "first"), [("Finishes", "A4", "WHITE", "finish"), ("Kinds", "A4", "Base", "kind"), ("Adhesives", "A3", "CONTACT", "adhesive")])
def test_a_name_that_stands_twice(sheet: str, cell: str, again: str, first: str) -> None:
    said = [one for one in problems_of({f"{sheet} {cell}": again}, "Boards", "Edgings") if "second time" in one]
    assert said == [f"{sheet} {cell}: the {first} {again} a second time | {first.title()}: the {first} {again} once only | change this row or row 2, or take one of the two out"]


def test_options_are_told_by_both_their_finishes_and_once() -> None:
    said = problems_of({"Options A3": "ALL  oak", "Options B3": "White", "Options C3": "oak", "Options A4": "all oak", "Options B4": "oak", "Options C4": "white", "Options A5": "half oak", "Options B5": "white", "Options C5": "oak"},
                       "Finishes", "Boards", "Edgings")  # fmt: skip
    assert said == ["Options B3: the finish white in the option ALL oak a second time | Replace finish: the finish white in the option ALL oak once only | change this row or row 2, or take one of the two out"]


# --- offers and machines --------------------------------------------------------------------------------------------------------------------

EMPTY = "Item | Value\nContractor |\nMinimum charge |"
OURS = "or a name unlike any of ours"


def readable(**tables: str) -> Any:
    answer = read({"Job": "Item | Value", **{name.replace("_", " "): table for name, table in tables.items()}})
    assert isinstance(answer, Refusal)
    return answer.readable


def offers_told(sheet: str, table: str) -> list[str]:
    answer = read({sheet: table})
    return [f"{one.place.cell}: {one.found} | {one.expected} | {one.mend}" for one in answer.problems if one.place.sheet == sheet]  # type: ignore[union-attr]


def test_an_offer_with_no_value_is_none() -> None:
    assert readable(Contract=EMPTY).contract is None
    assert readable(Contract="Item | Value\nmy own words | here").contract is None
    assert readable().contract is None
    assert readable(Contract="Item | Value\nContractor | the band works").contract.contractor == "the band works"
    assert readable(Contract="Item | Value\nContractor | the band works\nMinimum charge | much").contract is None


@pytest.mark.parametrize(
    ("table", "told"),
    [
        ("Item | Value\nContractor | us\nMinimum charg | 60", [f"A3: a row named Minimum charg | a row named Minimum charge, {OURS} | did you mean Minimum charge?"]),
        ("Item | Value\nMinimum charg |", [f"A2: a row named Minimum charg | a row named Minimum charge, {OURS} | did you mean Minimum charge?"]), ("Item | Value\nContractor | us\nMinimum charge | 60", []), (EMPTY, []),
    ],
)  # fmt: skip
def test_a_misspelt_row_of_an_offer(table: str, told: list[str]) -> None:
    assert offers_told("Contract", table) == told


MACHINE = "Item | Value | the small one\nPrice | 100 | 70\nLife | 8 | 6\nInterest | 9 % | 9 %\nMetres a year | 4000 | 4000\nCost per metre | 1 | 1"


def machines(table: str) -> list[tuple[str, Any]]:
    job = readable(Machine=table)
    return [(one.name, one.price) for one in (job.machine, *job.more_machines) if one]


def test_machines_by_the_columns_of_their_values() -> None:
    assert machines(MACHINE) == [("", 100), ("the small one", 70)]
    assert machines(MACHINE.replace("| 8 |", "| long |")) == [("the small one", 70)]
    assert machines(MACHINE.replace("| 6\n", "| long\n")) == [("", 100)]
    assert machines("Item | Value\nPrice |\nLife |") == []
    misspelt = MACHINE.replace("Life", "Lif")
    assert offers_told("Machine", misspelt) == [f"A3: a row named Lif | a row named Life, {OURS} | did you mean Life?"]


def test_a_price_without_an_edging_is_told_by_that_alone() -> None:
    assert [one[:19] for one in problems_of({"Contract prices A2": None}, "Edgings", "Adhesives")] == ["Contract prices A2:"]


# --- what is not handed on --------------------------------------------------------------------------------------------------------------------


def test_a_finish_whose_board_has_no_sizes_is_set_aside() -> None:
    tables = {name: ONE_BOOK[name] for name in ("Job", "Shop", "Finishes", "Boards", "Edgings", "Adhesives")}
    for changes, left in (({("Boards", "B5"): "thick"}, ["white"]), ({("Boards", "B2"): "thick", ("Boards", "B3"): "thick"}, []), ({("Boards", "B2"): "thick"}, ["white", "oak"]), ({("Boards", "B4"): None}, []), ({}, ["white", "oak"])):
        answer = read(tables, changes)
        assert isinstance(answer, Refusal)
        assert answer.readable is not None
        assert [finish.finish for finish in answer.readable.finishes] == left, changes


def test_a_trim_of_the_shops_that_cannot_be_read_hides_no_small_sheet() -> None:
    changes: dict[str, str | None] = {"Shop B8": "wide", "Boards C5": "24", "Boards I5": "12"}
    assert [one.partition(":")[0] for one in problems_of(changes)] == ["Shop B8", "Boards C5"]


@pytest.mark.parametrize(("row", "asked"), [("knob size | 1 | 1", True), ("1 | knob size | 1", True), ("1 | 1 | KNOB SIZE", True), ("1 | 1 | 1", False)])
def test_a_length_is_asked_for_by_each_rule_of_construction(row: str, asked: bool) -> None:
    answer = read({"Shop": "Item | Value\nknob size | big", "Construction": f"Kind | Part | Count | Length | Width | Board\nbase | side | {row} | front"})
    assert isinstance(answer, Refusal)
    assert ("Shop > B2" in " ".join(str(one.place) for one in answer.problems)) is asked


def test_a_length_is_asked_for_by_the_number_of_a_fitting() -> None:
    answer = read({"Shop": "Item | Value\nknob size | big", "Fittings": "Item | Per | Number | Price\nknob | door | 2 * knob size | 1"})
    assert isinstance(answer, Refusal)
    assert "job.xlsx > Shop > B2" in [str(one.place) for one in answer.problems]


# --- references to rows that could not be read ------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("changes", "cells"),
    [
        ({"Boards A2": "text:" + "x" * 201, "Offcuts A2": "elm"}, ["Boards A2"]), ({"Boards A1": "Bord", "Offcuts A2": "elm"}, ["Boards A1"]), ({"Boards A3": None, "Offcuts A2": "elm"}, ["Boards A3"]), ({"Boards B2": "thick", "Offcuts A2": "elm"}, ["Boards B2", "Offcuts A2"]),
        ({"Adhesives A3": "contact", "Drying A2": "glue"}, ["Adhesives A3"]), ({"Offcuts A2": "error:#REF!"}, ["Offcuts A2"]), ({"Boards A2": "elm", "Offcuts A2": "elm"}, []), ({"Boards B2": "thick", "Offcuts A2": "white 18"}, ["Boards B2"]),
    ],
)  # fmt: skip
def test_a_name_may_be_that_of_a_row_that_could_not_be_read(changes: dict[str, str | None], cells: list[str]) -> None:
    told = [one.partition(":")[0] for one in problems_of(changes)]
    assert [one for one in told if one in changes] == cells


NO_SIZE = {
    "Boards": ("Price", "Low price", "High price", "Priced on", "Charge", "On hand", "Expected yield", "Density", "E modulus"),
    "Edgings": ("Price", "Low price", "High price", "Priced on", "Charge", "On hand", "Roll length", "Spare", "Overhang", "Material", "By hand", "Send out", "Adhesive"),
    "Cabinets": ("Qty", "Tax rate", "Note"), "Loose parts": ("Qty", "Tax rate", "Note"), "Finishes": ("Words for the quote",),
}  # fmt: skip
"""What may be wrong in a row while the sizes of its parts are sound."""
SIZES = {"Boards": ("Thickness", "Sheet width", "Grain", "Trim"), "Edgings": ("Width", "Deduct"), "Cabinets": ("Width", "Kind", "Shelves", "Finished ends"), "Loose parts": ("Width", "Grain"), "Finishes": ("carcass board",)}


def handed_on(sheet: str, header: str) -> list[int]:
    """The rows of a sheet that are looked at further when row 2 has an error under a header."""
    lines = ONE_BOOK[sheet].strip("\n").splitlines()
    headers = [one.strip() for one in lines[0].split("|")]
    cells = {(sheet, f"{column_letter(len(headers) + 1)}1"): header} if header not in headers else {}
    place = column_letter(headers.index(header) + 1 if header in headers else len(headers) + 1)
    answer = read(ONE_BOOK, {**cells, (sheet, f"{place}2"): "error:#REF!"})
    assert isinstance(answer, Refusal)
    assert str(answer.problems[0].place) == f"job.xlsx > {sheet} > {place}2"
    return [row.at.number for row in getattr(answer.readable, sheet.lower().replace(" ", "_"))]


@pytest.mark.parametrize(("sheet", "header"), [(sheet, header) for sheet, headers in NO_SIZE.items() for header in headers])
def test_a_row_is_looked_at_further_when_no_size_rests_on_what_is_wrong(sheet: str, header: str) -> None:
    assert handed_on(sheet, header)[0] == 2


@pytest.mark.parametrize(("sheet", "header"), [(sheet, header) for sheet, headers in SIZES.items() for header in headers])
def test_a_row_is_set_aside_when_its_sizes_are_wrong(sheet: str, header: str) -> None:
    assert handed_on(sheet, header)[0] == 3
