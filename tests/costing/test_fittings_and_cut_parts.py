"""How many of a fitting one thing takes by its rule, what is said of a rule that gives no number, and parts as they are cut; with their very cells."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from estimator.costing.cut_part import banded_cut_mm, by_role, marks_of
from estimator.costing.estimate import estimate_job
from estimator.costing.parts import parts_of_job
from estimator.model.exact import Fraction
from estimator.model.problems import Place, Problem, Row
from estimator.model.refusal import Refusal
from estimator.model.results import Estimate
from tests.building import CELLS, shop, terms
from tests.costing.banding.worked import board, edging, fitting, four_edgings, loose
from tests.samples import sample

F = Fraction
EXPECTED = "Number: a number or a rule that gives one, 0 or more"


def rule(number: str, per: str = "part", *, units: str = "mm", route: str = "") -> Any:
    return replace(fitting("rod", route, per, "", "2"), number=number, units=units, at=CELLS)


def answered(row: Any, **other: Any) -> Any:
    """Two parts of 1000 x 500 in white and one of 800 x 300, and the shop's rail of 50."""
    parts = (loose("a", 2, 1000, 500, "white", counts_as="door"), loose("b", 1, 800, 300, ""))
    return estimate_job(four_edgings(**{"shop": shop(lengths_mm={"rail": F(50)}), "fittings": (row,), "loose_parts": parts, "boards": (board(),), "edgings": (edging("white", "2"),), **other}))


@pytest.mark.parametrize(
    ("row", "number"),
    [
        (rule("3"), 9), (rule("0.5"), F("1.5")), (rule("length / 100"), 28), (rule("width / 100"), 13), (rule("rail / 10"), 15), (rule("length / 100", "door"), 20), (rule("rail", "job"), 50), (rule("rail - 50", "job"), 0), (rule("rail", "sheet"), 50), (rule("2 * rail", "m2"), 100 * F("1.24")),
        (rule("length / 100", route="by hand"), 20), (rule("rail", "metre", route="by hand"), 100), (rule("rail", "batch", route="by hand"), 50), (rule("10 * rail", units="inch"), 3 * 500 / F("25.4")), (rule("length", units="inch"), 2800 / F("25.4")), (rule("rail + 25.4 mm", "job", units="inch"), 50 / F("25.4") + 1),
    ],
)  # fmt: skip
def test_how_many_by_a_rule(row: Any, number: Any) -> None:
    answer = answered(row, terms=terms(banding="by hand"))
    assert isinstance(answer, Estimate)
    assert [(one.number, one.cost) for one in answer.fittings] == [(number, 2 * number)]


@pytest.mark.parametrize(
    ("row", "found", "mend"),
    [
        (rule("length - 801"), "a rule that comes out below 0: b of b", "write it as max(0, ...), which is never below 0"), (rule("width - 501"), "a rule that comes out below 0: a of a", "write it as max(0, ...), which is never below 0"),
        (rule("rail - 51", "job"), "a rule that comes out below 0", "write it as max(0, ...), which is never below 0"), (rule("length", "job"), "the name length, which stands for nothing here", "names here: rail"),
        (rule("widht"), "the name widht, which stands for nothing here: a of a", "did you mean width? names here: length, rail, width"), (rule("1 / (length - 800)"), "a division by 0: b of b", "make sure that what stands under the / cannot be 0"),
    ],
)  # fmt: skip
def test_a_rule_that_gives_no_number(row: Any, found: str, mend: str) -> None:
    answer = answered(row)
    assert isinstance(answer, Refusal)
    assert answer.problems == (Problem(Place("book.xlsx", "Sheet", "F2"), found, EXPECTED, mend),)


def test_every_row_that_gives_no_number_is_told() -> None:
    answer = answered(rule("rail - 51", "job"), fittings=(rule("rail - 51", "job"), rule("4"), rule("nothing", "job")))
    assert isinstance(answer, Refusal)
    assert [problem.found for problem in answer.problems] == ["a rule that comes out below 0", "the name nothing, which stands for nothing here"]


def test_a_rule_about_a_cabinet() -> None:
    """The names of its own rules: 600 wide, one shelf, the fronts of two drawers of 100 and 150; counted once for each of 3."""
    job = sample("one-cabinet")
    cabinet = replace(job.cabinets[0], qty=3, drawers=2, front_heights_mm=(F(100), F(150)))
    row = replace(rule("width / 100 + shelves + front_heights / 50", "cabinet"))
    answer = estimate_job(replace(job, cabinets=(cabinet,), fittings=(row,)))
    assert isinstance(answer, Estimate)
    assert [(one.number, one.cost) for one in answer.fittings] == [(36, 72)]
    refused = estimate_job(replace(job, cabinets=(cabinet,), fittings=(rule("depth - 301", "cabinet"),)))
    assert isinstance(refused, Refusal)
    assert refused.problems[0].found == f"a rule that comes out below 0: cabinet {cabinet.ref}"


# parts as they are cut ----------------------------------------------------------------------------------------------------------------------


def cut(front: str = "", back: str = "", left: str = "", right: str = "", *, thick: str = "2", deduct: bool = True) -> tuple[Fraction, Fraction]:
    rows = (edging("white", "2", thickness_mm=F(thick), deduct=deduct), edging("thin", "1", thickness_mm=F("0.4"), deduct=False), edging("oak", "1", thickness_mm=F(1), deduct=True))
    part = loose("a", 1, 1000, 500, front, left, back=back, right=right)
    (made,) = parts_of_job(four_edgings(edgings=rows, loose_parts=(part,))).parts
    assert (made.length_mm, made.width_mm) == (1000, 500)
    return made.cut_length_mm, made.cut_width_mm


@pytest.mark.parametrize(
    ("marks", "size"),
    [
        ({}, (1000, 500)), ({"front": "white"}, (1000, 498)), ({"back": "white"}, (1000, 498)), ({"left": "white"}, (998, 500)), ({"right": "white"}, (998, 500)), ({"front": "white", "back": "oak"}, (1000, 497)), ({"left": "oak", "right": "white"}, (997, 500)),
        ({"front": "thin", "left": "thin"}, (1000, 500)), ({"front": "white", "left": "white", "deduct": False}, (1000, 500)), ({"front": "white", "back": "white", "left": "white", "right": "white"}, (996, 496)),
    ],
)  # fmt: skip
def test_bands_that_are_deducted(marks: dict[str, Any], size: tuple[int, int]) -> None:
    assert cut(**marks) == size
    assert banded_cut_mm(finished_mm=F(10), bands_mm=(F(1), F(2))) == 7


@pytest.mark.parametrize(
    ("left", "front", "length", "width", "problem"),
    [
        ("white", "", "300", "100", ("I2", "Length", "0 mm left to cut after its bands: a of a")), ("white", "", "300.5", "100", None), ("", "white", "300", "300", ("J2", "Width", "0 mm left to cut after its bands: a of a")), ("", "white", "300", "299.25", ("J2", "Width", "-0.75 mm left to cut after its bands: a of a")), ("white", "white", "299", "299", ("I2", "Length", "-1 mm left to cut after its bands: a of a")),
    ],
)  # fmt: skip
def test_a_part_of_which_its_bands_leave_nothing(left: str, front: str, length: str, width: str, problem: tuple[str, str, str] | None) -> None:
    """Bands of 150 at both ends, or at both long edges."""
    rows = (edging("white", "2", thickness_mm=F(150), deduct=True),)
    part = replace(loose("a", 1, 1, 1, front, left, back=front, right=left, at=CELLS), length_mm=F(length), width_mm=F(width))
    made = parts_of_job(four_edgings(edgings=rows, loose_parts=(part,)))
    if problem is None:
        assert (len(made.parts), made.problems) == (1, ())
    else:
        cell, header, found = problem
        assert made.problems == (Problem(Place("book.xlsx", "Sheet", cell), found, f"{header}: more than its bands are thick", "make the part larger or leave a band off"),)


def test_a_strip_that_does_not_cover_the_board() -> None:
    """18 and 2 are 20; the widest of two is 19.5."""
    rows = tuple(edging("white", "2", width_mm=F(width), at=Row("book.xlsx", "Edgings", number, {"Width": "D"})) for number, width in ((2, "19.5"), (3, "16")))
    made = parts_of_job(four_edgings(edgings=rows, loose_parts=(loose("a", 1, 500, 300, "white"),)))
    assert made.problems == (
        Problem(
            Place("book.xlsx", "Edgings", "D2"), "19.5 mm, the widest of white, for white 18, which is 18 mm thick: a of a", "Width: at least the board's thickness and 2 mm, here 20 mm",
            "stock a wider strip of this edging, or choose another edging or board for the part",
        ),
    )  # fmt: skip


def test_roles_and_marks() -> None:
    assert [by_role({"Carcass": "white", "front": "oak"}, role) for role in ("front", "FRONT", "carcass", "back")] == ["oak", "oak", "white", None]
    assert list(marks_of(loose("a", 1, 1, 1, "x", "oak", right="white"))) == [("front", "x"), ("left", "oak"), ("right", "white")]
