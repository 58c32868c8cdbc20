"""Our number beside the printed one: each row of figures.csv with its source, where it stands there, and how near it must be."""

import csv
from collections.abc import Callable
from pathlib import Path

import pytest

from estimator.costing.adhesive import litres_needed
from estimator.costing.pricing import price_with_margin, price_with_markup
from estimator.costing.sag import sag_limit_mm, shelf_sag_mm
from estimator.costing.sheets import area_charge
from estimator.costing.work import overhead_rate, standard_min
from estimator.model.exact import Fraction

F = Fraction
ROWS = list(csv.DictReader((Path(__file__).parent / "figures.csv").open(encoding="utf-8")))


def sag(span: int) -> Fraction:
    return shelf_sag_mm(span_mm=F(span), thickness_mm=F(18), e_modulus_n_mm2=F(1600))


def spreading() -> Fraction:
    """A litre covers as much as its solids give at the dry thickness: 0.65 l in 0.125 mm. Our litres must cover that area."""
    area = F("0.65") / F("0.125")
    assert litres_needed(glued_m2=area, coverage_m2_per_litre=area, spare_share=F(0)) == 1
    return area


def mass_balance() -> Fraction:
    """Square metres a litre, from 420 square feet a US gallon (foot 0.3048 m, gallon 3.785411784 l)."""
    area = 420 * F("0.3048") ** 2
    return 1 / litres_needed(glued_m2=F(1), coverage_m2_per_litre=area / F("3.785411784"), spare_share=F(0))


OURS: dict[str, Callable[[], Fraction]] = {
    "waste": lambda: area_charge(area_m2=F(100), usable_m2=F(1), yield_share=F(70, 100), price=F(1)),
    "spreading": spreading,
    "standard": lambda: standard_min(minutes=F(27 + 19 + 20 + 21 + 13, 5), rating=F(120), allowance_share=F(20, 100)),
    "overhead": lambda: overhead_rate(overhead_a_year=F(250_000), productive_hours=F(1000), workers=F(100)),
    "markup": lambda: price_with_markup(cost=F(80_000), markup_share=F(20, 100)),
    "margin": lambda: price_with_margin(cost=F(80_000), margin_share=F(20, 100)),
    "same_price": lambda: price_with_markup(cost=F(80_000), markup_share=F(25, 100)),
    "sag_564": lambda: sag(564),
    "sag_764": lambda: sag(764),
    "limit_564": lambda: sag_limit_mm(span_mm=F(564)),
    "limit_764": lambda: sag_limit_mm(span_mm=F(764)),
    "mass_balance": mass_balance,
}


@pytest.mark.parametrize("row", ROWS, ids=[row["what"] for row in ROWS])
def test_our_number_is_the_printed_one(row: dict[str, str]) -> None:
    assert abs(OURS[row["ours"]]() - F(row["printed"])) <= F(row["within"])


def test_every_source_is_listed() -> None:
    sources = (Path(__file__).parents[2] / "reports" / "sources.md").read_text(encoding="utf-8")
    assert all(f"## `{row['source']}`" in sources for row in ROWS)


def test_a_shelf_of_564_mm_passes_and_one_of_764_fails() -> None:
    assert sag(564) <= sag_limit_mm(span_mm=F(564))
    assert sag(764) > sag_limit_mm(span_mm=F(764))


def test_adding_thirty_percent_is_not_enough() -> None:
    """waste-by-division: 130 bought for 100 net is 23.08 % waste, not 30."""
    assert abs((1 - F(100, 130)) * 100 - F("23.08")) < F("0.01")


def test_board_feet() -> None:
    """US Army subcourse EN5155: 14 pieces of 1 in x 4 in x 8 ft are 37 1/3 board feet; areas of parts add up alike."""
    from estimator.costing.cut_part import cut_area_mm2
    from estimator.model.units import MM_PER_FOOT, MM_PER_INCH

    area = 14 * cut_area_mm2(cut_length_mm=8 * MM_PER_FOOT, cut_width_mm=4 * MM_PER_INCH)
    assert area / MM_PER_FOOT**2 == F(112, 3)
