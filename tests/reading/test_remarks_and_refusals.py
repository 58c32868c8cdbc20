"""Whole workbooks to a Job: what is only remarked on, what is refused, and the job as far as it could be read."""

from __future__ import annotations

from pathlib import Path

from estimator.batch import price_book
from estimator.model.exact import Fraction
from estimator.model.refusal import Refusal
from estimator.reading.workbook import read_job
from tests.reading.base_books import ONE_BOOK
from tests.reading.drawing import draw
from tests.reading.whole_books import one, problems, words


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


def test_low_and_high_the_wrong_way_round(tmp_path: Path) -> None:
    assert len(words(one(tmp_path, Work_I2="3", Work_J2="1"))) == 2


def test_a_size_that_nobody_gives_is_told_at_the_cabinet(tmp_path: Path) -> None:
    without = {name: table for name, table in ONE_BOOK.items() if name != "Kinds"}
    assert problems(tmp_path, without) == [
        ("Cabinets > F3", "nothing: the cell is blank, and the kind base gives none"),
        ("Cabinets > G3", "nothing: the cell is blank, and the kind base gives none"),
    ]
    assert problems(tmp_path, ONE_BOOK, Kinds_C2="72O") == [("Kinds > C2", "the text 72O")], "the cabinet is not blamed"


def test_a_finish_that_nobody_gives_is_told_at_the_cabinet(tmp_path: Path) -> None:
    assert problems(tmp_path, ONE_BOOK, Job_B28=None) == [("Cabinets > K2", "nothing: the cell is blank, and Job > Finish is blank too")]


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


def test_more_problems_than_anybody_reads_are_counted(tmp_path: Path) -> None:
    rows = "Ref | Kind | Qty | Width\n" + "".join(f"C{n} | base | none | wide\n" for n in range(400))
    told = problems(tmp_path, {**ONE_BOOK, "Cabinets": rows})
    assert len(told) == 501
    assert told[-1] == ("job.xlsx", "300 further problems")
