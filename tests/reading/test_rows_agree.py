"""Rows of one sheet beside one another: each limit at its value and beyond it, each sentence whole, and a row that is unsound already is asked no more."""

from __future__ import annotations

import pytest

from estimator.model.refusal import Refusal
from tests.reading.base_books import ONE_BOOK
from tests.reading.held import problems_of, read, remarks

BESIDE = {
    "Boards": ["Shop"], "Drying": ["Adhesives"], "Edgings": ["Adhesives"], "Contract prices": ["Edgings"], "Roll ends": ["Edgings"],
    "Loose parts": ["Finishes", "Boards", "Edgings"], "Work": ["Construction", "Edgings", "Adhesives"],
}  # fmt: skip


def problems(changes: dict[str, str | None]) -> list[str]:
    sheets = {place.rpartition(" ")[0] for place in changes}
    return problems_of(changes, *(name for sheet in sheets & BESIDE.keys() for name in BESIDE[sheet]))


def cells_told(changes: dict[str, str | None]) -> list[str]:
    return [one.partition(":")[0] for one in problems(changes)]


TRIM = "look at the size of the sheet and at its trim"
ROLL_END = "measure the roll end, and fill its width in"

WHOLE = [
    ("another charge", {"Boards G3": "area"}, "Boards G3: another Charge than in row 2 for the same board | Charge: alike in every row of white 18 | "
     "make it the same as G2, or give this board a name of its own"),
    ("a yield in the second row only", {"Boards H3": "80 %"}, "Boards H3: a yield, unlike row 2 of the same board | Expected yield: alike in every row of white 18 | "
     "make it the same as H2, or give this board a name of its own"),
    ("a yield in the first row only", {"Boards H2": "80 %"}, "Boards H3: nothing, unlike row 2 of the same board | Expected yield: alike in every row of white 18 | "
     "make it the same as H2, or give this board a name of its own"),
    ("a sheet of exactly its trim", {"Boards C3": "24"}, "Boards C3: a sheet of 24 mm and a trim of 12 mm off each side: nothing is left | "
     f"Sheet length: a sheet larger than twice its trim | {TRIM}"),
    ("a width of the shop's trim", {"Boards D5": "20"}, "Boards D5: a sheet of 20 mm and a trim of 10 mm off each side: nothing is left | "
     f"Sheet width: a sheet larger than twice its trim | {TRIM}"),
    ("a trim of 100 mm is one that somebody cuts", {"Boards C3": "150", "Boards I3": "100"}, "Boards C3: a sheet of 150 mm and a trim of 100 mm off each side: nothing is left | "
     f"Sheet length: a sheet larger than twice its trim | {TRIM}"),
    ("one above it is the trim's fault", {"Boards C3": "150", "Boards I3": "101"}, "Boards I3: a sheet of 150 mm and a trim of 101 mm off each side: nothing is left | "
     f"Trim: a sheet larger than twice its trim | {TRIM}"),
    ("whole rolls of no length", {"Edgings G4": "whole rolls"}, "Edgings G4: whole rolls, and the Roll length is blank | "
     "Charge: whole rolls only where it is known how much is on one | type what is on one roll under Roll length, or choose metres"),
    ("an open time of the drying time", {"Adhesives I2": "30.5", "Adhesives J2": "30.5"}, "Adhesives J2: an open time of 30.5 min with a drying time of 30.5 min | "
     "Open time: longer than Drying, both counted from coating | take both from the adhesive's data sheet"),
    ("the same in a drying table", {"Drying E3": "45"}, "Drying E3: an open time of 45 min with a drying time of 45 min | "
     "Open time: longer than Drying, both counted from coating | take both from the adhesive's data sheet"),
    ("a count of no route", {"Work D2": "batch"}, "Work D2: Per batch with Route blank | "
     "Per: with Route blank one of job, site trip, sheet, part, m2, cabinet, door, drawer, shelf | change Per, or the Route to by hand"),
    ("a count of another route", {"Work D8": "sheet"}, "Work D8: Per sheet with Route send out | "
     "Per: with Route send out one of order, trip, part, metre | change Per, or the Route to blank"),
    ("a count of several routes", {"Work D2": "metre"}, "Work D2: Per metre with Route blank | "
     "Per: with Route blank one of job, site trip, sheet, part, m2, cabinet, door, drawer, shelf | change Per, or the Route to by hand or send out"),
    ("coating by the batch", {"Work K4": "coating"}, "Work K4: During coating with Route by hand and Per batch | "
     "During: only with Route by hand and Per edge or metre | clear it, or change Route and Per"),
    ("applying what is sent out", {"Work K8": "applying", "Work D8": "metre"}, "Work K8: During applying with Route send out and Per metre | "
     "During: only with Route by hand and Per edge or metre | clear it, or change Route and Per"),
    ("coating on no route", {"Work K2": "coating"}, "Work K2: During coating with Route blank and Per part | "
     "During: only with Route by hand and Per edge or metre | clear it, or change Route and Per"),
    ("another set-up", {"Contract prices D3": "9"}, "Contract prices D3: another Set-up than in D2 for the same edging | "
     "Set-up: one amount an edging; blank on further rows repeats the first | clear it, or make the two alike"),
    ("breaks of the whole order above", {"Contract B11": "whole order", "Contract B12": "quantity above"}, "Contract B12: quantity above, while Breaks count is whole order | "
     "Breaks apply to: whole quantity when Breaks count is whole order | change one of the two, as the offer says"),
    ("an extra of no worth", {"Extras E2": None, "Extras G2": None}, "Extras E2: no cost, no minutes and no price | "
     "at least one of Cost each, Minutes each, Price each | fill in what it costs, how long it takes or what it is sold for"),
    ("a roll end without a width of an edging of two", {"Roll ends B2": None}, "Roll ends B2: nothing: the cell is blank | "
     f"Width: one of the widths of white 1: 23 mm, 43 mm | {ROLL_END}"),
    ("a roll end of another width", {"Roll ends B3": "23.5"}, f"Roll ends B3: a width of 23.5 mm | Width: one of the widths of oak veneer: 24 mm | {ROLL_END}"),
    ("an x on one side", {"Loose parts H3": None, "Loose parts K3": None}, "Loose parts H3: nothing, but there is an x under Front | "
     "Edging: the name with which the edges marked x are banded | fill in the Edging, or take the x away"),
    ("an x on two sides", {"Loose parts H3": None}, "Loose parts H3: nothing, but there is an x under Front and Left | "
     "Edging: the name with which the edges marked x are banded | fill in the Edging, or take the x away"),
]  # fmt: skip


@pytest.mark.parametrize(("changes", "words"), [case[1:] for case in WHOLE], ids=[case[0] for case in WHOLE])
def test_the_whole_sentence(changes: dict[str, str | None], words: str) -> None:
    assert problems(changes) == [words]


INCH = {"Job B9": "inch"}


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ({"Boards C3": "20.1235"}, f"Boards C3: a sheet of 20.124 mm and a trim of 12 mm off each side: nothing is left | Sheet length: a sheet larger than twice its trim | {TRIM}"),
        ({"Roll ends B3": "23.1235"}, f"Roll ends B3: a width of 23.124 mm | Width: one of the widths of oak veneer: 24 mm | {ROLL_END}"),
        ({**INCH, "Boards C3": "23 31/32"}, f"Boards I3: a sheet of 23 31/32 inch and a trim of 12 inch off each side: nothing is left | Trim: a sheet larger than twice its trim | {TRIM}"),
        ({**INCH, "Roll ends B3": "23 31/32"}, f"Roll ends B3: a width of 23 31/32 inch | Width: one of the widths of oak veneer: 24 inch | {ROLL_END}"),
    ],
)  # fmt: skip
def test_lengths_in_a_sentence_are_told_to_a_thousandth_or_a_32nd(changes: dict[str, str | None], words: str) -> None:
    assert words in problems(changes)


@pytest.mark.parametrize(
    "changes",
    [
        pytest.param({"Boards C3": "24.001"}, id="a sheet that is hardly larger than its trim"),
        pytest.param({"Boards H2": "80 %", "Boards H3": "70 %"}, id="two yields of one board"),
        pytest.param({"Adhesives I2": "30.5", "Adhesives J2": "30.501"}, id="an open time hardly longer than the drying"),
        pytest.param({"Work K5": "coating", "Work D5": "metre"}, id="coating by the metre"),
        pytest.param({"Work K5": None}, id="no During"),
        pytest.param({"Contract prices D3": "8"}, id="the same set-up again"),
        pytest.param({"Contract prices D2": None, "Contract prices D3": "9"}, id="a set-up in the second row"),
        pytest.param({"Contract B11": "whole order"}, id="whole orders, whole quantity"),
        pytest.param({"Contract B12": "quantity above"}, id="by edging, the quantity above"),
        pytest.param({"Extras G2": None}, id="a cost alone"),
        pytest.param({"Extras E2": None, "Extras G2": None, "Extras F2": "5"}, id="minutes alone"),
        pytest.param({"Extras E2": None, "Extras G2": "0"}, id="a price of 0"),
        pytest.param({"Roll ends B2": "43"}, id="the other width"),
        pytest.param({"Roll ends B3": "24"}, id="the only width, typed"),
        pytest.param({"Edgings F4": "25", "Edgings G4": "whole rolls"}, id="whole rolls of a length"),
    ],
)
def test_the_other_side_of_each_limit(changes: dict[str, str | None]) -> None:
    assert problems(changes) == []


@pytest.mark.parametrize(
    ("changes", "cells"),
    [
        # the sheet of boards
        pytest.param({"Boards B3": "thick", "Boards G3": "area"}, ["Boards B3", "Boards G3"], id="a second row of which one cell is unsound"),
        pytest.param({"Boards B2": "thick"}, ["Boards B2"], id="a first row of which one cell is unsound"),
        pytest.param({"Boards B3": "19", "Boards G3": "area"}, ["Boards B3", "Boards G3"], id="two cells unlike the first row"),
        pytest.param({"Boards A3": None, "Boards A6": "white 18", "Boards B6": "19", "Boards C6": "2000", "Boards D6": "1000", "Boards E6": "30"}, ["Boards A3", "Boards B6"], id="a nameless row between two of one board"),
        pytest.param({"Boards I3": "wide", "Boards C3": "20"}, ["Boards I3"], id="an unsound trim"),
        pytest.param({"Boards C3": "long", "Boards D3": "20"}, ["Boards C3"], id="an unsound length"),
        pytest.param({"Boards D3": "wide", "Boards C3": "20"}, ["Boards D3"], id="an unsound width"),
        pytest.param({"Boards C3": "20", "Boards D3": "20"}, ["Boards C3"], id="a sheet too small both ways"),
        pytest.param({"Shop B8": "1O", "Boards C5": "15"}, ["Shop B8"], id="an unsound trim of the shop's"),
        # edgings and adhesives
        pytest.param({"Edgings G4": "whole rolls", "Edgings F4": "fifty"}, ["Edgings F4"], id="an unsound roll length"),
        pytest.param({"Edgings G4": "rolled"}, ["Edgings G4"], id="an unsound charge"),
        pytest.param({"Adhesives I2": "damp", "Adhesives J2": "10"}, ["Adhesives I2"], id="an unsound drying time"),
        pytest.param({"Adhesives I2": "30", "Adhesives J2": "never"}, ["Adhesives J2"], id="an unsound open time"),
        # work
        pytest.param({"Work C2": "by hnd", "Work D2": "order"}, ["Work C2"], id="an unsound route"),
        pytest.param({"Work D2": "ordr", "Work C2": None}, ["Work D2"], id="an unsound Per"),
        pytest.param({"Work C5": "by hnd"}, ["Work C5"], id="an unsound route of a step with During"),
        pytest.param({"Work D5": "egde"}, ["Work D5"], id="an unsound Per of a step with During"),
        pytest.param({"Work D5": "sheet"}, ["Work D5"], id="During is not told beside a Per that its route lacks"),
        pytest.param({"Work K5": "coatng", "Work D5": "batch"}, ["Work K5"], id="an unsound During"),
        pytest.param({"Work A2": None, "Work A4": "cut", "Work A5": "cut"}, ["Work A2", "Work A5"], id="a nameless row before two of one name"),
        # contract, stock
        pytest.param({"Contract prices D2": "eight", "Contract prices D3": "9"}, ["Contract prices D2"], id="an unsound set-up first"),
        pytest.param({"Contract prices A2": None, "Contract prices D3": "9"}, ["Contract prices A2"], id="an unsound edging first"),
        pytest.param({"Contract prices D3": None, "Contract prices A4": "white 1", "Contract prices B4": "300", "Contract prices C4": "1", "Contract prices D4": "9"}, ["Contract prices D4"], id="a blank set-up between two"),
        pytest.param({"Contract prices B3": "many", "Contract prices A4": "white 1", "Contract prices B4": "0", "Contract prices C4": "1"}, ["Contract prices B3", "Contract prices B4"], id="a break that is unsound, and one twice"),
        pytest.param({"Contract prices B2": "many", "Contract prices B3": "many"}, ["Contract prices B2", "Contract prices B3"], id="two breaks, each unsound"),
        pytest.param({"Contract prices A2": None, "Contract prices A3": None, "Contract prices D3": "9"}, ["Contract prices A2", "Contract prices A3"], id="set-ups of two rows without an edging"),
        pytest.param({"Extras E2": "lots", "Extras G2": None}, ["Extras E2"], id="an unsound cost"),
        pytest.param({"Extras E2": None, "Extras G2": None, "Extras F2": "long"}, ["Extras F2"], id="unsound minutes"),
        pytest.param({"Roll ends A2": "white 11", "Roll ends B2": "30"}, ["Roll ends A2"], id="a roll end of an unknown edging"),
        pytest.param({"Roll ends B2": "wide"}, ["Roll ends B2"], id="an unsound width of a roll end"),
        pytest.param({"Roll ends A2": None, "Roll ends B2": "30"}, ["Roll ends A2"], id="a roll end of no edging"),
        pytest.param({"Roll ends B2": "30", "Edgings A4": None}, ["Edgings A4"], id="an edging without its name may be the roll end's"),
        pytest.param({"Roll ends B2": "30", "Edgings D3": "wide"}, ["Edgings D3"], id="an unsound width of the edging may be the roll end's"),
        pytest.param({"Roll ends B3": "30", "Edgings D3": "wide"}, ["Edgings D3", "Roll ends B3"], id="that of another edging is not"),
        pytest.param({"Loose parts H3": "white 11"}, ["Loose parts H3"], id="an x with an unsound edging"),
        pytest.param({"Contract B11": "whole order", "Contract B12": "quantity abve"}, ["Contract B12"], id="an unsound answer to the breaks"),
    ],
)  # fmt: skip
def test_what_is_unsound_already_is_told_once_and_hides_nothing_else(changes: dict[str, str | None], cells: list[str]) -> None:
    assert cells_told(changes) == cells


def test_what_cannot_be_counted_or_is_worth_nothing_is_not_handed_on() -> None:
    changes = {("Contract", "B11"): "whole order", ("Contract", "B12"): "quantity above", ("Extras", "E2"): None, ("Extras", "G2"): None}
    answer = read({name: ONE_BOOK[name] for name in ("Job", "Contract", "Extras")}, changes)
    assert isinstance(answer, Refusal)
    assert answer.readable is not None
    assert answer.readable.contract is None
    assert [extra.ref for extra in answer.readable.extras] == ["Painter"]


LOW = "job.xlsx > Work > I2: Low is above Minutes: it should be what the step takes when all goes well"
HIGH = "job.xlsx > Work > J2: High is below Minutes: it should be what the step takes when it does not go well"


@pytest.mark.parametrize(
    ("low", "high", "said"),
    [
        ("1", "4", []), ("2", "2", []), ("2.01", "4", [LOW]), ("1", "1.99", [HIGH]), ("3", "1", [LOW, HIGH]), (None, "1.5", [HIGH]), ("2.5", None, [LOW]), (None, None, []),
        ("3", "much", []), ("much", "1", []),
    ],
)  # fmt: skip
def test_low_and_high_beside_the_minutes(low: str | None, high: str | None, said: list[str]) -> None:
    """Cut takes 2 minutes."""
    assert remarks({"Work": ONE_BOOK["Work"]}, {("Work", "I2"): low, ("Work", "J2"): high}) == said


def test_unsound_minutes_are_held_against_nothing() -> None:
    assert remarks({"Work": ONE_BOOK["Work"]}, {("Work", "F2"): "two", ("Work", "I2"): "3", ("Work", "J2"): "1"}) == []


ITSELF = "job.xlsx > Options > C2: oak is replaced by itself, so the option changes nothing: name another finish, or take the row out"
NOWHERE = (
    "job.xlsx > Options > B2: no cabinet and no loose part has the finish oak, so the option changes nothing: name a finish that the job uses, or take the row out"
)
NO_OAK = {("Cabinets", "K3"): "white", ("Loose parts", "P2"): "white"}


@pytest.mark.parametrize(
    ("changes", "said"),
    [
        ({("Options", "B2"): "Oak"}, [ITSELF]), ({("Options", "B2"): "oak", ("Options", "C2"): "white"}, []),
        ({**NO_OAK, ("Options", "B2"): "oak", ("Options", "C2"): "white"}, [NOWHERE]), ({**NO_OAK, ("Loose parts", "P2"): "OAK", ("Options", "B2"): "oak", ("Options", "C2"): "white"}, []),
        ({("Options", "B2"): "elm", ("Options", "A3"): "all oak", ("Options", "B3"): "oak", ("Options", "C3"): "oak"}, [ITSELF.replace("C2", "C3")]),
    ],
)  # fmt: skip
def test_an_option_that_changes_nothing(changes: dict[tuple[str, str], str | None], said: list[str]) -> None:
    tables = {name: ONE_BOOK[name] for name in ("Cabinets", "Loose parts", "Finishes", "Construction", "Boards", "Edgings", "Options")}
    assert [one for one in remarks(tables, changes) if "Options" in one] == said
