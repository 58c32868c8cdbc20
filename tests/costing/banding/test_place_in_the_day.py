"""A quicker order that finds no place between two breaks: the list's own order is kept, which was made to find one."""

import pytest

from estimator.costing.banding.bench_batches import BenchBatch, BenchEdge, _batch, _finds_place, _Window
from estimator.costing.banding.clock import Day
from estimator.costing.banding.timetable import timetable
from estimator.costing.drying import Edge
from estimator.model.exact import Fraction

F = Fraction
NOON, THROUGH = Day(480, 990, ((720, 750),)), Day(480, 990, ())


def two_edges(day: Day, *, open_min: int) -> BenchBatch:
    """The first takes 100 minutes to coat and 10 to press, the second 70 and 100; dry after 5."""
    edges = [
        BenchEdge(Edge(length_m=F(1), strip_m=F(1), coat_min=F(coat), apply_min=F(press), drying_min=F(5), open_min=F(open_min)), F(0), F(0), part, name)
        for part, (name, coat, press) in enumerate((("first", 100, 10), ("second", 70, 100)))
    ]  # fmt: skip
    return _batch("white", "ends", edges, F(0), None, day)


@pytest.mark.parametrize(
    ("day", "open_min", "order"),
    [
        pytest.param(THROUGH, 180, ["second", "first"], id="no break: the quicker order"),
        pytest.param(NOON, 200, ["second", "first"], id="open long enough for the quicker order"),
        pytest.param(NOON, 199, ["first", "second"], id="a minute less"),
        pytest.param(NOON, 170, ["first", "second"], id="just long enough as listed"),
    ],
)
def test_the_order_finds_its_place(day: Day, open_min: int, order: list[str]) -> None:
    """Coated from 8:00 to 10:50, 110 minutes of pressing do not end by noon: it begins at 12:30, 270 minutes after the first stroke.

    As listed the first edge, coated at 100, is pressed first: 170 minutes open. The other way round the second is, coated at 70: 200 minutes.
    """
    batch = two_edges(day, open_min=open_min)
    assert [one.ref for one in batch.edges] == order
    pressing = [task.start_min for task in timetable([batch], day, workers=1, limits=(None, None)) if task.doing == "applying"]
    assert pressing == [750 if day is NOON else 480 + 170]


@pytest.mark.parametrize(
    ("coat", "early", "set_up", "found"),
    [
        pytest.param(240, 0, 0, True, id="as long as the morning"), pytest.param(241, 0, 0, False, id="a minute longer"),
        pytest.param(100, 241, 0, False, id="its first coat is longer"), pytest.param(230, 0, 11, False, id="with its set-up"), pytest.param(230, 0, 10, True, id="just with its set-up"),
    ],
)  # fmt: skip
def test_a_coat_is_not_broken_off_by_a_break(coat: int, early: int, set_up: int, found: bool) -> None:
    """The morning has 240 minutes, and so has the afternoon; pressing could wait until after the break."""
    window = _Window(F(early), F(coat), F(coat), None, F(10))
    assert _finds_place(window, Day(480, 990, ((720, 750),)), F(set_up)) is found
