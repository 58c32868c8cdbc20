"""Whole workbooks to a Job: names of tabs, columns, rooms and rows as people spell them, and as their own sheet does."""

from __future__ import annotations

from pathlib import Path

from tests.reading.base_books import JOB_SHEETS, LOOSE_PARTS, ONE_BOOK, SHOP_SHEETS
from tests.reading.drawing import draw
from tests.reading.whole_books import job_of, one, problems, words


def test_capitals_spaces_order_and_units_in_brackets_do_not_matter(tmp_path: Path) -> None:
    cabinets = """
    Our cabinets for Mill Lane
    |
    WIDTH (mm) | kind  | Supplier | qty | Height [mm] |  depth | finish  | ROOM
    600        | BASE  | 7        | 1   | 720         | 560    | White   | Kitchen
    """
    job = one(tmp_path, {**{k: v for k, v in ONE_BOOK.items() if k != "Cabinets"}, " CABINETS ": cabinets, "My notes": "anything | at all"})
    (cabinet,) = job.cabinets
    assert (cabinet.kind, cabinet.finish, cabinet.width_mm, cabinet.ref) == ("base", "white", 600, "Kitchen 1")
    assert cabinet.own_numbers == {"supplier": 7}
    assert cabinet.at.place("Width").cell == "A4"
    assert cabinet.at.place("Doors").cell == "row 4", "a column that is not there has no letter"


def test_rooms_and_options_are_told_apart_by_their_letters_only(tmp_path: Path) -> None:
    options = "Option | Replace finish | With finish\nAll oak | white | oak\nall  oak | oak | white\n"
    job = one(tmp_path, {**ONE_BOOK, "Options": options}, Cabinets_B3="kitchen", Loose_parts_B2="KITCHEN ")
    assert [line.room for line in (*job.cabinets, *job.loose_parts)] == ["Kitchen", "Kitchen", "Pantry", "Kitchen", "Pantry"]
    assert [row.option for row in job.options] == ["All oak", "All oak"]


def test_names_come_spelt_as_in_their_own_sheet(tmp_path: Path) -> None:
    tables = {
        **ONE_BOOK,
        "Finishes": ONE_BOOK["Finishes"].replace("| white 18 ", "| WHITE  18 ").replace("carcass board", "Carcass  Board"),
        "Loose parts": LOOSE_PARTS.replace("| front     |", "| FRONT |").replace("oak veneer", "Oak Veneer"),
        "Construction": ONE_BOOK["Construction"].replace("| carcass |", "| Carcass |"),
        "Work": ONE_BOOK["Work"].replace("| wood veneer |", "| Wood Veneer |"),
    }
    job = one(tmp_path, tables)
    assert job.finishes[0].boards == {"carcass": "white 18", "front": "white 18", "back": "white 8"}
    assert job.finishes[0].at.place("carcass board").cell == "B2"
    assert job.loose_parts[0].board == "front"
    assert job.loose_parts[1].right == "oak veneer"
    assert job.construction[0].board == "carcass"
    assert [step.of for step in job.work] == ["", "base", "", "contact", "", "wood veneer", ""]


def test_banding_names_edgings_as_their_sheet_does(tmp_path: Path) -> None:
    assert one(tmp_path, Job_B27="Send Out").terms.banding == "send out"
    assert one(tmp_path, Job_B27="WHITE 1; oak veneer, white 1").terms.banding == "white 1, oak veneer"


def test_two_columns_of_ones_own_need_two_names(tmp_path: Path) -> None:
    twice = problems(tmp_path, ONE_BOOK, Cabinets_O1="plinth  HEIGHT")
    assert twice == [("Cabinets > P1", "a second column named Plinth height")]


def test_two_tabs_of_one_name(tmp_path: Path) -> None:
    assert problems(tmp_path, {**ONE_BOOK, "boards ": ONE_BOOK["Boards"]}) == [("boards ", "a second sheet named Boards")]


def test_a_tab_that_may_mean_a_sheet_of_the_other_book_is_remarked_on(tmp_path: Path) -> None:
    draw(tmp_path / "shop.xlsx", SHOP_SHEETS)
    job = job_of(draw(tmp_path / "job.xlsx", {**JOB_SHEETS, "Board": "my own | list"}))
    assert words(job) == [
        "job.xlsx > Board: this sheet is not read; if Boards is meant, rename it: now Boards of the other workbook counts"
    ]
