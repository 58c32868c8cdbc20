"""Rules of the shop's sheets: what they give, and what is said of those that give nothing."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from estimator.costing.rules import Trouble, names_in, work_out
from estimator.model.exact import Fraction

NAMES = {"width": Fraction(600), "carcass_thickness": Fraction(18), "doors": Fraction(2), "gap_side": Fraction(3, 2)}


@pytest.mark.parametrize(
    ("rule", "number"),
    [
        ("width - 2 * carcass thickness", 564),
        ("Width-2*Carcass_Thickness", 564),
        ("= width / 3", 200),
        ("(width - 3) / 2", Fraction(597, 2)),
        ("2 + 3 * 4", 14),
        ("(2 + 3) * 4", 20),
        ("10 - 4 - 3", 3),
        ("24 / 4 / 3", 2),
        ("-width + 700", 100),
        ("3 - -2", 5),
        ("2 * -3", -6),
        ("width > 599", 1),
        ("width >= 600", 1),
        ("width < 600", 0),
        ("width <> 600", 0),
        ("1 + (width > 400) + (width > 900)", 2),
        ("if(doors = 2, width / doors, 0)", 300),
        ("if(doors, 7, 1 / 0)", 7),
        ("if(0, 1 / 0, 7)", 7),
        ("min(width, 400, 500)", 400),
        ("max(doors, 3)", 3),
        ("round_up(width / 7)", 86),
        ("round down(width / 7)", 85),
        ("round_up(-0.5)", 0),
        ("round_down(-0.5)", -1),
        ("19 mm + 1", 20),
        ("2 cm", 20),
        ('1"', Fraction(254, 10)),
        ("0.1 + 0.2", Fraction(3, 10)),
        ("width × 2 ÷ 3 − 1", 399),
        ("gap\u00a0side * 2", 3),
    ],
)
def test_a_rule_gives(rule: str, number: Fraction | int) -> None:
    assert work_out(rule, names=NAMES) == number


def test_bare_numbers_are_in_the_unit_of_the_book() -> None:
    """In an inch book 3/4 off 24 inches is 23 1/4; a length with a unit is brought to inches."""
    assert work_out("width - 3/4", names={"width": Fraction(24)}, unit_mm=Fraction(254, 10)) == Fraction(93, 4)
    assert work_out("width - 25.4 mm", names={"width": Fraction(24)}, unit_mm=Fraction(254, 10)) == 23


@pytest.mark.parametrize(
    ("rule", "number"),
    [
        ("width × 2", 1200), ("width ÷ 2", 300), ("width − 2", 598), ("width – 2", 598), ("(width ≤ 600) + (width ≤ 599)", 1), ("(width ≥ 600) + (width ≥ 601)", 1),
        ("max(2; 3)", 3), ("width\xa0-\xa02", 598), ("= width", 600), ('width - 1"', Fraction("574.6")), ("width - 1 in", Fraction("574.6")), ("width - 1 inch", Fraction("574.6")),
        ("width - 1 cm", 590), ("2 m - width", 1400), ("width - 1 mm", 599), ("if(width = 600, 1, 2)", 1), ("if(width == 600, 1, 2)", 1), ("if(width <> 600, 1, 2)", 2),
        ("if(width != 600, 1, 2)", 2), ("round_up(5/2) + 10 * round_down(5/2)", 23), ("round_up(-5/2) + 10 * round_down(-5/2)", -32), (".5 * width", 300),
    ],
)  # fmt: skip
def test_signs_and_units_as_people_type_them(rule: str, number: Fraction | int) -> None:
    assert work_out(rule, names={"width": Fraction(600)}) == number


@pytest.mark.parametrize(
    ("rule", "words"),
    [
        ("", "empty"),
        ("width -", "ends too early"),
        ("(width", "a ) is missing"),
        ("width)", "goes on with ')'"),
        ("widht - 2", "widht"),
        ("width / (doors - 2)", "division by 0"),
        ("sin(width)", "sin(...) is nothing that a rule knows"),
        ("if(doors, 1)", "2 values"),
        ("width @ 2", "'@'"),
        ("__import__('os')", "sign"),
        ("width 2", "goes on with '2'"),
        ("(" * 60 + "1" + ")" * 60, "brackets within brackets"),
        ("9" * 60, "too many digits"),
        ("*".join(["999999999"] * 30), "out of all measure"),
        ("width + " * 200 + "1", "letters"),
    ],
)
def test_a_rule_that_gives_nothing_says_why(rule: str, words: str) -> None:
    trouble = work_out(rule, names=NAMES)
    assert isinstance(trouble, Trouble)
    assert words in trouble.words


def test_a_misspelt_name_gets_a_guess() -> None:
    trouble = work_out("carcas thickness", names=NAMES)
    assert isinstance(trouble, Trouble)
    assert "did you mean carcass_thickness?" in trouble.mend


def test_the_names_that_a_rule_asks_for() -> None:
    assert names_in("if(doors > 1, gap mid, 0) + front_height") == {"doors", "gap_mid", "front_height"}


@given(st.text(max_size=80))
def test_no_text_makes_a_rule_stumble(text: str) -> None:
    assert isinstance(work_out(text, names=NAMES), Fraction | Trouble)


@given(st.lists(st.sampled_from(["1", "2.5", "width", "(", ")", "+", "-", "*", "/", ",", "min(", "if(", "<", "="]), max_size=25))
def test_no_mixture_of_right_signs_makes_a_rule_stumble(signs: list[str]) -> None:
    assert isinstance(work_out(" ".join(signs), names=NAMES), Fraction | Trouble)
