"""An Estimate in, what the engine counted for it out: the facts that the live formulas stand on."""

from dataclasses import replace
from fractions import Fraction

from estimator.costing import estimate as engine
from estimator.costing.contractor import offers_of
from estimator.costing.counts import one_each, per_piece, tally
from estimator.costing.drying import Impossible
from estimator.costing.edging import strip_length_mm
from estimator.costing.limits import limit_of
from estimator.costing.parts import cut_area_mm2
from estimator.costing.routes import why_not_by_hand, why_not_sent
from estimator.model.records import Cabinet
from estimator.model.results import Estimate
from estimator.model.units import MM2_PER_M2, MM_PER_M
from estimator.papers.priced.numbers import plain_number
from estimator.papers.priced.quantities import LineCounts, Quantities, WayCounts

NONE = Fraction(0)
IN_A_LINE_STEP = ("part", "cabinet", "door", "drawer", "shelf")
IN_A_LINE_FITTING = (*IN_A_LINE_STEP, "m2")


def quantities_of(estimate: Estimate) -> Quantities:
    """Everything that is counted, for the job and for each of its options."""
    job = estimate.job
    options = []
    for rows in engine.option_rows(job):
        option = engine._estimate_one(engine.with_option(job, rows))
        assert isinstance(option, Estimate)
        options.append(_one(option))
    return replace(_one(estimate), options=tuple(options))


def _one(estimate: Estimate) -> Quantities:
    job = estimate.job
    takings = engine._takings(job)
    assert not isinstance(takings, tuple)
    known, counted, ways = takings.known, takings.counted, takings.ways
    once = replace(counted, job=replace(job, contract=replace(job.contract, trips=1) if job.contract else None))
    steps = [
        tally(once, route=step.route, per=step.per, limit=limit_of(step.of, known=known), glued_only=step.during == "coating")
        for step in job.work
    ]
    weights = [
        one_each if plain_number(row.number) is not None else one.weight
        for row, one in zip(job.fittings, takings.fittings, strict=True)
    ]
    fittings = [
        tally(once, route=row.route, per=row.per, limit=limit_of(row.of, known=known), weight=weight)
        for row, weight in zip(job.fittings, weights, strict=True)
    ]
    at_any_time = replace(ways, job=replace(job, terms=replace(job.terms, working_days_available=None)), offers=offers_of(job))
    assert all(isinstance(one, tuple | Impossible) for one in ways.batches.values())
    return Quantities(
        estimate=estimate,
        glued_m2=ways.glued,
        ways=tuple(_way(plan.sent, ways, job, steps, fittings) for plan in estimate.banding.plans),
        never_sent=why_not_sent(at_any_time),
        never_by_hand=why_not_by_hand(at_any_time),
        steps=tuple(one.always for one, step in zip(steps, job.work, strict=True) if not step.route),
        fittings=tuple(one.always for one, row in zip(fittings, job.fittings, strict=True) if not row.route),
        lines=tuple(_line(owner, estimate, known, weights) for owner in (*job.cabinets, *job.loose_parts)),
    )


def _way(names, ways, job, steps, fittings) -> WayCounts:
    sent = ways.group(names)
    by_hand = ways.everything & ~sent
    group = {"by hand": by_hand, "send out": sent}
    return WayCounts(
        sent=names,
        steps=tuple(one.of(group[step.route]) for one, step in zip(steps, job.work, strict=True) if step.route),
        fittings=tuple(one.of(group[row.route]) for one, row in zip(fittings, job.fittings, strict=True) if row.route),
        parts_sent=int(ways.parts_sent.of(sent)),
    )


def _line(owner, estimate, known, weights) -> LineCounts:
    job = estimate.job
    parts = [part for part in estimate.parts if part.owner is owner]
    area: dict[str, Fraction] = {}
    strips = {id(width.edging): NONE for use in estimate.edgings for width in use.widths}
    for part in parts:
        one = cut_area_mm2(cut_length_mm=part.cut_length_mm, cut_width_mm=part.cut_width_mm) / MM2_PER_M2
        area[part.board] = area.get(part.board, NONE) + part.count_each * one
        for band in part.bands:
            strip = strip_length_mm(edge_mm=band.length_mm, overhang_mm=band.edging.overhang_mm) / MM_PER_M
            strips[id(band.edging)] += part.count_each * strip
    always = [(row, weight) for row, weight in zip(job.fittings, weights, strict=True) if not row.route]
    return LineCounts(
        area_m2=area,
        strip_m=tuple(strips.values()),
        fittings=tuple(_count(owner, parts, row, known, IN_A_LINE_FITTING, weight) for row, weight in always),
        steps=tuple(_count(owner, parts, step, known, IN_A_LINE_STEP, one_each) for step in job.work if not step.route),
    )


def _count(owner, parts, row, known, counted, weight) -> Fraction:
    if row.per not in counted:
        return NONE
    limit = limit_of(row.of, known=known)
    matching = [part for part in parts if limit.part(part)]
    if row.per == "cabinet":
        return weight(owner) if isinstance(owner, Cabinet) and (matching or not row.of) else NONE
    return sum((per_piece(part, per=row.per) * weight(part) for part in matching), start=NONE)
