"""Masses and volumes on the papers of an inch job: in pounds, gallons and fluid ounces, with the workbook's own unit behind them.

Factors of NIST Special Publication 811, appendix B.8 (from memory): a pound 0.45359237 kg, a US gallon 3.785412 litres, a US fluid
ounce 29.57353 ml.
"""

import pytest

from estimator.costing.times.observing import _unit_of
from estimator.model.exact import Fraction
from estimator.papers.shop.buy_list import adhesive_rows, board_rows
from estimator.papers.shop.cautions_page import cautions_story
from estimator.papers.shop.paper import shop_paper
from estimator.papers.shop.time_sheet import timed_steps
from tests.samples import estimate_of


@pytest.mark.parametrize(
    ("litres", "said"),
    [
        pytest.param("3.785", "1 gal (3.785 litres)", id="a gallon as it is typed"),
        pytest.param("18.927", "5 gal (18.927 litres)", id="a pail of five gallons"),
        pytest.param("0.946", "0.25 gal (0.946 litres)", id="a quart"),
        pytest.param("0.473176", "16 fl oz (0.473 litres)", id="a pint: less than a quart is told in ounces"),
        pytest.param("0.0591471", "2 fl oz (0.059 litres)", id="two ounces"),
        pytest.param("0", "0 fl oz (0 litres)", id="nothing"),
    ],
)
def test_a_volume(litres: str, said: str) -> None:
    assert shop_paper(estimate_of("inch-job")).volume(Fraction(litres)) == said


def test_a_mass_has_its_pounds_first() -> None:
    paper = shop_paper(estimate_of("inch-job"))
    assert paper.mass(Fraction("45.359237")) == "100 lb (45.4 kg)"
    assert paper.mass(Fraction(25), decimals=0) == "55 lb (25 kg)"


def test_the_buy_list_of_an_inch_job() -> None:
    """A sheet of 4 by 8 feet, 3/4 thick, at 40.6 lb a cubic foot (650 kg a cubic metre) weighs 2 x 40.6 = 81 lb."""
    paper = shop_paper(estimate_of("inch-job"))
    assert {row.remark.partition(" each")[0] for row in board_rows(paper)} >= {"81 lb (36.8 kg)"}
    assert all(" gal (" in row.to_buy or row.to_buy == "none" for row in adhesive_rows(paper))


def test_the_time_sheet_counts_as_the_time_log_reads() -> None:
    """What stands under Count is typed into the Time log: there an inch job counts runs in feet and areas in square feet."""
    estimate = estimate_of("inch-job")
    steps = [one for one in estimate.minutes.steps if one.minutes]
    told = timed_steps(shop_paper(estimate))
    assert {"metre"} <= {one.step.per for one in steps}
    for one, (_, count, of) in zip(steps, told, strict=True):
        read = Fraction(count.replace(",", "")) * _unit_of(one.step, inch=True)
        assert abs(read - one.count) < Fraction(1, 100), one.step.step
        assert (of in ("foot", "feet")) == (one.step.per == "metre")


def test_a_job_in_mm_keeps_to_kg_and_litres() -> None:
    paper = shop_paper(estimate_of("kitchen"))
    assert (paper.mass(Fraction(25), decimals=0), paper.volume(Fraction("3.785"))) == ("25 kg", "3.785 litres")
    assert all("lb" not in getattr(one, "text", "") for one in cautions_story(paper))
    assert not any(of in ("foot", "feet") for _, _, of in timed_steps(paper))
