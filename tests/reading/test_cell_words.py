"""One cell, read for each kind of column: what it is worth at each limit, and the whole of what a wrong one is told."""

from __future__ import annotations

from datetime import date
from typing import Any

import pytest

from estimator.model.exact import Fraction
from estimator.model.form import Column
from estimator.model.shop_records import Instalment, Money, Share
from estimator.reading.cell_lengths import length_of
from estimator.reading.cell_numbers import number_of
from estimator.reading.cell_words import as_text, day_of_serial, found
from estimator.reading.cells import read_cell
from estimator.reading.raw_cells import Cell
from estimator.reading.typed_numbers import Units, Wrong
from tests.reading.held import cell_of

F = Fraction
AS_NUMBER = "format the cell as a number (right click on it, then Format Cells), and type it again"


def column(what: Any, field: str = "price", **more: Any) -> Column:
    return Column(field.capitalize(), field, what, "", **more)


def told(content: str | Cell, of: Column, units: Units = "mm", **how: Any) -> tuple[str, str]:
    answer = read_cell(cell_of(content) if isinstance(content, str) else content, of, units=units, **how)
    assert isinstance(answer, Wrong), answer
    assert answer.expected == ""
    return answer.found, answer.mend


def worth(content: str | Cell, of: Column, units: Units = "mm", **how: Any) -> Any:
    return read_cell(cell_of(content) if isinstance(content, str) else content, of, units=units, **how)


# --- what is no number, in any column of numbers --------------------------------------------------------------------------------------------


@pytest.mark.parametrize("what", ["number", "rating", "whole", "money", "money a metre", "length", "roll length", "rule", "percent", "percent or money", "lengths"])
@pytest.mark.parametrize(
    ("content", "words", "mend"),
    [
        ("bool:true", "TRUE, which is a yes or a no", "type a number"), ("bool:false", "FALSE, which is a yes or a no", "type a number"), ("date:2031-04-03", "the date 2031-04-03", f"{AS_NUMBER}: 3/4 turns into a date, =3/4 or 0.75 does not"),
        (Cell("2031-04-03T00:00", "iso date"), "the date 2031-04-03", f"{AS_NUMBER}: 3/4 turns into a date, =3/4 or 0.75 does not"), ("time:07:05", "a time of day: 7:05", f"{AS_NUMBER} without a colon"),
        ("=1+1", "a formula whose answer was not saved", "open the workbook in your spreadsheet program, save it there, and run again"), (Cell("none", "number"), "the number none", "type the number again"),
    ],
)  # fmt: skip
def test_what_is_no_number(what: str, content: str | Cell, words: str, mend: str) -> None:
    said = told(content, column(what))
    assert said == (("a number that is none: none", mend) if words == "the number none" else (words, mend))


@pytest.mark.parametrize("what", ["number", "whole", "money", "length", "rule", "lengths"])
def test_a_percentage_where_none_can_be(what: str) -> None:
    assert told("percent:0.6", column(what)) == ("the percentage 60 %", f"{AS_NUMBER}: a percentage means nothing here")


@pytest.mark.parametrize("what", ["number", "text", "date", "choice", "name", "schedule"])
def test_an_error(what: str) -> None:
    assert told("error:#DIV/0!", column(what)) == ("the error #DIV/0!", "mend the formula in this cell, or type its answer")
    assert told("error:#NAME?", column("rule")) == ("the error #NAME?", "type the rule as text, without = before it")
    assert number_of(Cell("#REF!", "error")) == Wrong("the error #REF!", "mend the formula in this cell, or type its answer")
    assert length_of(Cell("", "no answer", "", True), bare=F(1)) == Wrong("a formula whose answer was not saved", "open the workbook in your spreadsheet program, save it there, and run again")


# --- bounds ---------------------------------------------------------------------------------------------------------------------------------

QTY, PRICE, YIELD, BELOW, RATING = (
    column("whole", "qty", at_least="1"), column("money"), column("percent", above_0=True, at_most="100"), column("percent", below="100"), column("number", at_most="500", at_least="2"),
)  # fmt: skip
NEEDED = column("length", "width", above_0=True, needed=True)
MEASURE = "more than that is out of all measure"


@pytest.mark.parametrize(
    ("content", "of", "value"),
    [
        ("0", PRICE, 0), ("-0.01", PRICE, ("the number -0.01", "type 0 or more")), ("0.01", YIELD, ("the number 0.01", "is it 0.01 % or 1 %? type the one that is meant, with its % sign")), ("100", YIELD, 1),
        ("100.5", YIELD, ("the number 100.5", "type 100 % or less")), ("0", YIELD, ("the number 0", "type a number above 0, or leave the cell blank")), ("0", NEEDED, ("the number 0", "type a number above 0")),
        ("text:0 mm", NEEDED, ("the text 0 mm", "type a number above 0")), ("99.9", BELOW, F("0.999")), ("100", BELOW, ("the number 100", "type less than 100 %")), ("-1 %", BELOW, ("the text -1 %", "type 0 % or more")),
        ("0 %", BELOW, 0), ("500", RATING, 500), ("501", RATING, ("the number 501", "type 500 or less")), ("2", RATING, 2), ("1.9", RATING, ("the number 1.9", "type 2 or more")), ("1", QTY, 1), ("0", QTY, ("the number 0", "type 1 or more")),
        ("1.5", QTY, ("the number 1.5", "type a whole number, without a fraction")), ("10000", QTY, 10_000), ("10001", QTY, ("the number 10001", f"type 10,000 or less: {MEASURE}")),
        ("1000", column("whole", "doors"), 1_000), ("1001", column("whole", "doors"), ("the number 1001", f"type 1,000 or less: {MEASURE}")), ("1001", column("whole", "drawers"), ("the number 1001", f"type 1,000 or less: {MEASURE}")),
        ("1001", column("whole", "shelves"), ("the number 1001", f"type 1,000 or less: {MEASURE}")), ("1000000", column("whole", "on_hand"), 1_000_000), ("1000001", column("whole", "on_hand"), ("the number 1000001", f"type 1,000,000 or less: {MEASURE}")),
    ],
)  # fmt: skip
def test_each_bound_and_one_beyond(content: str, of: Column, value: Any) -> None:
    assert (told(content, of) if isinstance(value, tuple) else worth(content, of)) == value


# --- percentages and money ------------------------------------------------------------------------------------------------------------------

SHARE, EITHER, FREED = column("percent"), column("percent or money"), column("freed hour")


@pytest.mark.parametrize(
    ("content", "value"),
    [
        ("15 %", F("0.15")), ("15%", F("0.15")), ("1", F("0.01")), ("text:1", F("0.01")), ("percent:0.15", F("0.15")), ("0", 0), ("0.999", ("the number 0.999", "is it 0.999 % or 99.9 %? type the one that is meant, with its % sign")),
        ("text:0,5", ("the text 0,5", "is it 0.5 % or 50 %? type the one that is meant, with its % sign")), ("0.5 %", F("0.005")), ("fifteen %", ("the text fifteen %", "type a number, with digits only")),
        ("15 % or so", ("the text 15 % or so", "type a plain number: this is no percentage")), ("15 percent", ("the text 15 percent", "type 15 %, with the sign in place of the word")), ("7,5 Prozent", ("the text 7,5 Prozent", "type 7,5 %, with the sign in place of the word")),
        ("15 per cent", ("the text 15 per cent", "type 15 %, with the sign in place of the word")), ("15pct.", ("the text 15pct.", "type 15 %, with the sign in place of the word")), ("15 p.c.", ("the text 15 p.c.", "type 15 %, with the sign in place of the word")),
        (Cell("none", "number", "percent"), ("a number that is none: none", "type the number again")), ("much", ("the text much", "type a number, with digits only")), ("%", ("the text %", "type a number here")),
    ],
)  # fmt: skip
def test_percentages(content: str | Cell, value: Any) -> None:
    assert (told(content, SHARE) if isinstance(value, tuple) else worth(content, SHARE)) == value


@pytest.mark.parametrize(
    ("content", "value"),
    [
        ("15", Money(F(15))), ("0.5", Money(F("0.5"))), ("15 %", Share(F("0.15"))), ("0 %", Share(F(0))), ("100 %", Share(F(1))), ("100.1 %", ("the text 100.1 %", "type a percentage from 0 % to 100 %")),
        ("-0.1 %", ("the text -0.1 %", "type a percentage from 0 % to 100 %")), ("percent:1", Share(F(1))), ("percent:1.01", ("the percentage 101 %", "type a percentage from 0 % to 100 %")), ("-1", ("the number -1", "type 0 or more")),
        ("x %", ("the text x %", "type a number, with digits only")), ("€ 12,50", Money(F("12.5"))), ("3 percent", ("the text 3 percent", "type 3 %, with the sign in place of the word")),
    ],
)  # fmt: skip
def test_a_share_or_an_amount(content: str, value: Any) -> None:
    assert (told(content, EITHER) if not isinstance(value, Money | Share) else worth(content, EITHER)) == value


@pytest.mark.parametrize(
    ("typed", "value"),
    [
        ("€12", 12), ("€ 12", 12), ("12€", 12), ("12 €", 12), ("$12.50", F("12.5")), ("£ .50", F("0.5")), ("¥1200", 1200), ("12,5 ¥", F("12.5")), ("£-5", ("the text -5", "type 0 or more")), ("€ € 12", ("the text € € 12", "type a number, with digits only")),
        ("EUR 12", ("the text EUR 12", "type the number only, without a unit")), ("12", 12), ("€", ("the text €", "type a number here")), ("twelve", ("the text twelve", "type a number, with digits only")), ("12 $ each", ("the text 12 $ each", "type the number only, without a unit")),
    ],
)  # fmt: skip
def test_money_with_its_sign(typed: str, value: Any) -> None:
    assert (told(Cell(typed), PRICE) if isinstance(value, tuple) else worth(Cell(typed), PRICE)) == value


def test_money_a_metre_and_a_foot() -> None:
    assert (worth("0.45", column("money a metre")), worth("0.3048", column("money a metre"), "inch")) == (F("0.45"), 1)
    assert told("-1", column("money a metre"), "inch") == ("the number -1", "type 0 or more")


@pytest.mark.parametrize(
    ("content", "value"),
    [
        ("Idle", "idle"), ("WAGE", "wage"), ("full  rate", "full rate"), ("18", Money(F(18))), ("€ 18", Money(F(18))), ("wages", ("the text wages", "did you mean wage?")), ("much", ("the text much", "type idle, wage, full rate or an amount")),
        ("percent:0.5", ("the percentage 50 %", "type idle, wage, full rate or an amount")), ("-1", ("the number -1", "type idle, wage, full rate or an amount")), ("ful rate", ("the text ful rate", "did you mean full rate?")), ("idel", ("the text idel", "did you mean idle?")),
    ],
)  # fmt: skip
def test_what_a_freed_hour_is_worth(content: str, value: Any) -> None:
    assert (told(content, FREED) if isinstance(value, tuple) else worth(content, FREED)) == value


# --- lengths, rules, schedules --------------------------------------------------------------------------------------------------------------

HEIGHTS, RULE, SCHEDULE, ROLL = column("lengths"), column("rule"), column("schedule"), column("roll length", above_0=True)


@pytest.mark.parametrize(
    ("content", "value"),
    [
        ("157", (157,)), ("157, 253", (157, 253)), ("157;253,5", (157, F("253.5"))), ("157,253,317", (157, 253, 317)), ("157, 253,", (157, 253)), ("text:157", (157,)), ("19 mm; 2 cm", (19, 20)), ("157, 253; ", ("the text 157, 253;", "look at '157, 253': type a number, with digits only")),
        ("157, tall", ("the text 157, tall", "look at 'tall': type a number, with digits only")), ("157, 0", ("the text 157, 0", "type heights above 0")), ("0", ("the number 0", "type heights above 0")), ("157,,253", ("the text 157,,253", "look at '': type a number here")),
    ],
)  # fmt: skip
def test_several_lengths(content: str, value: Any) -> None:
    assert (told(content, HEIGHTS) if value and isinstance(value[0], str) else worth(content, HEIGHTS)) == value


def test_several_lengths_and_rolls_in_inches() -> None:
    assert worth("6; 10", HEIGHTS, "inch") == (F("152.4"), 254)
    assert worth("6", HEIGHTS, "inch") == (F("152.4"),)
    assert (worth("50", ROLL), worth("50", ROLL, "inch"), worth("text:50 ft", ROLL)) == (50, F("15.24"), F("15.24"))
    assert told("0", ROLL) == ("the number 0", "type a number above 0, or leave the cell blank")


@pytest.mark.parametrize(
    ("content", "units", "value"),
    [
        ("2", "mm", "2"), ("0.125", "mm", "0.125"), ("text:1/3", "mm", "1/3"), ("text:19 mm", "inch", "95/127"), ("text:1 in", "inch", "1"), ("text:25.4 mm", "inch", "1"), ("= width - 36", "mm", None), ("text:=width - 36", "mm", "width - 36"), ("text:2 + x", "mm", "2 + x"),
        ("text:2,5", "mm", "2.5"), ("text:1,500", "mm", ("the text 1,500", "type it without a comma: 1500, or 1.5 if that is meant")), ("text:1.2.3", "mm", ("the text 1.2.3", "type a number, with digits only")), ("text:-5", "mm", "-5"), ("x" * 1_000, "mm", "x" * 1_000),
        ("x" * 1_001, "mm", ("a rule of 1,001 signs", "shorten it to 1,000 signs or fewer")), ("text:2 kg", "mm", "2 kg"), ("text:  a   b ", "mm", "a b"),
    ],
)  # fmt: skip
def test_a_rule_stays_text_but_for_a_lone_length(content: str, units: Units, value: Any) -> None:
    if value is None:
        assert told(content, RULE)[0] == "a formula whose answer was not saved"
    else:
        assert (told(content, RULE, units) if isinstance(value, tuple) else worth(content, RULE, units)) == value


EACH_SHARE = "type each share with its % sign and its words, such as 50 % deposit, 50 % on completion"
ADD_UP = "change a share so that they add up to exactly 100 %"


@pytest.mark.parametrize(
    ("typed", "value"),
    [
        ("100 %", ("payment 1",)), ("50 %, 50 %", ("payment 1", "payment 2")), ("50 % a, 50 %", ("a", "payment 2")), ("50 % a,\n\n 50 % b.", ("a", "b")), ("50 % a, 50 % X", ("a", "X")), ("50 % a; 50 % b;", ("a", "b")), ("33 1/3 % a, 66 2/3 % b", ("a", "b")), ("99,5 % a, 0.5 % b", ("a", "b")),
        ("50 % a, 49.5 % b", ("shares that add up to 99.5 %", ADD_UP)), ("150 % a", ("shares that add up to 150 %", ADD_UP)), ("half", ("the text half", EACH_SHARE)), ("50 % a, half", ("shares that add up to 50 %", ADD_UP)), ("50 a", ("the text 50 a", EACH_SHARE)),
        ("1/0 % a", ("the text 1/0 % a", EACH_SHARE)), ("1 1/0 % a", ("the text 1 1/0 % a", EACH_SHARE)), ("50 % a % b", ("the text 50 % a % b", EACH_SHARE)),
    ],
)  # fmt: skip
def test_payment_schedules(typed: str, value: Any) -> None:
    answer = worth(Cell(typed), SCHEDULE)
    assert (tuple(answer) if isinstance(answer, Wrong) else tuple(step.words for step in answer)) == (value if not isinstance(answer, Wrong) else (*value, ""))
    assert isinstance(answer, Wrong) or all(isinstance(step, Instalment) for step in answer)


# --- dates ----------------------------------------------------------------------------------------------------------------------------------

DATE, SUCH_AS = column("date"), "type the date as year-month-day, such as 2031-02-03"


@pytest.mark.parametrize(
    ("content", "value"),
    [
        ("2031-02-03", date(2031, 2, 3)), ("text:2031-2-3", date(2031, 2, 3)), ("text:2031-02-03 10:00", date(2031, 2, 3)), ("date:2031-02-03", date(2031, 2, 3)), (Cell("2031-02-03T10:00", "iso date"), date(2031, 2, 3)), ("date:1990-01-01", date(1990, 1, 1)),
        ("date:2199-12-31", date(2199, 12, 31)), ("date:1989-12-31", ("the date 1989-12-31", "type a date from 1990 to 2199")), ("date:2200-01-01", ("the date 2200-01-01", "type a date from 1990 to 2199")), ("2031-02-30", ("the text 2031-02-30", f"no calendar has this day: {SUCH_AS}")),
        ("3/2/2031", ("the text 3/2/2031", f"{SUCH_AS}: other orders are read differently in different countries")), ("soon", ("the text soon", SUCH_AS)), ("Q4 1", ("the text Q4 1", SUCH_AS)), ("week 123", ("the text week 123", f"{SUCH_AS}: other orders are read differently in different countries")),
        ("47882", ("the number 47882", "if 2031-02-03 is meant, format the cell as a date or type 2031-02-03")), ("5", ("the number 5", SUCH_AS)), ("32874", ("the number 32874", "if 1990-01-01 is meant, format the cell as a date or type 1990-01-01")), ("32873", ("the number 32873", SUCH_AS)),
        ("109574", ("the number 109574", "if 2199-12-31 is meant, format the cell as a date or type 2199-12-31")), ("109575", ("the number 109575", SUCH_AS)), ("percent:0.5", ("the percentage 50 %", SUCH_AS)), ("time:07:30", ("a time of day: 7:30", SUCH_AS)), ("bool:true", ("TRUE, which is a yes or a no", SUCH_AS)),
        (Cell("99999999999", "number", "date"), ("the date 99999999999", SUCH_AS)), (Cell("x", "number"), ("the number x", SUCH_AS)),
    ],
)  # fmt: skip
def test_dates(content: str | Cell, value: Any) -> None:
    assert (told(content, DATE) if isinstance(value, tuple) else worth(content, DATE)) == value


def test_days_are_counted_from_one_of_two_beginnings() -> None:
    assert worth(Cell("46420", "number", "date"), DATE, starts_1904=True) == date(2031, 2, 3)
    assert (day_of_serial(Cell("0", "number"), False), day_of_serial(Cell("0", "number"), True)) == (date(1899, 12, 30), date(1904, 1, 1))
    assert told(Cell("46420", "number"), DATE, starts_1904=True)[1].startswith("if 2031-02-03 is meant")
    assert told(Cell("300000", "number", "date"), DATE, starts_1904=True) == ("the date 2725-05-16", "type a date from 1990 to 2199")


# --- what a cell shows ----------------------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("cell", "shown", "named"),
    [
        (Cell(" oak "), "oak", "the text oak"), (Cell("1", "yes or no"), "true", "TRUE, which is a yes or a no"), (Cell("0", "yes or no"), "false", "FALSE, which is a yes or a no"), (Cell("2031-02-03T10:00", "iso date"), "2031-02-03", "the date 2031-02-03"),
        (Cell("#N/A", "error"), "#N/A", "the error #N/A"), (Cell("", "no answer"), "", "a formula whose answer was not saved"), (Cell("7", "number"), "7", "the number 7"), (Cell("0015", "number"), "15", "the number 15"), (Cell("7.50", "number"), "7.5", "the number 7.5"),
        (Cell("123456789012", "number"), "123456789012", "the number 123456789012"), (Cell("1e3", "number"), "1000", "the number 1000"), (Cell("0.15", "number", "percent"), "15 %", "the percentage 15 %"), (Cell("7", "number", "percent"), "700 %", "the percentage 700 %"),
        (Cell("0.3125", "number", "time"), "7:30", "a time of day: 7:30"), (Cell("0.00034", "number", "time"), "0:00", "a time of day: 0:00"), (Cell("1.5", "number", "time"), "36:00", "a time of day: 36:00"), (Cell("-1", "number", "time"), "-1", "a time of day: -1"), (Cell("0", "number", "time"), "0:00", "a time of day: 0:00"),
        (Cell("x", "number", "time"), "x", "a time of day: x"), (Cell("47882.9", "number", "date"), "2031-02-03", "the date 2031-02-03"), (Cell("1e12", "number", "date"), "1e12", "the date 1e12"), (Cell("none", "number"), "none", "the number none"),
        (Cell("none" * 20, "number", "percent"), "none" * 20, "the percentage " + "none" * 12 + "no... (80 signs)"), (Cell("0.32", "number", "time"), "7:41", "a time of day: 7:41"),
    ],
)  # fmt: skip
def test_what_a_cell_shows_and_how_a_message_names_it(cell: Cell, shown: str, named: str) -> None:
    assert (as_text(cell), found(cell)) == (shown, named)
