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
from estimator.papers.shop.paper import ShopPaper, strip_mm
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
    look, say, batches = paper.look, paper.say, batch_rows(paper.estimate)
    if not batches:
        return []
    story = [
        title(say("banding schedule"), look),
        paragraph(say("banding schedule lead", unit=paper.unit), look),
        *([paragraph(say("banding schedule beside glue day"), look)] if paper.estimate.glue_day and paper.estimate.glue_day.tasks else []),
    ]
    story += rolls_story(paper)
    of_edging: dict[str, int] = {}
    for batch, rows in batches:
        of_edging[batch.edging] = of_edging.get(batch.edging, 0) + 1
        several = sum(1 for other in paper.estimate.batches if other.edging == batch.edging)
        which = say("batch of several", n=of_edging[batch.edging], of=several) if several > 1 else say("one batch")
        story += heading(f"{batch.edging}, {which}", look, needs_pt=150)
        story += [paragraph(_what(paper, batch), look), paragraph(times_words(paper, batch), look), gap(0.5)]
        story += [_strips(paper, rows), gap(), _edges(paper, rows)]
    return story


def _what(paper: ShopPaper, batch: Batch) -> str:
    edges = paper.say.counted("edges", batch.edges)
    what = paper.say("what is in a batch", edges=edges, run=paper.long(batch.metres), strip=paper.long(batch.strip_m))
    return f"{what} {paper.say('small parts only')}" if batch.edging in paper.sent else what


def times_words(paper: ShopPaper, batch: Batch) -> str:
    """When coating ends, applying starts and all is done, and how long the adhesive may be left."""
    minutes = paper.minutes
    if batch.slack_min is None:
        return paper.say("times without adhesive", done=minutes(batch.elapsed_min))
    return paper.say(
        "times of a batch",
        coated=minutes(batch.coating_min),
        wait=minutes(batch.wait_min),
        start=minutes(batch.start_min),
        done=minutes(batch.elapsed_min),
        later=minutes(batch.slack_min),
    )


def _strips(paper: ShopPaper, rows: Sequence[EdgeRow]) -> Flowable:
    length, say = paper.language.length, paper.say
    cells: list[list[str | Flowable]] = [
        [tick_box(), length(row.length_mm), str(row.count), row.edging, length(row.width_mm)] for row in strip_rows(rows)
    ]
    columns = [
        Column(say("tick cut"), width_mm=9),
        Column(say("strip length"), width_mm=26, align="right"),
        Column(say("strips head"), width_mm=16, align="right"),
        Column(say("edging")),
        Column(say("edging width"), width_mm=26, align="right"),
    ]
    return table(columns, cells, look=paper.look)


def _edges(paper: ShopPaper, rows: Sequence[EdgeRow]) -> Flowable:
    say = paper.say
    cells: list[list[str | Flowable]] = [
        [
            tick_box(),
            f"{row.part.ref} {row.part.part}",
            paper.side(row.band.side),
            str(row.count),
            paper.language.length(row.band.length_mm),
            paper.strip(row.band),
        ]
        for row in rows
    ]
    columns = [
        Column(say("tick on"), width_mm=9),
        Column(say("part")),
        Column(say("edge"), width_mm=18),
        Column(say("edges head"), width_mm=16, align="right"),
        Column(say("edge length"), width_mm=26, align="right"),
        Column(say("strip"), width_mm=22, align="right"),
    ]
    return table(columns, cells, look=paper.look)
