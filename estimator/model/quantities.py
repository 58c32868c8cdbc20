"""What a job counts before any price, rate or minute is looked at: the facts on which the live formulas stand.

Each figure is one that the engine works with; none of them moves when a price, a rate, minutes or a percentage is changed.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import field

from estimator.model.dataclass import dataclass
from estimator.model.exact import Fraction

_PLAIN = re.compile(r"\d+(\.\d+)?")


def plain_number(rule: str) -> Fraction | None:
    """The number that a rule is, or None where it is more than a number.

    >>> plain_number(" 2 "), plain_number("2 + (length > 900)")
    (Fraction(2, 1), None)
    """
    typed = rule.strip()
    return Fraction(typed) if _PLAIN.fullmatch(typed) else None


@dataclass(frozen=True, slots=True)
class WayCounts:
    """What one way of banding counts."""

    sent: tuple[str, ...]
    steps: tuple[Fraction, ...]
    """For each row of Work with a route, in the order of the sheet; per trip: for one trip."""
    fittings: tuple[Fraction, ...]
    """For each row of Fittings with a route: how many are counted (times Number where that is a plain number)."""
    parts_sent: int
    batches: int
    """Glue batches at the bench, small parts of what is sent among them."""


@dataclass(frozen=True, slots=True)
class SpoiltParts:
    """What it would cost to make the part of every edge of one edging anew."""

    goes: Fraction
    """Of the parts that go out when the edging is sent."""
    stays: Fraction
    """Of the parts that are too small for that."""


@dataclass(frozen=True, slots=True)
class AnewCounts:
    """What the part of every edge of one edging would take, were each made anew."""

    area_m2: Mapping[str, Fraction]
    """By board."""
    strip_m: tuple[Fraction, ...]
    """For each width of each edging, in the order of the Estimate's."""
    steps: tuple[Fraction, ...]
    """For each row of Work without a route; 0 for what is not counted per part or m2."""


@dataclass(frozen=True, slots=True)
class LineCounts:
    """What one cabinet or loose part of a line takes."""

    area_m2: Mapping[str, Fraction]
    """By board."""
    strip_m: tuple[Fraction, ...]
    """For each width of each edging, in the order of the Estimate's."""
    fittings: tuple[Fraction, ...]
    """For each row of Fittings without a route; 0 for what is counted per job, site trip or sheet."""
    steps: tuple[Fraction, ...]
    """For each row of Work without a route; 0 for what is counted per job, site trip, sheet or m2."""
    fixed: Fraction = Fraction(0)
    """Money that is not told apart."""


@dataclass(frozen=True, slots=True)
class JobCounts:
    """All that the formulas of one job stand on, beside its Estimate."""

    glued_m2: Mapping[str, Mapping[str, Fraction]]
    """Glued area by adhesive and edging, as if every edging were banded by hand."""
    ways: tuple[WayCounts, ...]
    """In the order of the Estimate's plans."""
    never_sent: Mapping[str, str]
    """Edgings that cannot be sent out, with the reason; the lead time apart."""
    never_by_hand: Mapping[str, str]
    steps: tuple[Fraction, ...]
    """For each row of Work without a route: how many are counted in the whole job."""
    fittings: tuple[Fraction, ...]
    """The same for each row of Fittings without a route."""
    lines: tuple[LineCounts, ...]
    """For each line that is a cabinet or a loose part."""
    small_glued_m2: Mapping[str, Mapping[str, Fraction]] = field(default_factory=dict)
    """As `glued_m2`, for the parts that stay at the bench though their edging is sent."""
    spoilt: Mapping[str, SpoiltParts] = field(default_factory=dict)
    """By edging; empty where the shop names no share of spoilt edges."""
    anew: Mapping[str, tuple[AnewCounts, AnewCounts]] = field(default_factory=dict)
    """The quantities behind it: of the parts that go, and of those that stay."""
