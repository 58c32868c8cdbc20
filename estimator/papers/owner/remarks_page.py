"""What the answer rests on: an estimate in; the doubt about hours and cost, untimed and old numbers, and many remarks, out."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from typing import TYPE_CHECKING

from estimator.model.exact import Fraction
from estimator.model.gathering import gathered
from estimator.model.problems import Place
from estimator.model.units import MINUTES_PER_HOUR
from estimator.papers.owner.answer_page import first_remarks
from estimator.papers.owner.paper import NONE, OwnerPaper, capital
from estimator.papers.page.pieces import SHORT_SHARE, gap, heading, kept_whole, paragraph
from estimator.papers.page.tables import Column, table

if TYPE_CHECKING:
    from reportlab.platypus.flowables import Flowable

_MOST_DOUBTS = 6


def risk_story(paper: OwnerPaper) -> list[Flowable]:
    """How the hours and the cost may come out."""
    risk, look, say, money = paper.estimate.risk, paper.look, paper.say, paper.money
    story = heading(say("how sure"), look)
    if not risk.cost_sd_together:
        return [*story, paragraph(say("no doubt known"), look)]
    rows = [
        [say("expected"), paper.hours(risk.mean_min), paper.hours(risk.mean_min), money(risk.cost), money(risk.cost)],
        [say("enough in 8"), paper.hours(risk.p80_min), paper.hours(risk.p80_together_min), money(risk.cost_p80),
         money(risk.cost_p80_together)],
        [say("enough in 9"), paper.hours(risk.p90_min), paper.hours(risk.p90_together_min), money(risk.cost_p90),
         money(risk.cost_p90_together)],
        [say("chance of no margin"), "", "", paper.percent_in_column(risk.margin_eaten_share),
         paper.percent_in_column(risk.margin_eaten_together_share)],
    ]  # fmt: skip
    columns = [
        Column("", share=2),
        Column(say("hours each by itself"), align="right"),
        Column(say("hours together"), align="right"),
        Column(say("cost each by itself"), align="right"),
        Column(say("cost together"), align="right"),
    ]
    set_now = paper.percent(paper.terms.contingency_share)
    advice = say("contingency advice", share=paper.percent(risk.contingency_share), now=set_now)
    story = [*story, table(columns, rows, look=look), gap(0.5), paragraph(advice, look)]
    return [*kept_whole(story, look, most_share=SHORT_SHARE), *_doubts(paper)]


def _doubts(paper: OwnerPaper) -> list[Flowable]:
    doubts = paper.estimate.risk.doubts[:_MOST_DOUBTS]
    rows = [
        [paper.doubted(one.what), paper.money(one.mean), paper.money(one.sd), paper.percent(one.variance_share, decimals=0)]
        for one in doubts
    ]
    say = paper.say
    columns = [
        Column(say("carries the doubt")),
        Column(say("expected cost"), width_mm=30, align="right"),
        Column(say("give or take"), width_mm=30, align="right"),
        Column(say("share of the doubt"), width_mm=34, align="right"),
    ]
    return kept_whole([gap(0.5), table(columns, rows, look=paper.look)], paper.look) if rows else []


# --- untimed and old --------------------------------------------------------------------------------------------------


def untimed_money(paper: OwnerPaper) -> Fraction:
    """Labour and overhead of the steps that nobody in this shop has timed."""
    rates = paper.estimate.rates
    minutes = sum((one.minutes for one in paper.estimate.minutes.steps if not one.step.timed), start=NONE)
    return minutes / MINUTES_PER_HOUR * (rates.direct + rates.overhead)


def priced_costs(paper: OwnerPaper) -> Iterator[tuple[str, Fraction, date | None]]:
    """What is bought for this job: its name, what it costs, and the day of its price; the oldest where there are several."""
    estimate = paper.estimate
    for use in estimate.boards:
        days = [one.board.priced_on for one in use.by_size if one.sheets] or [one.board.priced_on for one in use.by_size]
        yield use.board, use.cost, None if None in days else min((day for day in days if day), default=None)
    for edging in estimate.banding.bought:
        for width in edging.widths:
            yield edging.edging, width.cost, width.edging.priced_on
    for glue in estimate.banding.adhesives:
        yield glue.adhesive.adhesive, glue.cost, glue.adhesive.priced_on
    for fitting in estimate.fittings:
        yield fitting.fitting.item, fitting.cost, fitting.fitting.priced_on


def old_money(paper: OwnerPaper) -> Fraction:
    """Cost of what was priced longer ago than Shop > Prices stale after."""
    most, today = paper.estimate.job.shop.prices_stale_after_days, paper.terms.quote_date
    return sum((cost for _, cost, day in priced_costs(paper) if day and (today - day).days > most), start=NONE)


def undated_money(paper: OwnerPaper) -> Fraction:
    return sum((cost for _, cost, day in priced_costs(paper) if day is None), start=NONE)


def age_story(paper: OwnerPaper) -> list[Flowable]:
    """How much of the price rests on numbers that nobody has checked of late."""
    cost, net, look = paper.estimate.cost.total, paper.estimate.price.net, paper.look
    days = paper.estimate.job.shop.prices_stale_after_days
    share = paper.percent(paper.estimate.risk.untimed_minutes_share)
    say = paper.say
    rows = [
        (say("untimed work", share=share), untimed_money(paper)),
        (say.counted("old prices", days), old_money(paper)),
        (say("prices without a date"), undated_money(paper)),
    ]
    columns = [
        Column(""),
        Column(capital(say("cost")), width_mm=34, align="right"),
        Column(say("share of cost"), width_mm=24, align="right"),
        Column(say("share of price"), width_mm=24, align="right"),
    ]
    shown = [
        [words, paper.money(money), *(paper.percent_in_column(money / whole) if whole else "–" for whole in (cost, net))]
        for words, money in rows
    ]
    return kept_whole([*heading(say("untimed or old"), look), table(columns, shown, look=look)], look, most_share=SHORT_SHARE)


def remarks_story(paper: OwnerPaper) -> list[Flowable]:
    """Every remark, with the cell that it concerns; nothing where the first page holds them all."""
    remarks, look, say = gathered(paper.estimate.remarks), paper.look, paper.say
    if len(first_remarks(remarks)) == len(remarks):
        return []
    story = heading(say("worth a look"), look)
    note = say("language of remarks")
    story += [paragraph(note, look, name="small"), gap(0.5)] if note else []
    rows = [[f"{capital(one.words).strip().rstrip('.')}.", _where(one.place)] for one in remarks]
    return [*story, table([Column(say("remark")), Column(say("where"), width_mm=36)], rows, look=look)]


def _where(place: Place) -> str:
    """Sheet and cell, or the workbook where there is neither."""
    return " > ".join(part for part in (place.sheet, place.cell) if part) or place.workbook
