"""Hours at the bench against days away, on paper; and orders of edges that just keep their open time."""

from dataclasses import replace
from datetime import date
from typing import Any

import pytest

from estimator.costing.banding.batch_order import elapsed_min, fits_open_time, least_elapsed_min, ordered, quickest_order, window_min
from estimator.costing.banding.changing import choose, edging_cost_at, sized_at, stakes_at
from estimator.costing.banding.clock import Day, clock_text, minute_of, working_day
from estimator.costing.banding.question import METRES, PIECES, Glue, question_of
from estimator.costing.banding.stakes import cost_of
from estimator.costing.banding.time_away import time_away
from estimator.costing.drying import Edge
from estimator.model.decision import TimeAway
from estimator.model.exact import Fraction
from estimator.model.results import BandingPlan, Rates
from estimator.model.shop_records import Money
from tests.building import shop, terms
from tests.costing.banding.test_decision import QUESTION, WORKED, ways_of
from tests.costing.banding.test_how_far_it_holds import by_the_roll
from tests.costing.banding.worked import contract, four_edgings

F = Fraction
DAY = Day(480, 960, ((720, 750),))
"""8:00 to 16:00 with half an hour at noon: 450 minutes."""


def plan(*sent: str, hand: str | None = "0", away: str = "0", possible: bool = True) -> BandingPlan:
    return replace(WORKED.banding.best, sent=sent, by_hand_min=None if hand is None else F(hand), send_out_min=F(away), possible=possible)


def away(chosen: BandingPlan, *, available: int | None = 10, by_hand: BandingPlan | None = None, **other: Any) -> TimeAway:
    job = four_edgings(
        terms=terms(quote_date=date(2031, 2, 3), working_days_available=available),
        shop=shop(bench_workers=2, **other),
        contract=contract(lead_time_days=4),
    )
    rates = Rates(F(30), F(24), F(30))
    return time_away(job, rates, DAY, by_hand=by_hand or plan(hand="1200"), chosen=chosen)


def test_a_sent_edging_frees_hours_and_has_a_last_day() -> None:
    """1200 min by hand; 540 with oak sent, and 60 of packing: 10 h freed, 600 / (450 x 2) days; ten days less four from a Monday is the Tuesday of the week after."""
    told = away(plan("oak", hand="540", away="60"))
    assert (told.by_hand_hours, told.chosen_hours, told.freed_hours) == (20, 10, 10)
    assert (told.away_days, told.spare_days, told.send_by) == (4, 6, "2031-02-11")
    assert (told.bench_days, told.fits) == (F(600, 900), True)
    assert [(one.reading, one.an_hour, one.worth) for one in told.freed] == [("idle", 0, 0), ("wage", 30, 300), ("full rate", 54, 540)]


def test_an_amount_of_its_own_is_a_fourth_reading() -> None:
    told = away(plan("oak", hand="540", away="60"), value_of_a_freed_hour=Money(F(12)))
    assert [(one.reading, one.an_hour, one.worth) for one in told.freed][3:] == [("an amount", 12, 120)]


def test_what_stays_is_nowhere_away() -> None:
    told = away(plan(hand="1200"))
    assert (told.away_days, told.spare_days, told.send_by, told.freed_hours) == (None, None, "", 0)


def test_nothing_is_freed_where_by_hand_is_not_possible() -> None:
    told = away(plan("oak", hand="540"), by_hand=plan(hand=None, possible=False))
    assert (told.by_hand_hours, told.freed_hours, told.chosen_hours) == (0, 0, 9)


@pytest.mark.parametrize(("minutes", "available", "fits"), [("900", 1, True), ("901", 1, False), ("900", None, None)])
def test_it_fits_up_to_the_last_minute(minutes: str, available: int | None, fits: bool | None) -> None:
    assert away(plan(hand=minutes), available=available).fits is fits


# --- the clock --------------------------------------------------------------------------------------------------------


def test_a_day_has_its_stretches() -> None:
    assert (DAY.work_min, DAY.stretches) == (450, ((480, 720), (750, 960)))
    assert Day(480, 960, ((480, 500), (900, 960))).stretches == ((500, 900),)
    assert [DAY.stretch_end_min(F(minute)) for minute in (479, 480, 719, 720, 749, 750, 959, 960, 1440 + 480)] == [
        479,
        720,
        720,
        720,
        749,
        960,
        960,
        960,
        1440 + 720,
    ]
    assert [DAY.slot_min(F(at), lasting_min=F(30)) for at in (0, 690, 691, 930, 931)] == [480, 690, 750, 930, None]


@pytest.mark.parametrize(
    ("words", "minute"),
    [("0:00", 0), ("23:59", 1439), ("24:00", None), ("7:60", None), ("7:59", 479), (" 7:05 ", 425), ("7.05", 425), ("07:05:00", 425), ("07:05:30", None), ("7", None), ("7:5", None),
     ("3:30 PM", 930), ("3:30pm", 930), ("7 am", 420), ("7 a.m.", 420), ("12:00 am", 0), ("12 pm", 720), ("12:59 P.M.", 779), ("0:30 am", None), ("13:00 pm", None), ("7:60 am", None), ("7:5 am", None), ("7 xm", None)],
)  # fmt: skip
def test_a_clock_time(words: str, minute: int | None) -> None:
    assert minute_of(words) == minute


def test_the_clock_is_told_to_the_minute_begun() -> None:
    assert [clock_text(F(one)) for one in (0, F(599, 10), 60, 61, F(14399, 10))] == ["0:00", "0:59", "1:00", "1:01", "23:59"]


@pytest.mark.parametrize(("days", "day"), [(-1, 6), (0, 6), (1, 7), (2, 10), (6, 14), (7, 17)])
def test_working_days_leave_the_week_end_out(days: int, day: int) -> None:
    """From Thursday, 6 February 2031."""
    assert working_day(date(2031, 2, 6), days=days) == date(2031, 2, day)


# --- the order in a batch ---------------------------------------------------------------------------------------------


def edge(coat: int, apply: int, *, dry: int | None = 12, open_: int | None = 100) -> Edge:
    maybe = [None if one is None else F(one) for one in (dry, open_)]
    return Edge(length_m=F(1), strip_m=F(1), coat_min=F(coat), apply_min=F(apply), drying_min=maybe[0], open_min=maybe[1])


def test_the_window_of_applying() -> None:
    """Coated at 5, 6, 9; dry at 17, 18, 21 and reached 0, 1, 7 after the start: 17 at the earliest. Open to 25, 26, 29: 22 at the latest."""
    edges = [edge(5, 1, open_=20), edge(1, 6, open_=20), edge(3, 3, open_=20)]
    assert window_min(edges) == (17, 22)
    assert (elapsed_min(edges), quickest_order(edges), ordered(edges)) == (27, (1, 2, 0), (1, 2, 0))
    assert window_min([edge(5, 1, dry=None, open_=None), edge(1, 6, dry=None, open_=None)]) == (6, None)
    assert window_min([]) == (0, None)


def test_an_edge_coated_as_quickly_as_pressed_is_one_of_the_first() -> None:
    """First those that are coated no slower than pressed, the quickest coated first; then the others, the slowest pressed first; else as listed."""
    assert quickest_order([edge(4, 9), edge(3, 3)]) == (1, 0)
    assert quickest_order([edge(9, 2), edge(9, 4), edge(9, 2), edge(2, 2), edge(2, 2)]) == (3, 4, 1, 0, 2)


@pytest.mark.parametrize(("open_", "fits"), [(15, True), (14, False)])
def test_an_order_may_use_its_open_time_to_the_last_minute(open_: int, fits: bool) -> None:
    """As (1, 6), (3, 3), (5, 1): dry at 13, 16, 21, reached 0, 6, 9 after the start, so 13 at the earliest; the second, coated at 4, must be
    reached while it is open: at 4 + open time - 6 at the latest."""
    quick = [edge(1, 6, open_=open_), edge(3, 3, open_=open_), edge(5, 1, open_=open_)]
    assert window_min(quick) == (13, open_ - 2)
    assert fits_open_time(quick) is fits
    assert ordered([quick[2], quick[0], quick[1]]) == ((1, 2, 0) if fits else (0, 1, 2))


@pytest.mark.parametrize(
    ("edges", "least"),
    [([], 0), ([(2, 3)], 17), ([(20, 3), (1, 1)], 35), ([(2, 3), (2, 30)], 47), ([(40, 2), (40, 5)], 94), ([(30, 30), (30, 30)], 120)],
)  # fmt: skip
def test_no_schedule_ends_earlier_than_its_bound(edges: list[tuple[int, int]], least: int) -> None:
    """One edge: 2 + 12 + 3. A long first: 20 + 12 + 3. All applied: 2 + 12 + 33. All coated: 80 + 2 + 12. All the work: 120."""
    assert least_elapsed_min([edge(*one) for one in edges]) == least


# --- another size -----------------------------------------------------------------------------------------------------


def test_edging_at_another_size() -> None:
    """394.55 of edging by the metre, twice that at twice the job; rolls of 50 for each 25 m: two for 30 m, three for 60 m."""
    assert [edging_cost_at(QUESTION, F(size)) for size in (1, 2)] == [F("394.55"), F("789.10")]
    rolls = question_of(ways_of(by_the_roll()))
    assert [edging_cost_at(rolls, F(size)) for size in (1, 2)] == [100, 150]


def test_packs_at_another_size() -> None:
    """Areas of 2 + 1 m2 and 4 + 0, 3 + 2 on small parts, packs of 1.5: edges half as many again as long, three times as many overhangs, in sixths."""
    glue = Glue((F(2), F(4)), (F(1), F(0)), (F(3), F(0)), (F(0), F(2)), F(3, 2), F(20))
    question = replace(QUESTION, glues=(glue,))
    assert sized_at(question, longer_share=F(1), more_share=F(1)).tins == (((6, 8), 10, 3),)
    assert sized_at(question, longer_share=F(3, 2), more_share=F(3)).tins == (((12, 12), 21, 3),)


@pytest.mark.parametrize("changes", [{PIECES: F(2)}, {METRES: F(2)}, {PIECES: F(1, 2), METRES: F(2)}])
def test_what_is_known_of_the_job_as_it_is_serves_only_the_job_as_it_is(changes: dict[str, Fraction]) -> None:
    rolls = question_of(ways_of(by_the_roll()))
    known = sized_at(rolls, longer_share=F(1), more_share=F(1))
    now, fresh = stakes_at(rolls, changes, as_it_is=known), stakes_at(rolls, changes)
    assert F(cost_of(now, 0), now.scale) == F(cost_of(fresh, 0), fresh.scale)
    assert choose(rolls, changes, as_it_is=known) == choose(rolls, changes)
