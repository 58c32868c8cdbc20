"""The rows of a quote and what each costs on its own: cabinets, loose parts and extras in, their prime costs out (A31)."""

from collections.abc import Mapping, Sequence

from estimator.costing.counts import per_piece
from estimator.costing.cut_part import cut_area_mm2
from estimator.costing.edging import strip_length_mm
from estimator.costing.fittings import FittingTally, line_fittings
from estimator.costing.limits import Limit, limit_of
from estimator.costing.pricing import PrimeCost, owners_words
from estimator.costing.work import money_for, step_standard_min
from estimator.model.exact import Fraction
from estimator.model.records import Cabinet, Job, LoosePart
from estimator.model.results import Rates
from estimator.model.taken import BoardUse, Part
from estimator.model.units import MM2_PER_M2, MM_PER_M

_IN_A_LINE = ("part", "cabinet", "door", "drawer", "shelf")
NONE = Fraction(0)


def prime_costs(
    job: Job,
    parts: Sequence[Part],
    boards: Sequence[BoardUse],
    fittings: Sequence[FittingTally],
    known: Mapping[str, frozenset[str]],
    rates: Rates,
) -> tuple[PrimeCost, ...]:
    """Every row of the quote with its prime cost for one, in workbook order: cabinets, loose parts, extras.

    prime  =  cut area x board price / (usable x yield)  +  strips x edging price  +  fittings  +  own steps x direct rate
    """
    theirs: dict[int, list[Part]] = {}
    for part in parts:
        theirs.setdefault(id(part.owner), []).append(part)
    per_m2 = {use.board: use.cost_per_m2 for use in boards}
    kinds = {kind.kind.casefold(): kind.words for kind in job.kinds}
    steps = [
        (step.per, step_standard_min(step, job.shop), limit_of(step.of, known=known), bool(step.of))
        for step in job.work
        if not step.route and step.per in _IN_A_LINE
    ]
    primes: list[PrimeCost] = []
    owners: list[Cabinet | LoosePart] = [*job.cabinets, *job.loose_parts]
    for owner in owners:
        own = theirs.get(id(owner), [])
        each = _material(own, per_m2) + line_fittings(owner, own, fittings, known)
        each += money_for(_own_minutes(owner, own, steps), rate=rates.direct)
        primes.append(PrimeCost(owner, owners_words(kinds, owner), each))
    for extra in job.extras:
        each = (extra.cost_each or NONE) + money_for(extra.minutes_each or NONE, rate=rates.direct)
        primes.append(PrimeCost(extra, extra.words, each))
    return tuple(primes)


def _material(parts: Sequence[Part], per_m2: Mapping[str, Fraction]) -> Fraction:
    """Board by area and edging by strip for one cabinet; no spare, whoever bands it."""
    money = NONE
    for part in parts:
        area_mm2 = cut_area_mm2(cut_length_mm=part.cut_length_mm, cut_width_mm=part.cut_width_mm)
        money += part.count_each * area_mm2 / MM2_PER_M2 * per_m2[part.board]
        for band in part.bands:
            strip_mm = strip_length_mm(edge_mm=band.length_mm, overhang_mm=band.edging.overhang_mm)
            money += part.count_each * strip_mm / MM_PER_M * band.edging.price_per_m
    return money


def _own_minutes(
    owner: Cabinet | LoosePart, parts: Sequence[Part], steps: Sequence[tuple[str, Fraction, Limit, bool]]
) -> Fraction:
    """Minutes of the steps that count this cabinet, its parts, doors, drawers and shelves."""
    minutes = NONE
    for per, each, limit, limited in steps:
        matching = [part for part in parts if limit.part(part)]
        if per == "cabinet":
            minutes += each if isinstance(owner, Cabinet) and (matching or not limited) else NONE
        else:
            minutes += each * sum((per_piece(part, per=per) for part in matching), start=NONE)
    return minutes
