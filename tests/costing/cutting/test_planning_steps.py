"""The steps of a cutting plan, each alone: what is asked of which search with how much effort, which answer is kept, and when it ends. All figures typed."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import pytest

from estimator.costing.cutting import planning
from estimator.costing.cutting.assembling import FilledSheet
from estimator.costing.cutting.effort import Effort
from estimator.costing.cutting.improving import OpenSheet
from estimator.costing.cutting.kerf import Grid, Kind
from estimator.model.cutting_plan import StockSheet, Unplaceable, WantedPart
from estimator.model.exact import Fraction

F = Fraction


def sheet(length: int, width: int, *, price: str | int = 9, on_hand: int = 0, buyable: bool = True, trim: int = 0) -> StockSheet:
    return StockSheet(F(length), F(width), F(trim), F(price), on_hand, buyable)


def grid(pieces: int, *sheets: tuple[int, int]) -> Grid:
    return Grid(1, 0, (Kind(((5, 4),), pieces, (0,)),), sheets or ((10, 10),))


def on(stock: int, pieces: int = 1, count: int = 1) -> FilledSheet:
    """A sheet with so many pieces; where they lie is of no matter here."""
    return FilledSheet(stock, tuple((0, 0, number, 5, 4) for number in range(pieces)), count)


def test_stock_that_can_be_bought_first_the_largest_first() -> None:
    """Then the longer, the cheaper, the less trimmed, and the one of which more is on hand."""
    order = [
        sheet(20, 10), sheet(25, 4, price=8), sheet(20, 5, price=7, trim=1), sheet(20, 5, price=8), sheet(20, 5, on_hand=2), sheet(20, 5, on_hand=1), sheet(20, 5, on_hand=1, trim=1),
        sheet(10, 10), sheet(90, 90, buyable=False, on_hand=1), sheet(9, 9, buyable=False),
    ]  # fmt: skip
    for moved in (order[::-1], order[5:] + order[:5]):
        assert sorted(moved, key=planning._in_order) == order


# greedy plans -------------------------------------------------------------------------------------------------------------------------------


class Greedy:
    """Plans in place of the greedy ones, and how many were asked for."""

    def __init__(self, monkeypatch: pytest.MonkeyPatch, plans: Sequence[tuple[list[FilledSheet], list[int]]]) -> None:
        self.plans, self.asked = plans, 0
        monkeypatch.setattr(planning, "greedy_plans", self)

    def __call__(self, _: Grid, __: Sequence[StockSheet], effort: Effort) -> Iterator[tuple[list[FilledSheet], list[int]]]:
        assert effort == Effort(150_000)
        for plan in self.plans:
            self.asked += 1
            yield plan


@pytest.mark.parametrize(
    ("first", "bound", "money", "asked"),
    [
        ([on(0)], 1, 9, 8), ([on(0)], 2, 10, 8), ([on(0)], 0, 9, 12), ([on(0)], 1, 8, 12), ([on(0, count=2)], 2, 18, 8), ([on(0, count=2)], 1, 18, 12), ([on(0)] * 2, 2, 17, 12),
    ],
)  # fmt: skip
def test_eight_tastes_are_enough_where_the_bounds_are_met(monkeypatch: pytest.MonkeyPatch, first: list[FilledSheet], bound: int, money: int, asked: int) -> None:
    greedy = Greedy(monkeypatch, [(first, [0])] * 12)
    assert planning._best_greedy(grid(4), [sheet(10, 10)], bound, F(money)) == (first, [])
    assert greedy.asked == asked


def test_sheets_on_hand_cost_nothing_beside_the_bound(monkeypatch: pytest.MonkeyPatch) -> None:
    greedy = Greedy(monkeypatch, [([on(0)], [0])] * 12)
    planning._best_greedy(grid(4), [sheet(10, 10, on_hand=1)], 1, F(0))
    assert greedy.asked == 8


def test_the_bounds_may_be_met_later_than_by_the_eighth_taste(monkeypatch: pytest.MonkeyPatch) -> None:
    greedy = Greedy(monkeypatch, [([on(0, count=2)], [0])] * 9 + [([on(0)], [0])] * 9)
    assert planning._best_greedy(grid(4), [sheet(10, 10)], 1, F(9)) == ([on(0)], [])
    assert greedy.asked == 10


@pytest.mark.parametrize(
    ("plans", "best"),
    [
        # less to buy; then less worth; then less area; then fewer patterns; then the earlier
        ([[on(0, count=2)], [on(0)], [on(0, count=3)]], 1), ([[on(2)], [on(1)]], 1), ([[on(3)], [on(4)]], 1), ([[on(0, 1), on(0, 2)], [on(0, 1, 2)]], 1), ([[on(0, 2)], [on(0, 1)]], 0), ([[on(1)], [on(0)]], 0),
    ],
)  # fmt: skip
def test_the_cheapest_greedy_plan(monkeypatch: pytest.MonkeyPatch, plans: list[list[FilledSheet]], best: int) -> None:
    """Stocks: 9 to buy; one on hand worth 5; one worth 6; two on hand worth 4 each, 10 x 10 and 8 x 10."""
    stock = [sheet(10, 10), sheet(10, 10, price=5, on_hand=1), sheet(10, 10, price=6, on_hand=1), sheet(10, 10, price=4, on_hand=1), sheet(8, 10, price=4, on_hand=1)]
    Greedy(monkeypatch, [(plan, [0]) for plan in plans])
    found, _ = planning._best_greedy(grid(4, (10, 10), (10, 10), (10, 10), (10, 10), (8, 10)), stock, 0, F(0))
    assert found is plans[best]


def test_plans_that_leave_parts_over_are_none_and_the_first_tells_which(monkeypatch: pytest.MonkeyPatch) -> None:
    Greedy(monkeypatch, [([on(0)], [0, 2]), ([], [3, 0])])
    assert planning._best_greedy(grid(4), [sheet(10, 10)], 1, F(9)) == (None, [0, 2])
    Greedy(monkeypatch, [([on(0)], [0, 2]), ([on(0, count=3)], [0, 0])])
    assert planning._best_greedy(grid(4), [sheet(10, 10)], 1, F(9)) == ([on(0, count=3)], [0, 2])


# to the rescue ------------------------------------------------------------------------------------------------------------------------------


class Careful:
    """Plans in place of the careful ones; each costs 100."""

    def __init__(self, monkeypatch: pytest.MonkeyPatch, *plans: list[FilledSheet]) -> None:
        self.plans, self.given, self.asked = plans, list[int](), 0
        monkeypatch.setattr(planning, "careful_plans", self)

    def __call__(self, _: Grid, __: Sequence[StockSheet], effort: Effort) -> Iterator[list[FilledSheet]]:
        self.given.append(effort.left)
        for plan in self.plans:
            self.asked += 1
            effort.left -= 100
            yield plan


class Refitting:
    """In place of the refilling: the sheets and kinds that it is given, and its answer."""

    seen: tuple[list[int], list[int], int]
    answer = True

    def __init__(self, board: Grid) -> None:
        self.pieces = board.kinds[0].count

    def placed_all(self, sheets: list[OpenSheet], aside: list[int], effort: Effort) -> bool:
        type(self).seen = [one.stock for one in sheets], list(aside), effort.left
        sheets[1].laid.append((0, 0, 0, 5, 4))
        return self.answer


def test_a_careful_plan_comes_to_the_rescue_with_half_the_effort(monkeypatch: pytest.MonkeyPatch) -> None:
    """Four pieces are worth 100,000 + 4 x 20,000."""
    careful = Careful(monkeypatch, [on(0)], [on(1)])
    assert planning._rescued(grid(4), [sheet(10, 10)]) == [on(0)]
    assert (careful.given, careful.asked) == ([90_000], 1)


@pytest.mark.parametrize("answer", [True, False])
def test_else_all_sheets_on_hand_are_refilled_with_all_of_it(monkeypatch: pytest.MonkeyPatch, answer: bool) -> None:
    Careful(monkeypatch)
    monkeypatch.setattr(planning, "Refitting", Refitting)
    monkeypatch.setattr(Refitting, "answer", answer)
    stock = [sheet(10, 10, on_hand=2, buyable=False), sheet(10, 10, on_hand=1)]
    assert planning._rescued(grid(3, (10, 10), (10, 10)), stock) == ([on(0)] if answer else None)
    assert Refitting.seen == ([0, 0, 1], [0, 0, 0], 160_000)


# with care ----------------------------------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("pieces", "sheets", "share"),
    [(7, [(10, 10)], 200), (6, [(10, 10)], 100), (14, [(10, 10)], 200), (7, [(10, 10), (9, 9)], 100), (7, [(10, 10), (10, 10)], 200)],
)
def test_what_share_of_the_effort_care_gets(monkeypatch: pytest.MonkeyPatch, pieces: int, sheets: list[tuple[int, int]], share: int) -> None:
    """A fifth where seven pieces and more lie on a sheet, all of one size; else a tenth. What it leaves comes back."""
    careful = Careful(monkeypatch, [on(0, count=2)])
    effort = Effort(1004)
    assert planning._careful(grid(pieces, *sheets), [sheet(10, 10)] * len(sheets), [on(0)], 1, F(0), effort) == [on(0)]
    assert (careful.given, effort.left) == ([share], 904)
    assert isinstance(careful.given[0], int)


@pytest.mark.parametrize(
    ("plans", "bound", "money", "kept", "asked"),
    [
        # three sheets for 27 are there
        ([2, 1], 1, 9, 1, 2), ([2, 1], 2, 18, 2, 1), ([2, 1], 2, 17, 1, 2), ([2, 1], 1, 18, 1, 2), ([4, 3, 2], 2, 18, 2, 3), ([4], 3, 27, 3, 1), ([3], 9, 99, 3, 1), ([4, 4], 2, 27, 3, 2),
    ],
)  # fmt: skip
def test_the_cheapest_careful_plan_until_the_bounds_are_met(monkeypatch: pytest.MonkeyPatch, plans: list[int], bound: int, money: int, kept: int, asked: int) -> None:
    careful = Careful(monkeypatch, *[[on(0, 2, count)] for count in plans])
    found = planning._careful(grid(9), [sheet(10, 10)], [on(0, 3, 3)], bound, F(money), Effort(10_000))
    assert (found, careful.asked) == ([on(0, 3, 3)] if kept == 3 else [on(0, 2, kept)], asked)


# fewer sheets -------------------------------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("on_hand", "prices", "many", "stocks"),
    [([0], [9], 2, [0, 0]), ([1], [9], 3, [0, 0, 0]), ([3, 1], [9, 8], 2, [0, 0]), ([1, 1], [9, 8], 3, [0, 1, 1]), ([0, 1], [9, 8], 3, [1, 1, 1]), ([1, 0], [9, 9], 2, [0, 0]), ([0, 0], [9, 8], 1, [1])],
)  # fmt: skip
def test_fewer_sheets_are_taken_from_what_is_on_hand_and_then_from_the_cheapest(on_hand: list[int], prices: list[int], many: int, stocks: list[int]) -> None:
    stock = [sheet(10, 10, price=price, on_hand=count) for price, count in zip(prices, on_hand, strict=True)]
    assert planning._from_cheapest(stock, [on(0, 2)] * many) == [on(place, 2) for place in stocks]
    dear = [*stock, sheet(10, 10, price=1, buyable=False)]
    assert planning._from_cheapest(dear, [on(0, 2)] * many) == [on(place, 2) for place in stocks]


@pytest.mark.parametrize(("left", "answer"), [(3, [on(0, 2, 2), on(0, 1)]), (2, [on(0, 2), on(0, 1)])])
def test_the_plan_stays_where_no_sheet_is_saved(monkeypatch: pytest.MonkeyPatch, left: int, answer: list[FilledSheet]) -> None:
    def fewer(*, grid: Grid, plan: list[OpenSheet], bound: int, effort: Effort) -> list[OpenSheet]:
        assert ([one.used for one in plan], bound, effort.left) == ([40, 40, 20], 2, 77)
        return [*plan[1:], plan[0]][:left] if left == 3 else plan[1:]

    monkeypatch.setattr(planning, "fewer_sheets", fewer)
    assert planning._improved(grid(5), [sheet(10, 10)], [on(0, 2, 2), on(0, 1)], 2, Effort(77)) == answer


@pytest.mark.parametrize(
    ("after", "kept"), [([0], False), ([1], True), ([2], False), ([3], True), ([1, 1], False)], ids=["as it was", "cheaper", "dearer", "as dear, less area", "two for more"]
)
def test_sheets_of_several_sizes_are_exchanged_only_for_cheaper_ones(monkeypatch: pytest.MonkeyPatch, after: list[int], kept: bool) -> None:
    def cheaper(*, grid: Grid, stock: object, plan: list[OpenSheet], proofs: object, effort: Effort) -> list[OpenSheet]:
        assert ([one.used for one in plan], proofs, effort.left) == ([40], ("proofs",), 77)
        return [OpenSheet(place, [(0, 0, 1, 5, 4), (0, 0, 0, 5, 4)], 40) for place in after]

    monkeypatch.setattr(planning, "cheaper_sheets", cheaper)
    stock = [sheet(10, 10), sheet(9, 10, price=8), sheet(10, 10, price=10), sheet(8, 10)]
    found = planning._exchanged(grid(2, (10, 10), (9, 10), (10, 10), (8, 10)), stock, [on(0, 2)], ("proofs",), Effort(77))  # type: ignore[arg-type]
    assert found == ([FilledSheet(place, ((0, 0, 1, 5, 4), (0, 0, 0, 5, 4))) for place in after] if kept else [on(0, 2)])


# too large, bounds --------------------------------------------------------------------------------------------------------------------------


def test_which_parts_fit_on_no_sheet() -> None:
    kinds = (Kind(((9, 5), (5, 9)), 1, (3, 1)), Kind(((5, 9),), 1, (0,)), Kind(((6, 5),), 1, (2,)), Kind(((8, 5),), 1, (4,)), Kind(((6, 6),), 1, (6, 5)))
    board = Grid(1, 0, kinds, ((9, 5), (6, 6), (20, 20)))
    assert planning._too_large(board, [sheet(9, 5), sheet(6, 6, on_hand=1, buyable=False), sheet(20, 20, buyable=False)]) == (0,)
    assert planning._too_large(board, [sheet(9, 5), sheet(6, 6, buyable=False), sheet(20, 20, buyable=False)]) == (0, 5, 6)
    assert planning._too_large(board, [sheet(9, 5, buyable=False), sheet(6, 6), sheet(20, 20, buyable=False)]) == (0, 1, 3, 4)
    assert planning._too_large(board, [sheet(9, 5), sheet(6, 6), sheet(20, 20, on_hand=1, buyable=False)]) == ()


@pytest.mark.parametrize(
    ("sheets", "stock", "money"),
    [
        (3, [(9, 0, True)], 27), (3, [(9, 1, True)], 18), (3, [(9, 3, True)], 0), (3, [(9, 4, True)], 0), (3, [(9, 0, False)], 0), (3, [(9, 0, True), (8, 0, True)], 24), (3, [(9, 1, True), (8, 1, True)], 8),
        (3, [(9, 0, True), (1, 2, False)], 9), (0, [(9, 0, True)], 0), (2, [(0, 0, True)], 0),
    ],
)  # fmt: skip
def test_the_least_that_so_many_sheets_cost(sheets: int, stock: list[tuple[int, int, bool]], money: int) -> None:
    assert planning._least_money_for(sheets, [sheet(10, 10, price=price, on_hand=on_hand, buyable=buyable) for price, on_hand, buyable in stock]) == money


@pytest.mark.parametrize(
    ("parts", "sizes", "bound", "money"),
    [
        # 46 x 26 and a kerf of 4 are 50 x 30; four lie on 96 x 56, grown 100 x 60; 47 x 27 share none
        ([(46, 26, 4)], [(106, 66, 9)], 1, 9), ([(46, 26, 5)], [(106, 66, 9)], 2, 18), ([(47, 27, 3)], [(106, 66, 9)], 3, 27),
        # of two sizes the larger says how few, the areas what they cost: 10 x 1500 = 15,000 are 2.5 large ones or 10 small ones
        ([(46, 26, 10)], [(106, 66, 9), (56, 36, 2)], 3, 20), ([(46, 26, 10)], [(56, 36, 2), (106, 66, 8)], 3, 20), ([(46, 26, 10)], [(56, 36, 3), (106, 66, 8)], 3, 22), ([(46, 26, 10)], [(106, 66, 9), (106, 66, 8)], 3, 24),
        ([(46, 26, 4), (46, 26, 8)], [(106, 66, 9), (56, 36, 3)], 3, 27),
    ],
)  # fmt: skip
def test_fewest_sheets_and_least_money(parts: list[tuple[int, int, int]], sizes: list[tuple[int, int, int]], bound: int, money: int) -> None:
    """The sheets are trimmed by 5: 56 x 36 leaves 46 x 26, grown 50 x 30."""
    wanted = [WantedPart(F(length), F(width), count, "along") for length, width, count in parts]
    stock = [sheet(length, width, price=price, trim=5) for length, width, price in sizes]
    board = planning.grid_of(wanted=wanted, stock=stock, kerf_mm=F(4))
    assert planning._bounds(wanted, stock, F(4), board) == (bound, money)


def test_parts_for_which_no_plan_is_found_are_told_by_their_rows(monkeypatch: pytest.MonkeyPatch) -> None:
    """Rows 0 and 2 are alike and the smaller; the greedy plan that is told left some of them, and nobody came to the rescue."""
    wanted = [WantedPart(F(4), F(3), 2, "along"), WantedPart(F(5), F(4), 1, "along"), WantedPart(F(4), F(3), 2, "along")]
    stock = [sheet(10, 10, buyable=False, on_hand=1)]
    monkeypatch.setattr(planning, "_rescued", lambda *_: None)
    Greedy(monkeypatch, [([on(0)], [0, 3])])
    assert planning.plan_board(wanted=wanted, stock=stock, kerf_mm=F(0)) == Unplaceable(too_large=(), left_over=(0, 2))
    Greedy(monkeypatch, [([on(0)], [1, 0])])
    assert planning.plan_board(wanted=wanted, stock=stock, kerf_mm=F(0)) == Unplaceable(too_large=(), left_over=(1,))
