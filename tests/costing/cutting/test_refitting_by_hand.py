"""Sheets undone and refilled, on paper: the row of numbers is typed, and so are the new fillings and the effort that each try spends."""

from __future__ import annotations

import pytest

from estimator.costing.cutting.effort import Effort
from estimator.costing.cutting.filling import Lie, snug_lies
from estimator.costing.cutting.improving import OpenSheet, Refitting, opened
from estimator.costing.cutting.kerf import Grid, Kind
from estimator.costing.cutting.shuffled import ShuffledNumbers
from tests.costing.cutting.scripted import Scripted

TURNS = 1 << 30
PLAIN, NO_STRIPS = ((4, 0), (TURNS, 0)), (4, 1)
"""No liking for a snug fit, rips first; not begun in strips, where few pieces lie on a sheet."""


def grid(kinds: list[tuple[tuple[tuple[int, int], ...], int]], *sheets: tuple[int, int]) -> Grid:
    return Grid(1, 0, tuple(Kind(lies, count, (row,)) for row, (lies, count) in enumerate(kinds)), sheets)


TWO = grid([(((6, 10),), 1), (((4, 10), (10, 4)), 2)], (10, 10), (10, 4))
"""A part of 6 x 10, and two of 4 x 10 that may be turned."""


def refitting(board: Grid, *numbers: tuple[int, int], tastes: int = 48, table: dict[int, list[list[Lie]]] | None = None) -> tuple[Refitting, Scripted]:
    """With its numbers, and the worths under some tastes, typed."""
    found, row = Refitting(board, tastes=tastes), Scripted(*numbers)
    found._numbers = row  # type: ignore[assignment]
    found._tables.update({number: (lies, snug_lies(lie for two in lies for lie in two)) for number, lies in (table or {}).items()})
    return found, row


@pytest.mark.parametrize(("number", "spread"), [(0, 20), (1, 60), (2, 100), (3, 20), (46, 60), (47, 100)])
def test_the_worth_of_each_lie_under_a_taste(number: int, spread: int) -> None:
    """Its area times a hundred and up to 19, 59 or 99 more, by a row of numbers that begins with the number of the taste."""
    row = ShuffledNumbers(number)
    first, second, third = (100 + row.below(spread) for _ in range(3))
    lies, exact = Refitting(TWO)._table(number)
    assert lies == [[(60 * first, 6, 10, 0)], [(40 * second, 4, 10, 1), (40 * third, 10, 4, 1)]]
    assert exact == snug_lies([*lies[0], *lies[1]])


def test_the_row_of_numbers_begins_with_one() -> None:
    row, found = ShuffledNumbers(1), Refitting(TWO)
    assert [found._numbers.below(1000) for _ in range(4)] == [row.below(1000) for _ in range(4)]


# which sheets -------------------------------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("pieces", "sheets", "used", "numbers", "chosen"),
    [
        # fewer than seven pieces a sheet: two or three at once; from seven on one, two or two
        (13, "ab", (), [(2, 0), (2, 1), (2, 0)], "ba"), (13, "ab", (), [(2, 1), (2, 0), (2, 0), (2, 1)], "ab"),
        (27, "abcd", (), [(2, 1), (4, 3), (4, 3), (4, 1), (4, 0)], "dba"), (27, "abcd", (), [(2, 0), (4, 3), (4, 1)], "db"),
        (14, "ab", (), [(3, 0), (2, 1)], "b"), (14, "ab", (), [(3, 1), (2, 1), (2, 0)], "ba"), (14, "ab", (), [(3, 2), (2, 1), (2, 0)], "ba"),
        (13, "a", (), [(3, 1), (1, 0)], "a"), (6, "a", (), [(2, 1), (1, 0)], "a"),
        # the emptier of two, the first of two as full
        (14, "abc", (5, 3, 4), [(2, 0), (3, 0), (3, 1), (3, 2), (3, 0)], "bc"), (27, "abcd", (5, 3, 4, 4), [(2, 0), (4, 3), (4, 2), (4, 2), (4, 3)], "dc"),
    ],
)  # fmt: skip
def test_which_sheets_are_refilled(pieces: int, sheets: str, used: tuple[int, ...], numbers: list[tuple[int, int]], chosen: str) -> None:
    found, row = refitting(grid([(((1, 1),), pieces)], (10, 10)), *numbers)
    assert "".join(found.some(sheets, used=used)) == chosen
    assert row.pairs == []


# how they are refilled ----------------------------------------------------------------------------------------------------------------------


def sheet(*laid: tuple[int, int, int, int, int], stock: int = 0) -> OpenSheet:
    return opened(stock, laid)


def test_an_open_sheet_knows_the_area_of_its_parts() -> None:
    assert opened(3, ((0, 0, 0, 6, 10), (1, 6, 0, 4, 9))) == OpenSheet(3, [(0, 0, 0, 6, 10), (1, 6, 0, 4, 9)], 96)


def test_the_part_put_aside_finds_room_beside_the_others() -> None:
    """A try costs 40, 1 for each of two kinds; the sheet 6, and each of two pieces 4 and a third of three lies: 42 + 6 + 2 x 5 = 58."""
    found, row = refitting(TWO, (48, 5), *PLAIN, NO_STRIPS, table={5: [[(6000, 6, 10, 0)], [(4100, 4, 10, 1), (4000, 10, 4, 1)]]})
    effort = Effort(1000)
    assert found.refilled([sheet((0, 4, 0, 6, 10))], [1], effort) == ([[(0, 0, 0, 6, 10), (1, 6, 0, 4, 10)]], [])
    assert (effort.left, row.pairs) == (1000 - 58, [])


def test_what_finds_no_room_stays_aside_unless_more_is_wasted_than_before() -> None:
    """Taken by worth: 10 x 4 turned first leaves 10 x 6, into which 10 x 4 goes again, not 6 x 10: 20 are wasted of the 40 that were."""
    table = {7: [[(6000, 6, 10, 0)], [(6100, 4, 10, 1), (6200, 10, 4, 1)]]}
    found, _ = refitting(TWO, (8, 7), *PLAIN, NO_STRIPS, tastes=8, table=table)
    effort = Effort(0)
    assert found.refilled([sheet((0, 0, 0, 6, 10))], [1, 1], effort) == ([[(1, 0, 0, 10, 4), (1, 0, 4, 10, 4)]], [0])
    assert effort.left == -58
    # with one of them it would be 60
    found, row = refitting(TWO, (48, 7), *PLAIN, NO_STRIPS, table=table)
    effort = Effort(0)
    assert found.refilled([sheet((0, 0, 0, 6, 10))], [1], effort) is None
    assert (effort.left, row.pairs) == (-(42 + 6 + 5), [])


@pytest.mark.parametrize(("many", "wasted"), [(40, True), (41, False)])
def test_two_sheets_share_the_waste_that_may_be_made(many: int, wasted: bool) -> None:
    """Sheets of 10 x 10 and 10 x 4. Their parts fill 100 of 140, so 40 may be wasted: all of the second, once the first holds both. One less may not."""
    board = grid([(((6, 10),), 1), (((4, 10),), 1), (((1, 1),), 1)], (10, 10), (10, 4))
    first, second = OpenSheet(0, [(0, 0, 0, 6, 10)], 60), OpenSheet(1, [(1, 0, 0, 4, 10)], many)
    found, row = refitting(
        board, (48, 0), *PLAIN, NO_STRIPS, (4, 3), (TURNS, 1), NO_STRIPS, table={0: [[(60, 6, 10, 0)], [(40, 4, 10, 1)], [(1, 1, 1, 2)]]}
    )  # fmt: skip
    answer = found.refilled([first, second], [], Effort(0))
    assert answer == (([[(0, 0, 0, 6, 10), (1, 6, 0, 4, 10)], []], []) if wasted else None)
    assert row.pairs == []


@pytest.mark.parametrize(
    ("liking", "worth", "first"), [(0, 1199, 0), (1, 1090, 0), (1, 1091, 1), (2, 923, 0), (2, 924, 1), (3, 666, 0), (3, 667, 1)]
)
def test_how_much_a_snug_fit_is_liked(liking: int, worth: int, first: int) -> None:
    """0, 1, 3 or 8 tenths more for a part as long as the sheet of 10 x 8, beside one worth 1200 that is not."""
    board = grid([(((4, 3),), 1), (((10, 5),), 1)], (10, 8))
    found, _ = refitting(board, (48, 0), (4, liking), (TURNS, 0), NO_STRIPS, table={0: [[(1200, 4, 3, 0)], [(worth, 10, 5, 1)]]})
    answer = found.refilled([sheet((0, 0, 0, 4, 3))], [1], Effort(0))
    assert answer is not None
    assert answer[0][0][0][0] == first


@pytest.mark.parametrize(("turns", "place"), [(0, (6, 0)), (1, (0, 5))])
def test_the_turns_come_from_the_row_of_numbers(turns: int, place: tuple[int, int]) -> None:
    board = grid([(((6, 5),), 1), (((2, 2),), 1)], (10, 9))
    found, _ = refitting(board, (48, 0), (4, 0), (TURNS, turns), NO_STRIPS, table={0: [[(300, 6, 5, 0)], [(40, 2, 2, 1)]]})
    answer = found.refilled([sheet((0, 0, 0, 6, 5))], [1], Effort(0))
    assert answer == ([[(0, 0, 0, 6, 5), (1, *place, 2, 2)]], [])


@pytest.mark.parametrize(("pieces", "seldom"), [(6, 4), (7, 2)])
def test_one_sheet_in_four_is_begun_in_strips_and_one_in_two_where_many_pieces_lie_on_it(pieces: int, seldom: int) -> None:
    """Parts of 3 x 2 on 10 x 10. A strip that stands, 3 wide, holds five; the others are filled in from where it ends."""
    board = grid([(((3, 2),), pieces)], (10, 10))
    found, row = refitting(board, (48, 0), *PLAIN, (seldom, 0), (3, 0), (5, 0), (1, 0), table={0: [[(600, 3, 2, 0)]]})
    effort = Effort(0)
    answer = found.refilled([sheet(*[(0, 0, 0, 3, 2)] * (pieces - 1))], [0], effort)
    assert answer is not None
    assert answer[0][0][:6] == [(0, 0, y, 3, 2) for y in (0, 2, 4, 6, 8)] + [(0, 3, 0, 3, 2)]
    assert (row.pairs, effort.left) == ([], -(41 + 6 + pieces * 4))


@pytest.mark.parametrize(("pieces", "seldom"), [(13, 4), (14, 2)])
def test_where_few_pieces_lie_on_each_of_two_sheets_one_in_four_is_begun_in_strips(pieces: int, seldom: int) -> None:
    board = grid([(((3, 2),), pieces)], (10, 10))
    found, row = refitting(board, (48, 0), *PLAIN, (seldom, 1), *PLAIN, (seldom, 1), table={0: [[(600, 3, 2, 0)]]})
    assert found.refilled([sheet(*[(0, 0, 0, 3, 2)] * (pieces - 1)), OpenSheet(0, [], 0)], [0], Effort(0)) is not None
    assert row.pairs == []


def test_no_lie_is_looked_at_that_says_it_is_worth_more_than_two_hundred_times_the_room() -> None:
    """Eighteen kinds, of which sixteen fit nowhere; a part of 3 x 2 in a room of 5 x 2 = 10 may say 2000, not 2001. The area of the sheet's part is told as 0."""
    board = grid([*[(((30, 30),), 1)] * 17, (((3, 2),), 1)], (5, 2))
    for worth, laid in ((2000, [(17, 0, 0, 3, 2)]), (2001, [])):
        table = {0: [*[[(9999 - number, 30, 30, number)] for number in range(17)], [(worth, 3, 2, 17)]]}
        found, _ = refitting(board, (48, 0), *PLAIN, (2, 1), table=table)
        answer = found.refilled([OpenSheet(0, [(number, 0, 0, 30, 30) for number in range(17)], 0)], [17], Effort(0))
        assert answer is not None
        assert answer[0] == [laid]
