"""Mixes of boards from the merchant: which are priced, which is best where two cost the same, and the sentence word for word."""

from typing import Any

import pytest

from estimator.model.exact import Fraction
from estimator.model.records import Job
from tests.building import terms
from tests.costing.banding.test_merchant import a_job, compared, row
from tests.costing.banding.worked import board, contract, loose

F = Fraction


def many_boards(boards: int, *, banded: int, **other: Any) -> Job:
    """So many boards of one part each, every one offered by the yard at half its price; the first come banded."""
    names = [f"board {number}" for number in range(boards)]
    rows = [row(name, delivers="cut and banded" if place < banded else "cut", price_per_sheet=F(30)) for place, name in enumerate(names)]
    return a_job(
        *rows, boards=tuple(board(board=name, expected_yield_share=None) for name in names),
        loose_parts=tuple(loose(name, 1, 1000, 500, "white", board=name) for name in names), **other,
    )  # fmt: skip


@pytest.mark.parametrize(
    ("boards", "banded", "every"),
    [
        pytest.param(6, 4, True, id="six boards, four banded"),
        pytest.param(7, 0, False, id="seven boards"),
        pytest.param(5, 5, False, id="five banded"),
    ],
)
def test_every_mix_is_priced_up_to_six_boards_of_which_four_come_banded(boards: int, banded: int, every: bool) -> None:
    answer = compared(many_boards(boards, banded=banded))
    assert answer.every_mix is every
    assert len(answer.by_board) == boards
    assert len(answer.whole.boards) == boards
    assert answer.best == answer.whole  # each board is cheaper there by itself
    assert answer.here.boards == ()


def test_all_here_wins_where_nothing_is_saved() -> None:
    """A sheet of oak at 80 comes cut for 100: 20 more than here, for two sheets' and four parts' cutting: 10 + 12 minutes at 30 an hour, 11."""
    answer = compared(a_job(row("oak 18", price_per_sheet=F(91))))
    assert answer.by_board[0].cost == answer.here.cost
    assert answer.best == answer.here
    assert answer.sentence == "Parts from the board merchant: nothing is gained; cut and band here"
    cheaper = compared(a_job(row("oak 18", price_per_sheet=F("90.99"))))
    assert cheaper.best == cheaper.by_board[0]
    assert cheaper.sentence == "Parts from the board merchant: oak 18 cut for 244.79 in all, saves 0.01 against making them here"


def test_both_kinds_of_delivery_in_one_sentence() -> None:
    """Two sheets at 1; white is wiped here, ten minutes or 5, and banded, 10 m at 1 and 60 minutes or 30. The days are those of the rows that are taken."""
    rows = (
        row("white 18", price_per_sheet=F(1), lead_time_days=2),
        row("oak 18", delivers="cut and banded", price_per_sheet=F(1), lead_time_days=3),
    )
    answer = compared(a_job(*rows))
    assert answer.sentence == (
        "Parts from the board merchant: oak 18 cut and banded; white 18 cut for 47.00 in all, saves 197.80 against making them here; "
        "there in 3 working days"
    )
    assert answer.lead_time_days == 3
    dear = compared(a_job(rows[0], row("oak 18", price_per_sheet=F(500), lead_time_days=9)))
    assert dear.sentence.endswith("; there in 2 working days")
    assert dear.lead_time_days == 9


@pytest.mark.parametrize(("days", "why"), [(5, ""), (6, "the merchant takes 6 working days and the job has 5")])
def test_the_last_day_is_soon_enough(days: int, why: str) -> None:
    assert compared(a_job(row(lead_time_days=days), terms=terms(working_days_available=5))).whole.why == why


def test_without_a_last_day_no_merchant_is_late() -> None:
    assert compared(a_job(row(lead_time_days=90))).whole.why == ""


def test_what_is_left_is_banded_the_best_way_found_anew() -> None:
    """White comes banded; of oak nothing is sent, for its 2.4 m cost less here. With white here too both ways are looked at again."""
    answer = compared(a_job(row("white 18", delivers="cut and banded"), contract=contract(minimum_charge=F(0), cost_per_distance=F(0))))
    (white,) = answer.by_board
    assert (white.edgings, answer.here.edgings) == (("oak",), ("white", "oak"))
    assert (white.sent, answer.here.sent) == ((), ())
    assert white.parts == white.cuts == white.top_up == 0


def test_every_board_banded_there_leaves_nothing_to_band_here() -> None:
    """Ten parts and four at 0.40, 10 m and 2.4 m at 1.50, a set-up of 5 for each edging of each board, sheets at 60 and 80."""
    there = compared(a_job(row(delivers="cut and banded", price_per_part=F("0.40"), price_per_m=F("1.50"), setup=F(5)))).whole
    assert (there.sheets, there.parts, there.banding, there.boards_here, there.work_here, there.banding_here) == (
        140,
        F("5.60"),
        F("18.60") + 10,
        0,
        0,
        0,
    )
    assert (there.edgings, there.cost) == ((), 140 + F("5.60") + F("28.60"))


def test_a_set_up_for_each_edging_of_a_board() -> None:
    parts = (loose("w", 2, 1000, 500, "white", "oak"),)
    answer = compared(a_job(row(delivers="cut and banded", setup=F(5), price_per_m=F(1)), loose_parts=parts))
    assert answer.whole.banding == 2 * (1 + F("0.5")) + 2 * 5
