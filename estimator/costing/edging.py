"""Parts to edging: banded edges in, net metres, strips, what is bought and what it costs out, edging by edging."""

from collections.abc import Sequence

from estimator.model.exact import Fraction
from estimator.model.records import Job
from estimator.model.shop_records import Edging
from estimator.model.taken import EdgingUse, EdgingWidthUse, Part
from estimator.model.units import MM_PER_M, whole_up


def strip_length_mm(*, edge_mm: Fraction, overhang_mm: Fraction) -> Fraction:
    """Length to which a strip is cut before it is glued, in mm (A12).

        strip  =  edge + overhang at either end

    By hand: a 564 mm edge with 20 mm over at either end takes a 604 mm strip.

    >>> strip_length_mm(edge_mm=564, overhang_mm=20)
    604

    Holds for: straight edges. A curved edge needs its girth.
    Error: none; the overhang is what the shop chose.
    Source: common-practice.
    """
    return edge_mm + 2 * overhang_mm


def bought_m(*, strip_m: Fraction, spare_share: Fraction) -> Fraction:
    """Metres of edging that a job needs with the shop's spare (A12).

        bought  =  strips x (1 + spare)

    By hand: 100 m of strips with 5 % spare is 105 m.

    >>> bought_m(strip_m=100, spare_share=Fraction(5, 100))
    Fraction(105, 1)

    Holds for: edging charged by the metre; whole rolls are counted up from it.
    Error: none.
    Source: common-practice.
    """
    return strip_m * (1 + spare_share)


def edgings_of_job(job: Job, parts: Sequence[Part]) -> tuple[EdgingUse, ...]:
    """What the job takes of every edging it uses, in the order of the Edgings sheet, as if the shop supplied it all."""
    edges: dict[int, list[Fraction]] = {}
    rows = {id(row): row for row in job.edgings}
    for part in parts:
        for band in part.bands:
            figures = edges.setdefault(id(band.edging), [Fraction(0), Fraction(0), Fraction(0)])
            figures[0] += part.count
            figures[1] += part.count * band.length_mm
            figures[2] += part.count * strip_length_mm(edge_mm=band.length_mm, overhang_mm=band.edging.overhang_mm)
    by_name: dict[str, list[EdgingWidthUse]] = {}
    for key, row in rows.items():
        if key in edges:
            count, net_mm, strip_mm = edges[key]
            by_name.setdefault(row.edging, []).append(
                _width_use(row, edges=int(count), net_m=net_mm / MM_PER_M, strip_m=strip_mm / MM_PER_M)
            )
    return tuple(_use(name, tuple(widths)) for name, widths in by_name.items())


def _width_use(row: Edging, *, edges: int, net_m: Fraction, strip_m: Fraction) -> EdgingWidthUse:
    need_m = bought_m(strip_m=strip_m, spare_share=row.spare_share)
    rolls = None
    if row.charge == "whole rolls" and row.roll_length_m is not None:
        rolls = whole_up(need_m / row.roll_length_m)
        need_m = rolls * row.roll_length_m
    return EdgingWidthUse(
        edging=row,
        edges=edges,
        net_m=net_m,
        strip_m=strip_m,
        bought_m=need_m,
        rolls=rolls,
        cost=need_m * row.price_per_m,
    )


def _use(name: str, widths: tuple[EdgingWidthUse, ...]) -> EdgingUse:
    return EdgingUse(
        edging=name,
        edges=sum(width.edges for width in widths),
        net_m=sum((width.net_m for width in widths), start=Fraction(0)),
        strip_m=sum((width.strip_m for width in widths), start=Fraction(0)),
        bought_m=sum((width.bought_m for width in widths), start=Fraction(0)),
        cost=sum((width.cost for width in widths), start=Fraction(0)),
        widths=widths,
    )
