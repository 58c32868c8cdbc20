"""The question which way to band, split by what its costs grow with: the ways in, the stakes at any change of the inputs out.

Every cost is kept as money of this job with the names of the inputs that it is proportional to. So the stakes of a longer job, a
dearer contractor or a slower bench are the same sums with some of them multiplied, and the best plan can be chosen anew.
Whole rolls, whole packs and price breaks are worked out again.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from math import lcm

from estimator.costing.adhesive import litres_needed
from estimator.costing.contractor import Break, charged_m, trip_cost
from estimator.costing.counts import Tally
from estimator.costing.routes import Ways, why_not_by_hand, why_not_sent
from estimator.model.dataclass import dataclass
from estimator.model.exact import Fraction
from estimator.model.shop_records import Adhesive
from estimator.model.taken import EdgingUse, EdgingWidthUse
from estimator.model.units import MINUTES_PER_HOUR

NONE, ONE = Fraction(0), Fraction(1)

METRES, PIECES = "metres of edge", "parts and edges"
EDGING, ADHESIVE = "edging prices", "adhesive prices"
PRICES, SETUPS, PER_PART, MINIMUM, TRIPS = (
    "the contractor's prices", "set-ups", "charge per part", "minimum charge", "cost of the trips",
)  # fmt: skip
HAND_MINUTES, SEND_MINUTES, HOUR = "minutes by hand", "minutes of sending out", "value of a freed hour"
HAND_FITTINGS, SEND_FITTINGS = "sundries by hand", "sundries of sending out"
SPOILT = "spoilt edges"
INPUTS = (
    METRES, EDGING, ADHESIVE, HAND_MINUTES, HAND_FITTINGS, HOUR, PRICES, SETUPS, PER_PART, MINIMUM, TRIPS, SEND_MINUTES,
    SEND_FITTINGS, SPOILT,
)  # fmt: skip
"""What a shop can ask about, in the order of the page."""


@dataclass(frozen=True, slots=True)
class Item:
    """Money on one side of the choice, counted once when any edging of the group goes that way."""

    side: str
    """kept, sent, invoice, or always: small parts at the bench, whatever is sent."""
    group: int
    money: Fraction
    grows_with: frozenset[str]


@dataclass(frozen=True, slots=True)
class Rolls:
    """Edging that is bought by the whole roll, when an edging is kept or when it is sent."""

    edging: int
    sides: frozenset[str]
    net_m: Fraction
    over_m: Fraction
    spare_share: Fraction
    roll_m: Fraction
    price_per_m: Fraction


@dataclass(frozen=True, slots=True)
class Glue:
    """An adhesive that is bought by the whole pack: each edging's area on its net length and on its overhangs.

    `small` are the areas of parts that stay at the bench whatever is sent; the others leave them out.
    """

    net_m2: tuple[Fraction, ...]
    over_m2: tuple[Fraction, ...]
    small_net_m2: tuple[Fraction, ...]
    small_over_m2: tuple[Fraction, ...]
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
    glues: tuple[Glue, ...]
    offers: tuple[tuple[Break, ...], ...]
    """Price breaks of each edging; none for one without an offer."""
    charged: tuple[tuple[Fraction, Fraction], ...]
    """Charged metres of each edging: net, and added for its edges; of the parts that the contractor takes."""
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
    items = _merged(
        (*_edging_items(ways), *glue_items, *_work_items(ways), *_fitting_items(ways), *_invoice_items(ways), *_spoilt_items(ways))
    )
    scale = lcm(*(item.money.denominator for item in items))
    apply = contract.breaks_apply_to if contract else ""
    counts = contract.breaks_count if contract else "per edging"
    added_mm = contract.added_length_mm if contract else NONE
    return Question(
        names=tuple(bits),
        items=items,
        scale=scale,
        amounts=tuple(int(item.money * scale) for item in items),
        rolls=tuple(_rolls(ways)),
        glues=glues,
        offers=tuple(ways.offers[name].breaks if name in ways.offers else () for name in bits),
        charged=tuple(_charged(ways.going(use), added_mm) for use in ways.edgings),
        breaks="quantity above" if apply == "quantity above" and counts == "per edging" else counts,
        buy_up=contract is not None and contract.buy_up and counts == "per edging",
        minimum=contract.minimum_charge if contract else NONE,
        must_send=ways.group(tuple(why_not_by_hand(ways))),
        must_keep=ways.group(tuple(why_not_sent(ways))),
        net_m=sum((use.net_m for use in ways.edgings), start=NONE),
    )


def _charged(going: EdgingUse | None, added_mm: Fraction) -> tuple[Fraction, Fraction]:
    if going is None:
        return NONE, NONE
    return going.net_m, charged_m(net_m=NONE, added_mm=added_mm, edges=going.edges)


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
    for i, sides, width in _bought(ways):
        if width.rolls is None:
            each = (1 + width.edging.spare_share) * width.edging.price_per_m
            for side in sides:
                yield Item(side, 1 << i, width.net_m * each, _LONG | {EDGING})
                yield Item(side, 1 << i, (width.strip_m - width.net_m) * each, _MANY | {EDGING})


def _rolls(ways: Ways) -> Iterator[Rolls]:
    for i, sides, width in _bought(ways):
        row = width.edging
        if width.rolls is not None and row.roll_length_m is not None:
            over_m = width.strip_m - width.net_m
            yield Rolls(i, frozenset(sides), width.net_m, over_m, row.spare_share, row.roll_length_m, row.price_per_m)


def _bought(ways: Ways) -> Iterator[tuple[int, tuple[str, ...], EdgingWidthUse]]:
    """What the shop buys of each edging when it is kept and when it is sent: of one that is supplied, what small parts take."""
    supplied = ways.job.contract is not None and ways.job.contract.supplies_edging
    for i, use in enumerate(ways.edgings):
        yield from ((i, ("kept",) if supplied else ("kept", "sent"), width) for width in use.widths)
        staying = ways.staying(use) if supplied else None
        yield from ((i, ("sent",), width) for width in (staying.widths if staying else ()))


def _glues(ways: Ways) -> tuple[tuple[Glue, ...], list[Item]]:
    """Adhesives by the pack, and items of those by the litre."""
    packs: list[Glue] = []
    items: list[Item] = []
    for row in ways.job.adhesives:
        by_edging = ways.glued.get(row.adhesive, {})
        if not by_edging:
            continue
        all_net, all_over = _areas(row, ways.edgings, by_edging)
        small_net, small_over = _areas(row, [ways.staying(use) for use in ways.edgings], ways.small.glued.get(row.adhesive, {}))
        net = tuple(one - less for one, less in zip(all_net, small_net, strict=True))
        over = tuple(one - less for one, less in zip(all_over, small_over, strict=True))
        litre_m2 = 1 / litres_needed(glued_m2=ONE, coverage_m2_per_litre=row.coverage_m2_per_litre, spare_share=row.spare_share)
        if row.charge == "whole packs":
            packs.append(Glue(net, over, small_net, small_over, litre_m2 * row.pack_litres, row.price))
            continue
        each = row.price / row.pack_litres / litre_m2
        for side, nets, overs in (("kept", net, over), ("always", small_net, small_over)):
            items += [Item(side, 1 << i, area * each, _LONG | {ADHESIVE}) for i, area in enumerate(nets)]
            items += [Item(side, 1 << i, area * each, _MANY | {ADHESIVE}) for i, area in enumerate(overs)]
    return tuple(packs), items


def _areas(
    glue: Adhesive, uses: Sequence[EdgingUse | None], by_edging: Mapping[str, Fraction]
) -> tuple[tuple[Fraction, ...], tuple[Fraction, ...]]:
    """Each edging's glued area: on its net length, and on its overhangs."""
    over = tuple(
        sum(
            (
                (width.strip_m - width.net_m) * width.edging.width_mm * glue.strip_coats / 1000
                for width in (use.widths if use else ())
                if width.edging.adhesive == glue.adhesive
            ),
            start=NONE,
        )
        for use in uses
    )
    return tuple(by_edging.get(use.edging, NONE) - more if use else NONE for use, more in zip(uses, over, strict=True)), over


def _tally_items(tally: Tally, side: str, per: str, each: Fraction, also: frozenset[str]) -> Iterator[Item]:
    """A count in money. What is counted by the metre or the batch grows with length and number, edges and parts with number."""
    grows = _LONG if per in ("metre", "batch") else _MANY
    for i, count in tally.by_edging.items():
        yield Item(side, 1 << i, count * each, grows | also)
    for group, count in tally.by_group.items():
        yield Item(side, group, count * each, _MANY | also)
    if tally.once and tally.once_group:
        yield Item(side, tally.once_group, tally.once * each, also)
    if tally.staying:
        yield from _tally_items(tally.staying, "always", per, each, also)


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


def _spoilt_items(ways: Ways) -> Iterator[Item]:
    for i, use in enumerate(ways.edgings):
        if use.edging in ways.spoilt:
            yield Item("kept", 1 << i, ways.spoilt[use.edging].by_hand, _MANY | {SPOILT})
            yield Item("sent", 1 << i, ways.spoilt[use.edging].here_when_sent + ways.spoilt[use.edging].away_when_sent, _MANY | {SPOILT})


def _invoice_items(ways: Ways) -> Iterator[Item]:
    contract = ways.job.contract
    if contract is None:
        return
    yield Item("sent", ways.everything, trip_cost(contract), frozenset({TRIPS}))
    for i, use in enumerate(ways.edgings):
        if use.edging in ways.offers:
            yield Item("invoice", 1 << i, ways.offers[use.edging].setup, frozenset({SETUPS}))
    yield from _tally_items(ways.parts_sent, "invoice", "part", contract.charge_per_part, frozenset({PER_PART}))
