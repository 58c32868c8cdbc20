"""What the contract bander asks: the edgings that are sent in, the invoice out (A24, A25)."""

from collections.abc import Mapping, Sequence

from estimator.model.dataclass import dataclass
from estimator.model.exact import Fraction
from estimator.model.records import Job
from estimator.model.results import ContractorLine, Invoice
from estimator.model.shop_records import Contract, ContractPrice
from estimator.model.taken import EdgingUse
from estimator.model.units import MM_PER_M


@dataclass(frozen=True, slots=True)
class Break:
    """A price that holds from so many metres."""

    from_m: Fraction
    price_per_m: Fraction


@dataclass(frozen=True, slots=True)
class Offer:
    """The contract bander's prices for one edging, lowest break first, and the set-up."""

    breaks: tuple[Break, ...]
    setup: Fraction


def offers_of(job: Job) -> dict[str, Offer]:
    """The offer for each edging that has one. The lowest break holds from 0."""
    rows: dict[str, list[ContractPrice]] = {}
    for row in job.contract_prices:
        rows.setdefault(row.edging, []).append(row)
    offers = {}
    for edging, theirs in rows.items():
        theirs.sort(key=lambda row: row.from_m)
        breaks = tuple(Break(row.from_m, row.price_per_m) for row in theirs)
        setup = next((row.setup for row in theirs if row.setup is not None), Fraction(0))
        offers[edging] = Offer((Break(Fraction(0), breaks[0].price_per_m), *breaks[1:]), setup)
    return offers


def charged_m(*, net_m: Fraction, added_mm: Fraction, edges: int) -> Fraction:
    """Metres that the contract bander charges (A24).

        charged  =  net + added length x edges

    By hand: 100 m on 200 edges with 50 mm added to each are 110 m.

    >>> charged_m(net_m=Fraction(100), added_mm=Fraction(50), edges=200)
    Fraction(110, 1)

    Holds for: an offer that charges a fixed length for each edge's ends.
    Error: none.
    Source: common-practice.
    """
    return net_m + added_mm / MM_PER_M * edges


def whole_quantity_amount(*, metres: Fraction, reached_m: Fraction, breaks: Sequence[Break], buy_up: bool) -> Fraction:
    """Money for all metres at the price of the highest break reached; with buy up, a higher break where that is cheaper (A24).

        amount  =  metres x price of the highest break not above the quantity
        buying up:  the least of that and  from metres x price  of every higher break

    By hand: 90 m at 1.50, or 1.20 from 100 m: 135.00, but bought up 120.00.

    >>> ladder = (Break(Fraction(0), Fraction("1.5")), Break(Fraction(100), Fraction("1.2")))
    >>> whole_quantity_amount(metres=Fraction(90), reached_m=Fraction(90), breaks=ladder, buy_up=False)
    Fraction(135, 1)
    >>> whole_quantity_amount(metres=Fraction(90), reached_m=Fraction(90), breaks=ladder, buy_up=True)
    Fraction(120, 1)

    Holds for: `reached_m` is the edging's own metres, or the whole order's where breaks count that.
    Error: none.
    Source: common-practice.
    """
    price = [one.price_per_m for one in breaks if one.from_m <= reached_m][-1]
    amounts = [metres * price]
    if buy_up:
        amounts += [one.from_m * one.price_per_m for one in breaks if one.from_m > metres]
    return min(amounts)


def quantity_above_amount(*, metres: Fraction, breaks: Sequence[Break]) -> Fraction:
    """Money when each slice between two breaks has its own price (A24).

        amount  =  sum over the breaks of (metres in the slice x its price)

    By hand: 150 m at 1.50, 1.20 from 100 m: 100 x 1.50 + 50 x 1.20 = 210.

    >>> ladder = (Break(Fraction(0), Fraction("1.5")), Break(Fraction(100), Fraction("1.2")))
    >>> quantity_above_amount(metres=Fraction(150), breaks=ladder)
    Fraction(210, 1)

    Holds for: breaks per edging.
    Error: none.
    Source: common-practice.
    """
    ends = [*(one.from_m for one in breaks[1:]), metres]
    return sum(
        (max(Fraction(0), min(end, metres) - one.from_m) * one.price_per_m for one, end in zip(breaks, ends, strict=True)),
        start=Fraction(0),
    )


def invoice_of(contract: Contract, offers: Mapping[str, Offer], sent: Sequence[EdgingUse], *, parts: int) -> Invoice:
    """The invoice for the edgings that are sent, on `parts` distinct parts (A25).

    invoice  =  the greater of the minimum and  sum of (amount + set-up)  +  charge per part x distinct sent parts
    """
    metres = {use.edging: charged_m(net_m=use.net_m, added_mm=contract.added_length_mm, edges=use.edges) for use in sent}
    order_m = sum(metres.values(), start=Fraction(0))
    lines = tuple(_line(contract, offers[use.edging], use.edging, metres[use.edging], order_m) for use in sent)
    parts_charge = contract.charge_per_part * parts
    asked = sum((line.amount + line.setup for line in lines), start=parts_charge)
    top_up = max(Fraction(0), contract.minimum_charge - asked)
    return Invoice(lines=lines, parts=parts, parts_charge=parts_charge, minimum_top_up=top_up, total=asked + top_up)


def _line(contract: Contract, offer: Offer, edging: str, metres: Fraction, order_m: Fraction) -> ContractorLine:
    per_edging = contract.breaks_count == "per edging"
    if contract.breaks_apply_to == "quantity above" and per_edging:
        amount = quantity_above_amount(metres=metres, breaks=offer.breaks)
        prices = {one.price_per_m for one in offer.breaks if one.from_m < metres} or {offer.breaks[0].price_per_m}
        price = prices.pop() if len(prices) == 1 else None
        return ContractorLine(edging, metres, price, amount, offer.setup, bought_up=False)
    reached_m = metres if per_edging else order_m
    buy_up = contract.buy_up and per_edging
    amount = whole_quantity_amount(metres=metres, reached_m=reached_m, breaks=offer.breaks, buy_up=buy_up)
    plain = whole_quantity_amount(metres=metres, reached_m=reached_m, breaks=offer.breaks, buy_up=False)
    price = [one.price_per_m for one in offer.breaks if one.from_m <= reached_m][-1]
    return ContractorLine(edging, metres, price, amount, offer.setup, bought_up=amount < plain)


def trip_cost(contract: Contract) -> Fraction:
    """Money for the drives to the contract bander and back (A25): trips x distance x cost per distance.

    Source: common-practice.
    """
    return contract.trips * contract.distance_per_trip * contract.cost_per_distance
