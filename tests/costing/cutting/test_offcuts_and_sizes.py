"""Offcuts and several sizes: pieces on hand where they save money and only there; no proof forbids what a plan does."""

from __future__ import annotations

import pytest

from estimator.costing.cutting import check_plan, plan_board
from estimator.costing.cutting.kerf import grid_of
from estimator.costing.cutting.proofs import weightings
from estimator.costing.cutting.several_proofs import least_money, proofs_of
from estimator.costing.cutting.shuffled import ShuffledNumbers
from estimator.model.cutting_plan import CuttingPlan, StockSheet, WantedPart
from estimator.model.exact import Fraction

KERF_MM = Fraction(4)
FULL = StockSheet(Fraction(2800), Fraction(2070), Fraction(10), Fraction(60), 0, True)


def piece(length: int, width: int, count: int = 1) -> StockSheet:
    return StockSheet(Fraction(length), Fraction(width), Fraction(0), Fraction(0), count, False)


def part(length: int, width: int, count: int, way: str = "along") -> WantedPart:
    return WantedPart(Fraction(length), Fraction(width), count, way)  # type: ignore[arg-type]


def planned(wanted: list[WantedPart], stock: list[StockSheet]) -> CuttingPlan:
    plan = plan_board(wanted=wanted, stock=stock, kerf_mm=KERF_MM)
    assert isinstance(plan, CuttingPlan)
    assert check_plan(plan=plan, wanted=wanted, stock=stock, kerf_mm=KERF_MM) == []
    return plan


def used(plan: CuttingPlan) -> dict[int, int]:
    counts: dict[int, int] = {}
    for pattern in plan.patterns:
        counts[pattern.sheet] = counts.get(pattern.sheet, 0) + pattern.count
    return counts


def test_an_offcut_that_saves_a_sheet_is_used() -> None:
    """Five parts of 1388 x 1023 lie four on a sheet (2 x 1388 + 4 = 2780, 2 x 1023 + 4 = 2050); the offcut takes the fifth."""
    assert used(planned([part(1388, 1023, 5)], [FULL])) == {0: 2}
    assert used(planned([part(1388, 1023, 5)], [FULL, piece(1400, 1100)])) == {0: 1, 1: 1}


def test_an_offcut_that_saves_nothing_stays_in_the_rack() -> None:
    assert used(planned([part(1388, 1023, 4)], [FULL, piece(1400, 1100)])) == {0: 1}
    assert used(planned([part(600, 400, 6), part(500, 300, 6)], [FULL, piece(700, 500, 2), piece(1400, 1100)])) == {0: 1}


def test_offcuts_alone_when_they_hold_everything() -> None:
    plan = planned([part(600, 400, 3)], [FULL, piece(700, 450, 2), piece(620, 420)])
    assert (plan.money, sum(used(plan).values()), 0 in used(plan)) == (0, 3, False)


def test_sheets_on_hand_go_before_bought_ones() -> None:
    """A large sheet on hand costs nothing to take, though a small one would be cheaper to buy."""
    large = StockSheet(Fraction(2800), Fraction(2070), Fraction(10), Fraction(60), 1, True)
    small = StockSheet(Fraction(1400), Fraction(1100), Fraction(10), Fraction(15), 0, True)
    assert used(planned([part(1300, 1000, 1)], [large, small])) == {0: 1}
    assert used(planned([part(1300, 1000, 1)], [FULL, small])) == {1: 1}


@pytest.mark.parametrize("whole", [9, 12, 16])
def test_two_weights_never_exceed_that_of_both_together(whole: int) -> None:
    """So one function serves sheets of every size up to the largest."""
    for weigh, most in weightings(whole=whole, extents=set(range(1, whole + 1)), most=60):
        assert weigh[whole] <= most
        for one in range(1, whole):
            for other in range(1, whole - one + 1):
                assert weigh[one] + weigh[other] <= weigh[one + other]


@pytest.mark.parametrize("board", range(6))
def test_no_proof_forbids_a_plan_that_is_there(board: int) -> None:
    below = ShuffledNumbers(500 + board).below
    wanted = [part(100 + below(1100), 80 + below(700), 1 + below(6), ("along", "across", "either")[below(3)]) for _ in range(6)]
    stock = [
        StockSheet(Fraction(2440), Fraction(1220), Fraction(10), Fraction(34), below(2), True),
        StockSheet(Fraction(1500), Fraction(1250), Fraction(10), Fraction(19), 0, True),
        piece(1300, 900, below(3)),
        piece(800, 700, 1 + below(2)),
    ]
    plan = planned(wanted, stock)
    grid = grid_of(wanted=wanted, stock=stock, kerf_mm=KERF_MM)
    proofs = proofs_of(grid=grid, stock=stock)
    counts = [used(plan).get(index, 0) for index in range(len(stock))]
    assert proofs
    assert all(proof.allows(counts) for proof in proofs)
    assert least_money(proofs=proofs, stock=stock) <= plan.money
    assert plan.bound_money <= plan.money


def test_weights_prove_more_than_area() -> None:
    """Parts of 1300 x 700 lie one on 1500 x 1250 and three on 2440 x 1220 never: two side by side are 1404 wide, so one a sheet."""
    sizes = [
        StockSheet(Fraction(2440), Fraction(1220), Fraction(0), Fraction(34), 0, True),
        StockSheet(Fraction(1500), Fraction(1250), Fraction(0), Fraction(19), 0, True),
    ]
    plan = planned([part(1300, 700, 5)], sizes)
    assert (plan.money, plan.bound_money) == (95, 95)
