"""What an Estimate alone tells of the counts behind it: enough for the chosen way and the lines as they were priced.

The other ways then cannot be worked out anew: only the chosen one is shown.
"""

from __future__ import annotations

from fractions import Fraction

from estimator.model.records import Extra
from estimator.model.results import Estimate
from estimator.papers.priced.numbers import plain_number
from estimator.papers.priced.quantities import LineCounts, Quantities, WayCounts

NONE = Fraction(0)


def quantities_told(estimate: Estimate) -> Quantities:
    """The counts of the chosen way and the sums of the lines."""
    job, chosen = estimate.job, estimate.banding.chosen
    trips = Fraction(job.contract.trips) if job.contract and job.contract.trips else Fraction(1)
    steps = [one.count / trips if one.step.per == "trip" else one.count for one in estimate.minutes.steps]
    fittings = []
    for use in estimate.fittings:
        number = plain_number(use.fitting.number) or Fraction(1)
        fittings.append(use.number / number / (trips if use.fitting.per == "trip" else 1))
    glued = {use.adhesive.adhesive: {chosen_name(estimate): use.glued_m2} for use in estimate.banding.adhesives}
    routes = [step.step.route for step in estimate.minutes.steps]
    widths = sum(len(use.widths) for use in estimate.edgings)
    always = sum(not use.fitting.route for use in estimate.fittings)
    line = LineCounts({}, (NONE,) * widths, (NONE,) * always, (NONE,) * sum(not route for route in routes))
    return Quantities(
        estimate=estimate,
        glued_m2=glued,
        ways=(
            WayCounts(
                chosen.sent,
                tuple(count for count, route in zip(steps, routes, strict=True) if route),
                tuple(count for count, use in zip(fittings, estimate.fittings, strict=True) if use.fitting.route),
                estimate.banding.invoice.parts if estimate.banding.invoice else 0,
            ),
        ),
        never_sent={},
        never_by_hand={},
        steps=tuple(count for count, route in zip(steps, routes, strict=True) if not route),
        fittings=tuple(count for count, use in zip(fittings, estimate.fittings, strict=True) if not use.fitting.route),
        lines=tuple(
            LineCounts(line.area_m2, line.strip_m, line.fittings, line.steps, one.prime)
            for one in estimate.price.lines
            if not isinstance(one.owner, Extra)
        ),
    )


def chosen_name(estimate: Estimate) -> str:
    """An edging that stays at the bench, which stands for all of them where only their sum is known."""
    kept = [use.edging for use in estimate.edgings if use.edging not in estimate.banding.chosen.sent]
    return kept[0] if kept else ""
