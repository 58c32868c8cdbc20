"""Buying a machine: the worked example, printed examples of capital budgeting, and numpy-financial on random flows."""

import random

import pytest

from estimator.costing.machine import (
    Volumes,
    annual_cost,
    internal_rate,
    machine_answer,
    payback_years,
    present_value,
    recovery_share,
)
from estimator.costing.machine_volumes import volumes_of
from estimator.model.exact import Fraction
from estimator.model.problems import Items
from estimator.model.shop_records import Machine

F = Fraction
AT = Items("book.xlsx", "Machine", {})


def a_machine(**other: object) -> Machine:
    """16,000 and 500 to install, sold for 3,000 after 8 years at 9 %, 650 a year fixed, 0.95 against 2.10 on 4,200 m."""
    terms: dict[str, object] = {
        "price": F(16_000), "installation": F(500), "resale_value": F(3_000), "life_years": 8,
        "interest_share": F(9, 100), "fixed_cost_a_year": F(650), "cost_per_m": F("0.95"), "metres_a_year": F(4_200),
        "alternative_per_m": F("2.10"), "at": AT,
    }  # fmt: skip
    return Machine(**{**terms, **other})  # type: ignore[arg-type]


WORKED = {
    "crf": ("0.18067438", "0.00000001"),
    "equivalent_annual_cost": ("3359.10", "0.005"),
    "saving_a_year": ("4180", "0"),
    "npv": ("8141.14", "0.005"),
    "irr": ("0.20457", "0.000005"),
    "payback_years": ("3.95", "0.005"),
    "discounted_payback_years": ("5.10", "0.005"),
    "break_even_metres": ("2921", "0.5"),
}


@pytest.mark.parametrize("figure", WORKED)
def test_worked_example(figure: str) -> None:
    printed, within = WORKED[figure]
    assert abs(getattr(machine_answer(a_machine(), alternative_per_m=None), figure) - F(printed)) <= F(within)


def test_printed_project_of_six_years() -> None:
    """OpenStax, Principles of Finance: -16,000, then 2, 4, 5, 5, 5, 5 thousand at 9 %."""
    flows = [F(figure) for figure in (-16_000, 2_000, 4_000, 5_000, 5_000, 5_000, 5_000)]
    rate = internal_rate(flows)
    assert abs(present_value(flows, interest_share=F(9, 100)) - F("2835.62")) <= F("0.02")
    assert rate is not None
    assert abs(rate - F("0.140855")) <= F("0.00001")
    assert payback_years(flows) == 4
    paid = payback_years(flows, interest_share=F(9, 100))
    assert paid is not None
    assert abs(paid - F("5.05")) <= F("0.01")


@pytest.mark.parametrize(("yearly", "years", "worth", "a_year"), [(40_000, 3, 49_474, 19_894), (30_000, 6, 80_658, 18_520)])
def test_unequal_lives(yearly: int, years: int, worth: int, a_year: int) -> None:
    """OpenStax, Principles of Finance: 50,000 for 3 years of 40,000 or 6 of 30,000, at 10 %."""
    npv = present_value([F(-50_000)] + [F(yearly)] * years, interest_share=F(1, 10))
    assert abs(npv - worth) <= 1
    assert abs(npv * recovery_share(interest_share=F(1, 10), years=years) - a_year) <= 1


def test_agrees_with_an_independent_library_on_500_random_cash_flows() -> None:
    numpy_financial = pytest.importorskip("numpy_financial")
    chance = random.Random(36)
    for _ in range(500):
        flows = [F(-chance.randrange(1_000, 60_000))]
        flows += [F(chance.randrange(50, 20_000)) for _ in range(chance.randrange(1, 15))]
        plain = [float(flow) for flow in flows]
        interest = F(chance.randrange(0, 30), 100)
        theirs = float(numpy_financial.npv(float(interest), plain))
        assert float(present_value(flows, interest_share=interest)) == pytest.approx(theirs, rel=1e-9, abs=1e-6)
        rate = internal_rate(flows)
        assert rate is not None
        assert float(rate) == pytest.approx(float(numpy_financial.irr(plain)), rel=1e-6, abs=1e-9)
        years = len(flows) - 1
        if interest:
            share = recovery_share(interest_share=interest, years=years)
            assert float(share) == pytest.approx(-float(numpy_financial.pmt(float(interest), years, 1)), rel=1e-9)


def test_first_flow_is_not_discounted() -> None:
    assert present_value([F(-100)], interest_share=F(1, 2)) == -100


def test_resale_never_counts_in_payback() -> None:
    dear = machine_answer(a_machine(resale_value=F(16_000), metres_a_year=F(1_000)), alternative_per_m=None)
    assert dear.payback_years is None
    assert dear.discounted_payback_years is None


def test_a_machine_that_saves_nothing_has_no_answer_of_these() -> None:
    answer = machine_answer(a_machine(alternative_per_m=F("0.90"), resale_value=F(0)), alternative_per_m=None)
    assert (answer.irr, answer.payback_years, answer.break_even_metres) == (None, None, None)


def test_blank_alternative_takes_what_a_metre_costs_today() -> None:
    answer = machine_answer(a_machine(alternative_per_m=None), alternative_per_m=F("2.10"))
    assert answer.npv == machine_answer(a_machine(), alternative_per_m=F(9)).npv


def test_break_even_is_where_owning_costs_as_much_as_today() -> None:
    machine = a_machine()
    metres = machine_answer(machine, alternative_per_m=None).break_even_metres
    assert metres is not None
    assert annual_cost(machine) + machine.cost_per_m * metres == F("2.10") * metres


def test_longer_life_and_dearer_money_around_the_typed_ones() -> None:
    cases = machine_answer(a_machine(), alternative_per_m=None).cases
    assert {(case.interest_share, case.life_years) for case in cases} >= {(F(6, 100), 10), (F(9, 100), 8), (F(12, 100), 6)}
    same = next(case for case in cases if (case.interest_share, case.life_years) == (F(9, 100), 8))
    assert same.npv == machine_answer(a_machine(), alternative_per_m=None).npv


@pytest.mark.parametrize(
    ("life", "interest", "lives", "interests"),
    [(8, 9, (6, 8, 10), (6, 9, 12)), (3, 3, (1, 3, 5), (0, 3, 6)), (2, 2, (2, 4), (2, 5)), (1, 0, (1, 3), (0, 3))],
)
def test_what_is_looked_at_around_the_typed_terms_is_possible(
    life: int, interest: int, lives: tuple[int, ...], interests: tuple[int, ...]
) -> None:
    """Two years and three percent to either side; no life below one year, no interest below nothing."""
    answer = machine_answer(a_machine(life_years=life, interest_share=F(interest, 100)), alternative_per_m=None)
    assert [(case.interest_share * 100, case.life_years) for case in answer.cases] == [(share, years) for share in interests for years in lives]
    same = next(case for case in answer.cases if (case.interest_share, case.life_years) == (F(interest, 100), life))
    assert (same.npv, same.break_even_metres) == (answer.npv, answer.break_even_metres)


def test_a_machine_whose_metre_costs_what_it_costs_today_breaks_even_nowhere() -> None:
    answer = machine_answer(a_machine(alternative_per_m=F("0.95")), alternative_per_m=None)
    assert answer.saving_a_year == -650
    assert [answer.break_even_metres, *(case.break_even_metres for case in answer.cases)] == [None] * 10


def test_years_without_money_change_no_sign_and_a_payback_at_the_end_of_a_year_is_that_year() -> None:
    """100 that come back as 121 after two years are 10 % a year; 40 and 60 pay 100 back at the end of the second year."""
    rate = internal_rate([F(-100), F(0), F(121)])
    assert rate is not None
    assert abs(rate - F(1, 10)) < F(1, 10**12)
    assert internal_rate([F(0), F(0)]) is None
    assert payback_years([F(-100), F(40), F(60), F(9)]) == 2
    assert payback_years([F(0), F(0), F(50)]) == 1
    assert payback_years([F(-100), F(0), F(50), F(50)]) == 3


# --- cost of a metre against metres a year ----------------------------------------------------------------------------


def two_ways(metres: F) -> dict[str, F | None]:
    """By hand 2 a metre at any volume; sent out 1 a metre and 900 a year; today's cheapest is the cheaper of the two."""
    sent = 1 + F(900) / metres
    return {"by hand": F(2), "sent out": sent, "today's cheapest way": min(F(2), sent)}


def test_crossings_on_paper() -> None:
    """A machine at 0.50 a metre and 3,000 a year, without interest: it meets 2.00 at 2,000 m, and sending out at 4,200 m.

    Sent out meets by hand at 900 m. So today's cheapest is by hand below 900 m, and the machine pays from 4,200 m.
    """
    machine = a_machine(
        price=F(12_000), installation=F(0), resale_value=F(0), life_years=5, interest_share=F(0), fixed_cost_a_year=F(600),
        cost_per_m=F("0.50"), metres_a_year=F(3_000),
    )  # fmt: skip
    found = volumes_of(machine, two_ways)
    assert [(one.below, one.above) for one in found.crossings] == [
        ("by hand", "sent out"), ("by hand", "on the machine"), ("sent out", "on the machine"),
    ]  # fmt: skip
    for one, metres, cost in zip(found.crossings, (900, 2_000, 4_200), ("2", "2", "1.2142857"), strict=True):
        assert abs(one.metres_a_year - metres) <= F(1, 4)
        assert abs(one.cost_per_m - F(cost)) < F("0.001")
    assert found.pays_from_metres is not None
    assert abs(found.pays_from_metres - 4_200) <= F(1, 4)
    assert (found.curve[0].metres_a_year, found.curve[-1].metres_a_year) == (300, 9_000)


def test_without_metres_a_year_there_is_no_curve() -> None:
    assert volumes_of(a_machine(metres_a_year=F(0)), two_ways) == Volumes()


def test_where_no_way_of_today_is_possible_nothing_says_from_when_the_machine_pays() -> None:
    found = volumes_of(a_machine(), lambda metres: dict.fromkeys(("by hand", "sent out", "today's cheapest way")))
    assert (found.crossings, found.pays_from_metres) == ((), None)
    typed = next(point for point in found.curve if point.metres_a_year == 4_200)
    assert typed.machine == F("0.95") + annual_cost(a_machine()) / 4_200


def test_a_machine_that_is_cheaper_at_once_pays_from_the_least_volume_looked_at() -> None:
    """It costs nothing a year and 0.10 a metre: from a tenth of the 4,200 m that were typed."""
    given = a_machine(price=F(0), installation=F(0), resale_value=F(0), fixed_cost_a_year=F(0), cost_per_m=F("0.10"))
    assert volumes_of(given, two_ways).pays_from_metres == 420


def test_a_way_that_is_not_possible_crosses_nothing() -> None:
    found = volumes_of(a_machine(), lambda metres: {"by hand": F(2), "sent out": None, "today's cheapest way": F(2)})
    assert [(one.below, one.above) for one in found.crossings] == [("by hand", "on the machine")]
    assert all(point.sent_out is None for point in found.curve)


def test_a_machine_dearer_than_today_at_every_volume_never_pays() -> None:
    found = volumes_of(a_machine(cost_per_m=F(5)), two_ways)
    assert found.pays_from_metres is None
