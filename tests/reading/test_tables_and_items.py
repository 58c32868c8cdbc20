"""Sheets of rows and sheets of names and values: where their headers stand, which column is meant, and what each is told, whole."""

from __future__ import annotations

from typing import Any

import pytest

from estimator.model.form import Column, Sheet
from estimator.model.problems import Place
from estimator.reading.columns import Table, header_row
from estimator.reading.findings import Findings
from estimator.reading.item_sheets import ItemSheet, further_value_columns, item_key, read_items, read_values, tell_misspelt
from estimator.reading.raw_cells import Cell, RawSheet
from estimator.reading.tables import read_table
from tests.reading.held import sheet_of

FORM = Sheet(
    "Stock", "rows", "shop", "",
    (
        Column("Board", "board", "text", "its name", needed=True), Column("Width", "width_mm", "length", "of the sheet", needed=True, above_0=True), Column("Count", "count", "whole", "sheets", "1"),
        Column("Price", "price", "money", "of one"), Column("Note", "note", "text", "for the shop"),
    ),
)  # fmt: skip
OURS = "or a name unlike any of ours"


def table(text: str, *, units: Any = "mm", form: Sheet = FORM, merged: tuple[str, ...] = ()) -> tuple[Table, list[str], list[str]]:
    """The table, its problems and its remarks."""
    findings = Findings()
    raw = sheet_of(form.name, text)
    raw.merged[:] = merged
    read = read_table(raw, form, book="job.xlsx", units=units, starts_1904=False, findings=findings)
    told = [f"{one.place.cell}: {one.found} | {one.expected} | {one.mend}" for one in findings.problems_in_order("job.xlsx")]
    return read, told, [f"{one.place.cell}: {one.words}" for one in findings.remarks_in_order("job.xlsx")]


# --- headers --------------------------------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("text", "row"),
    [
        ("Board | Width\nwhite | 600", 1), ("Our stock\n\nBoard | Width\nwhite | 600", 3), ("Board\nBoard | Width", 2), ("Board | its width\nwhite | 600", 1), ("7 | 8\nBoard | Width", 2), ("", 0), ("one | two", 1),
        ("x\n" * 29 + "BOARD (any) | width [mm]", 30), ("x\n" * 30 + "Board | Width", 1), ("Board | Board\nBoard | Width", 2),
    ],
)  # fmt: skip
def test_the_row_of_the_headers(text: str, row: int) -> None:
    assert header_row(sheet_of("Stock", text), {"board", "width", "count"}) == row


def test_a_row_whose_cells_are_merged_away_is_none_of_headers() -> None:
    assert header_row(RawSheet("Stock", False, {2: {}, 3: {1: Cell("Stock")}}), {"board"}) == 3
    assert header_row(RawSheet("Stock", False, {2: {}}), {"board"}) == 0


def test_a_misspelt_header_is_no_column_of_the_shops_own() -> None:
    assert table("Board | Widht | Supplier\nwhite | 600 | 7")[0].further == {3: "Supplier"}


def test_a_role_of_finishes_is_no_misspelling() -> None:
    columns = (Column("Finish", "finish", "text", ""), Column("Front boards", "front_boards", "text", ""))
    assert [table("Finish | front board\nwhite | 8", form=Sheet(name, "rows", "shop", "", columns))[1] for name in ("Finishes", "Stock")] == [
        [], ["B1: a column named front board | a column named Front boards, or a name unlike any of ours | did you mean Front boards?"],
    ]  # fmt: skip


def test_roles_count_as_headers_where_they_are_looked_for() -> None:
    text = "What we offer\nFinish | carcass board | x\nwhite | white 18 | y"
    assert [header_row(sheet_of("Finishes", text), {"finish"}, roles=roles) for roles in (True, False)] == [2, 1]
    assert header_row(sheet_of("Finishes", "note\na edging | b board"), {"finish"}, roles=True) == 2


@pytest.mark.parametrize(
    ("text", "problems"),
    [
        ("Board | Width | Count\nwhite | 600 | 2", []), ("board (ours) | WIDTH [mm] |  count \nwhite | 600 | 2", []), ("Board | Width | Board\nwhite | 600 | 2", ["C1: a second column named Board | one column of each name | take this one or A1 out, or give it another name"]),
        ("Board | Widht | Count\nwhite | 600 | 2", [f"B1: a column named Widht | a column named Width, {OURS} | did you mean Width?"]), ("Board | Width | Cuont | Count\nwhite | 600 | 2 | 2", []),
        ("Board | Width | Cuont\nwhite | 600 | 2", [f"C1: a column named Cuont | a column named Count, {OURS} | did you mean Count?"]), ("Board | Width | Supplier\nwhite | 600 | 2", []),
        ("Board | Width | Widht\nwhite | 600 | 2", []), ("Bord | Widht\nwhite | 600", [f"A1: a column named Bord | a column named Board, {OURS} | did you mean Board?", f"B1: a column named Widht | a column named Width, {OURS} | did you mean Width?"]),
        # a needed column that is not there
        ("Board | Count\nwhite | 2", ["row 1: no column named Width | Width: of the sheet | type Width above the column that holds it"]), ("Board | Count", []), ("Board | Count\n\n", []),
        ("Price | Count\n600 | 2", ["row 1: no column named Board and none named Width | Board: its name; Width: of the sheet | type Board and Width above the column that holds it"]),
        ("Brett | Breite\nweiß | 600", ["row 1: headers of which we know none | the headers Board, Width, Count, Price, Note | name the columns as in the blank form (estimator blank writes it)"]),
        # values without a name
        ("Board | | Count\nwhite | 600 | 2", ["B1: a column of values without a name | a column named Width | type Width above it"]), ("Board | Width | | Count\nwhite | 600 | 5 | 2", ["C1: a column of values without a name | a name above every column | type its name above it, or take its values out"]),
        ("Board | | | Count\nwhite | 600 | 5 | 2", ["row 1: no column named Width | Width: of the sheet | type Width above the column that holds it"]),
        ("Board | Width | | | Count\nwhite | 600 | 5 | 6 | 2", ["C1: a column of values without a name | a name above every column | type its name above it, or take its values out",
                                                               "D1: a column of values without a name | a name above every column | type its name above it, or take its values out"]),
    ],
)  # fmt: skip
def test_what_is_told_of_whole_columns(text: str, problems: list[str]) -> None:
    assert table(text)[1] == problems


def test_values_beside_the_table_are_remarked_and_headers_with_nothing_under_them_are_not() -> None:
    words = "values without a name above them are not read: type a name there, or take them out"
    assert table("Board | Width\nwhite | 600 | 5 | | 6")[1:] == ([], [f"C1: {words}", f"E1: {words}"])
    assert table("Board | Width | | Supplier\nwhite | 600")[1:] == ([], [])
    assert table("Stock of us | | | 7\nBoard | Width\nwhite | 600")[1:] == ([], []), "what stands above the headers is a title"


@pytest.mark.parametrize(
    ("header", "units", "said"),
    [
        *((f"Width ({unit})", "mm", said) for unit, said in (("inch", "inch"), ("inches", "inch"), ("in", "inch"), ('"', "inch"), ("cm", "cm"), ("m", "m"))), ("Width (mm)", "inch", "mm"), ("Width (mm)", "mm", ""), ("Width (IN)", "inch", ""),
        ("Width", "inch", ""), ("Width (kg)", "mm", ""), ("Price (inch)", "mm", ""),
    ],
)  # fmt: skip
def test_a_header_with_another_unit(header: str, units: str, said: str) -> None:
    text = f"Board | {header}\nwhite | 600" if header.startswith("Width") else f"Board | Width | {header}\nwhite | 600 | 5"
    read_as = "mm" if units == "mm" else "inches"
    assert table(text, units=units)[1:] == ([], [f"B1: the header says {said}, but this workbook's Units are {units}: bare numbers here are read as {read_as}"] if said else [])


# --- rows -----------------------------------------------------------------------------------------------------------------------------------


def test_rows_their_cells_and_what_is_blank() -> None:
    read, problems, _ = table("Stock\nBoard | Width | Count | Price | Note | Supplier\nwhite | 600 | | 61.5 | here | 7\n | | | | only a note |\n | | | | | 8\n\noak | text:19 mm | 3 | | |")
    assert problems == []
    assert [(row.at.number, row.values["board"], row.values["width_mm"], row.values["count"], row.values["price"]) for row in read.rows] == [(3, "white", 600, 1, 61.5), (7, "oak", 19, 3, None)]
    assert [sorted(row.filled) for row in read.rows] == [["board", "note", "price", "width_mm"], ["board", "count", "width_mm"]]
    assert [{name: cell.text for name, cell in row.further.items()} for row in read.rows] == [{"Supplier": "7"}, {}]
    assert [row.sound for row in read.rows] == [True, True]
    assert read.rows[0].at.place("Price") == Place("job.xlsx", "Stock", "D3")
    assert read.rows[0].at.place("Supplier") == Place("job.xlsx", "Stock", "F3")
    assert (read.header_row, read.absent) == (2, frozenset())


@pytest.mark.parametrize(
    ("row", "problems"),
    [
        (" | 600", ["A2: nothing: the cell is blank | Board: a few words | fill it in (its name)"]), ("white |", ["B2: nothing: the cell is blank | Width in mm: a number above 0 | fill it in (of the sheet)"]),
        ("white | 0 | two", ["B2: the number 0 | Width in mm: a number above 0 | type a number above 0", "C2: the text two | Count: a whole number, 0 or more | type a number, with digits only"]),
        ("white | | error:#REF!", ["B2: nothing: the cell is blank | Width in mm: a number above 0 | fill it in (of the sheet)", "C2: the error #REF! | Count: a whole number, 0 or more | mend the formula in this cell, or type its answer"]),
    ],
)  # fmt: skip
def test_what_is_wrong_in_a_row(row: str, problems: list[str]) -> None:
    read, told, _ = table(f"Board | Width | Count\n{row}")
    assert told == problems
    assert [one.sound for one in read.rows] == [False]


def test_lengths_are_asked_for_in_the_unit_of_the_book() -> None:
    assert table("Board | Width\nwhite |\noak | wide", units="inch")[1] == [
        "B2: nothing: the cell is blank | Width in inches: a number above 0 | fill it in (of the sheet)", "B3: the text wide | Width in inches: a number above 0 | type a number, with digits only",
    ]  # fmt: skip


def test_only_the_boards_of_a_finish_make_it_a_row() -> None:
    finishes = Sheet("Finishes", "rows", "shop", "", (Column("Finish", "finish", "text", "", needed=True),))
    assert [row.at.number for row in table("Finish | front board | Colour\n | white 18 |\n | | red", form=finishes)[0].rows] == [2]
    assert [row.at.number for row in table("Board | Width | front board\n | | 8\nwhite | 600 |")[0].rows] == [3]


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ("text:1.500", "1.500 is read as 1.5; if 1500 is meant, type it without the point"), ("text:12.000", "12.000 is read as 12; if 12000 is meant, type it without the point"), ("text:100.250", "100.250 is read as 100.25; if 100250 is meant, type it without the point"),
        ("text: 1.500 ", "1.500 is read as 1.5; if 1500 is meant, type it without the point"), ("text:0.500", ""), ("text:1.50", ""), ("text:1.5000", ""), ("text:1000.500", ""), ("1.500", ""), ("text:1.500.000", ""),
    ],
)  # fmt: skip
def test_a_point_that_may_stand_for_thousands(typed: str, said: str) -> None:
    assert table(f"Board | Width | Price\nwhite | 600 | {typed}")[1:] == ([], [f"C2: {said}"] if said else [])


@pytest.mark.parametrize("what", ["text", "name", "choice", "yes no", "mark", "date", "banding", "currency"])
def test_a_word_is_no_number_with_a_point(what: Any) -> None:
    form = Sheet("Stock", "rows", "shop", "", (Column("Board", "board", "text", ""), Column("Any", "any", what, "", choices=("1.500",))))
    assert table("Board | Any\nwhite | text:1.500", form=form)[2] == []


@pytest.mark.parametrize(
    ("merged", "said"),
    [("A2:A3", "A2:A3"), ("B2:C9", "B2:C9"), ("A2:B2", ""), ("A1:A2", ""), ("A3:A3", ""), ("A2", ""), ("A9:A10", ""), ("AA2:AB3", "AA2:AB3"), ("", "")],
)
def test_cells_that_are_merged_over_rows(merged: str, said: str) -> None:
    first = said.partition(":")[0]
    words = f"cells {said} are merged: only {first} is read, the rows below it are blank there. Unmerge them, and type into each row what holds for it"
    assert table("Board | Width\nwhite | 600\noak | 500", merged=(merged,))[2] == ([f"{first}: {words}"] if said else [])


# --- names and values -----------------------------------------------------------------------------------------------------------------------


def items(text: str, **how: Any) -> tuple[ItemSheet, list[str]]:
    findings = Findings()
    read = read_items(sheet_of("Shop", text), book="job.xlsx", units="mm", starts_1904=False, findings=findings, **how)
    return read, [f"{one.place.cell}: {one.found} | {one.expected} | {one.mend}" for one in findings.problems_in_order("job.xlsx")]


ITEM, VALUE = ("a column named Item: the headers are Item, Value and Note", "a column named Value: the headers are Item, Value and Note")


@pytest.mark.parametrize(
    ("text", "problems", "complete"),
    [
        ("Item | Value\nrate | 30", [], True), ("", [], True), ("VALUE | Note | item\n30 | x | rate", [], True), ("Our shop\nItem | Value\nrate | 30", [], True), ("Item | Valu\nrate | 30", [f"B1: a column named Valu | {VALUE} | did you mean Value?"], False),
        ("Itm | Value\nrate | 30", [f"A1: a column named Itm | {ITEM} | did you mean Item?"], False), ("Item | Number\nrate | 30", [f"row 1: no column named Value | {VALUE} | name the column Value"], False),
        ("Name | Number\nrate | 30", [f"row 1: no column named Item | {ITEM} | name the column Item", f"row 1: no column named Value | {VALUE} | name the column Value"], False),
        ("Item | Value\n | 30", ["A2: a value whose name is blank | the name of the item | name it, or take B2 out"], False), ("Item | Value | Note\n | | 30", [], True),
        ("Item | Value\nrate | 30\nRATE (an hour) | 31", ["A3: a second row named RATE (an hour) | one row of each name | take this one or A2 out"], True),
        ("Value | Item\n30 |", ["B2: a value whose name is blank | the name of the item | name it, or take A2 out"], False),
    ],
)  # fmt: skip
def test_what_is_told_of_a_sheet_of_names_and_values(text: str, problems: list[str], complete: bool) -> None:
    read, told = items(text)
    assert told == problems
    assert read.complete is complete


def test_each_item_with_its_places_and_its_unit() -> None:
    read, _ = items("Unit | Value | Item | Value\nmm | 30 | Gap_side (mm) | 99\n | | other |\n7 | 5 | third | 9")
    side = read.item("gap side")
    assert side is not None
    assert (side.typed, side.value.text, side.unit, side.name_place.cell, side.place.cell) == ("Gap_side (mm)", "30", "mm", "C2", "B2")  # type: ignore[union-attr]
    assert [(item.value, item.unit) for item in read.items.values()][1] == (None, "")
    assert read.item("Third").unit == "7"  # type: ignore[union-attr]
    other, _ = items("Item | Value | second\nrate | 30 | 40\nmore | 31 |\n | | 7", value_column=3)
    assert [item.value and item.value.text for item in other.items.values()] == ["40", None]
    assert [item_key(name) for name in ("Gap_side", "gap  SIDE (mm)", "_gap_side")] == ["gap side"] * 3


def test_a_header_of_names_and_values_that_is_a_number_is_none() -> None:
    assert further_value_columns(sheet_of("Machine", "Item | Value | small | large | words | Note | Unit\nLife | 1 | 1 | 1 | 1 | 1 | 1\nPrice | 100 | 70 | 90 | dear | 5 | 6"), "price") == {"small": 3, "large": 4}
    assert further_value_columns(sheet_of("Machine", "Item | Value | small\nLife | 1 | 1"), "price") == {}
    assert further_value_columns(sheet_of("Machine", ""), "price") == {}
    assert further_value_columns(sheet_of("Machine", "Price | 1 | 2\nItem | Value | small\nPrice | 100 | 70"), "price") == {"small": 3}


def test_an_item_close_to_one_of_ours_that_is_not_there() -> None:
    read, _ = items("Item | Value\nSaw kurf | 3\nSheet trim | 2\nSheet trm | 5\nknob | 4")
    findings = Findings()
    assert tell_misspelt(read, ["Saw kerf", "Sheet trim", "Bank"], findings) == {"Saw kerf"}
    assert str(next(iter(findings.problems.values()))).splitlines() == [
        "job.xlsx > Shop > A2", "    found     a row named Saw kurf", "    expected  a row named Saw kerf, or a name unlike any of ours", "    to mend   did you mean Saw kerf?",
    ]  # fmt: skip
    behind, _ = items("Item | Value\nknob | 4\nSheet trim | 2\nSaw kurf | 3\nBnk | 5")
    assert tell_misspelt(behind, ["Saw kerf", "Sheet trim", "Bank"], Findings()) == {"Saw kerf", "Bank"}, "one of the shop's own stands before them"
    assert tell_misspelt(read, ["Saw kerf"], Findings(), spared=lambda item, guess: item.typed == "Saw kurf") == set()


COLUMNS = (Column("Rate", "rate", "money", "an hour", needed=True), Column("Trim", "trim", "length", "", "10"), Column("Words", "words", "text", ""))


@pytest.mark.parametrize(
    ("sheets", "values", "problems"),
    [
        (["Item | Value\nrate | 30"], [30, 10, ""], []), (["Item | Value\nrate |", "Item | Value\nrate | 40\ntrim | 3"], [40, 3, ""], []), (["Item | Value\nrate | 20", "Item | Value\nrate | 40"], [20, 10, ""], []),
        (["Item | Value\nrate |"], [None, 10, ""], ["B2: nothing: the cell is blank | Rate in money: a number 0 or more | fill it in (an hour)"]),
        (["Item | Value\ntrim | 1"], [None, 1, ""], ["Rate: no row named Rate | Rate in money: a number 0 or more | add a row Rate (an hour)"]), ([], [None, 10, ""], ["Rate: no row named Rate | Rate in money: a number 0 or more | add a row Rate (an hour)"]),
        (["Item | Value\nrate | text:1.500"], [1.5, 10, ""], []), (["Item | Value\nrate | 30\ntrim | wide"], [30, None, ""], ["B3: the text wide | Trim in mm: a number 0 or more | type a number, with digits only"]),
        (["Item | Value\n | 5"], [None, 10, ""], []),
    ],
)  # fmt: skip
def test_each_value_from_the_first_sheet_that_gives_it(sheets: list[str], values: list[Any], problems: list[str]) -> None:
    findings = Findings()
    read = read_values(COLUMNS, tuple(items(text)[0] for text in sheets), home=Place("job.xlsx", "Shop"), findings=findings)
    assert [f"{one.place.cell}: {one.found} | {one.expected} | {one.mend}" for one in findings.problems_in_order("job.xlsx")] == problems
    assert [None if name in read.bad else read.values[name] for name in ("rate", "trim", "words")] == values
    assert [f"{one.place.cell}: {one.words}" for one in findings.remarks] == (["B2: 1.500 is read as 1.5; if 1500 is meant, type it without the point"] if values[0] == 1.5 else [])


def test_which_values_were_filled_in_and_where_they_stand() -> None:
    read = read_values(COLUMNS, (items("Item | Value\nrate | wrong\nwords |")[0],), home=Place("shop.xlsx", "Shop"), findings=Findings(), meant={"Trim"})
    assert (read.filled, read.bad) == ({"rate"}, {"rate"})
    assert [read.at.place(name) for name in ("Rate", "Words", "Trim")] == [Place("job.xlsx", "Shop", "B2"), Place("job.xlsx", "Shop", "B3"), Place("shop.xlsx", "Shop", "Trim")]
    findings = Findings()
    read_values(COLUMNS, (), home=Place("job.xlsx", "Shop"), findings=findings, meant={"Rate"})
    assert not findings.problems, "a row that is misspelt is not missed as well"
