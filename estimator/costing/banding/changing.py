"""The stakes when an input changes: the question and factors of its inputs in, the same sums with some of them multiplied out.

Money that is proportional to an input is multiplied; whole rolls, whole packs and price breaks are worked out again.
"""

from collections.abc import Mapping, Sequence
from math import lcm

from estimator.costing.banding.best_plan import best_group
from estimator.costing.banding.question import (
    ADHESIVE,
    EDGING,
    METRES,
    MINIMUM,
    NONE,
    ONE,
    PIECES,
    PRICES,
    Glue,
    Question,
)
from estimator.costing.banding.stakes import Stakes, Tin, WholeOrder, cost_of
from estimator.costing.contractor import quantity_above_amount, whole_quantity_amount
from estimator.costing.edging import bought_m
from estimator.model.dataclass import dataclass
from estimator.model.exact import Fraction

Changes = Mapping[str, Fraction]
"""Inputs with the factor that each is multiplied by; the others stay."""


@dataclass(frozen=True, slots=True)
class Sized:
    """What must be worked out again when the size of the job changes, at today's prices."""

    metres: tuple[Fraction, ...]
    """Charged metres of each edging."""
    rolls: Mapping[str, tuple[Fraction, ...]]
    """Cost of each edging's whole rolls, when it is kept and when it is sent."""
    levels: tuple[Fraction, ...]
    """Metres of the order at which a price changes; only 0 where breaks count per edging."""
    amounts: tuple[tuple[Fraction, ...], ...]
    """At each level, the contractor's money for each edging's metres."""
    tins: tuple[tuple[tuple[int, ...], int, int], ...]
    """For each adhesive by the pack: the edgings' areas, small parts' area and a pack's, in whole parts of one unit."""


def stakes_at(question: Question, changes: Changes, *, as_it_is: Sized | None = None) -> Stakes:
    """What is at stake when some inputs are multiplied; no change gives the job as it is.

    `as_it_is` spares working out rolls, packs and breaks again where the size stays.
    """
    money = _linear(question, changes)
    scale = question.scale * lcm(*(factor.denominator for factor in changes.values())) ** 2
    long, many = changes.get(METRES, ONE) * changes.get(PIECES, ONE), changes.get(PIECES, ONE)
    sized = as_it_is if as_it_is and long == many == 1 else sized_at(question, longer_share=long, more_share=many)
    rolls = {side: _times(costs, changes.get(EDGING, ONE)) for side, costs in sized.rolls.items()}
    amounts = [_times(row, changes.get(PRICES, ONE)) for row in sized.amounts]
    own = {**rolls, "invoice": [] if len(sized.levels) > 1 else amounts[0], "always": []}
    minimum = question.minimum * changes.get(MINIMUM, ONE)
    tin_prices = _times([glue.price for glue in question.glues], changes.get(ADHESIVE, ONE))
    figures = (minimum, *(one for row in (*rolls.values(), *amounts) for one in row), *tin_prices)
    finer = lcm(scale, *(one.denominator for one in figures)) // scale
    scale *= finer
    alone = {side: [0] * len(question.names) for side in money}
    shared: dict[str, dict[int, int]] = {side: {} for side in money}
    for side, sums in money.items():
        for group, amount in sums.items():
            if group & (group - 1):
                shared[side][group] = amount * finer
            else:
                alone[side][group.bit_length() - 1] += amount * finer
        for i, one in enumerate(own[side]):
            alone[side][i] += _whole(one, scale)
    return Stakes(
        scale=scale,
        hand=tuple(alone["kept"]),
        sent=tuple(alone["sent"]),
        invoice=tuple(alone["invoice"]),
        hand_shared=shared["kept"],
        sent_shared=shared["sent"],
        invoice_shared=shared["invoice"],
        minimum=_whole(minimum, scale),
        tins=tuple(
            Tin(areas, pack, _whole(price, scale), small) for (areas, small, pack), price in zip(sized.tins, tin_prices, strict=True)
        ),
        order=_whole_order(sized, amounts, scale) if len(sized.levels) > 1 else None,
        must_send=question.must_send,
        must_keep=question.must_keep,
        always=sum(alone["always"]) + sum(shared["always"].values()),
    )


def _linear(question: Question, changes: Changes) -> dict[str, dict[int, int]]:
    """Items added up by side and group, in whole parts of the question's scale times the changes' denominators squared.

    An item grows with at most two of the changed inputs (its minutes and the value of an hour), or so it is held here: with
    more the division below would leave a rest.
    """
    finer = lcm(*(factor.denominator for factor in changes.values())) ** 2
    money: dict[str, dict[int, int]] = {"kept": {}, "sent": {}, "invoice": {}, "always": {}}
    for item, amount in zip(question.items, question.amounts, strict=True):
        parts = amount * finer
        for name, factor in changes.items():
            if name in item.grows_with:
                parts, rest = divmod(parts * factor.numerator, factor.denominator)
                assert not rest, "the scale holds every item"
        side = money[item.side]
        side[item.group] = side.get(item.group, 0) + parts
    return money


def _times(values: Sequence[Fraction], factor: Fraction) -> list[Fraction]:
    return list(values) if factor == 1 else [one * factor for one in values]


def _whole(value: Fraction, scale: int) -> int:
    return value.numerator * (scale // value.denominator)


# --- what a size decides: rolls, packs and price breaks ---------------------------------------------------------------


def sized_at(question: Question, *, longer_share: Fraction, more_share: Fraction) -> Sized:
    """Rolls, packs and breaks when net lengths and the number of edges are multiplied."""
    long, many = longer_share, more_share
    metres = tuple(net * long + added * many for net, added in question.charged)
    rolls = {side: [NONE] * len(question.names) for side in ("kept", "sent")}
    for roll in question.rolls:
        need_m = bought_m(strip_m=roll.net_m * long + roll.over_m * many, spare_share=roll.spare_share)
        for side in roll.sides:
            rolls[side][roll.edging] += -(-need_m // roll.roll_m) * roll.roll_m * roll.price_per_m
    if question.breaks != "whole order":
        levels, amounts = [NONE], [tuple(_amount(question, i, length) for i, length in enumerate(metres))]
    else:
        levels = sorted({NONE, *(one.from_m for breaks in question.offers for one in breaks)})
        amounts = [
            tuple(
                whole_quantity_amount(metres=length, reached_m=level, breaks=breaks, buy_up=False) if breaks else NONE
                for length, breaks in zip(metres, question.offers, strict=True)
            )
            for level in levels
        ]
    tins = tuple(_tin(glue, long, many) for glue in question.glues)
    return Sized(metres, {side: tuple(costs) for side, costs in rolls.items()}, tuple(levels), tuple(amounts), tins)


def edging_cost_at(question: Question, size_share: Fraction) -> Fraction:
    """What all the edging costs the shop at a size of the job, when it buys all of it."""
    by_metre = sum((item.money for item in question.items if item.side == "kept" and EDGING in item.grows_with), start=NONE)
    return by_metre * size_share + sum(sized_at(question, longer_share=size_share, more_share=size_share).rolls["kept"], start=NONE)


def _tin(glue: Glue, long: Fraction, many: Fraction) -> tuple[tuple[int, ...], int, int]:
    areas = [net * long + over * many for net, over in zip(glue.net_m2, glue.over_m2, strict=True)]
    small = sum(glue.small_net_m2, start=NONE) * long + sum(glue.small_over_m2, start=NONE) * many
    unit = lcm(glue.pack_m2.denominator, small.denominator, *(area.denominator for area in areas))
    return tuple(_whole(area, unit) for area in areas), _whole(small, unit), _whole(glue.pack_m2, unit)


def _amount(question: Question, i: int, metres: Fraction) -> Fraction:
    breaks = question.offers[i]
    if not breaks:
        return NONE
    if question.breaks == "quantity above":
        return quantity_above_amount(metres=metres, breaks=breaks)
    return whole_quantity_amount(metres=metres, reached_m=metres, breaks=breaks, buy_up=question.buy_up)


def _whole_order(sized: Sized, amounts: Sequence[Sequence[Fraction]], scale: int) -> WholeOrder:
    unit = lcm(*(one.denominator for one in (*sized.metres, *sized.levels)))
    return WholeOrder(
        tuple(_whole(one, unit) for one in sized.metres),
        tuple(_whole(one, unit) for one in sized.levels),
        tuple(tuple(_whole(one, scale) for one in row) for row in amounts),
    )


# --- answers ----------------------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Chosen:
    """The best plan under some change: the group that is sent and its relevant cost."""

    group: int
    cost: Fraction


def choose(question: Question, changes: Changes, *, as_it_is: Sized | None = None, near: int | None = None) -> Chosen | None:
    """The best plan, chosen anew; None when no plan is possible. `near` is a plan that may well be the best: it spares time only."""
    stakes = stakes_at(question, changes, as_it_is=as_it_is)
    group = best_group(stakes, near=near)
    return None if group is None else Chosen(group, Fraction(cost_of(stakes, group), stakes.scale))


def names_of(question: Question, group: int) -> tuple[str, ...]:
    return tuple(name for i, name in enumerate(question.names) if group >> i & 1)
