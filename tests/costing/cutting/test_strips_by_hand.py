"""Sheets begun in strips, on paper: the row of numbers is typed, and so is every place and every room that is left."""

from __future__ import annotations

import pytest

from estimator.costing.cutting.filling import Laid, Lie, Room
from estimator.costing.cutting.striping import striped
from tests.costing.cutting.scripted import Scripted

LYING, STANDING = (3, 1), (3, 0)


def begun(
    room: tuple[int, int], lies: list[Lie], left: list[int], *numbers: tuple[int, int]
) -> tuple[list[Laid], list[Room], list[int]]:
    row = Scripted(*numbers)
    laid, rooms = striped(length=room[0], width=room[1], lies=lies, left=left, below=row.below)
    assert row.pairs == []
    return laid, rooms, left


def test_one_strip_lying_with_two_parts_alike() -> None:
    """10 x 6, led by 4 x 3: two make 8 of 10, with 3 x 3 they would make 11 or 7. Left are 2 x 3 at its end and 10 x 3 above."""
    lies = [(12, 4, 3, 0), (9, 3, 3, 1), (10, 5, 2, 2)]
    assert begun((10, 6), lies, [2, 1, 1], LYING, (5, 0), (3, 0)) == ([(0, 0, 0, 4, 3), (0, 4, 0, 4, 3)], [(0, 3, 10, 3), (8, 0, 2, 3)], [0, 1, 1])


@pytest.mark.parametrize("lying", [1, 2])
def test_two_numbers_of_three_make_strips_lie(lying: int) -> None:
    assert begun((10, 6), [(12, 4, 3, 0)], [1], (3, lying), (5, 0), (1, 0))[0] == [(0, 0, 0, 4, 3)]
    assert begun((10, 6), [(12, 4, 3, 0)], [1], (3, lying), (5, 0), (1, 0))[1] == [(0, 3, 10, 3), (4, 0, 6, 3)]
    assert begun((10, 6), [(12, 4, 3, 0)], [1], STANDING, (5, 0), (1, 0))[1] == [(4, 0, 6, 6), (0, 3, 4, 3)]


def test_two_strips_standing_with_a_part_a_sixth_narrower() -> None:
    """12 x 20. The first strip is 6 wide and holds 9 + 7 of 20, the 7 being 5 wide, with 1 beside it; the second is 5 wide and holds 7; 1 x 20 is left beyond."""
    laid, rooms, left = begun((12, 20), [(54, 6, 9, 0), (35, 5, 7, 1)], [1, 2], STANDING, (5, 1), (2, 0), (1, 0))
    assert laid == [(0, 0, 0, 6, 9), (1, 0, 9, 5, 7), (1, 6, 0, 5, 7)]
    assert rooms == [(6, 7, 5, 13), (0, 16, 6, 4), (11, 0, 1, 20), (5, 9, 1, 7)]
    assert left == [0, 0]


@pytest.mark.parametrize(
    ("across", "other", "second"),
    [(12, 10, True), (12, 9, False), (12, 12, True), (12, 13, False), (11, 10, True), (11, 9, False), (6, 5, True), (6, 4, False), (5, 4, False), (5, 5, True), (18, 15, True), (18, 14, False)],
)  # fmt: skip
def test_how_much_narrower_than_its_strip_a_part_may_be(across: int, other: int, second: bool) -> None:
    """A strip of 18 takes parts of 15, which is a sixth less; of 11 a whole sixth is 1, of 5 none. What is wider than the strip never lies in it."""
    lies = [(900, 4, across, 0), (90, 3, other, 1)]
    laid, rooms, _ = begun((9, 20), lies, [1, 1], LYING, (5, 0), (2, 0))
    assert [one[0] for one in laid] == [0, 1][: 1 + second]
    above = [(4, other, 3, across - other)] if second and other < across else []
    beyond = [(7, 0, 2, across)] if second else [(4, 0, 5, across)]
    assert sorted(rooms) == sorted([*above, *beyond, (0, across, 9, 20 - across)])


@pytest.mark.parametrize(("leader", "high"), [(0, 5), (1, 4), (2, 3)])
def test_a_strip_is_led_by_one_of_the_three_worth_most_that_fit(leader: int, high: int) -> None:
    """The first is too long, the second too wide, one is used up; of the five after them three may lead."""
    lies = [(99, 11, 2, 0), (98, 2, 9, 1), (97, 2, 5, 2), (96, 6, 5, 3), (95, 7, 4, 4), (94, 8, 3, 5), (93, 9, 2, 6), (92, 9, 1, 7)]
    laid, _, left = begun((10, 8), lies, [1, 1, 0, 1, 1, 1, 1, 1], LYING, (5, 0), (3, leader))
    assert laid[0] == (3 + leader, 0, 0, 6 + leader, high)
    assert sum(left) == 7 - len(laid)


def test_parts_as_long_as_the_strip_and_as_wide_as_the_room_lead_too() -> None:
    """10 x 4: the strip takes all of the room and nothing is left."""
    assert begun((10, 4), [(40, 10, 4, 0)], [1], LYING, (5, 4), (1, 0)) == ([(0, 0, 0, 10, 4)], [], [0])


def test_strips_end_where_no_part_is_left_or_the_room_is_full_or_their_count_is_reached() -> None:
    assert begun((10, 9), [(20, 10, 2, 0)], [2], LYING, (5, 4), (1, 0), (1, 0)) == ([(0, 0, 0, 10, 2), (0, 0, 2, 10, 2)], [(0, 4, 10, 5)], [0])
    assert begun((10, 4), [(20, 10, 2, 0)], [3], LYING, (5, 4), (1, 0), (1, 0)) == ([(0, 0, 0, 10, 2), (0, 0, 2, 10, 2)], [], [1])
    assert begun((10, 9), [(20, 10, 2, 0)], [4], LYING, (5, 1), (1, 0), (1, 0)) == ([(0, 0, 0, 10, 2), (0, 0, 2, 10, 2)], [(0, 4, 10, 5)], [2])
    assert begun((10, 9), [(99, 11, 2, 0)], [4], LYING, (5, 1)) == ([], [(0, 0, 10, 9)], [4])


@pytest.mark.parametrize(
    ("lies", "left", "laid"),
    [
        # 20 long, 6 high. Whatever leaves least; where several do, what stands first is taken
        ([(60, 8, 6, 0), (42, 7, 6, 1), (30, 5, 6, 2)], [2, 1, 1], [0, 1, 2]),  # 8 + 7 + 5 = 20, 8 + 8 = 16
        ([(60, 8, 6, 0), (42, 7, 6, 1), (24, 4, 6, 2)], [2, 1, 1], [0, 0, 2]),  # 8 + 8 + 4
        ([(60, 9, 6, 0), (42, 6, 6, 1)], [2, 3], [0, 0]),  # 18 in two ways: 9 + 9 before 6 + 6 + 6
        ([(60, 10, 6, 0), (42, 10, 6, 1)], [1, 2], [0, 1]),
        ([(60, 7, 6, 0)], [9], [0, 0]),  # three would be 21
        ([(60, 5, 6, 0)], [9], [0, 0, 0, 0]),  # exactly 20
        ([(60, 19, 6, 0), (40, 1, 6, 1)], [1, 5], [0, 1]),
        ([(60, 13, 6, 0), (40, 20, 6, 1), (40, 6, 6, 2)], [1, 1, 1], [1]),  # led by the first, filled by the second
        # what is as wide as the strip is preferred to what is narrower, though it be worth less
        ([(70, 10, 5, 0), (60, 8, 6, 1), (50, 12, 6, 2), (20, 12, 5, 3)], [1, 1, 1, 1], [1, 2]),
        # a part that may be turned lies in the strip one way only, as wide as the strip where it can be
        ([(70, 6, 5, 0), (70, 5, 6, 0), (60, 10, 6, 1)], [2, 1], [0, 0, 1]),  # twice 5 and 10: as 5 x 6
    ],
)  # fmt: skip
def test_the_parts_that_leave_least_of_a_strip(lies: list[Lie], left: list[int], laid: list[int]) -> None:
    wide = next(number for number, lie in enumerate(lies) if lie[2] == 6)
    found, _, _ = begun((20, 6), lies, left, LYING, (5, 0), (min(3, len(lies)), wide))
    assert [one[0] for one in found] == laid
    places = [0]
    for one in found:
        places.append(places[-1] + one[3])
    assert [(one[1], one[2]) for one in found] == [(place, 0) for place in places[:-1]]


def test_a_part_that_may_be_turned_and_is_narrower_both_ways_lies_as_it_is_worth_most() -> None:
    """12 high: 11 x 10 and 10 x 11 are both narrower by less than a sixth; two lie the first way, 11 + 11 of 22, though 10 + 11 would go too."""
    lies = [(300, 1, 12, 0), (110, 11, 10, 1), (110, 10, 11, 1)]
    laid, rooms, left = begun((23, 12), lies, [1, 2], LYING, (5, 0), (3, 0))
    assert laid == [(0, 0, 0, 1, 12), (1, 1, 0, 11, 10), (1, 12, 0, 11, 10)]
    assert rooms == [(1, 10, 11, 2), (12, 10, 11, 2)]
    assert left == [0, 0]


def test_within_a_strip_the_widest_lie_first_then_by_kind_then_by_length() -> None:
    lies = [(99, 3, 5, 2), (98, 4, 6, 3), (97, 5, 6, 1), (96, 2, 5, 0)]
    laid, _, _ = begun((14, 6), lies, [1, 1, 1, 1], LYING, (5, 0), (3, 1))
    assert laid == [(1, 0, 0, 5, 6), (3, 5, 0, 4, 6), (0, 9, 0, 2, 5), (2, 11, 0, 3, 5)]


@pytest.mark.parametrize(("length", "strips"), [(100_000, 1), (100_001, 0)])
def test_no_strip_is_begun_on_too_fine_a_grid(length: int, strips: int) -> None:
    numbers = [LYING, (5, 0), (1, 0)][: 2 + strips]
    laid, rooms, _ = begun((length, 4), [(4, length - 5, 4, 0)], [1], *numbers)
    assert laid == [(0, 0, 0, length - 5, 4)][:strips]
    assert rooms == ([(length - 5, 0, 5, 4)] if strips else [(0, 0, length, 4)])


def test_the_largest_room_stands_first_and_of_two_alike_the_one_nearer_to_the_corner() -> None:
    """Two strips 2 high on 10 x 4, each with 4 left at its end."""
    laid, rooms, left = begun((10, 4), [(12, 6, 2, 0)], [2], LYING, (5, 2), (1, 0), (1, 0))
    assert laid == [(0, 0, 0, 6, 2), (0, 0, 2, 6, 2)]
    assert rooms == [(6, 0, 4, 2), (6, 2, 4, 2)]
    assert left == [0]
