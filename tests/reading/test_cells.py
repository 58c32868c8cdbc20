"""One cell to one value: what people type, what spreadsheet programs store, and what is refused with a question."""

from __future__ import annotations

from datetime import date
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from estimator.model.exact import Fraction
from estimator.model.form import SHEETS, Column
from estimator.model.shop_records import Money, Share
from estimator.reading.cells import read_cell
from estimator.reading.raw_cells import Cell
from estimator.reading.typed_numbers import Units, Wrong

WIDTH = Column("Width", "width_mm", "length", "", above_0=True)
ROLL = Column("Roll length", "roll_length_m", "roll length", "")
PRICE = Column("Price", "price", "money", "")
PRICE_M = Column("Price", "price_per_m", "money a metre", "")
QTY = Column("Qty", "qty", "whole", "", at_least="1")
SHARE = Column("Spare", "spare_share", "percent", "")
YIELD = Column("Expected yield", "expected_yield_share", "percent", "", above_0=True, at_most="100")
DISCOUNT = Column("Discount", "discount", "percent or money", "")
DATE = Column("Priced on", "priced_on", "date", "")
YES = Column("Deduct", "deduct", "yes no", "")
TEXT = Column("Note", "note", "text", "")
RULE = Column("Length", "length", "rule", "")
HEIGHTS = Column("Front heights", "front_heights_mm", "lengths", "")
FREED = Column("Value of a freed hour", "value_of_a_freed_hour", "freed hour", "")
SCHEDULE = Column("Payment schedule", "payment_schedule", "schedule", "")


def text(content: str, column: Column, units: Units = "mm") -> Any:
    return read_cell(Cell(content), column, units=units)


def number(content: str, column: Column, units: Units = "mm", **more: Any) -> Any:
    return read_cell(Cell(content, "number", **more), column, units=units)


@pytest.mark.parametrize(
    ("typed", "mm"),
    [
        ("600", "600"), (" 600 ", "600"), ("\u00a0600\u202f", "600"), ("+600", "600"), ("600.", "600"), (".5", "1/2"), ("0,5", "1/2"),
        ("23 1/2", "47/2"), ("3/4", "3/4"), ("23-1/2", "47/2"), ("23½", "47/2"), ("½", "1/2"), ("3⁄4", "3/4"),
        ("1,5", "3/2"), ("0,125", "1/8"), ("12,50", "25/2"), ("1234,567", "1234567/1000"), ("1 234,5", "2469/2"),
        ("1.234,56", "30864/25"), ("1,234.56", "30864/25"), ("1\u202f234,56", "30864/25"), ("1,234,567", "1234567"), ("1.234.567", "1234567"),
        ("19 mm", "19"), ("19mm", "19"), ("19 MM", "19"), ("60 cm", "600"), ("60,5 cm", "605"), ("1.2 m", "1200"), ("1,2 m", "1200"),
        ('3/4"', "381/20"), ("3/4 in", "381/20"), ("1 inch", "127/5"), ("2 inches", "254/5"), ("3/4''", "381/20"), ("3/4”", "381/20"),
        ("2'", "3048/5"), ("2 ft", "3048/5"), ("2' 6\"", "762"), ("2'6\"", "762"), ("2'-6\"", "762"), ("2 ft 6 in", "762"),
        ("2 feet 6 inches", "762"), ("2' 6 1/2\"", "7747/10"), ("2’ 6″", "762"), ("6００", "600"),
    ],
)  # fmt: skip
def test_lengths_as_people_type_them(typed: str, mm: str) -> None:
    assert text(typed, WIDTH) == Fraction(mm)


@pytest.mark.parametrize(
    ("typed", "mend"),
    [
        ("1,500", "type it without a comma: 1500, or 1.5 if that is meant"),
        ("12,345", "type it without a comma: 12345, or 12.345 if that is meant"),
        ("60O", "type digits only: a letter O turns the number into text; 600 may be meant"),
        ("6oo", "type digits only: a letter O turns the number into text; 600 may be meant"),
        ("l20", "type digits only: a letter l turns the number into text; 120 may be meant"),
        ("600 kg", "type the number alone, or with mm, cm, m, in or ft after it"),
        ("wide", "type a number, with digits only"),
        ("6 0 0", "type a number, with digits only"),
        ("1.2.3", "type a number, with digits only"),
        ("1/0", "a fraction cannot have 0 below its line"),
        ("10 %", "type a plain number: this is no percentage"),
        ("2' 6", "type a number, with digits only"),
        ("9" * 50, "type a number that a workshop can have: it is out of all measure"),
        ("0", "type a number above 0, or leave the cell blank"),
        ("-5 mm", "type a number above 0, or leave the cell blank"),
        ("--5", "type a number, with digits only"),
        ("?", "type a number here"),
    ],
)
def test_what_cannot_be_a_length_is_told_with_its_cure(typed: str, mend: str) -> None:
    answer = text(typed, WIDTH)
    assert isinstance(answer, Wrong)
    assert answer.mend == mend


def test_a_bare_number_is_in_the_unit_of_its_book() -> None:
    assert number("23.5", WIDTH, "inch") == Fraction("596.9")
    assert text("23 1/2", WIDTH, "inch") == Fraction("596.9")
    assert text("19 mm", WIDTH, "inch") == 19
    assert number("50", ROLL) == 50
    assert number("150", ROLL, "inch") == Fraction("45.72")
    assert text("150 ft", ROLL) == Fraction("45.72")
    assert text("5000 mm", ROLL) == 5
    assert number("0.3048", PRICE_M, "inch") == 1, "a price a foot is a price for 0.3048 m"
    assert number("0.45", PRICE_M) == Fraction(9, 20)


@pytest.mark.parametrize(
    ("stored", "value"),
    [
        ("0.1", "0.1"), ("0.10000000000000001", "0.1"), ("0.30000000000000004", "0.3"), ("1.1000000000000001", "1.1"), ("61.5", "61.5"),
        ("0.15000000000000002", "0.15"), ("1E-3", "0.001"), ("1.5E2", "150"), ("123456789.123", "123456789.123"),
        ("-2.7755575615628914E-17", "0"), ("18", "18"), ("1e3", "1000"),
    ],
)  # fmt: skip
def test_stored_numbers_are_exact_to_the_digits_that_a_spreadsheet_shows(stored: str, value: str) -> None:
    assert number(stored, PRICE) == Fraction(value)


@pytest.mark.parametrize(
    ("cell", "share"),
    [
        (Cell("15 %"), "0.15"), (Cell("15%"), "0.15"), (Cell("12,5 %"), "0.125"), (Cell("8 1/4 %"), "0.0825"), (Cell("0.5 %"), "0.005"),
        (Cell("15"), "0.15"), (Cell("15", "number"), "0.15"), (Cell("0", "number"), "0"), (Cell("1", "number"), "0.01"),
        (Cell("0.15", "number", "percent"), "0.15"), (Cell("0.005", "number", "percent"), "0.005"), (Cell("1", "number", "percent"), "1"),
        (Cell("0.15000000000000002", "number", "percent"), "0.15"), (Cell("8.25", "number"), "0.0825"), (Cell("15 ％"), "0.15"),
    ],
)  # fmt: skip
def test_percentages_in_each_form(cell: Cell, share: str) -> None:
    assert read_cell(cell, SHARE, units="mm") == Fraction(share)


@pytest.mark.parametrize("cell", [Cell("0.15", "number"), Cell("0.15"), Cell("0,15"), Cell("0.999", "number")])
def test_a_bare_number_below_1_is_asked_about(cell: Cell) -> None:
    answer = read_cell(cell, SHARE, units="mm")
    assert isinstance(answer, Wrong)
    assert "type the one that is meant, with its % sign" in answer.mend


def test_bounds_of_percentages_are_in_percent() -> None:
    assert number("100", YIELD) == 1
    assert isinstance(number("101", YIELD), Wrong)
    assert isinstance(number("0", YIELD), Wrong)
    assert isinstance(text("-3 %", SHARE), Wrong)


def test_money_or_a_share() -> None:
    assert number("15", DISCOUNT) == Money(Fraction(15))
    assert number("0.5", DISCOUNT) == Money(Fraction(1, 2))
    assert number("0.15", DISCOUNT, shows="percent") == Share(Fraction(15, 100))
    assert text("15 %", DISCOUNT) == Share(Fraction(15, 100))
    assert text("€ 1.234,50", DISCOUNT) == Money(Fraction("1234.5"))
    assert text("12,50 €", PRICE) == Fraction("12.5")
    assert text("$12", PRICE) == 12
    assert isinstance(text("12 dollars", PRICE), Wrong)
    assert text("Full Rate", FREED) == "full rate"
    assert number("18", FREED) == Money(Fraction(18))
    assert isinstance(number("0.15", FREED, shows="percent"), Wrong)


def test_whole_numbers() -> None:
    assert number("3", QTY) == 3
    assert number("3.0000000000000004", QTY) == 3
    assert text("3", QTY) == 3
    for wrong in (number("1.5", QTY), number("0", QTY), number("10001", QTY), text("three", QTY), text("3 mm", QTY)):
        assert isinstance(wrong, Wrong)


@pytest.mark.parametrize("column", [WIDTH, PRICE, QTY, SHARE, DISCOUNT, ROLL, HEIGHTS, RULE])
@pytest.mark.parametrize(
    "cell",
    [
        Cell("1", "yes or no"), Cell("47882", "number", "date"), Cell("0.5", "number", "time"), Cell("2031-02-03", "iso date"),
        Cell("#REF!", "error"), Cell("", "no answer", "", True),
    ],
)  # fmt: skip
def test_what_is_no_number_is_refused_in_every_number_column(column: Column, cell: Cell) -> None:
    answer = read_cell(cell, column, units="mm")
    assert isinstance(answer, Wrong)
    assert answer.found
    assert answer.mend


@pytest.mark.parametrize(
    ("cell", "answer"),
    [
        (Cell("yes"), True), (Cell("Y"), True), (Cell(" X "), True), (Cell("TRUE"), True), (Cell("1", "yes or no"), True),
        (Cell("no"), False), (Cell("N"), False), (Cell("false"), False), (Cell("0", "yes or no"), False), (None, False),
    ],
)  # fmt: skip
def test_yes_and_no(cell: Cell | None, answer: bool) -> None:
    assert read_cell(cell, YES, units="mm") is answer


@pytest.mark.parametrize("cell", [Cell("1", "number"), Cell("maybe"), Cell("ok"), Cell("yes please")])
def test_what_is_neither_yes_nor_no(cell: Cell) -> None:
    assert isinstance(read_cell(cell, YES, units="mm"), Wrong)


def test_dates() -> None:
    assert text("2031-02-03", DATE) == date(2031, 2, 3)
    assert text("2031-2-3", DATE) == date(2031, 2, 3)
    assert number("47882", DATE, shows="date") == date(2031, 2, 3)
    assert number("47882.75", DATE, shows="date") == date(2031, 2, 3)
    assert read_cell(Cell("46420", "number", "date"), DATE, units="mm", starts_1904=True) == date(2031, 2, 3)
    assert read_cell(Cell("2031-02-03T00:00:00", "iso date"), DATE, units="mm") == date(2031, 2, 3)
    assert number("47882", DATE).mend == "if 2031-02-03 is meant, format the cell as a date or type 2031-02-03"
    for wrong in (
        text("3/2/2031", DATE),
        text("2031-02-30", DATE),
        text("soon", DATE),
        number("1", DATE, shows="date"),
        number("0.5", DATE, shows="time"),
    ):
        assert isinstance(wrong, Wrong)


def test_text_shows_what_the_cell_shows() -> None:
    assert number("7", TEXT) == "7"
    assert number("7.5", TEXT) == "7.5"
    assert number("0.15", TEXT, shows="percent") == "15 %"
    assert number("47882", TEXT, shows="date") == "2031-02-03"
    assert number("0.3125", TEXT, shows="time") == "7:30"
    assert text("  oak,\n oiled ", TEXT) == "oak,\n oiled"
    assert isinstance(text("a" * 5_001, TEXT), Wrong)


def test_rules_stay_text_but_for_a_lone_length() -> None:
    assert text("width - 2 * gap side", RULE) == "width - 2 * gap side"
    assert text("= width - 36", RULE) == "width - 36"
    assert number("2", RULE) == "2"
    assert number("2.5", RULE) == "2.5"
    assert text("19 mm", RULE) == "19"
    assert text("19 mm", RULE, "inch") == "95/127"
    assert text("23 1/2", RULE, "inch") == "23.5"
    assert text("2,5", RULE) == "2.5"
    assert isinstance(text("1,500", RULE), Wrong)
    assert text("2 + (length > 900)", RULE) == "2 + (length > 900)"
    assert isinstance(text("1 + " * 400 + "1", RULE), Wrong)
    assert read_cell(Cell("#NAME?", "error"), RULE, units="mm").mend == "type the rule as text, without = before it"


def test_front_heights() -> None:
    assert text("157, 253, 317", HEIGHTS) == (157, 253, 317)
    assert text("157;253;317", HEIGHTS) == (157, 253, 317)
    assert text("157,253,317", HEIGHTS) == (157, 253, 317)
    assert text("157,5; 253", HEIGHTS) == (Fraction("157.5"), 253)
    assert text('6 1/4", 10"', HEIGHTS) == (Fraction("158.75"), 254)
    assert number("157", HEIGHTS) == (157,)
    assert read_cell(None, HEIGHTS, units="mm") == ()
    assert isinstance(text("157, tall", HEIGHTS), Wrong)
    assert isinstance(text("157, 0", HEIGHTS), Wrong)


def test_payment_schedules() -> None:
    def shares(typed: str) -> list[tuple[Fraction, str]]:
        return [(step.share, step.words) for step in text(typed, SCHEDULE)]

    assert shares("50 % deposit, 40 % before delivery, 10 % on completion") == [
        (Fraction(1, 2), "deposit"), (Fraction(2, 5), "before delivery"), (Fraction(1, 10), "on completion"),
    ]  # fmt: skip
    assert shares("33,3 % now; 66,7 % later") == [(Fraction("0.333"), "now"), (Fraction("0.667"), "later")]
    assert shares("33 1/3 % a, 33 1/3 % b, 33 1/3 % c")[0] == (Fraction(1, 3), "a")
    assert shares("40% on order, with thanks, 60% at the end") == [
        (Fraction(2, 5), "on order, with thanks"),
        (Fraction(3, 5), "at the end"),
    ]
    assert shares("50 % deposit\n50 % on completion")[1] == (Fraction(1, 2), "on completion")
    assert [step.words for step in read_cell(Cell("1", "number", "percent"), SCHEDULE, units="mm")] == ["payment 1"]
    assert text("50 % deposit, 49 % on completion", SCHEDULE).found == "shares that add up to 99 %"
    assert text("33.33 % a, 33.33 % b, 33.33 % c", SCHEDULE).found == "shares that add up to 99.99 %"
    for wrong in ("half, half", "deposit 50 %", "50 deposit, 50 later", "-50 % a, 150 % b", "%", "50 % a, b 50 %x"):
        assert isinstance(text(wrong, SCHEDULE), Wrong), wrong


ALL = [column for sheet in SHEETS for column in sheet.columns]
SIGNS = st.text(alphabet="0123456789 .,-+/%'\"xOlm½€\u00a0\u202f()eEinft", max_size=20)


@given(column=st.sampled_from(ALL), typed=st.one_of(st.text(max_size=40), SIGNS), units=st.sampled_from(("mm", "inch")))
def test_any_text_is_a_value_or_a_wrong_with_words(column: Column, typed: str, units: Units) -> None:
    answer = read_cell(Cell(typed), column, units=units)
    if isinstance(answer, Wrong):
        assert answer.found
        assert answer.mend


@given(
    column=st.sampled_from(ALL),
    stored=st.one_of(st.floats().map(repr), st.integers().map(str), st.text(max_size=12), st.decimals().map(str)),
    holds=st.sampled_from(("number", "yes or no", "error", "no answer", "iso date")),
    shows=st.sampled_from(("", "percent", "date", "time")),
)
def test_any_stored_cell_is_a_value_or_a_wrong_with_words(column: Column, stored: str, holds: Any, shows: Any) -> None:
    answer = read_cell(Cell(stored, holds, shows), column, units="mm")
    if isinstance(answer, Wrong):
        assert answer.found
        assert answer.mend


@given(st.fractions(min_value=-(10**6), max_value=10**6, max_denominator=64))
def test_a_mixed_fraction_is_read_back_exactly(value: Fraction) -> None:
    whole, rest = divmod(abs(value), 1)
    typed = f"{'-' if value < 0 else ''}{whole} {rest}" if rest else f"{'-' if value < 0 else ''}{whole}"
    answer = text(typed, Column("n", "n", "number", "", at_least="-9999999"))
    assert answer == value


@given(st.decimals(min_value=-(10**9), max_value=10**9, places=4, allow_nan=False))
def test_a_decimal_is_read_alike_with_a_point_a_comma_and_from_a_number_cell(value: Any) -> None:
    column = Column("n", "n", "number", "", at_least="-9999999999")
    typed = format(value, "f")
    assert text(typed, column) == text(typed.replace(".", ","), column) == number(typed, column) == Fraction(typed)
