"""One sheet filled on paper: which part is laid first, how the rest is parted, when a snug fit is preferred, when the filling is given up."""

from __future__ import annotations

import pytest

from estimator.costing.cutting.filling import (
    BY_TURNS,
    LARGER_REST,
    LONGER_REST,
    Laid,
    Lie,
    Room,
    SnugLies,
    Taste,
    filled_sheet,
    lies_by_worth,
    snug_lies,
)


def filled(
    room: Room | list[Room], lies: list[Lie], left: list[int], taste: Taste, *, waste: int = 10_000, exact: SnugLies | None = None
) -> tuple[list[Laid], int, list[int]]:
    """What is laid, the waste that may still be made, and what is still wanted."""
    rooms = room if isinstance(room, list) else [room]
    laid, still = filled_sheet(rooms=rooms, lies=lies, exact=snug_lies(lies) if exact is None else exact, left=left, taste=taste, waste=waste)
    return laid, still, left


def test_most_worth_stands_first_then_the_longer_then_the_wider_then_the_earlier_kind() -> None:
    lies = [(5, 2, 9, 0), (5, 3, 2, 1), (7, 1, 1, 2), (5, 3, 4, 4), (5, 3, 4, 3), (-1, 9, 9, 5)]
    assert lies_by_worth(lies) == [(7, 1, 1, 2), (5, 3, 4, 3), (5, 3, 4, 4), (5, 3, 2, 1), (5, 2, 9, 0), (-1, 9, 9, 5)]


def test_lies_are_found_by_their_extents() -> None:
    one, two, three = (8, 4, 2, 0), (9, 4, 3, 1), (7, 2, 3, 2)
    assert snug_lies(iter([one, two, three])) == ({4: [one, two], 2: [three]}, {2: [one], 3: [two, three]})


@pytest.mark.parametrize(
    ("room", "part", "parting", "turns", "second"),
    [
        # a part in a corner leaves beyond x above; crossed first the smaller rest lies above it, ripped first beside it
        pytest.param((10, 8), (6, 5), LONGER_REST, 0, (0, 5), id="4 beyond, 3 above: crossed"),
        pytest.param((10, 9), (6, 5), LONGER_REST, 0, (6, 0), id="4 beyond, 4 above: ripped"),
        pytest.param((10, 10), (6, 5), LONGER_REST, 0, (6, 0), id="4 beyond, 5 above: ripped"),
        pytest.param((24, 10), (17, 6), LONGER_REST, 0, (0, 6), id="7 beyond, 4 above, the longer: crossed"),
        pytest.param((24, 10), (17, 6), LARGER_REST, 0, (17, 0), id="7 x 10 beyond, 24 x 4 above, the larger: ripped"),
        pytest.param((10, 8), (6, 5), LARGER_REST, 0, (0, 5), id="4 x 8 beyond, 10 x 3 above: crossed"),
        pytest.param((10, 5), (6, 3), LARGER_REST, 0, (6, 0), id="4 x 5 beyond, 10 x 2 above, alike: ripped"),
        pytest.param((10, 8), (6, 5), BY_TURNS, 0, (6, 0), id="a turn of 0: ripped"),
        pytest.param((10, 10), (8, 7), BY_TURNS, 0, (8, 0), id="2 x 7 beside, 10 x 3 above"),
        pytest.param((10, 10), (7, 8), BY_TURNS, 1, (0, 8), id="3 x 10 beside, 7 x 2 above"),
        pytest.param((10, 9), (6, 5), BY_TURNS, 1, (0, 5), id="a turn of 1: crossed"),
        pytest.param((10, 9), (6, 5), BY_TURNS, 2, (6, 0), id="a turn of 2, whose first bit is 0: ripped"),
    ],
)
def test_how_the_rest_is_parted(room: tuple[int, int], part: tuple[int, int], parting: int, turns: int, second: tuple[int, int]) -> None:
    """A small part of 2 x 2 is laid next, in the smaller rest, so its place tells how the rest was parted."""
    lies = [(100, *part, 0), (4, 2, 2, 1)]
    laid, _, left = filled((3, 7, *room), lies, [1, 1], Taste(0, parting, turns))
    assert laid == [(0, 3, 7, *part), (1, 3 + second[0], 7 + second[1], 2, 2)]
    assert left == [0, 0]


@pytest.mark.parametrize(
    ("turns", "places"),
    [
        # 12 x 12, four parts of 5 x 4. Ripped: beside 7 x 4 (28), above 12 x 8; crossed: beside 7 x 12 (84), above 5 x 8 (40)
        (0b00, [(0, 0), (5, 0), (0, 4), (5, 4)]),
        (0b01, [(0, 0), (0, 4), (0, 8), (5, 0)]),
        (0b10, [(0, 0), (5, 0), (0, 4), (0, 8)]),
    ],
)
def test_the_bits_of_the_turns_are_used_one_by_one(turns: int, places: list[tuple[int, int]]) -> None:
    """Ripped first, 7 x 4 takes the second part and leaves a sliver 2 x 4, which takes no turn; then 12 x 8 is parted by the next bit."""
    laid, _, _ = filled((0, 0, 12, 12), [(20, 5, 4, 0)], [4], Taste(0, BY_TURNS, turns))
    assert [one[1:3] for one in laid] == places


def test_a_part_as_long_or_as_wide_as_its_room_leaves_one_rest() -> None:
    lies = [(60, 10, 6, 0), (14, 7, 2, 1), (6, 3, 2, 2), (4, 2, 2, 3)]
    laid, still, left = filled((0, 0, 10, 8), lies, [1, 1, 2, 1], Taste(0, BY_TURNS))
    assert laid == [(0, 0, 0, 10, 6), (1, 0, 6, 7, 2), (2, 7, 6, 3, 2)]
    assert (still, left) == (10_000, [0, 0, 1, 1])
    wide, still, _ = filled((1, 2, 8, 10), [(60, 6, 10, 0), (4, 2, 2, 1)], [1, 1], Taste(0, BY_TURNS))
    assert wide == [(0, 1, 2, 6, 10), (1, 7, 2, 2, 2)]
    assert still == 10_000 - 2 * 8


def test_two_rests_alike_are_filled_the_one_above_first() -> None:
    """6 x 6 with 4 x 4, ripped: beside 2 x 4 = 8, above 6 x 2 = 12. 8 x 6 with 4 x 4: beside 4 x 4 = 16, above 8 x 2 = 16, alike."""
    assert filled((0, 0, 8, 6), [(16, 4, 4, 0), (4, 2, 2, 1)], [1, 1], Taste(0, BY_TURNS))[0] == [(0, 0, 0, 4, 4), (1, 0, 4, 2, 2)]


def test_rooms_are_filled_from_the_last() -> None:
    laid, _, _ = filled([(0, 0, 5, 5), (9, 9, 2, 2)], [(25, 5, 5, 0), (4, 2, 2, 1)], [1, 2], Taste(0, BY_TURNS))
    assert laid == [(1, 9, 9, 2, 2), (0, 0, 0, 5, 5)]


@pytest.mark.parametrize(("waste", "still", "placed"), [(30, 0, 2), (29, -1, 2), (23, -1, 1), (24, -6, 2), (31, 1, 2), (0, -24, 1)])
def test_the_filling_is_given_up_once_more_is_wasted_than_may_be(waste: int, still: int, placed: int) -> None:
    """Rooms of 6 x 4 = 24 and 3 x 2 = 6 hold nothing; between them a part is laid that fills its room of 5 x 5."""
    rooms = [(0, 0, 3, 2), (3, 3, 5, 5), (20, 0, 6, 4), (30, 0, 5, 5)]
    laid, left_over, _ = filled(rooms, [(25, 5, 5, 0)], [5], Taste(0, BY_TURNS), waste=waste)
    assert (left_over, len(laid)) == (still, placed)


# a snug fit ---------------------------------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("snug", "worth", "size", "chosen"),
    [
        # room 10 x 8; a part 4 x 3 worth 120 counts 1200. As long as the room: 10 + snug tenths; both ways: 10 + 2 snug
        (2, 100, (10, 5), 0), (2, 101, (10, 5), 1), (0, 119, (10, 5), 0), (6, 75, (10, 5), 0), (6, 76, (10, 5), 1),
        (2, 100, (7, 8), 0), (2, 101, (7, 8), 1), (6, 75, (7, 8), 0), (6, 76, (7, 8), 1), (0, 119, (7, 8), 0),
        (5, 60, (10, 8), 0), (5, 61, (10, 8), 1), (1, 100, (10, 8), 0), (1, 101, (10, 8), 1),
        (2, 119, (10, 9), 0), (2, 119, (11, 8), 0), (2, 119, (9, 7), 0),
    ],
)  # fmt: skip
def test_a_snug_fit_is_preferred_by_so_many_tenths(snug: int, worth: int, size: tuple[int, int], chosen: int) -> None:
    lies = [(120, 4, 3, 0), (worth, *size, 1)]
    laid, _, _ = filled((0, 0, 10, 8), lies, [1, 1], Taste(snug, BY_TURNS))
    assert laid[0][0] == chosen


@pytest.mark.parametrize(("first", "second", "chosen"), [(100, 100, 1), (100, 101, 2), (101, 100, 1), (84, 100, 2), (100, 84, 1)])
def test_of_two_snug_fits_the_one_worth_more_and_of_two_alike_the_one_as_long(first: int, second: int, chosen: int) -> None:
    """Both beat a part worth 90 that is not snug: 2 tenths more than 84 is 1008, than 100 is 1200."""
    lies = lies_by_worth([(90, 4, 3, 0), (first, 10, 5, 1), (second, 7, 8, 2)])
    assert filled((0, 0, 10, 8), lies, [1, 1, 1], Taste(2, BY_TURNS))[0][0][0] == chosen
    both_long = lies_by_worth([(90, 4, 3, 0), (first, 10, 6, 1), (second, 10, 5, 2)])
    assert filled((0, 0, 10, 8), both_long, [1, 1, 1], Taste(2, BY_TURNS))[0][0][0] == chosen
    both_wide = lies_by_worth([(90, 4, 3, 0), (first, 6, 8, 1), (second, 5, 8, 2)])
    assert filled((0, 0, 10, 8), both_wide, [1, 1, 1], Taste(2, BY_TURNS))[0][0][0] == chosen


def test_a_snug_part_that_is_used_up_is_not_laid() -> None:
    """The lists of snug lies hold every kind, also those of which none is wanted any more."""
    every = [(120, 4, 3, 0), (119, 10, 5, 1), (119, 7, 8, 2), (119, 10, 8, 3)]
    laid, _, left = filled((0, 0, 10, 8), every[:1], [1, 0, 0, 0], Taste(6, BY_TURNS), exact=snug_lies(every))
    assert laid == [(0, 0, 0, 4, 3)]
    assert left == [0, 0, 0, 0]


def test_what_fits_snugly_only_is_laid_with_its_own_size() -> None:
    lies = [(120, 4, 3, 0), (110, 10, 5, 1)]
    laid, still, left = filled((2, 1, 10, 8), lies, [1, 1], Taste(2, BY_TURNS))
    assert laid == [(1, 2, 1, 10, 5), (0, 2, 6, 4, 3)]
    assert (still, left) == (10_000 - 6 * 3, [0, 0])


# many lies ----------------------------------------------------------------------------------------------------------------------------------


def crowd(many: int, size: tuple[int, int] = (30, 30)) -> list[Lie]:
    """Lies that fit no room here, worth 900 and more."""
    return [(900 + many - number, *size, 1) for number in range(many)]


@pytest.mark.parametrize(
    ("many", "dearest", "laid"),
    [(15, 1, 1), (16, 1, 0), (16, 0, 1), (16, 2, 1), (15, 2, 1)],
    ids=["16 lies: all are looked at", "17 lies: what is dearer than can fit is passed over", "not known", "not too dear", "16, not too dear"],
)
def test_with_more_than_sixteen_lies_those_too_dear_for_the_room_are_passed_over(many: int, dearest: int, laid: int) -> None:
    """A lie of 3 x 2 says that it is worth 11, more than its area and less than twice that; the room of 5 x 2 = 10 could hold one worth 10 at most."""
    lies = [*crowd(many), (11, 3, 2, 0)]
    found, still, _ = filled((0, 0, 5, 2), lies, [1, 1], Taste(0, BY_TURNS, dearest=dearest))
    assert found == [(0, 0, 0, 3, 2)][:laid]
    assert still == 10_000 - (10, 4)[laid]


@pytest.mark.parametrize(("worth", "laid"), [(10, 1), (11, 0)])
def test_a_lie_as_dear_as_the_room_is_looked_at(worth: int, laid: int) -> None:
    assert len(filled((0, 0, 5, 2), [*crowd(16), (worth, 3, 2, 0)], [1, 1], Taste(0, BY_TURNS, dearest=1))[0]) == laid


@pytest.mark.parametrize("room", [(3, 2), (3, 9), (9, 2)])
def test_a_room_as_small_as_the_least_lie_is_filled(room: tuple[int, int]) -> None:
    laid, _, _ = filled((0, 0, *room), [*crowd(17), (6, 3, 2, 0)], [1, 1], Taste(0, BY_TURNS, dearest=1))
    assert laid == [(0, 0, 0, 3, 2)]


def test_the_first_that_fits_is_laid_however_many_stand_before_it() -> None:
    lies = [*crowd(17), (30, 6, 5, 2), (28, 7, 4, 3), (6, 3, 2, 0)]
    laid, _, _ = filled((0, 0, 8, 6), lies, [1, 1, 0, 1], Taste(0, BY_TURNS, dearest=1))
    assert laid == [(3, 0, 0, 7, 4), (0, 0, 4, 3, 2)]
