"""Patterns of sizes become patterns of labelled pieces, so that a person at the saw knows whose part is whose."""

from __future__ import annotations

from collections.abc import Sequence

from estimator.costing.cutting.assembling import shared_out
from estimator.model.cutting_plan import CuttingPlan, NamedPattern, NamedPlacement


def name_patterns(plan: CuttingPlan, names: Sequence[Sequence[tuple[str, str]]]) -> tuple[NamedPattern, ...]:
    """Every labelled piece exactly once, sheets that are equal with equal labels kept together.

    names[i] holds the label (ref, part) of each piece of wanted part i.
    """
    offers: dict[int, dict[tuple[str, str], int]] = {}
    for index, labels in enumerate(names):
        offers[index] = {}
        for label in labels:
            offers[index][label] = offers[index].get(label, 0) + 1
    shared = shared_out(
        demands=[([placement.part for placement in pattern.placements], pattern.count) for pattern in plan.patterns],
        offers=offers,
    )
    named = []
    for pattern, runs in zip(plan.patterns, shared, strict=True):
        for count, chosen in runs:
            pieces = tuple(
                NamedPlacement(ref=ref, part=part, placement=placement)
                for (ref, part), placement in zip(chosen, pattern.placements, strict=True)
            )
            named.append(NamedPattern(pattern=pattern, count=count, pieces=pieces))
    return tuple(named)
