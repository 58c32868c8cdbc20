"""How far the banding answer holds: an estimate in; size of the job, edgings alone, inputs lower and higher, flips, out."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from estimator.model.decision import Decision, Flip, SizeStep, Swing
from estimator.model.exact import Fraction
from estimator.papers.owner.paper import OwnerPaper, capital, change_to, way_words
from estimator.papers.owner.plots import Curve, Mark, Swung, lines, round_ticks, tornado
from estimator.papers.page.pieces import gap, heading, paragraph
from estimator.papers.page.tables import Column, table

if TYPE_CHECKING:
    from reportlab.platypus.flowables import Flowable

_MOST_SWINGS = 10
_PLOT_NEEDS_PT = 280.0
_MOST_MARKS = 4


def limits_story(paper: OwnerPaper) -> list[Flowable]:
    decision, look = paper.estimate.decision, paper.look
    if decision is None:
        return []
    return [
        *heading("If the job were smaller or larger", look, needs_pt=_PLOT_NEEDS_PT),
        _size_plot(paper, decision),
        gap(0.5),
        *_size_words(paper, decision),
        *heading("One edging alone", look),
        *_break_even(paper, decision),
        *_tornado(paper, decision),
        *_flips(paper, decision.flips),
    ]


# --- size of the job --------------------------------------------------------------------------------------------------


def _size_plot(paper: OwnerPaper, decision: Decision) -> Flowable:
    points = decision.curve
    far = points[-1].size_share
    curves = [Curve("the best way", tuple((one.size_share, one.best) for one in points), thick=True)]
    if all(one.by_hand is not None for one in points):
        curves.append(Curve("all by hand", tuple((one.size_share, one.by_hand or Fraction(0)) for one in points)))
    if all(one.sent_out is not None for one in points):
        curves.append(Curve("all sent out", tuple((one.size_share, one.sent_out or Fraction(0)) for one in points), dashed=True))
    changes = [step for step in decision.by_metres[1:] if points[0].size_share <= step.size_share <= far][:_MOST_MARKS]
    marks = [Mark(Fraction(1), "this job"), *(Mark(step.size_share, _step_words(paper, step)) for step in changes)]
    high = max(y for curve in curves for _, y in curve.points)
    return lines(
        curves,
        look=paper.look,
        marks=marks,
        x_ticks=[(tick, paper.percent(tick, decimals=0)) for tick in (Fraction(half, 2) for half in range(int(2 * far) + 1))],
        y_ticks=[(tick, paper.language.number(tick, most_decimals=2)) for tick in round_ticks(high)],
        x_words=f"metres of edge against this job (100% is this job); cost of banding in {paper.terms.currency}",
    )


def _step_words(paper: OwnerPaper, step: SizeStep) -> str:
    return f"from {paper.percent(step.size_share, decimals=0)}: {way_words(step.sent, of=paper.edging_names)}"


def _size_words(paper: OwnerPaper, decision: Decision) -> list[Flowable]:
    """The best way by size, in the two senses of size."""
    said = [
        ("With the same parts, only their edges longer or shorter", decision.by_metres),
        ("With the whole job so many times over, parts and edges", decision.by_pieces),
    ]
    rows = []
    for words, steps in said:
        ways = [way_words(steps[0].sent, of=paper.edging_names), *(_step_words(paper, step) for step in steps[1:])]
        rows.append([words, capital("; ".join(ways)) + ("" if len(steps) > 1 else ", at every size")])
    columns = [Column("Size of the job", width_mm=52), Column("Best way")]
    return [table(columns, rows, look=paper.look)]


def _break_even(paper: OwnerPaper, decision: Decision) -> list[Flowable]:
    metres = {use.edging: use.net_m for use in paper.estimate.edgings}
    rows = [
        [
            name,
            paper.long(metres[name]),
            "none" if level is None else paper.long(level),
        ]
        for name, level in decision.break_even_m
    ]
    columns = [
        Column("Edging, were it the only one", width_mm=62),
        Column(f"{capital(paper.long_unit)} in this job", width_mm=32, align="right"),
        Column(f"{capital(paper.long_unit)} at which both routes cost the same", align="right"),
    ]
    story: list[Flowable] = [table(columns, rows, look=paper.look)]
    if any(level is None for _, level in decision.break_even_m):
        words = "None: one route is the cheaper at every size, or only one is possible."
        story += [gap(0.5), paragraph(words, paper.look, name="small")]
    return story


# --- every input a fifth less and more --------------------------------------------------------------------------------


def _tornado(paper: OwnerPaper, decision: Decision) -> list[Flowable]:
    best = paper.estimate.banding.best
    swings = [swing for swing in decision.tornado if swing.width][:_MOST_SWINGS]
    quiet = [swing.what for swing in decision.tornado if swing not in swings]
    if best.relevant_cost is None or not swings:
        return []
    note = (
        f"Each figure a fifth lower (white) and a fifth higher (filled), the best way chosen anew; the line is the cost now, "
        f"{paper.money(best.relevant_cost)}. A dot marks an end at which another way is the best."
    )
    rest = f" Without effect, or less than the least one shown: {', '.join(quiet)}." if quiet else ""
    return [
        *heading("A fifth less, a fifth more", paper.look, needs_pt=180),
        tornado([_swung(paper, swing, best.sent) for swing in swings], now=best.relevant_cost, look=paper.look),
        gap(0.5),
        paragraph(note + rest, paper.look, name="small"),
    ]


def _swung(paper: OwnerPaper, swing: Swing, best: tuple[str, ...]) -> Swung:
    return Swung(
        capital(swing.what),
        swing.low_cost,
        swing.high_cost,
        paper.amount(swing.low_cost),
        paper.amount(swing.high_cost),
        swing.low_sent != best,
        swing.high_sent != best,
    )


def _flips(paper: OwnerPaper, flips: Sequence[Flip]) -> list[Flowable]:
    moving = [flip for flip in flips if flip.down_to_share is not None or flip.up_to_share is not None]
    still = [flip.what for flip in flips if flip not in moving]
    rows = [
        [capital(flip.what), *_end(paper, flip.down_to_share, flip.down_sent), *_end(paper, flip.up_to_share, flip.up_sent)]
        for flip in moving
    ]
    columns = [
        Column("Figure, of what it is now", width_mm=40),
        Column("Holds down to", width_mm=23, align="right"),
        Column("then"),
        Column("Holds up to", width_mm=23, align="right"),
        Column("then"),
    ]
    story = heading("How far each figure may move", paper.look)
    story += [table(columns, rows, look=paper.look), gap(0.5)] if rows else []
    if still:
        words = f"Changing nothing from a tenth to ten times what they are: {', '.join(still)}."
        story.append(paragraph(words, paper.look, name="small"))
    return story


def _end(paper: OwnerPaper, share: Fraction | None, sent: tuple[str, ...]) -> tuple[str, str]:
    best = paper.estimate.banding.best.sent
    return ("–", "") if share is None else (paper.percent(share, decimals=0), change_to(sent, now=best, of=paper.edging_names))
