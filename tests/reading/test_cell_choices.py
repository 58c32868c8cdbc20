"""Cells of words: choices in other spellings, yes and no, marks, currencies, names and notes of many signs, and what a blank means."""

from __future__ import annotations

from typing import Any

import pytest

from estimator.model.exact import Fraction
from estimator.model.form import JOB, SHEETS, Column
from estimator.reading.cells import read_cell
from estimator.reading.raw_cells import Cell
from estimator.reading.typed_numbers import Wrong
from tests.reading.held import cell_of

UNITS = next(column for column in JOB.columns if column.field == "units")
SHOWN = Column("Prices shown", "prices_shown", "choice", "", choices=("without tax", "with tax", "both"))


def read(content: str, column: Column, **how: Any) -> Any:
    answer = read_cell(cell_of(content), column, units="mm", **how)
    return (answer.found, answer.mend) if isinstance(answer, Wrong) else answer


@pytest.mark.parametrize(
    ("typed", "answer"),
    [
        ("Both", "both"), ("WITH  tax", "with tax"), ("bth", ("the text bth", "did you mean both?")), ("none", ("the text none", "choose one of without tax, with tax, both")), ("withtax", ("the text withtax", "did you mean with tax?")),
        ("7", ("the number 7", "choose one of without tax, with tax, both")), ("in", ("the text in", "choose one of without tax, with tax, both")), ("date:2031-02-03", ("the date 2031-02-03", "choose one of without tax, with tax, both")),
    ],
)  # fmt: skip
def test_a_choice(typed: str, answer: Any) -> None:
    assert read(typed, SHOWN) == answer


@pytest.mark.parametrize(
    ("words", "unit"),
    [(("mm", "MM", "millimetre", "Millimetres", "millimeter", "millimeters", "metric"), "mm"), (("inch", "Inches", "in", '"', "imperial", "IMPERIAL"), "inch")],
)
def test_units_in_other_words(words: tuple[str, ...], unit: str) -> None:
    assert [read(f"text:{word}", UNITS) for word in words] == [unit] * len(words)


def test_units_that_are_none() -> None:
    assert read("cm", UNITS) == ("the text cm", "choose one of mm, inch")
    assert read("inche", UNITS) == ("the text inche", "did you mean inch?")


@pytest.mark.parametrize(
    ("typed", "answer"),
    [
        *((word, True) for word in ("yes", "Y", " x ", "TRUE", "text:true", "bool:true")), *((word, False) for word in ("no", "N", "False", "bool:false")),
        ("1", ("the number 1", "type yes or no")), ("0", ("the number 0", "type yes or no")), ("maybe", ("the text maybe", "type yes or no")), ("text:1", ("the text 1", "type yes or no")), (None, False),
    ],
)  # fmt: skip
def test_yes_and_no(typed: str | None, answer: Any) -> None:
    assert read(typed or "", Column("Deduct", "deduct", "yes no", "")) == answer
    if typed is None:
        assert read("", Column("By hand", "by_hand", "yes no", "", "yes")) is True


@pytest.mark.parametrize(
    ("typed", "mark"),
    [("x", "x"), (" X ", "x"), ("bool:true", "x"), ("bool:false", ""), ("white  1", "white 1"), ("7", "7"), ("", ""), ("xx", "xx"), ("y" * 200, "y" * 200), ("y" * 201, ("a text of more than 200 signs", "shorten it to 200 signs or fewer"))],
)
def test_a_mark(typed: str, mark: Any) -> None:
    assert read(typed, Column("Front", "front", "mark", "")) == mark


@pytest.mark.parametrize(
    ("typed", "code"),
    [
        ("eur", "EUR"), ("EUR", "EUR"), ("€", ("the text €", "did you mean EUR?")), ("Euro", ("the text Euro", "did you mean EUR?")), ("euros", ("the text euros", "did you mean EUR?")), ("£", ("the text £", "did you mean GBP?")),
        ("pound", ("the text pound", "did you mean GBP?")), ("Pounds", ("the text Pounds", "did you mean GBP?")), ("$", ("the text $", "did you mean USD?")), ("dollar", ("the text dollar", "did you mean USD?")), ("dollars", ("the text dollars", "did you mean USD?")),
        ("¥", ("the text ¥", "did you mean JPY?")), ("yen", ("the text yen", "did you mean JPY?")), ("GBB", ("the text GBB", "did you mean GBP?")), ("978", ("the number 978", "type the three letters of the currency, such as EUR")),
        ("money", ("the text money", "type the three letters of the currency, such as EUR")), ("ABC", ("the text ABC", None)), ("XX", ("the text XX", "type the three letters of the currency, such as EUR")),
    ],
)  # fmt: skip
def test_a_currency(typed: str, code: Any) -> None:
    answer = read(typed, Column("Currency", "currency", "currency", ""))
    assert answer[0] == code[0] if isinstance(code, tuple) and code[1] is None else answer == code


NAMES = (
    "ref", "room", "kind", "part", "finish", "board", "edging", "adhesive", "item", "step", "stage", "option", "job_name", "quote_number", "revision", "material", "of",
    "per", "merchant",
)  # fmt: skip


@pytest.mark.parametrize("field", NAMES)
def test_a_name_has_200_signs_at_most_and_stands_on_one_line(field: str) -> None:
    column = Column(field.title(), field, "text", "")
    assert read("y" * 200, column) == "y" * 200
    assert read("y" * 201, column) == ("a text of more than 200 signs", "shorten it to 200 signs or fewer")
    assert read("white\n oak", column) == "white oak"


@pytest.mark.parametrize(("what", "on_one_line"), [("text", False), ("banding", True)])
def test_a_note_has_5000_signs_at_most(what: Any, on_one_line: bool) -> None:
    column = Column("Note", "note", what, "")
    assert read("y" * 5_000, column) == "y" * 5_000
    assert read("y" * 5_001, column) == ("a text of more than 5,000 signs", "shorten it to 5,000 signs or fewer")
    assert read("white\n oak", column) == ("white oak" if on_one_line else "white\n oak")


def test_a_name_of_another_sheet_has_200_signs_at_most() -> None:
    assert read("y" * 201, Column("Charge to", "charge_to", "name", "")) == ("a text of more than 200 signs", "shorten it to 200 signs or fewer")
    assert read(" white \n oak ", Column("Charge to", "charge_to", "name", "")) == "white oak"


@pytest.mark.parametrize(
    ("what", "blank"),
    [
        ("text", ""), ("name", ""), ("choice", ""), ("mark", ""), ("rule", ""), ("yes no", False), ("lengths", ()), ("banding", ""), ("currency", ""), ("schedule", ()), ("number", None), ("rating", None), ("whole", None), ("money", None),
        ("money a metre", None), ("percent", None), ("percent or money", None), ("length", None), ("roll length", None), ("date", None),
    ],
)  # fmt: skip
def test_what_a_blank_means_without_a_default(what: Any, blank: Any) -> None:
    assert read_cell(None, Column("Any", "any", what, ""), units="mm") == blank
    assert read_cell(None, Column("Any", "any", what, ""), units="inch") == blank


@pytest.mark.parametrize(
    ("what", "default", "units", "worth"),
    [("length", "20", "mm", 20), ("length", "20", "inch", 508), ("length", "20 mm", "inch", 20), ("percent", "0 %", "mm", 0), ("whole", "3", "mm", 3), ("choice", "metres", "mm", "metres"), ("roll length", "10", "inch", Fraction("3.048")), ("number", "1,5", "mm", Fraction("1.5"))],
)  # fmt: skip
def test_a_default_is_read_as_if_it_were_typed(what: Any, default: str, units: Any, worth: Any) -> None:
    assert read_cell(None, Column("Any", "any", what, "", default, choices=("metres", "whole rolls")), units=units) == worth


def test_no_default_of_the_form_is_wrong() -> None:
    for sheet in SHEETS:
        for column in sheet.columns:
            for units in ("mm", "inch"):
                assert not isinstance(read_cell(None, column, units=units), Wrong), (sheet.name, column.header)  # type: ignore[arg-type]


def test_a_cell_without_an_answer_is_one_in_every_column() -> None:
    for what in ("text", "choice", "date", "number", "yes no", "currency", "schedule"):
        assert read_cell(Cell("", "no answer", "", True), Column("Any", "any", what, ""), units="mm") == Wrong(  # type: ignore[arg-type]
            "a formula whose answer was not saved", "open the workbook in your spreadsheet program, save it there, and run again"
        )
