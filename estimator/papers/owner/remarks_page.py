"""What the answer rests on: an estimate in; the doubt about hours and cost, untimed and old numbers, and every remark, out."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from typing import TYPE_CHECKING

from estimator.model.exact import Fraction
from estimator.model.problems import Place
from estimator.model.units import MINUTES_PER_HOUR
from estimator.papers.owner.paper import NONE, OwnerPaper, capital
from estimator.papers.page.pieces import gap, heading, paragraph
from estimator.papers.page.tables import Column, table

if TYPE_CHECKING:
    from reportlab.platypus.flowables import Flowable

_MOST_DOUBTS = 6


def risk_story(paper: OwnerPaper) -> list[Flowable]:
    """How the hours and the cost may come out."""
    risk, look, money = paper.estimate.risk, paper.look, paper.money
    story = heading("How sure is it", look)
    if not risk.cost_sd_together:
        return [*story, paragraph("No step and no price has a low and a high figure, so nothing can be said about doubt.", look)]
    rows = [
        ["Expected", paper.hours(risk.mean_min), paper.hours(risk.mean_min), money(risk.cost), money(risk.cost)],
        ["Enough in 8 jobs of 10", paper.hours(risk.p80_min), paper.hours(risk.p80_together_min), money(risk.cost_p80),
         money(risk.cost_p80_together)],
        ["Enough in 9 jobs of 10", paper.hours(risk.p90_min), paper.hours(risk.p90_together_min), money(risk.cost_p90),
         money(risk.cost_p90_together)],
        ["Chance that the cost eats the whole margin", "", "", paper.percent(risk.margin_eaten_share),
         paper.percent(risk.margin_eaten_together_share)],
    ]  # fmt: skip
    columns = [
        Column("", share=2),
        Column("Hours, each step by itself", align="right"),
        Column("Hours, all go badly together", align="right"),
        Column("Cost, each by itself", align="right"),
        Column("Cost, all together", align="right"),
    ]
    set_now = paper.percent(paper.terms.contingency_share)
    advice = (
        f"To be safe in 8 jobs of 10 when all goes badly together, {paper.percent(risk.contingency_share)} of the cost would "
        f"have to be set aside; {set_now} is set in Job > Contingency. This is advice: nothing is changed by it."
    )
    return [*story, table(columns, rows, look=look), gap(0.5), paragraph(advice, look), *_doubts(paper)]


def _doubts(paper: OwnerPaper) -> list[Flowable]:
    doubts = paper.estimate.risk.doubts[:_MOST_DOUBTS]
    rows = [
        [one.what, paper.money(one.mean), paper.money(one.sd), paper.percent(one.variance_share, decimals=0)] for one in doubts
    ]
    columns = [
        Column("What carries the doubt"),
        Column("Expected cost", width_mm=30, align="right"),
        Column("Give or take", width_mm=30, align="right"),
        Column("Share of the doubt", width_mm=34, align="right"),
    ]
    return [gap(0.5), table(columns, rows, look=paper.look)] if rows else []


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
    rows = [
        (f"Work that nobody in this shop has timed ({share} of the minutes)", untimed_money(paper)),
        (f"Prices older than {days} days on the quote date", old_money(paper)),
        ("Prices without a date", undated_money(paper)),
    ]
    columns = [Column(""), Column("Cost", width_mm=34, align="right"), Column("Of the cost", width_mm=24, align="right")]
    columns.append(Column("Of the price", width_mm=24, align="right"))
    shown = [
        [words, paper.money(money), *(paper.percent(money / whole) if whole else "–" for whole in (cost, net))]
        for words, money in rows
    ]
    return [*heading("What rests on untimed or old numbers", look), table(columns, shown, look=look)]


def remarks_story(paper: OwnerPaper) -> list[Flowable]:
    """Every remark, with the cell that it concerns."""
    remarks, look = paper.estimate.remarks, paper.look
    story = heading("Worth a look", look)
    if not remarks:
        return [*story, paragraph("Nothing.", look)]
    rows = [[f"{capital(one.words).strip().rstrip('.')}.", _where(one.place)] for one in remarks]
    return [*story, table([Column("Remark"), Column("Where", width_mm=36)], rows, look=look)]


def _where(place: Place) -> str:
    """Sheet and cell, or the workbook where there is neither."""
    return " > ".join(part for part in (place.sheet, place.cell) if part) or place.workbook
