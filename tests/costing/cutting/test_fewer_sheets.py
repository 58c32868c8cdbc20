"""One sheet fewer, and the same sheets with a larger rest: what is tried in which order and when it ends, with typed answers in place of the refilling."""

from __future__ import annotations

from collections.abc import Sequence

import pytest

from estimator.costing.cutting import improving, tidying
from estimator.costing.cutting.assembling import FilledSheet
from estimator.costing.cutting.effort import Effort
from estimator.costing.cutting.filling import Laid
from estimator.costing.cutting.improving import OpenSheet, Refitting, fewer_sheets, likely, opened
from estimator.costing.cutting.kerf import Grid, Kind
from estimator.costing.cutting.tidying import tidied

Answer = tuple[list[list[Laid]], list[int]] | None


def grid(*kinds: tuple[int, int, int], sheet: tuple[int, int] = (10, 10)) -> Grid:
    return Grid(1, 0, tuple(Kind(((along, across),), count, (row,)) for row, (along, across, count) in enumerate(kinds)), (sheet,))


def full(kind: int, across: int) -> list[Laid]:
    return [(kind, 0, 0, 10, across)]


# until the parts put aside are placed -------------------------------------------------------------------------------------------------------


class Answering(Refitting):
    """Takes the sheets that are typed, and gives the fillings that are typed; each try costs 10."""

    def __init__(self, choices: list[list[int]], answers: list[Answer]) -> None:
        super().__init__(grid((10, 5, 4)))
        self.choices, self.answers, self.seen = choices, answers, list[tuple[list[int], list[int]]]()

    def some(self, sheets: Sequence[OpenSheet], *, used: Sequence[int] = ()) -> list[OpenSheet]:  # type: ignore[override]
        assert list(used) == [sheet.used for sheet in sheets]
        return [sheets[place] for place in self.choices.pop(0)]

    def refilled(self, chosen: list[OpenSheet], aside: list[int], effort: Effort) -> Answer:
        effort.left -= 10
        self.seen.append(([sheet.used for sheet in chosen], list(aside)))
        return self.answers.pop(0)


@pytest.mark.parametrize(
    ("effort", "placed", "tries", "left"), [(100, True, 3, 70), (30, True, 3, 0), (21, True, 3, -9), (20, False, 2, 0), (11, False, 2, -9), (1, False, 1, -9), (0, False, 0, 0)]
)  # fmt: skip
def test_tries_go_on_until_all_is_placed_or_the_effort_is_spent(effort: int, placed: bool, tries: int, left: int) -> None:
    """The first try finds nothing, the second places one of two, the third the other."""
    sheets, aside, spent = [OpenSheet(0, full(0, 5), 50), OpenSheet(0, [], 0)], [0, 1], Effort(effort)
    trying = Answering([[0, 1], [1], [0, 1]], [None, ([full(0, 5)], [1]), ([full(0, 7), [*full(1, 6), (0, 0, 6, 10, 4)]], [])])
    assert trying.placed_all(sheets, aside, spent) is placed
    assert trying.seen == [([50, 0], [0, 1]), ([0], [0, 1]), ([50, 50], [1])][:tries]
    assert spent.left == left
    assert aside == ([], [1], [0, 1], [0, 1])[3 - tries]
    states = [([50, 0], 1), ([50, 0], 1), ([50, 50], 1), ([70, 100], 2)]
    assert [sheet.used for sheet in sheets] == states[tries][0]
    assert len(sheets[1].laid) == (0, 0, 1, 2)[tries]


def test_with_nothing_aside_or_no_sheets_nothing_is_tried() -> None:
    nothing = Answering([], [])
    assert nothing.placed_all([opened(0, full(0, 5))], [], Effort(100)) is True
    assert nothing.placed_all([], [0], Effort(100)) is False


# one sheet fewer ----------------------------------------------------------------------------------------------------------------------------


def fewer(monkeypatch: pytest.MonkeyPatch, answers: list[bool], *, bound: int, effort: int = 100, cost: int = 10) -> tuple[list[int], list[tuple[list[int], list[int]]]]:
    """Three sheets of 40, 90 and 60 by kinds 0, 1 and 2; what is used of each in the answer, and what was tried."""
    seen = []

    def placed_all(_: Refitting, sheets: list[OpenSheet], aside: list[int], left: Effort) -> bool:
        seen.append(([sheet.used for sheet in sheets], list(aside)))
        left.left -= cost
        sheets[0].used += 1
        return answers.pop(0)

    monkeypatch.setattr(Refitting, "placed_all", placed_all)
    plan = [opened(0, [*full(0, 3), (0, 0, 3, 10, 1)]), opened(0, full(1, 9)), opened(0, full(2, 6))]
    best = fewer_sheets(grid=grid((10, 4, 1), (10, 9, 1), (10, 6, 1)), plan=plan, bound=bound, effort=Effort(effort))
    assert [sheet.used for sheet in plan] == [40, 90, 60]
    return [sheet.used for sheet in best], seen


def test_the_emptiest_sheet_is_undone_first(monkeypatch: pytest.MonkeyPatch) -> None:
    assert fewer(monkeypatch, [True, True], bound=1) == ([92], [([90, 60], [0, 0]), ([91], [2])])


@pytest.mark.parametrize(
    ("answers", "bound", "effort", "used", "tries"),
    [
        ([], 3, 100, [40, 90, 60], 0), ([], 4, 100, [40, 90, 60], 0), ([True], 2, 100, [91, 60], 1), ([False], 1, 100, [40, 90, 60], 1), ([True, False], 1, 100, [91, 60], 2),
        ([], 1, 0, [40, 90, 60], 0), ([True], 1, 1, [91, 60], 1), ([True], 1, 10, [91, 60], 1), ([True, True], 1, 11, [92], 2),
    ],
)  # fmt: skip
def test_it_ends_at_the_bound_or_the_first_failure_or_without_effort(
    monkeypatch: pytest.MonkeyPatch, answers: list[bool], bound: int, effort: int, used: list[int], tries: int
) -> None:
    found, seen = fewer(monkeypatch, answers, bound=bound, effort=effort)
    assert (found, len(seen)) == (used, tries)


def test_a_plan_that_meets_its_bound_costs_no_thought(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(improving, "Refitting", None)
    plan = [opened(0, full(0, 5))]
    assert fewer_sheets(grid=grid((10, 5, 1)), plan=plan, bound=1, effort=Effort(9)) == plan


@pytest.mark.parametrize(
    ("kinds", "sheets", "answer"),
    [
        # with n pieces on s sheets at most 1 - s/(2 n) of their room: five on one 90 hundredths, ten on one 95, ten on two 90
        ([(10, 9, 1), *[(1, 0, 4)]], [(10, 10)], True), ([(9, 2, 5)], [(10, 10)], True), ([(7, 13, 1), (1, 0, 4)], [(10, 10)], False),
        ([(19, 5, 1), (1, 0, 9)], [(10, 10)], True), ([(96, 1, 1), (1, 0, 9)], [(10, 10)], False),
        ([(9, 2, 10)], [(10, 10), (10, 10)], True), ([(9, 2, 9), (19, 1, 1)], [(10, 10), (10, 10)], False), ([(9, 2, 9), (18, 1, 1)], [(20, 10)], True),
        ([(10, 5, 1)], [(10, 10)], True), ([(17, 3, 1)], [(10, 10)], False), ([(10, 5, 1)], [(10, 5), (5, 10)], False),
    ],
)  # fmt: skip
def test_whether_sheets_are_likely_to_hold_every_part(kinds: list[tuple[int, int, int]], sheets: list[tuple[int, int]], answer: bool) -> None:
    assert likely(grid(*kinds), sheets) is answer


# a larger rest ------------------------------------------------------------------------------------------------------------------------------


class Typed:
    """Stands for the refilling of a plan that is tidied: each choice of sheets and each filling is typed, with what must be asked."""

    def __init__(self, *steps: tuple[list[int], list[Laid], list[int], Answer], no_more: bool = False) -> None:
        self.steps, self.no_more = list(steps), no_more

    def __call__(self, grid: Grid, *, tastes: int) -> Typed:
        assert tastes == 8
        return self

    def some(self, others: list[int]) -> list[int]:
        assert self.steps or not self.no_more
        return self.steps[0][0] if self.steps else []

    def refilled(self, chosen: list[OpenSheet], kinds: list[int], effort: Effort) -> Answer:
        if not self.steps:
            return None
        _, laid, asked, answer = self.steps.pop(0)
        assert ([piece for sheet in chosen for piece in sheet.laid], kinds, effort) == (laid, asked, Effort(0))
        assert [sheet.used for sheet in chosen] == [sum(piece[3] * piece[4] for piece in sheet.laid) for sheet in chosen]
        return answer


BOARD = grid((10, 6, 2), (10, 3, 2), (10, 2, 3))
SIX, THREE, TWO_HIGH = (0, 0, 0, 10, 6), (1, 0, 0, 10, 3), (2, 0, 0, 10, 2)


def on(*laid: Laid, count: int = 1) -> FilledSheet:
    return FilledSheet(0, laid, count)


def test_parts_move_from_the_emptiest_sheet_and_the_rest_grows(monkeypatch: pytest.MonkeyPatch) -> None:
    """Sheets hold 6, 6 and 3 + 2 of 10. A try fails, one gains nothing, one cannot lay the rest anew; then the 3 moves, then the 2: a sheet fewer."""
    emptiest, moved = [THREE, (2, 0, 3, 10, 2)], [SIX, (1, 0, 6, 10, 3)]
    after = [SIX, (2, 0, 6, 10, 2)]
    steps = Typed(
        ([0], [SIX], [1, 2], None),
        ([1], [SIX], [1, 2], ([[SIX]], [1, 2])),
        ([0], [SIX], [1, 2], ([moved], [2])), *[([0], [], [2], None)] * 3, ([0], [], [2], ([[]], [2])),
        ([0], [SIX], [1, 2], ([moved], [2])), ([0], [], [2], None), ([0], [], [2], ([[TWO_HIGH]], [])),
        ([1], [SIX], [2], ([after], [])), ([1], [], [], ([[]], [])), no_more=True,
    )  # fmt: skip
    monkeypatch.setattr(tidying, "Refitting", steps)
    found = tidied(grid=BOARD, filled=[on(SIX), on(SIX), on(*emptiest)])
    assert found == [on(*moved), on(*after)]
    assert steps.steps == []


def test_of_several_sheets_only_those_that_lie_alone_are_changed_and_the_first_of_the_emptiest_is_emptied(monkeypatch: pytest.MonkeyPatch) -> None:
    """Two sheets alike stay as they are; of two with 5 each the first gives, and the others that may take are 2 and 3."""
    asked = []

    class Asked(Typed):
        def some(self, others: list[int]) -> list[int]:
            asked.append(list(others))
            return super().some(others)

    low, high = (THREE, (2, 0, 3, 10, 2)), (TWO_HIGH, (1, 0, 2, 10, 3))
    moved = [*high, (1, 0, 5, 10, 3)]
    steps = Asked(([3], [*high], [1, 2], ([moved], [2])), ([3], [], [2], ([[TWO_HIGH]], [])))
    monkeypatch.setattr(tidying, "Refitting", steps)
    filled = [on(SIX, count=2), on(*low), on(SIX, (1, 0, 6, 10, 3)), on(*high)]
    assert tidied(grid=BOARD, filled=filled) == [filled[0], on(TWO_HIGH), filled[2], on(*moved)]
    assert asked == [[2, 3]] * 50


@pytest.mark.parametrize(("piece", "kind", "rest"), [((1, 0, 6, 10, 3), 1, TWO_HIGH), ((2, 0, 6, 10, 2), 2, THREE)])
def test_a_part_moved_from_the_emptiest_sheet_leaves_a_larger_rest(monkeypatch: pytest.MonkeyPatch, piece: Laid, kind: int, rest: Laid) -> None:
    """6 and 3 + 2 on two sheets leave at most 10 x 5; with the 3 moved 10 x 8 and with the 2 moved 10 x 7, though less beside the 6."""
    other = 3 - kind
    steps = Typed(([0], [SIX], [1, 2], ([[SIX, piece]], [other])), ([0], [], [other], ([[rest]], [])))
    monkeypatch.setattr(tidying, "Refitting", steps)
    assert tidied(grid=BOARD, filled=[on(SIX), on(THREE, (2, 0, 3, 10, 2))]) == [on(SIX, piece), on(rest)]


def test_as_much_on_each_sheet_as_before_is_no_gain(monkeypatch: pytest.MonkeyPatch) -> None:
    steps = Typed(([1], [SIX], [0], ([[(0, 0, 4, 10, 6)]], [0])))
    monkeypatch.setattr(tidying, "Refitting", steps)
    before = [on(SIX), on(SIX)]
    assert tidied(grid=BOARD, filled=before) == before


def test_a_rest_as_large_as_before_is_no_gain(monkeypatch: pytest.MonkeyPatch) -> None:
    """10 x 20: X of 10 x 6 leaves 10 x 14 = 140. F of 10 x 19 takes 10 x 1 from E, where 4 x 10 then leaves 6 x 20 = 120; nothing is better than it was."""
    board = grid((10, 6, 1), (10, 19, 1), (4, 10, 1), (10, 1, 1), sheet=(10, 20))
    long, thin = (1, 0, 0, 10, 19), (3, 0, 19, 10, 1)
    before = [on(SIX), on(long), on((3, 0, 0, 10, 1), (2, 0, 1, 4, 10))]
    steps = Typed(([1], [long], [3, 2], ([[long, thin]], [2])), ([1], [], [2], ([[(2, 0, 0, 4, 10)]], [])))
    monkeypatch.setattr(tidying, "Refitting", steps)
    assert tidied(grid=board, filled=before) == before
    assert steps.steps == []


def test_a_pattern_more_is_no_gain_though_the_rest_were_larger(monkeypatch: pytest.MonkeyPatch) -> None:
    """Three sheets of two patterns, 6 + 2 twice and 3 + 2, tried as 6 + 2, 6 + 2 + 2 and 3: three patterns."""
    two = (SIX, (2, 0, 6, 10, 2))
    before = [on(*two), on(*two), on(THREE, (2, 0, 3, 10, 2))]
    steps = Typed(([1], [*two], [1, 2], ([[*two, (2, 0, 8, 10, 2)]], [1])), ([1], [], [1], ([[THREE]], [])))
    monkeypatch.setattr(tidying, "Refitting", steps)
    assert tidied(grid=BOARD, filled=before) == before
    assert steps.steps == []


@pytest.mark.parametrize("filled", [[], [on(SIX)], [on(SIX, count=3), on(THREE)], [on(SIX, count=2), on(THREE, count=2)]])
def test_with_fewer_than_two_sheets_that_lie_alone_nothing_is_tried(monkeypatch: pytest.MonkeyPatch, filled: list[FilledSheet]) -> None:
    monkeypatch.setattr(tidying, "Refitting", None)
    assert tidied(grid=BOARD, filled=filled) == filled
