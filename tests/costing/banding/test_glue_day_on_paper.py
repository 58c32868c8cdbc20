"""One glue day worked on paper, minute by minute: two shelves with oak on an end and white on the front, two adhesives, one person.

Set-up 8 min a batch, coating 2 min an edge, pressing 1 min an edge, trimming 1 min a metre, a label of 0.5 min a part. The ends come first: oak,
2 edges of 300 mm, drying 40 min. Then the long edges: white, 2 edges of 1000 mm, drying 20 min, open 30 min.

    8:00  set-up and coating oak, edges coated at 8:10 and 8:12
    8:51  pressing: the second edge is dry at 8:52, just as it is reached; the first has waited 41 min of its open time
    8:53  trimming 0.6 m
    8:53.6 set-up and coating white, edges coated at 9:03.6 and 9:05.6
    9:24.6 pressing: the second edge is dry at 9:25.6; the first has waited 21 min
    9:26.6 trimming 2 m and two labels, until 9:29.6
"""

from dataclasses import replace
from typing import Any

import pytest

from estimator.costing.banding.clock import Day
from estimator.costing.banding.drying_table import times_on_the_day
from estimator.costing.banding.glue_day import _worked_until
from estimator.model.decision import GlueDay
from estimator.model.exact import Fraction
from estimator.model.records import Job
from estimator.model.shop_records import DryingRow
from tests.building import AT, shop, terms
from tests.costing.banding.test_glue_day import glue, step, timetable_of
from tests.costing.banding.worked import edging, four_edgings, loose

F = Fraction
EIGHT = F(8 * 60)


def two_shelves(*, quick_open: int = 30, slow_open: int = 240, **of_the_shop: Any) -> Job:
    return four_edgings(
        edgings=(edging("white", "1", adhesive="quick"), edging("oak", "2", adhesive="slow")),
        adhesives=(glue("quick", drying_min=F(20), open_min=F(quick_open)), glue("slow", drying_min=F(40), open_min=F(slow_open))),
        work=(
            step("set up", "batch", "8"), step("coat", "edge", "2", "coating"), step("press", "edge", "1", "applying"), step("trim", "metre", "1"),
            step("label", "part", "0.5"),
        ),
        fittings=(), contract=None, contract_prices=(), loose_parts=(loose("shelf", 2, 1000, 300, "white", "oak"),),
        shop=shop(**{"bench_workers": 1, "breaks": "", **of_the_shop}),
    )  # fmt: skip


def day_of(job: Job) -> GlueDay:
    return timetable_of(job)[0]


def test_the_day_is_as_on_paper() -> None:
    day = day_of(two_shelves())
    assert [(task.worker, task.batch, task.doing, task.start_min - EIGHT, task.end_min - EIGHT) for task in day.tasks] == [
        (0, 0, "set-up and coating", 0, 12), (0, 0, "applying", 51, 53), (0, 0, "trimming", 53, F("53.6")),
        (0, 1, "set-up and coating", F("53.6"), F("65.6")), (0, 1, "applying", F("84.6"), F("86.6")), (0, 1, "trimming", F("86.6"), F("89.6")),
    ]  # fmt: skip
    assert (day.start_min, day.end_min, day.one_after_another_min) == (EIGHT, EIGHT + F("89.6"), EIGHT + F("89.6"))
    assert day.labour_min == 12 + 2 + F("0.6") + 12 + 2 + 3
    assert day.waiting_min == 39 + 19
    assert day.least_end_min == EIGHT + F("31.6")
    assert (day.why, day.remarks) == ("", ())


def test_each_batch_is_as_on_paper() -> None:
    oak, white = day_of(two_shelves()).batches
    assert (oak.edging, oak.side, oak.edges, oak.metres, oak.strip_m, oak.refs) == ("oak", "ends", 2, F("0.6"), F("0.6"), ("shelf",))
    assert (oak.first_coat_min, oak.applied_min, oak.open_used_share) == (EIGHT + 8, EIGHT + 53, F(41, 240))
    assert (oak.as_listed_min, oak.ordered_min, oak.least_min) == (45, 45, 45)  # from the first brush stroke at 8:08 to 8:53
    assert (white.edging, white.side, white.edges, white.metres, white.strip_m, white.refs) == ("white", "long edges", 2, 2, 2, ("shelf",))
    assert (white.first_coat_min, white.applied_min, white.open_used_share) == (EIGHT + F("61.6"), EIGHT + F("86.6"), F(21, 30))
    assert (white.as_listed_min, white.ordered_min, white.least_min) == (25, 25, 25)


def test_a_break_is_no_waiting() -> None:
    """From 8:30 to 8:45 nobody waits: 39 - 15 and 19 minutes do; so much work without a break inside is done at 8:46.6."""
    day = day_of(two_shelves(breaks="8:30-8:45"))
    assert day.end_min == EIGHT + F("89.6")
    assert day.waiting_min == 39 - 15 + 19
    assert day.least_end_min == EIGHT + 45 + F("1.6")


def test_a_night_is_no_waiting() -> None:
    """Work ends at 9:00: the white edges are coated the next morning. 39 min, the last 6.4 min of the first day, 19 min of the second."""
    day = day_of(two_shelves(end_of_day="9:00"))
    assert [task.start_min - EIGHT for task in day.tasks] == [0, 51, 53, 1440, 1440 + 31, 1440 + 33]
    assert day.waiting_min == 39 + F("6.4") + 19
    assert day.end_min == EIGHT + 1440 + 36


def test_two_people_could_at_best_do_it_in_half_the_time() -> None:
    """Both edges are on the same parts, so the second person cannot begin the white while the oak is wet, and is told as not waiting."""
    day = day_of(two_shelves(bench_workers=2))
    assert day.end_min == EIGHT + F("89.6")
    assert day.waiting_min == 58
    assert day.least_end_min == EIGHT + F("15.8")


@pytest.mark.parametrize(
    ("lasting", "until"),
    [("20", EIGHT + 20), ("31.6", EIGHT + 1440 + F("11.6")), ("45", EIGHT + 2 * 1440 + 5), ("40", EIGHT + 1440 + 20)],
)
def test_work_that_rests_at_night_only(lasting: str, until: Fraction) -> None:
    """Twenty minutes a day, from eight to twenty past."""
    assert _worked_until(Day(480, 500, ()), EIGHT, F(lasting)) == until


@pytest.mark.parametrize(
    ("quick_open", "slow_open", "remarks"),
    [
        pytest.param(28, 240, (), id="21 of 28 is 75 %, not more"),
        pytest.param(27, 240, ("batch 2 uses more than 75 % of its open time",), id="one"),
        pytest.param(27, 54, ("batches 1 and 2 use more than 75 % of their open time",), id="two"),
    ],
)
def test_a_batch_that_is_near_its_open_time_is_told(quick_open: int, slow_open: int, remarks: tuple[str, ...]) -> None:
    assert day_of(two_shelves(quick_open=quick_open, slow_open=slow_open)).remarks == remarks


# --- drying on the day ------------------------------------------------------------------------------------------------


def dried(adhesive: str, temperature: int, humidity: int | None, drying: int, open_: int) -> DryingRow:
    return DryingRow(adhesive, F(temperature), None if humidity is None else F(humidity), F(drying), F(open_), AT)


def test_each_adhesive_has_its_own_table() -> None:
    """The first has none, the second is outside its own, the third is inside: all three are looked at."""
    first, second, third = (glue(name, drying_min=F(20), open_min=F(100)) for name in ("first", "second", "third"))
    table = (
        dried("second", 30, None, 1, 2),
        dried("second", 40, None, 1, 2),
        dried("third", 10, None, 50, 300),
        dried("third", 20, None, 30, 240),
    )
    job = replace(two_shelves(), adhesives=(first, second, third), drying=table, terms=terms(bench_temperature=F(15)))
    of, words = times_on_the_day(job)
    assert [of(one) for one in (first, second, third)] == [(20, 100), (20, 100), (50, 240)]
    assert words == ("the day lies outside the drying table of second: its times in Adhesives are used",)


@pytest.mark.parametrize(
    ("temperature", "humidity", "times"),
    [
        pytest.param(10, None, (50, 300), id="the first row itself"), pytest.param(30, 40, (20, 200), id="the last row itself, whatever the air"),
        pytest.param(31, None, (15, 90), id="a degree above"), pytest.param(9, None, (15, 90), id="a degree below"),
        pytest.param(20, 40, (30, 250), id="a row with that humidity"), pytest.param(20, 60, (40, 240), id="the damper row"),
        pytest.param(20, 61, (15, 90), id="damper than any row"), pytest.param(20, 50, (40, 240), id="between two"),
        pytest.param(25, 50, (40, 240), id="between two temperatures: of the rows with humidity"),
    ],
)  # fmt: skip
def test_the_edges_of_a_table(temperature: int, humidity: int | None, times: tuple[int, int]) -> None:
    table = (
        dried("quick", 10, None, 50, 300),
        dried("quick", 20, 40, 30, 250),
        dried("quick", 20, 60, 40, 240),
        dried("quick", 30, None, 20, 200),
    )
    quick = glue("quick", drying_min=F(15), open_min=F(90))
    day = terms(bench_temperature=F(temperature), bench_humidity=None if humidity is None else F(humidity))
    of, words = times_on_the_day(replace(two_shelves(), adhesives=(quick,), drying=table, terms=day))
    assert of(quick) == times
    assert bool(words) == (times == (15, 90))
