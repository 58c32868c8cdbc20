"""The edges of one edging in part order go in; its glue batches come out, or why it cannot be done by hand (A18 to A23)."""

from dataclasses import dataclass, field
from fractions import Fraction

from tests.oracle.cells import blank, number, text
from tests.oracle.counting import edge_matches, of, per, standard_minutes, steps
from tests.oracle.jobs import bench_m, edges_in_a_batch, one_of, rows
from tests.oracle.parts import pieces_in_order


@dataclass
class Batch:
    """Edges that are all coated, then all applied; `held` are the (piece, edge) pairs."""

    edging: str
    held: list = field(default_factory=list)
    coated_min: list = field(default_factory=list)  # C_i
    applying_min: list = field(default_factory=list)
    strips_m: Fraction = Fraction(0)
    drying_min: Fraction = Fraction(0)
    open_min: Fraction | None = None

    @property
    def start_min(self):
        before, latest = Fraction(0), Fraction(0)
        for coated, applying in zip(self.coated_min, self.applying_min, strict=True):
            latest = max(latest, coated + self.drying_min - before)
            before += applying
        return max(latest, self.coated_min[-1])

    @property
    def last_start_min(self):
        """The latest start that keeps every edge inside its open time; None without an adhesive."""
        if self.open_min is None:
            return None
        before, earliest = Fraction(0), None
        for coated, applying in zip(self.coated_min, self.applying_min, strict=True):
            limit = coated + self.open_min - before
            earliest = limit if earliest is None else min(earliest, limit)
            before += applying
        return earliest

    def answer(self):
        start, last = self.start_min, self.last_start_min
        return {
            "edging": self.edging,
            "edges": len(self.held),
            "metres": sum(edge.length_mm for _, edge in self.held) / Fraction(1000),
            "start_min": start,
            "wait_min": start - self.coated_min[-1],
            "elapsed_min": start + sum(self.applying_min),
            "slack_min": None if last is None else last - start,
        }


def batches_of(job, lines, edgings):
    """{edging: its batches}, and the set of edgings of which a single edge breaks a limit."""
    in_order = {edging: [] for edging in edgings}
    for piece in pieces_in_order(lines):
        for edge in piece.edges:
            in_order[edge.edging].append((piece, edge))
    made, broken = {}, set()
    for edging, pairs in in_order.items():
        made[edging] = _next_fit(job, edging, pairs)
        if made[edging] is None:
            made[edging] = []
            broken.add(edging)
    return made, broken


def _next_fit(job, edging, pairs):
    bench, most, times = bench_m(job), edges_in_a_batch(job), {}
    limit = _glue_times(job, pairs[0][1])
    batches, state = [], None
    for piece, edge in pairs:
        key = (piece, edge)
        if key not in times:
            times[key] = (_during(job, piece, edge, "coating"), _during(job, piece, edge, "applying"))
        coating, applying = times[key]
        strip_m = edge.strip_mm / 1000
        grown = state.with_edge(coating, applying, strip_m) if state else None
        if grown is None or not grown.possible(limit, bench, most):
            grown = _State().with_edge(coating, applying, strip_m)
            if not grown.possible(limit, bench, most):
                return None
            batches.append(Batch(edging, drying_min=limit[0], open_min=limit[1]))
        state, batch = grown, batches[-1]
        batch.held.append((piece, edge))
        batch.coated_min.append(state.coated_min)
        batch.applying_min.append(applying)
    return batches


@dataclass
class _State:
    """What a batch's next edge is judged by: C_n, P_n, max and min of C_i - P_i, metres and edges lying out."""

    coated_min: Fraction = Fraction(0)
    applied_min: Fraction = Fraction(0)
    most: Fraction | None = None
    least: Fraction | None = None
    strips_m: Fraction = Fraction(0)
    edges: int = 0

    def with_edge(self, coating, applying, strip_m):
        coated = self.coated_min + coating
        lead = coated - self.applied_min
        return _State(
            coated,
            self.applied_min + applying,
            lead if self.most is None else max(self.most, lead),
            lead if self.least is None else min(self.least, lead),
            self.strips_m + strip_m,
            self.edges + 1,
        )

    def possible(self, glue_times, bench, most_edges):
        drying, open_time = glue_times
        if bench is not None and self.strips_m > bench:
            return False
        if most_edges is not None and self.edges > most_edges:
            return False
        start = max(self.coated_min, self.most + drying)
        return open_time is None or start <= self.least + open_time


def _glue_times(job, edge):
    """(drying, open time) of an edge's adhesive; (0, no limit) without one."""
    if not edge.adhesive:
        return Fraction(0), None
    adhesive = one_of(rows(job, "Adhesives"), "Adhesive", edge.adhesive)
    drying = Fraction(0) if blank(adhesive.get("Drying")) else number(adhesive["Drying"])
    return drying, None if blank(adhesive.get("Open time")) else number(adhesive["Open time"])


def _during(job, piece, edge, word):
    """A19: an edge's coating or applying minutes."""
    total = Fraction(0)
    for step in steps(job):
        if text(step.get("During")).lower() != word or not edge_matches(piece, edge, of(step)):
            continue
        if word == "coating" and not edge.adhesive:
            continue
        total += standard_minutes(job, step) * (edge.length_mm / 1000 if per(step) == "metre" else 1)
    return total
