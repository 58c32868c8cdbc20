"""Bounds: each weight function is proven dual feasible by trying everything, and no bound is above a plan by hand."""

from __future__ import annotations

from collections.abc import Iterator

import pytest

from estimator.costing.cutting import area_bound, big_part_bound, plan_board, sheets_by_yield
from estimator.costing.cutting.proofs import weightings
from estimator.model.cutting_plan import CuttingPlan, StockSheet, WantedPart
from estimator.model.exact import Fraction


def _sums(whole: int, largest: int) -> Iterator[list[int]]:
    """Every way of laying extents side by side within the whole."""
    yield []
    for extent in range(1, min(whole, largest) + 1):
        for rest in _sums(whole - extent, extent):
            yield [extent, *rest]


@pytest.mark.parametrize("whole", [7, 10, 12, 15])
def test_whatever_fits_side_by_side_never_weighs_more_than_the_whole(whole: int) -> None:
    functions = weightings(whole=whole, extents=set(range(1, whole + 1)), most=60)
    assert len(functions) > 5
    for weigh, most in functions:
        for extents in _sums(whole, whole):
            assert sum(weigh[extent] for extent in extents) <= most


def test_parts_a_third_over_leave_two_a_row() -> None:
    """340 x 340 on 1000 x 1000: two a row and two rows, so 4 a sheet though the area would hold 8."""
    wanted = [WantedPart(Fraction(340), Fraction(340), 9, "either")]
    stock = [StockSheet(Fraction(1000), Fraction(1000), Fraction(0), Fraction(1), 0, True)]
    plan = plan_board(wanted=wanted, stock=stock, kerf_mm=Fraction(0))
    assert isinstance(plan, CuttingPlan)
    assert (plan.sheets, plan.bound) == (3, 3)


def test_expected_yield_never_promises_less_than_is_possible() -> None:
    sheet = StockSheet(Fraction(2000), Fraction(1000), Fraction(0), Fraction(1), 0, True)
    halves = [WantedPart(Fraction(1100), Fraction(600), 3, "along")]
    free = [WantedPart(Fraction(1100), Fraction(600), 3, "either")]
    kerf_mm = Fraction(4)
    assert big_part_bound(wanted=halves, sheet=sheet, kerf_mm=kerf_mm) == 3
    assert big_part_bound(wanted=free, sheet=sheet, kerf_mm=kerf_mm) == 0
    assert area_bound(wanted=halves, sheet=sheet, kerf_mm=kerf_mm) == 1
    assert sheets_by_yield(wanted=halves, sheet=sheet, kerf_mm=kerf_mm, yield_share=Fraction(1)) == 3
    assert sheets_by_yield(wanted=free, sheet=sheet, kerf_mm=kerf_mm, yield_share=Fraction(1)) == 1
    assert sheets_by_yield(wanted=free, sheet=sheet, kerf_mm=kerf_mm, yield_share=Fraction(1, 2)) == 2
