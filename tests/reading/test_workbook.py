"""Whole workbooks to a Job: one book and two, units, and what blank means."""

from __future__ import annotations

from pathlib import Path

from estimator.model.exact import Fraction
from estimator.model.problems import Place
from tests.reading.base_books import JOB_SHEETS, ONE_BOOK, SHOP_SHEETS
from tests.reading.drawing import draw
from tests.reading.whole_books import job_of, one, words

# --- one book or two --------------------------------------------------------------------------------------------------


def test_one_book_and_two_books_say_the_same(tmp_path: Path) -> None:
    both = job_of(draw(tmp_path / "one.xlsx", ONE_BOOK))
    (tmp_path / "two").mkdir()
    draw(tmp_path / "two" / "shop.xlsx", SHOP_SHEETS)
    apart = job_of(draw(tmp_path / "two" / "job.xlsx", JOB_SHEETS))
    for part in ("cabinets", "boards", "edgings", "adhesives", "work", "construction", "fittings", "finishes", "kinds"):
        assert len(getattr(both, part)) == len(getattr(apart, part)) > 0
    assert [cabinet.height_mm for cabinet in both.cabinets] == [cabinet.height_mm for cabinet in apart.cabinets]
    assert apart.boards[0].at.workbook == "shop.xlsx"
    assert apart.shop.at.place("Saw kerf") == Place("shop.xlsx", "Shop", "B7")
    assert apart.terms.at.place("Quote date") == Place("job.xlsx", "Job", "B5")


def test_the_shop_book_may_be_named(tmp_path: Path) -> None:
    prices = draw(tmp_path / "prices 2031.xlsx", SHOP_SHEETS)
    assert job_of(draw(tmp_path / "job.xlsx", JOB_SHEETS), shop=prices).boards[0].at.workbook == "prices 2031.xlsx"


def test_a_shop_sheet_in_the_job_book_wins(tmp_path: Path) -> None:
    draw(tmp_path / "shop.xlsx", SHOP_SHEETS)
    cheaper = SHOP_SHEETS["Boards"].replace("61.50", "55.00")
    job = job_of(draw(tmp_path / "job.xlsx", {**JOB_SHEETS, "Boards": cheaper}))
    assert job.boards[0].price == 55
    assert job.boards[0].at.workbook == "job.xlsx"
    assert job.edgings[0].at.workbook == "shop.xlsx"


def test_a_shop_book_is_not_its_own_shop_book(tmp_path: Path) -> None:
    path = draw(tmp_path / "shop.xlsx", ONE_BOOK)
    assert job_of(path).boards[0].at.workbook == "shop.xlsx"
    assert job_of(path, shop=path).boards[0].at.workbook == "shop.xlsx"


def test_any_row_of_job_may_stand_in_shop_as_the_default(tmp_path: Path) -> None:
    shop = SHOP_SHEETS["Shop"] + "Currency | GBP | |\nMargin | 30 % | |\nTax rate | 5 % | |\nTax name | GST | |\n"
    draw(tmp_path / "shop.xlsx", {**SHOP_SHEETS, "Shop": shop})
    short = "\n".join(line for line in JOB_SHEETS["Job"].splitlines() if not line.startswith(("Currency", "Margin", "Tax name")))
    terms = job_of(draw(tmp_path / "job.xlsx", {**JOB_SHEETS, "Job": short})).terms
    assert (terms.currency, terms.margin_share, terms.tax_name) == ("GBP", Fraction(3, 10), "GST")
    assert terms.tax_rate_share == Fraction(1, 5), "the job's own wins"
    assert terms.at.place("Currency") == Place("shop.xlsx", "Shop", "B17")


def test_a_markup_of_the_job_sets_a_margin_of_the_shop_aside(tmp_path: Path) -> None:
    tables = {**ONE_BOOK, "Shop": ONE_BOOK["Shop"] + "Margin | 30 % | |\n", "Job": ONE_BOOK["Job"].replace("Margin ", "Markup ")}
    terms = one(tmp_path, tables).terms
    assert (terms.margin_share, terms.markup_share) == (None, Fraction(1, 4))


# --- units ------------------------------------------------------------------------------------------------------------


def test_bare_numbers_are_in_the_unit_of_the_book_in_which_they_stand(tmp_path: Path) -> None:
    draw(tmp_path / "shop.xlsx", SHOP_SHEETS)
    inches = JOB_SHEETS["Job"].replace("mm   ", "inch ", 1)
    cabinets = """
    Ref | Room    | Kind | Qty | Width  | Height | Depth | Plinth height | Partitions
    A   | Kitchen | base | 1   | 23 5/8 | 28.5   | 22"   | 4             | 1
    """
    job = job_of(draw(tmp_path / "job.xlsx", {"Job": inches, "Cabinets": cabinets}))
    (cabinet,) = job.cabinets
    assert (cabinet.width_mm, cabinet.height_mm, cabinet.depth_mm) == (Fraction("600.075"), Fraction("723.9"), Fraction("558.8"))
    assert cabinet.own_numbers == {"plinth_height": Fraction("101.6"), "partitions": 1}
    assert cabinet.own_lengths == {"plinth_height"}
    assert job.boards[0].thickness_mm == 18
    assert job.terms.units == "inch"
    assert {row.units for row in job.construction} == {"mm"}


def test_a_shop_book_in_inches(tmp_path: Path) -> None:
    shop = SHOP_SHEETS["Shop"] + "Units | inch | |\n"
    job_sheet = JOB_SHEETS["Job"]
    draw(tmp_path / "shop.xlsx", {**SHOP_SHEETS, "Shop": shop})
    job = job_of(draw(tmp_path / "job.xlsx", {**JOB_SHEETS, "Job": job_sheet}))
    assert job.cabinets[0].width_mm == 600
    assert job.boards[0].thickness_mm == Fraction("457.2")
    assert job.edgings[0].price_per_m == Fraction("0.45") / Fraction("0.3048")
    assert job.edgings[0].roll_length_m == Fraction("15.24")
    assert job.shop.bench_length_m == Fraction("3.048")
    assert job.shop.lengths_mm["gap_side"] == Fraction("50.8")
    assert {row.units for row in (*job.construction, *job.fittings)} == {"inch"}
    assert "Unit says mm" in " ".join(words(job))
    without = "\n".join(line for line in job_sheet.splitlines() if not line.startswith("Units"))
    assert job_of(draw(tmp_path / "job.xlsx", {**JOB_SHEETS, "Job": without})).terms.units == "inch", "the shop's default"


def test_a_header_with_the_other_unit_is_remarked_on(tmp_path: Path) -> None:
    job = one(tmp_path, Cabinets_E1="Width (inch)")
    assert job.cabinets[0].width_mm == 600
    assert "the header says inch, but this workbook's Units are mm" in words(job)[0]


# --- what blank means -------------------------------------------------------------------------------------------------


def test_blank_cells_take_the_kind_the_job_and_the_shop(tmp_path: Path) -> None:
    job = one(tmp_path)
    first, second, third = job.cabinets
    assert (second.height_mm, second.depth_mm, second.drawers) == (720, 560, 0)
    assert first.finish == "white"
    assert third.front_heights_mm == ()
    assert [board.trim_mm for board in job.boards] == [10, 12, 10, 10]
    assert [edging.charge for edging in job.edgings] == ["whole rolls", "whole rolls", "metres"]
    assert [edging.adhesive for edging in job.edgings] == ["contact", "contact", ""]
    assert job.boards[0].on_hand == 1
    assert job.fittings[2].number == "1"
    assert job.work[0].allowance_share is None
    assert job.work[6].allowance_share == 0


def test_a_blank_cell_of_a_further_column_is_what_the_shop_says(tmp_path: Path) -> None:
    """As if the column were not there: the shop's 100, or 0 where the shop has no such row."""
    tables = {**ONE_BOOK, "Shop": ONE_BOOK["Shop"] + "plinth height | 100 | |\n"}
    own = [cabinet.own_numbers for cabinet in one(tmp_path, tables, Cabinets_P2="150", Cabinets_P3=None).cabinets]
    assert own == [{"partitions": 0, "plinth_height": 150}, {"partitions": 1}, {"partitions": 0}]


def test_a_count_that_nobody_gives_is_0(tmp_path: Path) -> None:
    tables = {name: table for name, table in ONE_BOOK.items() if name != "Kinds"}
    cabinets = "Ref | Kind | Qty | Width | Height | Depth\nA | open | 1 | 600 | 720 | 300\n"
    (cabinet,) = one(tmp_path, {**tables, "Cabinets": cabinets}).cabinets
    assert (cabinet.shelves, cabinet.doors, cabinet.drawers) == (0, 0, 0)


def test_a_blank_ref_is_the_next_number_in_its_room(tmp_path: Path) -> None:
    rows = ["", "Kitchen 2", "", "", "Sink"]
    cabinets = "Ref | Room | Kind | Qty | Width\n" + "".join(f"{ref} | Kitchen | base | 1 | 600\n" for ref in rows)
    cabinets += "| | base | 1 | 600\n | Pantry | base | 1 | 600\n"
    loose = "Room | Part | Qty | Length | Width | Board\nKitchen | filler | 1 | 720 | 80 | white 18\n"
    job = one(tmp_path, {**ONE_BOOK, "Cabinets": cabinets, "Loose parts": loose})
    assert [cabinet.ref for cabinet in job.cabinets] == ["Kitchen 1", "Kitchen 2", "Kitchen 3", "Kitchen 4", "Sink", "1", "Pantry 1"]
    assert [part.ref for part in job.loose_parts] == ["Kitchen 5"]


def test_an_empty_contract_is_none_and_so_is_an_empty_machine(tmp_path: Path) -> None:
    def empty(table: str) -> str:
        lines = table.strip().splitlines()
        return "\n".join([lines[0], *(f"{line.split('|')[0]} | | |" for line in lines[1:])])

    job = one(tmp_path, {**ONE_BOOK, "Contract": empty(ONE_BOOK["Contract"]), "Machine": empty(ONE_BOOK["Machine"])})
    assert (job.contract, job.machine, job.more_machines) == (None, None, ())


def test_further_columns_of_machine_are_further_machines(tmp_path: Path) -> None:
    lines = ONE_BOOK["Machine"].strip().splitlines()
    numbers = ["small one", "9000", "0", "1000", "6", "9 %", "300", "1.05", "4200", ""]
    table = "\n".join(f"{line} | {number} | my own words" for line, number in zip(lines, numbers, strict=True))
    job = one(tmp_path, {**ONE_BOOK, "Machine": table})
    assert job.machine is not None
    assert (job.machine.name, job.machine.price) == ("", 16000)
    assert [(machine.name, machine.price, machine.alternative_per_m) for machine in job.more_machines] == [("small one", 9000, None)]
