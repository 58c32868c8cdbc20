"""Fits held against other libraries on clean logs, a published worked case of outliers, and logs made up from known times."""

import os
import random
import re

import pytest

from estimator.costing.times.regression import LEVEL, Row, doubts, least_squares
from estimator.costing.times.step_times import minutes_without, step_times
from estimator.costing.times.student import share_within, standard_errors_for
from estimator.costing.times.wild_rows import robust_fit
from estimator.costing.work import standard_min
from estimator.model.exact import Fraction
from tests.costing.times.simulated_logs import NOISES, SHOP, simulate, tally, with_wild_rows_left_in

MANY = int(os.environ.get("ESTIMATOR_SIMULATIONS", "10"))

# NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.6.7.2: critical values of Student's t, two-sided 90 % and 99 %
PRINTED_T = {1: ("6.314", "63.657"), 2: ("2.920", "9.925"), 4: ("2.132", "4.604"), 7: ("1.895", "3.499"), 10: ("1.812", "3.169"), 30: ("1.697", "2.750")}

# B. Rosner, 1983, as in the NIST/SEMATECH e-Handbook, 1.3.5.17.3: 54 observations, of which the three largest are outliers
ROSNER = re.findall(r"\S+", """
-0.25 0.68 0.94 1.15 1.20 1.26 1.26 1.34 1.38 1.43 1.49 1.49 1.55 1.56 1.58 1.65 1.69 1.70 1.76 1.77 1.81 1.91 1.94 1.96 1.99 2.06 2.09
2.10 2.14 2.15 2.23 2.24 2.26 2.35 2.37 2.40 2.47 2.54 2.62 2.64 2.90 2.92 2.92 2.93 3.21 3.26 3.30 3.59 3.68 4.30 4.64 5.34 5.42 6.01
""")


def columns(many: int, rows: int, *, seed: int) -> list[Row]:
    """Clean rows: shares that add up to one, ratios with a little noise."""
    chance = random.Random(seed)
    true = [Fraction(chance.randint(60, 180), 100) for _ in range(many)]
    answer = []
    for _ in range(rows):
        parts = [Fraction(chance.randint(1, 100)) for _ in range(many)]
        shares = tuple(part / sum(parts) for part in parts)
        exact = sum(share * factor for share, factor in zip(shares, true, strict=True))
        answer.append(Row(shares, exact * Fraction(chance.randint(900, 1100), 1000)))
    return answer


@pytest.mark.parametrize("freedom", PRINTED_T)
def test_students_t_as_printed(freedom: int) -> None:
    for share, printed in zip((Fraction(9, 10), Fraction(99, 100)), PRINTED_T[freedom], strict=True):
        assert abs(standard_errors_for(share, freedom=freedom) - Fraction(printed)) <= Fraction("0.0005")


def test_students_t_as_scipy_has_it() -> None:
    stats = pytest.importorskip("scipy.stats")
    for freedom in (1, 2, 3, 5, 8, 13, 40):
        for count in (Fraction(1, 3), Fraction(2), Fraction(9)):
            inside = 1 - 2 * stats.t.sf(float(count), freedom)
            assert float(share_within(count, freedom=freedom)) == pytest.approx(inside, abs=1e-12)


@pytest.mark.parametrize(("many", "rows"), [(1, 5), (1, 30), (2, 9), (3, 14), (5, 40)])
def test_a_clean_fit_is_that_of_statsmodels(many: int, rows: int) -> None:
    """Factors of ordinary least squares, doubts by what each row left out would move (HC3), interval by Student's t."""
    models = pytest.importorskip("statsmodels.api")
    clean = columns(many, rows, seed=many * rows)
    fit = robust_fit(clean)
    assert fit is not None
    assert fit.wild == ()
    theirs = models.OLS([float(row.ratio) for row in clean], [[float(share) for share in row.shares] for row in clean]).fit(cov_type="HC3", use_t=True)
    assert [float(factor) for factor in fit.squares.factors] == pytest.approx(list(theirs.params), rel=1e-9)
    variances = doubts(clean, fit.squares)
    assert [float(variance) ** 0.5 for variance in variances] == pytest.approx(list(theirs.bse), rel=1e-9)
    half = float(standard_errors_for(LEVEL, freedom=fit.squares.freedom)) * float(variances[0]) ** 0.5
    low, high = theirs.conf_int(alpha=0.1)[0]
    assert (float(fit.squares.factors[0]) - half, float(fit.squares.factors[0]) + half) == pytest.approx((low, high), rel=1e-9)


def test_one_step_alone_is_the_mean_of_its_rates() -> None:
    """With one step the factor is the plain mean of real over reckoned, as scipy's one-sample interval has it."""
    stats = pytest.importorskip("scipy.stats")
    clean = columns(1, 12, seed=4)
    ratios = [float(row.ratio) for row in clean]
    fit = least_squares(clean)
    assert fit is not None
    assert float(fit.factors[0]) == pytest.approx(sum(ratios) / 12)
    assert float(fit.variance / 12) ** 0.5 == pytest.approx(stats.sem(ratios))


def test_three_outliers_are_found_in_the_published_case() -> None:
    """The handbook finds none by the first two tests and three by the third: wild rows do not hide one another. It asks at 5 %."""
    rows = [Row((Fraction(1),), Fraction(value)) for value in ROSNER]
    fit = robust_fit(rows, wild_share=Fraction(5, 100))
    assert fit is not None
    assert sorted(ROSNER[i] for i in fit.wild) == ["5.34", "5.42", "6.01"]


def test_a_row_that_fits_is_never_wild_and_a_forgotten_digit_is() -> None:
    sound = [Row((Fraction(1),), Fraction(100 + n, 100)) for n in (-8, -3, 0, 2, 5, 7)]
    assert robust_fit(sound).wild == ()
    assert robust_fit([*sound, Row((Fraction(1),), Fraction(1, 10))]).wild == (6,)
    assert robust_fit([*[Row((Fraction(1),), Fraction(1))] * 6, Row((Fraction(1),), Fraction(12, 10))]).wild == ()
    two = [*sound, Row((Fraction(1),), Fraction(10)), Row((Fraction(1),), Fraction(11))]
    assert sorted(robust_fit(two).wild) == [6, 7]


def test_three_rows_are_the_fewest_that_are_fitted() -> None:
    rows = [Row((Fraction(1),), Fraction(ratio)) for ratio in (1, 2, 3)]
    fit = robust_fit(rows)
    assert fit is not None
    assert (fit.squares.factors, fit.wild) == ((2,), ())
    assert robust_fit(rows[:2]) is None


def test_columns_that_millionths_cannot_tell_apart_are_fitted_and_no_row_is_wild() -> None:
    """Planted: a step of a hundred-millionth of the minutes once stopped the fit with an error of ours."""
    tiny = Fraction(1, 10**8)
    rows = [Row((1 - tiny * k, tiny * k), Fraction(100 + k * k, 100)) for k in range(1, 8)]
    fit = robust_fit(rows)
    assert fit is not None
    assert fit.wild == ()
    assert robust_fit([Row((Fraction(1, 2), Fraction(1, 2)), Fraction(n)) for n in range(1, 8)]) is None


def test_a_step_keeps_one_of_its_two_rows_though_they_contradict_each_other() -> None:
    """1 and 5 lie alike off: leaving one aside is told, leaving both aside would leave the step without a time."""
    rows = [Row((Fraction(1), Fraction(0)), Fraction(1))] * 5 + [Row((Fraction(0), Fraction(1)), Fraction(ratio)) for ratio in (1, 5)]
    fit = robust_fit(rows)
    assert fit is not None
    assert len(fit.wild) == 1
    assert fit.squares.factors[0] == 1
    assert fit.squares.factors[1] == rows[({5, 6} - set(fit.wild)).pop()].ratio


def test_a_step_with_one_row_has_no_doubt_of_its_own_and_takes_none_from_others() -> None:
    """By hand as in the docstring: 1, 2 and 3 give the mean a variance of 1/2; the fourth row alone decides its column."""
    rows = [Row((Fraction(1), Fraction(0)), Fraction(ratio)) for ratio in (1, 2, 3)] + [Row((Fraction(0), Fraction(1)), Fraction(5))]
    fit = least_squares(rows)
    assert fit is not None
    assert fit.factors == (2, 5)
    assert doubts(rows, fit) == (Fraction(1, 2), 0)


def test_rating_and_allowance_come_off_again() -> None:
    """Published time study: 20 minutes at 120 with 20 % allowance are 28.8 standard minutes; the way back gives 20."""
    rating, allowance = Fraction(120), Fraction(20, 100)
    assert standard_min(minutes=Fraction(20), rating=rating, allowance_share=allowance) == Fraction("28.8")
    assert minutes_without(Fraction("28.8"), rating=rating, allowance_share=allowance) == 20


@pytest.mark.parametrize("noise", NOISES)
def test_intervals_hold_the_truth_as_often_as_they_say(noise: str) -> None:
    """Within chance of 90 %: intervals of one log hang together a little, so about four standard deviations are allowed below."""
    counted = tally(noise, seed=20310203, many=MANY)
    assert counted.intervals > 4 * MANY
    assert counted.share > 0.9 - 4 * (0.09 / counted.intervals) ** 0.5
    assert counted.named > 0.7 * counted.gross
    assert counted.sound_named < 0.05 * counted.sound


def test_wild_rows_left_in_make_times_far_less_sure() -> None:
    """Planted: plain least squares on the same logs; so the naming of wild rows is worth its lines."""
    ours, plain = (one("alike in percent", seed=5, many=10) for one in (tally, with_wild_rows_left_in))
    assert sum(plain.widths) > 1.5 * sum(ours.widths)


def test_the_order_of_the_rows_does_not_matter() -> None:
    observed, _, work, _ = simulate(random.Random(9), "skewed")
    _, times = step_times(observed, work, SHOP)
    _, turned = step_times(observed[::-1], work, SHOP)
    assert [(one.state, one.minutes, one.from_min) for one in times] == [(one.state, one.minutes, one.from_min) for one in turned]
