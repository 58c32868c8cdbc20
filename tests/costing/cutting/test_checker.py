"""The checker distrusts plans: each law is broken once on purpose, and the checker must say so."""

from __future__ import annotations

from dataclasses import replace

import pytest

from estimator.costing.cutting import check_plan, plan_board
from estimator.model.cutting_plan import CuttingPlan, Pattern, Placement, StockSheet, WantedPart
from estimator.model.exact import Fraction

KERF = Fraction(4)
WANTED = [WantedPart(Fraction(500), Fraction(300), 3, "along"), WantedPart(Fraction(200), Fraction(100), 2, "along")]
STOCK = [StockSheet(Fraction(1200), Fraction(800), Fraction(10), Fraction(20), 0, True)]


def good_plan() -> CuttingPlan:
    plan = plan_board(wanted=WANTED, stock=STOCK, kerf_mm=KERF)
    assert isinstance(plan, CuttingPlan)
    return plan


def sentences(plan: CuttingPlan) -> str:
    return " ".join(check_plan(plan=plan, wanted=WANTED, stock=STOCK, kerf_mm=KERF))


def with_pattern(**changes: object) -> CuttingPlan:
    plan = good_plan()
    return replace(plan, patterns=(replace(plan.patterns[0], **changes), *plan.patterns[1:]))  # type: ignore[arg-type]


def moved(dx: int, dy: int, *, turned: bool = False) -> CuttingPlan:
    first, *others = good_plan().patterns[0].placements
    placement = Placement(first.part, first.x_mm + dx, first.y_mm + dy, turned)
    return with_pattern(placements=(placement, *others))


def test_a_good_plan_has_nothing_wrong() -> None:
    assert sentences(good_plan()) == ""


@pytest.mark.parametrize(
    ("plan", "words"),
    [
        pytest.param(lambda: with_pattern(placements=good_plan().patterns[0].placements[1:]), "is cut", id="a part left out"),
        pytest.param(lambda: with_pattern(count=2), "is cut", id="a sheet too many"),
        pytest.param(lambda: moved(-5, 0), "not inside the trimmed sheet", id="into the trim"),
        pytest.param(lambda: moved(300, 0), "overlap", id="one part over another"),
        pytest.param(lambda: moved(1, 0), "pieces in hand are not the parts", id="a millimetre off its cut"),
        pytest.param(lambda: moved(0, 0, turned=True), "against its grain", id="turned against the grain"),
        pytest.param(lambda: with_pattern(cuts=good_plan().patterns[0].cuts[1:]), "not in hand", id="a cut left out"),
        pytest.param(lambda: with_pattern(offcuts=()), "pieces in hand are not", id="an offcut forgotten"),
        pytest.param(lambda: replace(good_plan(), kerf_mm2=Fraction(1)), "kerf", id="kerf area told wrong"),
        pytest.param(lambda: replace(good_plan(), money=Fraction(1)), "cost", id="money told wrong"),
        pytest.param(lambda: replace(good_plan(), bound=9), "better than", id="a bound above the plan"),
    ],
)
def test_each_broken_law_is_told(plan: object, words: str) -> None:
    assert words in sentences(plan())  # type: ignore[operator]


def test_a_pinwheel_cannot_be_sawn() -> None:
    wanted = [WantedPart(Fraction(6), Fraction(4), 2, "along"), WantedPart(Fraction(6), Fraction(4), 2, "across")]
    stock = [StockSheet(Fraction(10), Fraction(10), Fraction(0), Fraction(1), 0, True)]
    places = [(0, 0, 0, False), (1, 6, 0, True), (0, 4, 6, False), (1, 0, 4, True)]
    placements = tuple(Placement(part, Fraction(x), Fraction(y), turned) for part, x, y, turned in places)
    zero = Fraction(0)
    plan = CuttingPlan((Pattern(0, 1, placements, (), ()),), 1, 1, Fraction(1), zero, Fraction(96), zero, zero, Fraction(4))
    told = " ".join(check_plan(plan=plan, wanted=wanted, stock=stock, kerf_mm=zero))
    assert "cannot be sawn free" in told
    assert "overlap" not in told
