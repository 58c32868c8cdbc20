"""How few sheets any plan could need: sizes in, a proven count out. All on exact fractions."""

from __future__ import annotations

from collections.abc import Sequence

from estimator.model.cutting_plan import StockSheet, WantedPart
from estimator.model.exact import Fraction
from estimator.model.units import whole_up


def area_bound(*, wanted: Sequence[WantedPart], sheet: StockSheet, kerf_mm: Fraction) -> int:
    """Sheets that the parts' area alone asks for, each part and the trimmed sheet grown by one kerf.

        sheets  =  sum of (part length + kerf) x (part width + kerf)  /  ((usable length + kerf) x (usable width + kerf)),
                   up to the next whole number

    By hand: ten parts 1000 x 500 with a kerf of 4 on 2780 x 2050: 10 x 1004 x 504 / (2784 x 2054) = 0.885, so 1 sheet.

    >>> part = WantedPart(length_mm=Fraction(1000), width_mm=Fraction(500), count=10, way="along")
    >>> sheet = StockSheet(Fraction(2800), Fraction(2070), Fraction(10), Fraction(60), 0, True)
    >>> area_bound(wanted=[part], sheet=sheet, kerf_mm=Fraction(4))
    1

    Holds for: cuts of one kerf between neighbours and none at the trimmed edge.
    Error: a lower bound; the best plan may need more.
    Source: common-practice.
    """
    parts = sum(((part.length_mm + kerf_mm) * (part.width_mm + kerf_mm) * part.count for part in wanted), Fraction(0))
    length_mm, width_mm = usable_mm(sheet)
    return whole_up(parts / ((length_mm + kerf_mm) * (width_mm + kerf_mm)))


def big_part_bound(*, wanted: Sequence[WantedPart], sheet: StockSheet, kerf_mm: Fraction) -> int:
    """Sheets that the big parts ask for: no two of them can share one sheet.

        two parts share no sheet when neither their lengths (with a kerf between) fit in the usable length,
        nor their widths in the usable width, however each may lie

    By hand: parts of 1500 x 1100 on 2780 x 2050 with the grain: 2 x 1500 + 4 is over 2780 and 2 x 1100 + 4 over 2050, so
    each needs a sheet of its own.

    >>> part = WantedPart(length_mm=Fraction(1500), width_mm=Fraction(1100), count=3, way="along")
    >>> sheet = StockSheet(Fraction(2800), Fraction(2070), Fraction(10), Fraction(60), 0, True)
    >>> big_part_bound(wanted=[part], sheet=sheet, kerf_mm=Fraction(4))
    3

    Holds for: any cuts. Counted are parts over half the sheet both ways (grain), or whose shorter side is over half of
    the sheet's longer side (no grain).
    Error: a lower bound; the best plan may need more.
    Source: common-practice.
    """
    length_mm, width_mm = usable_mm(sheet)
    return sum(part.count for part in wanted if _fills_alone(part, length_mm + kerf_mm, width_mm + kerf_mm, kerf_mm))


def _fills_alone(part: WantedPart, length_mm: Fraction, width_mm: Fraction, kerf_mm: Fraction) -> bool:
    """Over half the sheet in both directions, however it lies; the sides of part and sheet are grown by the kerf."""
    along, across = 2 * (part.length_mm + kerf_mm), 2 * (part.width_mm + kerf_mm)
    if part.way == "either":
        return min(along, across) > max(length_mm, width_mm)
    if part.way == "across":
        along, across = across, along
    return along > length_mm and across > width_mm


def sheets_by_yield(*, wanted: Sequence[WantedPart], sheet: StockSheet, kerf_mm: Fraction, yield_share: Fraction) -> int:
    """Sheets of a shop that buys by its expected yield, never fewer than are possible.

        sheets  =  the most of:  parts' area / (usable area x yield), up to the next whole number
                                 the area bound
                                 parts over half the usable sheet both ways
                                 (shorter side over half the longer side when they may be turned)

    By hand: 10 parts of 1000 x 500 are 5 m2; a usable sheet of 2780 x 2050 at 80 % gives 4.5592 m2, so 2 sheets.

    >>> part = WantedPart(length_mm=Fraction(1000), width_mm=Fraction(500), count=10, way="along")
    >>> sheet = StockSheet(Fraction(2800), Fraction(2070), Fraction(10), Fraction(60), 0, True)
    >>> sheets_by_yield(wanted=[part], sheet=sheet, kerf_mm=Fraction(4), yield_share=Fraction(80, 100))
    2

    Holds for: yields above 0 and up to 1, of the trimmed sheet.
    Error: as good as the yield that the shop knows.
    Source: common-practice.
    """
    length_mm, width_mm = usable_mm(sheet)
    area_mm2 = sum((part.length_mm * part.width_mm * part.count for part in wanted), Fraction(0))
    by_yield = whole_up(area_mm2 / (length_mm * width_mm * yield_share))
    halves = sum(part.count for part in wanted if _fills_alone(part, length_mm, width_mm, Fraction(0)))
    return max(by_yield, area_bound(wanted=wanted, sheet=sheet, kerf_mm=kerf_mm), halves)


def usable_mm(sheet: StockSheet) -> tuple[Fraction, Fraction]:
    """Length and width inside the trim."""
    return sheet.length_mm - 2 * sheet.trim_mm, sheet.width_mm - 2 * sheet.trim_mm

