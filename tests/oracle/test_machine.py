"""Is buying worth it, against the worked case of the rules and against printed examples."""

from decimal import Decimal
from fractions import Fraction

import pytest

from tests.oracle.machine import annuity, internal_rate, machine, payback_years, present_value

NINE = Fraction(9, 100)


def test_the_worked_case():
    """16,000 + 500, resale 3,000, 8 years, 9 %, fixed 650, 0.95 against 2.10 a metre, 4,200 m."""
    terms = {"Price": 16_000, "Installation": 500, "Resale value": 3_000, "Life": 8, "Interest": "9 %"}
    terms |= {"Fixed cost a year": 650, "Cost per metre": Decimal("0.95"), "Alternative per metre": Decimal("2.10")}
    found = machine({"Job": {}, "Machine": {**terms, "Metres a year": 4_200}})
    assert found["saving_a_year"] == 4_180
    printed = {
        "crf": (0.18067438, 5e-9),
        "equivalent_annual_cost": (3_359.10, 0.005),
        "npv": (8_141.14, 0.005),
        "irr": (0.20457, 5e-6),
        "payback_years": (3.95, 0.005),
        "discounted_payback_years": (5.10, 0.005),
        "break_even_metres": (2_921, 0.5),
    }
    for name, (number, within) in printed.items():
        assert float(found[name]) == pytest.approx(number, abs=within), name


def test_uneven_flows():
    """-16,000, then 2, 4, 5, 5, 5, 5 thousand at 9 % (OpenStax, Principles of Finance)."""
    flows = [Fraction(1000 * one) for one in (-16, 2, 4, 5, 5, 5, 5)]
    assert float(present_value(flows, NINE)) == pytest.approx(2_835.62, abs=0.02)
    assert float(internal_rate(flows)) == pytest.approx(0.140855, abs=1e-5)
    assert payback_years(flows) == 4
    assert float(payback_years(flows, NINE)) == pytest.approx(5.05, abs=0.01)


def test_unequal_lives():
    """50,000 for 40,000 x 3 or 30,000 x 6 at 10 % (OpenStax, Principles of Finance)."""
    tenth = Fraction(1, 10)
    for yearly, years, worth, a_year in ((40_000, 3, 49_474, 19_894), (30_000, 6, 80_658, 18_520)):
        now = present_value([-50_000] + [Fraction(yearly)] * years, tenth)
        assert float(now) == pytest.approx(worth, abs=1)
        assert float(now * annuity(tenth, years)) == pytest.approx(a_year, abs=1)


def test_never():
    losing = [Fraction(-100), Fraction(-5), Fraction(-5)]
    assert payback_years(losing) is None
    assert internal_rate(losing) is None
    assert payback_years([Fraction(-100), Fraction(10)]) is None
