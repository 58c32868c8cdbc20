"""How far the banding answer holds: an estimate in; size of the job, edgings alone, inputs lower and higher, flips, out."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from estimator.model.decision import Decision, Flip, SizeStep, Swing
from estimator.model.exact import Fraction
from estimator.papers.owner.paper import OwnerPaper, capital
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
        *heading(paper.say("smaller or larger"), look, needs_pt=_PLOT_NEEDS_PT),
        _size_plot(paper, decision),
        gap(0.5),
        *_size_words(paper, decision),
        *heading(paper.say("one edging alone"), look),
        *_break_even(paper, decision),
        *_tornado(paper, decision),
        *_flips(paper, decision.flips),
    ]


# --- size of the job --------------------------------------------------------------------------------------------------


def _size_plot(paper: OwnerPaper, decision: Decision) -> Flowable:
    points = decision.curve
    far = points[-1].size_share
    curves = [Curve(paper.say("the best way"), tuple((one.size_share, one.best) for one in points), thick=True)]
    if all(one.by_hand is not None for one in points):
        curves.append(Curve(paper.say("curve by hand"), tuple((one.size_share, one.by_hand or Fraction(0)) for one in points)))
    if all(one.sent_out is not None for one in points):
        away = tuple((one.size_share, one.sent_out or Fraction(0)) for one in points)
        curves.append(Curve(paper.say("curve sent out"), away, dashed=True))
    changes = [step for step in decision.by_metres[1:] if points[0].size_share <= step.size_share <= far][:_MOST_MARKS]
    marks = [Mark(Fraction(1), paper.say("this job")), *(Mark(step.size_share, _step_words(paper, step)) for step in changes)]
    high = max(y for curve in curves for _, y in curve.points)
    return lines(
        curves,
        look=paper.look,
        marks=marks,
        x_ticks=[(tick, paper.percent(tick, decimals=0)) for tick in (Fraction(half, 2) for half in range(int(2 * far) + 1))],
        y_ticks=[(tick, paper.language.number(tick, most_decimals=2)) for tick in round_ticks(high)],
        x_words=paper.say("size axis", unit=paper.long_unit, all=paper.percent(Fraction(1)), currency=paper.terms.currency),
    )


def _step_words(paper: OwnerPaper, step: SizeStep) -> str:
    return paper.say("from this size", share=paper.percent(step.size_share, decimals=0), way=paper.way_words(step.sent))


def _size_words(paper: OwnerPaper, decision: Decision) -> list[Flowable]:
    """The best way by size, in the two senses of size."""
    senses = [
        (paper.say("with the same parts"), decision.by_metres),
        (paper.say("with the whole job"), decision.by_pieces),
    ]
    rows = []
    for words, steps in senses:
        ways = [paper.way_words(steps[0].sent), *(_step_words(paper, step) for step in steps[1:])]
        said = "; ".join(ways) if len(steps) > 1 else paper.say("at every size", way=ways[0])
        rows.append([words, capital(said)])
    columns = [Column(paper.say("size of the job"), width_mm=52), Column(capital(paper.say("the best way")))]
    return [table(columns, rows, look=paper.look)]


def _break_even(paper: OwnerPaper, decision: Decision) -> list[Flowable]:
    metres = {use.edging: use.net_m for use in paper.estimate.edgings}
    rows = [
        [
            name,
            paper.long(metres[name]),
            paper.say("no level") if level is None else paper.long(level),
        ]
        for name, level in decision.break_even_m
    ]
    columns = [
        Column(paper.say("were it the only one"), width_mm=62),
        Column(capital(paper.say("in this job", unit=paper.long_unit)), width_mm=32, align="right"),
        Column(capital(paper.say("both cost the same", unit=paper.long_unit)), align="right"),
    ]
    story: list[Flowable] = [table(columns, rows, look=paper.look)]
    if any(level is None for _, level in decision.break_even_m):
        story += [gap(0.5), paragraph(paper.say("why no level"), paper.look, name="small")]
    return story


# --- every input a fifth less and more --------------------------------------------------------------------------------


def _tornado(paper: OwnerPaper, decision: Decision) -> list[Flowable]:
    best = paper.estimate.banding.best
    swings = [swing for swing in decision.tornado if swing.width][:_MOST_SWINGS]
    quiet = [paper.engines(swing.what) for swing in decision.tornado if swing not in swings]
    if best.relevant_cost is None or not swings:
        return []
    note = paper.say("a fifth less note", cost=paper.money(best.relevant_cost))
    rest = f" {paper.say('without effect', figures=', '.join(quiet))}" if quiet else ""
    return [
        *heading(paper.say("a fifth less"), paper.look, needs_pt=180),
        tornado([_swung(paper, swing, best.sent) for swing in swings], now=best.relevant_cost, look=paper.look),
        gap(0.5),
        paragraph(note + rest, paper.look, name="small"),
    ]


def _swung(paper: OwnerPaper, swing: Swing, best: tuple[str, ...]) -> Swung:
    return Swung(
        capital(paper.engines(swing.what)),
        swing.low_cost,
        swing.high_cost,
        paper.amount(swing.low_cost),
        paper.amount(swing.high_cost),
        swing.low_sent != best,
        swing.high_sent != best,
    )


def _flips(paper: OwnerPaper, flips: Sequence[Flip]) -> list[Flowable]:
    moving = [flip for flip in flips if flip.down_to_share is not None or flip.up_to_share is not None]
    still = [paper.engines(flip.what) for flip in flips if flip not in moving]
    rows = [
        [capital(paper.engines(flip.what)), *_end(paper, flip.down_to_share, flip.down_sent), *_end(paper, flip.up_to_share, flip.up_sent)]
        for flip in moving
    ]
    say = paper.say
    columns = [
        Column(say("of what it is now"), width_mm=40),
        Column(say("holds down to"), width_mm=20, align="right"),
        Column(say("then")),
        Column(say("holds up to"), width_mm=20, align="right"),
        Column(say("then")),
    ]
    story = heading(say("how far each may move"), paper.look)
    story += [table(columns, rows, look=paper.look), gap(0.5)] if rows else []
    if still:
        story.append(paragraph(say("changing nothing", figures=", ".join(still)), paper.look, name="small"))
    return story


def _end(paper: OwnerPaper, share: Fraction | None, sent: tuple[str, ...]) -> tuple[str, str]:
    best = paper.estimate.banding.best.sent
    return ("–", "") if share is None else (paper.percent(share, decimals=0), paper.change_to(sent, now=best))
