"""The price as the client sees it: a Price goes in; the amounts of lines and rooms without and with tax come out, adding up.

Tax is worked out once per rate on the whole base, never per line. So an amount with tax is the amount without it and its part of
that one tax, split so that the parts add up to it to the last minor unit. What a room costs is the sum of its lines.
"""

from collections.abc import Sequence

from estimator.model.exact import Fraction
from estimator.model.results import Line, Price
from estimator.model.shown import PriceShown, RoomShown, Shown
from estimator.model.units import to_money

NONE = Fraction(0)


def price_shown(price: Price, *, currency: str) -> PriceShown:
    """The amounts of the quote, without and with tax.

        tax on lines  =  tax of the rate  -  tax on delivery  +  tax on the discount

    By hand: lines 100 and 50, delivery 20, no discount, 20 % tax 34: delivery carries 4, the lines 20 and 10.

    Holds for: tax worked out once per rate, on lines less discount and with delivery.
    Error: each line's tax is within one minor unit of its exact share; all of them add up to the tax.
    Source: common-practice.
    """
    taxes = [NONE] * len(price.lines)
    delivery_tax = discount_tax = NONE
    for rate in price.tax:
        on_delivery = to_money(rate.delivery * rate.rate_share, currency=currency)
        on_discount = to_money(rate.discount * rate.rate_share, currency=currency)
        at_rate = [place for place, line in enumerate(price.lines) if line.tax_rate_share == rate.rate_share]
        nets = [price.lines[place].net for place in at_rate]
        if not sum(nets):
            on_delivery, on_discount = rate.tax, NONE
        shares = split(rate.tax - on_delivery + on_discount, weights=nets, currency=currency)
        for place, share in zip(at_rate, shares, strict=True):
            taxes[place] = share
        delivery_tax += on_delivery
        discount_tax += on_discount
    lines = tuple(Shown(line.net, line.net + tax) for line, tax in zip(price.lines, taxes, strict=True))
    return PriceShown(
        lines=lines,
        rooms=_rooms(price.lines, lines),
        sum_lines=Shown(price.sum_lines, price.sum_lines + sum(taxes, NONE)),
        discount=Shown(price.discount, price.discount + discount_tax),
        delivery=Shown(price.delivery, price.delivery + delivery_tax),
        total=Shown(price.net, price.net + price.tax_total),
    )


def split(total: Fraction, *, weights: Sequence[Fraction], currency: str) -> tuple[Fraction, ...]:
    """An amount split by weights into whole minor units that add up to it: each is the growth of the rounded running sum.

    By hand: 0.10 over three equal lines grows 0.03, 0.07, 0.10: parts of 0.03, 0.04 and 0.03.

    >>> [str(part) for part in split(Fraction("0.10"), weights=[Fraction(1)] * 3, currency="EUR")]
    ['3/100', '1/25', '3/100']

    Holds for: amounts of whole minor units, of either sign; weights of 0 or more. Without any weight nothing is split.
    Error: each part is within one minor unit of its exact share.
    Source: common-practice.
    """
    whole, running, given = sum(weights, NONE), NONE, NONE
    parts: list[Fraction] = []
    for weight in weights:
        running += weight
        reached = to_money(total * running / whole, currency=currency) if whole else NONE
        parts.append(reached - given)
        given = reached
    return tuple(parts)


def _rooms(lines: Sequence[Line], shown: Sequence[Shown]) -> tuple[RoomShown, ...]:
    """What each room costs, in the order in which the rooms first appear."""
    rooms: dict[str, Shown] = {}
    for line, amount in zip(lines, shown, strict=True):
        rooms[line.room] = rooms.get(line.room, Shown(NONE, NONE)).plus(amount)
    return tuple(RoomShown(room, amount) for room, amount in rooms.items())
