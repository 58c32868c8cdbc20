"""The price as the client sees it: a Price goes in; the amounts of lines and rooms without and with tax come out, adding up.

Tax is worked out once per rate on the whole base, never per line. So an amount with tax is the amount without it and its part of
that one tax, split so that the parts add up to it to the last minor unit. What a room costs is the sum of its lines.
"""

from __future__ import annotations

from collections.abc import Sequence

from estimator.model.dataclass import dataclass
from estimator.model.exact import Fraction
from estimator.model.results import Line, Price
from estimator.model.units import to_money

_NONE = Fraction(0)


@dataclass(frozen=True, slots=True)
class Shown:
    """One amount on the quote, without its tax and with it."""

    without: Fraction
    with_tax: Fraction

    def plus(self, other: Shown) -> Shown:
        return Shown(self.without + other.without, self.with_tax + other.with_tax)


@dataclass(frozen=True, slots=True)
class RoomShown:
    """What one room costs."""

    room: str
    amount: Shown


@dataclass(frozen=True, slots=True)
class PriceShown:
    """Every amount of the quote; `lines` in the order of the price's lines."""

    lines: tuple[Shown, ...]
    rooms: tuple[RoomShown, ...]
    sum_lines: Shown
    discount: Shown
    delivery: Shown
    total: Shown
    """Before the rounding line: the price's net, and with its tax."""


def price_shown(price: Price, *, currency: str) -> PriceShown:
    """The amounts of the quote, without and with tax.

        tax on lines  =  tax of the rate  -  tax on delivery  +  tax on the discount

    By hand: lines 100 and 50, delivery 20, no discount, 20 % tax 34: delivery carries 4, the lines 20 and 10.
    """
    taxes = [_NONE] * len(price.lines)
    delivery_tax = discount_tax = _NONE
    for rate in price.tax:
        on_delivery = to_money(rate.delivery * rate.rate_share, currency=currency)
        on_discount = to_money(rate.discount * rate.rate_share, currency=currency)
        at_rate = [place for place, line in enumerate(price.lines) if line.tax_rate_share == rate.rate_share]
        nets = [price.lines[place].net for place in at_rate]
        if not sum(nets):
            on_delivery, on_discount = rate.tax, _NONE
        shares = split(rate.tax - on_delivery + on_discount, weights=nets, currency=currency)
        for place, share in zip(at_rate, shares, strict=True):
            taxes[place] = share
        delivery_tax += on_delivery
        discount_tax += on_discount
    lines = tuple(Shown(line.net, line.net + tax) for line, tax in zip(price.lines, taxes, strict=True))
    return PriceShown(
        lines=lines,
        rooms=_rooms(price.lines, lines),
        sum_lines=Shown(price.sum_lines, price.sum_lines + sum(taxes, _NONE)),
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
    whole, running, given = sum(weights, _NONE), _NONE, _NONE
    parts: list[Fraction] = []
    for weight in weights:
        running += weight
        reached = to_money(total * running / whole, currency=currency) if whole else _NONE
        parts.append(reached - given)
        given = reached
    return tuple(parts)


def _rooms(lines: Sequence[Line], shown: Sequence[Shown]) -> tuple[RoomShown, ...]:
    """What each room costs, in the order in which the rooms first appear."""
    rooms: dict[str, Shown] = {}
    for line, amount in zip(lines, shown, strict=True):
        rooms[line.room] = rooms.get(line.room, Shown(_NONE, _NONE)).plus(amount)
    return tuple(RoomShown(room, amount) for room, amount in rooms.items())
