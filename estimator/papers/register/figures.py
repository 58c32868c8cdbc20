"""The figures that a job and a sum of jobs share: money and metres in, what is left, its share of the price, all metres out."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Protocol

from estimator.model.dataclass import dataclass
from estimator.model.exact import Fraction
from estimator.model.units import M_PER_FOOT


@dataclass(frozen=True, slots=True)
class LongUnit:
    """In what runs of edging are shown: its name as a heading, its sign, and how many metres one is."""

    name: str
    sign: str
    metres_each: Fraction

    def of(self, metres: Fraction) -> Fraction:
        return metres / self.metres_each


METRES, FEET = LongUnit("Metres", "m", Fraction(1)), LongUnit("Feet", "ft", M_PER_FOOT)


def long_unit(shown_in: Iterable[str]) -> LongUnit:
    """Feet where every job speaks inches; else metres, so that jobs of two kinds can be added up."""
    return FEET if set(shown_in) == {"inch"} else METRES


class Figures(Protocol):
    """A job, or several of one currency."""

    @property
    def net(self) -> Fraction: ...
    @property
    def cost(self) -> Fraction: ...
    @property
    def by_hand_m(self) -> Fraction: ...
    @property
    def sent_out_m(self) -> Fraction: ...


def left(some: Figures) -> Fraction:
    """What is left of the price before tax when every cost is paid."""
    return some.net - some.cost


def margin_share(some: Figures) -> Fraction | None:
    """That as a share of the price; None where there is no price."""
    return left(some) / some.net if some.net else None


def metres(some: Figures) -> Fraction:
    """Net metres of edges, wherever they are banded."""
    return some.by_hand_m + some.sent_out_m
