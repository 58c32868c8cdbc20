"""The banding schedule: an estimate in; each glue batch with its times, its strips and where each strip goes, out."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from estimator.model.dataclass import dataclass
from estimator.model.exact import Fraction
from estimator.model.taken import Batch
from estimator.papers.page.pieces import gap, heading, paragraph, tick_box, title
from estimator.papers.page.tables import Column, table
from estimator.papers.shop.edges import EdgeRow, batch_rows
from estimator.papers.shop.paper import ShopPaper, counted, strip_mm
from estimator.papers.shop.rolls import rolls_story

if TYPE_CHECKING:
    from reportlab.platypus.flowables import Flowable


@dataclass(frozen=True, slots=True)
class StripRow:
    """Strips alike to be cut from the roll."""

    length_mm: Fraction
    width_mm: Fraction
    edging: str
    count: int


def strip_rows(rows: Sequence[EdgeRow]) -> tuple[StripRow, ...]:
    """The strips of a batch, the longest first."""
    counts: dict[tuple[Fraction, Fraction, str], int] = {}
    for row in rows:
        edging = row.band.edging
        key = strip_mm(row.band), edging.width_mm, edging.edging
        counts[key] = counts.get(key, 0) + row.count
    return tuple(StripRow(*key, count) for key, count in sorted(counts.items(), key=lambda item: (-item[0][0], -item[0][1])))


def banding_schedule_story(paper: ShopPaper) -> list[Flowable]:
    """Nothing where no edge is banded at the bench."""
    look, batches = paper.look, batch_rows(paper.estimate)
    if not batches:
        return []
    story = [
        title("Banding schedule", look),
        paragraph(
            f"What is banded by hand, a batch at a time. All sizes in {paper.unit}. Minutes are from the first brush "
            "stroke, for one worker who coats every edge and strip of the batch and then presses them on in the same order.",
            look,
        ),
    ]
    story += rolls_story(paper)
    of_edging: dict[str, int] = {}
    for batch, rows in batches:
        of_edging[batch.edging] = of_edging.get(batch.edging, 0) + 1
        several = sum(1 for other in paper.estimate.batches if other.edging == batch.edging)
        which = f"batch {of_edging[batch.edging]} of {several}" if several > 1 else "one batch"
        story += heading(f"{batch.edging}, {which}", look, needs_pt=150)
        story += [paragraph(_what(paper, batch), look), paragraph(times_words(paper, batch), look), gap(0.5)]
        story += [_strips(paper, rows), gap(), _edges(paper, rows)]
    return story


def _what(paper: ShopPaper, batch: Batch) -> str:
    what = f"{counted(batch.edges, 'edge')}, {paper.long(batch.metres)} of edge, {paper.long(batch.strip_m)} of strip."
    small = batch.edging in paper.sent
    return f"{what} Only parts too small for the contract bander's machine; the others are sent." if small else what


def times_words(paper: ShopPaper, batch: Batch) -> str:
    """When coating ends, applying starts and all is done, and how long the adhesive may be left."""
    minutes = paper.minutes
    if batch.slack_min is None:
        return f"No adhesive to coat: applying starts at once and is done after {minutes(batch.elapsed_min)} min."
    return (
        f"Coating ends after {minutes(batch.coating_min)} min. Wait {minutes(batch.wait_min)} min, start applying after "
        f"{minutes(batch.start_min)} min, done after {minutes(batch.elapsed_min)} min. Applying may start up to "
        f"{minutes(batch.slack_min)} min later before the open time of an edge is over."
    )


def _strips(paper: ShopPaper, rows: Sequence[EdgeRow]) -> Flowable:
    length = paper.language.length
    cells: list[list[str | Flowable]] = [
        [tick_box(), length(row.length_mm), str(row.count), row.edging, length(row.width_mm)] for row in strip_rows(rows)
    ]
    columns = [
        Column("Cut", width_mm=9),
        Column("Strip length", width_mm=26, align="right"),
        Column("Strips", width_mm=16, align="right"),
        Column("Edging"),
        Column("Edging width", width_mm=26, align="right"),
    ]
    return table(columns, cells, look=paper.look)


def _edges(paper: ShopPaper, rows: Sequence[EdgeRow]) -> Flowable:
    cells: list[list[str | Flowable]] = [
        [
            tick_box(),
            f"{row.part.ref} {row.part.part}",
            row.band.side,
            str(row.count),
            paper.language.length(row.band.length_mm),
            paper.strip(row.band),
        ]
        for row in rows
    ]
    columns = [
        Column("On", width_mm=9),
        Column("Part"),
        Column("Edge", width_mm=18),
        Column("Edges", width_mm=16, align="right"),
        Column("Edge length", width_mm=26, align="right"),
        Column("Strip", width_mm=22, align="right"),
    ]
    return table(columns, cells, look=paper.look)
