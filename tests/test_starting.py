"""`estimator start`: a folder that prices at once, in any money and either unit; each number says where it comes from."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from pathlib import Path

import pytest
from openpyxl import load_workbook

from estimator.__main__ import main
from estimator.batch import price_book
from estimator.model.exact import Fraction
from estimator.model.results import Estimate
from estimator.papers.first_shop import EDGINGS_TO_CHOOSE
from estimator.papers.first_shop.page import origin_of
from estimator.papers.form_book import starter_rows
from estimator.questions import questions
from estimator.reading.typed_numbers import Wrong
from estimator.starting import read_answer, start

GIVEN = {"currency": "EUR", "tax": "VAT 20 %", "wage": "24", "overhead": "42000"}
DAY = date(2031, 2, 3)


def started(folder: Path, **answers: str) -> list[str]:
    said: list[str] = []
    given = {**GIVEN, **{option.replace("_", "-"): answer for option, answer in answers.items()}}
    assert start(folder, given, ask=None, say=said.append, today=DAY) == 0, said
    return said


def priced(folder: Path) -> Estimate:
    estimate = price_book(folder / "first-job.xlsx")
    assert isinstance(estimate, Estimate), [str(problem) for problem in estimate.problems]
    return estimate


# units | currency | wage | paper: a shop anywhere
SHOPS = """
mm | EUR | 24 | A4
mm | GBP | 17.50 | A4
inch | USD | 28 | Letter
mm | JPY | 1800 | A4
mm | KWD | 2.750 | A4
"""


@pytest.mark.parametrize("shop", [line.split(" | ") for line in SHOPS.strip().splitlines()], ids=lambda shop: shop[1])
def test_the_first_job_is_priced_at_once(shop: list[str], tmp_path: Path) -> None:
    units, currency, wage, paper = shop
    started(tmp_path / "shop", units=units, currency=currency, wage=wage)
    estimate = priced(tmp_path / "shop")
    terms = estimate.job.terms
    assert (terms.units, terms.currency, terms.paper, terms.quote_date) == (units, currency, paper, DAY)
    assert [cabinet.ref for cabinet in estimate.job.cabinets] == ["Kitchen 1"]
    assert estimate.price.gross > 0
    assert [str(remark.words) for remark in estimate.remarks] == [
        "100 % of the minutes rest on steps that nobody in this shop has timed: time them, and write yes under Timed"
    ]


def test_the_price_goes_with_the_wage_and_not_with_the_money(tmp_path: Path) -> None:
    """Wage and overhead a hundred times as high in another money: the price is a hundred times as high, but for rounding."""
    started(tmp_path / "one")
    started(tmp_path / "other", wage="2400", overhead="4200000")
    one, other = priced(tmp_path / "one").price.target, priced(tmp_path / "other").price.target
    assert abs(other / one - 100) < 0.001


def test_every_starting_number_says_where_it_comes_from(tmp_path: Path) -> None:
    started(tmp_path / "shop", sheet="3050 x 1830", paid_hours="1700")
    book = load_workbook(tmp_path / "shop" / "shop.xlsx")
    for sheet in ("Boards", "Edgings", "Adhesives", "Fittings", "Work", "Kinds", "Finishes"):
        headers = [str(cell.value) for cell in book[sheet][1]]
        for row in book[sheet].iter_rows(min_row=2, values_only=True):
            assert row[headers.index("Note")], (sheet, row)
    notes = {str(row[0]): str(row[3]) for row in book["Shop"].iter_rows(min_row=2, values_only=True) if row[1] is not None}
    origins = ("your answer", "sample", "from memory", "common practice", "board data pages", "input", "starting value")
    assert [item for item, note in notes.items() if not any(origin in note for origin in origins)] == []
    assert notes["Wage"] == notes["Paid hours"] == "your answer of 2031-02-03"
    assert notes["Productive hours"].startswith("sample")
    timed = [str(cell.value) for cell in book["Work"][1]].index("Timed")
    assert {row[timed] for row in book["Work"].iter_rows(min_row=2, values_only=True)} == {"no"}
    boards = [row for row in book["Boards"].iter_rows(min_row=2, values_only=True) if row[0] == "white 18"]
    assert boards[0][2:4] == (3050, 1830)


def test_the_page_counts_what_rests_on_samples(tmp_path: Path) -> None:
    started(tmp_path / "shop")
    page = (tmp_path / "shop" / "next-steps.html").read_text(encoding="utf-8")
    work = len(starter_rows()["Work"])
    assert f"nobody has timed the {work} steps" in page
    assert f"<td>Work</td><td>{work}</td><td>from memory</td>" in page
    assert "price a workbook" in page
    assert all(origin_of(row["Note"]) == "sample" for row in starter_rows()["Boards"])


def test_nothing_that_is_there_is_overwritten(tmp_path: Path) -> None:
    (tmp_path / "first-job.xlsx").write_bytes(b"mine")
    said: list[str] = []
    assert start(tmp_path, GIVEN, ask=None, say=said.append, today=DAY) == 2
    assert "first-job.xlsx already" in said[0]
    assert {path.name: path.read_bytes() for path in tmp_path.iterdir()} == {"first-job.xlsx": b"mine"}


def test_without_a_terminal_the_missing_options_are_named(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["start", str(tmp_path / "shop"), "--currency", "EUR", "--wage", "24"]) == 2
    said = capsys.readouterr().out
    assert "--tax" in said
    assert "--overhead" in said
    assert "--currency    " not in said
    assert not (tmp_path / "shop").exists()


def test_wrong_answers_are_asked_again(tmp_path: Path) -> None:
    answers: Iterator[str] = iter(
        ["furlong", "inch", "Jo's", "dollar", "USD", "", "sales tax", "Sales tax 8.25 %", "31,50x", "31.50", "2", "", "",
         "", "50000", "97 49", "8' x 4'", "white 1", "white 1 mm"]
    )  # fmt: skip
    said: list[str] = []
    assert start(tmp_path / "shop", {}, ask=lambda words: next(answers), say=said.append, today=DAY) == 0
    assert next(answers, None) is None
    told = "\n".join(said)
    assert "choose one of mm, inch" in told
    assert "type the rate too" in told
    assert "this one is needed" in told
    assert "type two sizes with an x between them" in told
    assert "did you mean white 1 mm?" in told
    estimate = priced(tmp_path / "shop")
    assert estimate.job.shop.shop_name == "Jo's"
    assert estimate.job.boards[0].sheet_length_mm == Fraction("2438.4")


def test_a_person_who_stops_leaves_nothing_behind(tmp_path: Path) -> None:
    def gone(words: str) -> str:
        raise EOFError

    said: list[str] = []
    assert start(tmp_path / "shop", {}, ask=gone, say=said.append, today=DAY) == 2
    assert "Nothing was written" in said[-1]
    assert not (tmp_path / "shop").exists()


@pytest.mark.parametrize("units", ["mm", "inch"])
def test_the_answers_that_enter_means_can_be_read(units: str) -> None:
    for one in questions(units):
        if one.default:
            assert not isinstance(read_answer(one.option, one.default, units="inch" if units == "inch" else "mm"), Wrong)
    edgings = {row["Edging"] for row in starter_rows("inch" if units == "inch" else "mm")["Edgings"]}
    assert edgings == set(EDGINGS_TO_CHOOSE)


def test_a_wage_of_nothing_is_no_answer() -> None:
    assert isinstance(read_answer("wage", "0", units="mm"), Wrong)


def test_a_sheet_of_8_by_4_is_asked_for_its_unit_and_its_longer_side_is_its_length() -> None:
    small = read_answer("sheet", "8 x 4", units="inch")
    assert isinstance(small, Wrong)
    assert small.mend.endswith("such as 8' x 4'")
    assert isinstance(read_answer("sheet", "280 x 207", units="mm"), Wrong)
    assert read_answer("sheet", "4' x 8'", units="inch") == ("8'", "4'")
    assert read_answer("sheet", "2800 x 2070", units="mm") == ("2800", "2070")
