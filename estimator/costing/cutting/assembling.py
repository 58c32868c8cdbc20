"""Filled sheets on the grid become a plan in millimetres: equal sheets merged, pieces given to the rows that want them."""

from __future__ import annotations

from collections.abc import Hashable, Sequence
from typing import TypeVar

from estimator.costing.cutting.filling import Laid
from estimator.costing.cutting.kerf import Grid
from estimator.costing.cutting.sawing import Lying, Room, Sawn, sawn
from estimator.model.cutting_plan import (
    Cut,
    CuttingPlan,
    Offcut,
    Pattern,
    Placement,
    StockSheet,
    WantedPart,
)
from estimator.model.dataclass import dataclass
from estimator.model.exact import Fraction
from estimator.model.problems import Fault

Name = TypeVar("Name", bound=Hashable)


@dataclass(frozen=True, slots=True)
class FilledSheet:
    """Sheets of one stock filled alike, on the grid."""

    stock: int
    laid: tuple[Laid, ...]
    count: int = 1


def assembled(
    *,
    filled: Sequence[FilledSheet],
    grid: Grid,
    wanted: Sequence[WantedPart],
    stock: Sequence[StockSheet],
    bound: int,
    bound_money: Fraction,
) -> CuttingPlan:
    """The plan of these sheets, with its cuts, offcuts, money and areas."""
    merged = sawn_sheets(filled, grid)
    shared = shared_out(
        demands=[([piece[4] for piece in sheet.sawn.pieces], sheet.count) for sheet in merged],
        offers={index: {row: wanted[row].count for row in kind.rows} for index, kind in enumerate(grid.kinds)},
    )
    patterns: list[Pattern] = []
    for sheet, runs in zip(merged, shared, strict=True):
        trim_mm = stock[sheet.stock].trim_mm
        cuts, offcuts = _in_mm(sheet.sawn, grid, trim_mm)
        for count, rows in runs:
            placements = tuple(
                _placement(row, piece, grid, wanted[row], trim_mm)
                for row, piece in zip(rows, sheet.sawn.pieces, strict=True)
            )
            patterns.append(Pattern(sheet.stock, count, placements, cuts, offcuts))
    return _added_up(patterns, wanted, stock, grid.mm(grid.kerf), bound, bound_money)


@dataclass(frozen=True, slots=True)
class SawnSheet:
    """Sheets of one stock sawn alike, on the grid."""

    stock: int
    count: int
    sawn: Sawn


def sawn_sheets(filled: Sequence[FilledSheet], grid: Grid) -> list[SawnSheet]:
    """Every sheet with its cuts; equal sheets as one, most sheets first, and the emptiest last."""
    counts: dict[tuple[int, tuple[Laid, ...]], int] = {}
    for sheet in filled:
        key = sheet.stock, sheet.laid
        counts[key] = counts.get(key, 0) + sheet.count
    merged: dict[tuple[int, tuple[Lying, ...]], SawnSheet] = {}
    for (stock, laid), count in counts.items():
        pieces = [(x, y, along, across, kind) for kind, x, y, along, across in laid]
        found = sawn(room=(0, 0, *grid.sheets[stock]), pieces=pieces, kerf=grid.kerf)
        if found is None:
            raise Fault("A sheet was filled in a way that no saw can cut.")
        before = merged.get((stock, found.pieces))
        merged[stock, found.pieces] = SawnSheet(stock, count + (before.count if before else 0), found)
    return sorted(merged.values(), key=_largest_use_first)


def _largest_use_first(sheet: SawnSheet) -> tuple[object, ...]:
    area = sum(along * across for _, _, along, across, _ in sheet.sawn.pieces)
    return sheet.stock, -sheet.count, -area, sheet.sawn.pieces


def shared_out(
    *, demands: Sequence[tuple[Sequence[int], int]], offers: dict[int, dict[Name, int]]
) -> list[list[tuple[int, list[Name]]]]:
    """Names for the pieces of each pattern, in runs of equal sheets as long as can be.

    A demand is the kinds of a pattern's pieces and its count; an offer is how many pieces of each kind carry each name.
    Every named piece is used exactly once.
    """
    left = {kind: dict(names) for kind, names in offers.items()}
    answer: list[list[tuple[int, list[Name]]]] = []
    for kinds, count in demands:
        runs: list[tuple[int, list[Name]]] = []
        while count:
            run, names = _longest_run(kinds, count, left)
            for kind, name in zip(kinds, names, strict=True):
                left[kind][name] -= run
                if not left[kind][name]:
                    del left[kind][name]
            runs.append((run, names))  # never the names of the run before, which would have been longer by this one
            count -= run
        answer.append(runs)
    return answer


def _longest_run(kinds: Sequence[int], count: int, left: dict[int, dict[Name, int]]) -> tuple[int, list[Name]]:
    """The longest run of sheets that can carry one choice of names, and the names in the order of the kinds."""
    need: dict[int, int] = {}
    for kind in kinds:
        need[kind] = need.get(kind, 0) + 1
    run = count
    for kind, pieces in need.items():
        while run > 1 and sum(amount // run for amount in left[kind].values()) < pieces:
            run -= 1
    chosen: dict[int, list[Name]] = {}
    for kind in need:
        names: list[Name] = []
        for name, amount in left[kind].items():
            names += [name] * (amount // run)
        chosen[kind] = names[::-1]
    return run, [chosen[kind].pop() for kind in kinds]


def _placement(row: int, piece: Lying, grid: Grid, part: WantedPart, trim_mm: Fraction) -> Placement:
    x, y, along, _, _ = piece
    turned = part.way == "across" or (part.way == "either" and grid.mm(along - grid.kerf) != part.length_mm)
    return Placement(part=row, x_mm=trim_mm + grid.mm(x), y_mm=trim_mm + grid.mm(y), turned=turned)


def _in_mm(found: Sawn, grid: Grid, trim_mm: Fraction) -> tuple[tuple[Cut, ...], tuple[Offcut, ...]]:
    def room_mm(room: Room) -> tuple[Fraction, Fraction, Fraction, Fraction]:
        return trim_mm + grid.mm(room[0]), trim_mm + grid.mm(room[1]), grid.mm(room[2]), grid.mm(room[3])

    cuts = tuple(
        Cut("rip" if cut.rip else "cross", trim_mm + grid.mm(cut.at), *room_mm(cut.piece)) for cut in found.cuts
    )
    offcuts = sorted((Offcut(*room_mm(room)) for room in found.offcuts), key=lambda offcut: (-offcut.area_mm2, offcut.x_mm))
    return cuts, tuple(offcuts)


def _added_up(
    patterns: list[Pattern],
    wanted: Sequence[WantedPart],
    stock: Sequence[StockSheet],
    kerf_mm: Fraction,
    bound: int,
    bound_money: Fraction,
) -> CuttingPlan:
    used = [0] * len(stock)
    kerf_mm2 = trim_mm2 = offcut_mm2 = Fraction(0)
    for pattern in patterns:
        sheet = stock[pattern.sheet]
        used[pattern.sheet] += pattern.count
        usable_mm2 = (sheet.length_mm - 2 * sheet.trim_mm) * (sheet.width_mm - 2 * sheet.trim_mm)
        trim_mm2 += pattern.count * (sheet.length_mm * sheet.width_mm - usable_mm2)
        kerf_mm2 += pattern.count * sum((_kerf_of(cut, kerf_mm) for cut in pattern.cuts), Fraction(0))
        offcut_mm2 += pattern.count * sum((offcut.area_mm2 for offcut in pattern.offcuts), Fraction(0))
    return CuttingPlan(
        patterns=tuple(patterns),
        sheets=sum(used),
        bound=bound,
        money=money_to_buy(used, stock),
        bound_money=bound_money,
        parts_mm2=sum((part.length_mm * part.width_mm * part.count for part in wanted), Fraction(0)),
        kerf_mm2=kerf_mm2,
        trim_mm2=trim_mm2,
        offcut_mm2=offcut_mm2,
    )


def _kerf_of(cut: Cut, kerf_mm: Fraction) -> Fraction:
    """What the saw turns to dust: a full kerf, or what is left of the piece beyond the cut where that is less."""
    if cut.direction == "rip":
        return min(kerf_mm, cut.y_mm + cut.width_mm - cut.at_mm) * cut.length_mm
    return min(kerf_mm, cut.x_mm + cut.length_mm - cut.at_mm) * cut.width_mm


def money_to_buy(used: Sequence[int], stock: Sequence[StockSheet]) -> Fraction:
    """Sheets on hand count 0 in choosing; the rest are bought."""
    return sum((max(0, count - sheet.on_hand) * sheet.price for count, sheet in zip(used, stock, strict=True)), Fraction(0))
