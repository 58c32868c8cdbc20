"""The first page: an estimate goes in; price, cost, profit kept, hours, sheets, how to band and three remarks come out."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from estimator.model.gathering import gathered
from estimator.model.problems import Remark
from estimator.papers.owner.banding_page import doing_words, saving_words
from estimator.papers.owner.paper import NONE, OwnerPaper, capital, kept_of
from estimator.papers.page.document import new_page
from estimator.papers.page.look import GAP_PT, LINE_PT, accent_colour
from estimator.papers.page.pieces import bullet_list, gap, heading, paragraph, rule, title

if TYPE_CHECKING:
    from reportlab.platypus.flowables import Flowable

_REMARKS = 3
_TAX_LEFT_BLANK = "Tax"
"""What the form puts where Tax name is blank."""
_IN_A_ROW = 3
Figure = tuple[str, str, str]
"""What it is, the figure, a few words below it."""


def answer_story(paper: OwnerPaper) -> list[Flowable]:
    """The answer alone, on a page of its own."""
    estimate, look, terms, say = paper.estimate, paper.look, paper.terms, paper.say
    told = gathered(estimate.remarks)
    remarks = first_remarks(told)
    more = len(told) - len(remarks)
    number = " ".join(part for part in (terms.quote_number, terms.revision and say("revision", revision=terms.revision)) if part)
    about = [terms.client, number, paper.language.date(terms.quote_date)]
    return [
        title(say("the answer to", job=terms.job_name) if terms.job_name else say("the answer"), look),
        paragraph(", ".join(part for part in about if part), look, name="small"),
        gap(0.5),
        rule(look),
        gap(0.5),
        _figures(paper, _money(paper)),
        gap(1.5),
        _figures(paper, _work(paper)),
        *heading(say("how to band"), look),
        paragraph(doing_words(paper), look, name="strong"),
        paragraph(saving_words(paper), look),
        *heading(say("worth a look" if remarks else "nothing to remark"), look),
        *bullet_list([f"{capital(one.words)} ({one.place})" for one in remarks], look),
        *([gap(0.5), paragraph(say("language of remarks"), look, name="small")] if remarks and say("language of remarks") else []),
        *([gap(0.5), paragraph(say("more on the last page", n=more), look, name="small")] if more > 0 else []),
        new_page(),
    ]


def first_remarks(remarks: Sequence[Remark], *, most: int = _REMARKS) -> tuple[Remark, ...]:
    """The few remarks for the first page: one from each sheet before a second one from any, in the order they stand."""
    sheets: set[str] = set()
    first: list[int] = []
    for number, remark in enumerate(remarks):
        if remark.place.sheet not in sheets:
            sheets.add(remark.place.sheet)
            first.append(number)
    rest = [number for number in range(len(remarks)) if number not in first]
    return tuple(remarks[number] for number in sorted((first + rest)[:most]))


def _money(paper: OwnerPaper) -> list[Figure]:
    kept, price, say = kept_of(paper.estimate), paper.estimate.price, paper.say
    tax = say("tax") if paper.terms.tax_name in ("", _TAX_LEFT_BLANK) else paper.terms.tax_name
    words = say("profit kept" if kept.profit >= 0 else "loss")
    of_price = say("share of the price", share=paper.percent(kept.of_price), tax=tax) if kept.of_price is not None else ""
    contingency = say("with contingency" if paper.estimate.cost.contingency else "no contingency")
    return [
        (say("price"), paper.money(price.gross), say("amount without tax", amount=paper.money(price.net), tax=tax)),
        (say("cost"), paper.money(kept.cost), contingency),
        (words, paper.money(kept.profit), of_price),
    ]


def _work(paper: OwnerPaper) -> list[Figure]:
    estimate = paper.estimate
    sheets = sum(use.sheets for use in estimate.boards)
    metres = sum((use.net_m for use in estimate.edgings), start=NONE)
    edges = sum(use.edges for use in estimate.edgings)
    say = paper.say
    return [
        (say("hours"), paper.hours(estimate.minutes.total), say("of everybody")),
        (say("sheets"), paper.language.number(sheets), say.counted("of boards", len(estimate.boards))),
        (say("edges to band"), paper.language.number(edges), f"{paper.long(metres)} {paper.long_unit}"),
    ]


def _figures(paper: OwnerPaper, figures: Sequence[Figure]) -> Flowable:
    """Three figures in a row, large, each with its name above and a few words below."""
    from reportlab.platypus import Table

    look = paper.look
    rows = [
        [paragraph(capital(name), look, name="small") for name, _, _ in figures],
        [paragraph(figure, look, name="title") for _, figure, _ in figures],
        [paragraph(words, look, name="small") for _, _, words in figures],
    ]
    commands = [
        ("LEFTPADDING", (0, 0), (-1, -1), GAP_PT),
        ("RIGHTPADDING", (0, 0), (-1, -1), 2),
        ("TOPPADDING", (0, 0), (-1, -1), 1),
        ("BOTTOMPADDING", (0, 0), (-1, -1), 1),
        ("LINEBEFORE", (0, 0), (-1, -1), LINE_PT, accent_colour(look)),
    ]
    return Table(rows, colWidths=[look.width_pt / _IN_A_ROW] * _IN_A_ROW, style=commands, hAlign="LEFT")
