"""The question which way to band, split by what its costs grow with: the ways in, the stakes at any change of the inputs out.

Every cost is kept as money of this job with the names of the inputs that it is proportional to. So the stakes of a longer job, a
dearer contractor or a slower bench are the same sums with some of them multiplied, and the best plan can be chosen anew.
Whole rolls, whole packs and price breaks are worked out again.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import lcm

from estimator.costing.adhesive import litres_needed
from estimator.costing.banding.best_plan import best_group
from estimator.costing.banding.stakes import Stakes, Tin, WholeOrder, cost_of
from estimator.costing.contractor import Break, charged_m, quantity_above_amount, trip_cost, whole_quantity_amount
from estimator.costing.counts import Tally
from estimator.costing.edging import bought_m
from estimator.costing.routes import Ways, why_not_by_hand, why_not_sent
from estimator.model.units import MINUTES_PER_HOUR

NONE, ONE = Fraction(0), Fraction(1)

METRES, PIECES = "metres of edge", "parts and edges"
EDGING, ADHESIVE = "edging prices", "adhesive prices"
PRICES, SETUPS, PER_PART, MINIMUM, TRIPS = (
    "the contractor's prices", "set-ups", "charge per part", "minimum charge", "cost of the trips",
)  # fmt: skip
HAND_MINUTES, SEND_MINUTES, HOUR = "minutes by hand", "minutes of sending out", "value of a freed hour"
HAND_FITTINGS, SEND_FITTINGS = "sundries by hand", "sundries of sending out"
INPUTS = (
    METRES, EDGING, ADHESIVE, HAND_MINUTES, HAND_FITTINGS, HOUR, PRICES, SETUPS, PER_PART, MINIMUM, TRIPS, SEND_MINUTES,
    SEND_FITTINGS,
)  # fmt: skip
"""What a shop can ask about, in the order of the page."""

Changes = Mapping[str, Fraction]
"""Inputs with the factor that each is multiplied by; the others stay."""


@dataclass(frozen=True, slots=True)
class Item:
    """Money on one side of the choice, counted once when any edging of the group goes that way."""

    side: str
    """kept, sent or invoice."""
    group: int
    money: Fraction
    grows_with: frozenset[str]


@dataclass(frozen=True, slots=True)
class Rolls:
    """Edging that is bought by the whole roll."""

    edging: int
    net_m: Fraction
    over_m: Fraction
    spare_share: Fraction
    roll_m: Fraction
    price_per_m: Fraction


@dataclass(frozen=True, slots=True)
class Glue:
    """An adhesive that is bought by the whole pack: each edging's area on its net length and on its overhangs."""

    net_m2: tuple[Fraction, ...]
    over_m2: tuple[Fraction, ...]
    pack_m2: Fraction
    price: Fraction


@dataclass(frozen=True, slots=True)
class Question:
    names: tuple[str, ...]
    items: tuple[Item, ...]
    scale: int
    amounts: tuple[int, ...]
    """Money of each item in whole parts of 1/scale."""
    rolls: tuple[Rolls, ...]
    supplied: bool
    """The contractor supplies the edging of what is sent."""
    glues: tuple[Glue, ...]
    offers: tuple[tuple[Break, ...], ...]
    """Price breaks of each edging; none for one without an offer."""
    charged: tuple[tuple[Fraction, Fraction], ...]
    """Charged metres of each edging: net, and added for its edges."""
    breaks: str
    """per edging, whole order, or quantity above."""
    buy_up: bool
    minimum: Fraction
    must_send: int
    must_keep: int
    net_m: Fraction


def question_of(ways: Ways) -> Question:
    """Everything that the choice of a plan rests on, from the same figures that price a plan."""
    bits = {use.edging: i for i, use in enumerate(ways.edgings)}
    contract = ways.job.contract
    glues, glue_items = _glues(ways)
    items = _merged((*_edging_items(ways), *glue_items, *_work_items(ways), *_fitting_items(ways), *_invoice_items(ways)))
    scale = lcm(*(item.money.denominator for item in items))
    apply = contract.breaks_apply_to if contract else ""
    counts = contract.breaks_count if contract else "per edging"
    added_mm = contract.added_length_mm if contract else NONE
    return Question(
        names=tuple(bits),
        items=items,
        scale=scale,
        amounts=tuple(_whole(item.money, scale) for item in items),
        rolls=tuple(_rolls(ways)),
        supplied=contract is not None and contract.supplies_edging,
        glues=glues,
        offers=tuple(ways.offers[name].breaks if name in ways.offers else () for name in bits),
        charged=tuple((use.net_m, charged_m(net_m=NONE, added_mm=added_mm, edges=use.edges)) for use in ways.edgings),
        breaks="quantity above" if apply == "quantity above" and counts == "per edging" else counts,
        buy_up=contract is not None and contract.buy_up and counts == "per edging",
        minimum=contract.minimum_charge if contract else NONE,
        must_send=ways.group(tuple(why_not_by_hand(ways))),
        must_keep=ways.group(tuple(why_not_sent(ways))),
        net_m=sum((use.net_m for use in ways.edgings), start=NONE),
    )


def _merged(items: Iterable[Item]) -> tuple[Item, ...]:
    """Items of one side and group that grow with the same inputs, added up."""
    sums: dict[tuple[str, int, frozenset[str]], Fraction] = {}
    for item in items:
        key = (item.side, item.group, item.grows_with)
        sums[key] = sums.get(key, NONE) + item.money
    return tuple(Item(side, group, money, grows) for (side, group, grows), money in sums.items() if money and group)


_LONG, _MANY = frozenset({METRES, PIECES}), frozenset({PIECES})


def _edging_items(ways: Ways) -> Iterator[Item]:
    """Edging by the metre: the strip's net length grows with the edges' length, its overhangs with their number."""
    supplied = ways.job.contract is not None and ways.job.contract.supplies_edging
    for i, use in enumerate(ways.edgings):
        for width in use.widths:
            if width.rolls is not None:
                continue
            each = (1 + width.edging.spare_share) * width.edging.price_per_m
            for side in ("kept",) if supplied else ("kept", "sent"):
                yield Item(side, 1 << i, width.net_m * each, _LONG | {EDGING})
                yield Item(side, 1 << i, (width.strip_m - width.net_m) * each, _MANY | {EDGING})


def _rolls(ways: Ways) -> Iterator[Rolls]:
    for i, use in enumerate(ways.edgings):
        for width in use.widths:
            row = width.edging
            if width.rolls is not None and row.roll_length_m is not None:
                over_m = width.strip_m - width.net_m
                yield Rolls(i, width.net_m, over_m, row.spare_share, row.roll_length_m, row.price_per_m)


def _glues(ways: Ways) -> tuple[tuple[Glue, ...], list[Item]]:
    """Adhesives by the pack, and items of those by the litre."""
    packs: list[Glue] = []
    items: list[Item] = []
    for row in ways.job.adhesives:
        by_edging = ways.glued.get(row.adhesive, {})
        if not by_edging:
            continue
        over = tuple(
            sum(
                (
                    (width.strip_m - width.net_m) * width.edging.width_mm * row.strip_coats / 1000
                    for width in use.widths
                    if width.edging.adhesive == row.adhesive
                ),
                start=NONE,
            )
            for use in ways.edgings
        )
        net = tuple(by_edging.get(use.edging, NONE) - more for use, more in zip(ways.edgings, over, strict=True))
        litre_m2 = 1 / litres_needed(glued_m2=ONE, coverage_m2_per_litre=row.coverage_m2_per_litre, spare_share=row.spare_share)
        if row.charge == "whole packs":
            packs.append(Glue(net, over, litre_m2 * row.pack_litres, row.price))
            continue
        each = row.price / row.pack_litres / litre_m2
        for i, (own, more) in enumerate(zip(net, over, strict=True)):
            items.append(Item("kept", 1 << i, own * each, _LONG | {ADHESIVE}))
            items.append(Item("kept", 1 << i, more * each, _MANY | {ADHESIVE}))
    return tuple(packs), items


def _tally_items(tally: Tally, side: str, per: str, each: Fraction, also: frozenset[str]) -> Iterator[Item]:
    """A count in money. What is counted by the metre or the batch grows with length and number, edges and parts with number."""
    grows = _LONG if per in ("metre", "batch") else _MANY
    for i, count in tally.by_edging.items():
        yield Item(side, 1 << i, count * each, grows | also)
    for group, count in tally.by_group.items():
        yield Item(side, group, count * each, _MANY | also)
    if tally.once and tally.once_group:
        yield Item(side, tally.once_group, tally.once * each, also)


def _work_items(ways: Ways) -> Iterator[Item]:
    for one in ways.steps:
        sent = one.step.route == "send out"
        money = one.each_min / MINUTES_PER_HOUR * ways.freed_rate
        also = frozenset({SEND_MINUTES if sent else HAND_MINUTES, HOUR})
        yield from _tally_items(one.tally, "sent" if sent else "kept", one.step.per, money, also)


def _fitting_items(ways: Ways) -> Iterator[Item]:
    for one in ways.fittings:
        sent = one.fitting.route == "send out"
        also = frozenset({SEND_FITTINGS if sent else HAND_FITTINGS})
        yield from _tally_items(one.tally, "sent" if sent else "kept", one.fitting.per, one.fitting.price, also)


def _invoice_items(ways: Ways) -> Iterator[Item]:
    contract = ways.job.contract
    if contract is None:
        return
    yield Item("sent", ways.everything, trip_cost(contract), frozenset({TRIPS}))
    for i, use in enumerate(ways.edgings):
        if use.edging in ways.offers:
            yield Item("invoice", 1 << i, ways.offers[use.edging].setup, frozenset({SETUPS}))
    yield from _tally_items(ways.parts_sent, "invoice", "part", contract.charge_per_part, frozenset({PER_PART}))


# --- the stakes at a change of the inputs -----------------------------------------------------------------------------


def stakes_at(question: Question, changes: Changes) -> Stakes:
    """What is at stake when some inputs are multiplied; no change gives the job as it is."""
    money = _linear(question, changes)
    scale = question.scale * lcm(*(factor.denominator for factor in changes.values())) ** 2
    long, many = changes.get(METRES, ONE) * changes.get(PIECES, ONE), changes.get(PIECES, ONE)
    metres = [net * long + added * many for net, added in question.charged]
    levels, amounts = _amounts(question, metres, changes.get(PRICES, ONE))
    own: dict[str, list[Fraction]] = {"kept": _rolls_cost(question, long, many, changes.get(EDGING, ONE))}
    own["sent"] = own["kept"] if not question.supplied else []
    own["invoice"] = amounts[0] if len(levels) == 1 else []
    minimum = question.minimum * changes.get(MINIMUM, ONE)
    tin_prices = [glue.price * changes.get(ADHESIVE, ONE) for glue in question.glues]
    figures = (minimum, *own["kept"], *(one for row in amounts for one in row), *tin_prices)
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
        tins=tuple(_tin(glue, long, many, _whole(price, scale)) for glue, price in zip(question.glues, tin_prices, strict=True)),
        order=_whole_order(metres, levels, amounts, scale) if len(levels) > 1 else None,
        must_send=question.must_send,
        must_keep=question.must_keep,
    )


def _linear(question: Question, changes: Changes) -> dict[str, dict[int, int]]:
    """Items added up by side and group, in whole parts of the question's scale times the changes' denominators squared.

    An item grows with at most two of the changed inputs (its minutes and the value of an hour), or so it is held here: with
    more the division below would leave a rest.
    """
    finer = lcm(*(factor.denominator for factor in changes.values())) ** 2
    money: dict[str, dict[int, int]] = {"kept": {}, "sent": {}, "invoice": {}}
    for item, amount in zip(question.items, question.amounts, strict=True):
        parts = amount * finer
        for name, factor in changes.items():
            if name in item.grows_with:
                parts, rest = divmod(parts * factor.numerator, factor.denominator)
                assert not rest, "the scale holds every item"
        side = money[item.side]
        side[item.group] = side.get(item.group, 0) + parts
    return money


def _rolls_cost(question: Question, long: Fraction, many: Fraction, price: Fraction) -> list[Fraction]:
    """Whole rolls of each edging at another length and number of edges."""
    costs = [NONE] * len(question.names)
    for roll in question.rolls:
        need_m = bought_m(strip_m=roll.net_m * long + roll.over_m * many, spare_share=roll.spare_share)
        costs[roll.edging] += -(-need_m // roll.roll_m) * roll.roll_m * roll.price_per_m * price
    return costs


def _whole(value: Fraction, scale: int) -> int:
    return value.numerator * (scale // value.denominator)


def _tin(glue: Glue, long: Fraction, many: Fraction, price: int) -> Tin:
    areas = [net * long + over * many for net, over in zip(glue.net_m2, glue.over_m2, strict=True)]
    unit = lcm(glue.pack_m2.denominator, *(area.denominator for area in areas))
    return Tin(tuple(_whole(area, unit) for area in areas), _whole(glue.pack_m2, unit), price)


def _amounts(question: Question, metres: Sequence[Fraction], price: Fraction) -> tuple[list[Fraction], list[list[Fraction]]]:
    """Money for each edging's metres, at every level of the whole order where breaks count over it."""
    if question.breaks != "whole order":
        return [NONE], [[_amount(question, i, length) * price for i, length in enumerate(metres)]]
    levels = sorted({NONE, *(one.from_m for breaks in question.offers for one in breaks)})
    rows = [
        [
            whole_quantity_amount(metres=length, reached_m=level, breaks=breaks, buy_up=False) * price if breaks else NONE
            for length, breaks in zip(metres, question.offers, strict=True)
        ]
        for level in levels
    ]
    return levels, rows


def _amount(question: Question, i: int, metres: Fraction) -> Fraction:
    breaks = question.offers[i]
    if not breaks:
        return NONE
    if question.breaks == "quantity above":
        return quantity_above_amount(metres=metres, breaks=breaks)
    return whole_quantity_amount(metres=metres, reached_m=metres, breaks=breaks, buy_up=question.buy_up)


def _whole_order(metres: Sequence[Fraction], levels: Sequence[Fraction], amounts: Sequence[Sequence[Fraction]], scale: int) -> WholeOrder:
    unit = lcm(*(one.denominator for one in (*metres, *levels)))
    return WholeOrder(
        tuple(_whole(one, unit) for one in metres),
        tuple(_whole(one, unit) for one in levels),
        tuple(tuple(_whole(one, scale) for one in row) for row in amounts),
    )


# --- answers ----------------------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Chosen:
    """The best plan under some change: the group that is sent and its relevant cost."""

    group: int
    cost: Fraction


def choose(question: Question, changes: Changes) -> Chosen | None:
    """The best plan, chosen anew; None when no plan is possible."""
    stakes = stakes_at(question, changes)
    group = best_group(stakes)
    return None if group is None else Chosen(group, Fraction(cost_of(stakes, group), stakes.scale))


def names_of(question: Question, group: int) -> tuple[str, ...]:
    return tuple(name for i, name in enumerate(question.names) if group >> i & 1)
