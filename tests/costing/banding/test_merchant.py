"""Parts from the board merchant beside making them here: worked on paper, and as properties of random mixes."""

from dataclasses import replace
from typing import Any

import pytest

from estimator.costing.banding.merchant import merchant_answer
from estimator.costing.estimate import _takings, estimate_job
from estimator.costing.takings import Takings
from estimator.model.decision import MerchantAnswer
from estimator.model.exact import Fraction
from estimator.model.records import Job
from estimator.model.results import Estimate
from estimator.model.shop_records import ContractPrice, MerchantRow, Step
from tests.building import AT, shop, terms
from tests.costing.banding.worked import board, contract, edging, four_edgings, loose

F = Fraction


def step(name: str, stage: str, route: Any, per: str, minutes: int) -> Step:
    return Step(name, stage, route, per, "", F(minutes), F(100), F(0), None, None, "", True, AT)


def row(board_name: str = "", **other: Any) -> MerchantRow:
    plain: dict[str, Any] = {
        "merchant": "the yard", "board": board_name, "delivers": "cut", "price_per_sheet": None, "price_per_cut": F(0),
        "price_per_part": F(0), "price_per_m": F(0), "setup": F(0), "minimum_charge": F(0), "lead_time_days": 0,
        "priced_on": None, "at": AT,
    }  # fmt: skip
    return MerchantRow(**{**plain, **other})


def a_job(*rows: MerchantRow, **other: Any) -> Job:
    """Two boards of one sheet each, at 60 and 80: ten parts 1000 x 500 of white and four 600 x 400 of oak, their fronts banded."""
    plain: dict[str, Any] = {
        "shop": shop(value_of_a_freed_hour="wage", direct_rate=F(30)),
        "boards": (board(expected_yield_share=None), board(board="oak 18", price=F(80), expected_yield_share=None)),
        "edgings": (edging("white", "1"), edging("oak", "2")),
        "fittings": (), "contract": None, "contract_prices": (),
        "work": (
            step("set the saw", "cutting", "", "job", 20), step("fetch", "cutting", "", "sheet", 10), step("cut", "Cutting", "", "part", 3),
            step("band", "banding", "by hand", "edge", 6), step("wipe", "banding", "", "part", 1), step("bore", "boring", "", "part", 5),
        ),
        "loose_parts": (loose("w", 10, 1000, 500, "white"), loose("o", 4, 600, 400, "oak", board="oak 18")),
        "merchant": rows,
    }  # fmt: skip
    return four_edgings(**{**plain, **other})


def compared(job: Job) -> MerchantAnswer:
    answer = estimate_job(job)
    assert isinstance(answer, Estimate), answer
    assert answer.merchant is not None
    return answer.merchant


def test_all_made_here_on_paper() -> None:
    """Boards 140. Saw 20, two sheets 20, 14 parts 42, wiping 14: 96 minutes at 30 an hour are 48. Boring stays either way.

    Banding by hand: 10 m at 1, 2.4 m at 2, 14 edges at 6 minutes: 10 + 4.80 + 42 = 56.80.
    """
    here = compared(a_job(row())).here
    assert (here.boards_here, here.work_here, here.banding_here, here.cost) == (F(140), F(48), F("56.80"), F("244.80"))


def test_white_cut_and_banded_on_paper() -> None:
    """Sheet 75, 10 parts at 0.40, 10 m at 1.50 and one set-up of 5: 99, up to a minimum of 110.

    Here: oak 80; saw 20, one sheet 10, 4 parts 12, wiping 4 = 46 minutes, 23; oak 4.80 and 4 x 6 minutes 12 = 16.80.
    """
    prices = {"price_per_sheet": F(75), "price_per_part": F("0.40"), "price_per_m": F("1.50"), "setup": F(5)}
    answer = compared(a_job(row("white 18", delivers="cut and banded", minimum_charge=F(110), lead_time_days=3, **prices)))
    (white,) = answer.by_board
    assert (white.sheets, white.parts, white.banding, white.top_up) == (F(75), F(4), F(20), F(11))
    assert (white.boards_here, white.work_here, white.banding_here, white.cost) == (F(80), F(23), F("16.80"), F("229.80"))
    assert answer.whole == white == answer.best
    assert answer.sentence == (
        "Parts from the board merchant: white 18 cut and banded for 229.80 in all, saves 15.00 against making them here; "
        "there in 3 working days"
    )


def test_cut_only_keeps_the_banding_and_counts_the_cuts_of_the_plan() -> None:
    job = a_job(row("oak 18", price_per_cut=F(2)))
    answer = compared(job)
    takings = _takings(job)
    assert isinstance(takings, Takings)
    plan = takings.boards[1].plan
    assert plan is not None
    (oak,) = answer.by_board
    assert oak.cuts == 2 * sum(pattern.count * len(pattern.cuts) for pattern in plan.patterns) > 0
    assert oak.sheets == 80  # a blank price is the one in Boards
    assert oak.banding_here == answer.here.banding_here
    assert oak.work_here == F(20 + 10 + 30 + 14, 2)  # saw, a sheet, ten parts, and every part is still wiped here


def test_nothing_is_set_up_once_every_board_comes_cut() -> None:
    assert compared(a_job(row())).whole.work_here == F(14, 2)


def test_a_row_without_a_board_stands_for_every_other() -> None:
    answer = compared(a_job(row("oak 18", price_per_sheet=F(10)), row(price_per_sheet=F(1))))
    assert {way.boards[0]: way.sheets for way in answer.by_board} == {"white 18": F(1), "oak 18": F(10)}


def test_the_highest_minimum_holds_for_the_order_and_is_shared() -> None:
    answer = compared(a_job(row("white 18", minimum_charge=F(100)), row("oak 18", minimum_charge=F(150))))
    white, oak = answer.by_board
    assert (white.top_up, oak.top_up, answer.whole.top_up) == (F(40), F(70), F(10))
    both = compared(a_job(row("white 18", minimum_charge=F(100)), row("oak 18", minimum_charge=F(150), merchant="another")))
    assert both.whole.top_up == 40 + 70


def test_too_late_is_not_possible() -> None:
    answer = compared(a_job(row(lead_time_days=9), terms=terms(working_days_available=5)))
    assert answer.whole.cost is None
    assert answer.whole.why == "the merchant takes 9 working days and the job has 5"
    assert answer.best.boards == ()
    assert "nothing is gained" in answer.sentence


def test_the_price_does_not_know_the_merchant() -> None:
    with_, without = estimate_job(a_job(row(price_per_sheet=F(1)))), estimate_job(a_job())
    assert isinstance(with_, Estimate)
    assert isinstance(without, Estimate)
    assert (with_.price, with_.cost, with_.banding.plans) == (without.price, without.cost, without.banding.plans)
    assert without.merchant is None


@pytest.mark.parametrize("seed", range(8))
def test_best_is_the_cheapest_of_every_mix(seed: int) -> None:
    """Each mix priced by itself: a job whose merchant offers those boards alone, taken whole."""
    rows = [
        row(name, delivers="cut and banded" if (seed >> i) & 1 else "cut", price_per_sheet=F(60 + 7 * seed), price_per_part=F(seed, 4),
            price_per_m=F(1 + seed, 2), setup=F(3), minimum_charge=F(40 * (seed % 3)))
        for i, name in enumerate(("white 18", "oak 18"))
    ]  # fmt: skip
    answer = compared(a_job(*rows))
    alone = [compared(a_job(*mix)).whole.cost for mix in ((rows[0],), (rows[1],), (rows[0], rows[1]))]
    assert answer.best.cost == min([answer.here.cost or 0, *(cost or 0 for cost in alone)])


def test_offcuts_of_the_shop_are_not_cut_by_the_merchant() -> None:
    from estimator.model.shop_records import BoardOffcut

    offcut = BoardOffcut("oak 18", F(1300), F(900), 1, AT)
    job = a_job(row("oak 18"), offcuts=(offcut,))
    answer = compared(job)
    assert answer.here.boards_here == 60  # oak comes from the rack
    assert answer.by_board[0].sheets == 80


def test_merchant_answer_is_none_for_boards_without_a_row() -> None:
    job = a_job(row("oak 18"))
    only_white = replace(job, loose_parts=job.loose_parts[:1])
    takings = _takings(only_white)
    assert isinstance(takings, Takings)
    assert merchant_answer(only_white, takings) is None


def test_parts_that_come_too_late_for_the_contract_bander_leave_no_way_of_banding() -> None:
    """Five days: the merchant takes three of them, the contract bander four, and white cannot be banded by hand."""
    sent = replace(edging("white", "1"), by_hand=False)
    offer = (ContractPrice("white", F(0), F(1), F(0), AT),)
    job = a_job(
        row("white 18", lead_time_days=3), terms=terms(working_days_available=5), edgings=(sent, edging("oak", "2")),
        contract=contract(lead_time_days=4), contract_prices=offer,
    )  # fmt: skip
    answer = compared(job)
    (white,) = answer.by_board
    assert (white.cost, white.why) == (None, "no way of banding what is left is possible")
    assert answer.best == answer.here
    assert answer.sentence == "Parts from the board merchant: nothing is gained; cut and band here"
