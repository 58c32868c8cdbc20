"""Every banded edge by itself: the parts go in; single edges come out, in the order in which the glue batches take them.

The order is that of the whole job: one whole cabinet after another, its parts as their rows stand, each piece by itself, then
front, back, left, right. A batch begins at its `first_edge` in this order, counted over the edges of its own edging.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import groupby

from estimator.model.dataclass import dataclass
from estimator.model.results import Estimate
from estimator.model.taken import Band, Batch, Part


@dataclass(frozen=True, slots=True)
class PartEdge:
    """One edge of one piece."""

    part: Part
    band: Band


@dataclass(frozen=True, slots=True)
class EdgeRow:
    """Edges alike: the same edge of a part, so many times."""

    part: Part
    band: Band
    count: int


def edges_in_order(parts: Sequence[Part]) -> Iterator[PartEdge]:
    """Every edge of the job, one at a time."""
    for _, group in groupby(parts, key=lambda part: id(part.owner)):
        theirs = tuple(group)
        for _ in range(theirs[0].qty):
            for part in theirs:
                for _ in range(part.count_each):
                    yield from (PartEdge(part, band) for band in part.bands)


def edges_by_edging(parts: Sequence[Part]) -> dict[str, tuple[PartEdge, ...]]:
    """The edges of each edging, in order."""
    found: dict[str, list[PartEdge]] = {}
    for edge in edges_in_order(parts):
        found.setdefault(edge.band.edging.edging, []).append(edge)
    return {edging: tuple(edges) for edging, edges in found.items()}


def counted_edges(edges: Sequence[PartEdge]) -> tuple[EdgeRow, ...]:
    """The edges with those of one part and side counted together, in the order in which they first come."""
    counts: dict[tuple[int, str], int] = {}
    first: dict[tuple[int, str], PartEdge] = {}
    for edge in edges:
        key = id(edge.part), edge.band.side
        first.setdefault(key, edge)
        counts[key] = counts.get(key, 0) + 1
    return tuple(EdgeRow(edge.part, edge.band, counts[key]) for key, edge in first.items())


def batch_rows(estimate: Estimate) -> tuple[tuple[Batch, tuple[EdgeRow, ...]], ...]:
    """Each glue batch with its edges; of an edging that is sent, those of parts too small to go."""
    sent = estimate.banding.chosen.sent
    edges = edges_by_edging(estimate.parts)
    for one in estimate.banding.small_parts:
        if one.edging in sent:
            small = {id(part) for part in one.parts}
            edges[one.edging] = tuple(edge for edge in edges[one.edging] if id(edge.part) in small)
    return tuple(
        (batch, counted_edges(edges[batch.edging][batch.first_edge : batch.first_edge + batch.edges]))
        for batch in estimate.batches
    )
