"""How many half-decided plans the search looks at, exactly, and the bounds that spare it the rest: a slower search is a fault too.

Counts are as they were when the search was found quick enough (32 harsh edgings in well under a second). A change that makes them smaller is welcome,
and is written down here; what is found is held by `test_best_plan`, against every plan tried.
"""

import random
from dataclasses import replace
from typing import Any

import pytest

from estimator.costing.banding import searching
from estimator.costing.banding.best_plan import _in_order, by_trying, with_tie_grains
from estimator.costing.banding.bounds import NO_TOLL, Toll, bounds_of, nothing_decided
from estimator.costing.banding.searching import _good_starts, search
from estimator.costing.banding.stakes import Stakes, Tin
from tests.costing.banding.test_best_plan import balanced_stakes, random_stakes

LOOKED_AT = {
    400: [40, 24, 0], 401: [1, 11, 39], 403: [41], 407: [69], 408: [15, 45, 3], 411: [15], 413: [5, 7, 7], 414: [81], 415: [31], 416: [10, 6, 15],
    418: [9], 419: [17], 421: [1, 1, 3], 423: [17], 424: [37, 1, 0], 425: [5, 7, 9], 426: [19], 427: [109], 428: [1, 21, 1], 429: [1, 3, 3], 430: [16],
    431: [33], 432: [26, 21, 1], 433: [3, 7, 11], 435: [105], 436: [21, 24, 1], 437: [1, 1, 13], 439: [35], 440: [47, 25, 1], 441: [7, 7, 11], 442: [9],
    443: [63], 445: [3, 5, 7], 447: [21], 448: [207, 1, 4], 449: [5, 7, 11], 451: [55], 454: [11], 455: [29], 456: [28, 1, 0], 457: [3, 3, 7], 458: [7],
    459: [101], 461: [5, 5, 13], 463: [9], 464: [1, 161, 1], 465: [3, 3, 5], 466: [16], 467: [7], 468: [217, 22, 0],
}  # fmt: skip


def stakes_of(seed: int) -> Stakes:
    chance = random.Random(seed)
    if seed % 2:
        return with_tie_grains(balanced_stakes(chance, edgings=11 + seed % 3, ladder=seed % 4 == 1))
    return with_tie_grains(random_stakes(chance, edgings=12 + seed % 5, ladder=seed % 4 == 0))


def looked_at(stakes: Stakes, monkeypatch: pytest.MonkeyPatch, *, near: int | None = None) -> list[int]:
    """Half-decided plans that each search of a level saw."""
    seen: list[Any] = []

    class Watched(searching._Search):
        def run(self) -> bool:
            seen.append(self)
            return super().run()

    monkeypatch.setattr(searching, "_Search", Watched)
    search(stakes, near=near)
    return [one.seen for one in seen]


@pytest.mark.parametrize("seed", list(LOOKED_AT))
def test_so_many_plans_are_looked_at(seed: int, monkeypatch: pytest.MonkeyPatch) -> None:
    assert looked_at(stakes_of(seed), monkeypatch) == LOOKED_AT[seed]


SOON = {
    501: [1, 1, 3], 503: [5, 113, 1, 1], 504: [1, 93, 17], 505: [1, 3, 13], 506: [5, 7, 1, 1, 1, 1, 1], 507: [5, 25, 1, 1, 1], 508: [1, 56, 0],
    509: [5, 3, 1, 1, 3, 11], 510: [5, 3, 3, 3, 3, 3, 3, 3, 3, 3, 3, 3, 3, 3, 3, 4, 5, 18, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 
    1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 
    1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1], 511: [5, 5, 1, 1, 1, 1],
    513: [5, 3, 1, 1, 7, 9], 514: [5, 3, 5, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1], 515: [5, 17, 1, 1, 1],
    516: [5, 4, 30, 86, 119, 127, 24, 7, 1, 1, 32, 0], 519: [5, 22, 1, 1], 520: [3, 4, 18], 522: [5, 44, 1, 1, 1, 1, 1], 523: [5, 13, 1, 1, 1],
    524: [5, 4, 4, 5, 5, 5, 5, 5, 5, 5, 5, 5, 5, 26, 29, 34, 1, 1, 5, 0], 525: [1, 1, 15], 526: [5, 16, 11, 17, 1, 1, 1, 1, 1, 1], 527: [5, 29, 1, 1],
    531: [5, 19, 1, 1], 533: [5, 1, 1, 47, 56], 535: [5, 5, 1, 1, 1, 1, 1], 536: [6, 23, 2], 537: [5, 5, 1, 5, 6], 538: [5, 3, 27, 1, 1, 1, 1, 1, 1, 1],
    539: [5, 15, 1, 1], 540: [5, 2, 5, 5, 14, 14, 1, 1, 19, 4], 541: [5, 1, 1, 1, 13, 21], 542: [5, 3, 10, 5, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1],
    543: [5, 38, 1], 544: [3, 31, 0], 546: [50], 547: [5, 15, 1, 1], 549: [3, 3, 5], 551: [5, 22, 1, 1, 1], 552: [1, 27, 2], 553: [1, 5, 9],
    555: [5, 9, 1, 1, 1], 556: [1, 19, 0], 557: [3, 5, 5], 558: [5, 5, 5, 23, 1, 1, 1], 559: [5, 36, 1, 1],
}  # fmt: skip
"""The same where tolls are worked out from the third plan on, and packs split the search after five: what a long search does later."""


@pytest.mark.parametrize("seed", list(SOON))
def test_so_many_plans_are_looked_at_with_tolls_and_packs(seed: int, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(searching, "_SPLIT_AFTER", 5)
    monkeypatch.setattr(searching, "_TOLLS_AFTER", 3)
    assert looked_at(stakes_of(seed), monkeypatch) == SOON[seed]


@pytest.mark.parametrize("seed", [401, 403, 427, 435])
def test_a_search_that_begins_with_the_best_plan_looks_at_no_more(seed: int, monkeypatch: pytest.MonkeyPatch) -> None:
    best = search(stakes_of(seed))
    assert sum(looked_at(stakes_of(seed), monkeypatch, near=best)) <= sum(LOOKED_AT[seed])


# --- bounds worked on paper -------------------------------------------------------------------------------------------


def two(**other: Any) -> Stakes:
    """Two edgings: 10 and 20 by hand, 5 and 25 sent, 3 and 4 on the invoice, of which the least is 6."""
    plain: dict[str, Any] = {
        "scale": 1, "hand": (10, 20), "sent": (5, 25), "invoice": (3, 4), "hand_shared": {}, "sent_shared": {}, "invoice_shared": {}, "minimum": 6,
        "tins": (), "order": None, "must_send": 0, "must_keep": 0,
    }  # fmt: skip
    return Stakes(**{**plain, **other})


@pytest.mark.parametrize(
    ("stakes", "bounds"),
    [
        pytest.param(two(), [8 + 20, 6 + 5 + 20], id="at what is asked, and at the minimum"), pytest.param(two(always=7), [35, 38], id="what every plan costs"),
        pytest.param(two(hand_shared={0b11: 4}), [8 + 24, 6 + 5 + 24], id="a shared cost is laid upon the edging that stays"),
        pytest.param(two(hand_shared={0b11: 12}), [8 + 29, 6 + 5 + 25], id="no further than its other way"),
        pytest.param(two(sent_shared={0b11: 9}), [8 + 20 + 9, 6 + 5 + 20 + 9], id="what all share comes when something is sent"),
        pytest.param(two(sent_shared={0b01: 1}), [9 + 20, 6 + 6 + 20], id="what the sent one brings about"),
        pytest.param(two(invoice_shared={0b11: 8}), [8 + 20 + 8, 8 + 5 + 20], id="asked once, above the minimum"),
        pytest.param(two(must_keep=0b01), [10 + 20, 6 + 10 + 20], id="one that cannot be sent"), pytest.param(two(must_send=0b10), [8 + 29, 6 + 5 + 25], id="one that cannot stay"),
        pytest.param(two(tins=(Tin((6, 6), 8, 16),)), [8 + 20, 8 + 29, 8 + 26, 6 + 5 + 20, 6 + 5 + 25, 6 + 5 + 25], id="packs: none filled yet, by the litre, by half of it"),
    ],
)  # fmt: skip
def test_bounds_of_two_open_edgings(stakes: Stakes, bounds: list[int]) -> None:
    assert list(bounds_of(stakes, nothing_decided(stakes))) == bounds


def test_a_half_decided_plan_keeps_its_sums() -> None:
    """The first is sent, the second stays: 5 + 20, the shared costs that come, the invoice of 3 with 8 that both share, its area of 7 in two packs."""
    stakes = two(
        hand_shared={0b10: 4, 0b01: 100},
        sent_shared={0b11: 9, 0b10: 100},
        invoice_shared={0b11: 8, 0b10: 100},
        tins=(Tin((100, 7), 4, 50),),
        always=1,
    )
    now = nothing_decided(stakes).sending(stakes, 0).keeping(stakes, 1)
    assert (now.kept, now.sent, now.undecided) == (0b10, 0b01, 0)
    assert (now.decided, now.invoice, now.areas) == (1 + 5 + 9 + 20 + 4, 3 + 8, (7,))
    assert (now.hand_shared, now.sent_shared, now.invoice_shared) == ([(0b01, 100)], [(0b10, 100)], [(0b10, 100)])
    assert list(bounds_of(stakes, now)) == [39 + 11 + 100, 39 + 11 + 100]


@pytest.mark.parametrize(("a_metre", "due", "bounds"), [(2, 7, [14 + 2 + 11, 6 + 14 - 1 + 7]), (-2, 7, [-14 + 10 + 20, 6 - 14 + 10 + 20])])
def test_a_toll_on_the_metres(a_metre: int, due: int, bounds: list[int]) -> None:
    """3 and 9 m: a premium of 2 a sent metre takes 6 and 18 off the sent ways and adds 14; a charge adds them, so both stay, and takes 14 off."""
    stakes = two()
    assert list(bounds_of(stakes, nothing_decided(stakes), Toll(a_metre, due, (3, 9)))) == bounds
    assert list(bounds_of(stakes, nothing_decided(stakes), NO_TOLL)) == [28, 31]


def test_good_starts_are_improved_by_one_edging_at_a_time() -> None:
    """By hand 30; sending the first costs 5 + 20 + 6 = 31, so it stays; all sent 37, keeping the second 31 and then the first too 30."""
    assert _good_starts(two()) == [0, 0]
    assert _good_starts(two(minimum=0)) == [0b01, 0b01]  # 5 + 20 + 3 = 28
    assert _good_starts(replace(two(), must_send=0b10)) == [0b11, 0b11]  # 25 + 10 + 6 = 41 and 37


def test_a_grain_of_cost_on_each_sent_edging_breaks_ties() -> None:
    """Two edgings: money is counted twelve times, and sending weighs 4 - 2 and 4 - 1: the first rather than the second, and either rather than both."""
    grained = with_tie_grains(two(always=7, tins=(Tin((1, 2), 3, 5, 1),), hand_shared={0b11: 2}, sent_shared={0b01: 3}, invoice_shared={0b10: 4}))
    assert (grained.scale, grained.hand, grained.sent, grained.invoice) == (12, (120, 240), (62, 303), (36, 48))
    assert (grained.hand_shared, grained.sent_shared, grained.invoice_shared) == ({0b11: 24}, {0b01: 36}, {0b10: 48})
    assert (grained.minimum, grained.always, grained.tins) == (72, 84, (Tin((1, 2), 3, 60, 1),))


def test_of_equal_plans_the_one_that_sends_fewer_and_then_the_earlier_in_the_list() -> None:
    """Of four edgings: none, each alone, then the first with each other before the second with the third."""
    assert _in_order.__wrapped__(4)[:11] == (0b0000, 0b0001, 0b0010, 0b0100, 0b1000, 0b0011, 0b0101, 0b1001, 0b0110, 0b1010, 0b1100)
    assert by_trying(two(hand=(5, 25), sent=(2, 21), invoice=(3, 4), minimum=0)) == 0
