"""What lies out together at the bench: banded edges in, batches with their work and their windows out.

Unlike the batches that are priced (A18 to A23), these keep corners: the ends of a part are banded and trimmed before its long
edges. The second coat of a porous core waits for the first, and every batch must find its place between two breaks.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from typing import Literal

from estimator.costing.banding.batch_order import ordered, window_min
from estimator.costing.banding.clock import Day
from estimator.costing.banding.drying_table import TimesOf
from estimator.costing.banding.small_parts import small_ids
from estimator.costing.drying import Bench, Edge, OpenBatch, edges_in_order
from estimator.costing.limits import limit_of
from estimator.costing.work import step_standard_min
from estimator.model.dataclass import dataclass
from estimator.model.exact import Fraction
from estimator.model.records import Job
from estimator.model.shop_records import Adhesive
from estimator.model.taken import Band, Part
from estimator.model.units import MM_PER_M

NONE = Fraction(0)
Side = Literal["ends", "long edges"]


@dataclass(frozen=True, slots=True)
class BenchEdge:
    """One edge with all its work. `edge.coat_min` is of the last coat; earlier coats are apart."""

    edge: Edge
    early_min: Fraction
    after_min: Fraction
    """Trimming and all else that needs no glue."""
    part: int
    """Which row of parts it belongs to."""
    ref: str


@dataclass(frozen=True, slots=True)
class BenchBatch:
    """Edges that lie out together, in the order taken."""

    edging: str
    side: Side
    edges: tuple[BenchEdge, ...]
    listed: tuple[BenchEdge, ...]
    setup_min: Fraction
    early_coats: int
    between_min: Fraction
    strip_m: Fraction
    early_min: Fraction
    """One earlier coat on every edge."""
    coat_min: Fraction
    apply_min: Fraction
    after_min: Fraction
    dry_min: Fraction
    """From the start of the last coat to the earliest start of applying, which keeps the order."""
    shut_min: Fraction | None
    """From the start of the last coat to the latest start of applying."""

    def next_coat_min(self, *, last: bool) -> Fraction:
        """From the start of an earlier coat to the earliest start of the next, which keeps the order."""
        painted = begun = ready = NONE
        for one in self.edges:
            painted += one.early_min
            ready = max(ready, painted + self.between_min - begun)
            begun += one.edge.coat_min if last else one.early_min
        return max(ready, painted)


def bench_batches(
    job: Job, parts: Sequence[Part], known: Mapping[str, frozenset[str]], sent: Sequence[str], day: Day, times: TimesOf
) -> tuple[BenchBatch, ...] | str:
    """Every batch of the edges that stay at the bench: ends first, then long edges; or why one edge finds no place."""
    small = small_ids(job, parts)

    def stays(part: Part, band: Band) -> bool:
        return band.edging.edging not in sent or id(part) in small

    glues = {row.adhesive: row for row in job.adhesives}
    lists: dict[tuple[Side, str], list[BenchEdge]] = {}
    setups: dict[str, Fraction] = {}
    alike: dict[tuple[int, str], BenchEdge] = {}
    for edging, edge, part, band in edges_in_order(job, parts, known):
        if stays(part, band):
            side: Side = "ends" if band.side in ("left", "right") else "long edges"
            key = (id(part), band.side)
            if key not in alike:
                glue = glues.get(band.edging.adhesive)
                first = next(one for one in part.bands if stays(part, one))
                alike[key] = _bench_edge(edge, part, band, glue, times, _after(job, known, part, band, first))
                setups[edging] = max(setups.get(edging, NONE), _per(job, known, part, band, "batch"))
            lists.setdefault((side, edging), []).append(alike[key])
    batches: list[BenchBatch] = []
    bench = Bench(job.shop.bench_length_m, job.shop.edges_in_a_batch)
    for side in ("ends", "long edges"):
        for edging in dict.fromkeys(row.edging for row in job.edgings):
            edges = lists.get((side, edging), [])
            glue = glues.get(edges_adhesive(job, edging))
            for taken in _filled(edges, bench, day, setups.get(edging, NONE)):
                if not taken:
                    return f"an edge of {edging} finds no place between two breaks of the bench's day inside its open time"
                batches.append(_batch(edging, side, taken, setups[edging], glue, day))
    return tuple(batches)


def edges_adhesive(job: Job, edging: str) -> str:
    return next(row.adhesive for row in job.edgings if row.edging == edging)


def _batch(edging: str, side: Side, edges: Sequence[BenchEdge], setup_min: Fraction, glue: Adhesive | None, day: Day) -> BenchBatch:
    """The batch in its quickest order; as listed where only that order finds a place between two breaks."""
    order = ordered([one.edge for one in edges])
    waits = glue is not None and glue.core_coats > 1 and glue.between_coats_min > 0
    batch = in_order(
        edging,
        side,
        tuple(edges[i] for i in order),
        tuple(edges),
        setup_min=setup_min,
        early_coats=glue.core_coats - 1 if glue and waits else 0,
        between_min=glue.between_coats_min if glue and waits else NONE,
    )
    window = _Window(batch.early_min, batch.coat_min, batch.dry_min, batch.shut_min, batch.apply_min)
    return batch if _finds_place(window, day, setup_min) else as_listed(batch)


def as_listed(batch: BenchBatch) -> BenchBatch:
    """The same edges in the order of the list."""
    return in_order(
        batch.edging,
        batch.side,
        batch.listed,
        batch.listed,
        setup_min=batch.setup_min,
        early_coats=batch.early_coats,
        between_min=batch.between_min,
    )


def in_order(
    edging: str,
    side: Side,
    edges: tuple[BenchEdge, ...],
    listed: tuple[BenchEdge, ...],
    *,
    setup_min: Fraction,
    early_coats: int,
    between_min: Fraction,
) -> BenchBatch:
    """A batch with its edges in the order taken, and what follows from it."""
    dry_min, shut_min = window_min([one.edge for one in edges])
    return BenchBatch(
        edging=edging,
        side=side,
        edges=edges,
        listed=listed,
        setup_min=setup_min,
        early_coats=early_coats,
        between_min=between_min,
        strip_m=sum((one.edge.strip_m for one in edges), start=NONE),
        early_min=sum((one.early_min for one in edges), start=NONE),
        coat_min=sum((one.edge.coat_min for one in edges), start=NONE),
        apply_min=sum((one.edge.apply_min for one in edges), start=NONE),
        after_min=sum((one.after_min for one in edges), start=NONE),
        dry_min=dry_min,
        shut_min=shut_min,
    )


def _bench_edge(edge: Edge, part: Part, band: Band, glue: Adhesive | None, times: TimesOf, after_min: Fraction) -> BenchEdge:
    """The edge with its coating split over the coats: each core and strip coat takes an equal part of the coating time."""
    early_min = NONE
    if glue is not None:
        drying_min, open_min = times(glue)
        edge = replace(edge, drying_min=drying_min, open_min=open_min)
        if glue.core_coats > 1 and glue.between_coats_min > 0:
            early_min = edge.coat_min / (glue.core_coats + glue.strip_coats)
            edge = replace(edge, coat_min=edge.coat_min - early_min * (glue.core_coats - 1))
    return BenchEdge(edge, early_min, after_min, id(part), part.ref)


def _filled(edges: Sequence[BenchEdge], bench: Bench, day: Day, setup_min: Fraction) -> Iterator[tuple[BenchEdge, ...]]:
    """Next fit: a batch closes when the next edge would pass its open time, the bench, or the time between two breaks."""
    now, taken = OpenBatch(), list[BenchEdge]()
    early = NONE
    for one in edges:
        longer, more = now.with_edge(one.edge), early + one.early_min
        if not (longer.fits(bench) and _finds_place(_window(longer, more), day, setup_min)):
            if taken:
                yield tuple(taken)
            now, taken, early = OpenBatch(), [], NONE
            longer, more = now.with_edge(one.edge), one.early_min
            if not (longer.fits(bench) and _finds_place(_window(longer, more), day, setup_min)):
                yield ()
                return
        now, early = longer, more
        taken.append(one)
    if taken:
        yield tuple(taken)


@dataclass(frozen=True, slots=True)
class _Window:
    """What decides whether a batch finds its place: its coats, and from the start of the last when it may and must be applied."""

    early_min: Fraction
    coat_min: Fraction
    dry_min: Fraction
    shut_min: Fraction | None
    apply_min: Fraction


def _window(batch: OpenBatch, early_min: Fraction) -> _Window:
    return _Window(early_min, batch.coated_min, batch.start_min, batch.shut_min, batch.applied_min)


def _finds_place(batch: _Window, day: Day, setup_min: Fraction) -> bool:
    """Coated at the start of some stretch of work, it can be applied within its window on the same day."""
    for start_min, end_min in day.stretches:
        if start_min + setup_min + max(batch.early_min, batch.coat_min) > end_min:
            continue
        begun = start_min + (setup_min if not batch.early_min else NONE)
        start = day.slot_min(begun + batch.dry_min, lasting_min=batch.apply_min)
        if start is not None and (batch.shut_min is None or start <= begun + batch.shut_min):
            return True
    return False


def _after(job: Job, known: Mapping[str, frozenset[str]], part: Part, band: Band, first: Band) -> Fraction:
    """Minutes of an edge's steps that need no glue; a part's own steps go with its first edge at the bench."""
    length_m = band.length_mm / MM_PER_M
    minutes = _per(job, known, part, band, "edge") + length_m * _per(job, known, part, band, "metre")
    return minutes + (_per(job, known, part, band, "part") if band is first else NONE)


def _per(job: Job, known: Mapping[str, frozenset[str]], part: Part, band: Band, per: str) -> Fraction:
    return sum(
        (
            step_standard_min(step, job.shop)
            for step in job.work
            if step.route == "by hand" and step.per == per and not step.during and limit_of(step.of, known=known).band(part, band)
        ),
        start=NONE,
    )
