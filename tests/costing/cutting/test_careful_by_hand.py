"""Plans with care, on paper: the row of numbers is typed, and so is every sheet, which stock it is of, and the effort of each try."""

from __future__ import annotations

import pytest

from estimator.costing.cutting import careful
from estimator.costing.cutting.assembling import FilledSheet
from estimator.costing.cutting.careful import _Careful, careful_plans
from estimator.costing.cutting.effort import Effort
from estimator.costing.cutting.filling import Lie, snug_lies
from estimator.costing.cutting.kerf import Grid, Kind
from estimator.costing.cutting.shuffled import ShuffledNumbers
from estimator.model.cutting_plan import StockSheet
from estimator.model.exact import Fraction
from tests.costing.cutting.scripted import Scripted

F = Fraction
TURNS, STARTS = 1 << 40, [(1 << 30, 5 + number) for number in range(16)]
TRY = [(16, 0), (4, 0), (TURNS, 0), (2, 1)]
"""The first taste, no liking for a snug fit, rips first, no strips."""


def grid(*kinds: tuple[tuple[tuple[int, int], ...], int], sheets: tuple[tuple[int, int], ...] = ((10, 4),)) -> Grid:
    return Grid(1, 0, tuple(Kind(lies, count, (row,)) for row, (lies, count) in enumerate(kinds)), sheets)


def stock(*sheets: tuple[int | str | Fraction, int, bool]) -> list[StockSheet]:
    return [StockSheet(F(1), F(1), F(0), F(price), on_hand, buyable) for price, on_hand, buyable in sheets]


def planned(
    board: Grid, prices: list[StockSheet], numbers: list[tuple[int, int]], *, tries: int = 8, favoured: int = -1, effort: int = 10_000, worths: dict[int, list[Lie]] | None = None
) -> tuple[list[tuple[int, int, list[int]]] | None, int]:  # fmt: skip
    """Stock, count and kinds of each sheet, and the effort spent; every number must have been asked for."""
    spent, row = Effort(effort), Scripted(*STARTS, *numbers)
    plan = _Careful(board, prices, spent, row)  # type: ignore[arg-type]
    for number, lies in (worths or {}).items():
        plan._tables[number] = lies, snug_lies(lies)
    found = plan.plan(tries, favoured)
    assert row.pairs == []
    sheets = None if found is None else [(one.stock, one.count, [piece[0] for piece in one.laid]) for one in found]
    return sheets, effort - spent.left


BUY, PART = (10, 0, True), (((5, 4),), 2)


@pytest.mark.parametrize(("number", "spread"), [(0, 20), (1, 60), (2, 100), (3, 20), (15, 20), (14, 100)])
def test_the_worth_of_each_lie_under_a_taste(number: int, spread: int) -> None:
    """Its area times a hundred and up to 19, 59 or 99 more, by a row of numbers of the taste's own; most worth first."""
    row = ShuffledNumbers(5 + number)
    first, second, third = (100 + row.below(spread) for _ in range(3))
    made = _Careful(grid((((6, 10),), 1), (((4, 10), (10, 4)), 2)), stock(BUY), Effort(0), Scripted(*STARTS))  # type: ignore[arg-type]
    lies, exact = made._table(number)
    assert lies == sorted([(60 * first, 6, 10, 0), (40 * second, 4, 10, 1), (40 * third, 10, 4, 1)], reverse=True)
    assert exact == snug_lies(lies)


@pytest.mark.parametrize(
    ("board", "prices", "numbers", "sheets", "spent"),
    [
        # a try costs 4 and a quarter of the lies; each piece 4 and an eighth of them. What places all ends the tries
        pytest.param(grid(PART), stock(BUY), [(10, 3), *TRY], [(0, 1, [0, 0])], 4 + 2 * 4, id="both on one sheet, at once"),
        pytest.param(grid((((5, 4),), 5)), stock(BUY), [(10, 3), *TRY, *TRY], [(0, 2, [0, 0]), (0, 1, [0])], 12 + 8, id="nothing wasted ends the tries too; repeated while it lasts"),
        pytest.param(grid((((6, 4),), 2)), stock(BUY), [(10, 3), *TRY * 8], [(0, 2, [0])], 8 * 8, id="4 x 4 wasted: eight tries, none better"),
        pytest.param(grid((((5, 4),), 1), (((3, 4),), 1), (((2, 4),), 1), (((1, 4),), 1)), stock(BUY), [(10, 0), *TRY, *TRY], [(0, 1, [0, 1, 2]), (0, 1, [3])], (5 + 3 * 4) + (4 + 4), id="four lies make a try dearer by one"),
        pytest.param(grid(*[(((1, 4),), 1)] * 8), stock(BUY), [(10, 0), *TRY], [(0, 1, [7, 6, 5, 4, 3, 2, 1, 0])], 6 + 8 * 5, id="eight lies make a try dearer by two and a piece by one"),
    ],
)  # fmt: skip
def test_a_careful_plan(board: Grid, prices: list[StockSheet], numbers: list[tuple[int, int]], sheets: list[tuple[int, int, list[int]]], spent: int) -> None:
    lies = [(kind.area * 100, *kind.lies[0], number) for number, kind in enumerate(board.kinds)]
    found, effort = planned(board, prices, numbers, worths={0: sorted(lies, reverse=True)})
    assert found == sheets
    assert effort == spent


@pytest.mark.parametrize(("tries", "stocks", "made"), [(8, 1, 8), (9, 1, 9), (5, 1, 5), (4, 1, 4), (3, 1, 4), (1, 1, 4), (16, 2, 10), (8, 2, 5), (17, 2, 11), (12, 3, 6), (4, 3, 4)])
def test_how_many_tries_a_sheet_gets(tries: int, stocks: int, made: int) -> None:
    """Twice the tries over one more than the stocks, at least four; a part of 6 x 4 wastes some of each sheet every time. Only the first stock is there."""
    prices = stock(BUY, *[(10, 0, False)] * (stocks - 1))
    board = grid((((6, 4),), 2), sheets=((10, 4),) * stocks)
    found, _ = planned(board, prices, [*[(10, 0)] * stocks, *TRY * made], tries=tries)
    assert found == [(0, 2, [0])]


def test_a_filling_that_wastes_less_takes_the_place_of_one_that_wastes_more() -> None:
    """10 x 8. By the first taste a part of 7 x 6 is laid and 7 x 2 above it; by the second 6 x 6 with 4 x 6 beside and 10 x 2 above, which wastes nothing."""
    board = grid((((7, 6),), 1), (((6, 6),), 1), (((4, 6),), 1), (((10, 2),), 1), (((7, 2),), 1), sheets=((10, 8),))
    first: list[Lie] = [(4200, 7, 6, 0), (1400, 7, 2, 4)]
    second: list[Lie] = [(3600, 6, 6, 1), (2400, 4, 6, 2), (2000, 10, 2, 3)]
    other = [(16, 1), *TRY[1:]]
    lies = {0: [*first, (3, 6, 6, 1), (2, 4, 6, 2), (1, 10, 2, 3)], 1: [*second, (2, 7, 6, 0), (1, 7, 2, 4)]}
    for numbers in ([*TRY, *other], other):
        found, _ = planned(board, stock(BUY), [(10, 0), *numbers, *TRY], worths=lies)
        assert found == [(0, 1, [1, 3, 2]), (0, 1, [0, 4])]


def test_a_filling_that_wastes_one_step_may_still_be_bettered() -> None:
    """20 of 21 are filled at every try, so all eight are made."""
    found, _ = planned(grid((((20, 1),), 2), sheets=((21, 1),)), stock(BUY), [(10, 0), *TRY * 8])
    assert found == [(0, 2, [0])]


def test_a_filling_given_up_costs_its_effort_too() -> None:
    """6 x 4 leaves 4 x 4 = 16 of 40; another try may waste 15: it lays one part, wastes 16 and is given up."""
    _, spent = planned(grid((((6, 4),), 2)), stock(BUY), [(10, 0), *TRY * 4], tries=4)
    assert spent == 4 * (4 + 4)


# which stock --------------------------------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("sizes", "prices", "favours", "favoured", "chosen"),
    [
        # one part of 5 x 4; its area times the favour over the price: 100 and up to 9 more, 20 more for the one that is favoured
        (((5, 4), (5, 4)), [(10, 0, True), (10, 0, True)], (0, 0), -1, 0), (((5, 4), (5, 4)), [(10, 0, True), (10, 0, True)], (0, 1), -1, 1),
        (((5, 4), (5, 4)), [(10, 0, True), (10, 0, True)], (9, 8), -1, 0), (((5, 4), (5, 4)), [(10, 0, True), (12, 0, True)], (0, 0), 1, 0),
        (((5, 4), (5, 4)), [(100, 0, True), (119, 0, True)], (0, 0), 1, 1), (((5, 4), (5, 4)), [(100, 0, True), (121, 0, True)], (0, 1), 1, 0), (((5, 4), (5, 4)), [(119, 0, True), (100, 0, True)], (0, 0), 0, 0),
        (((5, 4), (5, 4)), [(100, 0, True), (108, 0, True)], (0, 9), -1, 1), (((5, 4), (5, 4)), [(100, 0, True), (109, 0, True)], (0, 9), -1, 0),
        # on hand and for nothing: by how full it is, 10^20 a full sheet
        (((9, 9), (5, 4)), [(1, 1, True), (1, 0, True)], (0, 0), -1, 0), (((9, 9), (5, 4)), [(1, 0, True), (900, 1, False)], (0, 0), -1, 1), (((9, 9), (5, 4)), [(0, 0, True), (1, 0, True)], (0, 0), -1, 0),
        (((9, 9), (5, 4)), [(0, 0, True), (5, 1, True)], (0, 0), -1, 1), (((5, 4), (5, 5)), [(5, 1, True), (0, 0, True)], (0, 0), -1, 0),
        (((5, 4), (5, 4)), [(F(2000, 10**20), 0, True), (5, 1, True)], (0, 0), -1, 0), (((5, 4), (5, 4)), [(F(2000, 10**20 - 1), 0, True), (5, 1, True)], (0, 0), -1, 1), (((5, 4), (5, 4)), [(5, 1, True), (F(2000, 10**20 + 1), 0, True)], (0, 0), -1, 1),
    ],
)  # fmt: skip
def test_which_stock_a_sheet_is_of(
    sizes: tuple[tuple[int, int], ...], prices: list[tuple[int | str, int, bool]], favours: tuple[int, ...], favoured: int, chosen: int
) -> None:
    found, _ = planned(grid((((5, 4),), 1), sheets=sizes), stock(*prices), [*[(10, favour) for favour in favours], *TRY, *TRY], favoured=favoured)
    assert found == [(chosen, 1, [0])]


def test_the_fuller_for_its_money_in_both_directions() -> None:
    """12 x 1 and 4 x 4, each on a sheet of its own: 36 for 10 beats 32 for 12, lying and standing."""
    for sizes, long in ((((12, 3), (4, 8)), ((12, 1),)), (((3, 12), (8, 4)), ((1, 12),))):
        board = grid((long, 3), (((4, 4),), 2), sheets=sizes)
        worths = {0: [(1600, 4, 4, 1), (1200, *long[0], 0)]}
        # each sheet is filled at once; then the first stock, which holds no 4 x 4, is tried five times, and the second once
        found, _ = planned(board, stock((10, 0, True), (12, 0, True)), [(10, 0), (10, 0), *TRY * 2, *TRY * 5, *TRY], worths=worths)
        assert found == [(0, 1, [0, 0, 0]), (1, 1, [1, 1])]


def test_what_is_on_hand_runs_out_and_then_the_plan_buys_or_is_none() -> None:
    board = grid((((5, 4),), 5))
    assert planned(board, stock((10, 1, True)), [(10, 0), *TRY * 3])[0] == [(0, 1, [0, 0]), (0, 1, [0, 0]), (0, 1, [0])]
    assert planned(board, stock((10, 3, True)), [(10, 0), *TRY * 2])[0] == [(0, 2, [0, 0]), (0, 1, [0])]
    assert planned(board, stock((10, 2, False)), [(10, 0), *TRY])[0] is None
    assert planned(board, stock((10, 0, False)), [(10, 0)])[0] is None
    assert planned(board, stock((10, 3, False)), [(10, 0), *TRY * 2])[0] == [(0, 2, [0, 0]), (0, 1, [0])]
    two = grid((((5, 4),), 3), sheets=((10, 4), (5, 4)))
    assert planned(two, stock((10, 1, False), (10, 0, True)), [(10, 0), (10, 0), *TRY * 3])[0] == [(0, 1, [0, 0]), (1, 1, [0])]


@pytest.mark.parametrize(("effort", "sheets"), [(20, [(0, 2, [0, 0]), (0, 1, [0])]), (13, [(0, 2, [0, 0]), (0, 1, [0])]), (12, None), (1, None), (0, None)])
def test_a_plan_for_which_the_effort_does_not_last_is_none(effort: int, sheets: object) -> None:
    numbers = [(10, 0), *TRY * (2 if effort > 12 else 1 if effort else 0)]
    assert planned(grid((((5, 4),), 5)), stock(BUY), numbers, effort=effort)[0] == sheets


# tastes -------------------------------------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(("liking", "worth", "first"), [(0, 1199, 0), (1, 1090, 0), (1, 1091, 1), (2, 923, 0), (2, 924, 1), (3, 666, 0), (3, 667, 1)])
def test_how_much_a_snug_fit_is_liked(liking: int, worth: int, first: int) -> None:
    board = grid((((4, 3),), 1), (((10, 5),), 1), sheets=((10, 8),))
    found, _ = planned(board, stock(BUY), [(10, 0), (16, 3), (4, liking), (TURNS, 0), (2, 1)], worths={3: [(1200, 4, 3, 0), (worth, 10, 5, 1)]})
    assert found is not None
    assert found[0][2][0] == first


@pytest.mark.parametrize(("turns", "laid"), [(0, ((0, 0, 0, 6, 5), (1, 6, 0, 2, 2))), (1, ((0, 0, 0, 6, 5), (1, 0, 5, 2, 2)))])
def test_the_turns_come_from_the_row_of_numbers(turns: int, laid: object) -> None:
    board = grid((((6, 5),), 1), (((2, 2),), 1), sheets=((10, 9),))
    row = Scripted(*STARTS, (10, 0), (16, 0), (4, 0), (TURNS, turns), (2, 1))
    assert _Careful(board, stock(BUY), Effort(99), row).plan(8, -1) == [FilledSheet(0, laid)]  # type: ignore[arg-type]


def test_every_other_sheet_is_begun_in_strips() -> None:
    """Parts of 3 x 2 on 10 x 10: a strip that stands, 3 wide, holds five, and the sixth lies where it ends."""
    row = Scripted(*STARTS, (10, 0), (16, 0), (4, 0), (TURNS, 0), (2, 0), (3, 0), (5, 0), (1, 0))
    effort = Effort(99)
    (sheet,) = _Careful(grid((((3, 2),), 6), sheets=((10, 10),)), stock(BUY), effort, row).plan(8, -1) or []  # type: ignore[arg-type]
    assert sheet == FilledSheet(0, (*[(0, 0, y, 3, 2) for y in (0, 2, 4, 6, 8)], (0, 3, 0, 3, 2)))
    assert effort.left == 99 - (4 + 6 * 4)


@pytest.mark.parametrize(("worth", "placed"), [(2000, True), (2001, False)])
def test_no_lie_is_looked_at_that_says_it_is_worth_more_than_two_hundred_times_the_room(worth: int, placed: bool) -> None:
    board = grid(*[(((30, 30),), 1)] * 17, (((3, 2),), 1), sheets=((5, 2),))
    made = _Careful(board, stock(BUY), Effort(999), Scripted(*STARTS, *TRY * 4))  # type: ignore[arg-type]
    lies = [*[(9999 - number, 30, 30, number) for number in range(17)], (worth, 3, 2, 17)]
    made._tables[0] = lies, snug_lies(lies)
    laid, _ = made._fullest(0, [1] * 18, 4)
    assert laid == ([(17, 0, 0, 3, 2)] if placed else [])


# plan after plan ----------------------------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(("stocks", "favoured"), [(1, [-1, 0] * 6 + [-1]), (2, [-1, 0, 1] * 4 + [-1]), (3, [-1, 0, 1, 2] * 3 + [-1])])
def test_thirteen_plans_each_with_numbers_tries_and_a_favourite_of_its_own(monkeypatch: pytest.MonkeyPatch, stocks: int, favoured: list[int]) -> None:
    seen = []

    class Spied:
        def __init__(self, _: Grid, __: object, effort: Effort, numbers: ShuffledNumbers) -> None:
            self.effort, self.first = effort, numbers.below(1 << 30)

        def plan(self, tries: int, favoured: int) -> list[FilledSheet] | None:
            self.effort.left -= 10
            seen.append((self.first, tries, favoured))
            return None if len(seen) == 2 else [FilledSheet(0, (), len(seen))]

    monkeypatch.setattr(careful, "_Careful", Spied)
    board, prices = grid(PART), stock(*[BUY] * stocks)
    assert [plan[0].count for plan in careful_plans(board, prices, Effort(1000))] == [1, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13]
    tries = (8, 64, 192, 64, 16, 192, 64, 16, 192, 64, 16, 192, 64)
    assert seen == [(ShuffledNumbers(10 + number).below(1 << 30), many, one) for number, (many, one) in enumerate(zip(tries, favoured, strict=True))]
    for effort, many in ((0, 0), (1, 1), (10, 1), (11, 2), (20, 2), (21, 3)):
        seen.clear()
        assert len(list(careful_plans(board, prices, Effort(effort)))) == many - (many > 1)
        assert len(seen) == many
