"""Where the money goes: an estimate in; bars of the cost and the profit, prices per cabinet and per running metre out."""

from __future__ import annotations

from typing import TYPE_CHECKING

from estimator.model.exact import Fraction
from estimator.model.records import Cabinet
from estimator.model.units import MM_PER_FOOT, MM_PER_M
from estimator.papers.owner.charts import ACCENT, BarRow, bars
from estimator.papers.owner.paper import NONE, OwnerPaper, capital, kept_of
from estimator.papers.owner.yields import yields_story
from estimator.papers.page.pieces import gap, heading, paragraph
from estimator.papers.page.tables import Column, table

if TYPE_CHECKING:
    from reportlab.platypus.flowables import Flowable

_RARE = ("trips", "extras bought in", "own-priced extras")
"""Parts of the price that stand among the bars only where there are some."""


def money_story(paper: OwnerPaper) -> list[Flowable]:
    look, say, kept = paper.look, paper.say, kept_of(paper.estimate)
    share = paper.percent_in_column(kept.of_price) if kept.of_price is not None else ""
    lead = say(
        "money kept" if kept.profit >= 0 else "money lost",
        net=paper.money(kept.net),
        cost=paper.money(kept.cost),
        kept=paper.money(abs(kept.profit)),
    )
    return [
        *heading(say("where the money goes"), look),
        paragraph(lead, look, name="strong"),
        gap(),
        bars([_bar(paper, name, value, kept.net) for name, value in money_rows(paper)], look=look),
        gap(0.5),
        paragraph(_rest_of_the_price(paper), look, name="small"),
        *heading(say("profit in two percents"), look),
        paragraph(say("margin and markup"), look),
        gap(0.5),
        _profit_table(paper, of_price=share),
        *_unit_prices(paper),
        *yields_story(paper),
    ]


def money_rows(paper: OwnerPaper) -> list[tuple[str, Fraction]]:
    """Every part of the price without tax; they add up to it."""
    cost, kept = paper.estimate.cost, kept_of(paper.estimate)
    rows = [
        ("board", cost.boards),
        ("edging", cost.edging),
        ("adhesive", cost.adhesive),
        ("fittings and sundries", cost.fittings),
        ("contract bander", cost.contractor),
        ("trips", cost.trips),
        ("extras bought in", cost.extras),
        ("labour", cost.labour),
        ("overhead", cost.overhead),
        ("contingency", cost.contingency),
        ("own-priced extras", kept.own_extras),
    ]
    shown = [(name, value) for name, value in rows if value or name not in _RARE]
    return [*shown, ("profit kept" if kept.profit >= 0 else "loss", kept.profit)]


def _bar(paper: OwnerPaper, name: str, value: Fraction, net: Fraction) -> BarRow:
    share = paper.language.percent_fixed(value / net, decimals=1) if net else ""
    return BarRow(capital(paper.say(name)), value, paper.money(value), share, fill=ACCENT if name == "profit kept" else 0.8)


def _rest_of_the_price(paper: OwnerPaper) -> str:
    price, say = paper.estimate.price, paper.say
    words = [say("percents are of")]
    if price.discount:
        words.append(say("discount is off", amount=paper.money(price.discount)))
    if price.rounding:
        words.append(say("rounding is outside", amount=paper.money(price.rounding)))
    words.append(say("figures rounded"))
    return " ".join(words)


def _profit_table(paper: OwnerPaper, *, of_price: str) -> Flowable:
    kept, terms, say = kept_of(paper.estimate), paper.terms, paper.say
    asked_margin = say("share asked", share=paper.percent(terms.margin_share)) if terms.margin_share is not None else ""
    asked_markup = say("share asked", share=paper.percent(terms.markup_share)) if terms.markup_share is not None else ""
    rows = [
        [say("profit in money"), paper.money(kept.profit), ""],
        [say("of the price"), of_price or "–", asked_margin],
        [say("of the cost"), paper.percent_in_column(kept.of_cost) if kept.of_cost is not None else "–", asked_markup],
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
    say = paper.say
    long = f"{paper.language.number(metres, most_decimals=2)} {paper.one_long if metres == 1 else paper.long_unit}"
    rows = [
        [say("a cabinet"), say.counted("cabinets", count), paper.money(net / count)],
        [say(f"a running {paper.terms.units}"), long, paper.money(net / metres)],
    ]
    columns = [
        Column("", width_mm=52),
        Column(say("in the job"), width_mm=36, align="right"),
        Column(capital(say("price")), width_mm=36, align="right"),
    ]
    return [
        *heading(say("price for one"), paper.look),
        table(columns, rows, look=paper.look),
        gap(0.5),
        paragraph(say("price for one note", net=paper.money(net)), paper.look, name="small"),
    ]
