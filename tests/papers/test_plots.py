"""Marks over a plot: the farther left the higher, so that no dashed line runs through the words beside another one."""

from itertools import pairwise

import pytest

from estimator.model.exact import Fraction
from estimator.papers.owner.charts import Segment, seen_stretch
from estimator.papers.owner.plots import mark_levels
from estimator.papers.owner_pages import owner_pdf
from tests.papers.test_small_parts_on_paper import text_of
from tests.samples import estimate_of


def test_a_mark_farther_left_stands_higher() -> None:
    places = [Fraction(at) for at in (9000, 2726, 6703, 6703, 1)]
    levels = mark_levels(places)
    assert sorted(levels) == [0, 1, 2, 3, 4]
    left_to_right = [level for _, level in sorted(zip(places, levels, strict=True), key=lambda one: (one[0], -one[1]))]
    assert all(left > right for left, right in pairwise(left_to_right))


def test_a_crossing_names_both_ways() -> None:
    """On the machine is told against which way it is the cheaper; two marks that said the same could not be told apart."""
    estimate = estimate_of("kitchen")
    assert estimate.machine is not None
    words = text_of(owner_pdf(estimate))
    for one in estimate.machine.crossings:
        assert f"{one.above} cheaper than {one.below} from" in words


def a_piece(start: int, end: int) -> Segment:
    return Segment("trimming", Fraction(start), Fraction(end), 1.0, text="worker 1")


@pytest.mark.parametrize(
    ("above", "seen"),
    [
        pytest.param([], (0, 60), id="alone"),
        pytest.param([(60, 90), (-10, 0)], (0, 60), id="neighbours"),
        pytest.param([(40, 90)], (0, 40), id="covered at its end"),
        pytest.param([(-5, 10)], (10, 60), id="covered at its start"),
        pytest.param([(35, 45), (10, 20)], (20, 35), id="two within"),
        pytest.param([(10, 50), (20, 30)], (0, 10), id="one within another"),
        pytest.param([(0, 60)], (0, 0), id="covered altogether"),
    ],
)
def test_words_stand_where_a_piece_is_seen(above: list[tuple[int, int]], seen: tuple[int, int]) -> None:
    start, end = seen_stretch(a_piece(0, 60), [a_piece(*one) for one in above])
    assert end - start == seen[1] - seen[0]
    assert seen[0] == seen[1] or (start, end) == seen
