"""One part as it is cut and banded: its sizes, board and marks in, a Part with its bands out, or what stands in its way."""

from collections.abc import Iterator, Mapping

from estimator.costing.stock import COVER_MM, Stock, covering_width
from estimator.model.exact import Fraction
from estimator.model.problems import Problem
from estimator.model.records import Cabinet, LoosePart
from estimator.model.shop_records import SIDES, ConstructionRow, Edging, Side
from estimator.model.taken import Band, Part
from estimator.model.units import at_least_words, length_words


def banded_cut_mm(*, finished_mm: Fraction, bands_mm: tuple[Fraction, ...]) -> Fraction:
    """Size to which a part is cut before its edges are banded, in mm (A5).

        cut size  =  finished size - thickness of each band across it whose edging is deducted

    By hand: a 600 mm door with a 2 mm band at either end is cut at 596 mm.

    >>> banded_cut_mm(finished_mm=600, bands_mm=(2, 2))
    596

    Holds for: bands glued onto a square edge.
    Error: none; what a thin band adds stays in where the shop does not deduct it.
    Source: common-practice.
    """
    return finished_mm - sum(bands_mm)


def cut_area_mm2(*, cut_length_mm: Fraction, cut_width_mm: Fraction) -> Fraction:
    """Area of a part as it is cut, without kerf (A6): cut length x cut width.

    >>> cut_area_mm2(cut_length_mm=720, cut_width_mm=300)
    216000

    Source: common-practice.
    """
    return cut_length_mm * cut_width_mm


def marks_of(row: ConstructionRow | LoosePart) -> Iterator[tuple[Side, str]]:
    """The sides that a row bands, each with what stands there: x, a role or the name of an edging."""
    for side, mark in zip(SIDES, (row.front, row.back, row.left, row.right), strict=True):
        if mark:
            yield side, mark


def by_role(names: Mapping[str, str], role: str) -> str | None:
    """What a finish names for a role, capitals or not."""
    if role in names:
        return names[role]
    return next((name for own, name in names.items() if own.casefold() == role.casefold()), None)


def part_of(
    owner: Cabinet | LoosePart,
    made_by: ConstructionRow | LoosePart,
    stock: Stock,
    *,
    part: str,
    kind: str,
    count_each: int,
    length_mm: Fraction,
    width_mm: Fraction,
    board: str,
    board_role: str,
    bands: list[tuple[Side, str, str]],
) -> Part | Problem | None:
    """The part with its bands and cut size. None when its board or edging is a row that could not be read."""
    thickness_mm = stock.thickness_mm.get(board)
    if thickness_mm is None:
        return None
    banded: list[Band] = []
    for side, name, role in bands:
        widths = stock.widths.get(name)
        if widths is None:
            return None
        row = covering_width(widths, thickness_mm=thickness_mm)
        if row is None:
            return _too_narrow(widths[-1], board, thickness_mm, f"{part} of {owner.ref}", units=stock.units)
        banded.append(Band(side, length_mm if side in ("front", "back") else width_mm, row, role))
    cut_length_mm = banded_cut_mm(finished_mm=length_mm, bands_mm=_deducted(banded, "left", "right"))
    cut_width_mm = banded_cut_mm(finished_mm=width_mm, bands_mm=_deducted(banded, "front", "back"))
    for header, cut_mm in (("Length", cut_length_mm), ("Width", cut_width_mm)):
        if cut_mm <= 0:
            return Problem(
                made_by.at.place(header),
                f"{length_words(cut_mm, units=stock.units, finest=32, places=3)} left to cut after its bands: {part} of {owner.ref}",
                f"{header}: more than its bands are thick",
                "make the part larger or leave a band off",
            )
    return Part(
        ref=owner.ref,
        room=owner.room,
        part=part,
        count_each=count_each,
        qty=owner.qty,
        length_mm=length_mm,
        width_mm=width_mm,
        cut_length_mm=cut_length_mm,
        cut_width_mm=cut_width_mm,
        board=board,
        board_role=board_role,
        thickness_mm=thickness_mm,
        grain=made_by.grain,
        finish=owner.finish,
        kind=kind,
        counts_as=made_by.counts_as,
        bands=tuple(banded),
        owner=owner,
        made_by=made_by,
    )


def _deducted(bands: list[Band], *sides: Side) -> tuple[Fraction, ...]:
    return tuple(band.edging.thickness_mm for band in bands if band.side in sides and band.edging.deduct)


def _too_narrow(widest: Edging, board: str, thickness_mm: Fraction, who: str, *, units: str) -> Problem:
    wide, thick = (length_words(one, units=units, finest=32, places=3) for one in (widest.width_mm, thickness_mm))
    cover, wanted = (at_least_words(one, units=units) for one in (Fraction(COVER_MM), thickness_mm + COVER_MM))
    return Problem(
        widest.at.place("Width"),
        f"{wide}, the widest of {widest.edging}, for {board}, which is {thick} thick: {who}",
        f"Width: at least the board's thickness and {cover}, here {wanted}",
        "stock a wider strip of this edging, or choose another edging or board for the part",
    )
