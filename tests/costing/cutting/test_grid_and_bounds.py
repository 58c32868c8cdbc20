"""The grid, the bounds by area and big parts, and the fixed row of numbers: each figure worked on paper, each limit at its value and one above."""

from __future__ import annotations

import pytest

from estimator.costing.cutting import area_bound, big_part_bound, sheets_by_yield
from estimator.costing.cutting.kerf import Grid, Kind, grid_of
from estimator.costing.cutting.shuffled import ShuffledNumbers
from estimator.model.cutting_plan import StockSheet, WantedPart
from estimator.model.exact import Fraction

F = Fraction


def sheet(length: str | int, width: str | int, *, trim: str | int = 0, price: str | int = 60, on_hand: int = 0, buyable: bool = True) -> StockSheet:
    return StockSheet(F(length), F(width), F(trim), F(price), on_hand, buyable)


def part(length: str | int, width: str | int, count: int, way: str = "along") -> WantedPart:
    return WantedPart(F(length), F(width), count, way)  # type: ignore[arg-type]


# the grid -----------------------------------------------------------------------------------------------------------------------------------


def test_the_grid_merges_equal_parts_and_stands_them_largest_first() -> None:
    wanted = [part(3, 2, 4), part(5, 4, 1), part(2, 3, 2, "across"), part(4, 5, 3, "either"), part(9, 9, 0), part(3, 3, 2, "either"), part(10, 2, 1), part(2, 10, 1)]
    grid = grid_of(wanted=wanted, stock=[sheet(20, 16, trim=2), sheet(9, 8)], kerf_mm=F(0))
    assert grid == Grid(
        steps=1,
        kerf=0,
        kinds=(
            # areas 20, 20, 20, 20, 9, 6: of equal areas the longer along first, of equal lies the one that may not be turned
            Kind(((10, 2),), 1, (6,)), Kind(((5, 4),), 1, (1,)), Kind(((5, 4), (4, 5)), 3, (3,)), Kind(((2, 10),), 1, (7,)),
            Kind(((3, 3),), 2, (5,)), Kind(((3, 2),), 6, (0, 2)),
        ),
        sheets=((16, 12), (9, 8)),
    )  # fmt: skip


def test_the_grid_is_as_fine_as_the_finest_fraction_and_grown_by_the_kerf() -> None:
    """Halves and thirds make sixths: 10.5 + 4/3 = 71/6, 7 + 4/3 = 50/6; the sheet 30 - 2 x 1 + 4/3 = 176/6."""
    grid = grid_of(wanted=[part("10.5", 7, 2, "across")], stock=[sheet(30, 22, trim=1)], kerf_mm=F(4, 3))
    assert grid == Grid(6, 8, (Kind(((50, 71),), 2, (0,)),), ((176, 128),))
    assert grid.mm(71) == F(71, 6)


# bounds -------------------------------------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("parts", "kerf", "sheets"),
    [
        pytest.param([part(46, 26, 4)], 4, 1, id="4 x 50 x 30 = 6000, the sheet 100 x 60"),
        pytest.param([part(46, 26, 5)], 4, 2, id="one more"),
        pytest.param([part(46, 26, 4), part(1, 1, 1)], 4, 2, id="one small part more, grown by the kerf 25"),
        pytest.param([part("46.001", 26, 4)], 4, 2, id="a thousandth more"),
        pytest.param([part(48, 28, 4)], 0, 1, id="without a kerf 4 x 48 x 28 = 5376 = 96 x 56"),
        pytest.param([part(96, 56, 1), part(1, 1, 1)], 0, 2, id="a square millimetre more"),
    ],
)
def test_sheets_that_the_area_asks_for(parts: list[WantedPart], kerf: int, sheets: int) -> None:
    """A sheet of 106 x 66 with 5 trim: 96 x 56 usable, and with a kerf of 4 100 x 60."""
    assert area_bound(wanted=parts, sheet=sheet(106, 66, trim=5), kerf_mm=F(kerf)) == sheets


@pytest.mark.parametrize(
    ("length", "width", "way", "big"),
    [
        # two parts of 46 and a kerf are 96: both fit; 46.5 do not. Two of 26 and a kerf are 56.
        (46, 27, "along", 0), ("46.5", 27, "along", 7), ("46.5", 26, "along", 0), ("46.5", "26.5", "along", 7),
        (27, "46.5", "across", 7), ("46.5", 27, "across", 0), (27, 46, "across", 0),
        # turned, two of the shorter side must fit in neither side: over 46
        ("46.5", 46, "either", 0), ("46.5", "46.5", "either", 7), (90, 46, "either", 0), (46, 90, "either", 0), (90, 47, "either", 7), (47, 90, "either", 7),
    ],
)  # fmt: skip
def test_parts_that_share_no_sheet(length: str | int, width: str | int, way: str, big: int) -> None:
    assert big_part_bound(wanted=[part(length, width, 7, way), part(10, 10, 5)], sheet=sheet(106, 66, trim=5), kerf_mm=F(4)) == big


@pytest.mark.parametrize(
    ("parts", "share", "sheets"),
    [
        ([part(48, 28, 4)], "1", 2), ([part(48, 28, 2)], "0.5", 1), ([part(48, 28, 2), part(1, 1, 1)], "0.5", 2), ([part(46, 26, 4)], "1", 1), ([], "0.8", 0),
        ([part(49, 29, 3)], "1", 3), ([part(48, 29, 3)], "1", 1), ([part(49, 28, 3)], "1", 1), ([part(49, "48.5", 2, "either")], "1", 2), ([part(49, 48, 2, "either")], "1", 1),
        ([part(1, 1, 1)], "1", 1), ([part("48.5", "28.5", 1)], "1", 1), ([part("48.5", "28.5", 2)], "1", 2),
    ],
)  # fmt: skip
def test_sheets_by_yield(parts: list[WantedPart], share: str, sheets: int) -> None:
    """Usable 96 x 56 = 5376. Four of 48 x 28 are all of it, but not with their kerfs: (52 x 32 x 4)/(100 x 60) = 1.11. Halves here are without a kerf."""
    assert sheets_by_yield(wanted=parts, sheet=sheet(106, 66, trim=5), kerf_mm=F(4), yield_share=F(share)) == sheets


# the fixed row of numbers -------------------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("start", [0, 1, 3])
def test_the_fixed_row_of_numbers_is_that_of_the_published_generator(start: int) -> None:
    """D. Knuth's MMIX: the next state is 6364136223846793005 times the last plus 1442695040888963407, modulo 2^64; constants from memory.

    Done here by long hand in upper and lower halves of 32 bits; what is drawn is the upper half.
    """
    state = (0, start)
    tops = []
    for _ in range(6):
        low = state[1] * 1284865837 + 4150755663
        high = state[0] * 1284865837 + state[1] * 1481765933 + 335903614 + low // 4294967296
        state = (high % 4294967296, low % 4294967296)
        tops.append(state[0])
    numbers = ShuffledNumbers(start)  # which takes the first step
    assert [numbers.below(4294967296) for _ in range(5)] == tops[1:]
    assert [ShuffledNumbers(start).below(choices) for choices in (1, 6, 100)] == [0, 6 * tops[1] // 4294967296, 100 * tops[1] // 4294967296]
