"""An Estimate with its counts, option by option: what all the result sheets are written from."""

from __future__ import annotations

from collections.abc import Mapping

from estimator.model.dataclass import dataclass
from estimator.model.exact import Fraction
from estimator.model.quantities import AnewCounts, LineCounts, SpoiltParts, WayCounts
from estimator.model.results import Estimate


@dataclass(frozen=True, slots=True)
class Quantities:
    """All that the formulas of one job stand on; option by option for the options."""

    estimate: Estimate
    glued_m2: Mapping[str, Mapping[str, Fraction]]
    ways: tuple[WayCounts, ...]
    never_sent: Mapping[str, str]
    never_by_hand: Mapping[str, str]
    steps: tuple[Fraction, ...]
    fittings: tuple[Fraction, ...]
    lines: tuple[LineCounts, ...]
    small_glued_m2: Mapping[str, Mapping[str, Fraction]]
    spoilt: Mapping[str, SpoiltParts]
    anew: Mapping[str, tuple[AnewCounts, AnewCounts]]
    options: tuple[Quantities, ...] = ()
    """Each option as a whole job, in the order of the Estimate's options."""


def quantities_of(estimate: Estimate) -> Quantities:
    """The estimate beside what the engine counted for it, and the same for each of its options."""
    counted = estimate.counted
    return Quantities(
        estimate=estimate,
        glued_m2=counted.glued_m2,
        ways=counted.ways,
        never_sent=counted.never_sent,
        never_by_hand=counted.never_by_hand,
        steps=counted.steps,
        fittings=counted.fittings,
        lines=counted.lines,
        small_glued_m2=counted.small_glued_m2,
        spoilt=counted.spoilt,
        anew=counted.anew,
        options=tuple(quantities_of(option) for option in estimate.option_estimates),
    )
