"""Edges to glue batches: the edges of one edging in part order in, batches inside the drying and open times out (A18 to A23).

One worker coats all edges of a batch in order, then applies all strips in the same order. Drying and open time run from the
end of coating an edge to the start of applying it. A batch closes when the next edge would pass its open time, the bench or
the most edges at once.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace

from estimator.costing.edging import strip_length_mm
from estimator.costing.limits import Limit, limit_of
from estimator.costing.work import step_standard_min
from estimator.model.dataclass import dataclass
from estimator.model.exact import Fraction
from estimator.model.records import Job
from estimator.model.shop_records import Adhesive, Side
from estimator.model.taken import Band, Batch, Part
from estimator.model.units import MM_PER_M


@dataclass(frozen=True, slots=True)
class Edge:
    """One edge at the bench, with its own coating and applying time. Drying and open are None without an adhesive."""

    length_m: Fraction
    strip_m: Fraction
    coat_min: Fraction
    apply_min: Fraction
    drying_min: Fraction | None
    open_min: Fraction | None


@dataclass(frozen=True, slots=True)
class Bench:
    """What can lie out at once; None: no limit."""

    length_m: Fraction | None
    edges: int | None


@dataclass(frozen=True, slots=True)
class Impossible:
    """Why an edging cannot be banded by hand."""

    why: str


@dataclass(frozen=True, slots=True)
class OpenBatch:
    """A batch that still takes edges. Times run from its first brush stroke."""

    edges: int = 0
    metres: Fraction = Fraction(0)
    strip_m: Fraction = Fraction(0)
    coated_min: Fraction = Fraction(0)
    """C_n: the end of coating the last edge."""
    applied_min: Fraction = Fraction(0)
    """P: applying time of all edges so far."""
    dry_min: Fraction | None = None
    """The greatest C_i + d - P_i: applying cannot start earlier."""
    shut_min: Fraction | None = None
    """The least C_i + o - P_i: applying cannot start later."""
    longest_open: tuple[Fraction, Fraction] = (Fraction(0), Fraction(1))
    """C_i - P_i and open time of the edge that is nearest to its open time."""

    def with_edge(self, edge: Edge) -> "OpenBatch":
        coated = self.coated_min + edge.coat_min
        dry, shut = self.dry_min, self.shut_min
        if edge.drying_min is not None and edge.open_min is not None:
            ready, late = coated + edge.drying_min - self.applied_min, coated + edge.open_min - self.applied_min
            dry = ready if dry is None else max(dry, ready)
            shut = late if shut is None else min(shut, late)
        return OpenBatch(
            self.edges + 1,
            self.metres + edge.length_m,
            self.strip_m + edge.strip_m,
            coated,
            self.applied_min + edge.apply_min,
            dry,
            shut,
        )

    @property
    def start_min(self) -> Fraction:
        """B0 (A20)."""
        return self.coated_min if self.dry_min is None else max(self.coated_min, self.dry_min)

    def fits(self, bench: Bench) -> bool:
        """Inside open time (A21), bench and number (A22)."""
        in_time = self.shut_min is None or self.start_min <= self.shut_min
        on_bench = bench.length_m is None or self.strip_m <= bench.length_m
        return in_time and on_bench and (bench.edges is None or self.edges <= bench.edges)


def batches_of(edging: str, edges: Iterable[Edge], bench: Bench) -> tuple[Batch, ...] | Impossible:
    """The glue batches of one edging, by next fit in the order given (A18).

        applying starts at  B0  =  the later of C_n and the latest C_i + drying - P_i
        a batch is possible when  B0  is not later than the earliest C_i + open time - P_i
        wait = B0 - C_n;  elapsed = B0 + applying;  slack = earliest C_i + open time - P_i - B0

    By hand: five edges coated 0.44 and applied 0.55 each, drying 30: coating ends at 2.20, the first edge is dry at 30.44, so
    applying starts there, waits 28.24 and ends at 33.19.

    Holds for: one worker; all coated, then all applied, in the same order.
    Error: none; the timings' own.
    Source: drying-schedule (arithmetic, walked through event by event in the tests).
    """
    batches: list[Batch] = []
    now, first = OpenBatch(), 0
    taken: list[Edge] = []
    for count, edge in enumerate(edges):
        longer = now.with_edge(edge)
        if not longer.fits(bench):
            if now.edges:
                batches.append(_closed(edging, now, taken, first))
            first, taken = count, []
            longer = OpenBatch().with_edge(edge)
            if not longer.fits(bench):
                return Impossible(_why_not(edging, edge, bench))
        now = longer
        taken.append(edge)
    if now.edges:
        batches.append(_closed(edging, now, taken, first))
    return tuple(batches)


def _closed(edging: str, batch: OpenBatch, edges: Sequence[Edge], first: int) -> Batch:
    start = batch.start_min
    return Batch(
        edging=edging,
        edges=batch.edges,
        metres=batch.metres,
        strip_m=batch.strip_m,
        coating_min=batch.coated_min,
        start_min=start,
        wait_min=start - batch.coated_min,
        elapsed_min=start + batch.applied_min,
        slack_min=None if batch.shut_min is None else batch.shut_min - start,
        open_used_share=_open_used(edges, start),
        first_edge=first,
    )


def _open_used(edges: Sequence[Edge], start_min: Fraction) -> Fraction | None:
    """The longest wait of an edge between coating and applying, as a share of its open time."""
    used: Fraction | None = None
    coated = applied = Fraction(0)
    for edge in edges:
        coated += edge.coat_min
        if edge.open_min is not None:
            share = (start_min + applied - coated) / edge.open_min
            used = share if used is None else max(used, share)
        applied += edge.apply_min
    return used


def _why_not(edging: str, edge: Edge, bench: Bench) -> str:
    if bench.length_m is not None and edge.strip_m > bench.length_m:
        return f"a strip of {edging} is longer than the bench"
    return f"{edging} dries longer than it stays open"


# --- from the job -----------------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Batched:
    """The glue batches of one edging, and the bands (part and side) that lie in each."""

    batches: tuple[Batch, ...] | Impossible
    bands: tuple[frozenset[tuple[int, Side]], ...]


def job_batches(job: Job, parts: Sequence[Part], known: Mapping[str, frozenset[str]]) -> dict[str, Batched]:
    """The glue batches of every edging that the job uses, as if each were banded by hand."""
    bench = Bench(job.shop.bench_length_m, job.shop.edges_in_a_batch)
    edges: dict[str, list[Edge]] = {}
    bands: dict[str, list[tuple[int, Side]]] = {}
    for edging, edge, part, band in edges_in_order(job, parts, known):
        edges.setdefault(edging, []).append(edge)
        bands.setdefault(edging, []).append((id(part), band.side))
    return {edging: _batched(batches_of(edging, theirs, bench), bands[edging]) for edging, theirs in edges.items()}


def _batched(batches: tuple[Batch, ...] | Impossible, bands: Sequence[tuple[int, Side]]) -> Batched:
    if isinstance(batches, Impossible):
        return Batched(batches, ())
    return Batched(batches, tuple(frozenset(bands[batch.first_edge : batch.first_edge + batch.edges]) for batch in batches))


def edges_in_order(
    job: Job, parts: Sequence[Part], known: Mapping[str, frozenset[str]]
) -> Iterator[tuple[str, Edge, Part, Band]]:
    """Every single edge in the order of A3 and A18: one whole cabinet after another, its parts, then front, back, left, right."""
    glues = {row.adhesive: row for row in job.adhesives}
    during = [
        (step.during, step.per, step_standard_min(step, job.shop), limit_of(step.of, known=known))
        for step in job.work
        if step.during and step.route == "by hand"
    ]
    start = 0
    while start < len(parts):
        end = start
        while end < len(parts) and parts[end].owner is parts[start].owner:
            end += 1
        one_cabinet = [
            (band.edging.edging, edge, part, band)
            for part in parts[start:end]
            for edge_band in [tuple((band, _edge(part, band, glues, during)) for band in part.bands)]
            for _ in range(part.count_each)
            for band, edge in edge_band
        ]
        for _ in range(parts[start].qty):
            yield from one_cabinet
        start = end


def _edge(part: Part, band: Band, glues: Mapping[str, Adhesive], during: Sequence[tuple[str, str, Fraction, Limit]]) -> Edge:
    length_m = band.length_mm / MM_PER_M
    times = {"coating": Fraction(0), "applying": Fraction(0)}
    for when, per, minutes, limit in during:
        if limit.band(part, band):
            times[when] += minutes if per == "edge" else minutes * length_m
    glue = glues.get(band.edging.adhesive)
    edge = Edge(
        length_m=length_m,
        strip_m=strip_length_mm(edge_mm=band.length_mm, overhang_mm=band.edging.overhang_mm) / MM_PER_M,
        coat_min=times["coating"],
        apply_min=times["applying"],
        drying_min=glue.drying_min if glue else None,
        open_min=glue.open_min if glue else None,
    )
    return edge if glue else replace(edge, coat_min=Fraction(0))
