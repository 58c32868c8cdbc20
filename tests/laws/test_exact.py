"""The compiled fraction and the standard one are one number: sums, comparisons, text and hashes agree."""

import fractions
import operator
import random
import re
from pathlib import Path

import pytest

from estimator.model.exact import Fraction

OPERATIONS = (operator.add, operator.sub, operator.mul, operator.lt, operator.eq, operator.truediv, operator.floordiv, operator.mod)


def pairs(many: int) -> list[tuple[int, int, int, int]]:
    draw = random.Random(20310203)
    return [(draw.randint(-(10**9), 10**9), draw.randint(1, 10**6), draw.randint(-(10**6), 10**6) or 1, draw.randint(1, 10**9)) for _ in range(many)]


@pytest.mark.parametrize("operation", OPERATIONS)
def test_both_kinds_of_fraction_give_the_same_answer(operation):
    for a, b, c, d in pairs(300):
        ours = operation(Fraction(a, b), Fraction(c, d))
        standard = operation(fractions.Fraction(a, b), fractions.Fraction(c, d))
        assert ours == standard
        assert str(ours) == str(standard)
        assert hash(ours) == hash(standard)


def test_typed_text_is_the_same_number_in_both():
    for text in ("0.1", "-12.5", "3/4", "1e-7", "18", "61.50"):
        ours, standard = Fraction(text), fractions.Fraction(text)
        assert (ours.numerator, ours.denominator) == (standard.numerator, standard.denominator)
        assert repr(ours) == repr(standard)


def test_the_engine_takes_its_number_from_one_place():
    """Planted: a file that imports the standard fractions itself would give records of another kind."""
    house = Path(__file__).parents[2] / "estimator"
    others = [path for path in house.rglob("*.py") if path.name != "exact.py" and re.search(r"^\s*(from|import) fractions", path.read_text("utf-8"), re.M)]
    assert not others, "take Fraction from estimator.model.exact"
