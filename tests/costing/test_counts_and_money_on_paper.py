"""What is counted, glued, batched and priced, on paper: two rows of loose parts in white and birch, and prices that do not come out even."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from estimator.costing.adhesive import adhesive_use, adhesives_used, glued_areas
from estimator.costing.counts import Tally, named_counts, per_piece, tally
from estimator.costing.drying import Bench, Edge, Impossible, batches_of
from estimator.costing.edging import edgings_of_job
from estimator.costing.estimate import _takings
from estimator.costing.limits import limit_of, names_known
from estimator.costing.pricing import PrimeCost, discount_on, instalments_of, largest_remainder, price_of, target_price
from estimator.costing.work import direct_rate, overhead_rate, rates_of, step_standard_min
from estimator.model.exact import Fraction
from estimator.model.records import Job
from estimator.model.results import Rates, TaxLine
from estimator.model.shop_records import Instalment, Money, Share
from estimator.model.shown import PriceShown, RoomShown, Shown
from estimator.model.taken import Batch
from tests.building import extra, job, shop, terms
from tests.costing.banding.test_glue_day import glue
from tests.costing.banding.worked import board, contract, edging, four_edgings, loose
from tests.costing.test_seldom_met import step

F = Fraction


def two_rows(**other: Any) -> Job:
    """Three doors of 1000 x 500, white in front and birch at the left; two shelves of 800 x 400, birch in front. Overhang 20, spare 10 %."""
    white = edging("white", "2", width_mm=F(22), overhang_mm=F(20), spare_share=F("0.1"), adhesive="quick", material="abs")
    birch = edging("birch", "3", width_mm=F(23), roll_length_m=F(2), charge="whole rolls", material="veneer")
    parts = (loose("door", 3, 1000, 500, "white", "birch", counts_as="door"), loose("shelf", 2, 800, 400, "birch", counts_as="shelf", board="oak 19"))
    boards = (board(), board(board="oak 19", thickness_mm=F(19)))
    return four_edgings(terms=terms(site_trips=5), boards=boards, edgings=(white, birch), loose_parts=parts, contract=contract(trips=2), fittings=(), adhesives=(glue("quick"),), **other)


def counted(**other: Any) -> Any:
    takings = _takings(two_rows(**other))
    assert not isinstance(takings, tuple)
    return takings.counted


def test_every_count_by_its_name() -> None:
    """White (1) stays at the bench, birch (2) is sent: 3 doors have white, 5 parts birch, 3 x 0.5 + 2 x 0.8 m of it."""
    assert named_counts(counted(), by_hand=1, sent=2) == {
        "job": 1, "site trip": 5, "sheet": 2, "part": 5, "m2": F("2.14"), "cabinet": 0, "door": 3, "drawer": 0, "shelf": 2,
        "by hand job": 1, "by hand batch": 1, "by hand part": 3, "by hand edge": 3, "by hand metre": 3, "send out order": 1, "send out trip": 2, "send out part": 5, "send out metre": F("3.1"),
    }  # fmt: skip
    none = named_counts(counted(), by_hand=0, sent=0)
    assert {name: number for name, number in none.items() if name.startswith(("by hand", "send out"))} == dict.fromkeys([name for name in none if name.startswith(("by hand", "send out"))], 0)


@pytest.mark.parametrize(
    ("route", "per", "of", "group", "number"),
    [
        ("by hand", "part", "", 3, 5), ("by hand", "part", "", 1, 3), ("by hand", "part", "", 2, 5), ("by hand", "part", "birch", 3, 5), ("by hand", "part", "white", 2, 0), ("by hand", "edge", "", 3, 8), ("by hand", "edge", "birch", 3, 5), ("by hand", "edge", "veneer", 1, 0),
        ("by hand", "metre", "abs", 3, 3), ("by hand", "metre", "oak 19", 3, F("1.6")), ("by hand", "batch", "", 3, 2), ("by hand", "batch", "quick", 3, 1), ("by hand", "job", "birch", 1, 0), ("by hand", "job", "birch", 2, 1), ("by hand", "edge", "quick", 3, 3),
        ("send out", "order", "", 0, 0), ("send out", "order", "white", 3, 1), ("send out", "trip", "", 1, 2), ("send out", "part", "oak 19", 3, 2),
        ("", "part", "oak 19", 0, 2), ("", "sheet", "oak 19", 0, 1), ("", "m2", "white 18", 0, F("1.5")), ("", "door", "oak 19", 0, 0), ("", "job", "oak 19", 0, 1), ("", "job", "nothing", 0, 0), ("", "site trip", "white", 0, 5), ("", "site trip", "nothing", 0, 0), ("", "cabinet", "", 0, 0),
    ],
)  # fmt: skip
def test_what_a_row_of_work_counts(route: str, per: str, of: str, group: int, number: Any) -> None:
    known = names_known(two_rows())
    assert tally(counted(), route=route, per=per, limit=limit_of(of, known=known)).of(group) == number


def test_a_step_of_coating_passes_over_edges_without_adhesive() -> None:
    assert [tally(counted(), route="by hand", per="edge", glued_only=glued).of(3) for glued in (False, True)] == [8, 3]
    assert tally(counted(contract_prices=()), route="send out", per="trip").of(1) == 2


def test_one_count_taken_apart() -> None:
    """3 always, 5 once where edging 0 or 2 goes, 7 and 11 by edging, 13 for pieces of edgings 0 and 1, and what stays whatever is sent."""
    plain = Tally(F(3), F(5), 0b101, {0: F(7), 2: F(11)}, {0b011: F(13)})
    assert [plain.of(group) for group in (0, 1, 2, 4, 7)] == [3, 3 + 5 + 7 + 13, 3 + 13, 3 + 5 + 11, 3 + 5 + 18 + 13]
    plain.staying = Tally(F(100), by_edging={9: F(1)})
    assert [plain.of(group) for group in (0, 2)] == [104, 117]


def test_pieces_of_one_row() -> None:
    (door, shelf) = counted().parts
    assert [per_piece(door, per=per) for per in ("part", "door", "shelf", "drawer", "m2")] == [1, 1, 0, 0, F("0.5")]
    assert [per_piece(replace(shelf, count_each=4), per=per) for per in ("part", "shelf", "m2")] == [4, 4, F("1.28")]


# edging and adhesive ------------------------------------------------------------------------------------------------------------------------


def test_metres_strips_rolls() -> None:
    """White 3 m, strips 3 x 1.04, a tenth more, at 2. Birch 3.1 m without overhang, two rolls of 2 m at 3."""
    found = counted()
    white, birch = edgings_of_job(found.job, found.parts)
    assert (white.edging, white.edges, white.net_m, white.strip_m, white.bought_m, white.cost) == ("white", 3, 3, F("3.12"), F("3.432"), F("6.864"))
    assert (birch.edging, birch.edges, birch.net_m, birch.strip_m, birch.bought_m, birch.cost) == ("birch", 5, F("3.1"), F("3.1"), 4, 12)
    assert [use.widths[0].rolls for use in (white, birch)] == [None, 2]


def test_glued_area_litres_and_packs() -> None:
    """White: 3 x (1000 x 18 x 2 coats + 1040 x 22 x 1) = 176,640 mm2; 5 m2 a litre and half as much again: 0.052992 l."""
    areas = glued_areas(two_rows(), counted().parts)
    assert areas == {"quick": {"white": F("0.17664")}}
    plain = replace(glue("quick"), spare_share=F("0.5"), pack_litres=F("0.02"), price=F(4))
    use = adhesive_use(plain, glued_m2=F("0.17664"))
    assert (use.glued_m2, use.litres, use.packs, use.cost) == (F("0.17664"), F("0.052992"), 3, F("0.052992") / F("0.02") * 4)
    assert adhesive_use(replace(plain, charge="whole packs"), glued_m2=F("0.17664")).cost == 12
    assert adhesives_used(two_rows(), areas, by_hand=("birch",), staying={}) == ()
    assert [one.glued_m2 for one in adhesives_used(two_rows(), areas, by_hand=("white",), staying={})] == [F("0.17664")]
    assert [one.glued_m2 for one in adhesives_used(two_rows(), areas, by_hand=(), staying={"quick": {"white": F("0.05"), "other": F(9)}})] == [F("0.05")]


def edge(*, coat: str = "1", press: str = "2", drying: int | None = 10, opened: int | None = 20, strip: str = "1", length: str = "0.9") -> Edge:
    return Edge(F(length), F(strip), F(coat), F(press), None if drying is None else F(drying), None if opened is None else F(opened))


@pytest.mark.parametrize(
    ("edges", "bench", "batches"),
    [
        # coated 1, 2, 3: dry at 11, 12 - 2, 13 - 4, so pressed from 11; the third is open till 23 - 4 = 19: 8 to spare; the first waited 10 of 20
        ([edge()] * 3, Bench(None, None), [Batch("x", 3, F("2.7"), F(3), F(3), F(11), F(8), F(17), F(8), F(3, 5), 0)]),
        ([edge()] * 3, Bench(None, 2), [Batch("x", 2, F("1.8"), F(2), F(2), F(11), F(9), F(15), F(9), F(11, 20), 0), Batch("x", 1, F("0.9"), F(1), F(1), F(11), F(10), F(13), F(10), F(1, 2), 2)]),
        ([edge()] * 3, Bench(F(2), None), [Batch("x", 2, F("1.8"), F(2), F(2), F(11), F(9), F(15), F(9), F(11, 20), 0), Batch("x", 1, F("0.9"), F(1), F(1), F(11), F(10), F(13), F(10), F(1, 2), 2)]),
        ([edge()] * 3, Bench(F(3), 3), [Batch("x", 3, F("2.7"), F(3), F(3), F(11), F(8), F(17), F(8), F(3, 5), 0)]),
        # open 12 only: two edges are pressed from 11, the second till 14 - 2; a third till 15 - 4 = 11, just in time; a fourth till 16 - 6 is late
        ([edge(opened=12)] * 4, Bench(None, None), [Batch("x", 3, F("2.7"), F(3), F(3), F(11), F(8), F(17), F(0), F(1), 0), Batch("x", 1, F("0.9"), F(1), F(1), F(11), F(10), F(13), F(2), F(5, 6), 3)]),
        # coated longer than it is pressed: the last is dry last
        ([edge(coat="3", press="1")] * 2, Bench(None, None), [Batch("x", 2, F("1.8"), F(2), F(6), F(15), F(9), F(17), F(8), F(3, 5), 0)]),
        # without adhesive nothing dries and nothing is late
        ([edge(coat="0", drying=None, opened=None)] * 2, Bench(None, None), [Batch("x", 2, F("1.8"), F(2), F(0), F(0), F(0), F(4), None, None, 0)]),
        ([edge(drying=0)], Bench(F(1), 1), [Batch("x", 1, F("0.9"), F(1), F(1), F(1), F(0), F(3), F(20), F(0), 0)]),
        ([], Bench(F(1), 1), []),
    ],
)  # fmt: skip
def test_glue_batches(edges: list[Edge], bench: Bench, batches: list[Batch]) -> None:
    assert batches_of("x", edges, bench) == tuple(batches)


@pytest.mark.parametrize(
    ("edges", "bench", "why"),
    [
        ([edge(), edge(strip="1.01")], Bench(F(1), None), "a strip of x is longer than the bench"), ([edge(drying=21)], Bench(F(9), None), "x dries longer than it stays open"), ([edge(), edge(drying=21)], Bench(None, None), "x dries longer than it stays open"),
    ],
)  # fmt: skip
def test_an_edging_that_cannot_be_banded_by_hand(edges: list[Edge], bench: Bench, why: str) -> None:
    assert batches_of("x", edges, bench) == Impossible(why)


# money --------------------------------------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("margin", "markup", "least", "target", "holds"),
    [("0.2", None, None, 1000, False), (None, "0.2", None, 960, False), (None, None, None, 800, False), ("0.2", None, 1000, 1000, False), ("0.2", None, 1001, 1001, True), (None, "0.2", 961, 961, True)],
)
def test_the_target(margin: str | None, markup: str | None, least: int | None, target: int, holds: bool) -> None:
    asked = terms(margin_share=None if margin is None else F(margin), markup_share=None if markup is None else F(markup), least_price=None if least is None else F(least))
    assert target_price(F(800), asked) == (target, holds)


@pytest.mark.parametrize(
    ("total", "weights", "currency", "parts"),
    [
        ("1.00", (1, 1, 1), "EUR", ("0.34", "0.33", "0.33")), ("0.05", (1, 1), "EUR", ("0.03", "0.02")), ("1.00", (1, 2), "EUR", ("0.33", "0.67")), ("10", (1, 1, 1), "JPY", ("4", "3", "3")), ("0.10", (1, 3, 2), "EUR", ("0.02", "0.05", "0.03")), ("0.03", (0, 1, 0), "EUR", ("0", "0.03", "0")), ("0.07", (5, 3, 2), "EUR", ("0.04", "0.02", "0.01")),
    ],
)  # fmt: skip
def test_an_amount_in_whole_cents(total: str, weights: tuple[int, ...], currency: str, parts: tuple[str, ...]) -> None:
    """What is left goes to the largest remainders, of equal ones to the earlier."""
    assert largest_remainder(F(total), weights=[F(weight) for weight in weights], currency=currency) == tuple(F(part) for part in parts)


def test_a_price_with_two_rates_a_discount_delivery_and_a_round_total() -> None:
    """Target 1000 over primes 2 x 3 and 1 x 4: 300 each, 400; an extra of its own, 3 x 33.335 = 33.34 x 3... each line to the cent. Discount 10 % of 1100.01 is 110.00.

    600 + 100.01 at 20 %, 400 at 10 %: the discount splits 110 x 400/1100.01 = 39.9996 and 70.0004. Delivery 50 at 10 %.
    """
    asked = terms(
        discount=Share(F("0.1")), delivery_charge=F(50), delivery_tax_rate_share=F("0.1"), margin_share=F("0.2"), round_total_to=F(5), payment_schedule=(Instalment(F("0.3"), "first"), Instalment(F("0.7"), "last"))
    )  # fmt: skip
    two, one = loose("a", 2, 1, 1, "", room="hall"), loose("b", 1, 1, 1, "", tax_rate_share=F("0.1"))
    own = extra("33.335", qty="3")
    price = price_of(F(800), (PrimeCost(two, "A", F(3)), PrimeCost(one, "B", F(4)), PrimeCost(own, "C", F(9))), job(terms=asked))
    assert [(line.ref, line.room, line.words, line.qty, line.prime, line.unit, line.net, line.tax_rate_share) for line in price.lines] == [
        ("a", "hall", "A", 2, 3, 300, 600, F("0.2")), ("b", "", "B", 1, 4, 400, 400, F("0.1")), ("1", "", "C", 3, 0, F("33.335"), F("100.01"), F("0.2")),
    ]  # fmt: skip
    assert (price.target, price.least_price_holds, price.sum_lines, price.discount, price.delivery, price.net) == (1000, False, F("1100.01"), 110, 50, F("1040.01"))
    assert price.tax == (TaxLine(F("0.1"), F(400), F(40), F(50), F(410), F(41)), TaxLine(F("0.2"), F("700.01"), F(70), F(0), F("630.01"), F(126)))
    assert (price.tax_total, price.rounding, price.gross) == (167, F("-2.01"), 1205)
    # of the tax 41 at 10 % delivery has 5 and the discount takes 4 off, so B has 40; of 126 at 20 % the discount takes 14 off, so A and C share 140
    assert price.shown == PriceShown(
        lines=(Shown(F(600), F(720)), Shown(F(400), F(440)), Shown(F("100.01"), F("120.01"))), rooms=(RoomShown("hall", Shown(F(600), F(720))), RoomShown("", Shown(F("500.01"), F("560.01")))),
        sum_lines=Shown(F("1100.01"), F("1280.01")), discount=Shown(F(110), F(128)), delivery=Shown(F(50), F(55)), total=Shown(F("1040.01"), F("1207.01")),
    )  # fmt: skip
    assert [(part.words, part.share, part.amount) for part in price.instalments] == [("first", F("0.3"), F("361.5")), ("last", F("0.7"), F("843.5"))]


def test_a_price_with_none_of_these() -> None:
    """Nothing costs anything: no line carries the target; delivery alone is taxed, at the rate of the job."""
    price = price_of(F(75), (PrimeCost(loose("a", 2, 1, 1, ""), "A", F(0)),), job(terms=terms(delivery_charge=F("10.005"), discount=Money(F("1.005")))))
    assert (price.target, price.lines[0].unit, price.sum_lines, price.discount, price.delivery) == (100, 0, 0, F("1.01"), F("10.01"))
    assert price.tax == (TaxLine(F("0.2"), F(0), F(0), F("10.01"), F("10.01"), F(2)),)
    assert (price.rounding, price.gross) == (0, F("9") + F(2))
    assert discount_on(F(200), terms(discount=Share(F("0.0125")))) == F("2.5")
    assert [part.amount for part in instalments_of(F("0.03"), (Instalment(F("0.5"), ""), Instalment(F("0.5"), "")), currency="EUR")] == [F("0.02"), F("0.01")]


def test_an_hour_in_money() -> None:
    """20 for 2080 paid hours and 25 % on top over 1600: 32.50. 48,000 a year over 1600 hours and 2 workers: 15; one worker where none is typed."""
    built = {"direct_rate": None, "overhead_rate": None, "wage": F(20), "paid_hours": F(2080), "on_cost_share": F("0.25"), "productive_hours": F(1600), "overhead_a_year": F(48_000)}
    assert rates_of(shop(**built, workers=F(2))) == Rates(direct=F("32.5"), overhead=F(15), freed=F("32.5"))
    assert rates_of(shop(**built, workers=None, value_of_a_freed_hour="full rate")) == Rates(direct=F("32.5"), overhead=F(30), freed=F("62.5"))
    assert rates_of(shop(**{**built, "direct_rate": F(30), "overhead_rate": F(24)}, value_of_a_freed_hour="idle")) == Rates(direct=F(30), overhead=F(24), freed=F(0))
    assert rates_of(shop(value_of_a_freed_hour=Money(F("7.5")))).freed == F("7.5")
    assert direct_rate(wage=F(10), paid_hours=F(3), on_cost_share=F("0.5"), productive_hours=F(4)) == F("11.25")
    assert overhead_rate(overhead_a_year=F(60), productive_hours=F(4), workers=F(3)) == 5


def test_standard_minutes_of_a_row() -> None:
    row = replace(step("cut", "making", "part", "20"), rating=F(120), allowance_share=None)
    assert step_standard_min(row, shop(allowance_share=F("0.2"))) == F("28.8")
    assert step_standard_min(replace(row, allowance_share=F("0.1")), shop(allowance_share=F("0.2"))) == F("26.4")

