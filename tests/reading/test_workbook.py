"""Whole workbooks to a Job: one book and two, what blank means, names as people spell them, and what is only remarked on."""

from __future__ import annotations

from pathlib import Path

from openpyxl import load_workbook

from estimator.batch import price_book
from estimator.model.exact import Fraction
from estimator.model.problems import Place
from estimator.model.records import Job
from estimator.model.refusal import Refusal
from estimator.reading.workbook import read_job
from tests.reading.base_books import CABINETS, JOB_SHEETS, LOOSE_PARTS, ONE_BOOK, SHOP_SHEETS
from tests.reading.drawing import Tables, draw, redraw_with_shared_texts


def job_of(path: Path, *, shop: Path | None = None) -> Job:
    answer = read_job(path, shop=shop)
    assert isinstance(answer, Job), "\n".join(map(str, answer.problems))
    return answer


def one(folder: Path, tables: Tables = ONE_BOOK, **changes: str | None) -> Job:
    """A job from one book; `Job_B5="..."` sets a cell."""
    cells = {tuple(name.replace("_", " ").rsplit(" ", 1)): content for name, content in changes.items()}
    return job_of(draw(folder / "job.xlsx", tables, changes=cells))  # type: ignore[arg-type]


def words(job: Job) -> list[str]:
    return [str(remark) for remark in job.remarks]


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


# --- names as people spell them ---------------------------------------------------------------------------------------


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


# --- cells that are not what they seem --------------------------------------------------------------------------------


def test_formulas_are_read_by_their_saved_answer(tmp_path: Path) -> None:
    import xlsxwriter

    path = tmp_path / "job.xlsx"
    redraw_with_shared_texts(draw(tmp_path / "drawn.xlsx", ONE_BOOK), path)
    assert job_of(path).cabinets[0].width_mm == 600
    book = xlsxwriter.Workbook(tmp_path / "shop.xlsx")
    sheet = book.add_worksheet("Boards")
    for column, header in enumerate(("Board", "Thickness", "Sheet length", "Sheet width", "Price")):
        sheet.write_string(0, column, header)
    for row, name in enumerate(("white 18", "white 8", "oak 19"), start=1):
        sheet.write_formula(row, 0, f'="{name}"', None, name)
        for column, value in enumerate((18, 2800, 2070), start=1):
            sheet.write_number(row, column, value)
        sheet.write_formula(row, 4, "=50+11.5", None, 61.5)
    book.close()
    shared = {name: table for name, table in ONE_BOOK.items() if name != "Boards"}
    assert [board.price for board in job_of(draw(path, shared)).boards] == [Fraction("61.5")] * 3


def test_a_formula_without_an_answer_is_told(tmp_path: Path) -> None:
    answer = read_job(draw(tmp_path / "job.xlsx", ONE_BOOK, changes={("Cabinets", "E2"): "=300+300", ("Cabinets", "N2"): '="by "&"sink"'}))
    assert isinstance(answer, Refusal)
    assert [str(problem.place) for problem in answer.problems] == ["job.xlsx > Cabinets > E2", "job.xlsx > Cabinets > N2"]
    assert answer.problems[0].mend == "open the workbook in your spreadsheet program, save it there, and run again"


def test_hidden_rows_and_sheets_are_read_and_remarked_on(tmp_path: Path) -> None:
    path = draw(tmp_path / "job.xlsx", ONE_BOOK)
    book = load_workbook(path)
    for row in (2, 3):
        book["Cabinets"].row_dimensions[row].hidden = True
    book["Boards"].sheet_state = "hidden"
    book.save(path)
    job = job_of(path)
    assert len(job.cabinets) == 3
    assert words(job) == [
        "job.xlsx > Cabinets: rows 2 to 3 are hidden, and read all the same",
        "job.xlsx > Boards: this sheet is hidden; it is read all the same",
    ]


def test_merged_cells_hold_a_value_in_the_first_only(tmp_path: Path) -> None:
    path = draw(tmp_path / "job.xlsx", ONE_BOOK)
    book = load_workbook(path)
    book["Cabinets"].merge_cells("B2:B3")
    book.save(path)
    job = job_of(path)
    assert [cabinet.room for cabinet in job.cabinets] == ["Kitchen", "", "Pantry"]
    assert words(job) == ["job.xlsx > Cabinets > B2: cells B2:B3 are merged: only B2 is read, the rows below it are blank there. "
        "Unmerge them, and type into each row what holds for it"
    ]


def test_blank_rows_and_notes_beside_the_table_are_passed_over(tmp_path: Path) -> None:
    lines = CABINETS.strip().splitlines()
    table = "\n".join([lines[0], "", lines[1], "", "", *lines[2:], "|||||||||||||only a note"])
    assert len(one(tmp_path, {**ONE_BOOK, "Cabinets": table}).cabinets) == 3


def test_a_point_that_may_mean_thousands_is_remarked_on(tmp_path: Path) -> None:
    job = one(tmp_path, Extras_E2="text:1.500")
    assert job.extras[0].cost_each == Fraction(3, 2)
    assert words(job) == ["job.xlsx > Extras > E2: 1.500 is read as 1.5; if 1500 is meant, type it without the point"]


# --- remarks ----------------------------------------------------------------------------------------------------------


def test_both_rates_and_a_build_up(tmp_path: Path) -> None:
    tables = {**ONE_BOOK, "Shop": ONE_BOOK["Shop"] + "Wage | 21 | |\nPaid hours | 1800 | |\nProductive hours | 1400 | |\n"}
    job = one(tmp_path, tables)
    assert (job.shop.direct_rate, job.shop.wage) == (30, 21)
    assert words(job) == ["job.xlsx > Shop > B3: Direct rate is typed, so Wage and Paid hours are not used for it"]


def test_a_rate_may_be_built_up(tmp_path: Path) -> None:
    parts = "Wage | 21 | |\nPaid hours | 1800 | |\nProductive hours | 1400 | |\nOn-cost | 22 % | |\nOverhead a year | 60000 | |\nWorkers | 2 | |\n"
    shop = "\n".join(line for line in ONE_BOOK["Shop"].splitlines() if "rate" not in line) + "\n" + parts
    job = one(tmp_path, {**ONE_BOOK, "Shop": shop})
    assert (job.shop.direct_rate, job.shop.overhead_rate, job.shop.on_cost_share) == (None, None, Fraction(22, 100))
    assert words(job) == []


def test_a_blank_saw_is_remarked_on_when_sheets_come_from_a_plan(tmp_path: Path) -> None:
    assert words(one(tmp_path, Shop_B7=None, Shop_B8=None)) == [
        "job.xlsx > Shop > B7: no Saw kerf: cutting plans are made as if the blade took nothing; measure a cut, and type it in",
        "job.xlsx > Shop > B8: no Sheet trim: cutting plans use the sheets up to their raw edges; type what you cut off each side",
    ]


def test_an_option_that_changes_nothing(tmp_path: Path) -> None:
    assert "the option changes nothing" in words(one(tmp_path, Options_C2="white"))[0]


def test_own_lengths_of_the_shop_are_not_taken_for_misspelt_rows(tmp_path: Path) -> None:
    job = one(tmp_path, {**ONE_BOOK, "Shop": ONE_BOOK["Shop"] + "back | 16 | mm |\npanel play | 3 | |\n"})
    assert job.shop.lengths_mm["back"] == 16
    assert job.shop.lengths_mm["panel_play"] == 3


# --- the job as far as it could be read -------------------------------------------------------------------------------


def test_a_price_that_is_none_hides_no_size_that_is_wrong(tmp_path: Path) -> None:
    """Board, edging and cabinet each lack something on which no size rests, so that band and rules are looked at all the same."""
    told = {("Boards", "E2"): "dear", ("Edgings", "E2"): None, ("Edgings", "M2"): "gum", ("Cabinets", "D2"): "two"}
    sizes = {("Edgings", "D2"): "19", ("Edgings", "D3"): "19.5", ("Construction", "D6"): "width - 900", ("Fittings", "E3"): "4 - width"}
    answer = price_book(draw(tmp_path / "job.xlsx", ONE_BOOK, changes={**told, **sizes}))
    assert isinstance(answer, Refusal)
    places = {(problem.place.sheet, problem.place.cell) for problem in answer.problems}
    assert places >= {*told, ("Edgings", "D3"), ("Construction", "D6"), ("Fittings", "E3")}


def test_a_refusal_holds_the_sound_rows_for_the_engine(tmp_path: Path) -> None:
    changes = {("Cabinets", "E2"): "60O", ("Boards", "B5"): "thick", ("Job", "B5"): None, ("Shop", "B3"): "x", ("Work", "F2"): "two"}
    answer = read_job(draw(tmp_path / "job.xlsx", ONE_BOOK, changes=changes))
    assert isinstance(answer, Refusal)
    assert len(answer.problems) == 5
    assert answer.readable is not None
    assert [cabinet.ref for cabinet in answer.readable.cabinets] == ["Kitchen 2", "Larder"]
    assert {board.board for board in answer.readable.boards} == {"white 18", "white 8"}
    assert [finish.finish for finish in answer.readable.finishes] == ["white"], "oak has no board that could be read"
    assert "cut" not in [step.step for step in answer.readable.work]


def test_without_a_job_there_is_nothing_readable(tmp_path: Path) -> None:
    answer = read_job(draw(tmp_path / "letters.xlsx", {"Sheet1": "Dear | client"}))
    assert isinstance(answer, Refusal)
    assert answer.readable is None
    assert [str(problem.place) for problem in answer.problems] == [
        "letters.xlsx > Job", "letters.xlsx > Cabinets", "letters.xlsx > Shop",
    ]  # fmt: skip


# --- more that a workbook can hold ------------------------------------------------------------------------------------


def problems(folder: Path, tables: Tables, **changes: str | None) -> list[tuple[str, str]]:
    cells = {tuple(name.replace("_", " ").rsplit(" ", 1)): content for name, content in changes.items()}
    answer = read_job(draw(folder / "job.xlsx", tables, changes=cells))  # type: ignore[arg-type]
    assert isinstance(answer, Refusal)
    return [(str(problem.place).removeprefix("job.xlsx > "), problem.found) for problem in answer.problems]


def test_a_size_that_nobody_gives_is_told_at_the_cabinet(tmp_path: Path) -> None:
    without = {name: table for name, table in ONE_BOOK.items() if name != "Kinds"}
    assert problems(tmp_path, without) == [
        ("Cabinets > F3", "nothing: the cell is blank, and the kind base gives none"),
        ("Cabinets > G3", "nothing: the cell is blank, and the kind base gives none"),
    ]
    assert problems(tmp_path, ONE_BOOK, Kinds_C2="72O") == [("Kinds > C2", "the text 72O")], "the cabinet is not blamed"


def test_a_finish_that_nobody_gives_is_told_at_the_cabinet(tmp_path: Path) -> None:
    assert problems(tmp_path, ONE_BOOK, Job_B28=None) == [("Cabinets > K2", "nothing: the cell is blank, and Job > Finish is blank too")]


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


def test_low_and_high_the_wrong_way_round(tmp_path: Path) -> None:
    assert len(words(one(tmp_path, Work_I2="3", Work_J2="1"))) == 2


def test_values_beside_the_table_are_remarked_on(tmp_path: Path) -> None:
    assert words(one(tmp_path, Cabinets_R3="call the client")) == [
        "job.xlsx > Cabinets > R1: values without a name above them are not read: type a name there, or take them out"
    ]


def test_texts_in_the_users_own_columns_are_left_alone(tmp_path: Path) -> None:
    lines = CABINETS.strip().splitlines()
    table = "\n".join([f"{lines[0]} | Supplier code", f"{lines[1]} | 7", f"{lines[2]} | A 12", f"{lines[3]} | error:#N/A"])
    job = one(tmp_path, {**ONE_BOOK, "Cabinets": table})
    assert [cabinet.own_numbers["supplier_code"] for cabinet in job.cabinets] == [7, 0, 0]


def test_number_formats_of_all_kinds() -> None:
    from estimator.reading.number_formats import shows_of_code

    percents = ("0%", "0.00 %", "[Red]0%;[Blue]-0%", '0" of "%')
    dates = ("d mmm yyyy", "yyyy-mm-dd", "[$-407]dd.mm.yyyy;@", "mmm", "dd/mm", "d.m.yy h:mm")
    times = ("h:mm", "[h]:mm:ss", "mm:ss", "h AM/PM")
    plain = (
        "General",
        "@",
        "0.00",
        '#,##0.00 "days"',
        '0 "mm"',
        "# ?/?",
        "#,##0 [$kr-414]",
        "0.00E+00",
        r"0\d",
        '0"%"',
        "_-* #,##0.00_-",
        "",
    )
    for codes, shows in ((percents, "percent"), (dates, "date"), (times, "time"), (plain, "")):
        assert [shows_of_code(code) for code in codes] == [shows] * len(codes)


def test_more_problems_than_anybody_reads_are_counted(tmp_path: Path) -> None:
    rows = "Ref | Kind | Qty | Width\n" + "".join(f"C{n} | base | none | wide\n" for n in range(400))
    told = problems(tmp_path, {**ONE_BOOK, "Cabinets": rows})
    assert len(told) == 501
    assert told[-1] == ("job.xlsx", "300 further problems")
