"""Risk in money and the machine, worked on paper with figures that are neither 0 nor 1, and the limits of both."""

from __future__ import annotations

from dataclasses import replace

import pytest

from estimator.costing.edging import strip_length_mm
from estimator.costing.estimate import estimate_job
from estimator.costing.machine import (
    RATE_STEPS,
    annual_cost,
    internal_rate,
    machine_answer,
    machine_flows,
    payback_years,
    present_value,
    recovery_share,
)
from estimator.costing.machine_volumes import volumes_of
from estimator.costing.risk import P80_DEVIATIONS, P90_DEVIATIONS, _chance_above, _doubts, _priced, risk_of, share_below, square_root
from estimator.costing.sag import CREEP, SHELF_LOAD_N_MM2, sag_limit_mm, shelf_sag_mm
from estimator.costing.shown import price_shown
from estimator.model.decision import MachineCrossing, MachinePoint, StepRisk
from estimator.model.exact import Fraction
from estimator.model.results import Estimate, Minutes, StepMinutes
from estimator.model.shop_records import Fitting, Step
from tests.building import AT, extra, shop, terms
from tests.costing.banding.test_glue_day import glue
from tests.costing.banding.worked import board, edging, four_edgings, loose
from tests.costing.test_machine import a_machine

F = Fraction


def step(name: str, low: str | None, likely: str, high: str | None, *, timed: bool = True, route: str = "") -> Step:
    return Step(name, "", route, "part", "", F(likely), F(100), None, None if low is None else F(low), None if high is None else F(high), "", timed, AT)  # type: ignore[arg-type]


# the minutes --------------------------------------------------------------------------------------------------------------------------------


def test_the_risk_of_two_steps_and_an_extra() -> None:
    """Cut 2, 5, 14 once: mean 6, deviation 2. Fit 1 to 4 with 3 likely, counted twice and 10 % on top, so 6.6: 2.2, 6.6, 8.8, mean 6.2333, deviation 1.1. 7 by extras."""
    cut, fit, look = step("cut", "2", "5", "14"), step("fit", "1", "3", "4", timed=False), step("look", None, "0", "9", timed=False)
    steps = (StepMinutes(cut, F(5), F(1), F(5)), StepMinutes(fit, F("3.3"), F(2), F("6.6")), StepMinutes(look, F(0), F(4), F(0)))
    risk = risk_of(Minutes(steps, F(12), F(3), F(3), F(7), F(18)))
    assert risk.mean_min == 7 + 6 + (F("2.2") + 4 * F("6.6") + F("8.8")) / 6
    assert abs(risk.sd_min**2 - (4 + F("1.21"))) < F(1, 10**30)
    assert risk.sd_together_min == F("3.1")
    assert (risk.p80_min, risk.p90_min) == (risk.mean_min + P80_DEVIATIONS * risk.sd_min, risk.mean_min + P90_DEVIATIONS * risk.sd_min)
    assert (risk.p80_together_min, risk.p90_together_min) == (risk.mean_min + P80_DEVIATIONS * F("3.1"), risk.mean_min + P90_DEVIATIONS * F("3.1"))
    assert risk.untimed_minutes_share == F("6.6") / 18
    assert risk_of(Minutes((), F(0), F(0), F(0), F(0), F(0))).untimed_minutes_share == 0


def test_a_blank_low_or_high_is_the_likely() -> None:
    steps = tuple(StepMinutes(step("cut", low, "5", high), F(5), F(1), F(5)) for low, high in ((None, "11"), ("2", None), (None, None)))
    assert [risk_of(Minutes((one,), F(5), F(0), F(0), F(0), F(5))).sd_together_min for one in steps] == [1, F("0.5"), 0]


def test_where_the_normal_distribution_is_taken_as_certain() -> None:
    """Beyond nine deviations all or nothing; at nine the share is still reckoned."""
    assert [share_below(F(count)) for count in ("9.001", "-9.001", "40", "-40")] == [1, 0, 1, 0]
    assert 0 < 1 - share_below(F(9)) < F(1, 10**18)
    assert 0 < share_below(F(-9)) < F(1, 10**18)
    assert square_root(F(49, 4)) == F(7, 2)


def test_a_root_has_forty_digits() -> None:
    """The root of 2 as it is published: 1.41421356237309504880168872420969807856967187..."""
    assert square_root(F(2)) == F("1.414213562373095048801688724209698078570")


@pytest.mark.parametrize(("limit", "mean", "sd", "chance"), [(10, 10, 0, 0), (10, 11, 0, 1), (10, 9, 0, 0), (10, 10, 3, F(1, 2))])
def test_the_chance_that_the_margin_is_eaten(limit: int, mean: int, sd: int, chance: Fraction | int) -> None:
    assert _chance_above(F(limit), mean=F(mean), sd=F(sd)) == chance


def test_a_chance_one_deviation_off() -> None:
    assert abs(_chance_above(F(13), mean=F(10), sd=F(3)) - F("0.158655")) < F(1, 10**6)
    assert abs(_chance_above(F(7), mean=F(10), sd=F(3)) - F("0.841345")) < F(1, 10**6)


def test_what_carries_the_doubt_the_most_first() -> None:
    points = [("a", F(2), F(5), F(8)), ("b", F(3), F(3), F(3)), ("c", F(0), F(6), F(12))]
    assert _doubts(points, [F(5), F(3), F(6)], [F(1), F(0), F(4)]) == (StepRisk("c", F(6), F(2), F(4, 5)), StepRisk("a", F(5), F(1), F(1, 5)))


@pytest.mark.parametrize(
    ("low", "price", "high", "points"),
    [("1", "2", "5", [("x", 5, 10, 25)]), (None, "2", "5", [("x", 10, 10, 25)]), ("1", "2", None, [("x", 5, 10, 10)]), (None, "2", None, []), ("1", "0", "5", [])],
)
def test_a_doubtful_price_in_money_of_the_job(low: str | None, price: str, high: str | None, points: list[object]) -> None:
    assert list(_priced("x", F(10), None if low is None else F(low), F(price), None if high is None else F(high))) == points


def test_the_risk_of_the_whole_cost() -> None:
    """Four parts of 1000 x 300 with white at the bench: a sheet 60 (30, 90), 4.4 m of strip with 10 % at 2 (1, 5), 4 screws at 3 (high 6), a tin 20 (low 8), each step 4 x 2 (1, 9) minutes.

    Steps at 54 an hour: 7.2, 3.6 to 32.4, mean 10.8, deviation 4.8. Board deviation 10, mean 60. Edging 8.8: 4.4 to 22, mean 10.2667, deviation 2.9333. Screws 12 to 24: mean 14, deviation 2.
    Tin 20: 8, mean 18, deviation 2. Cost 108 + ... so the mean is 5.0667 more; together 21.7333.
    """
    job = four_edgings(
        terms=terms(delivery_charge=F(50), margin_share=F(20, 100)), shop=shop(), boards=(replace(board(), low_price=F(30), high_price=F(90)),),
        edgings=(replace(edging("white", "2", spare_share=F("0.1"), adhesive="quick"), low_price_per_m=F(1), high_price_per_m=F(5)),),
        adhesives=(replace(glue("quick"), price=F(20), low_price=F(8), high_price=None),), fittings=(replace(Fitting("screw", "", "part", "", "1", F(3), None, F(0), None, "mm", AT), high_price=F(6)),),
        work=(step("cut", "1", "2", "9"),), contract=None, contract_prices=(), loose_parts=(loose("a", 4, 1000, 300, "white"),), extras=(extra("500", qty="2"),),
    )  # fmt: skip
    answer = estimate_job(job)
    assert isinstance(answer, Estimate)
    risk, (tin,) = answer.risk, answer.banding.adhesives
    shares = {doubt.what: doubt for doubt in risk.doubts}
    assert list(shares) == sorted(shares, key=lambda what: -shares[what].variance_share)
    assert (shares["white 18"].mean, shares["white 18"].sd) == (60, 10)
    assert (shares["white"].mean, shares["white"].sd) == ((F("4.4") + 4 * F("8.8") + 22) / 6, F("17.6") / 6)
    assert (shares["screw"].mean, shares["screw"].sd) == (14, 2)
    assert (shares["cut"].mean, shares["cut"].sd) == (F("10.8"), F("4.8"))
    assert shares["quick"].mean == tin.cost * F(18, 20)
    more = [F(0), F("10.8") - F("7.2"), shares["white"].mean - F("8.8"), F(2), -tin.cost / 10]
    assert risk.cost == answer.cost.total + sum(more)
    assert risk.cost_sd_together == sum(doubt.sd for doubt in risk.doubts)
    assert abs(risk.cost_sd**2 - sum(doubt.sd**2 for doubt in risk.doubts)) < F(1, 10**25)
    assert risk.cost_p80 == risk.cost + P80_DEVIATIONS * risk.cost_sd
    assert risk.cost_p90 == risk.cost + P90_DEVIATIONS * risk.cost_sd
    assert risk.cost_p80_together == risk.cost + P80_DEVIATIONS * risk.cost_sd_together
    assert risk.cost_p90_together == risk.cost + P90_DEVIATIONS * risk.cost_sd_together
    earned = answer.price.net - 50 - 1000
    assert risk.margin_eaten_share == 1 - share_below((earned - risk.cost) / risk.cost_sd)
    assert risk.margin_eaten_together_share == 1 - share_below((earned - risk.cost) / risk.cost_sd_together)
    assert risk.contingency_share == risk.cost_p80_together / answer.cost.total - 1


# the machine --------------------------------------------------------------------------------------------------------------------------------


def test_a_machine_of_two_years() -> None:
    """1,000 and 100 to install, sold for 121, 10 %, fixed 50; 0.50 against 2.00 on 800 m: saves 1,150 a year.

    CRF 0.1 x 1.21/0.21; (1,100 - 121/1.21) x that + 50 = 626.19; NPV -1,100 + 1,150/1.1 + 1,271/1.21; paid back in 1,100/1,150 years, discounted 1 + (1,100 - 1,150/1.1)/(1,150/1.21).
    """
    machine = a_machine(
        price=F(1000), installation=F(100), resale_value=F(121), life_years=2, interest_share=F(1, 10), fixed_cost_a_year=F(50), cost_per_m=F("0.5"), metres_a_year=F(800), alternative_per_m=F(2)
    )  # fmt: skip
    answer = machine_answer(machine, alternative_per_m=F(9))
    crf = F("0.121") / F("0.21")
    assert (answer.alternative_per_m, answer.crf, answer.equivalent_annual_cost, answer.saving_a_year) == (2, crf, 1000 * crf + 50, 1150)
    assert answer.npv == -1100 + 1150 / F("1.1") + 1271 / F("1.21")
    assert answer.payback_years == F(1100, 1150)
    assert answer.discounted_payback_years == 1 + (1100 - 1150 / F("1.1")) / (1150 / F("1.21"))
    assert answer.break_even_metres == (1000 * crf + 50) / F("1.5")
    assert machine_flows(machine, saving_a_year=F(1150), with_resale=True) == (-1100, 1150, 1271)
    assert machine_flows(machine, saving_a_year=F(1150), with_resale=False) == (-1100, 1150, 1150)
    assert answer.name == machine.name
    assert [(case.interest_share, case.life_years) for case in answer.cases] == [(F(share, 100), years) for share in (7, 10, 13) for years in (2, 4)]
    seven = answer.cases[0]
    crf_7 = F("0.07") * F("1.1449") / F("0.1449")
    assert (seven.equivalent_annual_cost, seven.npv) == ((1100 - 121 / F("1.1449")) * crf_7 + 50, -1100 + 1150 / F("1.07") + 1271 / F("1.1449"))
    assert seven.break_even_metres == seven.equivalent_annual_cost / F("1.5")


def test_without_anything_to_hold_it_against_a_machine_has_its_cost_only() -> None:
    machine = a_machine(alternative_per_m=None)
    answer = machine_answer(machine, alternative_per_m=None)
    assert (answer.alternative_per_m, answer.equivalent_annual_cost, answer.crf, answer.cases) == (None, annual_cost(machine), recovery_share(interest_share=F(9, 100), years=8), ())
    assert {answer.saving_a_year, answer.npv, answer.irr, answer.payback_years, answer.discounted_payback_years, answer.break_even_metres} == {None}


@pytest.mark.parametrize(
    ("flows", "rate"),
    [((-100, 110), "0.1"), ((-100, 0, 121), "0.1"), ((100, -150), "0.5"), ((-100, 60, 60, -1), None), ((-100, 300), "2"), ((-100, 201), "1.01"), ((100, -201), "1.01"), ((-100, 500), "4"), ((-100, 50), "-0.5"), ((-100, -1), None), ((100, 1), None), ((-100, 0, 0, 800), "1")],
)
def test_the_internal_rate(flows: tuple[int, ...], rate: str | None) -> None:
    found = internal_rate([F(flow) for flow in flows])
    assert RATE_STEPS == 70
    assert found is None if rate is None else found is not None and abs(found - F(rate)) < F(1, 10**18)


@pytest.mark.parametrize(
    ("flows", "years"),
    [((-100, 40, 40, 40), "2.5"), ((-100, 100), "1"), ((-100, 99), None), ((-100, 99, 1), "2"), ((-100, 200), "0.5"), ((-100, -20, 120), "2"), ((-100, -20, 240), "1.5"), ((0, 0, 5), "1"), ((-100,), None)],
)
def test_years_until_it_is_paid_back(flows: tuple[int, ...], years: str | None) -> None:
    assert payback_years([F(flow) for flow in flows]) == (None if years is None else F(years))


def test_what_money_is_worth_today() -> None:
    assert present_value([F(5), F(11), F("12.1")], interest_share=F(1, 10)) == 25
    assert recovery_share(interest_share=F(1, 10), years=2) == F("0.121") / F("0.21")


def test_the_curve_of_a_machine() -> None:
    """1,000 a year without interest and 0.50 a metre, typed 1,000 m: at 100 m 10.50, at 3,000 m 0.8333."""
    machine = a_machine(price=F(4000), installation=F(0), resale_value=F(0), life_years=5, interest_share=F(0), fixed_cost_a_year=F(200), cost_per_m=F("0.5"), metres_a_year=F(1000))
    found = volumes_of(machine, lambda metres: {"by hand": F(2), "sent out": None, "today's cheapest way": F(2)})
    assert [point.metres_a_year for point in found.curve] == [100 * tenths for tenths in (1, 2, 3, 4, 5, 6, 8, 10, 12, 15, 20, 25, 30)]
    assert found.curve[0] == MachinePoint(F(100), F(2), None, F(2), F("10.5"))
    assert found.curve[-1].machine == F("0.5") + F(1, 3)
    (crossing,) = found.crossings
    assert isinstance(crossing, MachineCrossing)
    assert (crossing.below, crossing.above) == ("by hand", "on the machine")
    assert crossing.cost_per_m == F("0.5") + 1000 / crossing.metres_a_year
    # 1,000/m + 0.50 = 2 at 666.67 m; halved between 600 and 800 to a quarter of a metre
    assert 0 <= crossing.metres_a_year - F(2000, 3) < F(1, 4)
    assert found.pays_from_metres == crossing.metres_a_year


def test_a_machine_as_dear_as_today_at_the_least_volume_pays_from_there_and_crosses_nothing() -> None:
    machine = a_machine(price=F(0), installation=F(0), resale_value=F(0), fixed_cost_a_year=F(0), cost_per_m=F(2), metres_a_year=F(1000))
    found = volumes_of(machine, lambda metres: {"by hand": F(2), "sent out": F(3), "today's cheapest way": F(2)})
    assert (found.crossings, found.pays_from_metres) == ((), 100)


def test_two_ways_that_meet_at_a_volume_that_is_looked_at() -> None:
    """Sent out costs 1 and 1,000/m, by hand 2: alike at 1,000 m, which is found from below and not again from there."""
    machine = a_machine(cost_per_m=F(99), metres_a_year=F(1000))
    found = volumes_of(machine, lambda metres: {"by hand": F(2), "sent out": 1 + 1000 / metres, "today's cheapest way": min(F(2), 1 + 1000 / metres)})
    assert [(one.below, one.above, one.metres_a_year, one.cost_per_m) for one in found.crossings] == [("by hand", "sent out", 1000, 2)]


# small things that go with them -------------------------------------------------------------------------------------------------------------


def test_a_shelf_sags() -> None:
    """5 x 0.000718 x 600^4 x 12/(384 x 1600 x 20^3): 5,583.168/4,915.2; half as much again in time; 1.6 on 305, never over 6.4."""
    assert shelf_sag_mm(span_mm=F(600), thickness_mm=F(20), e_modulus_n_mm2=F(1600)) == F("5583168000") / F("4915200000")
    assert (F("0.000718"), F("1.5")) == (SHELF_LOAD_N_MM2, CREEP)
    assert [sag_limit_mm(span_mm=F(span)) for span in (305, 610, 1220, 1221, 9000)] == [F("1.6"), F("3.2"), F("6.4"), F("6.4"), F("6.4")]


def test_a_strip_is_longer_by_the_overhang_at_either_end() -> None:
    assert strip_length_mm(edge_mm=F(100), overhang_mm=F(7)) == 114


def test_prices_shown_is_a_function_of_the_price_alone() -> None:
    answer = estimate_job(four_edgings())
    assert isinstance(answer, Estimate)
    assert price_shown(answer.price, currency="EUR") == answer.price.shown
