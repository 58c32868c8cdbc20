"""Published learning-curve coefficients of the unit model, as textbooks of operations management print them to three decimals."""

import pytest

from estimator.costing.times.learning_curve import run_share, unit_share
from estimator.model.exact import Fraction

WITHIN = Fraction("0.0005")

# percent: {units: (unit time, total time)}
PUBLISHED = {
    70: {5: ("0.437", "3.195"), 10: ("0.306", "4.932"), 15: ("0.248", "6.274"), 20: ("0.214", "7.407")},
    75: {5: ("0.513", "3.459"), 10: ("0.385", "5.589"), 15: ("0.325", "7.319"), 20: ("0.288", "8.828")},
    80: {5: ("0.596", "3.738"), 10: ("0.477", "6.315"), 15: ("0.418", "8.511"), 20: ("0.381", "10.485")},
    85: {5: ("0.686", "4.031"), 10: ("0.583", "7.116"), 15: ("0.530", "9.861"), 20: ("0.495", "12.402")},
}
CASES = [(percent, units, *printed) for percent, rows in PUBLISHED.items() for units, printed in rows.items()]


def test_all_32_printed_coefficients_are_here() -> None:
    assert 2 * len(CASES) == 32


@pytest.mark.parametrize(("percent", "units", "unit", "total"), CASES)
def test_unit_and_total_are_as_printed(percent: int, units: int, unit: str, total: str) -> None:
    share = Fraction(percent, 100)
    assert abs(unit_share(units, model="unit", learning_share=share) - Fraction(unit)) <= WITHIN
    assert abs(run_share(units, model="unit", learning_share=share) - Fraction(total)) <= WITHIN


@pytest.mark.parametrize(("percent", "units", "unit", "total"), CASES)
def test_the_other_model_gives_other_figures(percent: int, units: int, unit: str, total: str) -> None:
    """By definition the average of the first n is n^b of the first, so the total is n times the printed unit time: far less."""
    share = Fraction(percent, 100)
    averaged = run_share(units, model="cumulative average", learning_share=share)
    assert abs(averaged - units * Fraction(unit)) <= units * WITHIN
    assert abs(averaged - Fraction(total)) > 100 * WITHIN
    assert unit_share(units, model="cumulative average", learning_share=share) < Fraction(unit)


def test_no_unit_goes_below_the_floor() -> None:
    share, floor = Fraction(80, 100), Fraction(1, 2)
    assert unit_share(20, model="unit", learning_share=share, floor_share=floor) == floor
    assert run_share(3, model="unit", learning_share=Fraction(1)) == 3
