"""The order of edges inside one glue batch: coating and applying times and one drying time in, the quickest order out.

One worker coats every edge and then applies every strip in the same order. The start of applying is then all that the order
decides, and Johnson's rule for two stages with a lag between them makes it as early as any order can.
"""

from collections.abc import Sequence

from estimator.costing.drying import Edge
from estimator.model.exact import Fraction

NONE = Fraction(0)


def quickest_order(edges: Sequence[Edge]) -> tuple[int, ...]:
    """Places of the edges in the order that ends first (Johnson's rule with a lag).

        first the edges that are coated quicker than applied, the quickest coated first;
        then the others, the slowest applied first

    By hand: (coat 5, apply 1), (1, 6), (3, 3) with 12 minutes of drying take 27 as listed; as (1, 6), (3, 3), (5, 1) 23.

    Holds for: one adhesive in a batch, so one lag for all. An order with the same times keeps the list's.
    Error: none; no interleaving of coating and applying by one worker ends earlier (tests try them all).
    Source: johnson-lag.
    """

    def key(place: int) -> tuple[int, Fraction, int]:
        edge = edges[place]
        first = edge.coat_min <= edge.apply_min
        return (0, edge.coat_min, place) if first else (1, -edge.apply_min, place)

    return tuple(sorted(range(len(edges)), key=key))


def window_min(edges: Sequence[Edge]) -> tuple[Fraction, Fraction | None]:
    """Earliest and latest start of applying, from the first brush stroke (A20, A21); no latest without an open time.

    earliest = the later of C_n and every C_i + drying - P_i;  latest = the earliest C_i + open time - P_i
    """
    coated = applied = NONE
    earliest, latest = NONE, None
    for edge in edges:
        coated += edge.coat_min
        if edge.drying_min is not None and edge.open_min is not None:
            earliest = max(earliest, coated + edge.drying_min - applied)
            late = coated + edge.open_min - applied
            latest = late if latest is None else min(latest, late)
        applied += edge.apply_min
    return max(earliest, coated), latest


def elapsed_min(edges: Sequence[Edge]) -> Fraction:
    """From the first brush stroke to the last strip pressed: start of applying and all applying."""
    return window_min(edges)[0] + sum((edge.apply_min for edge in edges), start=NONE)


def fits_open_time(edges: Sequence[Edge]) -> bool:
    """Every edge is applied inside its open time."""
    earliest, latest = window_min(edges)
    return latest is None or earliest <= latest


def ordered(edges: Sequence[Edge]) -> tuple[int, ...]:
    """The quickest order where it keeps the open time, else the list's own: never later than as listed."""
    order = quickest_order(edges)
    return order if fits_open_time([edges[i] for i in order]) else tuple(range(len(edges)))


def least_elapsed_min(edges: Sequence[Edge]) -> Fraction:
    """No schedule of these edges by one worker ends earlier than this.

    The bound is the greater of all the work, and of the first edge coated, dry, and the last applied, at their quickest.
    """
    work = sum((edge.coat_min + edge.apply_min for edge in edges), start=NONE)
    lags = [edge.drying_min or NONE for edge in edges]
    long_way = max((edge.coat_min + lag + edge.apply_min for edge, lag in zip(edges, lags, strict=True)), default=NONE)
    first = min((edge.coat_min + lag for edge, lag in zip(edges, lags, strict=True)), default=NONE)
    all_applied = first + sum((edge.apply_min for edge in edges), start=NONE)
    last = min((edge.apply_min + lag for edge, lag in zip(edges, lags, strict=True)), default=NONE)
    return max(work, long_way, all_applied, sum((edge.coat_min for edge in edges), start=NONE) + last)
