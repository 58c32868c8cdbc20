"""Edges that are spoilt: the shop's shares in, what spoiling costs each edging by hand and sent out.

A spoilt edge costs its part anew: material and the work that was in it. It counts in the choice of the way only; the price
covers it by its contingency.
"""

from collections.abc import Mapping, Sequence

from estimator.costing.banding.small_parts import is_small
from estimator.costing.cut_part import cut_area_mm2
from estimator.costing.edging import strip_length_mm
from estimator.costing.limits import limit_of
from estimator.costing.work import StepTally, money_for
from estimator.model.dataclass import dataclass
from estimator.model.exact import Fraction
from estimator.model.quantities import AnewCounts, SpoiltParts
from estimator.model.records import Job
from estimator.model.taken import BoardUse, EdgingUse, Part
from estimator.model.units import MM2_PER_M2, MM_PER_M

NONE = Fraction(0)


@dataclass(frozen=True, slots=True)
class Spoilt:
    """Money of the spoilt edges of one edging, were all of it banded by hand, or all of it sent."""

    by_hand: Fraction
    here_when_sent: Fraction
    """Of its small parts, which stay."""
    away_when_sent: Fraction
    anew: SpoiltParts


def spoilt_edges(
    job: Job,
    parts: Sequence[Part],
    boards: Sequence[BoardUse],
    steps: Sequence[StepTally],
    known: Mapping[str, frozenset[str]],
    *,
    rate: Fraction,
) -> dict[str, Spoilt]:
    """What spoilt edges cost, edging by edging; empty where the shop names no share.

    spoilt  =  share of edges that are spoilt x sum over the edges of what their part costs

    Of an edging that is sent, the edges of parts too small for the machine are spoilt here.
    """
    here = job.shop.spoilt_by_hand_share
    away = job.contract.spoilt_share if job.contract else NONE
    if not here and not away:
        return {}
    metre2 = {use.board: use.cost_per_m2 for use in boards}
    sums: dict[str, Fraction] = {}
    small: dict[str, Fraction] = {}
    for part in parts:
        cost = part_cost(part, price_per_m2=metre2[part.board], work_min=_own_minutes(part, steps, known), rate=rate)
        for band in part.bands:
            mine = small if is_small(part, job.contract) else sums
            mine[band.edging.edging] = mine.get(band.edging.edging, NONE) + part.count * cost
    return {edging: _spoilt(SpoiltParts(sums.get(edging, NONE), small.get(edging, NONE)), here, away) for edging in {**sums, **small}}


def _spoilt(anew: SpoiltParts, here: Fraction, away: Fraction) -> Spoilt:
    return Spoilt(here * (anew.goes + anew.stays), here * anew.stays, away * anew.goes, anew)


def part_cost(part: Part, *, price_per_m2: Fraction, work_min: Fraction, rate: Fraction) -> Fraction:
    """What one piece of a part costs to make again: its board, its strips and the work that is counted by the part.

    cost  =  cut area x price of a square metre of part  +  strips x edging price  +  minutes / 60 x rate

    Source: common-practice.
    """
    area_m2 = cut_area_mm2(cut_length_mm=part.cut_length_mm, cut_width_mm=part.cut_width_mm) / MM2_PER_M2
    strips = sum(
        (
            strip_length_mm(edge_mm=band.length_mm, overhang_mm=band.edging.overhang_mm) / MM_PER_M * band.edging.price_per_m
            for band in part.bands
        ),
        start=NONE,
    )
    return area_m2 * price_per_m2 + strips + money_for(work_min, rate=rate)


def _own_minutes(part: Part, steps: Sequence[StepTally], known: Mapping[str, frozenset[str]]) -> Fraction:
    """Minutes of the steps that every piece takes whatever way it is banded: per part and per m2."""
    area_m2 = cut_area_mm2(cut_length_mm=part.cut_length_mm, cut_width_mm=part.cut_width_mm) / MM2_PER_M2
    return sum(
        (
            one.each_min * (area_m2 if one.step.per == "m2" else 1)
            for one in steps
            if not one.step.route and one.step.per in ("part", "m2") and limit_of(one.step.of, known=known).part(part)
        ),
        start=NONE,
    )


def anew_counts(
    job: Job,
    parts: Sequence[Part],
    edgings: Sequence[EdgingUse],
    steps: Sequence[StepTally],
    known: Mapping[str, frozenset[str]],
) -> dict[str, tuple[AnewCounts, AnewCounts]]:
    """The quantities behind `spoilt_edges`, edging by edging: of the parts that go when it is sent, and of those that stay.

    At a price for each they come to the same money, so a filled-in workbook can follow the prices.
    """
    return {
        use.edging: (
            _anew([part for part in parts if not is_small(part, job.contract)], use.edging, edgings, steps, known),
            _anew([part for part in parts if is_small(part, job.contract)], use.edging, edgings, steps, known),
        )
        for use in edgings
    }


def _anew(
    parts: Sequence[Part], edging: str, edgings: Sequence[EdgingUse], steps: Sequence[StepTally], known: Mapping[str, frozenset[str]]
) -> AnewCounts:
    area: dict[str, Fraction] = {}
    strips = {id(width.edging): NONE for use in edgings for width in use.widths}
    always = [one.step for one in steps if not one.step.route]
    counts = [NONE] * len(always)
    for part in parts:
        edges = part.count * sum(band.edging.edging == edging for band in part.bands)
        if not edges:
            continue
        area_m2 = cut_area_mm2(cut_length_mm=part.cut_length_mm, cut_width_mm=part.cut_width_mm) / MM2_PER_M2
        area[part.board] = area.get(part.board, NONE) + edges * area_m2
        for band in part.bands:
            strip = strip_length_mm(edge_mm=band.length_mm, overhang_mm=band.edging.overhang_mm) / MM_PER_M
            strips[id(band.edging)] += edges * strip
        for place, step in enumerate(always):
            if step.per in ("part", "m2") and limit_of(step.of, known=known).part(part):
                counts[place] += edges * (area_m2 if step.per == "m2" else 1)
    return AnewCounts(area, tuple(strips.values()), tuple(counts))
