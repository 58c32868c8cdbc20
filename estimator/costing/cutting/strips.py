"""Strips of edging to the rolls they are cut from, so that no strip is joined: lengths in, which strips from which roll out.

It is the cutting plan along one line: a roll is a sheet one wide, and a strip is a part one wide. Strips are sheared, so
nothing is lost between them. New rolls are few first; then remainders on hand are used up before a new roll is cut.
"""

from __future__ import annotations

from collections.abc import Sequence

from estimator.costing.cutting.planning import plan_board
from estimator.model.cutting_plan import CutRoll, RollPlan, StockSheet, Unplaceable, WantedPart
from estimator.model.exact import Fraction

_ONE = Fraction(1)


def strips_from_rolls(
    *, strips: Sequence[tuple[Fraction, int]], on_hand_mm: Sequence[Fraction], new_roll_mm: Fraction | None
) -> RollPlan | Unplaceable:
    """Which strips come from which roll: the fewest new rolls.

    `strips` are lengths in mm with their counts. Without a `new_roll_mm` no roll can be bought. Unplaceable names strips by
    their index.

    >>> plan = strips_from_rolls(strips=[(Fraction(600), 2)], on_hand_mm=[Fraction(1300)], new_roll_mm=Fraction(50_000))
    >>> [(int(roll.length_mm), roll.new, [int(strip) for strip in roll.strips_mm]) for roll in plan.rolls]
    [(1300, False, [600, 600])]

    Holds for: whole strips; each is cut from a single roll.
    Error: never fewer new rolls than the plan's bound; where both are equal the plan is proven best.
    Source: common-practice.
    """
    lengths = sorted(set(on_hand_mm))
    stock = [StockSheet(length, _ONE, Fraction(0), _ONE, on_hand_mm.count(length), False) for length in lengths]
    if new_roll_mm is not None:
        stock.append(StockSheet(new_roll_mm, _ONE, Fraction(0), _ONE, 0, True))
    wanted = [WantedPart(length, _ONE, count, "along") for length, count in strips]
    if not any(count for _, count in strips):
        return RollPlan(rolls=(), new_rolls=0, bound=0)
    plan = plan_board(wanted=wanted, stock=stock, kerf_mm=Fraction(0), with_care=False)
    if isinstance(plan, Unplaceable) or plan.money > plan.bound_money:
        careful = plan_board(wanted=wanted, stock=stock, kerf_mm=Fraction(0))
        if isinstance(careful, Unplaceable):
            return careful
        if isinstance(plan, Unplaceable) or careful.money < plan.money:
            plan = careful
    rolls = tuple(
        CutRoll(
            length_mm=stock[pattern.sheet].length_mm,
            new=stock[pattern.sheet].buyable,
            count=pattern.count,
            strips_mm=tuple(strips[placement.part][0] for placement in pattern.placements),
        )
        for pattern in plan.patterns
    )
    return RollPlan(rolls=rolls, new_rolls=int(plan.money), bound=int(plan.bound_money))
