"""The shop's sheets beside one another: labels on their paper, the saw, what names a row elsewhere; each sentence whole, each limit from both sides."""

from __future__ import annotations

from typing import Any

import pytest

from estimator.model.refusal import Refusal
from tests.reading.base_books import ONE_BOOK
from tests.reading.held import problems_of, read

HEAD = "Item | Value\n"
MARGIN = "type a smaller number, or make the margin smaller"


def labels(shop: str, *, paper: str = "A4", units: str = "mm") -> list[str]:
    answer = read({"Job": f"{HEAD}Paper | {paper}\nUnits | {units}", "Shop": HEAD + shop})
    assert isinstance(answer, Refusal)
    return [f"{one.place.cell}: {one.found} | {one.expected} | {one.mend}" for one in answer.problems if "label" in one.found]


@pytest.mark.parametrize(
    ("shop", "paper", "units", "problems"),
    [
        ("", "A4", "mm", []), ("Label columns | 4", "A4", "mm", []), ("Label columns | 5", "A4", "mm", [f"B2: 5 labels on 210 mm of paper | labels at least 48 mm wide: at most 4 of them | {MARGIN}"]),
        ("Label columns | 4\nLabel side margin | 9", "A4", "mm", []), ("Label columns | 4\nLabel side margin | 9.1", "A4", "mm", [f"B2: 4 labels on 191.8 mm of paper | labels at least 48 mm wide: at most 3 of them | {MARGIN}"]),
        ("Label rows | 9", "A4", "mm", []), ("Label rows | 10", "A4", "mm", [f"B2: 10 labels on 297 mm of paper | labels at least 30 mm high: at most 9 of them | {MARGIN}"]),
        ("Label rows | 9\nLabel top margin | 13.5", "A4", "mm", []), ("Label rows | 9\nLabel top margin | 13.6", "A4", "mm", [f"B2: 9 labels on 269.8 mm of paper | labels at least 30 mm high: at most 8 of them | {MARGIN}"]),
        ("Label side margin | 90", "A4", "mm", ["Label columns: 3 labels on 30 mm of paper | labels at least 48 mm wide: at most 0 of them | make the margin smaller"]),
        ("Label side margin | 110", "A4", "mm", ["Label columns: 3 labels on -10 mm of paper | labels at least 48 mm wide: at most 0 of them | make the margin smaller"]),
        ("Label columns | 5\nLabel rows | 10", "Letter", "mm", [f"B2: 5 labels on 215.9 mm of paper | labels at least 48 mm wide: at most 4 of them | {MARGIN}",
                                                               f"B3: 10 labels on 279.4 mm of paper | labels at least 30 mm high: at most 9 of them | {MARGIN}"]),
        ("Label columns | 5", "Letter", "inch", [f"B2: 5 labels on 8 1/2 inch of paper | labels at least 1 29/32 inch wide: at most 4 of them | {MARGIN}"]),
        ("Label rows | 10", "Letter", "inch", [f"B2: 10 labels on 11 inch of paper | labels at least 1 3/16 inch high: at most 9 of them | {MARGIN}"]),
    ],
)  # fmt: skip
def test_labels_have_room_on_their_paper(shop: str, paper: str, units: str, problems: list[str]) -> None:
    """A4 is 210 x 297 mm (ISO 216), Letter 8 1/2 x 11 inches; a label of 48 x 30 mm has room for what stands on it."""
    assert labels(shop, paper=paper, units=units) == problems


# --- the saw --------------------------------------------------------------------------------------------------------------------------------

NO_KERF = "no Saw kerf: cutting plans are made as if the blade took nothing; measure a cut, and type it in"
NO_TRIM = "no Sheet trim: cutting plans use the sheets up to their raw edges; type what you cut off each side"
BOARD = "Board | Thickness | Sheet length | Sheet width | Price | Expected yield | Trim\nwhite | 18 | 2800 | 2070 | 61"


def saw(shop: str, boards: str = BOARD, *, units: str = "mm") -> list[str]:
    answer = read({"Shop": f"{HEAD}Units | {units}\n{shop}", "Boards": boards})
    return [f"{one.place.cell}: {one.words}" for one in answer.remarks if "kerf" in one.words or "trim" in one.words]


@pytest.mark.parametrize(
    ("shop", "boards", "said"),
    [
        ("Saw kerf | 4\nSheet trim | 10", BOARD, []), ("Saw kerf | 0\nSheet trim | 0", BOARD, []), ("", BOARD, [f"Saw kerf: {NO_KERF}", f"Sheet trim: {NO_TRIM}"]), ("Saw kerf |\nSheet trim |", BOARD, [f"B3: {NO_KERF}", f"B4: {NO_TRIM}"]),
        ("Saw kerf | 4", BOARD, [f"Sheet trim: {NO_TRIM}"]), ("Saw kerf | 4", f"{BOARD} | | 10", []), ("Saw kerf | 4", f"{BOARD} | | 10\noak | 19 | 2800 | 2070 | 99 | | 0", [f"Sheet trim: {NO_TRIM}"]), ("", f"{BOARD} | 80 %", []),
        ("", f"{BOARD} | 80 %\noak | 19 | 2800 | 2070 | 99 | | 5", [f"Saw kerf: {NO_KERF}"]), ("Saw kerf | 4", f"{BOARD} | 80 %\noak | 19 | 2800 | 2070 | 99 | | 5", []), ("", "Board | Thickness | Sheet length | Sheet width | Price", []),
        ("Saw kerf | 12\nSheet trim | 10", BOARD, []), ("Saw kerf | 12.5\nSheet trim | 10", BOARD, ["B3: a Saw kerf of 12.5 mm, where a blade takes about 3.2 mm: in which unit was it measured?"]),
    ],
)  # fmt: skip
def test_a_saw_that_takes_nothing_or_too_much(shop: str, boards: str, said: list[str]) -> None:
    assert saw(shop, boards) == said


def test_a_kerf_in_inches() -> None:
    assert saw("Saw kerf | 4\nSheet trim | 1", units="inch") == ["B3: a Saw kerf of 4 inch, where a blade takes about 1/8 inch: in which unit was it measured?"]
    assert saw("Saw kerf | 1/8\nSheet trim | 1/2", units="inch") == []


def test_without_a_shop_the_saw_is_not_missed() -> None:
    assert not [one for one in read({"Boards": BOARD}).remarks if "kerf" in one.words]


def test_a_board_without_a_trim_takes_the_shops() -> None:
    answer = read({"Shop": f"{HEAD}Sheet trim | 7", "Boards": f"{BOARD} | | \noak | 19 | 2800 | 2070 | 99 | | 0"})
    assert isinstance(answer, Refusal)
    assert answer.readable is None or [board.trim_mm for board in answer.readable.boards] == [7, 0]


# --- edgings --------------------------------------------------------------------------------------------------------------------------------


def readable(changes: dict[str, str | None], *beside: str) -> Any:
    cells = {(place.rpartition(" ")[0], place.rpartition(" ")[2]): content for place, content in changes.items()}
    answer = read({name: ONE_BOOK[name] for name in ("Job", *beside)}, cells)
    return answer.readable if isinstance(answer, Refusal) else answer


def test_what_a_blank_charge_and_the_word_none_mean() -> None:
    edgings = readable({"Edgings G4": None, "Edgings F3": None, "Edgings M2": "NONE", "Edgings M3": None}, "Edgings", "Adhesives").edgings
    assert [edging.charge for edging in edgings] == ["whole rolls", "metres", "metres"]
    assert [edging.adhesive for edging in edgings] == ["", "", ""]
    assert readable({"Edgings G2": "metres", "Edgings M2": "Contact"}, "Edgings", "Adhesives").edgings[0].charge == "metres"
    assert readable({"Edgings M2": "CONTACT"}, "Edgings", "Adhesives").edgings[0].adhesive == "contact"


ONE_OF = "a name that stands in the sheet"
UNKNOWN = [
    ({"Edgings M2": "hot melt"}, ["Adhesives"], f"Edgings M2: the text hot melt | Adhesive: {ONE_OF} Adhesives | use one of contact"),
    ({"Edgings M2": "contat"}, ["Adhesives"], f"Edgings M2: the text contat | Adhesive: {ONE_OF} Adhesives | did you mean contact?"),
    ({"Drying A2": "glue"}, ["Adhesives"], f"Drying A2: the text glue | Adhesive: {ONE_OF} Adhesives | use one of contact"),
    ({"Offcuts A3": "elm"}, ["Boards"], f"Offcuts A3: the text elm | Board: {ONE_OF} Boards | use one of white 18, white 8, oak 19"),
    ({"Merchant B3": "elm"}, ["Boards"], f"Merchant B3: the text elm | Board: {ONE_OF} Boards | use one of white 18, white 8, oak 19"),
    ({"Roll ends A3": "elm"}, ["Edgings"], f"Roll ends A3: the text elm | Edging: {ONE_OF} Edgings | use one of white 1, oak veneer"),
    ({"Contract prices A3": "elm"}, ["Edgings"], f"Contract prices A3: the text elm | Edging: {ONE_OF} Edgings | use one of white 1, oak veneer"),
    ({"Options B2": "elm"}, ["Finishes"], f"Options B2: the text elm | Replace finish: {ONE_OF} Finishes | use one of white, oak"),
    ({"Options C2": "elm"}, ["Finishes"], f"Options C2: the text elm | With finish: {ONE_OF} Finishes | use one of white, oak"),
]  # fmt: skip


@pytest.mark.parametrize(("changes", "beside", "words"), UNKNOWN)
def test_a_name_that_stands_nowhere(changes: dict[str, str | None], beside: list[str], words: str) -> None:
    assert [one for one in problems_of(changes, *beside) if not one.startswith("Finishes")] == [words]


@pytest.mark.parametrize(
    ("sheet", "needs", "why"),
    [
        ("Edgings", "Adhesives", "the rows that Edgings name"), ("Drying", "Adhesives", "the rows that Drying name"), ("Offcuts", "Boards", "the rows that Offcuts name"), ("Merchant", "Boards", "the rows that Merchant name"),
        ("Roll ends", "Edgings", "the rows that Roll ends name"), ("Contract prices", "Edgings", "the edgings that Contract prices name"), ("Options", "Finishes", "the finishes that Options name"),
    ],
)  # fmt: skip
def test_a_sheet_that_another_names(sheet: str, needs: str, why: str) -> None:
    answer = read({sheet: ONE_BOOK[sheet]})
    assert isinstance(answer, Refusal)
    assert [one.expected for one in answer.problems if one.place.sheet == needs] == [f"a sheet {needs}: {why}"]


def test_names_twice_are_told_by_the_row_that_was_first() -> None:
    said = problems_of({"Merchant A4": "Elm", "Merchant B4": "OAK 19", "Merchant C4": "cut", "Drying A4": "CONTACT", "Drying B4": "12", "Drying D4": "50", "Drying E4": "60", "Work A9": "CUT", "Work D9": "part", "Work F9": "1"},
                       "Boards", "Adhesives", "Construction", "Edgings")  # fmt: skip
    assert said == [
        "Work A9: the step CUT a second time | Step: the step CUT once only | change this row or row 2, or take one of the two out",
        "Drying B4: the adhesive CONTACT at this temperature and humidity a second time | Temperature: the adhesive CONTACT at this temperature and humidity once only | change this row or row 3, or take one of the two out",
        "Merchant B4: the board oak 19 a second time | Board: the board oak 19 once only | change this row or row 3, or take one of the two out",
    ]
    assert problems_of({"Edgings D3": "23"}, "Adhesives") == ["Edgings D3: the edging white 1 in this width a second time | Width: the edging white 1 in this width once only | change this row or row 2, or take one of the two out"]


OF = "Of: blank, or a kind, finish, role, board, edging, adhesive or material of edging that stands in its sheet"
SHEETS_OF_NAMES = ("Construction", "Kinds", "Finishes", "Boards", "Edgings", "Adhesives")


@pytest.mark.parametrize("name", ["base", "OPEN", "white", "Oak", "carcass", "front", "back", "white 18", "oak veneer", "contact", "plastic", "Wood  veneer"])
def test_a_count_may_be_limited_to_each_kind_of_name(name: str) -> None:
    assert problems_of({"Work E2": name, "Fittings D3": name}, *SHEETS_OF_NAMES) == []


def test_a_count_limited_to_a_name_that_stands_nowhere() -> None:
    few = "use one of base, open, white, oak, white 18, white 8, ..."
    assert problems_of({"Work E2": "walnut", "Fittings D3": "walnut"}, *SHEETS_OF_NAMES) == [f"Fittings D3: the text walnut | {OF} | {few}", f"Work E2: the text walnut | {OF} | {few}"]
    assert problems_of({"Work E2": "plastik"}, *SHEETS_OF_NAMES) == [f"Work E2: the text plastik | {OF} | did you mean plastic?"]


@pytest.mark.parametrize(
    ("changes", "cells"),
    [
        ({"Boards A4": None}, ["Boards A4"]), ({"Adhesives A2": None}, ["Adhesives A2"]), ({"Construction A2": None}, ["Construction A2"]), ({"Kinds A2": None}, ["Kinds A2"]), ({"Finishes B1": "carcass bord"}, ["Finishes B1"]),
        ({"Edgings B4": "error:#REF!"}, ["Edgings B4", "Work E2"]),
    ],
)  # fmt: skip
def test_a_name_may_stand_in_a_row_that_could_not_be_read(changes: dict[str, str | None], cells: list[str]) -> None:
    """A material is no name of its own: where one is blank, others are still looked for."""
    said = [one.partition(":")[0] for one in problems_of({**changes, "Work E2": "walnut", "Edgings M2": "none", "Edgings M3": "none", "Work E5": None, "Work E7": None}, *SHEETS_OF_NAMES)]
    assert sorted(set(said) & {*cells, "Work E2"}) == sorted(cells)


# --- the job's choice of banding ------------------------------------------------------------------------------------------------------------

BANDING = "Banding: best, by hand, send out, or edgings of the sheet Edgings with commas"


@pytest.mark.parametrize(
    ("typed", "chosen", "problems"),
    [
        (None, "best", []), ("BEST", "best", []), ("by  hand", "by hand", []), ("Send out", "send out", []), ("WHITE 1", "white 1", []), ("oak veneer; white 1", "oak veneer, white 1", []), ("white 1, White 1,, ", "white 1", []), (",", "best", []),
        ("white 2", "best", [f"Job B27: the text white 2 | {BANDING} | did you mean white 1?"]), ("white 1, elm", "best", [f"Job B27: the text elm | {BANDING} | use one of white 1, oak veneer, best, by hand, send out"]),
        ("by hnd", "best", [f"Job B27: the text by hnd | {BANDING} | did you mean by hand?"]),
    ],
)  # fmt: skip
def test_which_edgings_are_sent(typed: str | None, chosen: str, problems: list[str]) -> None:
    assert [one for one in problems_of({"Job B27": typed, "Job B28": None}, "Edgings", "Adhesives") if "B27" in one] == problems
    assert readable({"Job B27": typed}, "Edgings", "Adhesives").terms.banding == chosen
