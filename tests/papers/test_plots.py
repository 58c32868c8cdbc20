"""Marks over a plot: the farther left the higher, so that no dashed line runs through the words beside another one."""

from itertools import pairwise

from estimator.model.exact import Fraction
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
