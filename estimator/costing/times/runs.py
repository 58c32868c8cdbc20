"""A priced job in, its runs of identical cabinets with a learning curve over them out: a what-if, when the shop asks for one."""

from __future__ import annotations

from estimator.costing.times.learning_curve import LearningModel, run_share
from estimator.costing.work import money_for
from estimator.model.exact import Fraction
from estimator.model.quantities import LineCounts
from estimator.model.records import Cabinet, LoosePart
from estimator.model.results import Estimate
from estimator.model.shop_records import Shop
from estimator.model.times import Run, RunsQuicker

NONE = Fraction(0)


def runs_quicker(estimate: Estimate) -> RunsQuicker | None:
    """What the later cabinets of each run would save; None where Shop > Learning is blank or no two cabinets are alike."""
    shop = estimate.job.shop
    if not shop.learning:
        return None
    alike: dict[tuple[object, ...], list[tuple[Cabinet, LineCounts]]] = {}
    owners = [line.owner for line in estimate.price.lines if isinstance(line.owner, Cabinet | LoosePart)]
    for owner, counts in zip(owners, estimate.counted.lines, strict=True):
        if isinstance(owner, Cabinet):
            alike.setdefault(_what_is_made(owner), []).append((owner, counts))
    runs = tuple(
        _run([owner for owner, _ in cabinets], _minutes_of_one(estimate, cabinets[0][1]), shop)
        for cabinets in alike.values()
        if sum(owner.qty for owner, _ in cabinets) > 1
    )
    if not runs:
        return None
    saved = sum((run.saved_min for run in runs), start=NONE)
    return RunsQuicker(
        model=shop.learning,
        learning_share=shop.learning_share,
        floor_share=shop.learning_floor_share,
        runs=runs,
        saved_min=saved,
        saved_cost=money_for(saved, rate=estimate.rates.direct + estimate.rates.overhead),
    )


def _what_is_made(cabinet: Cabinet) -> tuple[object, ...]:
    """All that two cabinets must share to be made alike; where they stand and how they are taxed does not matter."""
    sizes = (cabinet.width_mm, cabinet.height_mm, cabinet.depth_mm, cabinet.shelves, cabinet.doors, cabinet.drawers)
    own = tuple(sorted(cabinet.own_numbers.items()))
    return cabinet.kind, *sizes, cabinet.front_heights_mm, cabinet.finish, cabinet.finished_ends, own


def _minutes_of_one(estimate: Estimate, counts: LineCounts) -> Fraction:
    always = [step for step in estimate.minutes.steps if not step.step.route]
    return sum((step.each_min * count for step, count in zip(always, counts.steps, strict=True)), start=NONE)


def _run(cabinets: list[Cabinet], each_min: Fraction, shop: Shop) -> Run:
    count = sum(cabinet.qty for cabinet in cabinets)
    model: LearningModel = "unit" if shop.learning == "unit model" else "cumulative average"
    times = run_share(count, model=model, learning_share=shop.learning_share, floor_share=shop.learning_floor_share)
    return Run(tuple(cabinet.ref for cabinet in cabinets), count, each_min, times * each_min)
