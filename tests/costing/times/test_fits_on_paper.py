"""Fits of two, three, nine rows worked on paper: factors, what is left over, which row is wild and which just not."""

from __future__ import annotations

import pytest

from estimator.costing.times.entangled import merged_until_told_apart, taken_as_one
from estimator.costing.times.material import JobUse, material_use
from estimator.costing.times.regression import LeastSquares, Row, Sums, doubts, least_squares, shortened
from estimator.costing.times.student import share_within, standard_errors_for
from estimator.costing.times.wild_rows import _errors_squared, _farthest_first, robust_fit
from estimator.model.exact import Fraction

F = Fraction


def row(ratio: str | int | Fraction, *shares: str | int | Fraction) -> Row:
    return Row(tuple(F(share) for share in shares or ("1",)), F(ratio))


def rows(*ratios: str | int) -> list[Row]:
    return [row(ratio) for ratio in ratios]


TWO = [row(2, 1, 0), row(4, 0, 1), row("3.6", "0.5", "0.5")]


def test_two_columns_and_three_rows() -> None:
    """Sums of products 5/4, 1/4, 1/4, 5/4; of ratios 3.8 and 5.8. The inverse is 5/6, -1/6; factors 2.2 and 4.2; left over -0.2, -0.2 and 0.4, squared 0.24."""
    assert least_squares(TWO) == LeastSquares((F("2.2"), F("4.2")), ((F(5, 6), F(-1, 6)), (F(-1, 6), F(5, 6))), F("0.24"), 1)


def test_a_row_that_weighs_twice() -> None:
    """Sums 3/2, 1/2, 1/2, 3/2; of ratios 5.6 and 7.6; factors 2.3 and 4.3; left over 0.3 of each, 0.09 x 4."""
    found = least_squares(TWO, [1, 1, 2])
    assert found == LeastSquares((F("2.3"), F("4.3")), ((F(3, 4), F(-1, 4)), (F(-1, 4), F(3, 4))), F("0.36"), 1)
    assert found.variance == F("0.36")


def test_one_row_and_rows_that_cannot_tell() -> None:
    assert least_squares([row(2)]) == LeastSquares((F(2),), ((F(1),),), F(0), 0)
    assert least_squares([row(2, "0.5", "0.5"), row(3, "0.5", "0.5")]) is None
    assert least_squares([row(2, 0, 1), row(3, 0, 1)]) is None
    assert least_squares([row(4, 0, 1), row(2, 1, 0)]) == LeastSquares((F(2), F(4)), ((F(1), F(0)), (F(0), F(1))), F(0), 0)


def test_how_far_each_factor_would_move() -> None:
    """Left over -0.2, -0.2, 0.4. Pulls of the first: 5/6 and -1/6, its reach 5/6; of the third: 1/3 and 1/3, reach 1/3.

    Moves of factor 1: 5/6 x -0.2/(1/6) = -1; -1/6 x -0.2/(1/6) = 0.2; 1/3 x 0.4/(2/3) = 0.2. Squares 1 + 0.04 + 0.04.
    """
    fit = least_squares(TWO)
    assert fit is not None
    assert doubts(TWO, fit) == (F("1.08"), F("1.08"))
    assert doubts([row(2, 1, 0), row(4, 0, 1)], LeastSquares((F(1), F(4)), ((F(1), F(0)), (F(0), F(1))), F(0), 0)) == (0, 0)


@pytest.mark.parametrize(("value", "short"), [("0.1234567896", "0.123456789"), ("0.1234567891", "0.123456789"), ("2", "2"), ("0", "0")])
def test_rows_are_cut_off_at_nine_decimals(value: str, short: str) -> None:
    assert shortened(row(value, value)) == row(short, short)


# wild rows ----------------------------------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("ratios", "order"),
    [
        # the line of least absolute differences is the middle one; squares would lie at 5/3, and the ones 2/3 off it
        ((1, 1, 1, 1, 3, 3), [4, 5]), ((1, 1, 1, 1, 1, 2, 3, "0.5"), [6, 5, 7]), ((3, 1, 1, 1, 3, 1), [0, 4]), ((1, 1, 1, 1, "0.2", "1.9"), [5, 4]),
        # as far as an eighth of the line is no row far off
        ((1, 1, 1, 1, 1, 1, 1, 1, "1.1"), []), ((1, 1, 1, 1, 1, 1, 1, 1, "1.124"), []), ((1, 1, 1, 1, 1, 1, 1, 1, "1.126"), [8]), ((1, 1, 1, 1, 1, 1, 1, 1, "0.874"), [8]), ((1, 1, 1, 1, 1, 1, 1, 1, "0.876"), []),
        ((2, 2, 2, 2, 2, 2, 2, 2, "2.24"), []), ((2, 2, 2, 2, 2, 2, 2, 2, "2.26"), [8]),
    ],
)  # fmt: skip
def test_rows_far_off_the_farthest_first(ratios: tuple[str | int, ...], order: list[int]) -> None:
    assert _farthest_first(rows(*ratios)) == order


@pytest.mark.parametrize(("ratio", "wild"), [("1.25", False), ("0.75", False), ("1.3365", False), ("1.3376", True), ("0.6635", False), ("0.6624", True)])
def test_a_row_as_far_off_as_the_farthest_of_so_many_may_lie(ratio: str, wild: bool) -> None:
    """A mean of four with a variance of 0.02 a row; half a chance among five is 90 %, within 2.132 of Student's t at 4: 2.132 x sqrt(0.02 x 5/4) = 0.3371."""
    assert beyond_the_farthest_of_five(row(ratio), [[F(4)]], [F(1)], left=F("0.08")) is wild


@pytest.mark.parametrize(("ratio", "wild"), [("2.5", False), ("1.5", False), ("2.502", True), ("1.498", True)])
def test_a_row_within_a_quarter_of_its_fit_is_never_wild(ratio: str, wild: bool) -> None:
    assert beyond_the_farthest_of_five(row(ratio), [[F(4)]], [F(2)], left=F(1, 10**9)) is wild


@pytest.mark.parametrize(("ratio", "wild"), [("1.52", False), ("1.523", True)])
def test_the_reach_of_a_row_of_two_columns(ratio: str, wild: bool) -> None:
    """Halves of two columns, the inverse of 4/7, -1/7, -1/7, 2/7 is 2, 1, 1, 4: 1/4 x 8 + 1 = 3. 2.132 x sqrt(0.02 x 3) = 0.5222."""
    squares = [[F(4, 7), F(-1, 7)], [F(-1, 7), F(2, 7)]]
    assert beyond_the_farthest_of_five(row(ratio, "0.5", "0.5"), squares, [F("0.5"), F("1.5")], left=F("0.08")) is wild


def beyond_the_farthest_of_five(row: Row, squares: list[list[Fraction]], factors: list[Fraction], *, left: Fraction) -> bool:
    """Whether a row lies more than 2.132 standard errors from a fit of four degrees of freedom that leaves so much over."""
    products = [sum((one * factor for one, factor in zip(line, factors, strict=True)), F(0)) for line in squares]
    whole = left + sum((factor * product for factor, product in zip(factors, products, strict=True)), F(0))
    errors_squared = _errors_squared(row, Sums(squares, products, whole), freedom=4)
    assert errors_squared is not None
    return errors_squared > standard_errors_for(F(9, 10), freedom=4) ** 2


def test_a_row_taken_out_of_the_sums_was_never_there() -> None:
    sums = Sums.over(TWO, [1, 1, 1])
    sums.add(TWO[2], -1)
    assert sums == Sums.over(TWO[:2], [1, 1])


def test_a_row_that_is_grossly_off_where_the_others_agree_wholly_is_wild() -> None:
    fit = robust_fit(rows(1, 1, 1, 1, 1, "1.3"))
    assert fit is not None
    assert fit.wild == (5,)


def test_rows_with_denominators_of_their_own_are_summed_in_a_moment() -> None:
    """Two hundred rows of odd shares: sums at eighteen decimals; with every denominator kept they took ten seconds."""
    odd = [row(F(100 + n % 7, 100), F(n, n + 211), 1 - F(n, n + 211)) for n in range(1, 200)]
    fit = robust_fit(odd)
    assert fit is not None
    assert all(doubt.denominator <= 10**36 for doubt in doubts(odd, fit.squares))


@pytest.mark.parametrize(("ratio", "wild"), [("1.45", ()), ("1.47", (3,)), ("0.53", (3,)), ("0.55", ())])
def test_the_farthest_of_four(ratio: str, wild: tuple[int, ...]) -> None:
    """Of 0.98, 1 and 1.02 the variance is 0.0004. t at 2 that holds 0.9975 is 0.9975 sqrt(2/(1 - 0.9975^2)) = 19.9625; x 0.02 x sqrt(4/3) = 0.461."""
    fit = robust_fit(rows("0.98", 1, "1.02", ratio))
    assert fit is not None
    assert fit.wild == wild


@pytest.mark.parametrize(
    ("ratios", "wild"),
    [
        (("0.99", 1, "1.01"), ()), ((1, "1.0001", 10), ()), ((1, 1), None), (("0.99", 1, "1.01", 1, "0.99", "1.01", 10, 11, 12), (8, 7, 6)), (("0.99", 1, "1.01", 1, "0.99", 10, 11, 12), ()),
        ((10, "0.99", 1, "1.01", 1, "0.99", 1, 10), (0, 7)), (("0.99", 1, "1.01", 1, "0.99", "0.1"), (5,)),
    ],
)  # fmt: skip
def test_at_most_a_third_of_the_rows_is_left_aside(ratios: tuple[str | int, ...], wild: object) -> None:
    """Three of nine may be, of eight two, of three none; two rows are too few for a fit."""
    fit = robust_fit(rows(*ratios))
    assert (None if fit is None else fit.wild) == wild


# Student's t --------------------------------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("count", "freedom", "squared"), [("0.5", 2, "1/9"), ("-0.5", 2, "1/9"), ("1", 1, "1/4"), ("-1", 1, "1/4"), ("2", 4, "25/32"), ("0", 3, "0"), ("0", 4, "0")]
)  # fmt: skip
def test_students_t_in_closed_form(count: str, freedom: int, squared: str) -> None:
    """With 2 degrees t/sqrt(t^2 + 2), so a half holds a third; with 1 one holds a half; with 4 two hold sqrt(1/2) x (1 + 1/4); nothing lies within 0."""
    assert abs(abs(share_within(F(count), freedom=freedom)) ** 2 - F(squared)) < F(1, 10**20)


def test_standard_errors_below_one() -> None:
    """A third lies within a half where there are 2 degrees of freedom; with 1 a half lies within 1 and a third within tan 30 = 0.57735."""
    assert abs(standard_errors_for(F(1, 3), freedom=2) - F(1, 2)) < F(1, 10**20)
    assert abs(standard_errors_for(F(1, 2), freedom=1) - 1) < F(1, 10**20)
    assert abs(standard_errors_for(F(1, 3), freedom=1) ** 2 - F(1, 3)) < F(1, 10**20)
    assert abs(standard_errors_for(F(2, 3), freedom=1) ** 2 - 3) < F(1, 10**20)


# columns taken as one -----------------------------------------------------------------------------------------------------------------------


def test_columns_are_taken_as_one_where_the_first_stood() -> None:
    names, taken = taken_as_one((("a",), ("b",), ("c", "d"), ("e",)), [row(2, "0.1", "0.2", "0.3", "0.4"), row(3, 0, 0, 1, 0)], [[1, 3], [0, 2]])
    assert names == (("a", "c", "d"), ("b", "e"))
    assert taken == [row(2, "0.4", "0.6"), row(3, 1, 0)]


@pytest.mark.parametrize(
    ("shares", "columns"),
    [
        ([("0.5", "0.5", 0), (0, 0, 1)], (("a", "b"), ("c",))), ([("0.5", 0, "0.5"), (0, 1, 0)], (("a", "c"), ("b",))), ([(1, 0, 0), (0, "0.5", "0.5")], (("a",), ("b", "c"))),
        ([(1, 0, 0), (0, 1, 0), (0, 0, 1)], (("a",), ("b",), ("c",))), ([("0.2", "0.3", "0.5")], (("a", "b", "c"),)), ([(0, 1, 0), (1, 0, 0), (0, "0.5", "0.5")], (("a",), ("b",), ("c",))),
        # the third is the first and the second together
        ([("0.25", "0.25", "0.5"), ("0.1", "0.4", "0.5")], (("a", "b", "c"),)), ([("0.5", "0.5", 0), ("0.25", "0.75", 0), (0, 0, 1)], (("a",), ("b",), ("c",))),
    ],
)  # fmt: skip
def test_which_columns_no_row_tells_apart(shares: list[tuple[str | int, ...]], columns: tuple[tuple[str, ...], ...]) -> None:
    assert merged_until_told_apart((("a",), ("b",), ("c",)), [row(1, *one) for one in shares])[0] == columns


# what jobs took -----------------------------------------------------------------------------------------------------------------------------


def jobs(*taken: str | int) -> list[JobUse]:
    return [JobUse(f"job {number}", F(100), F(one), F(10), F(20 + number)) for number, one in enumerate(taken)]


def test_two_jobs_are_averaged_and_nothing_is_said_of_how_sure_that_is() -> None:
    """108 and 110 for 100: 9 % spare; planned 2 x 10, used 20 + 21."""
    use = material_use("white", "edging", jobs(108, 110), now_share=F("0.05"))
    assert (use.jobs, use.planned, use.used, use.share, use.now_share, use.from_share, use.to_share, use.wild) == (2, 20, 41, F("0.09"), F("0.05"), None, None, ())


def test_a_wild_job_is_in_none_of_the_sums() -> None:
    """Five of 108 to 112 and one of 300: 10 % spare, planned 50, used 20 + 21 + 23 + 24 + 25 without the 22 of the wild one."""
    use = material_use("white", "edging", jobs(108, 110, 300, 112, 109, 111), now_share=None)
    assert (use.jobs, use.planned, use.used, use.share, use.wild) == (5, 50, 113, F("0.1"), ("job 2",))


def test_the_interval_of_five_jobs() -> None:
    """98, 99, 100, 101, 102 for 100: left over -0.02 to 0.02, each moves the mean by a fifth over 4/5, so the variance is 2 x (0.005^2 + 0.0025^2) = 0.0000625.

    Its root is 0.00790569; with 4 degrees 2.13185 of them, 0.016854. Four jobs are too few for an interval.
    """
    use = material_use("white", "edging", jobs(98, 99, 100, 101, 102), now_share=None)
    assert use.share == 0
    assert use.from_share is not None
    assert abs(use.from_share + F("0.016854")) < F(1, 10**6)
    assert abs(use.to_share - F("0.016854")) < F(1, 10**6)
    board = material_use("oak", "board", jobs(98, 99, 100, 101, 102), now_share=None)
    assert abs(board.from_share - 1 / F("1.016854")) < F(1, 10**6)
    assert abs(board.to_share - 1 / F("0.983146")) < F(1, 10**6)
    assert material_use("white", "edging", jobs(98, 99, 101, 102), now_share=None).from_share is None


def test_jobs_so_far_apart_that_nothing_lies_outside_the_interval_get_none() -> None:
    use = material_use("white", "edging", jobs(1, 400, 2, 500, 900), now_share=None)
    assert (use.from_share, use.to_share) == (None, None)
