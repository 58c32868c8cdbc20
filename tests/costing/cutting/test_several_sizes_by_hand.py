"""Sheets of several sizes, on paper: the least money that is possible, and which sheets are exchanged for which, in what order and how long."""

from __future__ import annotations

import pytest

from estimator.costing.cutting import several_proofs
from estimator.costing.cutting.improving import OpenSheet
from estimator.costing.cutting.kerf import Grid, Kind
from estimator.costing.cutting.several_proofs import Proof, _functions, _of_group, _strength, area_proofs, least_money, proofs_of
from estimator.costing.cutting.several_sizes import _exchanged, _exchanges, _pairs, money_of
from estimator.model.cutting_plan import StockSheet
from estimator.model.exact import Fraction

F = Fraction


def stock(*sheets: tuple[str | int, int, bool]) -> list[StockSheet]:
    return [StockSheet(F(1), F(1), F(0), F(price), on_hand, buyable) for price, on_hand, buyable in sheets]


def grid(kinds: list[tuple[tuple[tuple[int, int], ...], int]], *sheets: tuple[int, int]) -> Grid:
    return Grid(1, 0, tuple(Kind(lies, count, (row,)) for row, (lies, count) in enumerate(kinds)), sheets)


# the least money ----------------------------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(("used", "allowed"), [((1, 1), True), ((2, 0), True), ((0, 3), False), ((1, 0), False), ((0, 4), True), ((0, 0), False)])
def test_sheets_of_less_weight_cannot_hold_the_parts(used: tuple[int, ...], allowed: bool) -> None:
    assert Proof(parts=16, sheets=(12, 4)).allows(used) is allowed


@pytest.mark.parametrize(
    ("parts", "weights", "prices", "money"),
    [
        # one size: whole sheets of what is missing beside those on hand
        (30, (10,), [(7, 0, True)], 21), (31, (10,), [(7, 0, True)], 28), (30, (10,), [(7, 2, True)], 7), (30, (10,), [(7, 3, True)], 0), (31, (10,), [(7, 3, True)], 7), (30, (10,), [(7, 4, True)], 0),
        (30, (10,), [(7, 1, False)], 0), (0, (10,), [(7, 0, True)], 0), (5, (0,), [(7, 0, True)], 0),
        # two sizes: 10 for 7 is better value than 4 for 3, but 12 is 4 + 4 + 4 = 9 or 10 + 4 = 10 or 10 + 10 = 14
        (12, (10, 4), [(7, 0, True), (3, 0, True)], 9), (10, (10, 4), [(7, 0, True), (3, 0, True)], 7), (13, (10, 4), [(7, 0, True), (3, 0, True)], 10), (14, (10, 4), [(7, 0, True), (3, 0, True)], 10),
        (15, (10, 4), [(7, 0, True), (3, 0, True)], 12), (17, (10, 4), [(7, 0, True), (3, 0, True)], 13), (18, (10, 4), [(7, 0, True), (3, 0, True)], 13), (19, (10, 4), [(7, 0, True), (3, 0, True)], 14), (20, (10, 4), [(3, 0, True), (1, 0, True)], 5),
        (12, (4, 10), [(3, 0, True), (7, 0, True)], 9), (12, (10, 4), [(7, 0, True), (3, 1, False)], 7), (12, (10, 4), [(7, 1, True), (3, 0, True)], 3), (12, (10, 0), [(7, 0, True), (3, 5, True)], 14),
        # three sizes: 6 for 4 is best value, then 10 for 7, then 3 for 3
        (9, (10, 6, 3), [(7, 0, True), (4, 0, True), (3, 0, True)], 7), (16, (10, 6, 3), [(7, 0, True), (4, 0, True), (3, 0, True)], 11), (11, (10, 6, 3), [(7, 0, True), (4, 0, True), (3, 0, True)], 8), (20, (10, 6, 3), [(7, 0, True), (4, 0, True), (2, 0, True)], 14),
        # the best value last by price: 6 for 6 beats 1 and 3 for 2 and 5
        (5, (1, 3, 6), [(2, 0, True), (5, 0, True), (6, 0, True)], 6),
        ("13", (6, 4), [("2.5", 0, True), ("1.7", 0, True)], "5.9"), (2, (2, 2), [(5, 0, True), (4, 0, True)], 4),
    ],
)  # fmt: skip
def test_the_cheapest_sheets_that_weigh_enough(parts: int, weights: tuple[int, ...], prices: list[tuple[str | int, int, bool]], money: str | int) -> None:
    """13 of 6 for 2.50 and 4 for 1.70: 6 + 4 + 4 = 14 costs 5.90, 6 + 6 + 4 6.70, 4 x 4 6.80, 3 x 6 7.50."""
    assert least_money(proofs=[Proof(int(parts), weights)], stock=stock(*prices)) == F(money)


def test_the_dearest_proof_counts_and_none_asks_for_nothing() -> None:
    proofs = [Proof(10, (10,)), Proof(25, (10,)), Proof(11, (10,))]
    assert least_money(proofs=proofs, stock=stock((7, 0, True))) == 21
    assert least_money(proofs=[], stock=stock((7, 0, True))) == 0


@pytest.mark.parametrize(
    ("parts", "weights", "prices", "money"),
    [
        (30, (10, 4), [(7, 1, True), (3, 0, True)], 14), (30, (10, 4), [(7, 1, True), (2, 0, True)], 10), (30, (10, 4), [(7, 1, True), (2, 0, False)], 14), (30, (10, 0), [(7, 1, True), (2, 9, True)], 14),
        (30, (10, 4), [(7, 1, False), (2, 0, False)], 0), (30, (10, 4), [(7, 3, True), (2, 0, True)], 0), (30, (10, 4), [(7, 4, True), (2, 0, True)], 0), (31, (10, 4), [(7, 3, True), (8, 0, True)], "0.7"),
    ],
)  # fmt: skip
def test_how_strong_a_proof_is(parts: int, weights: tuple[int, ...], prices: list[tuple[str | int, int, bool]], money: int | str) -> None:
    """What is missing beside the sheets on hand, at the least price a weight."""
    assert _strength(Proof(parts, weights), stock(*prices)) == F(money)


@pytest.mark.parametrize(("kinds", "most"), [(1, 173), (2, 122), (3, 100), (300, 10), (600, 7), (700, 6), (900, 6)])
def test_how_many_functions_a_proof_of_several_sizes_tries(monkeypatch: pytest.MonkeyPatch, kinds: int, most: int) -> None:
    """The root of 30,000 over the kinds, at least six; half of them by the weights of one size."""
    tried, halves = [], []

    def functions(extents: set[int], sheets: set[int], many: int) -> list[dict[int, int]]:
        tried.append(many)
        return []

    def weights(*, whole: int, extents: set[int], most: int) -> list[object]:
        halves.append(most)
        return []

    with monkeypatch.context() as patch:
        patch.setattr(several_proofs, "_functions", functions)
        proofs_of(grid=grid([(((6, 6),), 1)] * kinds, (10, 10)), stock=stock((9, 0, True)))
    assert tried == [most, most]
    monkeypatch.setattr(several_proofs, "weightings", weights)
    _functions({3}, {10}, most)
    assert halves == [most // 2]


def test_by_area_for_all_parts_and_for_those_that_only_some_sizes_hold() -> None:
    """8 x 3 lies on the long sheet only, 3 x 3 on both, 5 x 4 turned on both; the third stock is neither on hand nor to be bought."""
    board = grid([(((8, 3),), 2), (((3, 3),), 4), (((5, 4), (4, 5)), 1)], (9, 4), (4, 5), (9, 9))
    assert area_proofs(grid=board, stock=stock((1, 0, True), (1, 1, False), (1, 0, False))) == (Proof(48, (36, 0, 0)), Proof(104, (36, 20, 0)))
    assert area_proofs(grid=board, stock=stock((1, 0, True), (1, 0, False), (1, 0, False))) == (Proof(104, (36, 0, 0)),)
    exact = grid([(((9, 4),), 1)], (9, 4), (8, 4), (9, 3))
    assert area_proofs(grid=exact, stock=stock(*[(1, 0, True)] * 3)) == (Proof(36, (36, 0, 0)),)


def test_the_weights_tried_on_several_sizes() -> None:
    """Extents 3 and 6, sheets 10 and 7: the weights of a whole of 10 for all four, then how many whole steps each holds.

    Steps are each extent, and what is just over a half and a third of a sheet: 6 and 4 of 10, 4 and 3 of 7.
    """
    found = _functions({3, 6}, {10, 7}, 60)
    assert found[0] == {3: 3, 6: 6, 7: 7, 10: 10}
    assert found[-3:] == [{3: 1, 6: 2, 7: 2, 10: 3}, {3: 0, 6: 1, 7: 1, 10: 2}, {3: 0, 6: 1, 7: 1, 10: 1}]
    assert {3: 0, 6: 10, 7: 10, 10: 10} in found


@pytest.mark.parametrize(("most", "steps"), [(6, [11, 34, 51]), (60, [*range(11, 31), 34, 51])])
def test_how_many_steps_of_several_sizes_are_tried(most: int, steps: list[int]) -> None:
    """Extents 11 to 30 on a sheet of 100: with few functions only the least step, with many all; a third and a half of the sheet always."""
    found = _functions(set(range(11, 31)), {100}, most)
    assert [weigh[100] for weigh in found[-len(steps) :]] == [100 // step for step in steps]
    assert found[-len(steps) - 1][100] > 9 or most == 60


def test_parts_over_half_a_sheet_prove_one_a_sheet_whichever_size() -> None:
    """Three of 6 x 6: on 10 x 10 for 9 or 7 x 7 for 5 one a sheet, so 15; by area 108, 3 x 7 x 7 or 10 x 10 and 7 x 7 = 14."""
    board = grid([(((6, 6),), 3)], (10, 10), (7, 7))
    prices = stock((9, 0, True), (5, 0, True))
    assert least_money(proofs=area_proofs(grid=board, stock=prices), stock=prices) == 14
    proofs = proofs_of(grid=board, stock=prices)
    assert proofs[0] == Proof(108, (100, 49))
    assert len(proofs) == 1 + 8
    assert least_money(proofs=proofs, stock=prices) == 15
    # 9 x 6 lies on 10 x 8 only, and not turned, so each takes one
    long = grid([(((9, 6), (6, 9)), 3)], (10, 8), (7, 7))
    assert least_money(proofs=proofs_of(grid=long, stock=prices), stock=prices) == 27


def test_a_part_that_may_be_turned_weighs_as_it_lies_lightest() -> None:
    """6 x 5 on 10 x 10. Plain both ways 30; across in two 5 stays and 6 is all: 6 x 5 or 5 x 10; in three both are one of two: 60 or 50."""
    board = grid([(((6, 5), (5, 6)), 3)], (10, 10))
    found = _of_group(board.kinds, frozenset({0}), board)
    assert [next(found) for _ in range(3)] == [Proof(90, (100,)), Proof(90, (100,)), Proof(150, (200,))]


def test_the_strongest_proofs_stand_first() -> None:
    """Eight of a group at most, by the least money that each asks for with fractions of a sheet."""
    board = grid([(((6, 6),), 3), (((3, 2),), 4)], (10, 10), (7, 7))
    prices = stock((9, 1, True), (5, 0, True))
    proofs = proofs_of(grid=board, stock=prices)

    def money(proof: Proof) -> Fraction:
        return max(0, proof.parts - proof.sheets[0]) * min(F(9, proof.sheets[0]), F(5, proof.sheets[1])) if proof.sheets[1] else F(0)

    strength = [money(proof) for proof in proofs[1:]]
    assert len(strength) == 8
    assert strength == sorted(strength, reverse=True)
    assert strength[0] >= money(proofs[0])


# exchanges ----------------------------------------------------------------------------------------------------------------------------------


def test_what_a_plan_costs() -> None:
    """Three of 7 with one on hand, two offcuts worth 2: 14 to buy, 25 worth, 3 x 40 + 2 x 12 of area."""
    board = grid([], (10, 4), (4, 3), (9, 9))
    assert money_of((3, 2, 0), stock((7, 1, True), (2, 3, False), (1, 0, True)), board) == (14, 25, 144)


def test_pairs_of_sheets_that_go_and_come_few_before_many() -> None:
    pairs = list(_pairs([0, 1], [0, 1, 2]))
    assert pairs[:10] == [
        ((0,), ()), ((1,), ()), ((0,), (1,)), ((0,), (2,)), ((1,), (0,)), ((1,), (2,)), ((0, 0), (1,)), ((0, 0), (2,)), ((0, 1), (2,)), ((1, 1), (0,)),
    ]  # fmt: skip
    shapes = list(dict.fromkeys((len(gone), len(come)) for gone, come in pairs))
    assert shapes == [(1, 0), (1, 1), (2, 1), (1, 2), (2, 0), (2, 2), (3, 1), (3, 2), (2, 3), (1, 3), (3, 3)]
    assert [sum((len(gone), len(come)) == shape for gone, come in pairs) for shape in shapes] == [2, 4, 5, 6, 3, 7, 6, 8, 9, 8, 10]
    assert not any(set(gone) & set(come) for gone, come in pairs)


def open_sheets(*laid: tuple[int, int, int]) -> list[OpenSheet]:
    """Sheets of a stock with one piece each: stock, kind, area."""
    return [OpenSheet(index, [(kind, 0, 0, area, 1)], area) for index, kind, area in laid]


def test_of_each_stock_the_emptiest_go_and_their_parts_are_put_aside() -> None:
    plan = open_sheets((0, 3, 10), (1, 4, 20), (0, 5, 8), (0, 6, 12), (1, 7, 20))
    sheets, aside = _exchanged(plan, (0, 0, 1), (2, 2))
    assert [(sheet.stock, sheet.used) for sheet in sheets] == [(1, 20), (0, 12), (2, 0), (2, 0)]
    assert (sheets[0].laid[0][0], aside) == (4, [5, 3, 7])
    assert [sheet.used for sheet in plan] == [10, 20, 8, 12, 20]
    assert sheets[0] is not plan[1]


@pytest.mark.parametrize(
    ("used", "prices", "parts", "proofs", "likely_only", "exchanges"),
    [
        # sheets of 10 x 10, 7 x 10 and 5 x 10; only what costs less, the roomiest first
        pytest.param((1, 0, 0), [(9, 0, True), (7, 0, True), (5, 0, True)], 36, [], False, [((0,), (1,)), ((0,), (2,)), ((0,), ())], id="one for a smaller one"),
        pytest.param((1, 0, 0), [(9, 0, True), (7, 0, True), (4, 0, True)], 36, [], False, [((0,), (2, 2)), ((0,), (1,)), ((0,), (2,)), ((0,), ())], id="two small ones that are as roomy and cost less come first"),
        pytest.param((1, 0, 0), [(9, 0, True), (7, 0, True), (5, 0, True)], 36, [(51, (100, 70, 50))], False, [((0,), (1,))], id="what a proof forbids is left out"),
        pytest.param((1, 0, 0), [(9, 0, True), (7, 0, True), (5, 0, True)], 36, [(50, (100, 70, 50))], False, [((0,), (1,)), ((0,), (2,))], id="what it just allows is not"),
        pytest.param((1, 0, 0), [(9, 0, True), (7, 0, True), (5, 0, True)], 36, [(50, (100, 70, 50)), (2, (2, 1, 2))], False, [((0,), (2,))], id="every proof must allow it"),
        pytest.param((1, 0, 0), [(9, 0, True), (9, 0, True), (5, 0, True)], 36, [], False, [((0,), (2,)), ((0,), ())], id="what costs as much is left out"),
        pytest.param((1, 0, 0), [(9, 0, True), (7, 0, False), (5, 0, True)], 36, [], False, [((0,), (2,)), ((0,), ())], id="what cannot be bought does not come"),
        pytest.param((0, 0, 1), [(9, 0, True), (7, 0, True), (5, 0, False)], 36, [], False, [], id="what cannot be bought does not go"),
        pytest.param((0, 1, 0), [(9, 0, True), (7, 0, True), (5, 2, False)], 36, [], False, [((1,), (2, 2))], id="what is on hand comes too"),
        pytest.param((0, 1, 1), [(9, 0, True), (7, 0, True), (5, 2, False)], 36, [], False, [((1,), (2,))], id="what of it is not used yet"),
        # 36 of one piece: likely to lie on twice its area and more
        pytest.param((1, 0, 0), [(9, 0, True), (7, 0, True), (5, 0, True)], 30, [], True, [((0,), (1,))], id="30 is likely on 70, not on 50"),
        pytest.param((1, 0, 0), [(9, 0, True), (7, 0, True), (5, 0, True)], 25, [], True, [((0,), (1,)), ((0,), (2,))], id="25 on 50 too"),
        pytest.param((1, 0, 0), [(9, 0, True), (7, 0, True), (5, 0, True)], 36, [], True, [], id="36 is unlikely on 70"),
        pytest.param((1, 0, 0), [(9, 0, True), (7, 0, True), (5, 0, True)], 30, [], False, [((0,), (1,)), ((0,), (2,)), ((0,), ())], id="the likely before the unlikely"),
        pytest.param((1, 0, 0), [("0.9", 0, True), ("0.7", 0, True), ("0.5", 0, True)], 36, [], False, [((0,), (1,)), ((0,), (2,)), ((0,), ())], id="tenths"),
    ],
)  # fmt: skip
def test_exchanges_that_cost_less(
    used: tuple[int, ...], prices: list[tuple[str | int, int, bool]], parts: int, proofs: list[tuple[int, tuple[int, ...]]], likely_only: bool,
    exchanges: list[tuple[tuple[int, ...], tuple[int, ...]]],
) -> None:  # fmt: skip
    board = grid([(((parts, 1),), 1)], (10, 10), (7, 10), (5, 10))
    found = _exchanges(used, stock(*prices), board, [Proof(*one) for one in proofs], likely_only=likely_only)
    assert found == exchanges
