"""The same sheets with a larger rest: parts are moved from the emptiest sheet to the others, and no pattern is added."""

from __future__ import annotations

from collections.abc import Sequence

from estimator.costing.cutting.assembling import FilledSheet, sawn_sheets
from estimator.costing.cutting.effort import Effort
from estimator.costing.cutting.improving import OpenSheet, Refitting, opened
from estimator.costing.cutting.kerf import Grid

_TRIES, _TRIES_TO_LAY, _TASTES = 50, 4, 8


def tidied(*, grid: Grid, filled: Sequence[FilledSheet]) -> list[FilledSheet]:
    """The plan with the largest single offcut of those tried; the plan itself when none is better."""
    singles = [number for number, sheet in enumerate(filled) if sheet.count == 1]
    if len(singles) < 2:
        return list(filled)
    sheets = {number: opened(filled[number].stock, filled[number].laid) for number in singles}
    emptiest = min(singles, key=lambda number: (sheets[number].used, number))
    others = [number for number in singles if number != emptiest]
    refitting = Refitting(grid, tastes=_TASTES)
    last = sheets[emptiest]
    moved = False
    for _ in range(_TRIES):
        chosen = refitting.some(others)
        refilled = refitting.refilled([sheets[number] for number in chosen], [piece[0] for piece in last.laid], Effort(0))
        if refilled is None:
            continue
        fillings, aside = refilled
        fresh = [opened(filled[number].stock, laid) for number, laid in zip(chosen, fillings, strict=True)]
        if sum(sheet.used for sheet in fresh) <= sum(sheets[number].used for number in chosen):
            continue
        rest = _on_one_sheet(refitting, last.stock, aside)
        if rest is not None:
            sheets.update(zip(chosen, fresh, strict=True))
            sheets[emptiest] = last = rest
            moved = True
            if not aside:
                break
    after = [
        FilledSheet(sheet.stock, tuple(sheets[number].laid)) if number in sheets else sheet
        for number, sheet in enumerate(filled)
        if number not in sheets or sheets[number].laid
    ]
    return after if moved and _tidiness(after, grid) > _tidiness(filled, grid) else list(filled)


def _on_one_sheet(refitting: Refitting, stock: int, kinds: list[int]) -> OpenSheet | None:
    for _ in range(_TRIES_TO_LAY):
        refilled = refitting.refilled([OpenSheet(stock, [], 0)], kinds, Effort(0))
        if refilled and not refilled[1]:
            return opened(stock, refilled[0][0])
    return None


def _tidiness(filled: Sequence[FilledSheet], grid: Grid) -> tuple[int, int, int]:
    """Fewer sheets, then fewer patterns, then the larger largest offcut."""
    sheets = sawn_sheets(filled, grid)
    return -sum(sheet.count for sheet in sheets), -len(sheets), max(sheet.sawn.largest for sheet in sheets)
