"""Greedy plans of a handful of parts, worked on paper, with the effort that each spends; and how much effort a board is worth, by its pieces."""

from __future__ import annotations

import pytest

from estimator.costing.cutting.assembling import FilledSheet
from estimator.costing.cutting.effort import (
    Effort,
    effort_for_few_a_sheet,
    effort_for_many_a_sheet,
    effort_for_several_sizes,
    effort_to_the_rescue,
)
from estimator.costing.cutting.filling import LARGER_REST, LONGER_REST, Taste
from estimator.costing.cutting.greedy import _tastes, greedy_plan, greedy_plans
from estimator.costing.cutting.kerf import Grid, Kind
from estimator.model.cutting_plan import StockSheet
from estimator.model.exact import Fraction

F = Fraction
PLAIN = Taste(0, LONGER_REST)


def grid(kinds: list[tuple[int, int, int]], sheets: list[tuple[int, int]]) -> Grid:
    """Kinds of one lie each with their count; no kerf, a step a millimetre."""
    return Grid(1, 0, tuple(Kind(((along, across),), count, (row,)) for row, (along, across, count) in enumerate(kinds)), tuple(sheets))


def stock(*sheets: tuple[int | str, int, bool]) -> list[StockSheet]:
    """Price, on hand, whether it can be bought; the sizes stand in the grid."""
    return [StockSheet(F(1), F(1), F(0), F(price), on_hand, buyable) for price, on_hand, buyable in sheets]


def planned(
    kinds: list[tuple[int, int, int]], sheets: list[tuple[int, int]], prices: list[StockSheet]
) -> tuple[list[tuple[int, int, list[int]]], list[int], int]:
    """Stock, count and kinds of each filled sheet; what found none; the effort that was spent."""
    effort, lies = Effort(0), [(along * across, along, across, kind) for kind, (along, across, _) in enumerate(kinds)]
    filled, left = greedy_plan(grid(kinds, sheets), prices, lies, PLAIN, effort)
    return [(one.stock, one.count, [piece[0] for piece in one.laid]) for one in filled], left, -effort.left


BUY = (10, 0, True)


@pytest.mark.parametrize(
    ("kinds", "sheets", "prices", "filled", "left", "spent"),
    [
        # each look at a sheet costs 6, and each piece laid 6 more and a quarter, rounded down, of the lies still wanted
        pytest.param([(5, 4, 7)], [(10, 4)], stock(BUY), [(0, 3, [0, 0]), (0, 1, [0])], [0], 6 + 2 * 6 + 6 + 6, id="two a sheet, and one more"),
        pytest.param([(5, 4, 1)], [(4, 4)], stock(BUY), [], [1], 6, id="too large"),
        pytest.param([(5, 4, 1), (3, 3, 2)], [(4, 4)], stock(BUY), [(0, 2, [1])], [1, 0], (6 + 6) + 6, id="one too large, one not"),
        pytest.param(
            [(4, 4, 1), (3, 3, 1), (2, 2, 1), (1, 1, 4)], [(4, 4)], stock(BUY),
            [(0, 1, [0]), (0, 1, [1, 3, 3, 3, 3]), (0, 1, [2])], [0, 0, 0, 0], (6 + 1 * 7) + (6 + 5 * 6) + (6 + 1 * 6),
            id="four lies make a piece dearer by one, three do not",
        ),
        pytest.param(
            [(4, 4, 1), (4, 3, 1), (4, 2, 1), (4, 1, 1), (3, 1, 1), (2, 1, 1), (1, 1, 1), (1, 1, 1)], [(4, 4)], stock(BUY),
            [(0, 1, [0]), (0, 1, [1, 3]), (0, 1, [2, 4, 6, 5, 7])], [0] * 8, (6 + 8) + (6 + 2 * 7) + (6 + 5 * 7), id="eight lies, seven, five",
        ),
        # the most part for its money
        pytest.param([(6, 3, 3)], [(6, 3), (6, 6)], stock((10, 0, True), (19, 0, True)), [(1, 1, [0, 0]), (0, 1, [0])], [0], (12 + 18) + (12 + 12), id="36 for 19 beats 18 for 10"),
        pytest.param([(6, 3, 2)], [(6, 3), (6, 6)], stock((10, 0, True), (20, 0, True)), [(0, 2, [0])], [0], 12 + 18, id="of two that give as much the first"),
        pytest.param([(6, 3, 2)], [(6, 6), (6, 3)], stock((20, 0, True), (10, 0, True)), [(0, 1, [0, 0])], [0], 18 + 12, id="and the other way round"),
        pytest.param([(12, 1, 3), (4, 4, 2)], [(12, 3), (4, 8)], stock((10, 0, True), (12, 0, True)), [(0, 1, [0, 0, 0]), (1, 1, [1, 1])], [0, 0], (24 + 18) + (6 + 18), id="3.6 beats 2.67"),
        pytest.param([(1, 12, 3), (4, 4, 2)], [(3, 12), (8, 4)], stock((10, 0, True), (12, 0, True)), [(0, 1, [0, 0, 0]), (1, 1, [1, 1])], [0, 0], (24 + 18) + (6 + 18), id="the same, standing"),
        # what is on hand is free: the fullest of it goes first, before anything is bought, and it runs out
        pytest.param([(5, 4, 5)], [(10, 4), (10, 10)], stock((10, 0, True), (99, 1, True)), [(1, 1, [0, 0, 0, 0]), (0, 1, [0])], [0], (18 + 30) + (12 + 12), id="on hand first"),
        pytest.param(
            [(5, 4, 7)], [(10, 4), (5, 8)], stock((10, 0, True), (10, 2, False)), [(1, 2, [0, 0]), (0, 1, [0, 0]), (0, 1, [0])], [0], (18 + 18) + 18 + 12,
            id="two on hand, then they are passed over",
        ),
        pytest.param([(5, 4, 9)], [(5, 8), (10, 4)], stock((10, 1, False), BUY), [(0, 1, [0, 0]), (1, 3, [0, 0]), (1, 1, [0])], [0], (18 + 18) + 18 + 12, id="the first runs out, the second is bought"),
        pytest.param([(5, 4, 3)], [(5, 4), (5, 8)], stock((10, 2, False), (10, 2, False)), [(0, 2, [0]), (1, 1, [0])], [0], (12 + 18) + 12, id="of two as full the first"),
        pytest.param([(5, 4, 3)], [(6, 4), (5, 8)], stock((10, 2, False), (10, 2, False)), [(1, 1, [0, 0]), (0, 1, [0])], [0], (12 + 18) + (12 + 12), id="the fuller"),
        pytest.param([(5, 4, 5)], [(5, 4)], stock((10, 2, False)), [(0, 2, [0])], [3], 12, id="two on hand and none to buy: three are left"),
        pytest.param([(5, 4, 3)], [(5, 4), (10, 9)], stock((0, 0, True), (1, 0, True)), [(0, 3, [0])], [0], 12 + 24, id="a sheet that costs nothing counts like one on hand"),
        pytest.param([(5, 4, 1)], [(3, 3), (5, 4)], stock((0, 1, True), (10, 0, True)), [(1, 1, [0])], [0], 6 + 12, id="an empty sheet is no plan, even free"),
        # a full sheet on hand counts 10^20
        pytest.param([(5, 4, 1)], [(5, 4), (5, 4)], stock((F(20, 10**20), 0, True), (1, 1, True)), [(0, 1, [0])], [0], 24, id="as much part for its money: the first"),
        pytest.param([(5, 4, 1)], [(5, 4), (5, 4)], stock((F(20, 10**20 - 1), 0, True), (1, 1, True)), [(1, 1, [0])], [0], 24, id="a hair less"),
        pytest.param([(5, 4, 1)], [(5, 4), (5, 4)], stock((1, 1, True), (F(20, 10**20 + 1), 0, True)), [(1, 1, [0])], [0], 24, id="a hair more"),
    ],
)  # fmt: skip
def test_a_greedy_plan(
    kinds: list[tuple[int, int, int]], sheets: list[tuple[int, int]], prices: list[StockSheet], filled: list[tuple[int, int, list[int]]], left: list[int], spent: int
) -> None:  # fmt: skip
    assert planned(kinds, sheets, prices) == (filled, left, spent)


def test_a_greedy_plan_lays_by_the_taste_that_is_given() -> None:
    """24 x 10 and a part 17 x 6: by the longer rest the small part lies above, by the larger beside; snug by 2 tenths, 24 x 5 (120) before 17 x 8 (136)."""
    kinds = [(17, 6, 1), (2, 2, 1)]
    lies = [(102, 17, 6, 0), (4, 2, 2, 1)]
    for parting, place in ((LONGER_REST, (0, 6)), (LARGER_REST, (17, 0))):
        (sheet,), left = greedy_plan(grid(kinds, [(24, 10)]), stock(BUY), lies, Taste(0, parting), Effort(0))
        assert sheet == FilledSheet(0, ((0, 0, 0, 17, 6), (1, *place, 2, 2)), 1)
        assert left == [0, 0]
    for snug, first in ((0, 0), (2, 1)):
        (sheet, *_), _ = greedy_plan(grid([(17, 8, 1), (24, 5, 1)], [(24, 10)]), stock(BUY), [(136, 17, 8, 0), (120, 24, 5, 1)], Taste(snug, LONGER_REST), Effort(0))
        assert sheet.laid[0][0] == first


def test_the_tastes_in_their_order() -> None:
    """A lie of 3 x 5 is worth 15 by area, 25 by its long side, 25 by width, 9 by length; one of 7 x 2 14, 49, 4, 49."""
    found = [(worth(3, 5), worth(7, 2), snug, parting) for worth, snug, parting in _tastes()]
    assert found == [
        (one, other, snug, parting)
        for snug, parting in ((2, LARGER_REST), (2, LONGER_REST), (6, LARGER_REST), (6, LONGER_REST), (0, LARGER_REST), (0, LONGER_REST))
        for one, other in ((15, 14), (25, 49), (25, 4), (9, 49))
    ]


@pytest.mark.parametrize(("effort", "plans"), [(-5, 1), (0, 1), (12, 1), (13, 2), (24, 2), (25, 3), (276, 23), (277, 24), (10_000, 24)])
def test_at_least_one_plan_and_then_as_long_as_the_effort_lasts(effort: int, plans: int) -> None:
    """One part on one sheet costs 12 a plan; there are 24 tastes."""
    spent = Effort(effort)
    found = list(greedy_plans(grid([(5, 4, 1)], [(5, 4)]), stock(BUY), spent))
    assert found == [([FilledSheet(0, ((0, 0, 0, 5, 4),))], [0])] * plans
    assert spent.left == effort - 12 * plans


def test_what_is_worth_most_by_each_taste_is_laid_first() -> None:
    """6 x 6 is largest, 9 x 2 longest, 2 x 8 widest: 8 of long side is less than 9. The first eight tastes, one sheet."""
    kinds = [(6, 6, 1), (9, 2, 1), (2, 8, 1)]
    found = [filled[0].laid[0][0] for filled, _ in greedy_plans(grid(kinds, [(12, 12)]), stock(BUY), Effort(10_000))]
    assert found == [0, 1, 2, 1] * 6


# how much effort a board is worth -----------------------------------------------------------------------------------------------------------


def pieces(many: int) -> Grid:
    """So many pieces, of two kinds where there are two."""
    kinds = [Kind(((3, 2),), many - many // 3, (0,)), Kind(((2, 2),), many // 3, (1,))]
    return Grid(1, 0, tuple(kind for kind in kinds if kind.count), ((10, 10),))


@pytest.mark.parametrize(
    ("many", "improving"),
    [
        # 100,000 and 20,000 a piece up to 2,100,000; 3,000 for each beyond 250, up to 5,000,000
        (1, 120_000), (2, 140_000), (99, 2_080_000), (100, 2_100_000), (101, 2_100_000), (250, 2_100_000), (251, 2_103_000), (1216, 4_998_000),
        (1217, 5_000_000), (9000, 5_000_000),
    ],
)  # fmt: skip
def test_effort_where_few_lie_on_a_sheet(many: int, improving: int) -> None:
    assert effort_to_the_rescue(pieces(many)) == Effort(improving)
    assert effort_for_few_a_sheet(pieces(many)) == Effort(improving * 3 // 2)


@pytest.mark.parametrize(
    ("many", "likely", "unlikely"),
    [
        # a shop's board: (800 + 8 pieces) x pieces, and no more than above: 808; 1632 x 104 = 169,728; 1640 x 105 = 172,200; 2808 x 251 = 704,808
        (1, 120_000, 808), (2, 140_000, 1_632), (29, 680_000, 29_928), (30, 700_000, 31_200), (31, 700_000, 32_488), (104, 700_000, 169_728),
        (105, 700_000, 170_000), (250, 700_000, 170_000), (251, 704_808, 170_000), (500, 2_400_000, 170_000), (600, 3_150_000, 170_000),
    ],
)  # fmt: skip
def test_effort_where_many_lie_on_a_sheet(many: int, likely: int, unlikely: int) -> None:
    assert effort_for_many_a_sheet(pieces(many), likely=True) == Effort(likely)
    assert effort_for_many_a_sheet(pieces(many), likely=False) == Effort(unlikely)


@pytest.mark.parametrize(
    ("many", "of_many", "close"),
    [
        # one and a half of a shop's board, at least 1,600,000: 300 pieces make 960,000, 320 make 1,075,200, 500 make 2,400,000
        (1, 1_600_000, 533_333), (300, 1_600_000, 533_333), (320, 1_612_800, 537_600), (500, 3_600_000, 1_200_000),
    ],
)  # fmt: skip
def test_effort_for_several_sizes(many: int, of_many: int, close: int) -> None:
    assert effort_for_several_sizes(pieces(many), many_a_sheet=True, close=False) == Effort(of_many)
    assert effort_for_several_sizes(pieces(many), many_a_sheet=True, close=True) == Effort(close)
    assert effort_for_several_sizes(pieces(many), many_a_sheet=False, close=False) == Effort(1_600_000)
    assert effort_for_several_sizes(pieces(many), many_a_sheet=False, close=True) == Effort(533_333)
