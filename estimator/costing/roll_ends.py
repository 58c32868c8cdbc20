"""Strips to rolls: the job, its parts and what stays at the bench in; which strips come from which roll, so that none is joined, out.

Nothing that is priced rests on it (A12 counts metres). A width is planned when its roll length or a roll end is known: otherwise it
comes off one long roll, from which any strip can be cut.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from estimator.costing.cutting.strips import strips_from_rolls
from estimator.costing.edging import strip_length_mm
from estimator.model.cutting_plan import CutRoll, RollPlan
from estimator.model.exact import Fraction
from estimator.model.problems import Remark
from estimator.model.records import Job
from estimator.model.shop_records import Edging, RollEnd
from estimator.model.taken import Part, RollUse, SmallParts
from estimator.model.units import MM_PER_M, length_words, run_words

NONE = Fraction(0)
_MOST_STRIPS = 3_000
"""With more strips of one width no plan is made: nobody cuts so many from roll ends."""


def rolls_of_job(job: Job, parts: Sequence[Part], *, sent: Sequence[str], small: Sequence[SmallParts]) -> tuple[RollUse, ...]:
    """A plan for every width that is cut at the bench and comes from rolls of a known length, in the order of Edgings."""
    strips = bench_strips(parts, sent=sent, small=small)
    return tuple(
        _roll_use(row, strips[id(row)], ends)
        for row in job.edgings
        if id(row) in strips
        for ends in [ends_of(job, row)]
        if (ends or row.roll_length_m is not None) and sum(strips[id(row)].values()) <= _MOST_STRIPS
    )


def bench_strips(parts: Sequence[Part], *, sent: Sequence[str], small: Sequence[SmallParts]) -> dict[int, dict[Fraction, int]]:
    """Strip lengths and their counts by row of Edgings: of what is banded by hand, and of parts too small to be sent."""
    stays = {(one.edging, id(part)) for one in small for part in one.parts}
    found: dict[int, dict[Fraction, int]] = {}
    for part in parts:
        for band in part.bands:
            row = band.edging
            if row.edging in sent and (row.edging, id(part)) not in stays:
                continue
            length_mm = strip_length_mm(edge_mm=band.length_mm, overhang_mm=row.overhang_mm)
            counts = found.setdefault(id(row), {})
            counts[length_mm] = counts.get(length_mm, 0) + part.count
    return found


def ends_of(job: Job, row: Edging) -> tuple[RollEnd, ...]:
    """The roll ends of one width; one that names no width is of the edging's only width."""
    return tuple(end for end in job.roll_ends if end.edging == row.edging and end.width_mm in (None, row.width_mm))


def _roll_use(row: Edging, strips: dict[Fraction, int], ends: Sequence[RollEnd]) -> RollUse:
    pieces = tuple(end.length_m * MM_PER_M for end in ends for _ in range(end.count))
    total_mm = sum((length_mm * count for length_mm, count in strips.items()), start=NONE)
    roll_mm = None if row.roll_length_m is None else row.roll_length_m * MM_PER_M
    new_mm = total_mm if roll_mm is None else roll_mm
    longest_mm = max((*pieces, new_mm))
    plan, cut = _planned({length_mm: count for length_mm, count in strips.items() if length_mm <= longest_mm}, pieces, new_mm)
    return RollUse(
        edging=row,
        strips=sum(strips.values()),
        strip_m=total_mm / MM_PER_M,
        ends_m=sum(pieces, start=NONE) / MM_PER_M,
        rolls=tuple(_off_one_roll(roll) if roll.new and roll_mm is None else roll for roll in plan.rolls),
        new_rolls=plan.new_rolls,
        bound=plan.bound,
        too_long_mm=tuple(length_mm for length_mm in sorted(strips) if length_mm > longest_mm),
        ends=tuple(ends),
        left_over_mm=tuple(length_mm for length_mm in sorted(cut) if cut[length_mm] < strips[length_mm]),
    )


def _planned(strips: dict[Fraction, int], ends_mm: Sequence[Fraction], new_mm: Fraction) -> tuple[RollPlan, dict[Fraction, int]]:
    """The plan, and how many strips of each length are in it: of those longer than a new roll as many as the roll ends hold."""
    cut = {
        length_mm: strips[length_mm] if length_mm <= new_mm else min(strips[length_mm], sum(end_mm // length_mm for end_mm in ends_mm))
        for length_mm in sorted(strips, reverse=True)
    }
    while True:
        plan = strips_from_rolls(strips=list(cut.items()), on_hand_mm=ends_mm, new_roll_mm=new_mm)
        if isinstance(plan, RollPlan):
            return plan, cut
        cut[list(cut)[plan.left_over[0]]] -= 1  # no new roll is long enough for it, and the roll ends are wanted by others


def _off_one_roll(roll: CutRoll) -> CutRoll:
    """Where no roll length is known: as much as its strips take, off one long roll."""
    return replace(roll, length_mm=sum(roll.strips_mm, start=NONE))


def roll_remarks(rolls: Sequence[RollUse], *, units: str) -> Iterator[Remark]:
    """Strips that no roll can give in one piece, and roll ends that hold the metres but not the lengths."""
    for use in rolls:
        ends, strips, on_hand = (run_words(one, units=units) for one in (use.ends_m, use.strip_m, use.edging.on_hand_m))
        if use.too_long_mm:
            words = ", ".join(length_words(length_mm, units=units) for length_mm in use.too_long_mm)
            yield Remark(
                use.edging.at.place("Roll length"),
                f"{use.edging.edging}: strips of {words} are longer than every roll: they would have to be joined",
            )
        if use.left_over_mm:
            words = ", ".join(length_words(length_mm, units=units) for length_mm in use.left_over_mm)
            yield Remark(
                use.edging.at.place("Roll length"),
                f"{use.edging.edging}: strips of {words} are longer than a new roll, and the roll ends do not hold all of them: "
                "the others would have to be joined",
            )
        if use.new_rolls and use.ends and use.ends_m >= use.strip_m:
            yield Remark(
                use.ends[0].at.place("Length"),
                f"the roll ends of {use.edging.edging} hold {ends}, enough for the {strips} of strips, but not in their lengths: "
                "a new roll is needed",
            )
        if use.ends and use.ends_m > use.edging.on_hand_m:
            yield Remark(
                use.edging.at.place("On hand"),
                f"{use.edging.edging}: its roll ends hold {ends} and On hand says {on_hand}; the buy list goes by On hand: "
                "put right the one that is wrong",
            )
