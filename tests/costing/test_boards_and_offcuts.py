"""Boards through the whole estimate: the plan's yield beside the expected one, and offcuts on hand in the data that goes out."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from estimator.costing.estimate import estimate_job
from estimator.model.exact import Fraction
from estimator.model.records import Job
from estimator.model.results import Estimate
from estimator.model.shop_records import BoardOffcut
from estimator.papers.estimate_json import estimate_data
from tests.building import AT
from tests.samples import sample


def _one_cabinet() -> Job:
    return sample("one-cabinet")


def _board(job: Job) -> dict[str, Any]:
    estimate = estimate_job(job)
    assert isinstance(estimate, Estimate), estimate
    (board,) = estimate_data(estimate)["boards"].values()
    return dict(board)


def test_the_plan_of_a_board_bought_by_yield_tells_its_own_yield() -> None:
    """Parts of 0.92776 m2 on one trimmed sheet of 2.78 x 2.05 m: 16.279 %, where 80 % is expected."""
    board = _board(_one_cabinet())
    assert (board["yield"], board["sheets"], board["cost"], board["plan"]) == ("0.8", 1, "61.5", [])
    assert abs(Fraction(board["plan_yield"]) - Fraction("0.92776") / Fraction("5.699")) < Fraction(1, 10**9)
    assert board["saw_sheets"] == 1
    assert sum(entry["count"] * len(entry["parts"]) for entry in board["saw_plan"]) == 5


def test_without_an_expected_yield_the_plan_is_the_yield() -> None:
    job = _one_cabinet()
    board = _board(replace(job, boards=tuple(replace(row, expected_yield_share=None) for row in job.boards)))
    assert board["plan_yield"] == board["yield"]
    assert board["saw_plan"] == []
    assert sum(entry["count"] * len(entry["parts"]) for entry in board["plan"]) == 5


def test_an_offcut_that_holds_the_job_costs_nothing_and_tells_its_raw_size() -> None:
    job = _one_cabinet()
    boards = tuple(replace(row, expected_yield_share=None) for row in job.boards)
    offcut = BoardOffcut(boards[0].board, Fraction(1500), Fraction(1000), 1, AT)
    board = _board(replace(job, boards=boards, offcuts=(offcut,)))
    assert (board["sheets"], board["cost"]) == (0, "0")
    assert [(entry["length"], entry["width"], entry["count"]) for entry in board["plan"]] == [("1500", "1000", 1)]
    for piece in board["plan"][0]["parts"]:
        along, across = (piece["width"], piece["length"]) if piece["turned"] else (piece["length"], piece["width"])
        assert 0 <= Fraction(piece["x"]) <= 1500 - Fraction(along)
        assert 0 <= Fraction(piece["y"]) <= 1000 - Fraction(across)
