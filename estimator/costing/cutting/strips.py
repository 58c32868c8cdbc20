"""Strips of edging to the rolls they are cut from, so that no strip is joined: lengths in, which strips from which roll out.

It is the cutting plan along one line: a roll is a sheet one wide, and a strip is a part one wide. Strips are sheared, so
nothing is lost between them. New rolls are few first; then remainders on hand are used up before a new roll is cut.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from math import lcm

from estimator.costing.cutting.planning import plan_board
from estimator.model.cutting_plan import CutRoll, RollPlan, StockSheet, Unplaceable, WantedPart
from estimator.model.exact import Fraction

_ONE = Fraction(1)
_FINEST = 200_000
"""Steps that a remainder may be long at most."""


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
    if not any(count for _, count in strips):
        return RollPlan(rolls=(), new_rolls=0, bound=0)
    together = _planned(strips, on_hand_mm, new_roll_mm)
    if isinstance(together, Unplaceable) or not on_hand_mm:
        return together
    ends, rest = _ends_first(dict(strips), sorted(on_hand_mm))
    if not any(rest.values()):
        return replace(together, rolls=ends, new_rolls=0)
    after = _planned(list(rest.items()), (), new_roll_mm)
    if isinstance(after, Unplaceable) or after.new_rolls > together.new_rolls:
        return together
    return replace(together, rolls=(*ends, *after.rolls), new_rolls=after.new_rolls)


def _planned(
    strips: Sequence[tuple[Fraction, int]], on_hand_mm: Sequence[Fraction], new_roll_mm: Fraction | None
) -> RollPlan | Unplaceable:
    """The fewest new rolls, whichever remainders that takes."""
    lengths = sorted(set(on_hand_mm))
    stock = [StockSheet(length, _ONE, Fraction(0), _ONE, on_hand_mm.count(length), False) for length in lengths]
    if new_roll_mm is not None:
        stock.append(StockSheet(new_roll_mm, _ONE, Fraction(0), _ONE, 0, True))
    wanted = [WantedPart(length, _ONE, count, "along") for length, count in strips]
    plan = plan_board(wanted=wanted, stock=stock, kerf_mm=Fraction(0), with_care=False)
    if isinstance(plan, Unplaceable) or plan.money > plan.bound_money:
        plan = plan_board(wanted=wanted, stock=stock, kerf_mm=Fraction(0))
    if isinstance(plan, Unplaceable):
        return plan
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


def _ends_first(left: dict[Fraction, int], ends_mm: Sequence[Fraction]) -> tuple[tuple[CutRoll, ...], dict[Fraction, int]]:
    """Every remainder filled as far as it goes, the shortest first, and the strips that are left."""
    rolls = []
    for end_mm in ends_mm:
        chosen = _fullest(end_mm, left)
        for length_mm in chosen:
            left[length_mm] -= 1
        if chosen:
            rolls.append(CutRoll(length_mm=end_mm, new=False, count=1, strips_mm=chosen))
    return tuple(rolls), left


def _fullest(end_mm: Fraction, left: dict[Fraction, int]) -> tuple[Fraction, ...]:
    """The strips that leave least of this remainder.

    Bit n of a number says whether some strips are n steps long together. On a grid too fine for that, strips are rounded up and the
    remainder down to the step, so that what is chosen fits all the same.
    """
    strips = [length for length in sorted(left, reverse=True) for _ in range(min(left[length], end_mm // length))]
    steps = min(lcm(end_mm.denominator, *(length.denominator for length in strips)), max(1, _FINEST // max(1, int(end_mm))))
    whole = int(end_mm * steps)
    long = {length: -(-(length * steps).numerator // (length * steps).denominator) for length in strips}
    reach = [1]
    for length in strips:
        reach.append((reach[-1] | reach[-1] << long[length]) & ((2 << whole) - 1))
    place = reach[-1].bit_length() - 1
    chosen = []
    for number in range(len(strips), 0, -1):
        if not reach[number - 1] >> place & 1:
            chosen.append(strips[number - 1])
            place -= long[strips[number - 1]]
    return tuple(reversed(chosen))
