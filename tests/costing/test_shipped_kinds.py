"""The kinds that ship, each against sizes worked on paper from the rules of a frameless box (common practice).

Throughout: carcass 18, fronts 19, backs 8, drawer boxes 12 and their bottoms 8 mm, and the starter lengths of Shop: joint 0,
gap side 1.5, gap mid 3, gap top 3, gap bottom 0, groove 8, back inset 20, rail 100, shelf play 2, shelf setback 20,
drawer front 140, slide play 13, slide step 50, slide setback 10, drawer play 40, drawer groove 6, plinth height 100,
corner blind 550, corner filler 50.
"""

from collections.abc import Iterator
from dataclasses import replace
from typing import Any

import pytest

from estimator.costing.parts import parts_of_job
from estimator.model.exact import Fraction
from estimator.model.records import Cabinet, Finish, Job
from estimator.model.shop_records import Board, ConstructionRow, Edging
from estimator.model.taken import Part
from estimator.papers.form_book import starter_rows
from tests.building import AT, job, shop

ROLES_MM = {"carcass": 18, "front": 19, "back": 8, "drawer": 12, "drawer bottom": 8}


def _board(name: str, thickness_mm: int) -> Board:
    return Board(
        name, Fraction(thickness_mm), Fraction(2800), Fraction(2070), Fraction(50), False, "whole sheets", None, Fraction(10), 0,
        None, None, None, AT,
    )  # fmt: skip


def _edging() -> Edging:
    return Edging(
        edging="thin", material="", thickness_mm=Fraction("0.4"), width_mm=Fraction(22), price_per_m=Fraction(1),
        roll_length_m=None, charge="metres", overhang_mm=Fraction(10), spare_share=Fraction(0), deduct=False, by_hand=True,
        send_out=True, adhesive="", on_hand_m=Fraction(0), priced_on=None, at=AT,
    )  # fmt: skip


def _construction() -> Iterator[ConstructionRow]:
    for row in starter_rows()["Construction"]:
        fields = {header.lower().replace(" ", "_"): text for header, text in row.items() if header != "Note"}
        yield ConstructionRow(**fields, units="mm", at=AT)  # type: ignore[arg-type]


def _lengths(**other: str) -> dict[str, Fraction]:
    rows = starter_rows()["Shop"]
    first = next(number for number, row in enumerate(rows) if row["Item"] == "joint")
    return {row["Item"].replace(" ", "_"): Fraction(row["Value"]) for row in rows[first:]} | {
        name: Fraction(text) for name, text in other.items()
    }


def _cabinet(kind: str, width: int, **other: Any) -> Cabinet:
    """A cabinet with what the Kinds sheet gives to a blank cell."""
    given = next(row for row in starter_rows()["Kinds"] if row["Kind"] == kind)
    plain = Cabinet(
        ref="1", room="", kind=kind, qty=1, width_mm=Fraction(width),
        height_mm=Fraction(given["Height"]), depth_mm=Fraction(given["Depth"]), shelves=int(given["Shelves"]),
        doors=int(given["Doors"]), drawers=int(given["Drawers"]),
        finish="plain", finished_ends="none", front_heights_mm=(), tax_rate_share=None, note="", own_numbers={},
        own_lengths=frozenset(), at=AT,
    )  # fmt: skip
    return replace(plain, **other)


def _job(cabinet: Cabinet, **lengths: str) -> Job:
    boards = {role: f"{role} {mm}" for role, mm in ROLES_MM.items()}
    edgings = dict.fromkeys(("carcass", "front", "drawer"), "thin")
    return job(
        cabinets=(cabinet,), finishes=(Finish("plain", boards, edgings, "", AT),), shop=shop(lengths_mm=_lengths(**lengths)),
        boards=tuple(_board(boards[role], mm) for role, mm in ROLES_MM.items()), edgings=(_edging(),),
        construction=tuple(_construction()),
    )  # fmt: skip


def _parts(cabinet: Cabinet, **lengths: str) -> tuple[Part, ...]:
    made = parts_of_job(_job(cabinet, **lengths))
    assert made.problems == ()
    return made.parts


def _listed(parts: tuple[Part, ...]) -> list[str]:
    return [f"{part.count} {part.part} {_mm(part.length_mm)} x {_mm(part.width_mm)}" for part in parts]


def _mm(length: Fraction) -> str:
    return str(length.numerator) if length.denominator == 1 else str(length)


def heights(*mm: int) -> tuple[Fraction, ...]:
    return tuple(Fraction(each) for each in mm)


CASES = [
    pytest.param(
        _cabinet("base", 600, doors=2, finished_ends="left"),
        [
            "2 side 720 x 560",
            "1 bottom 564 x 560",  # 600 - 2 x 18
            "1 front rail 564 x 100",
            "1 rear rail 564 x 100",
            "1 back 710 x 580",  # 720 - 18 + 8; 564 + 2 x 8
            "1 shelf 562 x 512",  # 564 - 2; 560 - 20 - 8 - 20
            "2 door 717 x 297",  # 720 - 3; (600 - 2 x 1.5 - 3)/2
            "1 finished end 820 x 579",  # 720 + 100; 560 + 19
        ],
        id="a base cabinet with two doors and one finished end",
    ),
    pytest.param(
        _cabinet("drawer base", 900, front_heights_mm=heights(157, 253, 301)),
        [
            "2 side 720 x 560",
            "1 bottom 864 x 560",
            "1 front rail 864 x 100",
            "1 rear rail 864 x 100",
            "1 back 710 x 880",
            "1 drawer front 897 x 157",  # 900 - 2 x 1.5
            "1 drawer front 897 x 253",
            "1 drawer front 897 x 301",  # 157 + 253 + 301 + 2 x 3 + 3 = 720
            "2 drawer side 500 x 117",  # 560 - 20 - 8 - 10 = 522, down to a step of 50; 157 - 40
            "2 drawer side 500 x 213",
            "2 drawer side 500 x 261",
            "2 drawer end 814 x 117",  # 864 - 2 x 13 - 2 x 12
            "2 drawer end 814 x 213",
            "2 drawer end 814 x 261",
            "3 drawer bottom 826 x 488",  # 814 + 2 x 6; 500 - 2 x 12 + 2 x 6
        ],
        id="a drawer base with three typed front heights",
    ),
    pytest.param(
        _cabinet("drawer over door", 500),
        [
            "2 side 720 x 560",
            "1 bottom 464 x 560",
            "1 front rail 464 x 100",
            "1 rear rail 464 x 100",
            "1 back 710 x 480",
            "1 shelf 462 x 512",
            "1 door 574 x 497",  # 720 - 3 - (140 + 3)
            "1 drawer front 497 x 140",
            "2 drawer side 500 x 100",
            "2 drawer end 414 x 100",  # 464 - 26 - 24
            "1 drawer bottom 426 x 488",
        ],
        id="a drawer over a door",
    ),
    pytest.param(
        _cabinet("wall", 800, doors=2, finished_ends="both"),
        [
            "2 side 720 x 320",
            "1 bottom 764 x 320",
            "1 top 764 x 320",
            "1 back 700 x 780",  # 720 - 36 + 16; 764 + 16
            "2 shelf 762 x 272",  # 320 - 20 - 8 - 20
            "2 door 717 x 397",  # (800 - 3 - 3)/2
            "2 finished end 720 x 339",  # no plinth; 320 + 19
        ],
        id="a wall cabinet with two doors, both ends finished",
    ),
    pytest.param(
        _cabinet("tall", 600, finished_ends="right"),
        [
            "2 side 2080 x 560",
            "1 bottom 564 x 560",
            "1 top 564 x 560",
            "1 back 2060 x 580",
            "1 fixed shelf 564 x 532",  # 560 - 20 - 8
            "4 shelf 562 x 512",
            "1 door 2077 x 597",
            "1 finished end 2180 x 579",
        ],
        id="a tall cabinet with a fixed shelf",
    ),
    pytest.param(
        _cabinet("tall", 1000, doors=2, drawers=2, own_numbers={"partitions": Fraction(1), "plinth_height": Fraction(60)},
                 own_lengths=frozenset({"plinth_height"}), finished_ends="left"),
        [
            "2 side 2080 x 560",
            "1 bottom 964 x 560",
            "1 top 964 x 560",
            "1 back 2060 x 980",
            "1 partition 2044 x 532",  # 2080 - 36
            "4 shelf 471 x 512",  # (1000 - 36 - 18)/2 - 2
            "2 door 1791 x 497",  # 2080 - 3 - 2 x (140 + 3)
            "2 drawer front 997 x 140",
            "4 drawer side 500 x 100",
            "4 drawer end 914 x 100",  # 964 - 26 - 24
            "2 drawer bottom 926 x 488",
            "1 finished end 2140 x 579",  # its own plinth height, 60
        ],
        id="a tall cabinet with a partition, drawers under its doors and a plinth of its own",
    ),
    pytest.param(
        _cabinet("open", 400, finished_ends="left"),
        [
            "2 side 720 x 312",  # back applied: 320 - 8
            "1 bottom 364 x 312",
            "1 top 364 x 312",
            "1 back 720 x 400",
            "2 shelf 362 x 292",  # 312 - 20
            "1 finished end 720 x 320",  # no front to cover
        ],
        id="an open unit with its back applied",
    ),
    pytest.param(
        _cabinet("corner base", 1000),
        [
            "2 side 720 x 560",
            "1 bottom 964 x 560",
            "1 front rail 964 x 100",
            "1 rear rail 964 x 100",
            "1 back 710 x 980",
            "1 shelf 962 x 512",
            "1 door 717 x 447",  # 1000 - 550 - 2 x 1.5, so 1.5 + 447 + 1.5 + 550 = 1000
            "1 blind panel 717 x 550",
            "1 filler 717 x 50",
        ],
        id="a corner base with its blind panel and filler",
    ),
]  # fmt: skip


@pytest.mark.parametrize(("cabinet", "expected"), CASES)
def test_a_kind_gives_the_parts_worked_on_paper(cabinet: Cabinet, expected: list[str]) -> None:
    assert _listed(_parts(cabinet)) == expected


def test_every_shipped_kind_has_a_case_and_its_row_in_kinds() -> None:
    shipped = {row["Kind"] for row in starter_rows()["Construction"]}
    assert shipped == {"base", "drawer base", "drawer over door", "wall", "tall", "open", "corner base"}
    assert shipped == {row["Kind"] for row in starter_rows()["Kinds"]}
    assert shipped == {case.values[0].kind for case in CASES}  # type: ignore[union-attr]


def test_fronts_of_5_8_and_10_modules_close_the_opening_of_a_door() -> None:
    """Modules of 32 mm less a gap of 3: 157 + 253 + 317 + 2 x 3 = 733 (a page on the 32 mm system, which misprints 736)."""
    parts = _parts(_cabinet("drawer base", 600, height_mm=Fraction(736), front_heights_mm=heights(157, 253, 317)))
    fronts = [part.width_mm for part in parts if part.part == "drawer front"]
    door = next(part for part in _parts(_cabinet("base", 600, height_mm=Fraction(736))) if part.part == "door")
    assert sum(fronts) + 2 * 3 == door.length_mm == 733


def test_drawers_without_typed_heights_share_the_front_equally() -> None:
    parts = _parts(_cabinet("drawer base", 600))
    fronts = [(part.count, part.width_mm) for part in parts if part.part == "drawer front"]
    assert fronts == [(3, Fraction(237))]  # (720 - 3 - 2 x 3)/3


def test_bottom_and_top_grow_into_the_joint_and_rails_do_not() -> None:
    base = {part.part: part.length_mm for part in _parts(_cabinet("base", 600), joint="6")}
    wall = {part.part: part.length_mm for part in _parts(_cabinet("wall", 600), joint="6")}
    assert (base["bottom"], base["front rail"]) == (576, 564)
    assert (wall["bottom"], wall["top"]) == (576, 576)


def test_six_wall_cabinets_have_72_edges() -> None:
    """Two sides, bottom and top at the front, and two doors all round are 12 edges a cabinet (common practice)."""
    parts = _parts(_cabinet("wall", 800, doors=2, shelves=0, qty=6))
    assert sum(part.count * len(part.bands) for part in parts) == 72


def test_doors_and_drawer_fronts_are_counted_once_each() -> None:
    parts = _parts(_cabinet("tall", 1000, doors=2, drawers=3, shelves=5))
    counted = {name: sum(part.count for part in parts if part.counts_as == name) for name in ("door", "drawer", "shelf")}
    assert counted == {"door": 2, "drawer": 3, "shelf": 5}


def test_nothing_is_made_for_doors_drawers_and_shelves_that_are_not_there() -> None:
    parts = _parts(_cabinet("base", 600, doors=0, shelves=0))
    assert [part.part for part in parts] == ["side", "bottom", "front rail", "rear rail", "back"]
