"""Weights and what they prove, worked on paper: every weight of a whole of 10 and of 12, and boards whose bound only one of the proofs gives."""

from __future__ import annotations

import pytest

from estimator.costing.cutting import proofs
from estimator.costing.cutting.kerf import Kind
from estimator.costing.cutting.proofs import _spread, proven_sheets, weightings


def kind(along: int, across: int, count: int, *, either: bool = False) -> Kind:
    lies = ((along, across), (across, along)) if either and along != across else ((along, across),)
    return Kind(lies, count, (0,))


def test_every_weight_of_a_whole_of_ten() -> None:
    """Rounded into p: (p + 1) e / 10, its whole part times 10, or p e where nothing is over. Step s: all from over 10 - s, nothing under s.

    Folded by s: twice the steps in it, over half twice what the rest leaves of those in the whole.
    """
    plain = ({3: 3, 4: 4, 6: 6, 7: 7}, 10)
    rounded = [
        ({3: 0, 4: 0, 6: 10, 7: 10}, 10),  # twice: 6, 8, 12, 14
        ({3: 0, 4: 10, 6: 10, 7: 20}, 20),  # three times: 9, 12, 18, 21
        ({3: 10, 4: 10, 6: 20, 7: 20}, 30),  # four times: 12, 16, 24, 28
        ({3: 10, 4: 16, 6: 24, 7: 30}, 40),  # five times: 15, 20 (4 x 4), 30 (4 x 6), 35
        ({3: 10, 4: 20, 6: 30, 7: 40}, 50),  # six times: 18, 24, 36, 42
    ]
    steps = [({3: 0, 4: 4, 6: 6, 7: 10}, 10)]  # by 4; by 3 is the plain one, by 5 the first of the rounded
    folded = [({3: 2, 4: 2, 6: 4, 7: 4}, 6), ({3: 0, 4: 2, 6: 2, 7: 4}, 4)]  # by 3: three in 10; by 4: two
    assert weightings(whole=10, extents={3, 4, 6, 7}, most=60) == [plain, *rounded, *steps, *folded]


def test_the_weight_of_a_half_and_of_the_whole() -> None:
    found = weightings(whole=12, extents={5, 6, 12}, most=60)
    assert found == [
        ({5: 5, 6: 6, 12: 12}, 12),
        ({5: 0, 6: 6, 12: 12}, 12), ({5: 12, 6: 12, 12: 24}, 24), ({5: 12, 6: 18, 12: 36}, 36), ({5: 24, 6: 24, 12: 48}, 48), ({5: 24, 6: 30, 12: 60}, 60),
        # by 5: 12 holds two; half of it counts as half of them. By 6: 5 none, 6 two of four
        ({5: 2, 6: 2, 12: 4}, 4), ({5: 0, 6: 2, 12: 4}, 4),
    ]  # fmt: skip


def test_steps_are_tried_at_what_an_extent_over_half_leaves() -> None:
    """Of a whole of 100, 70 leaves 30: by a step of 31 it weighs as all of it, and 20 nothing. 100 itself leaves no step."""
    (found,) = [weights for weights in weightings(whole=100, extents={20, 70, 100}, most=60) if weights == ({20: 0, 70: 100, 100: 100}, 100)]
    assert found[1] == 100
    by_step = [weigh for weigh, whole in weightings(whole=100, extents={45, 70, 100}, most=60) if whole == 100]
    # plain; in two: 90, 140, 200 over 100; by 31: 45 stays, 70 is all; by 45: the same
    assert by_step == [{45: 45, 70: 70, 100: 100}, {45: 0, 70: 100, 100: 100}, {45: 45, 70: 100, 100: 100}]


@pytest.mark.parametrize(
    ("values", "most", "taken"),
    [
        (range(1, 10), 9, list(range(1, 10))), (range(1, 10), 10, list(range(1, 10))), (range(1, 10), 1, [1]), (range(1, 10), 2, [1, 9]), (range(1, 10), 3, [1, 5, 9]),
        (range(1, 10), 4, [1, 3, 6, 9]), (range(1, 10), 8, [1, 2, 3, 4, 5, 6, 7, 9]), ([], 3, []), ([4], 1, [4]), ([4, 6], 1, [4]),
    ],
)  # fmt: skip
def test_values_are_taken_evenly(values: range | list[int], most: int, taken: list[int]) -> None:
    assert _spread(values, most) == taken


@pytest.mark.parametrize(("most", "steps"), [(7, 1), (8, 1), (9, 1), (10, 2), (11, 2), (12, 3), (0, 1)])
def test_how_many_steps_are_tried(most: int, steps: int) -> None:
    """Half of what is left beyond the plain one and the five rounded ones, at least one; as many again are folded. Extents 20 to 49 of 100."""
    found = weightings(whole=100, extents=set(range(20, 50)), most=most)
    assert len(found) == 6 + 2 * steps - 1  # the least step, 20, takes nothing off and is the plain one again


def test_the_whole_itself_makes_no_step() -> None:
    """90 of 100 leaves 10, so with one step only it is by 11: 90 weighs as all, and 20 to 49 as they are."""
    found = weightings(whole=100, extents={*range(20, 50), 90, 100}, most=8)
    assert ({**{extent: extent for extent in range(20, 50)}, 90: 100, 100: 100}, 100) in found


@pytest.mark.parametrize(("kinds", "most"), [(0, 447), (1, 447), (2, 316), (4, 223), (2000, 10), (3000, 8), (4000, 8)])
def test_how_many_functions_a_proof_tries(monkeypatch: pytest.MonkeyPatch, kinds: int, most: int) -> None:
    """The root of 200,000 over the kinds, at least eight."""
    tried = []

    def weights(*, whole: int, extents: set[int], most: int) -> list[object]:
        tried.append((whole, most))
        return []

    monkeypatch.setattr(proofs, "weightings", weights)
    assert proven_sheets(kinds=[kind(6, 2, 1)] * kinds, length=10, width=9) == 0 or kinds
    assert tried == [(10, most), (9, most)]


# what they prove ----------------------------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("kinds", "sheet", "sheets"),
    [
        pytest.param([], (10, 10), 0, id="nothing"),
        pytest.param([kind(10, 10, 3)], (10, 10), 3, id="whole sheets"),
        pytest.param([kind(5, 5, 4)], (10, 10), 1, id="four quarters"),
        pytest.param([kind(5, 5, 5)], (10, 10), 2, id="five quarters"),
        pytest.param([kind(6, 2, 5)], (10, 10), 1, id="over half along, five deep"),
        pytest.param([kind(6, 2, 6)], (10, 10), 2, id="six deep"),
        pytest.param([kind(2, 6, 6)], (10, 10), 2, id="six beside each other"),
        pytest.param([kind(6, 6, 3)], (10, 10), 3, id="over half both ways, each a sheet"),
        pytest.param([kind(6, 5, 3)], (10, 10), 2, id="over half along, half across: two a sheet"),
        pytest.param([kind(34, 34, 9)], (100, 100), 3, id="over a third both ways: four a sheet"),
        pytest.param([kind(34, 34, 8)], (100, 100), 2, id="eight"),
        pytest.param([kind(26, 34, 13)], (100, 100), 3, id="over a quarter and over a third: six a sheet"),
        pytest.param([kind(26, 34, 12)], (100, 100), 2, id="twelve"),
        pytest.param([kind(60, 51, 2), kind(45, 45, 1)], (100, 100), 2, id="two large ones, each a sheet"),
        pytest.param([kind(70, 100, 2), kind(31, 100, 2)], (100, 100), 3, id="70 and 31 share no sheet, 31 and 31 do"),
        pytest.param([kind(70, 100, 2), kind(30, 100, 2)], (100, 100), 2, id="70 and 30 do"),
        # parts that may be turned weigh as they lie lightest
        pytest.param([kind(60, 55, 3, either=True)], (100, 100), 3, id="over half both ways, however turned"),
        pytest.param([kind(60, 20, 10, either=True)], (100, 100), 2, id="area alone: 1.2"),
        pytest.param([kind(90, 30, 2, either=True)], (100, 50), 2, id="too long to be turned, so no two side by side"),
        pytest.param([kind(30, 90, 2, either=True)], (50, 100), 2, id="the same, standing"),
        pytest.param([kind(60, 26, 5, either=True)], (100, 50), 5, id="60 does not stand on 50, and lying over half both ways each takes a sheet"),
        pytest.param([kind(60, 26, 5, either=True)], (50, 100), 5, id="the same, turned"),
        # 7 x 6 and four of 6 x 2. In a plan and the plan turned, what lies over half along stands one above the other: 6 + 7 + 4 x 2 = 21 of 2 x 10
        pytest.param([kind(7, 6, 1, either=True), kind(6, 2, 4, either=True)], (10, 10), 2, id="only a plan and the same plan turned prove it"),
        pytest.param([kind(7, 6, 1, either=True), kind(6, 2, 3, either=True)], (10, 10), 1, id="19 of 20"),
        pytest.param([kind(7, 6, 1, either=True), kind(6, 2, 3, either=True), kind(6, 2, 1)], (10, 10), 2, id="one of them may not be turned, on a square sheet"),
        pytest.param([kind(7, 6, 1, either=True), kind(6, 2, 4, either=True)], (10, 11), 1, id="the sheet is not square"),
        pytest.param([kind(7, 6, 1, either=True), kind(6, 2, 4)], (10, 10), 2, id="one way only, and no weight is known for them turned: over half along, 6 + 4 x 2 deep"),
        pytest.param([kind(7, 6, 1, either=True), kind(2, 6, 4)], (10, 10), 2, id="the same, standing"),
        pytest.param([kind(6, 5, 6, either=True), kind(6, 3, 4, either=True)], (10, 10), 4, id="6 x 11 + 4 x 3 = 78 of 20 a sheet"),
        pytest.param([kind(6, 6, 2), kind(7, 3, 5, either=True)], (10, 10), 3, id="two squares, and beside each one of the five: a square counts in both plans"),
        pytest.param([kind(6, 4, 1, either=True), kind(6, 4, 4)], (10, 10), 2, id="four lie one way, the fifth in the rest of one: 120 of 200"),
        pytest.param([kind(7, 3, 3, either=True), kind(3, 7, 5)], (10, 10), 2, id="eight of 21 are 168"),
    ],
)  # fmt: skip
def test_sheets_that_no_plan_can_do_without(kinds: list[Kind], sheet: tuple[int, int], sheets: int) -> None:
    assert proven_sheets(kinds=kinds, length=sheet[0], width=sheet[1]) == sheets
