"""The price as the client sees it: every amount of the quote, without its tax and with it. Plain nouns; costing/shown.py fills them."""

from __future__ import annotations

from estimator.model.dataclass import dataclass
from estimator.model.exact import Fraction


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


NONE_SHOWN = Shown(Fraction(0), Fraction(0))
NOTHING = PriceShown((), (), NONE_SHOWN, NONE_SHOWN, NONE_SHOWN, NONE_SHOWN)
