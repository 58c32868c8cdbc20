"""The saw's order and the names of pieces, on sheets small enough to be worked on paper: every cut, offcut and place is typed."""

from __future__ import annotations

import pytest

from estimator.costing.cutting import name_patterns
from estimator.costing.cutting.assembling import FilledSheet, assembled, sawn_sheets, shared_out
from estimator.costing.cutting.kerf import Grid, Kind
from estimator.costing.cutting.sawing import GridCut, Sawn, sawn
from estimator.model.cutting_plan import Cut, CuttingPlan, NamedPattern, NamedPlacement, Offcut, Pattern, Placement, StockSheet, WantedPart
from estimator.model.exact import Fraction
from estimator.model.problems import Fault

F = Fraction


def sheet(length: str | int, width: str | int, *, trim: str | int = 0, price: str | int = 60, on_hand: int = 0, buyable: bool = True) -> StockSheet:
    return StockSheet(F(length), F(width), F(trim), F(price), on_hand, buyable)


def part(length: str | int, width: str | int, count: int, way: str = "along") -> WantedPart:
    return WantedPart(F(length), F(width), count, way)  # type: ignore[arg-type]


# the saw ------------------------------------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("room", "pieces", "kerf", "answer"),
    [
        pytest.param((3, 5, 14, 9), [], 4, Sawn((), (), ((3, 5, 10, 5),), 50), id="nothing on it: all of it is left, less a kerf each way"),
        pytest.param((0, 0, 5, 5), [], 4, Sawn((), (), ((0, 0, 1, 1),), 1), id="one step each way is left"),
        pytest.param((0, 0, 4, 9), [], 4, Sawn((), (), (), 0), id="as long as the kerf: nothing is left"),
        pytest.param((0, 0, 9, 4), [], 4, Sawn((), (), (), 0), id="as wide as the kerf: nothing is left"),
        pytest.param((0, 0, 9, 7), [(0, 0, 9, 7, 2)], 4, Sawn(((0, 0, 9, 7, 2),), (), (), 0), id="a piece that fills it takes no cut"),
        pytest.param(
            (0, 0, 20, 10), [(0, 0, 12, 10, 0)], 2,
            Sawn(((0, 0, 12, 10, 0),), (GridCut(False, 10, (0, 0, 18, 8)),), ((12, 0, 6, 8),), 48), id="as wide as the sheet: one cross cut",
        ),
        pytest.param(
            (0, 0, 20, 10), [(0, 0, 20, 6, 0)], 2,
            Sawn(((0, 0, 20, 6, 0),), (GridCut(True, 4, (0, 0, 18, 8)),), ((0, 6, 18, 2),), 36), id="as long as the sheet: one rip",
        ),
        pytest.param(
            (0, 0, 20, 10), [(0, 0, 12, 6, 0)], 2,
            # rip first leaves 18 x 2 = 36 and 6 x 4; cross first leaves 6 x 8 = 48 and 10 x 2: the larger single offcut is taken
            Sawn(((0, 0, 12, 6, 0),), (GridCut(False, 10, (0, 0, 18, 8)), GridCut(True, 4, (0, 0, 10, 8))), ((0, 6, 10, 2), (12, 0, 6, 8)), 48),
            id="a corner: the larger offcut",
        ),
        pytest.param(
            (0, 0, 10, 10), [(0, 0, 6, 6, 0)], 0,
            Sawn(((0, 0, 6, 6, 0),), (GridCut(True, 6, (0, 0, 10, 10)), GridCut(False, 6, (0, 0, 10, 6))), ((6, 0, 4, 6), (0, 6, 10, 4)), 40),
            id="a square corner: both are alike, so the rip",
        ),
        pytest.param(
            (0, 0, 10, 10), [(4, 0, 6, 10, 0)], 0,
            Sawn(((0, 0, 6, 10, 0),), (GridCut(False, 6, (0, 0, 10, 10)),), ((6, 0, 4, 10),), 40), id="a gap is closed, so that the rest lies at the end",
        ),
        pytest.param(
            (0, 0, 10, 10), [(0, 7, 10, 3, 1), (0, 1, 10, 4, 0)], 0,
            Sawn(((0, 0, 10, 4, 0), (0, 4, 10, 3, 1)), (GridCut(True, 4, (0, 0, 10, 10)), GridCut(True, 7, (0, 4, 10, 6))), ((0, 7, 10, 3),), 30),
            id="two gaps are closed one after the other",
        ),
        pytest.param(
            (0, 0, 10, 12), [(0, 0, 5, 6, 0), (5, 0, 5, 6, 0), (0, 6, 5, 6, 0), (5, 6, 5, 6, 0)], 0,
            Sawn(
                ((0, 0, 5, 6, 0), (5, 0, 5, 6, 0), (0, 6, 5, 6, 0), (5, 6, 5, 6, 0)),
                (GridCut(True, 6, (0, 0, 10, 12)), GridCut(False, 5, (0, 0, 10, 6)), GridCut(False, 5, (0, 6, 10, 6))), (), 0,
            ),
            id="four alike, nothing left: the rip first",
        ),
        pytest.param(
            (0, 0, 9, 6), [(0, 0, 3, 3, 0), (0, 3, 3, 3, 0), (3, 0, 3, 6, 1), (6, 0, 3, 6, 1)], 0,
            Sawn(
                ((0, 0, 3, 3, 0), (0, 3, 3, 3, 0), (3, 0, 3, 6, 1), (6, 0, 3, 6, 1)),
                (GridCut(False, 3, (0, 0, 9, 6)), GridCut(False, 6, (3, 0, 6, 6)), GridCut(True, 3, (0, 0, 3, 6))), (), 0,
            ),
            id="all cuts one way before the strips are taken",
        ),
    ],
)  # fmt: skip
def test_how_pieces_are_sawn(
    room: tuple[int, int, int, int], pieces: list[tuple[int, int, int, int, int]], kerf: int, answer: Sawn
) -> None:
    assert sawn(room=room, pieces=pieces, kerf=kerf) == answer


def test_fewer_cuts_break_the_tie_of_two_largest_offcuts_alike() -> None:
    """Room 10 x 8. P 6 x 2 and above it 2 x 4 leave 4 x 4 = 16 both ways; Q 3 x 6 beside them, R 6 x 2 and S 3 x 2 above.

    Ripped at 6 first the rest at the right falls in two, 1 x 6 and 1 x 2: 5 pieces and 3 offcuts take 7 cuts. Crossed at 6 and 9 first it is one, 1 x 8: 6 cuts.
    """
    pieces = [(0, 0, 6, 2, 0), (0, 2, 2, 4, 1), (6, 0, 3, 6, 2), (0, 6, 6, 2, 3), (6, 6, 3, 2, 4)]
    assert sawn(room=(0, 0, 10, 8), pieces=pieces, kerf=0) == Sawn(
        pieces=((0, 0, 6, 2, 0), (0, 2, 2, 4, 1), (0, 6, 6, 2, 3), (6, 0, 3, 6, 2), (6, 6, 3, 2, 4)),
        cuts=(
            GridCut(False, 6, (0, 0, 10, 8)), GridCut(False, 9, (6, 0, 4, 8)), GridCut(True, 2, (0, 0, 6, 8)), GridCut(True, 6, (0, 2, 6, 6)),
            GridCut(False, 2, (0, 2, 6, 4)), GridCut(True, 6, (6, 0, 3, 8)),
        ),
        offcuts=((2, 2, 4, 4), (9, 0, 1, 8)),
        largest=16,
    )  # fmt: skip


# names --------------------------------------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("demands", "offers", "runs"),
    [
        ([([0], 3)], {0: {"a": 3}}, [[(3, ["a"])]]),
        ([([0], 3)], {0: {"a": 2, "b": 1}}, [[(2, ["a"]), (1, ["b"])]]),
        ([([0], 3)], {0: {"a": 1, "b": 2}}, [[(2, ["b"]), (1, ["a"])]]),
        ([([0, 0], 2)], {0: {"a": 4}}, [[(2, ["a", "a"])]]),
        ([([0, 0], 2)], {0: {"a": 3, "b": 1}}, [[(1, ["a", "a"]), (1, ["a", "b"])]]),
        ([([0, 0], 3)], {0: {"a": 3, "b": 3}}, [[(3, ["a", "b"])]]),
        ([([0, 1, 0], 2)], {0: {"a": 2, "b": 2}, 1: {"x": 2}}, [[(2, ["a", "x", "b"])]]),
        ([([0, 1], 4)], {0: {"a": 4}, 1: {"x": 1, "y": 3}}, [[(3, ["a", "y"]), (1, ["a", "x"])]]),
        ([([0, 1], 4)], {0: {"a": 2, "b": 2}, 1: {"x": 4}}, [[(2, ["a", "x"]), (2, ["b", "x"])]]),
        ([([0], 1), ([0, 0], 1)], {0: {"a": 2, "b": 1}}, [[(1, ["a"])], [(1, ["a", "b"])]]),
    ],
)  # fmt: skip
def test_names_are_shared_out_in_the_longest_runs(
    demands: list[tuple[list[int], int]], offers: dict[int, dict[str, int]], runs: list[list[tuple[int, list[str]]]]
) -> None:
    assert shared_out(demands=demands, offers=offers) == runs


def test_labels_on_patterns() -> None:
    left, right = Placement(0, F(0), F(0), False), Placement(1, F(60), F(0), True)
    pattern = Pattern(0, 3, (left, right), (), ())
    plan = CuttingPlan((pattern,), 3, 3, F(0), F(0), F(0), F(0), F(0), F(0))
    named = name_patterns(plan, [[("K1", "side"), ("K2", "side"), ("K1", "side")], [("K1", "rail")] * 3])
    assert named == (
        NamedPattern(pattern, 2, (NamedPlacement("K1", "side", left), NamedPlacement("K1", "rail", right))),
        NamedPattern(pattern, 1, (NamedPlacement("K2", "side", left), NamedPlacement("K1", "rail", right))),
    )


# the plan in millimetres --------------------------------------------------------------------------------------------------------------------


def test_equal_sheets_are_one_pattern_and_the_most_and_fullest_stand_first() -> None:
    """Sheets 10 x 10 of two stocks: sorted by stock, most sheets, most area; a sheet laid in another order or with a gap is the same sheet."""
    grid = Grid(1, 0, (Kind(((10, 5),), 9, (0,)), Kind(((10, 2),), 9, (1,))), ((10, 10), (10, 10)))
    half, both, gap = ((0, 0, 0, 10, 5),), ((0, 0, 0, 10, 5), (0, 0, 5, 10, 5)), ((0, 0, 5, 10, 5),)
    thin = ((1, 0, 0, 10, 2),)
    filled = [
        FilledSheet(1, both), FilledSheet(0, thin), FilledSheet(0, half, 2), FilledSheet(0, both), FilledSheet(0, gap, 3), FilledSheet(0, both[::-1], 3), FilledSheet(0, half),
    ]  # fmt: skip
    found = sawn_sheets(filled, grid)
    assert [(one.stock, one.count, [piece[:2] + piece[4:] for piece in one.sawn.pieces]) for one in found] == [
        (0, 6, [(0, 0, 0)]), (0, 4, [(0, 0, 0), (0, 5, 0)]), (0, 1, [(0, 0, 1)]), (1, 1, [(0, 0, 0), (0, 5, 0)]),
    ]  # fmt: skip
    alike = sawn_sheets([FilledSheet(0, thin), FilledSheet(0, half)], grid)
    assert [one.sawn.pieces[0][4] for one in alike] == [0, 1]


def test_of_two_sheets_with_as_much_on_them_the_one_whose_pieces_stand_first() -> None:
    grid = Grid(1, 0, (Kind(((10, 5),), 1, (0,)), Kind(((5, 10),), 1, (1,))), ((10, 10),))
    found = sawn_sheets([FilledSheet(0, ((0, 0, 0, 10, 5),)), FilledSheet(0, ((1, 0, 0, 5, 10),))], grid)
    assert [one.sawn.pieces[0][4] for one in found] == [1, 0]


def test_a_sheet_that_cannot_be_sawn_is_told_in_whole_words() -> None:
    grid = Grid(1, 0, (Kind(((2, 1), (1, 2)), 4, (0,)),), ((3, 3),))
    with pytest.raises(Fault) as told:
        sawn_sheets([FilledSheet(0, ((0, 0, 0, 2, 1), (0, 2, 0, 1, 2), (0, 1, 2, 2, 1), (0, 0, 1, 1, 2)))], grid)
    assert str(told.value) == "A sheet was filled in a way that no saw can cut."


def test_a_filled_sheet_in_millimetres() -> None:
    """Half millimetres, kerf 4, trim 10, sheet 120 x 80, on a grid of 2: A 30 x 28 twice, B 20 x 66 turned; drawn in the checker's test.

    Grown by the kerf: A 68 x 64 half millimetres, B 48 across and 140 along; the sheet 208 x 128. Largest offcut first.
    """
    wanted = [part(30, 28, 2), part(20, 66, 1, "across")]
    grid = Grid(2, 8, (Kind(((140, 48),), 1, (1,)), Kind(((68, 64),), 2, (0,))), ((208, 128),))
    filled = [FilledSheet(0, ((1, 0, 0, 68, 64), (1, 0, 64, 68, 64), (0, 68, 0, 140, 48)))]
    plan = assembled(filled=filled, grid=grid, wanted=wanted, stock=[sheet(120, 80, trim=10, price=20)], bound=1, bound_money=F(19))
    piece = tuple[int, int, int, int]

    def cut(direction: str, place: int, lying: piece) -> Cut:
        return Cut(direction, F(place), *map(F, lying))  # type: ignore[arg-type]

    pattern = Pattern(
        0, 1,
        (Placement(0, F(10), F(10), False), Placement(0, F(10), F(42), False), Placement(1, F(44), F(10), True)),
        (cut("cross", 40, (10, 10, 100, 60)), cut("rip", 38, (10, 10, 30, 60)), cut("rip", 30, (44, 10, 66, 60))),
        (Offcut(F(44), F(34), F(66), F(36)),),
    )  # fmt: skip
    assert plan == CuttingPlan((pattern,), 1, 1, F(20), F(19), F(3000), F(624), F(3600), F(2376))
    assert plan.gap == 0


@pytest.mark.parametrize(("along", "turned"), [(30, False), (20, True)])
def test_a_part_that_may_be_turned_is_turned_where_its_length_does_not_lie_along(along: int, turned: bool) -> None:
    """Two offcuts: 1000 in the smaller and more in the larger, the larger first; of two alike the one nearer to the corner."""
    wanted = [part(30, 20, 1, "either")]
    grid = Grid(1, 0, (Kind(((30, 20), (20, 30)), 1, (0,)),), ((60, 40),))
    plan = assembled(filled=[FilledSheet(0, ((0, 0, 0, along, 50 - along),))], grid=grid, wanted=wanted, stock=[sheet(60, 40, on_hand=1)], bound=1, bound_money=F(0))
    (pattern,) = plan.patterns
    assert pattern.placements == (Placement(0, F(0), F(0), turned),)
    assert (plan.money, plan.sheets) == (0, 1)
    areas = [one.area_mm2 for one in pattern.offcuts]
    assert areas == sorted(areas, reverse=True)
    assert sum(areas) == 1800


def test_what_the_saw_turns_to_dust_where_less_than_a_kerf_is_left() -> None:
    """97 x 60 out of 100 x 60 with a kerf of 4: the saw takes the 3 mm that are left, 180 mm2; 100 x 57 likewise 300."""
    for length, width, dust in ((97, 60, 180), (100, 57, 300), (96, 60, 240), (100, 56, 400), (100, 60, 0)):
        grid = Grid(1, 4, (Kind(((length + 4, width + 4),), 2, (0,)),), ((104, 64),))
        laid = ((0, 0, 0, length + 4, width + 4),)
        plan = assembled(filled=[FilledSheet(0, laid, 2)], grid=grid, wanted=[part(length, width, 2)], stock=[sheet(100, 60)], bound=2, bound_money=F(0))
        assert (plan.kerf_mm2, plan.offcut_mm2, plan.trim_mm2, plan.sheets, plan.money) == (2 * dust, 0, 0, 2, 120)
