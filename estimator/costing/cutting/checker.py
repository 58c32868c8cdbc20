"""A plan distrusted: the plan and what it was made for in, a sentence for each law it breaks out.

This file shares no code with the planner. It replays every cut, piece in hand by piece in hand, in whole numbers of the finest
fraction that the plan, its parts and its sheets hold, so nothing is rounded, and asks that
what is left at the end is the parts and the offcuts and nothing else; and it proves anew, from the parts alone, that they can be
sawn free with a kerf between neighbours.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from math import lcm
from operator import itemgetter

from estimator.model.cutting_plan import CuttingPlan, Pattern, StockSheet, WantedPart
from estimator.model.exact import Fraction

Piece = tuple[int, int, int, int]
"""x, y, length along the sheet, width across it, in steps from the raw corner."""

Steps = Callable[[Fraction], int]
"""How many steps a length in mm is; every length is a whole number of them."""


def check_plan(
    *, plan: CuttingPlan, wanted: Sequence[WantedPart], stock: Sequence[StockSheet], kerf_mm: Fraction
) -> list[str]:
    """What is wrong with the plan, in sentences; empty when it can be trusted."""
    wrong = _counts(plan, wanted, stock)
    step_mm = Fraction(1, lcm(*{length.denominator for length in _lengths(plan, wanted, stock)}, kerf_mm.denominator))

    def steps(length_mm: Fraction) -> int:
        return length_mm.numerator * (step_mm.denominator // length_mm.denominator)

    kerf = offcuts = 0
    for number, pattern in enumerate(plan.patterns, start=1):
        parts = [_piece(pattern, index, wanted, steps) for index in range(len(pattern.placements))]
        sheet, trim = _sheet(stock[pattern.sheet], steps)
        words = [*_grain(pattern, wanted), *_inside(parts, sheet, trim, step_mm), *_overlaps(parts, step_mm)]
        if not _sawable(parts, steps(kerf_mm)):
            words.append("its parts cannot be sawn free edge to edge with a kerf between neighbours")
        lost, replayed = _replayed(pattern, parts, sheet, steps(kerf_mm), steps)
        wrong += [f"Pattern {number}: {sentence}." for sentence in words + replayed]
        kerf += pattern.count * lost
        offcuts += pattern.count * sum(steps(offcut.length_mm) * steps(offcut.width_mm) for offcut in pattern.offcuts)
    return wrong + _areas(plan, wanted, stock, kerf * step_mm**2, offcuts * step_mm**2)


def _lengths(plan: CuttingPlan, wanted: Sequence[WantedPart], stock: Sequence[StockSheet]) -> Iterator[Fraction]:
    for sheet in stock:
        yield from (sheet.length_mm, sheet.width_mm, sheet.trim_mm)
    for part in wanted:
        yield from (part.length_mm, part.width_mm)
    for pattern in plan.patterns:
        for placement in pattern.placements:
            yield from (placement.x_mm, placement.y_mm)
        for cut in pattern.cuts:
            yield from (cut.at_mm, cut.x_mm, cut.y_mm, cut.length_mm, cut.width_mm)
        for offcut in pattern.offcuts:
            yield from (offcut.x_mm, offcut.y_mm, offcut.length_mm, offcut.width_mm)


def _counts(plan: CuttingPlan, wanted: Sequence[WantedPart], stock: Sequence[StockSheet]) -> list[str]:
    wrong = []
    cut = [0] * len(wanted)
    used = [0] * len(stock)
    for pattern in plan.patterns:
        used[pattern.sheet] += pattern.count
        for placement in pattern.placements:
            cut[placement.part] += pattern.count
    for index, part in enumerate(wanted):
        if cut[index] != part.count:
            wrong.append(f"Part {index} is cut {cut[index]} times and wanted {part.count} times.")
    for index, sheet in enumerate(stock):
        if not sheet.buyable and used[index] > sheet.on_hand:
            wrong.append(f"Stock {index} is used {used[index]} times and only {sheet.on_hand} are on hand.")
    money = sum((max(0, used[index] - sheet.on_hand) * sheet.price for index, sheet in enumerate(stock)), Fraction(0))
    if money != plan.money:
        wrong.append(f"The sheets to buy cost {money} and the plan says {plan.money}.")
    if sum(used) != plan.sheets or any(pattern.count < 1 for pattern in plan.patterns):
        wrong.append(f"The patterns take {sum(used)} sheets and the plan says {plan.sheets}.")
    if plan.sheets < plan.bound or plan.money < plan.bound_money:
        wrong.append("The plan is better than what is said to be the best possible.")
    return wrong


def _piece(pattern: Pattern, index: int, wanted: Sequence[WantedPart], steps: Steps) -> Piece:
    placement = pattern.placements[index]
    part = wanted[placement.part]
    length_mm, width_mm = (part.width_mm, part.length_mm) if placement.turned else (part.length_mm, part.width_mm)
    return steps(placement.x_mm), steps(placement.y_mm), steps(length_mm), steps(width_mm)


def _sheet(stock: StockSheet, steps: Steps) -> tuple[Piece, int]:
    """The trimmed sheet as the first piece in hand, and the trim."""
    trim = steps(stock.trim_mm)
    return (trim, trim, steps(stock.length_mm) - 2 * trim, steps(stock.width_mm) - 2 * trim), trim


def _grain(pattern: Pattern, wanted: Sequence[WantedPart]) -> list[str]:
    turned_as = {"along": False, "across": True}
    return [
        f"part {placement.part} lies against its grain"
        for placement in pattern.placements
        if turned_as.get(wanted[placement.part].way, placement.turned) != placement.turned
    ]


def _inside(parts: Sequence[Piece], sheet: Piece, trim: int, step_mm: Fraction) -> list[str]:
    end_x, end_y = trim + sheet[2], trim + sheet[3]
    return [
        f"the part at {x * step_mm}, {y * step_mm} is not inside the trimmed sheet"
        for x, y, length, width in parts
        if x < trim or y < trim or x + length > end_x or y + width > end_y
    ]


def _overlaps(parts: Sequence[Piece], step_mm: Fraction) -> list[str]:
    wrong = []
    for number, (x, y, length, width) in enumerate(parts):
        for other_x, other_y, other_length, other_width in parts[number + 1 :]:
            if x < other_x + other_length and other_x < x + length and y < other_y + other_width and other_y < y + width:
                first, second = f"{x * step_mm}, {y * step_mm}", f"{other_x * step_mm}, {other_y * step_mm}"
                wrong.append(f"the parts at {first} and {second} overlap")
    return wrong


def _sawable(parts: Sequence[Piece], kerf: int) -> bool:
    """Whether one cut after another, each clear of every part, frees them all. Any clear cut may be made first: a cut
    through clear ground never spoils another."""
    if len(parts) < 2:
        return True
    for low, extent in ((0, 2), (1, 3)):
        strips: list[list[Piece]] = []
        reach = 0
        for part in sorted(parts, key=itemgetter(low)):
            if not strips or part[low] >= reach + kerf:
                strips.append([part])
            else:
                strips[-1].append(part)
            reach = max(reach, part[low] + part[extent])
        if len(strips) > 1:
            return all(_sawable(strip, kerf) for strip in strips)
    return False


def _replayed(
    pattern: Pattern, parts: Sequence[Piece], sheet: Piece, kerf: int, steps: Steps
) -> tuple[int, list[str]]:
    """Area lost to the kerf, and what went wrong when every cut was made in its order."""
    wrong = []
    in_hand = {sheet}
    lost = 0
    for number, cut in enumerate(pattern.cuts, start=1):
        x, y, length, width = piece = steps(cut.x_mm), steps(cut.y_mm), steps(cut.length_mm), steps(cut.width_mm)
        if piece not in in_hand:
            wrong.append(f"cut {number} is of a piece that is not in hand")
            continue
        in_hand.remove(piece)
        rip, at = cut.direction == "rip", steps(cut.at_mm)
        start, extent, across = (y, width, length) if rip else (x, length, width)
        before, after = at - start, start + extent - at - kerf
        if before < 0 or before >= extent + (kerf == 0):
            wrong.append(f"cut {number} misses its piece")
        lost += min(kerf, extent - before) * across
        if before > 0:
            in_hand.add((x, y, length, before) if rip else (x, y, before, width))
        if after > 0:
            in_hand.add((x, at + kerf, length, after) if rip else (at + kerf, y, after, width))
    left = {(steps(one.x_mm), steps(one.y_mm), steps(one.length_mm), steps(one.width_mm)) for one in pattern.offcuts}
    if len(left) != len(pattern.offcuts) or in_hand != left.union(parts) or left.intersection(parts):
        wrong.append("after the last cut the pieces in hand are not the parts and the offcuts")
    return lost, wrong


def _areas(
    plan: CuttingPlan, wanted: Sequence[WantedPart], stock: Sequence[StockSheet], kerf_mm2: Fraction, offcut_mm2: Fraction
) -> list[str]:
    sheet_mm2 = trim_mm2 = Fraction(0)
    for pattern in plan.patterns:
        sheet = stock[pattern.sheet]
        raw_mm2 = sheet.length_mm * sheet.width_mm
        sheet_mm2 += pattern.count * raw_mm2
        usable_mm2 = (sheet.length_mm - 2 * sheet.trim_mm) * (sheet.width_mm - 2 * sheet.trim_mm)
        trim_mm2 += pattern.count * (raw_mm2 - usable_mm2)
    parts_mm2 = sum((part.length_mm * part.width_mm * part.count for part in wanted), Fraction(0))
    told = [("parts", plan.parts_mm2, parts_mm2), ("kerf", plan.kerf_mm2, kerf_mm2)]
    told += [("trim", plan.trim_mm2, trim_mm2), ("offcuts", plan.offcut_mm2, offcut_mm2)]
    wrong = [f"The {name} are {found} mm2 and the plan says {said} mm2." for name, said, found in told if said != found]
    if parts_mm2 + kerf_mm2 + trim_mm2 + offcut_mm2 != sheet_mm2:
        wrong.append("Parts, kerf, trim and offcuts do not add up to the sheets.")
    return wrong
