"""One glue batch: the printed cases, every order and interleaving of up to six edges, and an event walk over each schedule."""

import random
from collections.abc import Iterator, Sequence

import pytest

from estimator.costing.banding.batch_order import elapsed_min, fits_open_time, least_elapsed_min, ordered, quickest_order
from estimator.costing.drying import Batch, Bench, Edge, batches_of
from estimator.model.exact import Fraction

F = Fraction


def edge(coat: Fraction | int, apply: Fraction | int, drying: int = 12, open_: int = 240) -> Edge:
    return Edge(F(1), F(1), F(coat), F(apply), F(drying), F(open_))


def test_three_short_jobs_with_a_lag_of_twelve() -> None:
    listed = [edge(5, 1), edge(1, 6), edge(3, 3)]
    best = [listed[i] for i in quickest_order(listed)]
    assert (elapsed_min(listed), elapsed_min(best)) == (27, 23)


def walk(edges: Sequence[Edge], start_min: Fraction) -> tuple[Fraction, Fraction]:
    """Event by event: one worker coats, waits, applies; drying and open time are held for each. End of coating, and end."""
    now, ends = F(0), []
    for one in edges:
        now += one.coat_min
        ends.append(now)
    coated, now = now, max(now, start_min)
    for one, end in zip(edges, ends, strict=True):
        assert one.drying_min is not None
        assert one.open_min is not None
        assert end + one.drying_min <= now <= end + one.open_min
        now += one.apply_min
    return coated, now


def test_twelve_edges_of_the_drying_schedule() -> None:
    """12 edges of 0.72 m; coat 0.30 + 0.60 a metre, apply 0.50 + 0.90 a metre, 15 % allowance; drying 30, open 240."""
    coat, apply = (F("0.30") + F("0.60") * F("0.72")) * F("1.15"), (F("0.50") + F("0.90") * F("0.72")) * F("1.15")
    edges = [edge(coat, apply, 30)] * 12
    (batch,) = _batches(edges)
    for found, printed in (
        (batch.coating_min, "10.10"), (batch.start_min, "30.84"), (batch.wait_min, "20.74"), (batch.elapsed_min, "46.68"),
        (12 * (coat + apply), "25.94"),
    ):  # fmt: skip
        assert abs(found - F(printed)) <= F("0.01")
    assert walk(edges, batch.start_min) == (batch.coating_min, batch.elapsed_min)


def _batches(edges: Sequence[Edge]) -> tuple[Batch, ...]:
    found = batches_of("white", edges, Bench(None, None))
    assert isinstance(found, tuple)
    return found


@pytest.mark.parametrize(("coat", "apply", "open_"), [("1", "2", 60), ("2.5", "1", 90), ("0.7", "0.7", 45), ("3", "7", 100)])
def test_largest_batch_of_equal_edges_by_open_time(coat: str, apply: str, open_: int) -> None:
    """floor(open time / the slower of coating and applying) + 1, where drying never delays: the first waits for all coats."""
    edges = [edge(F(coat), F(apply), 0, open_)] * 300
    most = open_ // max(F(coat), F(apply)) + 1
    assert _batches(edges)[0].edges == most


def best_by_trying(edges: Sequence[Edge]) -> Fraction:
    """The earliest end over all orders and interleavings for one worker: any edge next coated, any coated one next applied.

    A branch is left only when its remaining work alone ends no earlier than a schedule already found.
    """
    lag = int(edges[0].drying_min or 0)
    times = [(int(one.coat_min), int(one.apply_min)) for one in edges]
    best = int(elapsed_min(edges)) + 1

    def go(now: int, waiting: tuple[tuple[int, int], ...], left: tuple[tuple[int, int], ...]) -> None:
        nonlocal best
        work = sum(coat + apply for coat, apply in left) + sum(apply for _, apply in waiting)
        last_dry = max((ready + apply for ready, apply in waiting), default=0)
        if max(now + work, last_dry, now + max((c + lag + a for c, a in left), default=0)) >= best:
            return
        if not left and not waiting:
            best = now
            return
        for one in dict.fromkeys(waiting):
            rest = list(waiting)
            rest.remove(one)
            go(max(now, one[0]) + one[1], tuple(rest), left)
        for coat, apply in dict.fromkeys(left):
            others = list(left)
            others.remove((coat, apply))
            go(now + coat, (*waiting, (now + coat + lag, apply)), tuple(others))

    go(0, (), tuple(times))
    return F(best)


def instances() -> Iterator[tuple[int, list[Edge]]]:
    chance = random.Random(29)
    for number in range(400):
        count = chance.randrange(1, 5) if number % 20 else 6
        lag = chance.randrange(0, 15)
        yield number, [edge(chance.randrange(1, 9), chance.randrange(1, 9), lag, 10_000) for _ in range(count)]


def test_400_random_batches_against_every_order_and_interleaving() -> None:
    better = 0
    for _, edges in instances():
        ours = [edges[i] for i in ordered(edges)]
        best = best_by_trying(edges)
        assert elapsed_min(ours) == best
        assert least_elapsed_min(edges) <= best
        better += elapsed_min(ours) < elapsed_min(edges)
    assert better > 50


def test_an_order_that_would_pass_the_open_time_is_not_taken() -> None:
    chance, refused = random.Random(4), 0
    for _ in range(300):
        edges = [edge(chance.randrange(1, 9), chance.randrange(1, 9), 5, chance.randrange(14, 30)) for _ in range(4)]
        lag = edges[0].open_min
        edges = [edge(one.coat_min, one.apply_min, 5, int(lag or 0)) for one in edges]
        if fits_open_time(edges):
            ours = [edges[i] for i in ordered(edges)]
            assert fits_open_time(ours)
            assert elapsed_min(ours) <= elapsed_min(edges)
            refused += ordered(edges) != quickest_order(edges)
    assert refused > 0


@pytest.mark.parametrize(
    ("edges", "least"),
    [
        pytest.param([(1, 3), (2, 4)], 38, id="the first is dry at 31, then 7 of applying"),
        pytest.param([(10, 1), (10, 2)], 51, id="all are coated at 20, then the last dries and is applied in 31 at the least"),
        pytest.param([(5, 9)], 44, id="one edge takes its whole way"),
    ],
)
def test_no_schedule_ends_earlier(edges: list[tuple[int, int]], least: int) -> None:
    assert least_elapsed_min([edge(coat, apply, drying=30) for coat, apply in edges]) == least
