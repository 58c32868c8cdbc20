"""Each law of a cutting plan, broken by a hair and kept by a hair, with every sentence that the checker then says, whole.

The plan is drawn by hand: a sheet of 120 x 80 with 10 trim all round and a kerf of 4. A cross cut at 40 frees a strip of 30, which a rip at 38 parts into
two pieces A of 30 x 28; a rip at 30 frees B, 20 x 66 turned, and leaves 66 x 36. Kerf 4 x 60 + 4 x 30 + 4 x 66 = 624, parts 2 x 840 + 1320 = 3000,
offcut 2376, together 6000 = 100 x 60; trim 9600 - 6000 = 3600.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import pytest

from estimator.costing.cutting import check_plan
from estimator.model.cutting_plan import Cut, CuttingPlan, Offcut, Pattern, Placement, StockSheet, WantedPart
from estimator.model.exact import Fraction

F = Fraction
A, B = WantedPart(F(30), F(28), 2, "along"), WantedPart(F(20), F(66), 1, "across")
SHEET = StockSheet(F(120), F(80), F(10), F(20), 0, True)
REST = "after the last cut the pieces in hand are not the parts and the offcuts."
SUM = "Parts, kerf, trim and offcuts do not add up to the sheets."


def at(part: int, x: str | int, y: str | int, *, turned: bool = False) -> Placement:
    return Placement(part, F(x), F(y), turned)


def cut(direction: str, place: str | int, *piece: str | int) -> Cut:
    return Cut(direction, F(place), *map(F, piece))  # type: ignore[arg-type]


PLACES = (at(0, 10, 10), at(0, 10, 42), at(1, 44, 10, turned=True))
CUTS = (cut("cross", 40, 10, 10, 100, 60), cut("rip", 38, 10, 10, 30, 60), cut("rip", 30, 44, 10, 66, 60))
OFFCUT = Offcut(F(44), F(34), F(66), F(36))
DRAWN = Pattern(0, 1, PLACES, CUTS, (OFFCUT,))
PLAN = CuttingPlan(
    patterns=(DRAWN,), sheets=1, bound=1, money=F(20), bound_money=F(20), parts_mm2=F(3000), kerf_mm2=F(624), trim_mm2=F(3600), offcut_mm2=F(2376)
)  # fmt: skip


def told(plan: CuttingPlan, wanted: Sequence[WantedPart] = (A, B), stock: Sequence[StockSheet] = (SHEET,), kerf: str | int = 4) -> list[str]:
    return check_plan(plan=plan, wanted=wanted, stock=stock, kerf_mm=F(kerf))


def drawn(**changes: object) -> CuttingPlan:
    return replace(PLAN, patterns=(replace(DRAWN, **changes),))  # type: ignore[arg-type]


def placed(number: int, placement: Placement) -> CuttingPlan:
    return drawn(placements=(*PLACES[:number], placement, *PLACES[number + 1 :]))


def test_the_plan_as_drawn_keeps_every_law() -> None:
    assert told(PLAN) == []


@pytest.mark.parametrize(
    ("changes", "sentences"),
    [
        ({"parts_mm2": F(2999)}, ["The parts are 3000 mm2 and the plan says 2999 mm2."]),
        ({"kerf_mm2": F(625)}, ["The kerf are 624 mm2 and the plan says 625 mm2."]),
        ({"trim_mm2": F(3601)}, ["The trim are 3600 mm2 and the plan says 3601 mm2."]),
        ({"offcut_mm2": F(2375)}, ["The offcuts are 2376 mm2 and the plan says 2375 mm2."]),
        ({"money": F(21)}, ["The sheets to buy cost 20 and the plan says 21."]),
        ({"sheets": 2}, ["The patterns take 1 sheets and the plan says 2."]),
        ({"bound": 2}, ["The plan is better than what is said to be the best possible."]),
        ({"bound_money": F(20) + F(1, 9)}, ["The plan is better than what is said to be the best possible."]),
        ({"bound": 0, "bound_money": F(19)}, []),
    ],
)  # fmt: skip
def test_what_the_plan_says_in_figures(changes: dict[str, object], sentences: list[str]) -> None:
    assert told(replace(PLAN, **changes)) == sentences  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("number", "placement", "sentences"),
    [
        (2, at(1, 45, 10, turned=True), ["the part at 45, 10 is not inside the trimmed sheet", REST]),
        (1, at(0, 10, 43), ["the part at 10, 43 is not inside the trimmed sheet", REST]),
        (0, at(0, 9, 10), ["the part at 9, 10 is not inside the trimmed sheet", REST]),
        (0, at(0, 10, 9), ["the part at 10, 9 is not inside the trimmed sheet", REST]),
        (2, at(1, 43, 10, turned=True), ["its parts cannot be sawn free edge to edge with a kerf between neighbours", REST]),
        (1, at(0, 10, 41), ["its parts cannot be sawn free edge to edge with a kerf between neighbours", REST]),
        (0, at(0, 10, "10.5"), ["its parts cannot be sawn free edge to edge with a kerf between neighbours", REST]),
        (2, at(1, 44, "12.5", turned=True), [REST]),
        (0, at(0, -26, 10), ["the part at -26, 10 is not inside the trimmed sheet", REST]),
        (1, at(0, 39, 42), [REST]),
        (0, at(0, "9.5", "9.25"), ["the part at 19/2, 37/4 is not inside the trimmed sheet", REST]),
        (2, at(1, "35.5", "10.25", turned=True), ["the parts at 10, 10 and 71/2, 41/4 overlap", "its parts cannot be sawn free edge to edge with a kerf between neighbours", REST]),
    ],
)  # fmt: skip
def test_where_a_part_lies(number: int, placement: Placement, sentences: list[str]) -> None:
    assert told(placed(number, placement)) == ["Pattern 1: " + one.removesuffix(".") + "." for one in sentences]


def test_a_part_before_the_sheet_is_still_sawn_free_of_one_that_begins_a_kerf_behind_nothing() -> None:
    """Pieces from -30 to 0 and from 4 on have a kerf between them; both lie outside the trimmed sheet."""
    plan = drawn(placements=(at(0, -30, 10), at(0, 4, 10)), cuts=(), offcuts=())
    wanted = [A]
    (first, second, rest, *areas) = told(plan, wanted)
    assert (first, second) == (
        "Pattern 1: the part at -30, 10 is not inside the trimmed sheet.", "Pattern 1: the part at 4, 10 is not inside the trimmed sheet.",
    )  # fmt: skip
    assert rest == f"Pattern 1: {REST}"
    assert areas == [
        "The parts are 1680 mm2 and the plan says 3000 mm2.", "The kerf are 0 mm2 and the plan says 624 mm2.", "The offcuts are 0 mm2 and the plan says 2376 mm2.", SUM,
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("way", "turned", "sentences"),
    [("along", True, 1), ("along", False, 0), ("across", False, 1), ("across", True, 0), ("either", True, 0), ("either", False, 0)],
)
def test_a_square_part_lies_against_its_grain_only_where_it_has_one(way: str, turned: bool, sentences: int) -> None:
    wanted = [WantedPart(F(10), F(10), 1, way)]  # type: ignore[arg-type]
    plan = CuttingPlan((Pattern(0, 1, (at(0, 0, 0, turned=turned),), (), ()),), 1, 1, F(20), F(20), F(100), F(0), F(0), F(0))
    assert told(plan, wanted, [StockSheet(F(10), F(10), F(0), F(20), 0, True)]) == ["Pattern 1: part 0 lies against its grain."][:sentences]


def test_how_often_a_part_is_cut_and_a_sheet_is_used() -> None:
    twice = replace(drawn(count=2), sheets=2, bound=2, money=F(40), bound_money=F(40), parts_mm2=F(6000), kerf_mm2=F(1248), trim_mm2=F(7200), offcut_mm2=F(4752))
    wanted = [replace(A, count=4), replace(B, count=2)]
    assert told(twice, wanted) == []
    assert told(twice, [replace(A, count=3), wanted[1]]) == [
        "Part 0 is cut 4 times and wanted 3 times.", "The parts are 5160 mm2 and the plan says 6000 mm2.", SUM,
    ]  # fmt: skip
    on_hand = replace(SHEET, on_hand=1)
    assert told(replace(twice, money=F(20), bound_money=F(0)), wanted, [on_hand]) == []
    assert told(replace(twice, money=F(20), bound_money=F(0)), wanted, [replace(on_hand, buyable=False)]) == ["Stock 0 is used 2 times and only 1 are on hand."]
    assert told(replace(twice, money=F(0), bound_money=F(0)), wanted, [replace(SHEET, on_hand=2, buyable=False)]) == []


def test_a_pattern_of_no_sheets_is_told() -> None:
    """Its figures are those of nothing, so only the count of the patterns is wrong."""
    nothing = replace(drawn(count=0), sheets=0, bound=0, money=F(0), bound_money=F(0), parts_mm2=F(0), kerf_mm2=F(0), trim_mm2=F(0), offcut_mm2=F(0))
    assert told(nothing, [replace(A, count=0), replace(B, count=0)]) == ["The patterns take 0 sheets and the plan says 0."]


# two pieces on a sheet, with no kerf --------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("swapped", [False, True])
@pytest.mark.parametrize(
    ("size", "other", "cuts"),
    [((10, 5), (0, 5), [cut("rip", 5, 0, 0, 10, 10)]), ((5, 10), (5, 0), [cut("cross", 5, 0, 0, 10, 10)])],
    ids=["one above the other", "one beside the other"],
)
def test_parts_that_touch_do_not_overlap(size: tuple[int, int], other: tuple[int, int], cuts: list[Cut], swapped: bool) -> None:
    places = [at(0, 0, 0), at(0, *other)]
    pattern = Pattern(0, 1, tuple(places[::-1] if swapped else places), tuple(cuts), ())
    plan = CuttingPlan((pattern,), 1, 1, F(20), F(20), F(100), F(0), F(0), F(0))
    wanted, stock = [WantedPart(F(size[0]), F(size[1]), 2, "along")], [StockSheet(F(10), F(10), F(0), F(20), 0, True)]
    assert told(plan, wanted, stock, 0) == []
    x, y = other
    nearer = at(0, x - 1, y) if x else at(0, x, y - 1)
    moved = replace(pattern, placements=(nearer, at(0, 0, 0)) if swapped else (at(0, 0, 0), nearer))
    near, far = f"{nearer.x_mm}, {nearer.y_mm}", "0, 0"
    first, second = (near, far) if swapped else (far, near)
    assert told(replace(plan, patterns=(moved,)), wanted, stock, 0)[0] == f"Pattern 1: the parts at {first} and {second} overlap."


def test_a_pinwheel_beside_a_part_that_is_free_cannot_be_sawn() -> None:
    """Four pieces of 6 x 4 around a hole of 2 x 2, and one of 4 x 10 beside them: the cut at 10 is clear, no other is."""
    wanted = [WantedPart(F(6), F(4), 2, "along"), WantedPart(F(6), F(4), 2, "across"), WantedPart(F(4), F(10), 1, "along")]
    wheel = (at(0, 0, 0), at(1, 6, 0, turned=True), at(0, 4, 6), at(1, 0, 4, turned=True))
    stock = [StockSheet(F(14), F(10), F(0), F(1), 0, True)]
    for places in ((*wheel, at(2, 10, 0)), (at(2, 10, 0), *wheel)):
        plan = CuttingPlan((Pattern(0, 1, places, (cut("cross", 10, 0, 0, 14, 10),), ()),), 1, 1, F(1), F(1), F(136), F(0), F(0), F(4))
        assert told(plan, wanted, stock, 0)[:2] == [
            "Pattern 1: its parts cannot be sawn free edge to edge with a kerf between neighbours.", f"Pattern 1: {REST}",
        ]  # fmt: skip


# one cut of one piece -----------------------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("kerf", "place", "part", "left", "lost", "sentences"),
    [
        pytest.param(4, 0, (4, 96), None, 40, [], id="at the very edge: a kerf is planed off"),
        pytest.param(4, -1, None, None, 40, ["cut 1 misses its piece", REST], id="before the edge"),
        pytest.param(4, 1, (0, 1), (5, 95), 40, [], id="a millimetre is freed"),
        pytest.param(4, 95, (0, 95), (99, 1), 40, [], id="a millimetre is left"),
        pytest.param(4, 96, (0, 96), None, 40, [], id="nothing is left"),
        pytest.param(4, 99, (0, 99), None, 10, [], id="less than a kerf is turned to dust"),
        pytest.param(4, 100, (0, 100), None, 0, ["cut 1 misses its piece"], id="at the far edge"),
        pytest.param(0, 100, (0, 100), None, 0, [], id="at the far edge, without a kerf"),
        pytest.param(0, 101, (0, 100), None, -10, ["cut 1 misses its piece", REST], id="beyond the far edge, without a kerf"),
        pytest.param(1, 100, (0, 100), None, 0, ["cut 1 misses its piece"], id="at the far edge, with the thinnest kerf"),
    ],
)
@pytest.mark.parametrize("rip", [True, False])
def test_where_a_cut_runs(
    kerf: int, place: int, part: tuple[int, int] | None, left: tuple[int, int] | None, lost: int, sentences: list[str], rip: bool
) -> None:
    """A piece 100 long and 10 wide, cut across its length, or the same turned and ripped."""

    def lying(start: int, extent: int) -> tuple[int, int, int, int]:
        return (0, start, 10, extent) if rip else (start, 0, extent, 10)

    x, y, length, width = lying(*(part or (0, 100)))
    offcuts = (Offcut(*map(F, lying(*left))),) if left else ()
    piece = (0, 0, 10, 100) if rip else (0, 0, 100, 10)
    pattern = Pattern(0, 1, (at(0, x, y),), (cut("rip" if rip else "cross", place, *piece),), offcuts)
    area, over = length * width, sum(int(one.area_mm2) for one in offcuts)
    plan = CuttingPlan((pattern,), 1, 1, F(1), F(1), F(area), F(lost), F(0), F(over))
    stock = [StockSheet(F(piece[2]), F(piece[3]), F(0), F(1), 0, True)]
    said = told(plan, [WantedPart(F(length), F(width), 1, "along")], stock, kerf)
    expected = ["Pattern 1: " + one.removesuffix(".") + "." for one in sentences]
    assert said == expected + ([SUM] if area + lost + over != 1000 else [])


# fractions of a millimetre that stand in one place only -------------------------------------------------------------------------------------


def test_a_half_millimetre_of_the_sheet_is_seen() -> None:
    """The sheet is 120.5 long: what the plan cuts is of another piece. All else is whole millimetres."""
    assert told(PLAN, stock=[replace(SHEET, length_mm=F("120.5"))]) == [
        *(f"Pattern 1: cut {number} is of a piece that is not in hand." for number in (1, 2, 3)), f"Pattern 1: {REST}",
        "The kerf are 0 mm2 and the plan says 624 mm2.", "The trim are 3610 mm2 and the plan says 3600 mm2.", SUM,
    ]  # fmt: skip


def test_a_half_millimetre_of_a_part_is_seen() -> None:
    """A is 34.5 long and reaches over B, which begins at 44: 10 + 34.5 = 44.5."""
    assert told(PLAN, [replace(A, length_mm=F("34.5")), B])[:2] == [
        "Pattern 1: the parts at 10, 10 and 44, 10 overlap.", "Pattern 1: its parts cannot be sawn free edge to edge with a kerf between neighbours.",
    ]  # fmt: skip


def test_a_half_millimetre_of_a_cut_is_seen() -> None:
    """The last rip at 70.5 lies half a millimetre beyond its piece, which ends at 70."""
    assert told(drawn(cuts=(*CUTS[:2], replace(CUTS[2], at_mm=F("70.5")))))[0] == "Pattern 1: cut 3 misses its piece."


def test_a_half_millimetre_of_an_offcut_is_seen() -> None:
    """66.5 x 36 = 2394: the plan says so in both places, and only the saw and the sum tell."""
    plan = replace(drawn(offcuts=(replace(OFFCUT, length_mm=F("66.5")),)), offcut_mm2=F(2394))
    assert told(plan) == [f"Pattern 1: {REST}", SUM]


def test_a_half_millimetre_of_kerf_is_seen() -> None:
    """With 4.5 the first strip is freed, but what lies beyond it begins half a millimetre later than the plan says."""
    assert told(PLAN, kerf="4.5")[:3] == [
        "Pattern 1: its parts cannot be sawn free edge to edge with a kerf between neighbours.", "Pattern 1: cut 3 is of a piece that is not in hand.", f"Pattern 1: {REST}",
    ]  # fmt: skip
