"""Remarks alike are told in one line that names them all; estimate.json keeps each with its own cell."""

import json
from dataclasses import replace

import pytest

from estimator.costing.estimate import estimate_job
from estimator.model.exact import Fraction
from estimator.model.gathering import first_cell, gathered
from estimator.model.problems import Alike, Place, Remark
from estimator.model.results import Estimate
from estimator.papers.estimate_json import estimate_text
from tests.samples import estimate_of

TOGETHER = "shelves of {refs} sag, the worst that of {worst}"


def a_remark(cell: str, name: str, weight: int = 1, sheet: str = "Cabinets") -> Remark:
    return Remark(Place("job.xlsx", sheet, cell), f"{name} sags", Alike(name, Fraction(weight), f"{weight} mm", TOGETHER))


def plain(cell: str) -> Remark:
    return Remark(Place("job.xlsx", "Job", cell), f"look at {cell}")


def test_three_alike_are_one_at_the_place_of_the_first() -> None:
    remarks = [plain("B2"), a_remark("A3", "Kitchen 2"), plain("B9"), a_remark("A8", "Kitchen 7", 4), a_remark("A12", "Island 1", 2)]
    told = gathered(remarks)
    assert [str(one) for one in told] == [
        "job.xlsx > Job > B2: look at B2",
        "job.xlsx > Cabinets > A3, A8, A12: shelves of Kitchen 2, 7 and Island 1 sag, the worst that of Kitchen 7, 4 mm",
        "job.xlsx > Job > B9: look at B9",
    ]
    assert first_cell(told[1].place) == Place("job.xlsx", "Cabinets", "A3")


def test_two_alike_and_those_of_two_sheets_stay_apart() -> None:
    remarks = [a_remark("A3", "Kitchen 2"), a_remark("A8", "Kitchen 7"), a_remark("A3", "Rack 1", sheet="Loose parts")]
    assert gathered(remarks) == tuple(remarks)


def test_cells_below_one_another_are_named_by_their_ends() -> None:
    (told,) = gathered([a_remark(f"A{row}", f"Office {row}") for row in (2, 3, 4, 7, 9, 10)])
    assert told.place.cell == "A2 to A4, A7, A9, A10"
    assert told.words.startswith("shelves of Office 2, 3, 4, 7, 9 and 10 sag")


@pytest.mark.parametrize(
    ("names", "said"),
    [
        pytest.param(["Kitchen 1", "Hall", "Kitchen 2"], "Kitchen 1, Hall and Kitchen 2", id="another between"),
        pytest.param(["Kitchen 1", "Kitchen 1", "Kitchen 2"], "Kitchen 1 and 2", id="two shelves of one cabinet"),
        pytest.param(["Kitchen 1", "Kitchen 2", "Island 1", "Island 2"], "Kitchen 1, 2, Island 1 and 2", id="two rooms that count alike"),
        pytest.param(["rack", "rack", "rack"], "rack", id="the same three times"),
    ],
)
def test_whom_it_concerns_is_named_once(names: list[str], said: str) -> None:
    (told,) = gathered([a_remark(f"A{2 * row}", name) for row, name in enumerate(names, start=1)])
    assert told.words.startswith(f"shelves of {said} sag,")


def test_boards_that_end_in_a_number_keep_their_names() -> None:
    prices = "the prices of {names} were old, the oldest that of {worst}"
    remarks = [Remark(Place("shop.xlsx", "Boards", f"M{row}"), "old", Alike(name, Fraction(row), "400 days", prices))
               for row, name in ((2, "white 18"), (3, "white 8"), (5, "oak 19"))]  # fmt: skip
    assert [one.words for one in gathered(remarks)] == ["the prices of white 18, white 8 and oak 19 were old, the oldest that of oak 19, 400 days"]


def seventeen_shelves() -> Estimate:
    """The kitchen with seventeen bookcases of 1000 mm, as in an office."""
    job = estimate_of("kitchen").job
    wide = next(cabinet for cabinet in job.cabinets if cabinet.ref == "Kitchen 5")
    row = wide.at
    cabinets = tuple(replace(wide, ref=f"Office {n}", room="Office", at=replace(row, number=100 + n)) for n in range(1, 18))
    return estimate_job(replace(job, cabinets=cabinets, loose_parts=(), options=()))


def test_seventeen_shelves_that_sag_are_one_line_and_seventeen_places() -> None:
    estimate = seventeen_shelves()
    sagging = [one for one in estimate.remarks if "sags" in one.words]
    assert len(sagging) == 17
    (told,) = [one for one in gathered(estimate.remarks) if " sag " in one.words]
    assert told.words.startswith("shelves of Office 1, 2, 3,")
    assert "the worst that of Office" in told.words
    kept = [one["place"] for one in json.loads(estimate_text(estimate))["remarks"] if "sags" in one["words"]]
    assert kept == [f"kitchen.xlsx > Cabinets > A{100 + n}" for n in range(1, 18)]
