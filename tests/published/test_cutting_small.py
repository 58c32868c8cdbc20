"""Small published cutting problems beside what the planner does with them.

The published problems ask how much of value one plate can hold; the planner asks how few sheets hold everything. So two
claims are made: a published best set of pieces is planned on one plate (the planner is as good as the optimum there), and no
sheet of any plan holds more than the published optimum (the planner's geometry is not too kind to itself).

Sources: gcut1, gcut2, gcut5 and cgcut1 from OR-Library (Beasley 1985; Christofides and Whitlock 1977), values with and without
turning as listed by the University of Sao Paulo (IME) and recomputed; CHL5 and the tiny ones from the literature on
constrained guillotine cutting (Cung, Hifi and Le Cun), recomputed; the first two problems of Berkey and Wang 1987, class 1,
with the best known sheets as collected in the open data of the literature.
"""

from __future__ import annotations

import pytest

from estimator.costing.cutting import plan_board
from estimator.model.cutting_plan import CuttingPlan, StockSheet, WantedPart
from estimator.model.exact import Fraction

GCUT1 = [
    (167, 184), (114, 118), (167, 152), (83, 140), (70, 86), (143, 166), (120, 160), (66, 148), (87, 141), (69, 165),
]  # fmt: skip
GCUT2 = [
    (120, 133), (135, 186), (86, 75), (103, 73), (66, 85), (135, 97), (91, 175), (131, 176), (71, 176), (153, 72),
    (87, 148), (168, 107), (118, 90), (140, 109), (132, 159), (152, 93), (135, 68), (121, 158), (68, 94), (155, 76),
]  # fmt: skip
GCUT5 = [
    (198, 205), (179, 155), (364, 236), (272, 147), (352, 145), (343, 245), (132, 174), (164, 250), (282, 356), (342, 151),
]  # fmt: skip
CGCUT1 = [(8, 4), (3, 7), (8, 2), (3, 4), (3, 3), (3, 2), (2, 1)]
CHL5 = [(14, 2), (1, 5), (20, 4), (12, 3), (11, 8), (11, 6), (7, 9), (17, 5), (7, 14), (1, 7)]
BERKEY_WANG_1 = [
    (5, 9), (4, 2), (10, 6), (5, 7), (6, 3), (10, 7), (1, 5), (3, 5), (6, 9), (2, 4),
    (6, 7), (7, 2), (8, 3), (4, 10), (4, 5), (10, 3), (8, 3), (7, 8), (8, 3), (8, 7),
]  # fmt: skip
BERKEY_WANG_2 = [
    (2, 2), (6, 8), (10, 2), (1, 3), (8, 4), (3, 10), (1, 9), (1, 5), (6, 3), (1, 1),
    (4, 2), (9, 2), (1, 9), (9, 5), (4, 7), (2, 2), (3, 4), (9, 7), (4, 1), (9, 8),
]  # fmt: skip


def planned(plate: tuple[int, int], pieces: list[tuple[int, int]], counts: list[int], way: str) -> CuttingPlan:
    wanted = [
        WantedPart(Fraction(length), Fraction(width), count, way)  # type: ignore[arg-type]
        for (length, width), count in zip(pieces, counts, strict=True)
    ]
    stock = [StockSheet(Fraction(plate[0]), Fraction(plate[1]), Fraction(0), Fraction(1), 0, True)]
    plan = plan_board(wanted=wanted, stock=stock, kerf_mm=Fraction(0))
    assert isinstance(plan, CuttingPlan)
    return plan


def fullest_sheet(plan: CuttingPlan, pieces: list[tuple[int, int]]) -> int:
    return max(
        sum(pieces[placement.part][0] * pieces[placement.part][1] for placement in pattern.placements)
        for pattern in plan.patterns
    )


@pytest.mark.parametrize(
    ("plate", "pieces", "copies", "way", "optimum"),
    [
        pytest.param((250, 250), GCUT1, 9, "along", 56460, id="gcut1, unlimited, with grain"),
        pytest.param((250, 250), GCUT1, 9, "either", 58136, id="gcut1, unlimited, turned"),
        pytest.param((250, 250), GCUT1, 1, "along", 48368, id="gcut1, one of each, with grain"),
        pytest.param((250, 250), GCUT2, 9, "along", 60536, id="gcut2, unlimited, with grain"),
        pytest.param((250, 250), GCUT2, 9, "either", 60611, id="gcut2, unlimited, turned"),
        pytest.param((500, 500), GCUT5, 9, "along", 246000, id="gcut5, unlimited, with grain"),
        pytest.param((500, 500), GCUT5, 9, "either", 246000, id="gcut5, unlimited, turned"),
    ],
)
def test_no_sheet_holds_more_than_the_published_optimum(
    plate: tuple[int, int], pieces: list[tuple[int, int]], copies: int, way: str, optimum: int
) -> None:
    assert fullest_sheet(planned(plate, pieces, [copies] * len(pieces), way), pieces) <= optimum


@pytest.mark.parametrize(
    ("plate", "pieces", "counts", "values", "optimum"),
    [
        pytest.param((15, 10), CGCUT1, [2, 1, 1, 2, 1, 1, 0], [66, 35, 24, 17, 11, 8, 2], 244, id="cgcut1"),
        pytest.param((20, 20), CHL5, [1, 1, 1, 3, 0, 0, 1, 1, 0, 3], [28, 5, 80, 36, 88, 66, 63, 85, 98, 7], 390, id="CHL5"),
        pytest.param((10, 20), [(10, 10), (10, 11)], [2, 0], [10, 19], 20, id="tiny, two squares"),
        pytest.param((16, 20), [(10, 8), (10, 16)], [2, 0], [10, 19], 20, id="tiny, grain"),
        pytest.param((100, 100), [(10, 10)], [100], [7], 700, id="tiny, a hundred squares"),
    ],
)
def test_a_published_best_set_is_planned_on_one_plate(
    plate: tuple[int, int], pieces: list[tuple[int, int]], counts: list[int], values: list[int], optimum: int
) -> None:
    assert sum(count * value for count, value in zip(counts, values, strict=True)) == optimum
    assert planned(plate, pieces, counts, "along").sheets == 1


def test_grain_lock_costs_a_sheet() -> None:
    """16 x 20 with 10 x 8 twice and 10 x 16 once: 39 of value fits when turned, 20 with grain (second number ours)."""
    pieces, counts = [(10, 8), (10, 16)], [2, 1]
    assert planned((16, 20), pieces, counts, "either").sheets == 1
    assert planned((16, 20), pieces, counts, "along").sheets == 2


@pytest.mark.parametrize(
    ("pieces", "way", "best_known"),
    [
        pytest.param(BERKEY_WANG_1, "along", 8, id="first of class 1, with grain"),
        pytest.param(BERKEY_WANG_1, "either", 7, id="first of class 1, turned"),
        pytest.param(BERKEY_WANG_2, "along", 5, id="second of class 1, with grain"),
        pytest.param(BERKEY_WANG_2, "either", 5, id="second of class 1, turned"),
    ],
)
def test_sheets_of_berkey_and_wang(pieces: list[tuple[int, int]], way: str, best_known: int) -> None:
    plan = planned((10, 10), pieces, [1] * len(pieces), way)
    assert plan.bound <= plan.sheets == best_known
