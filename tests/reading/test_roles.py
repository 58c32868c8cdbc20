"""Roles: a pair of headers of Finishes, asked for by the parts that surely stand in a cabinet of the job; each sentence whole."""

from __future__ import annotations

import pytest

from estimator.model.records import Job
from estimator.model.refusal import Refusal
from tests.reading.held import read

FINISHES = """
Finish | carcass board | carcass edging | front board | front edging | Words for the quote
white  | white 18      | white 1        | white 18    | white 1      | white, matt
oak    | white 18      | white 1        | oak 19      | oak veneer   | oak veneer, oiled
"""
CONSTRUCTION = """
Kind | Part | Count | Length | Width | Board | Edging | Front | Back | Left | Right
base | side | 2 | height | depth | carcass | carcass | x | | |
base | door | doors | height | width | front | front | x | x | x | carcass
base | shelf | shelves | width | depth | carcass | carcass | x | | |
"""
CABINETS = """
Ref | Kind | Qty | Width | Height | Depth | Shelves | Doors | Drawers | Finish
A   | base | 1 | 600 | 720 | 560 | 1 | 1 | 0 | white
B   | base | 1 | 600 | 720 | 560 | 1 | 1 | 0 | oak
"""
BOARDS = "Board | Thickness | Sheet length | Sheet width | Price\nwhite 18 | 18 | 2800 | 2070 | 61\noak 19 | 19 | 2800 | 2070 | 140"
EDGINGS = "Edging | Thickness | Width | Price\nwhite 1 | 1 | 23 | 0.45\noak veneer | 0.6 | 24 | 0.95"
NEEDS = "a name that stands in the sheet"


def answer(finishes: str = FINISHES, construction: str = CONSTRUCTION, cabinets: str = CABINETS, **more: str) -> Job | Refusal:
    return read({"Finishes": finishes, "Construction": construction, "Cabinets": cabinets, "Boards": BOARDS, "Edgings": EDGINGS, **more})


def told(*tables: str, **more: str) -> list[str]:
    read_so = answer(*tables, **more)
    told = read_so.problems if isinstance(read_so, Refusal) else ()
    return [f"{one.place.sheet} {one.place.cell}: {one.found} | {one.expected} | {one.mend}" for one in told if one.place.sheet not in ("Job", "Shop")]


def test_a_sound_shop_has_no_problem() -> None:
    assert told() == []


# --- the headers of Finishes ----------------------------------------------------------------------------------------------------------------

A_ROLE = "a role's board or edging, such as front board"


@pytest.mark.parametrize(
    ("old", "new", "problems"),
    [
        ("front board", "front bord", [f"Finishes D1: a column named front bord | {A_ROLE} | did you mean front board?"]),
        ("front edging", "front edgng", [f"Finishes E1: a column named front edgng | {A_ROLE} | did you mean front edging?"]),
        ("front board", "Carcass  Board", ["Finishes D1: a second column named Carcass Board | one column of each name | take one of the two out"]),
        ("front edging", "carcass edging", ["Finishes E1: a second column named carcass edging | one column of each name | take one of the two out"]),
    ],
)  # fmt: skip
def test_a_header_that_makes_no_role(old: str, new: str, problems: list[str]) -> None:
    """While a header cannot be read, no part is told that its role lacks."""
    assert told(FINISHES.replace(old, new, 1)) == problems


@pytest.mark.parametrize("header", ["board", "bord", "Colour", "my bod", "front", "front boar d"])
def test_a_header_of_the_shops_own_is_left_alone(header: str) -> None:
    wider = FINISHES.replace("Words for the quote", f"{header} | front board | front edging | Words for the quote").replace("| front board | front edging ", "", 1)
    wider = wider.replace("| white 18    | white 1      | white, matt", "| 7 | white 18 | white 1 | white, matt").replace("| oak 19 ", "| 8 | oak 19 ")
    assert told(wider) == []


def test_further_headers_after_one_of_the_shops_own_are_roles() -> None:
    read_so = answer(FINISHES.replace("carcass board", "Supplier | Carcass (18)  Board", 1).replace("| white 18", "| the mill | white 18", 1))
    assert isinstance(read_so, Refusal)
    assert read_so.readable is not None
    assert read_so.readable.finishes[0].boards == {"carcass (18)": "white 18", "front": "white 18"}


@pytest.mark.parametrize(
    ("old", "new", "problem"),
    [
        ("| white 18      | white 1        | white 18", "| white 81 | white 1 | white 18", f"Finishes B2: the text white 81 | carcass board: {NEEDS} Boards | did you mean white 18?"),
        ("| white 1        | white 18    |", "| black | white 18 |", f"Finishes C2: the text black | carcass edging: {NEEDS} Edgings | use one of white 1, oak veneer"),
        ("oak 19 ", "error:#REF! ", f"Finishes D3: the error #REF! | front board: {NEEDS} Boards | mend the formula in this cell, or type its answer"),
        ("oak veneer   |", "error:#N/A |", f"Finishes E3: the error #N/A | front edging: {NEEDS} Edgings | mend the formula in this cell, or type its answer"),
        ("oak 19 ", "x" * 201 + " ", f"Finishes D3: a text of more than 200 signs | front board: {NEEDS} Boards | shorten it to 200 signs or fewer"),
    ],
)  # fmt: skip
def test_a_cell_of_a_finish_that_names_nothing(old: str, new: str, problem: str) -> None:
    assert told(FINISHES.replace(old, new, 1)) == [problem]


def test_the_sheets_that_finishes_name_are_told_once_when_they_are_not_there() -> None:
    tables = {"Finishes": FINISHES, "Construction": CONSTRUCTION, "Cabinets": CABINETS}
    read_so = read(tables)
    assert isinstance(read_so, Refusal)
    assert [(one.place.sheet, one.expected) for one in read_so.problems if one.place.sheet in ("Boards", "Edgings")] == [
        ("Boards", "a sheet Boards: the boards that the finishes name"), ("Edgings", "a sheet Edgings: the edgings that the finishes name"),
    ]  # fmt: skip


# --- what parts ask of a finish -------------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("old", "new", "problems"),
    [
        ("| white 18      | white 1        | oak 19", "| | white 1 | oak 19", [f"Finishes B3: nothing: the cell is blank | carcass board: {NEEDS} Boards | fill it in: the side of base needs it"]),
        ("| oak 19      | oak veneer", "| | oak veneer", [f"Finishes D3: nothing: the cell is blank | front board: {NEEDS} Boards | fill it in: the door of base needs it"]),
        ("| oak 19      | oak veneer", "| oak 19 |", [f"Finishes E3: nothing: the cell is blank | front edging: {NEEDS} Edgings | fill it in: the door of base needs it; for raw edges take out its x"]),
        ("| white 18      | white 1        | oak 19      | oak veneer", "| white 18 | | oak 19 | oak veneer", [f"Finishes C3: nothing: the cell is blank | carcass edging: {NEEDS} Edgings | fill it in: the side of base needs it; for raw edges take out its x"]),
        ("| white 18      | white 1        | oak 19      | oak veneer", "| | | |", [
            f"Finishes B3: nothing: the cell is blank | carcass board: {NEEDS} Boards | fill it in: the side of base needs it",
            f"Finishes C3: nothing: the cell is blank | carcass edging: {NEEDS} Edgings | fill it in: the side of base needs it; for raw edges take out its x",
            f"Finishes D3: nothing: the cell is blank | front board: {NEEDS} Boards | fill it in: the door of base needs it",
            f"Finishes E3: nothing: the cell is blank | front edging: {NEEDS} Edgings | fill it in: the door of base needs it; for raw edges take out its x"]),
    ],
)  # fmt: skip
def test_a_blank_cell_of_a_finish_that_a_part_needs(old: str, new: str, problems: list[str]) -> None:
    assert told(FINISHES.replace(old, new, 1)) == problems


def no_role(cell: str, role: str, header: str, what: str, mend: str) -> str:
    return f"Construction {cell}: the text {role} | {header}: a role that has its column in Finishes, such as carcass {what} | {mend}"


OR_BOARD, OR_EDGING = "use one of carcass, front, or add a column", "use one of carcass, front, or add a column"


@pytest.mark.parametrize(
    ("old", "new", "problems"),
    [
        ("depth | carcass | carcass | x", "depth | plinth | carcass | x", [no_role("F2", "plinth", "Board", "board", f"{OR_BOARD} plinth board to Finishes")]),
        ("depth | carcass | carcass | x", "depth | carcas | carcass | x", [no_role("F2", "carcas", "Board", "board", "did you mean carcass?")]),
        ("depth | carcass | carcass | x", "depth | Carcass | Black | x", [no_role("G2", "black", "Edging", "edging", f"{OR_EDGING} black edging to Finishes")]),
        ("| x | carcass\n", "| x | frnt\n", [no_role("K3", "frnt", "Right", "edging", "did you mean front?")]),
        ("front | front | x | x | x | carcass", "front | front | black | x | x | carcass", [no_role("H3", "black", "Front", "edging", f"{OR_EDGING} black edging to Finishes")]),
        ("front | front | x | x | x | carcass", "frnt | front | x | x | x | carcas", [no_role("F3", "frnt", "Board", "board", "did you mean front?"), no_role("K3", "carcas", "Right", "edging", "did you mean carcass?")]),
        ("front | front | x | x | x | carcass", "front | | x | x | x | carcass", ["Construction G3: nothing, but there is an x under Front and Back and Left | Edging: the name with which the edges marked x are "
                                                                               "banded | fill in the Edging, or take the x away"]),
        ("depth | carcass | carcass | x", "depth | error:#REF! | carcass | x | blck", ["Construction F2: the error #REF! | Board: a few words | mend the formula in this cell, or type its answer",
                                                                                     no_role("I2", "blck", "Back", "edging", f"{OR_EDGING} blck edging to Finishes")]),
        # an edging that nothing is banded with is asked of nobody
        ("depth | carcass | carcass | x", "depth | carcass | black | ", []), ("front | front | x | x | x | carcass", "front | black | front | front | carcass | carcass", []),
    ],
)  # fmt: skip
def test_a_part_of_a_role_that_no_finish_has(old: str, new: str, problems: list[str]) -> None:
    assert told(FINISHES, CONSTRUCTION.replace(old, new, 1)) == problems


def test_a_role_of_a_board_alone_is_none_of_an_edging_and_is_told_at_its_own_cell() -> None:
    finishes = FINISHES.replace("Words for the quote", "Back  BOARD | Words for the quote").replace("| white, matt", "| white 18 | white, matt").replace("| oak veneer, oiled", "| | oak veneer, oiled")
    parts = CONSTRUCTION.replace("| x | carcass\n", "| x | bck\n", 1) + "base | back | 1 | height | width | back"
    assert told(finishes, parts) == [
        f"Finishes F3: nothing: the cell is blank | back board: {NEEDS} Boards | fill it in: the back of base needs it", no_role("K3", "bck", "Right", "edging", f"{OR_EDGING} bck edging to Finishes"),
    ]  # fmt: skip


def test_a_cabinet_without_a_finish_asks_no_nameless_one() -> None:
    nameless, blank = FINISHES.replace("white  | white 18", "       | ", 1), CABINETS.replace("| white\n", "|\n")
    assert [one.partition(":")[0] for one in told(nameless, cabinets=blank)] == ["Finishes A2"]


def test_without_any_role_a_carcass_is_named_as_an_example() -> None:
    bare = "Finish | Words for the quote\nwhite | white, matt\noak | oak"
    assert told(bare, CONSTRUCTION.split("base | door")[0])[0] == no_role("F2", "carcass", "Board", "board", "use one of , or add a column carcass board to Finishes")


@pytest.mark.parametrize(
    ("count", "doors", "asked"),
    [
        ("1", "0", True), ("0", "1", False), ("00", "1", False), ("12", "0", True), ("doors", "1", True), ("Doors", "2", True), ("doors", "0", False), ("doors", "many", False), ("1 + 1", "1", False),
        ("doors + 1", "1", False), ("-1", "1", False), ("text:٣", "1", False), ("ends", "1", False), ("drawers", "1", False), ("shelves", "0", True),
    ],
)  # fmt: skip
def test_only_a_part_that_surely_stands_asks_for_its_role(count: str, doors: str, asked: bool) -> None:
    cabinet = f"Ref | Kind | Qty | Width | Height | Depth | Shelves | Doors | Drawers | Finish\nA | base | 1 | 600 | 720 | 560 | 1 | {doors} | 0 | oak"
    part = f"Kind | Part | Count | Length | Width | Board | Edging | Front | Back | Left | Right\nbase | panel | {count} | height | width | plinth"
    assert [one[:15] for one in told(FINISHES, part, cabinet) if "plinth" in one] == (["Construction F2"] if asked else [])


@pytest.mark.parametrize(
    ("cabinets", "sheets"),
    [
        ("C | bse | 1 | 600 | 720 | 560 | 1 | 1 | 0 | oak", ["Cabinets C2"]), ("C | base | 1 | 600 | 720 | 560 | 1 | 1 | 0 | elm", ["Cabinets J2", "Construction F2"]),
        ("C | open | 1 | 600 | 720 | 560 | 1 | 1 | 0 | oak", ["Cabinets B2"]), ("", []),
    ],
)  # fmt: skip
def test_a_kind_that_no_sound_cabinet_has_asks_for_nothing(cabinets: str, sheets: list[str]) -> None:
    table = CABINETS.splitlines()[1] + "\n" + cabinets
    part = CONSTRUCTION.replace("depth | carcass | carcass", "depth | plinth | carcass", 1)
    said = [one.partition(":")[0] for one in told(FINISHES, part, table)]
    assert said == (["Cabinets B2"] if "bse" in cabinets else sheets or ["Cabinets "])


def test_each_finish_is_asked_for_itself_and_told_once() -> None:
    """The first cabinet has no doors, the second and third have: their finish is the one that lacks the front."""
    cabinets = CABINETS.replace("A   | base | 1 | 600 | 720 | 560 | 1 | 1 | 0 | white", "Z | base | 1 | 600 | 720 | 560 | 1 | 0 | 0 | oak\nA | bse | 1 | 600 | 720 | 560 | 1 | 1 | 0 | white")
    cabinets += "C   | base | 1 | 600 | 720 | 560 | 1 | 1 | 0 | oak\n"
    finishes = FINISHES.replace("| oak 19      | oak veneer", "| | oak veneer", 1)
    assert told(finishes, CONSTRUCTION, cabinets) == [
        "Cabinets B3: the text bse | Kind: a kind that stands in the sheet Construction | did you mean base?",
        f"Finishes D3: nothing: the cell is blank | front board: {NEEDS} Boards | fill it in: the door of base needs it",
    ]


def test_a_row_without_a_name_does_not_hide_the_finish_behind_it() -> None:
    nameless = FINISHES.replace("white  | white 18", "       | white 18", 1)
    assert [one.partition(":")[0] for one in told(nameless.replace("| oak 19 ", "| ", 1), cabinets=CABINETS.replace("| white\n", "| oak\n"))] == ["Finishes A2", "Finishes D3"]


def test_names_are_spelt_as_their_first_row_spells_them() -> None:
    mixed = CONSTRUCTION.replace("base | door", "BASE | door").replace("front | front | x | x | x | carcass", "Front | FRONT | X | x | x | Carcass")
    read_so = answer(FINISHES, mixed)
    assert isinstance(read_so, Refusal)
    assert read_so.readable is not None
    rows = read_so.readable.construction
    assert [row.kind for row in rows] == ["base", "base", "base"]
    assert (rows[1].board, rows[1].edging, rows[1].front, rows[1].back, rows[1].left, rows[1].right) == ("front", "front", "x", "x", "x", "carcass")


# --- loose parts that name a role of their finish -------------------------------------------------------------------------------------------

LOOSE = "Part | Qty | Length | Width | Board | Edging | Front | Back | Left | Right | Finish\n"
THEIR = "Board: a name that stands in the sheet Boards"


@pytest.mark.parametrize(
    ("row", "problems"),
    [
        ("filler | 1 | 700 | 80 | Front | FRONT | x | carcass | | | oak", []), ("filler | 1 | 700 | 80 | oak 19 | white 1 | x | oak veneer | | |", []), ("filler | 1 | 700 | 80 | oak 19 | | | | | |", []),
        ("filler | 1 | 700 | 80 | oak 19 | front | | | | | oak", []), ("filler | 1 | 700 | 80 | front | | | | | |", [f"Loose parts E2: the text front | {THEIR} | use one of white 18, oak 19"]),
        ("filler | 1 | 700 | 80 | frnt | | | | | | oak", [f"Loose parts E2: the text frnt | {THEIR}, or a role of the finish oak | did you mean front?"]),
        ("filler | 1 | 700 | 80 | ash | | | | | | oak", [f"Loose parts E2: the text ash | {THEIR}, or a role of the finish oak | use one of white 18, oak 19, carcass, front"]),
        ("filler | 1 | 700 | 80 | front | ash | | | | | oak", ["Loose parts F2: the text ash | Edging: a name that stands in the sheet Edgings, or a role of the finish oak | use one of white 1, oak veneer, carcass, front"]),
        ("filler | 1 | 700 | 80 | oak 19 | | | | | ash |", ["Loose parts J2: the text ash | Right: x for the row's Edging, or a name that stands in the sheet Edgings | use one of white 1, oak veneer"]),
        ("filler | 1 | 700 | 80 | oak 19 | | | frnt | | | oak", ["Loose parts H2: the text frnt | Back: x for the row's Edging, or a name that stands in the sheet Edgings, or a role of the finish oak | did you mean front?"]),
        ("filler | 1 | 700 | 80 | oak 19 | | x | | | x |", ["Loose parts F2: nothing, but there is an x under Front and Right | Edging: the name with which the edges marked x are banded | fill in the Edging, or take the x away"]),
        ("filler | 1 | 700 | 80 | ash | | x | | | | elm", ["Loose parts K2: the text elm | Finish: a name that stands in the sheet Finishes | use one of white, oak"]),
        ("filler | 1 | 700 | 80 | ash | | x | | | | error:#REF!", ["Loose parts E2: the text ash | Board: a name that stands in the sheet Boards | use one of white 18, oak 19",
          "Loose parts F2: nothing, but there is an x under Front | Edging: the name with which the edges marked x are banded | fill in the Edging, or take the x away",
          "Loose parts K2: the error #REF! | Finish: a name that stands in the sheet Finishes | mend the formula in this cell, or type its answer"]),
    ],
)  # fmt: skip
def test_what_a_loose_part_names(row: str, problems: list[str]) -> None:
    assert told(FINISHES, CONSTRUCTION, CABINETS, **{"Loose parts": LOOSE + row}) == problems


def test_a_role_that_its_finish_leaves_blank_is_told_of_the_finish() -> None:
    finishes = FINISHES.replace("| oak 19      | oak veneer", "| | ", 1)
    said = told(finishes, CONSTRUCTION, CABINETS.replace("| oak", "| white"), **{"Loose parts": LOOSE + "filler | 1 | 700 | 80 | front | front | x | | | | oak\nplinth | 1 | 700 | 80 | front | | | | | | oak"})
    assert said == [f"Finishes D3: nothing: the cell is blank | front board: {NEEDS} Boards | fill it in: the loose part filler needs it",
                    f"Finishes E3: nothing: the cell is blank | front edging: {NEEDS} Edgings | fill it in: the loose part filler needs it; for raw edges take out its x"]  # fmt: skip


def test_a_part_whose_role_its_finish_leaves_blank_is_not_handed_on() -> None:
    finishes = FINISHES.replace("| oak 19      | oak veneer", "| | oak veneer", 1)
    read_so = answer(finishes, **{"Loose parts": LOOSE + "filler | 1 | 700 | 80 | front | | | | | | oak\nplinth | 1 | 700 | 80 | front | | | | | | white"})
    assert isinstance(read_so, Refusal)
    assert read_so.readable is not None
    assert [part.part for part in read_so.readable.loose_parts] == ["plinth"]


@pytest.mark.parametrize(("sheet", "why"), [("Boards", "the boards that Loose parts name"), ("Edgings", "the edgings that Loose parts name"), ("Finishes", "the finishes that Loose parts name")])
def test_a_sheet_that_loose_parts_need(sheet: str, why: str) -> None:
    tables = {"Finishes": FINISHES, "Boards": BOARDS, "Edgings": EDGINGS, "Loose parts": LOOSE + "filler | 1 | 700 | 80 | white 18 | white 1 | x | | | |\nplinth | 1 | 700 | 80 | front | | | | | | oak"}
    read_so = read({name: table for name, table in tables.items() if name != sheet and (name != "Finishes" or sheet == name)})
    assert isinstance(read_so, Refusal)
    assert f"a sheet {sheet}: {why}" in [one.expected for one in read_so.problems]
    assert read_so.readable is not None
    assert not [part for part in read_so.readable.loose_parts if part.part == "filler" and sheet != "Finishes"], "a part whose names cannot be looked up is not handed on"
