"""What a job counts, way by way and line by line: the engine's takings in, the facts that live formulas stand on out."""

from collections.abc import Mapping, Sequence
from dataclasses import replace

from estimator.costing.banding.spoilage import anew_counts
from estimator.costing.counts import Counted, Tally, Weight, one_each, per_piece, tally
from estimator.costing.cut_part import cut_area_mm2
from estimator.costing.drying import Impossible
from estimator.costing.edging import strip_length_mm
from estimator.costing.fittings import FittingTally
from estimator.costing.limits import limit_of
from estimator.costing.routes import Ways, why_not_by_hand, why_not_sent
from estimator.costing.work import StepTally
from estimator.model.exact import Fraction
from estimator.model.quantities import JobCounts, LineCounts, WayCounts, plain_number
from estimator.model.records import Cabinet, Job, LoosePart
from estimator.model.results import BandingPlan
from estimator.model.shop_records import Fitting, Step
from estimator.model.taken import EdgingUse, Part
from estimator.model.units import MM2_PER_M2, MM_PER_M

NONE = Fraction(0)
IN_A_LINE_STEP = ("part", "cabinet", "door", "drawer", "shelf")
IN_A_LINE_FITTING = (*IN_A_LINE_STEP, "m2")
Known = Mapping[str, frozenset[str]]


def job_counts(
    counted: Counted,
    ways: Ways,
    step_tallies: Sequence[StepTally],
    tallies: Sequence[FittingTally],
    known: Known,
    plans: Sequence[BandingPlan],
) -> JobCounts:
    """Counts of every step and fitting on every way of banding, and of every line; a trip is counted once."""
    job = counted.job
    once = replace(counted, job=replace(job, contract=replace(job.contract, trips=1) if job.contract else None))
    steps = [
        tally(once, route=step.route, per=step.per, limit=limit_of(step.of, known=known)) if step.per == "trip" else one.tally
        for step, one in zip(job.work, step_tallies, strict=True)
    ]
    weights = [one_each if plain_number(row.number) is not None else one.weight for row, one in zip(job.fittings, tallies, strict=True)]
    fittings = [
        tally(once, route=row.route, per=row.per, limit=limit_of(row.of, known=known), weight=weight)
        for row, weight in zip(job.fittings, weights, strict=True)
    ]
    at_any_time = replace(ways, job=replace(job, terms=replace(job.terms, working_days_available=None)))
    theirs: dict[int, list[Part]] = {}
    for part in counted.parts:
        theirs.setdefault(id(part.owner), []).append(part)
    owners: list[Cabinet | LoosePart] = [*job.cabinets, *job.loose_parts]
    return JobCounts(
        glued_m2=ways.glued,
        ways=tuple(_way(plan.sent, ways, steps, fittings) for plan in plans),
        never_sent=why_not_sent(at_any_time),
        never_by_hand=why_not_by_hand(at_any_time),
        steps=tuple(one.always for one, step in zip(steps, job.work, strict=True) if not step.route),
        fittings=tuple(one.always for one, row in zip(fittings, job.fittings, strict=True) if not row.route),
        small_glued_m2=ways.small.glued,
        spoilt={edging: spoilt.anew for edging, spoilt in ways.spoilt.items()},
        anew=anew_counts(job, counted.parts, ways.edgings, step_tallies, known) if ways.spoilt else {},
        lines=tuple(_line(owner, theirs.get(id(owner), []), job, ways.edgings, known, weights) for owner in owners),
    )


def _way(names: tuple[str, ...], ways: Ways, steps: Sequence[Tally], fittings: Sequence[Tally]) -> WayCounts:
    sent = ways.group(names)
    group = {"by hand": ways.everything & ~sent, "send out": sent}
    job = ways.job
    return WayCounts(
        sent=names,
        steps=tuple(one.of(group[step.route]) for one, step in zip(steps, job.work, strict=True) if step.route),
        fittings=tuple(one.of(group[row.route]) for one, row in zip(fittings, job.fittings, strict=True) if row.route),
        parts_sent=int(ways.parts_sent.of(sent)),
        batches=sum(_batches(ways, use.edging, away=use.edging in names) for use in ways.edgings),
    )


def _batches(ways: Ways, edging: str, *, away: bool) -> int:
    """Of an edging: all of it, or what stays when it is sent."""
    batches = ways.small.batches(edging) if away else ways.batches[edging]
    return 0 if isinstance(batches, Impossible) else len(batches)


def _line(
    owner: Cabinet | LoosePart,
    parts: Sequence[Part],
    job: Job,
    edgings: Sequence[EdgingUse],
    known: Known,
    weights: Sequence[Weight],
) -> LineCounts:
    """What one cabinet or loose part takes: area by board, strips by edging width, its own fittings and steps."""
    area: dict[str, Fraction] = {}
    strips = {id(width.edging): NONE for use in edgings for width in use.widths}
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


def _count(
    owner: Cabinet | LoosePart,
    parts: Sequence[Part],
    row: Step | Fitting,
    known: Known,
    counted: Sequence[str],
    weight: Weight,
) -> Fraction:
    if row.per not in counted:
        return NONE
    limit = limit_of(row.of, known=known)
    matching = [part for part in parts if limit.part(part)]
    if row.per == "cabinet":
        return weight(owner) if isinstance(owner, Cabinet) and (matching or not row.of) else NONE
    return sum((per_piece(part, per=row.per) * weight(part) for part in matching), start=NONE)
