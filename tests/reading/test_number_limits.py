"""Numbers as they are stored and as they are typed: how long, how large and how small they may be, and what each wrong one is told."""

from __future__ import annotations

from typing import Any

import pytest

from estimator.model.exact import Fraction
from estimator.reading.typed_numbers import (
    Length,
    Wrong,
    bare_metre_mm,
    bare_mm,
    length,
    plain_number,
    said,
    shortened,
    stored_number,
    tidy,
)

F = Fraction
OUT_OF_MEASURE = "type a number that a workshop can have: it is out of all measure"
DIGITS = "type a number, with digits only"


@pytest.mark.parametrize(
    ("stored", "worth"),
    [
        ("0", "0"), ("123456789012", "123456789012"), ("1000000000000", "1000000000000"), ("-1000000000000", "-1000000000000"), ("0001", "1"), ("+5", "5"), ("-5", "-5"), ("5.", "5"), (".5", "0.5"),
        ("1e12", "1000000000000"), ("1E+2", "100"), ("1E-12", "0.000000000001"), ("-1E-12", "-0.000000000001"), ("9.99E-13", "0"), ("0.00000000000099", "0"),
        ("123456789.123456", "123456789.123456"), ("0.1234567890123456", "0.123456789012346"), ("1234567890.123456", "1234567890.12346"), ("0." + "1" * 38, "0.111111111111111"),
    ],
)  # fmt: skip
def test_a_stored_number_is_worth_its_digits(stored: str, worth: str) -> None:
    assert stored_number(stored) == F(worth)


@pytest.mark.parametrize("stored", ["1000000000001", "-1000000000001", "9999999999999", "1.1e12", "1e300", "-1e300", "1e999", "0." + "1" * 39, "1" * 41])
def test_a_stored_number_out_of_all_measure(stored: str) -> None:
    assert stored_number(stored) == Wrong(f"the number {stored}", OUT_OF_MEASURE)


@pytest.mark.parametrize("stored", ["", "one", "1,5", "--5", "1e", "e5", "1.2.3", "NaN", "inf", "0x10", "1_000", " 5", "²", "٣", "."])
def test_what_is_stored_as_a_number_and_is_none(stored: str) -> None:
    assert stored_number(stored) == Wrong(f"a number that is none: {stored.strip()}", "type the number again")


@pytest.mark.parametrize(
    ("typed", "worth"),
    [
        ("5", "5"), ("+5", "5"), ("-5", "-5"), ("5.", "5"), (".5", "0.5"), ("5,", "5"), (",5", "0.5"), ("-,5", "-0.5"), ("+1,5", "1.5"), ("-1,5", "-1.5"), ("1000000000000", "1000000000000"),
        ("-1000000000000", "-1000000000000"), ("0." + "1" * 39, "0." + "1" * 39), ("1 234", "1234"), ("-1 234", "-1234"), ("1 234 567", "1234567"), ("1 234.5", "1234.5"), ("1.234.567,8", "1234567.8"),
        ("1,234,567.8", "1234567.8"), ("1.234.567", "1234567"), ("1,234,567", "1234567"), ("0,500", "0.5"), ("1234,500", "1234.5"), ("1.500", "1.5"), ("1 234,567", "1234.567"), ("0.050", "0.05"), ("1/2", "0.5"),
        ("-1/2", "-0.5"), ("+1/2", "0.5"), ("2 1/2", "2.5"), ("-2 1/2", "-2.5"), ("2-1/2", "2.5"), ("7 / 8", "0.875"), ("0 1/4", "0.25"), ("1/3", "1/3"), ("123456789012 1/2", "123456789012.5"), ("−5", "-5"), ("５", "5"),
    ],
)  # fmt: skip
def test_a_typed_number(typed: str, worth: str) -> None:
    assert plain_number(typed) == F(worth)


@pytest.mark.parametrize(
    ("typed", "mend"),
    [
        ("1000000000001", OUT_OF_MEASURE), ("-1000000000000.5", OUT_OF_MEASURE), ("0." + "1" * 40, OUT_OF_MEASURE), ("1,500", "type it without a comma: 1500, or 1.5 if that is meant"),
        ("12,000", "type it without a comma: 12000, or 12 if that is meant"), ("-1,500", "type it without a comma: 1500, or 1.5 if that is meant"), ("100,250", "type it without a comma: 100250, or 100.25 if that is meant"),
        ("1/0", "a fraction cannot have 0 below its line"), ("2 1/00", "a fraction cannot have 0 below its line"), (".", "type a number here"), (",", "type a number here"), ("", "type a number here"), ("+", "type a number here"),
        ("-.", "type a number here"), ("?!", "type a number here"), ("+-5", DIGITS), ("1,2,3", DIGITS), ("1.2.3", DIGITS), ("12 34", DIGITS), ("0 123", DIGITS), ("1 234.567.8", DIGITS), ("1.234,567,8", DIGITS), ("1,234 567", DIGITS),
        ("1,2.3.4", DIGITS), ("1 2,5", DIGITS), ("5-", DIGITS), ("5+3", DIGITS), ("1/2/3", DIGITS), ("1//2", DIGITS), ("٣", DIGITS), ("two", DIGITS), ("5 %", "type a plain number: this is no percentage"),
        ("%", "type a plain number: this is no percentage"), ("5 kg", "type the number only, without a unit"), ("kg 5", "type the number only, without a unit"), ("5 OO kg", "type the number only, without a unit"), ("X5", "type the number only, without a unit"), ("5X", "type the number only, without a unit"), ("1a,5", "type the number only, without a unit"), ("1,5a", "type the number only, without a unit"),
        ("1.2,3a", "type the number only, without a unit"), ("1;5", DIGITS), ("1,5;", DIGITS), ("1_000", DIGITS),
    ],
)  # fmt: skip
def test_what_is_no_number_is_told_with_its_cure(typed: str, mend: str) -> None:
    answer = plain_number(typed)
    assert isinstance(answer, Wrong)
    assert answer.mend == mend
    assert answer.found == (f"the number {shortened(typed)}" if mend == OUT_OF_MEASURE else f"the text {typed}")


@pytest.mark.parametrize(
    ("typed", "name", "meant"),
    [
        ("6O", "O", "60"), ("6o", "O", "60"), ("6Q", "Q", "60"), ("l2", "l", "12"), ("I2", "I", "12"), ("1S", "S", "15"), ("1B", "B", "18"), ("Z5", "Z", "25"), ("lOS", "", ""), ("|2O", "O", "120"), ("1O,5", "O", "10,5"),
        ("1OO.5", "O", "100.5"), ("1O,500", "", ""), ("-2O", "O", "-20"), ("2x", "", ""), ("2Ox", "", ""), ("l2O", "l", "120"),
    ],
)  # fmt: skip
def test_a_letter_that_looks_like_a_digit(typed: str, name: str, meant: str) -> None:
    answer: Any = plain_number(typed)
    if name:
        assert answer.mend == f"type digits only: a letter {name} turns the number into text; {meant} may be meant"
    else:
        assert "may be meant" not in answer.mend


@pytest.mark.parametrize(
    ("text", "short"),
    [("x" * 60, "x" * 60), ("x" * 61, "x" * 50 + "... (61 signs)"), ("x" * 1_500, "x" * 50 + "... (1,500 signs)"), (" a \n b  c ", "a b c"), ("a " * 30, " ".join("a" * 30))],
)
def test_a_text_in_a_message(text: str, short: str) -> None:
    assert shortened(text) == short
    assert said(text) == f"the text {short}"


@pytest.mark.parametrize(
    ("typed", "line"),
    [
        ("a\u2010\u2011\u2012\u2013\u2212b", "a-----b"), ("1\u20442\u22153", "1/2/3"), ("\u2018\u2019\u2032\u00b4", "''''"), ("\u201c\u201d\u2033", '"""'), ("\uff05\ufe6a", "%%"),
        ("a\u200b\u200e\u200f\u2060\ufeffb", "ab"), ("1\uff0c5\uff0e5", "1,5.5"), ("0０1１2２3３4４5５6６7７8８9９", "00112233445566778899"), (" a \t\n b ", "a b"), ("5\u00a0mm", "5 mm"),
    ],
)  # fmt: skip
def test_the_many_signs_of_one_thing(typed: str, line: str) -> None:
    assert tidy(typed) == line


# --- lengths --------------------------------------------------------------------------------------------------------------------------------

FEET = "type feet and inches such as 2' 6\" or 2 ft 6 1/2 in"


@pytest.mark.parametrize(
    ("typed", "mm", "with_unit"),
    [
        ("5", "5", False), ("5 mm", "5", True), ("-5 mm", "-5", True), ("2' 6\"", "762", True), ("-2' 6\"", "-762", True), ("0' 6\"", "152.4", True), ("2' 0\"", "609.6", True), ("2' -6\"", "762", True), ("2' 6 1/2\"", "774.7", True),
        ("1/2 ft", "152.4", True), ("1 1/2'", "457.2", True), ("1,5 m", "1500", True), ("60,5cm", "605", True), ("1" * 12 + " mm", "1" * 12, True), ("5" + " " * 200 + "mm", "5", True),
    ],
)  # fmt: skip
def test_a_typed_length(typed: str, mm: str, with_unit: bool) -> None:
    assert length(typed, bare_mm=F(1)) == Length(F(mm), with_unit)


@pytest.mark.parametrize(
    ("typed", "found", "mend"),
    [
        ("5 kg", "the text 5 kg", "type the number alone, or with mm, cm, m, in or ft after it"), ("five mm", "the text five mm", DIGITS), ("mm", "the text mm", DIGITS), ("1,500 mm", "the text 1,500 mm", "type it without a comma: 1500, or 1.5 if that is meant"),
        ("6O,5 mm", "the text 6O,5 mm", "type digits only: a letter O turns the number into text; 60,5 may be meant"), ("1.2.3' 6\"", "the text 1.2.3' 6\"", FEET), ("2' 6.5.5\"", "the text 2' 6.5.5\"", FEET),
        ("2' x\"", "the text 2' x\"", "type the number alone, or with mm, cm, m, in or ft after it"), ("x' 6\"", "the text x' 6\"", "type the number alone, or with mm, cm, m, in or ft after it"),
        ("5 kg 3 mm", "the text 5 kg 3 mm", "type the number alone, or with mm, cm, m, in or ft after it"),
        ("9" * 120, f"the number {'9' * 50}... (120 signs)", OUT_OF_MEASURE), ("9" * 121, f"the number {'9' * 50}... (121 signs)", OUT_OF_MEASURE), ("x" * 121, f"the number {'x' * 50}... (121 signs)", OUT_OF_MEASURE),
        ("x" * 120, f"the text {'x' * 50}... (120 signs)", DIGITS),
    ],
)  # fmt: skip
def test_what_is_no_length(typed: str, found: str, mend: str) -> None:
    answer = length(typed, bare_mm=F(1))
    assert isinstance(answer, Wrong)
    assert (answer.found, answer.mend) == (found, mend)


def test_what_a_bare_number_is_worth() -> None:
    assert (bare_mm("mm"), bare_mm("inch"), bare_metre_mm("mm"), bare_metre_mm("inch")) == (1, F("25.4"), 1000, F("304.8"))
