"""Rules of the shop's sheets: every limit at its value and one above, every sentence whole, and the tree that each sign makes."""

from __future__ import annotations

import pytest

from estimator.costing.rules import Binary, Call, Length, Name, Number, Trouble, names_in, parse, rule_name, work_out
from estimator.model.exact import Fraction

F = Fraction
WRITE = "write numbers, names, + - * / ( ), comparisons, min, max, round_up, round_down or if(a, b, c)"
NAMES = {"width": F(600), "doors": F(2), "gap_mid": F(3)}


def number(value: str | int) -> Number:
    return Number(F(value))


@pytest.mark.parametrize(
    ("rule", "tree"),
    [
        ("1.25", number("1.25")), (".5", number("0.5")), ("  width  ", Name("width")), ("Gap  Mid", Name("gap_mid")), ("gap_mid", Name("gap_mid")), ("one two three", Name("one_two_three")),
        ("19 mm", Length(F(19))), ("2.5cm", Length(F(25))), ("3 M", Length(F(3000))), ('1"', Length(F("25.4"))), ("2 in", Length(F("50.8"))), ("2 Inch", Length(F("50.8"))), ("mm", Name("mm")), ("2 * mm", Binary("*", number(2), Name("mm"))),
        ("-2", Binary("-", number(0), number(2))), ("+2", number(2)), ("--2", number(2)), ("-+2", Binary("-", number(0), number(2))), ("+-2", Binary("-", number(0), number(2))), ("---2", Binary("-", number(0), number(2))),
        ("1 + 2 - 3", Binary("-", Binary("+", number(1), number(2)), number(3))), ("1 - 2 * 3", Binary("-", number(1), Binary("*", number(2), number(3)))), ("8 / 4 * 2", Binary("*", Binary("/", number(8), number(4)), number(2))),
        ("(1 - 2) * 3", Binary("*", Binary("-", number(1), number(2)), number(3))), ("-2 * 3", Binary("*", Binary("-", number(0), number(2)), number(3))), ("2 * -3", Binary("*", number(2), Binary("-", number(0), number(3)))),
        ("1 + 2 > 3", Binary(">", Binary("+", number(1), number(2)), number(3))), ("1 <= 2", Binary("<=", number(1), number(2))), ("1 ≥ 2", Binary(">=", number(1), number(2))), ("1 ≤ 2", Binary("<=", number(1), number(2))), ("= 1 == 2", Binary("==", number(1), number(2))),
        ("min(1)", Call("min", (number(1),))), ("Max(1, 2; 3)", Call("max", (number(1), number(2), number(3)))), ("round up(width)", Call("round_up", (Name("width"),))), ("if(1 > 2, 3, 4)", Call("if", (Binary(">", number(1), number(2)), number(3), number(4)))),
        ("min(" + ", ".join("1" * 20) + ")", Call("min", (number(1),) * 20)),
    ],
)  # fmt: skip
def test_what_a_rule_is_read_as(rule: str, tree: object) -> None:
    assert parse(rule) == tree


@pytest.mark.parametrize(
    ("rule", "words", "mend"),
    [
        ("", "the rule is empty", WRITE), ("  = ", "the rule is empty", WRITE), ("width -", "the rule ends too early", WRITE), ("min(", "the rule ends too early", WRITE), ("(1 + 2", "a ) is missing", WRITE), ("min(1, 2", "a ) is missing", WRITE),
        ("min(1 2)", "a ) is missing", WRITE), ("1)", "the rule goes on with ')' where it should end", WRITE), ("width 2", "the rule goes on with '2' where it should end", WRITE), ("1 < 2 < 3", "the rule goes on with '<' where it should end", WRITE),
        ("1 @ 2", "a rule does not know the sign '@'", WRITE), ("1 + ?", "a rule does not know the sign '?'", WRITE), ("* 2", "a number or a name is missing before '*'", WRITE), ("1 + )", "a number or a name is missing before ')'", WRITE), ("min(, 2)", "a number or a name is missing before ','", WRITE),
        ("sin(width)", "sin(...) is nothing that a rule knows", WRITE), ("round it(width)", "round_it(...) is nothing that a rule knows", WRITE),
        ("if(1, 2)", "if(...) with 2 values between its brackets; it takes 3", WRITE), ("if(1, 2, 3, 4)", "if(...) with 4 values between its brackets; it takes 3", WRITE), ("round_up(1, 2)", "round_up(...) with 2 values between its brackets; it takes 1", WRITE),
        ("round_down(1, 2)", "round_down(...) with 2 values between its brackets; it takes 1", WRITE), ("max(" + ", ".join("1" * 21) + ")", "max(...) with 21 values between its brackets; it takes 1", WRITE), ("min(" + ", ".join("1" * 21) + ")", "min(...) with 21 values between its brackets; it takes 1", WRITE),
        ("1 / (doors - 2)", "a division by 0", "make sure that what stands under the / cannot be 0"),
        ("doros", "the name doros, which stands for nothing here", "did you mean doors? names here: doors, gap_mid, width"), ("xyz", "the name xyz, which stands for nothing here", "names here: doors, gap_mid, width"),
        ("1000000000000 + 1", "the number grows out of all measure", "look for a slip in the rule"), ("-1000000000000 - 1", "the number grows out of all measure", "look for a slip in the rule"),
    ],
)  # fmt: skip
def test_what_is_said_of_a_rule_that_gives_nothing(rule: str, words: str, mend: str) -> None:
    assert work_out(rule, names=NAMES) == Trouble(words, mend)


def test_five_hundred_letters_are_a_rule_and_one_more_is_none() -> None:
    assert work_out("1" + " " * 498 + "0", names={}) == Trouble("the rule goes on with '0' where it should end", WRITE)
    assert work_out("1" + " " * 499, names={}) == 1
    assert work_out("1" + " " * 500, names={}) == Trouble("a rule of 501 letters", "keep a rule under 500 letters")


def test_forty_digits_are_a_number_and_one_more_is_none() -> None:
    assert parse("0" * 39 + "7") == number(7)
    assert parse("." + "0" * 38 + "5") == number(F(5, 10**39))
    assert parse("0" * 40 + "7") == Trouble("a number with too many digits", "write numbers of at most 40 digits")
    assert parse("w" * 41) == Name("w" * 41)


def test_thirty_nine_brackets_within_one_another_and_one_more() -> None:
    """The rule itself is the first of forty. Brackets beside one another are never too many."""
    assert work_out("(" * 39 + "7" + ")" * 39, names={}) == 7
    assert work_out("(" * 40 + "7" + ")" * 40, names={}) == Trouble("brackets within brackets too many times", "keep it under 40")
    assert work_out("+".join(["(1)"] * 60), names={}) == 60
    assert work_out("min(" + ",".join(["(1)"] * 20) + ")+" + "+".join(["max(2)"] * 30), names={}) == 61


@pytest.mark.parametrize(
    ("rule", "answer"),
    [
        ("1000000000000", 10**12), ("-1000000000000", -(10**12)), ("1 / 1000000000000 / 1000000000000", F(1, 10**24)), ("1 / 1000000000000 / 1000000000000 / 2", None), ("999999999999 * 2", None),
        ("if(2 - 2, 1 / 0, 5)", 5), ("if(0.5, 4, 1 / 0)", 4), ("if(-1, 4, 5)", 4), ("max(doors, 2 > 1, -7)", 2), ("min(doors, 2 > 1, -7)", -7), ("round_up(7)", 7), ("round_down(7)", 7), ("round_up(13/2)", 7), ("round_down(13/2)", 6),
        ("2 < 2", 0), ("2 < 3", 1), ("2 > 2", 0), ("3 > 2", 1), ("2 <= 2", 1), ("3 <= 2", 0), ("2 >= 2", 1), ("2 >= 3", 0), ("2 = 2", 1), ("2 == 3", 0), ("2 <> 2", 0), ("2 != 3", 1),
    ],
)  # fmt: skip
def test_limits_and_ties(rule: str, answer: Fraction | int | None) -> None:
    assert work_out(rule, names=NAMES) == (Trouble("the number grows out of all measure", "look for a slip in the rule") if answer is None else answer)


def test_lengths_with_units_in_a_book_of_inches() -> None:
    inch = F("25.4")
    assert work_out("254 mm + 1", names={}, unit_mm=inch) == 11
    assert work_out('3"', names={}, unit_mm=inch) == 3
    assert work_out("width + 1 inch", names={"width": F(24)}, unit_mm=inch) == 25


def test_the_names_of_every_sort_of_node() -> None:
    assert names_in("if(a > b, c + 2 mm, -d) * min(e, 3)") == {"a", "b", "c", "d", "e"}
    assert names_in("2 + 3 mm") == frozenset()
    assert names_in("a +") == frozenset()


def test_a_header_and_its_rule_name() -> None:
    assert [rule_name(words) for words in (" Plinth   height", "PLINTH_height ", "plinth__ height", "a\tb")] == ["plinth_height"] * 3 + ["a_b"]
