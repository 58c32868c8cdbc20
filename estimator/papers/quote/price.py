"""The tables of money: the price that ends in the total, the options, the payments."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from markupsafe import Markup

from estimator.model.exact import Fraction
from estimator.model.shop_records import Share
from estimator.model.shown import Shown
from estimator.papers.page.pieces import SHORT_SHARE, gap, heading, kept_whole, paragraph, tick_box
from estimator.papers.page.tables import Column, table
from estimator.papers.quote.letterhead import with_details
from estimator.papers.quote.paper import QuotePaper, one_line

if TYPE_CHECKING:
    from reportlab.platypus.flowables import Flowable

_AMOUNT_MM = 34


def price_story(paper: QuotePaper) -> list[Flowable]:
    """The price: by room or in one line, discount, delivery, tax by rate, rounding, total; then words on tax."""
    terms, words = paper.terms, paper.words
    rows = _scope_rows(paper)
    totals = _total_rows(paper, rows=len(rows))
    columns = [Column(words.label("price section")), *_price_columns(paper)]
    story: list[Flowable] = [table(columns, [*rows, *totals], look=paper.look, totals=len(totals))]
    under = [*_tax_inside(paper), one_line(terms.tax_words)]
    said = [line for line in under if line]
    return [*story, *([gap(0.4), paragraph("\n".join(said), paper.look, name="small")] if said else [])]


def _price_columns(paper: QuotePaper) -> list[Column]:
    """Headed by the currency alone where the one column runs on to the tax and the total with it."""
    terms, words = paper.terms, paper.words
    if terms.prices_shown != "without tax":
        return amount_columns(paper, width_mm=_AMOUNT_MM)
    return [Column(words.label("amount in", words=words.label("amount"), currency=terms.currency), _AMOUNT_MM, "right")]


def amount_columns(paper: QuotePaper, *, width_mm: float) -> list[Column]:
    """One column of amounts, or one without and one with tax, each headed by the currency."""
    terms, words = paper.terms, paper.words
    shown = ("without tax", "with tax") if terms.prices_shown == "both" else (terms.prices_shown,)
    heads = [words.label("amount in", words=words.label(one, tax=paper.tax_name), currency=terms.currency) for one in shown]
    return [Column(head, width_mm, "right") for head in heads]


def amounts(amount: Shown, paper: QuotePaper, *, sign: str = "") -> list[str]:
    """An amount in the columns that the quote shows."""
    write = paper.language.amount
    without, with_tax = (f"{sign}{write(amount.without)}", f"{sign}{write(amount.with_tax)}")
    match paper.terms.prices_shown:
        case "without tax":
            return [without]
        case "with tax":
            return [with_tax]
        case "both":
            return [without, with_tax]


def _scope_rows(paper: QuotePaper) -> list[list[str]]:
    if paper.terms.quote_shows == "total":
        return [[paper.words.label("cabinets and parts"), *amounts(paper.shown.sum_lines, paper)]]
    no_room = paper.words.label("no room" if len(paper.shown.rooms) > 1 else "cabinets and parts")
    return [[room.room or no_room, *amounts(room.amount, paper)] for room in paper.shown.rooms]


def _total_rows(paper: QuotePaper, *, rows: int) -> list[list[str]]:
    """From the sum to the total."""
    price, shown, terms, words = paper.estimate.price, paper.shown, paper.terms, paper.words
    found: list[list[str]] = []
    if rows > 1:
        found.append([words.label("sum"), *amounts(shown.sum_lines, paper)])
    if price.discount:
        share = terms.discount
        rate = f" {paper.language.percent(share.of_one)}" if isinstance(share, Share) else ""
        found.append([words.label("discount") + rate, *amounts(shown.discount, paper, sign="−")])
    if price.delivery:
        found.append([words.label("delivery"), *amounts(shown.delivery, paper)])
    if terms.prices_shown == "without tax":
        if len(found) + rows > 1:
            found.append([words.label("net", tax=paper.tax_name), paper.language.amount(price.net)])
        found += [[words_of_rate, amount] for words_of_rate, amount in _taxes(paper)]
    if price.rounding:
        blank = [""] if terms.prices_shown == "both" else []
        found.append([words.label("rounding"), *blank, paper.language.amount(price.rounding)])
    gross = paper.language.money(price.gross)
    if terms.prices_shown == "both":
        return [*found, [words.label("total"), paper.language.money(price.net), gross]]
    return [*found, [words.label("total with tax", tax=paper.tax_name), gross]]


def _taxes(paper: QuotePaper, *, label: str = "tax at") -> list[tuple[str, str]]:
    """Each rate with its tax; with its base too where there are several."""
    rates = paper.estimate.price.tax
    return [
        (
            paper.words.label(
                f"{label} of several" if len(rates) > 1 else label,
                tax=paper.tax_name,
                rate=paper.language.percent(rate.rate_share),
                base=paper.language.amount(rate.base),
            ),
            paper.language.amount(rate.tax),
        )
        for rate in rates
    ]


def _tax_inside(paper: QuotePaper) -> list[str]:
    """Where prices are shown with tax: how much of the total is tax."""
    if paper.terms.prices_shown == "without tax":
        return []
    return [f"{words}: {amount}" for words, amount in _taxes(paper, label="tax in it")]


def options_story(paper: QuotePaper) -> list[Flowable]:
    """The options with their difference and the total that they lead to; blank where there is none."""
    if not paper.estimate.options:
        return []
    look, words = paper.look, paper.words
    story = [
        *heading(words.label("options"), look, level=1),
        paragraph(words.label("options words", tax=paper.tax_name), look),
        gap(0.3),
        options_table(paper, to_tick=False),
    ]
    return kept_whole(story, look, most_share=SHORT_SHARE)


def options_table(paper: QuotePaper, *, to_tick: bool) -> Flowable:
    """One row an option; with a box to tick on the page that is signed."""
    words = paper.words
    columns = [
        Column(words.label("option")),
        Column(words.label("difference"), _AMOUNT_MM, "right"),
        Column(words.label("total then"), _AMOUNT_MM, "right"),
    ]
    rows: list[Sequence[str | Flowable]] = [
        [_option_words(option.option, option.words), _difference(option.difference, paper), paper.language.money(option.gross)]
        for option in paper.estimate.options
    ]
    if to_tick:
        columns.insert(0, Column(words.label("chosen"), 16))
        rows = [[tick_box(), *row] for row in rows]
    return table(columns, rows, look=paper.look)


def _option_words(name: str, words: str) -> Markup:
    return with_details(name, words if words != name else "")


def _difference(difference: Fraction, paper: QuotePaper) -> str:
    if not difference:
        return paper.words.label("same price")
    return ("+" if difference > 0 else "") + paper.language.money(difference)


def payments_story(paper: QuotePaper) -> list[Flowable]:
    """The steps of payment with their amounts, and what the payments wait for."""
    look, words, language = paper.look, paper.words, paper.language
    columns = [
        Column(words.label("step")),
        Column(words.label("share"), 22, "right"),
        Column(words.label("amount"), _AMOUNT_MM, "right"),
    ]
    rows = [
        [said, language.percent(step.share), language.money(step.amount)]
        for said, step in zip(paper.step_words, paper.estimate.price.instalments, strict=True)
    ]
    story = [
        *heading(words.label("payments"), look, level=1),
        table(columns, rows, look=look),
        gap(0.4),
        *words.story("payment", paper.values(), look),
    ]
    return kept_whole(story, look, most_share=SHORT_SHARE)
