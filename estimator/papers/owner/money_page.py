"""Where the money goes: an estimate in; bars of the cost and the profit, prices per cabinet and per running metre out."""

from __future__ import annotations

from typing import TYPE_CHECKING

from estimator.model.exact import Fraction
from estimator.model.records import Cabinet
from estimator.model.units import MM_PER_FOOT, MM_PER_M
from estimator.papers.owner.charts import ACCENT, BarRow, bars
from estimator.papers.owner.paper import NONE, OwnerPaper, kept_of
from estimator.papers.owner.yields import yields_story
from estimator.papers.page.pieces import gap, heading, paragraph
from estimator.papers.page.tables import Column, table

if TYPE_CHECKING:
    from reportlab.platypus.flowables import Flowable


def money_story(paper: OwnerPaper) -> list[Flowable]:
    look, kept = paper.look, kept_of(paper.estimate)
    share = [paper.percent(kept.of_price)] if kept.of_price is not None else []
    lead = (
        f"Of {paper.money(kept.net)} without tax, {paper.money(kept.cost)} go out and {paper.money(kept.profit)} are kept."
        if kept.profit >= 0
        else f"The job brings {paper.money(kept.net)} without tax and costs {paper.money(kept.cost)}: it loses money."
    )
    return [
        *heading("Where the money goes", look),
        paragraph(lead, look, name="strong"),
        gap(),
        bars([_bar(paper, words, value, kept.net) for words, value in money_rows(paper)], look=look),
        gap(0.5),
        paragraph(_rest_of_the_price(paper), look, name="small"),
        *heading("Profit, in its two percents", look),
        paragraph(_profit_words(paper), look),
        gap(0.5),
        _profit_table(paper, of_price="".join(share)),
        *_unit_prices(paper),
        *yields_story(paper),
    ]


def money_rows(paper: OwnerPaper) -> list[tuple[str, Fraction]]:
    """Every part of the price without tax; they add up to it."""
    cost, kept = paper.estimate.cost, kept_of(paper.estimate)
    rows = [
        ("Board", cost.boards),
        ("Edging", cost.edging),
        ("Adhesive", cost.adhesive),
        ("Fittings and sundries", cost.fittings),
        ("Contract bander", cost.contractor),
        ("Trips", cost.trips),
        ("Extras bought in", cost.extras),
        ("Labour", cost.labour),
        ("Overhead", cost.overhead),
        ("Contingency", cost.contingency),
        ("Own-priced extras, at cost", kept.own_extras),
    ]
    often = {"Board", "Edging", "Adhesive", "Fittings and sundries", "Contract bander", "Labour", "Overhead", "Contingency"}
    shown = [(words, value) for words, value in rows if value or words in often]
    return [*shown, ("Profit kept" if kept.profit >= 0 else "Loss", kept.profit)]


def _bar(paper: OwnerPaper, words: str, value: Fraction, net: Fraction) -> BarRow:
    share = f"{paper.language.fixed(100 * value / net, decimals=1)}%" if net else ""
    return BarRow(words, value, paper.money(value), share, fill=ACCENT if words == "Profit kept" else 0.8)


def _rest_of_the_price(paper: OwnerPaper) -> str:
    price = paper.estimate.price
    words = ["Percents are of the price without tax, after the discount and with the delivery charge."]
    if price.discount:
        words.append(f"The discount of {paper.money(price.discount)} is already off.")
    if price.rounding:
        words.append(f"The total is brought to a round figure by {paper.money(price.rounding)}, which stands outside.")
    return " ".join(words)


def _profit_words(paper: OwnerPaper) -> str:
    return (
        "Profit as a percent of the price is the margin: what is left of every hundred that the client pays. Profit as a percent "
        "of the cost is the markup: what was added to every hundred spent. The markup is always the larger figure for the same "
        "money, so adding 20% to the cost leaves a margin of only 16.7%."
    )


def _profit_table(paper: OwnerPaper, *, of_price: str) -> Flowable:
    kept, terms = kept_of(paper.estimate), paper.terms
    asked_margin = f"{paper.percent(terms.margin_share)} asked" if terms.margin_share is not None else ""
    asked_markup = f"{paper.percent(terms.markup_share)} asked" if terms.markup_share is not None else ""
    rows = [
        ["Profit in money", paper.money(kept.profit), ""],
        ["Of the price (margin)", of_price or "–", asked_margin],
        ["Of the cost (markup)", paper.percent(kept.of_cost) if kept.of_cost is not None else "–", asked_markup],
    ]
    columns = [Column("", width_mm=52), Column("", width_mm=36, align="right"), Column("")]
    return table(columns, rows, look=paper.look, heading=False)


def _unit_prices(paper: OwnerPaper) -> list[Flowable]:
    """What a cabinet and a running metre of cabinets are sold at: a check of the feeling, never a way to price."""
    lines = [(line, line.owner) for line in paper.estimate.price.lines]
    cabinets = [(line, owner) for line, owner in lines if isinstance(owner, Cabinet)]
    count = sum(owner.qty for _, owner in cabinets)
    long_mm = sum((owner.qty * owner.width_mm for _, owner in cabinets), start=NONE)
    if not count or not long_mm:
        return []
    net = sum((line.net for line, _ in cabinets), start=NONE)
    metres = long_mm / (MM_PER_M if paper.terms.units == "mm" else MM_PER_FOOT)
    unit = "metre" if paper.terms.units == "mm" else "foot"
    rows = [
        ["A cabinet", f"{paper.language.number(count)} cabinets" if count != 1 else "1 cabinet", paper.money(net / count)],
        [f"A running {unit}", f"{paper.language.number(metres, most_decimals=2)} {unit if metres == 1 else unit_many(unit)}",
         paper.money(net / metres)],
    ]  # fmt: skip
    columns = [
        Column("", width_mm=52),
        Column("In this job", width_mm=36, align="right"),
        Column("Price", width_mm=36, align="right"),
    ]
    return [
        *heading("Price for one", paper.look),
        table(columns, rows, look=paper.look),
        gap(0.5),
        paragraph(
            f"From the cabinets' own lines without tax, {paper.money(net)} together, before any discount and delivery; widths of "
            "all cabinets added up. For comparing jobs, not for pricing one: corners, end panels and drawers upset it.",
            paper.look,
            name="small",
        ),
    ]


def unit_many(unit: str) -> str:
    return "feet" if unit == "foot" else f"{unit}s"
