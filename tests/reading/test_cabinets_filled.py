"""Cabinets filled in from their kind, the job and the numbers of their room; the shop's own columns; each sentence whole."""

from __future__ import annotations

from typing import Any

import pytest

from estimator.model.exact import Fraction
from estimator.model.refusal import Refusal
from tests.reading.held import read

F = Fraction
HEAD = "Ref | Room | Kind | Qty | Width | Height | Depth | Shelves | Doors | Drawers | Finish"
KINDS = "Kind | Height | Depth | Shelves | Doors | Drawers\nbase | 720 | 560 | 2 | 1 | 3\nopen | | | | |"
CONSTRUCTION = "Kind | Part | Count | Length | Width | Board\nbase | side | 2 | height | depth | front\nopen | side | 2 | plinth height | bank | front"
FINISHES = "Finish | front board\nwhite | white 18"
BOARDS = "Board | Thickness | Sheet length | Sheet width | Price\nwhite 18 | 18 | 2800 | 2070 | 61"
JOB = "Item | Value\nQuote date | 2031-02-03\nCurrency | EUR\nTax rate | 0 %\nMargin | 20 %"
SHOP = "Item | Value\nDirect rate | 30\nOverhead rate | 24"
BASE = {"Job": JOB, "Shop": SHOP, "Kinds": KINDS, "Construction": CONSTRUCTION, "Finishes": FINISHES, "Boards": BOARDS}


def answer(*rows: str, head: str = HEAD, **more: str) -> Any:
    return read({**BASE, "Cabinets": "\n".join((head, *rows)), **{name.replace("_", " "): table for name, table in more.items()}})


def told(*rows: str, **more: Any) -> list[str]:
    read_so = answer(*rows, **more)
    problems = read_so.problems if isinstance(read_so, Refusal) else ()
    return [f"{one.place.sheet} {one.place.cell}: {one.found} | {one.expected} | {one.mend}" for one in problems]


def cabinets(*rows: str, **more: Any) -> Any:
    read_so = answer(*rows, **more)
    return (read_so.readable if isinstance(read_so, Refusal) else read_so).cabinets


# --- from the kind --------------------------------------------------------------------------------------------------------------------------


def test_what_is_blank_takes_the_kinds_own_and_what_is_typed_stays() -> None:
    bare, typed, none = cabinets("A | | BASE | 1 | 600 | | | | | | white", "B | | base | 1 | 600 | 700 | 500 | 0 | 0 | 0 | white", "C | | open | 1 | 600 | 700 | 300 | | | | white")
    assert (bare.height_mm, bare.depth_mm, bare.shelves, bare.doors, bare.drawers) == (720, 560, 2, 1, 3)
    assert (typed.height_mm, typed.depth_mm, typed.shelves, typed.doors, typed.drawers) == (700, 500, 0, 0, 0)
    assert (none.shelves, none.doors, none.drawers) == (0, 0, 0)


def blank(cell: str, header: str, kind: str = "open", unit: str = "mm") -> str:
    return f"Cabinets {cell}: nothing: the cell is blank, and the kind {kind} gives none | {header} in {unit}: a number above 0 | fill it in, or give the kind its {header} in the sheet Kinds"


@pytest.mark.parametrize(
    ("row", "kinds", "problems"),
    [
        ("A | | open | 1 | 600 | 700 | | | | | white", KINDS, [blank("G2", "Depth")]), ("A | | open | 1 | 600 | | | | | | white", KINDS, [blank("F2", "Height"), blank("G2", "Depth")]),
        ("A | | base | 1 | 600 | | 560 | | | | white", "Kind | Depth\nopen | 5", [blank("F2", "Height", "base")]), ("A | | base | 1 | 600 | | 560 | | | | white", "", [blank("F2", "Height", "base")]),
        # where the kind itself is unsound, that alone is told
        ("A | | base | 1 | 600 | | | | | | white", KINDS.replace("base | 720", "base | tall"), ["Kinds B2: the text tall | Height in mm: a number above 0 | type a number, with digits only"]),
        ("A | | base | 1 | 600 | 720 | | | | | white", KINDS.replace("| 2 | 1 | 3", "| two | 1 | 3"), ["Kinds D2: the text two | Shelves: a whole number, 0 or more | type a number, with digits only"]),
        ("A | | base | 1 | 600 | | | | | | white", "Kind | Height\nbase | tall", ["Cabinets G2: nothing: the cell is blank, and the kind base gives none | Depth in mm: a number above 0 | fill it in, or give the kind its Depth in the sheet Kinds",
                                                                               "Kinds B2: the text tall | Height in mm: a number above 0 | type a number, with digits only"]),
        ("A | | base | 1 | 600 | tall | | | | | white", KINDS, ["Cabinets F2: the text tall | Height in mm: a number above 0 | type a number, with digits only"]),
        # a kind that may stand in a row without a name, or in a sheet or under a header that is misspelt
        ("A | | base | 1 | 600 | | | | | | white", KINDS.replace("base", "    "), ["Kinds A2: nothing: the cell is blank | Kind: a few words | fill it in (a kind of the Construction sheet)"]),
        ("A | | base | 1 | 600 | | | | | | white", KINDS.replace("Kind", "Knd"), ["Kinds A1: a column named Knd | a column named Kind, or a name unlike any of ours | did you mean Kind?"]),
        ("A | | base | 1 | 600 | | | | | | white", KINDS.replace("Height", "Heigth"), ["Kinds B1: a column named Heigth | a column named Height, or a name unlike any of ours | did you mean Height?"]),
        ("A | | bse | 1 | 600 | | | | | | white", KINDS, ["Cabinets C2: the text bse | Kind: a kind that stands in the sheet Construction | did you mean base?"]),
        ("A | | base | 1 | 600 | 720 | 560 | | | | white", KINDS + "\nwall | 700 | 300", ["Kinds A4: the text wall | Kind: a kind that stands in the sheet Construction | use one of base, open"]),
    ],
)  # fmt: skip
def test_a_size_that_nobody_gives(row: str, kinds: str, problems: list[str]) -> None:
    assert told(row, Kinds=kinds) == problems


def test_a_misspelt_sheet_of_kinds_may_hold_the_kind() -> None:
    read_so = read({**{name: table for name, table in BASE.items() if name != "Kinds"}, "Kins": KINDS, "Cabinets": f"{HEAD}\nA | | base | 1 | 600 | | | | | | white"})
    assert isinstance(read_so, Refusal)
    assert [str(one.place) for one in read_so.problems] == ["job.xlsx > Kins"]


def test_a_size_is_asked_for_in_the_unit_of_the_book() -> None:
    assert told("A | | open | 1 | 24 | 28 | | | | | white", Job=JOB + "\nUnits | inch") == [blank("G2", "Depth", unit="inches")]


@pytest.mark.parametrize(("sheet", "why"), [("Construction", "what each kind of cabinet is made of"), ("Finishes", "the board and the edging of each finish choice")])
def test_the_sheets_that_cabinets_need(sheet: str, why: str) -> None:
    read_so = read({**{name: table for name, table in BASE.items() if name != sheet}, "Cabinets": f"{HEAD}\nA | | base | 1 | 600 | | | | | | white\nB | | base | 1 | 600 | | | | | | white"})
    assert isinstance(read_so, Refusal)
    assert [one.expected for one in read_so.problems] == [f"a sheet {sheet}: {why}"]
    assert read_so.readable is not None
    assert read_so.readable.cabinets == ()


# --- from the job ---------------------------------------------------------------------------------------------------------------------------

BLANK_FINISH = "Cabinets K2: nothing: the cell is blank, and Job > Finish is blank too | Finish: a name that stands in the sheet Finishes | fill it in, or fill in Finish in the sheet Job"


@pytest.mark.parametrize(
    ("job", "own", "problems", "finish"),
    [
        ("", "white", [], "white"), ("", "WHITE", [], "white"), ("\nFinish | white", "", [], "white"), ("\nFinish | White", "", [], "white"), ("", "", [BLANK_FINISH], None), ("\nFinish |", "", [BLANK_FINISH], None),
        ("\nFinish | elm", "", ["Job B6: the text elm | Finish: a name that stands in the sheet Finishes | use one of white"], None),
        ("\nFinish | White melamine", "", ["Job B6: the text White melamine | Finish: a name that stands in the sheet Finishes | did you mean white?"], None),
        ("\nFinish | whit", "white", ["Job B6: the text whit | Finish: a name that stands in the sheet Finishes | did you mean white?"], "white"),
        ("\nFinish | error:#REF!", "", ["Job B6: the error #REF! | Finish: a name that stands in the sheet Finishes | mend the formula in this cell, or type its answer"], None),
        ("\n | white", "", ["Job A6: a value whose name is blank | the name of the item | name it, or take B6 out"], None),
        ("\nFinish | white", "elm", ["Cabinets K2: the text elm | Finish: a name that stands in the sheet Finishes | use one of white"], None),
        ("\nFinish | white", "error:#REF!", ["Cabinets K2: the error #REF! | Finish: a name that stands in the sheet Finishes | mend the formula in this cell, or type its answer"], None),
    ],
)  # fmt: skip
def test_a_blank_finish_takes_the_jobs(job: str, own: str, problems: list[str], finish: str | None) -> None:
    row = f"A | | base | 1 | 600 | | | | | | {own}"
    assert told(row, Job=JOB + job) == problems
    assert [cabinet.finish for cabinet in cabinets(row, Job=JOB + job)] == ([finish] if finish else [])


# --- refs -----------------------------------------------------------------------------------------------------------------------------------


def test_a_blank_ref_is_the_next_number_that_nobody_took() -> None:
    loose = "Ref | Room | Part | Qty | Length | Width | Board\nKITCHEN  1 | | shelf | 1 | 500 | 300 | white 18\n | kitchen | shelf | 1 | 500 | 300 | white 18"
    extras = "Ref | Room | Words for the quote | Qty | Price each\n | Kitchen | tap | 1 | 90\nKitchen 4 | | tap | 1 | 90\n | | tap | 1 | 90"
    rows = [" | Kitchen | base | 1 | 600 | | | | | | white", " | Kitchen | base | 1 | 600 | | | | | | white", "1 | | base | 1 | 600 | | | | | | white", " | | base | 1 | 600 | | | | | | white"]
    job = answer(*rows, Loose_parts=loose, Extras=extras)
    assert [one.ref for one in (*job.cabinets, *job.loose_parts, *job.extras)] == ["Kitchen 2", "Kitchen 3", "1", "2", "KITCHEN 1", "Kitchen 5", "Kitchen 6", "Kitchen 4", "3"]


AGAIN = "a Ref that no other row of this sheet has"


@pytest.mark.parametrize(
    ("refs", "problems"),
    [
        (["A", "B"], []), (["A", "a"], [f"Cabinets A3: the Ref a a second time | {AGAIN} | change this one or A2, or leave it blank for the next number"]),
        (["A", "B", "A", "A"], [f"Cabinets A4: the Ref A a second time | {AGAIN} | change this one or A2, or leave it blank for the next number",
                               f"Cabinets A5: the Ref A a second time | {AGAIN} | change this one or A2, or leave it blank for the next number"]),
        (["error:#REF!", "A", "A"], ["Cabinets A2: the error #REF! | Ref: a few words | mend the formula in this cell, or type its answer",
                                    f"Cabinets A4: the Ref A a second time | {AGAIN} | change this one or A3, or leave it blank for the next number"]),
    ],
)  # fmt: skip
def test_a_ref_that_stands_twice_in_a_sheet(refs: list[str], problems: list[str]) -> None:
    rows = [f"{ref} | Kitchen | base | 1 | 600 | | | | | | white" for ref in refs]
    assert told(*rows) == problems
    assert len(cabinets(*rows)) == len(refs) - len(problems)


def test_one_ref_may_stand_in_several_sheets() -> None:
    loose = "Ref | Room | Part | Qty | Length | Width | Board\nA | | shelf | 1 | 500 | 300 | white 18"
    assert told("A | | base | 1 | 600 | | | | | | white", Loose_parts=loose) == []


# --- columns of the shop's own --------------------------------------------------------------------------------------------------------------


def own(header: str, *contents: str, units: str = "mm") -> tuple[list[Any], set[str], list[str]]:
    """The numbers of a further column, which of them are lengths, and the problems."""
    rows = [f"{number} | | base | 1 | 600 | 720 | 560 | | | | white | {content}" for number, content in enumerate(contents)]
    how = {"head": f"{HEAD} | {header}", "Job": JOB + f"\nUnits | {units}"}
    found = cabinets(*rows, **how)
    return [next(iter(one.own_numbers.values()), None) for one in found], set(found[0].own_lengths) if found else set(), told(*rows, **how)


@pytest.mark.parametrize(
    ("header", "contents", "numbers", "lengths"),
    [
        ("Partitions", ("1", "", "2"), [1, 0, 2], set()), ("Partitions", ("text:1", "text:2"), [1, 2], set()), ("Colour", ("red", "green"), [None, None], set()), ("Supplier", ("7", "A 12"), [7, 0], set()),
        ("Knob", ("19 mm", "7"), [19, 7], {"knob"}), ("Knob", ('text:3/4"', "7"), [F("19.05"), 7], {"knob"}), ("Knob", ("text:7", "red"), [7, 0], set()), ("Knob", ("red", "7"), [0, 7], set()), ("Knob", ("7 kg",), [None], set()),
        ("Plinth height", ("100",), [100], {"plinth_height"}), ("Rebate", ("date:2031-02-03", "7"), [0, 7], set()), ("Rebate", ("date:2031-02-03",), [None], set()), ("Knob (mm)", ("7",), [7], {"knob"}), ("Knob (kg)", ("7",), [7], set()),
        ("Share", ("percent:0.5",), [None], set()), ("Handle length", ("bool:true", "5"), [0, 5], {"handle_length"}), ("Top rail", ("1,5",), [F("1.5")], {"top_rail"}),
    ],
)  # fmt: skip
def test_a_further_column_with_a_number_is_a_name_for_the_rules(header: str, contents: tuple[str, ...], numbers: list[Any], lengths: set[str]) -> None:
    assert own(header, *contents) == (numbers, lengths, [])


@pytest.mark.parametrize("ending", ["height", "width", "depth", "length", "thickness", "gap", "inset", "setback", "joint", "rail", "overhang"])
def test_a_header_that_ends_like_a_length_is_one(ending: str) -> None:
    assert own(f"Knob {ending.upper()}", "2", units="inch")[:2] == ([F("50.8")], {f"knob_{ending}"})
    assert own(f"{ending} of knobs", "2", units="inch")[:2] == ([2], set())


@pytest.mark.parametrize(
    ("header", "content", "units", "problems"),
    [
        ("Plinth height", "high", "mm", ["Cabinets L2: the text high | Plinth height in mm: a number, for the rules of Construction | type a number, with digits only"]),
        ("Plinth height", "high", "inch", ["Cabinets L2: the text high | Plinth height in inches: a number, for the rules of Construction | type a number, with digits only"]),
        ("Bank", "none", "mm", ["Cabinets L2: the text none | Bank: a number, for the rules of Construction | type a number, with digits only"]),
        ("Bank", "bool:true", "mm", ["Cabinets L2: TRUE, which is a yes or a no | Bank: a number, for the rules of Construction | type a number"]),
        ("Bank", "=1+1", "mm", ["Cabinets L2: a formula whose answer was not saved | Bank: a number, for the rules of Construction | open the workbook in your spreadsheet program, save it there, and run again"]),
        ("plinth_height", "error:#REF!", "mm", ["Cabinets L2: the error #REF! | plinth_height in mm: a number, for the rules of Construction | mend the formula in this cell, or type its answer"]),
    ],
)  # fmt: skip
def test_a_word_where_a_rule_asks_for_a_number(header: str, content: str, units: str, problems: list[str]) -> None:
    assert own(header, content, units=units)[2] == problems
    assert own(header, content, units=units)[0] == []


@pytest.mark.parametrize(
    ("headers", "problems"),
    [
        ("Knob size | Knob Size", ["Cabinets M1: a second column named Knob Size | one column of each name | give one of the two another name"]),
        ("Knob size | knob_size", ["Cabinets M1: a second column named knob_size | one column of each name | give one of the two another name"]), ("Knob size | Knob colour", []),
        ("Knob size | Knob size", ["Cabinets M1: a second column named Knob size | one column of each name | give one of the two another name"]),
    ],
)  # fmt: skip
def test_two_columns_of_one_name(headers: str, problems: list[str]) -> None:
    assert told("A | | base | 1 | 600 | 720 | 560 | | | | white | 5 | 7", head=f"{HEAD} | {headers}") == problems


def test_columns_after_one_that_says_nothing_are_read() -> None:
    (twice,) = cabinets("A | | base | 1 | 600 | 720 | 560 | | | | white | 5 | 7 | 8", head=f"{HEAD} | Knob size | knob_size | Partitions")
    assert twice.own_numbers == {"knob_size": 5, "partitions": 8}
    (one,) = cabinets("A | | base | 1 | 600 | 720 | 560 | | | | white | red | 5 | | 7", head=f"{HEAD} | Colour | Knob size | Empty | Partitions")
    assert one.own_numbers == {"knob_size": 5, "partitions": 7}
