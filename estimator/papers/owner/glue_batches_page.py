"""The glue batches where the bench has no timetable: an estimate in; each as a bar from its own first brush stroke, out."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from estimator.model.exact import Fraction
from estimator.model.taken import Batch
from estimator.papers.owner.charts import ACCENT, Fill, Segment, SegmentRow, time_bars
from estimator.papers.owner.paper import OwnerPaper, capital
from estimator.papers.owner.plots import round_ticks
from estimator.papers.page.pieces import gap, heading, paragraph
from estimator.papers.page.tables import Column, table

if TYPE_CHECKING:
    from reportlab.platypus.flowables import Flowable

_BATCHES_IN_A_CHART = 12
_HEAD_PT = 90.0
"""What the heading and the words below it take."""


def glue_batches_story(paper: OwnerPaper) -> list[Flowable]:
    """Nothing where all is sent out or nothing is glued."""
    batches, look = paper.estimate.batches, paper.look
    if not batches:
        return []
    end = max(batch.elapsed_min for batch in batches)
    groups = [batches[at : at + _BATCHES_IN_A_CHART] for at in range(0, len(batches), _BATCHES_IN_A_CHART)]
    charts = [_chart(paper, group, end=end) for group in groups]
    story = heading(paper.say("glue batches"), look, needs_pt=_HEAD_PT + charts[0].height)
    story += [paragraph(_lead(paper, batches), look), gap()]
    for chart in charts:
        story += [chart, gap(0.5)]
    return [*story, _table(paper, batches)]


def _lead(paper: OwnerPaper, batches: Sequence[Batch]) -> str:
    number = paper.language
    waiting = sum((batch.wait_min for batch in batches), start=Fraction(0))
    nearest = max((batch.open_used_share for batch in batches if batch.open_used_share is not None), default=None)
    words = [paper.say.counted("glue batches lead", len(batches), wait=number.number(waiting, most_decimals=0))]
    if nearest is not None:
        words.append(paper.say("open time used at most", share=paper.percent(nearest, decimals=0)))
    return " ".join(words)


def _chart(paper: OwnerPaper, batches: Sequence[Batch], *, end: Fraction) -> Flowable:
    ticks = [(tick, f"{paper.language.number(tick)} min") for tick in round_ticks(end, about=6) if tick <= end]
    return time_bars([_row(paper, batch) for batch in batches], look=paper.look, end=end, ticks=ticks)


def _row(paper: OwnerPaper, batch: Batch) -> SegmentRow:
    spans: tuple[tuple[str, Fraction, Fraction, Fill], ...] = (
        (paper.say("coating"), Fraction(0), batch.coating_min, ACCENT),
        (paper.say("drying"), batch.coating_min, batch.start_min, 1.0),
        (paper.say("applying"), batch.start_min, batch.elapsed_min, 0.6),
    )
    segments = tuple(
        Segment(words, start, end, fill, text=paper.language.number(end - start, most_decimals=0))
        for words, start, end, fill in spans
    )
    return SegmentRow(f"{paper.say.counted('edges', batch.edges)}, {batch.edging}", segments, "")


def _table(paper: OwnerPaper, batches: Sequence[Batch]) -> Flowable:
    number, say = paper.language, paper.say
    rows = [
        [
            batch.edging,
            number.number(batch.edges),
            paper.long(batch.metres),
            number.fixed(batch.coating_min, decimals=1),
            number.fixed(batch.wait_min, decimals=1),
            number.fixed(batch.elapsed_min, decimals=1),
            "–" if batch.open_used_share is None else paper.percent(batch.open_used_share, decimals=0),
        ]
        for batch in batches
    ]
    columns = [
        Column(say("batch")),
        Column(say("edges head"), width_mm=16, align="right"),
        Column(capital(paper.long_unit), width_mm=18, align="right"),
        Column(say("coating min"), width_mm=22, align="right"),
        Column(say("waiting min"), width_mm=22, align="right"),
        Column(say("in all min"), width_mm=20, align="right"),
        Column(say("open time used"), width_mm=26, align="right"),
    ]
    return table(columns, rows, look=paper.look)
