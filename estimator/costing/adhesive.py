"""Banded edges to adhesive: glued area, litres, packs and their cost, for the edgings that are banded by hand."""

from collections.abc import Collection, Mapping, Sequence

from estimator.costing.edging import strip_length_mm
from estimator.model.exact import Fraction
from estimator.model.records import Job
from estimator.model.shop_records import Adhesive
from estimator.model.taken import AdhesiveUse, Part
from estimator.model.units import MM2_PER_M2, whole_up

GluedArea = Mapping[str, Mapping[str, Fraction]]
"""Glued area in m2 by adhesive, then by edging."""


def glued_mm2(
    *, edge_mm: Fraction, board_mm: Fraction, core_coats: int, strip_mm: Fraction, band_mm: Fraction, strip_coats: int
) -> Fraction:
    """Area that is coated for one edge, every coat counted, in mm2 (A13).

        glued  =  edge x board thickness x core coats  +  strip x band width x strip coats

    By hand: 1000 mm of an 18 mm core, two coats, and a 1040 mm strip of 22 mm, one coat: 36,000 + 22,880 = 58,880 mm2.

    >>> glued_mm2(edge_mm=1000, board_mm=18, core_coats=2, strip_mm=1040, band_mm=22, strip_coats=1)
    58880

    Holds for: adhesive on both faces. Porous core takes two coats and the strip one.
    Error: none; a starved core drinks more than any figure says.
    Source: common-practice.
    """
    return edge_mm * board_mm * core_coats + strip_mm * band_mm * strip_coats


def litres_needed(*, glued_m2: Fraction, coverage_m2_per_litre: Fraction, spare_share: Fraction) -> Fraction:
    """Litres of adhesive for a glued area (A14).

        litres  =  glued area / coverage x (1 + spare)

    By hand: 0.1296 m2 at 5 m2 a litre and coat, no spare, is 0.02592 l.

    >>> litres_needed(glued_m2=Fraction("0.1296"), coverage_m2_per_litre=5, spare_share=0)
    Fraction(81, 3125)

    Holds for: the coverage of one coat, as data sheets give it.
    Error: the data sheet's; raw core takes more than a sealed face.
    Source: common-practice; spreading-rate (litres are area over coverage).
    """
    return glued_m2 / coverage_m2_per_litre * (1 + spare_share)


def glued_areas(job: Job, parts: Sequence[Part]) -> GluedArea:
    """Glued area of the whole job as if every edging were banded by hand."""
    adhesives = {row.adhesive: row for row in job.adhesives}
    areas: dict[str, dict[str, Fraction]] = {}
    for part in parts:
        for band in part.bands:
            glue = adhesives.get(band.edging.adhesive)
            if glue is None:
                continue
            area_mm2 = part.count * glued_mm2(
                edge_mm=band.length_mm,
                board_mm=part.thickness_mm,
                core_coats=glue.core_coats,
                strip_mm=strip_length_mm(edge_mm=band.length_mm, overhang_mm=band.edging.overhang_mm),
                band_mm=band.edging.width_mm,
                strip_coats=glue.strip_coats,
            )
            by_edging = areas.setdefault(glue.adhesive, {})
            by_edging[band.edging.edging] = by_edging.get(band.edging.edging, Fraction(0)) + area_mm2
    return {glue: {edging: area_mm2 / MM2_PER_M2 for edging, area_mm2 in by_edging.items()} for glue, by_edging in areas.items()}


def adhesives_used(job: Job, areas: GluedArea, *, by_hand: Collection[str], staying: GluedArea) -> tuple[AdhesiveUse, ...]:
    """What the edgings banded by hand take of each adhesive, and what stays of those that are sent; packs are shared by all."""
    uses = []
    for glue in job.adhesives:
        by_edging = areas.get(glue.adhesive, {})
        stays = staying.get(glue.adhesive, {})
        here = [area if edging in by_hand else stays.get(edging, Fraction(0)) for edging, area in by_edging.items()]
        glued_m2 = sum(here, start=Fraction(0))
        if glued_m2:
            uses.append(adhesive_use(glue, glued_m2=glued_m2))
    return tuple(uses)


def adhesive_use(glue: Adhesive, *, glued_m2: Fraction) -> AdhesiveUse:
    """Litres, packs and cost of one adhesive: whole packs, or pro rata by the litre."""
    litres = litres_needed(glued_m2=glued_m2, coverage_m2_per_litre=glue.coverage_m2_per_litre, spare_share=glue.spare_share)
    packs = whole_up(litres / glue.pack_litres)
    cost = packs * glue.price if glue.charge == "whole packs" else litres / glue.pack_litres * glue.price
    return AdhesiveUse(adhesive=glue, glued_m2=glued_m2, litres=litres, packs=packs, cost=cost)
