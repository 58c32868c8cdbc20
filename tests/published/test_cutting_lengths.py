"""Lengths from stock: strips from rolls beside the classic cutting stock examples.

Sources: 13 widths on 5600, EPFL Graph Search, cutting stock, recomputed (73 rolls; a trade-sized heuristic may take 75).
"""

from __future__ import annotations

from estimator.costing.cutting import strips_from_rolls
from estimator.model.cutting_plan import RollPlan, Unplaceable
from estimator.model.exact import Fraction

THIRTEEN = {
    1380: 22, 1520: 25, 1560: 12, 1710: 14, 1820: 18, 1880: 18, 1930: 20,
    2000: 10, 2050: 12, 2100: 14, 2140: 16, 2150: 18, 2200: 20,
}  # fmt: skip


def test_thirteen_widths_on_5600() -> None:
    strips = [(Fraction(length), count) for length, count in THIRTEEN.items()]
    plan = strips_from_rolls(strips=strips, on_hand_mm=[], new_roll_mm=Fraction(5600))
    assert isinstance(plan, RollPlan)
    assert plan.bound == 73
    assert 73 <= plan.new_rolls <= 75
    cut: dict[Fraction, int] = {}
    for roll in plan.rolls:
        assert sum(roll.strips_mm) <= roll.length_mm
        for strip in roll.strips_mm:
            cut[strip] = cut.get(strip, 0) + roll.count
    assert cut == dict(strips)


def test_remainders_are_used_before_a_roll_is_opened() -> None:
    strips = [(Fraction(760), 3), (Fraction(604), 2)]
    plan = strips_from_rolls(strips=strips, on_hand_mm=[Fraction(1500), Fraction(2000)], new_roll_mm=Fraction(50_000))
    assert isinstance(plan, RollPlan)
    assert plan.new_rolls == 1, "3488 mm of strips and 3500 mm in remainders, but no way to part them"
    plan = strips_from_rolls(strips=strips, on_hand_mm=[Fraction(1520), Fraction(2000)], new_roll_mm=Fraction(50_000))
    assert isinstance(plan, RollPlan)
    assert plan.new_rolls == 0


def test_a_strip_longer_than_every_roll_is_told() -> None:
    refused = strips_from_rolls(strips=[(Fraction(600), 1), (Fraction(2100), 1)], on_hand_mm=[Fraction(2000)], new_roll_mm=None)
    assert refused == Unplaceable(too_large=(1,), left_over=())
