"""How much work one board is worth: its pieces and how they lie in, a number of pieces laid or looked at out.

Work is counted, never timed, so that every machine makes the same plan; a million is about a quarter of a second. Where many
parts lie on a sheet, as in a shop, more work soon gains nothing; where few do, it gains long. The numbers were tried on
published problems and on boards of made-up jobs: `python -m tests.benchmarks.cutting`.
"""

from __future__ import annotations

from estimator.costing.cutting.kerf import Grid
from estimator.model.dataclass import dataclass

_FIRST, _A_PIECE, _ENOUGH = 100_000, 20_000, 2_100_000
_MANY_PIECES, _A_PIECE_MORE, _MOST = 250, 3_000, 5_000_000
_A_PIECE_SHOP, _A_PIECE_SQUARED = 800, 8
_FOR_A_LIKELY_SHEET, _FOR_AN_UNLIKELY_SHEET = 700_000, 170_000
_FOR_SEVERAL_SIZES, _CLOSE_SHARE = 1_600_000, 3


@dataclass(slots=True)
class Effort:
    """Work that may still be done, in pieces laid or looked at; shared by all tries on one board."""

    left: int


def effort_for_few_a_sheet(grid: Grid) -> Effort:
    """Few parts a sheet: work grows with the pieces, steeply while a job is small, then gently, up to a most."""
    return Effort(_improving(grid) * 3 // 2)


def effort_for_many_a_sheet(grid: Grid, *, likely: bool) -> Effort:
    """Many parts a sheet: a sixth of a second where a sheet fewer is likely, a try where it is not."""
    if likely:
        return Effort(max(_of_a_shop(grid), min(_FOR_A_LIKELY_SHEET, _improving(grid))))
    return Effort(min(_FOR_AN_UNLIKELY_SHEET, _of_a_shop(grid)))


def effort_for_several_sizes(grid: Grid, *, many_a_sheet: bool, close: bool) -> Effort:
    """Several sheet sizes; a third of it where the plan costs hardly more than the proof allows."""
    much = max(_FOR_SEVERAL_SIZES, _of_a_shop(grid) * 3 // 2) if many_a_sheet else _FOR_SEVERAL_SIZES
    return Effort(much // (_CLOSE_SHARE if close else 1))


def effort_to_the_rescue(grid: Grid) -> Effort:
    """When no quick plan found room for every part on what is on hand."""
    return Effort(_improving(grid))


def _improving(grid: Grid) -> int:
    pieces = _pieces(grid)
    return min(_MOST, min(_ENOUGH, _FIRST + _A_PIECE * pieces) + _A_PIECE_MORE * max(0, pieces - _MANY_PIECES))


def _of_a_shop(grid: Grid) -> int:
    pieces = _pieces(grid)
    return min(_improving(grid), (_A_PIECE_SHOP + _A_PIECE_SQUARED * pieces) * pieces)


def _pieces(grid: Grid) -> int:
    return sum(kind.count for kind in grid.kinds)
