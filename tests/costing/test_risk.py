"""The risk of the minutes and of the cost: a printed three-point sum, the normal shares, and what must move which way."""

from dataclasses import replace
from statistics import NormalDist

import pytest

from estimator.costing.estimate import estimate_job
from estimator.costing.risk import risk_of, share_below
from estimator.model.exact import Fraction
from estimator.model.results import Estimate, Minutes, StepMinutes
from estimator.model.shop_records import Step
from tests.building import AT
from tests.costing.banding.worked import board, four_edgings

F = Fraction


def worked(low: str, likely: str, high: str) -> StepMinutes:
    step = Step(f"{low} {high}", "", "", "job", "", F(likely), F(100), None, F(low), F(high), "", True, AT)
    return StepMinutes(step, F(likely), F(1), F(likely))


def of(*points: tuple[str, str, str]) -> Minutes:
    steps = tuple(worked(*one) for one in points)
    total = sum((step.minutes for step in steps), start=F(0))
    return Minutes(steps, total, F(0), F(0), F(0), total)


# Lecture notes on three-point estimates: expected 7 + 14 + 11 + 4, variances 4 + 16 + 4 + 1, deadline 41.
PRINTED = of(("3", "6", "15"), ("4", "13", "28"), ("5", "11", "17"), ("1", "4", "7"))


def test_printed_sum() -> None:
    risk = risk_of(PRINTED)
    assert (risk.mean_min, risk.sd_min) == (36, 5)
    assert abs(share_below((41 - risk.mean_min) / risk.sd_min) - F("0.8413")) <= F("0.0001")


def test_all_together_adds_the_deviations_up() -> None:
    risk = risk_of(PRINTED)
    assert risk.sd_together_min == 2 + 4 + 2 + 1
    assert risk.p80_min < risk.p80_together_min
    assert risk.p80_min < risk.p90_min < risk.p90_together_min


@pytest.mark.parametrize("deviations", ["-6", "-2.5", "-1", "-0.1", "0", "0.84162123357291441", "1.2815515655446004", "3", "8"])
def test_share_of_a_normal_distribution_as_an_independent_library_has_it(deviations: str) -> None:
    assert float(share_below(F(deviations))) == pytest.approx(NormalDist().cdf(float(deviations)), abs=1e-14)


def test_p80_and_p90_are_where_80_and_90_percent_lie_below() -> None:
    risk = risk_of(PRINTED)
    for minutes, share in ((risk.p80_min, F("0.8")), (risk.p90_min, F("0.9"))):
        assert abs(share_below((minutes - risk.mean_min) / risk.sd_min) - share) < F(1, 10**12)


def priced(**board_prices: Fraction) -> Estimate:
    work = (
        Step("cut", "", "", "part", "", F(2), F(100), None, F(1), F(4), "", True, AT),
        Step("fit", "", "", "part", "", F(3), F(100), None, F(1), F(12), "", True, AT),
    )
    answer = estimate_job(four_edgings(work=work, boards=(replace(board(), **board_prices),)))
    assert isinstance(answer, Estimate)
    return answer


def test_cost_goes_with_the_minutes_at_direct_and_overhead_rate() -> None:
    answer = priced()
    extra_min = answer.risk.mean_min - answer.minutes.total
    assert answer.risk.cost == answer.cost.total + extra_min / 60 * 54
    assert answer.risk.cost_sd_together == answer.risk.sd_together_min / 60 * 54


def test_the_step_that_carries_most_comes_first_and_the_shares_are_whole() -> None:
    doubts = priced().risk.doubts
    assert [doubt.what for doubt in doubts] == ["fit", "cut"]
    assert sum(doubt.variance_share for doubt in doubts) == 1


def test_a_doubtful_price_adds_to_the_doubt() -> None:
    sure, doubtful = priced().risk, priced(low_price=F(40), high_price=F(400)).risk
    assert doubtful.cost_sd > sure.cost_sd
    assert doubtful.doubts[0].what == "white 18"
    assert doubtful.margin_eaten_share > sure.margin_eaten_share


def test_contingency_is_suggested_and_never_set() -> None:
    answer = priced()
    assert answer.risk.contingency_share > 0
    assert answer.cost.contingency == 0
