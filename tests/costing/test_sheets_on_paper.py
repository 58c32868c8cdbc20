"""Boards and the contract bander's invoice on paper: which size is bought, what is charged, what fits no sheet, and every slice of a price."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from estimator.costing.contractor import (
    Break,
    Offer,
    charged_m,
    invoice_of,
    offers_of,
    quantity_above_amount,
    trip_cost,
    whole_quantity_amount,
)
from estimator.costing.parts import parts_of_job
from estimator.costing.sheets import boards_of_job, parts_too_large, usable_m2, way_on_sheet
from estimator.model.exact import Fraction
from estimator.model.problems import Problem
from estimator.model.records import Job, LoosePart
from estimator.model.results import ContractorLine, Invoice
from estimator.model.shop_records import Board, BoardOffcut, ContractPrice
from estimator.model.taken import BoardUse, EdgingUse
from tests.building import AT, CELLS, shop, terms
from tests.costing.banding.worked import board, contract, four_edgings, loose
from tests.samples import sample

F = Fraction


def size(length: int, width: int, price: str | int, **other: Any) -> Board:
    return board(sheet_length_mm=F(length), sheet_width_mm=F(width), price=F(price), **{"trim_mm": F(10), **other})


def with_boards(boards: list[Board], parts: list[LoosePart], **other: Any) -> Job:
    return four_edgings(boards=tuple(boards), loose_parts=tuple(parts), shop=shop(kerf_mm=F(4)), **other)


def used(job: Job) -> tuple[BoardUse, ...]:
    answer = boards_of_job(job, parts_of_job(job).parts)
    assert all(isinstance(use, BoardUse) for use in answer)
    return answer  # type: ignore[return-value]


HALF = [loose("half", 5, 1000, 500, "")]
"""Five parts of half a square metre: 2.5 m2."""


@pytest.mark.parametrize(
    ("boards", "chosen", "sheets", "cost", "per_m2"),
    [
        # 2020 x 1020 has 2 m2 usable, 1.6 expected, so two sheets; 1020 x 1020 has 1 m2 and 0.8, so four
        ([size(2020, 1020, 40)], 0, 2, 80, F(40) / F("1.6")), ([size(2020, 1020, 40), size(1020, 1020, 21)], 0, 2, 80, 32), ([size(2020, 1020, 40), size(1020, 1020, 19)], 1, 4, 76, F("30.4")),
        ([size(2020, 1020, 40), size(1020, 1020, 20)], 0, 2, 80, 32), ([size(2020, 1020, 40), size(1020, 1020, 21, on_hand=1)], 1, 4, 84, F("33.6")), ([size(2020, 1020, 40, on_hand=1), size(1020, 1020, 11)], 0, 2, 80, 32), ([size(2020, 1020, 40, on_hand=9)], 0, 2, 80, 25),
        # by area: the cheapest usable square metre, whatever the count
        ([size(2020, 1020, 40, charge="area")], 0, 2, F(2.5) / F("1.6") * 40, 25), ([size(2020, 1020, 40, charge="area"), size(1020, 1020, 19, charge="area")], 1, 4, F("2.5") / F("0.8") * 19, F(19) / F("0.8")),
        ([size(2020, 1020, 40, charge="area"), size(1020, 1020, 21, charge="area")], 0, 2, F("62.5"), 25), ([size(2020, 1020, 40, charge="area", expected_yield_share=F("0.5"))], 0, 3, 100, 40),
    ],
)  # fmt: skip
def test_sheets_by_the_expected_yield(boards: list[Board], chosen: int, sheets: int, cost: Fraction | int, per_m2: Fraction | int) -> None:
    (use,) = used(with_boards(boards, HALF))
    assert (use.by_size[0].board, len(use.by_size), use.by_size[0].sheets) == (boards[chosen], 1, sheets)
    assert (use.parts, use.area_m2, use.sheets, use.cost, use.cost_per_m2, use.by_yield) == (5, F("2.5"), sheets, cost, per_m2, True)
    assert use.yield_share == boards[chosen].expected_yield_share
    assert use.bound == 2


def test_a_size_that_holds_not_every_part_is_no_choice() -> None:
    """1200 x 300 lies on the long sheet only, though the small one would cost less."""
    (use,) = used(with_boards([size(1020, 1020, 5), size(2020, 1020, 40)], [*HALF, loose("long", 1, 1200, 300, "")]))
    assert (use.by_size[0].board.price, use.sheets, use.cost) == (40, 2, 80)


def test_by_plan_what_is_bought_and_what_a_square_metre_costs() -> None:
    """Without an expected yield. Four halves on 2 m2 with a kerf would be 2004 long; turned, three stand side by side: two sheets. On hand they cost as much."""
    for on_hand in (0, 1, 3):
        (use,) = used(with_boards([size(2020, 1020, 40, expected_yield_share=None, on_hand=on_hand)], HALF))
        assert (use.sheets, use.cost, use.cost_per_m2, use.by_yield, use.bound) == (2, 80, 32, False, 2)
        assert (use.yield_share, use.plan_yield_share) == (F("0.625"), F("0.625"))
        assert use.plan is not None
        assert (use.plan.money, sum(entry.count for entry in use.plan_entries)) == (max(0, 2 - on_hand) * 40, 2)
    (use,) = used(with_boards([size(2024, 1024, 40, expected_yield_share=None)], HALF))
    assert (use.sheets, use.cost) == (2, 80)


def test_pieces_on_hand_of_this_board_are_used_and_cost_the_job_nothing() -> None:
    offcuts = (BoardOffcut("white 18", F(1000), F(500), 2, AT), BoardOffcut("other", F(3000), F(2000), 9, AT))
    (use,) = used(with_boards([size(2024, 1024, 40, expected_yield_share=None)], HALF, offcuts=offcuts))
    assert (use.sheets, use.cost, [(one.board.price, one.sheets) for one in use.by_size]) == (1, 40, [(40, 1)])
    assert sum(entry.count for entry in use.plan_entries) == 2  # four on the sheet, one on a piece
    assert use.yield_share == F("2.5") / (F("2.004") * F("1.004") + F("0.5"))


def test_boards_in_the_order_of_their_sheet_and_only_those_that_are_used() -> None:
    """Two boards, each with parts of its own; a third is not used."""
    boards = [size(2020, 1020, 9, board="oak 18"), size(2020, 1020, 8, board="beech 18"), size(2020, 1020, 7)]
    parts = [loose("a", 1, 500, 300, ""), loose("b", 2, 600, 400, "", board="oak 18"), loose("c", 1, 100, 100, "")]
    assert [(use.board, use.parts, use.area_m2) for use in used(with_boards(boards, parts))] == [("oak 18", 2, F("0.48")), ("white 18", 2, F("0.16"))]
    assert usable_m2(boards[0]) == 2


@pytest.mark.parametrize(("grain", "part", "way"), [(True, "length", "along"), (True, "width", "across"), (True, "any", "either"), (False, "length", "either"), (False, "width", "either")])
def test_how_a_part_lies_on_its_sheet(grain: bool, part: str, way: str) -> None:
    made = parts_of_job(with_boards([size(2020, 1020, 9)], [loose("a", 1, 500, 300, "", grain=part)])).parts[0]
    assert way_on_sheet(made, grain=grain) == way


NO_TURN = ", and its grain must not be turned"
MEND = "make the part smaller, join it from two, or stock a larger sheet of this board"


@pytest.mark.parametrize(
    ("length", "width", "grain", "part", "header", "words"),
    [
        (2000, 1000, True, "length", None, ""), (2001, 1000, True, "length", "Length", NO_TURN), (2000, 1001, True, "length", "Width", NO_TURN), (1000, 2000, True, "length", "Width", NO_TURN), (1000, 2000, True, "width", None, ""), (1001, 2000, True, "width", "Length", NO_TURN),
        (1000, 2000, True, "any", None, ""), (1001, 2000, True, "any", "Width", ""), (1000, 2000, False, "length", None, ""), (2001, 1000, False, "length", "Length", ""), (2000, 1001, False, "length", "Width", ""), (2001, 2001, False, "length", "Length", ""),
    ],
)  # fmt: skip
def test_a_part_that_fits_no_sheet(length: int, width: int, grain: bool, part: str, header: str | None, words: str) -> None:
    """A trimmed sheet of 2000 x 1000, and a smaller one."""
    boards = [size(520, 520, 5, grain=grain), size(2020, 1020, 9, grain=grain)]
    row = loose("top", 1, length, width, "", grain=part, at=CELLS)
    job = with_boards(boards, [row, replace(row, qty=2)])
    found = parts_too_large(job, parts_of_job(job).parts)
    problem = Problem(row.at.place(header or ""), f"{length} x {width} mm: top of top{words}", f"{header}: a part that fits a trimmed sheet of white 18, 2000 x 1000 mm", MEND)
    assert found == ((problem,) if header else ())
    assert boards_of_job(job, parts_of_job(job).parts) == (found or used(job))


def test_sizes_in_inches_have_their_unit_once() -> None:
    job = with_boards([size(2560, 1290, 9)], [loose("top", 1, 2667, 1000, "")], terms=terms(units="inch"))
    (problem,) = parts_too_large(job, parts_of_job(job).parts)
    assert problem.found.startswith("105 x 39 3/8")
    assert problem.expected == "Length: a part that fits a trimmed sheet of white 18, 100 x 50 inch"


def test_a_cabinet_whose_part_fits_no_sheet_is_pointed_at() -> None:
    """A width of 3600 inches is a slip in Cabinets, though the rule that made the part stands in Construction."""
    job = sample("inch-job")
    wide = replace(job.cabinets[0], width_mm=F(91440))
    job = replace(job, cabinets=(wide,), loose_parts=())
    problems = parts_too_large(job, parts_of_job(job).parts)
    assert problems
    for problem in problems:
        assert problem.place.sheet == "Construction"
        assert problem.mend == f"look at the sizes of {wide.ref} (Cabinets, row {wide.at.number}); if they are meant so, {MEND}"


# the contract bander ------------------------------------------------------------------------------------------------------------------------

LADDER = (Break(F(0), F("1.5")), Break(F(100), F("1.2")), Break(F(300), F(1)))


@pytest.mark.parametrize(
    ("metres", "reached", "plain", "bought_up", "above"),
    [
        # whole quantity at the highest break reached; bought up where a higher break costs less; each slice at its own price
        (80, 80, "120", "120", "120"), (90, 90, "135", "120", "135"), (99, 99, "148.5", "120", "148.5"), (100, 100, "120", "120", "150"), (101, 101, "121.2", "121.2", "151.2"), (250, 250, "300", "300", "330"), (260, 260, "312", "300", "342"), (300, 300, "300", "300", "390"), (301, 301, "301", "301", "391"),
        (90, 100, "108", "108", "135"), (90, 99, "135", "120", "135"), (90, 300, "90", "90", "135"), (0, 0, "0", "0", "0"),
    ],
)  # fmt: skip
def test_prices_by_quantity(metres: int, reached: int, plain: str, bought_up: str, above: str) -> None:
    assert whole_quantity_amount(metres=F(metres), reached_m=F(reached), breaks=LADDER, buy_up=False) == F(plain)
    assert whole_quantity_amount(metres=F(metres), reached_m=F(reached), breaks=LADDER, buy_up=True) == F(bought_up)
    assert quantity_above_amount(metres=F(metres), breaks=LADDER) == F(above)


def test_offers_by_edging_the_lowest_break_from_nothing() -> None:
    """Rows in any order; the lowest holds from 0 whatever it says; the set-up of the first break that has one."""
    rows = (("a", 50, "1.2", None), ("b", 10, "2", 7), ("a", 5, "1.5", None), ("a", 90, "1", 4))
    job = four_edgings(contract_prices=tuple(ContractPrice(name, F(start), F(price), None if setup is None else F(setup), AT) for name, start, price, setup in rows))
    assert offers_of(job) == {
        "a": Offer((Break(F(0), F("1.5")), Break(F(50), F("1.2")), Break(F(90), F(1))), F(4)), "b": Offer((Break(F(0), F(2)),), F(7)),
    }  # fmt: skip
    none = four_edgings(contract_prices=(ContractPrice("a", F(0), F(1), None, AT),))
    assert offers_of(none)["a"].setup == 0


def going(edging: str, net: int, edges: int) -> EdgingUse:
    return EdgingUse(edging, edges=edges, net_m=F(net), strip_m=F(net), bought_m=F(net), cost=F(0), widths=())


OFFERS = {"a": Offer(LADDER, F(8)), "b": Offer((Break(F(0), F(2)), Break(F(150), F("1.8"))), F(5))}
BOTH = [going("a", 80, 200), going("b", 60, 40)]
"""With 50 mm added to each edge 90 m and 62 m, 152 together."""


@pytest.mark.parametrize(
    ("terms_of", "lines"),
    [
        ({}, [("a", 90, "1.5", 135, 8, False), ("b", 62, "2", 124, 5, False)]), ({"buy_up": True}, [("a", 90, "1.5", 120, 8, True), ("b", 62, "2", 124, 5, False)]), ({"breaks_count": "whole order"}, [("a", 90, "1.2", 108, 8, False), ("b", 62, "1.8", F("111.6"), 5, False)]),
        ({"breaks_count": "whole order", "buy_up": True}, [("a", 90, "1.2", 108, 8, False), ("b", 62, "1.8", F("111.6"), 5, False)]), ({"breaks_apply_to": "quantity above"}, [("a", 90, "1.5", 135, 8, False), ("b", 62, "2", 124, 5, False)]),
        ({"breaks_apply_to": "quantity above", "added_length_mm": F(200)}, [("a", 120, None, 174, 8, False), ("b", 68, "2", 136, 5, False)]), ({"breaks_apply_to": "quantity above", "added_length_mm": F(100)}, [("a", 100, "1.5", 150, 8, False), ("b", 64, "2", 128, 5, False)]),
    ],
)  # fmt: skip
def test_the_lines_of_an_invoice(terms_of: dict[str, Any], lines: list[tuple[str, int, str | None, Any, int, bool]]) -> None:
    plain = {"added_length_mm": F(50), "breaks_count": "per edging", "breaks_apply_to": "whole quantity", "buy_up": False, "minimum_charge": F(0), "charge_per_part": F("0.25")}
    invoice = invoice_of(contract(**{**plain, **terms_of}), OFFERS, BOTH, parts=30)
    assert invoice.lines == tuple(ContractorLine(name, F(metres), None if price is None else F(price), F(amount), F(setup), bought_up=up) for name, metres, price, amount, setup, up in lines)
    asked = sum(line[3] + line[4] for line in lines) + F("7.5")
    assert (invoice.parts, invoice.parts_charge, invoice.minimum_top_up, invoice.total) == (30, F("7.5"), 0, asked)


@pytest.mark.parametrize(("minimum", "top_up"), [(279, 0), (280, "0.5"), (300, "20.5")])
def test_the_minimum_of_an_invoice(minimum: int, top_up: int | str) -> None:
    """135 + 8 + 124 + 5 + 7.50 = 279.50."""
    invoice = invoice_of(contract(added_length_mm=F(50), minimum_charge=F(minimum), charge_per_part=F("0.25")), OFFERS, BOTH, parts=30)
    assert isinstance(invoice, Invoice)
    assert (invoice.minimum_top_up, invoice.total) == (F(top_up), F("279.5") + F(top_up))


def test_metres_with_what_is_added_and_trips() -> None:
    assert charged_m(net_m=F(80), added_mm=F(50), edges=200) == 90
    assert trip_cost(contract(trips=3, distance_per_trip=F(7), cost_per_distance=F("0.5"))) == F("10.5")
