"""The client's quote as a client reads it: the words of the PDF against the estimate, and what never stands on it."""

import json
import re
from collections.abc import Iterator
from dataclasses import replace

import pytest

from estimator.costing.shown import price_shown
from estimator.model.exact import Fraction
from estimator.model.records import Extra
from estimator.model.results import Estimate, Line, Price, TaxLine
from estimator.model.units import money_text
from estimator.papers.client_quote import quote_pdf
from estimator.papers.estimate_json import estimate_text
from estimator.papers.page.language import Language
from tests.papers.quotes import job_of, kitchen, priced, said_with, with_terms, words_of

MONEY = re.compile(r"\d[\d,]*\.\d{2}(?!\d)")

# --- what a quote carries ---------------------------------------------------------------------------------------------


def test_the_quote_names_parties_number_dates_and_every_cabinet() -> None:
    estimate = kitchen()
    terms, words = estimate.job.terms, words_of(quote_pdf(estimate))
    language = Language(code="en", currency=terms.currency, units="mm")
    for said in (terms.client, terms.quote_number, terms.job_name, language.date(terms.quote_date), "Signature"):
        assert said in words
    for line in estimate.price.lines:
        assert line.ref in words
    for caution in ("structure of the wall", "licensed trades", "site measure governs", "Standing water"):
        assert caution in words


def test_the_money_of_the_quote_is_the_money_of_the_estimate() -> None:
    estimate = kitchen()
    price, currency = estimate.price, estimate.job.terms.currency
    words = words_of(quote_pdf(estimate))
    language = Language(code="en", currency=currency, units="mm")
    shown = [price.gross, *(step.amount for step in price.instalments), *(option.gross for option in estimate.options)]
    for amount in shown:
        assert language.money(amount) in words
    for tax in price.tax:
        assert language.amount(tax.tax) in words


def quote_amounts(estimate: Estimate) -> set[str]:
    """Every amount that may stand on the quote: those that estimate.json tells of its price and its options."""
    told = json.loads(estimate_text(estimate))
    return {text.lstrip("-") for text in texts_in([told["price"], told["quote"], told["options"]])}


def texts_in(data: object) -> Iterator[str]:
    """Every text of estimate.json, however deep."""
    if isinstance(data, str):
        yield data
    elif isinstance(data, dict | list):
        for one in data.values() if isinstance(data, dict) else data:
            yield from texts_in(one)


@pytest.mark.parametrize("prices_shown", ["without tax", "with tax", "both"])
@pytest.mark.parametrize("quote_shows", ["total", "by room", "by cabinet"])
def test_every_amount_on_paper_is_held_by_the_estimate(prices_shown: str, quote_shows: str) -> None:
    estimate = said_with("kitchen", prices_shown=prices_shown, quote_shows=quote_shows)
    found = {amount.replace(",", "") for amount in MONEY.findall(words_of(quote_pdf(estimate)))}
    assert money_text(estimate.price.gross, currency="EUR") in found
    assert found <= quote_amounts(estimate)


# --- what never stands on it ------------------------------------------------------------------------------------------


def internal_figures(estimate: Estimate) -> dict[str, str]:
    """The shop's own figures as they would be printed, less those that the quote may show."""
    job, currency = estimate.job, estimate.job.terms.currency
    cost, plan = estimate.cost, estimate.banding.chosen
    figures: dict[str, Fraction | None] = {
        f"cost {name}": getattr(cost, name)
        for name in ("boards", "edging", "adhesive", "fittings", "labour", "overhead", "total", "contingency", "base")
    }
    figures |= {"target": estimate.price.target, "relevant cost": plan.relevant_cost, "minutes": estimate.minutes.total}
    figures |= {"direct rate": estimate.rates.direct, "overhead rate": estimate.rates.overhead, "freed": estimate.rates.freed}
    figures |= {f"board {board.board}": board.price for board in job.boards}
    figures |= {f"edging {edging.edging}": edging.price_per_m for edging in job.edgings}
    figures |= {f"adhesive {adhesive.adhesive}": adhesive.price for adhesive in job.adhesives}
    figures |= {f"fitting {fitting.item}": fitting.price for fitting in job.fittings}
    figures |= {f"prime {line.ref}": line.prime for line in estimate.price.lines}
    figures |= {f"minutes {step.step.step}": step.minutes for step in estimate.minutes.steps}
    figures |= {f"extra {extra.words}": extra.cost_each for extra in job.extras}
    texts = {name: money_text(figure, currency=currency) for name, figure in figures.items() if figure}
    shown = quote_amounts(estimate)
    return {name: text for name, text in texts.items() if text not in shown}


def leaks(words: str, figures: dict[str, str]) -> list[str]:
    found = {amount.replace(",", "") for amount in MONEY.findall(words)}
    return [name for name, text in figures.items() if text in found]


@pytest.mark.parametrize("name", ["one-cabinet", "kitchen", "wardrobe", "inch-job"])
@pytest.mark.parametrize("quote_shows", ["by room", "by cabinet"])
def test_no_figure_of_the_shops_own_stands_on_the_quote(name: str, quote_shows: str) -> None:
    estimate = said_with(name, quote_shows=quote_shows, prices_shown="both")
    figures = internal_figures(estimate)
    words = words_of(quote_pdf(estimate))
    assert len(figures) > 10
    assert leaks(words, figures) == []
    assert internal_words(words) == []


INTERNAL = ("margin", "markup", "overhead", "contingency", "minutes?", "hours?", "freed", "costs?", "rate", "supplier", "profit", "wage")


def internal_words(words: str) -> list[str]:
    """Words of the shop's own reckoning; the opening may say what the work costs the client."""
    return [word for word in INTERNAL if re.search(rf"\b{word}\b", words.replace("what it costs", ""), re.IGNORECASE)]


def test_each_word_of_the_shops_own_that_gets_onto_the_quote_is_noticed() -> None:
    planted = "margin, markup, overhead, contingency, 17 minutes, an hour, freed, our costs, the rate, a supplier, profit, wage"
    assert internal_words(words_of(quote_pdf(said_with("one-cabinet", lead_time_words=planted)))) == list(INTERNAL)
    assert internal_words("cost margin minute") == ["margin", "minutes?", "costs?"]


def test_each_figure_of_the_shops_own_that_gets_onto_the_quote_is_noticed() -> None:
    """Costs, the price before rounding, minutes, rates of an hour, what the board merchant and every other supplier asks."""
    figures = internal_figures(kitchen())
    leaky = said_with("kitchen", lead_time_words="; ".join(figures.values()))
    assert leaks(words_of(quote_pdf(leaky)), figures) == list(figures)
    assert {"cost total", "target", "minutes", "direct rate", "board white 18", "edging white 1 mm"} <= set(figures)


def test_the_note_of_a_cabinet_is_for_the_shop() -> None:
    job = job_of("kitchen")
    noted = replace(job, cabinets=tuple(replace(cabinet, note="client haggles") for cabinet in job.cabinets))
    assert "haggles" not in words_of(quote_pdf(priced(noted)))


# --- amounts with tax -------------------------------------------------------------------------------------------------


def small_price(*nets: int, delivery: int, tax: str) -> Price:
    at = job_of("kitchen").cabinets[0].at
    rate, lines_sum = Fraction(20, 100), Fraction(sum(nets))
    lines = tuple(
        Line(f"L{n}", "Hall", "line", Fraction(1), Fraction(0), Fraction(net), Fraction(net), rate,
             Extra(f"L{n}", "Hall", "line", Fraction(1), None, None, Fraction(net), None, at))
        for n, net in enumerate(nets)
    )  # fmt: skip
    base, tax_total = lines_sum + delivery, Fraction(tax)
    return Price(
        target=Fraction(0), least_price_holds=False, lines=lines, sum_lines=lines_sum, discount=Fraction(0),
        delivery=Fraction(delivery), net=base, tax=(TaxLine(rate, lines_sum, Fraction(0), Fraction(delivery), base, tax_total),),
        tax_total=tax_total, rounding=Fraction(0), gross=base + tax_total, instalments=(),
    )  # fmt: skip


def test_lines_with_tax_by_hand() -> None:
    """Lines 100 and 50, delivery 20, 20 % of 170 is 34: delivery carries 4, the lines 20 and 10."""
    shown = price_shown(small_price(100, 50, delivery=20, tax="34"), currency="EUR")
    assert [line.with_tax for line in shown.lines] == [120, 60]
    assert shown.delivery.with_tax == 24
    assert shown.rooms[0].amount.with_tax == shown.sum_lines.with_tax == 180


@pytest.mark.parametrize("name", ["one-cabinet", "wardrobe", "inch-job"])
@pytest.mark.parametrize("currency", ["EUR", "JPY", "BHD"])
def test_amounts_with_tax_add_up_to_the_total(name: str, currency: str) -> None:
    price = priced(with_terms(job_of(name), currency=currency)).price
    shown = price_shown(price, currency=currency)
    assert sum(line.with_tax for line in shown.lines) == sum(room.amount.with_tax for room in shown.rooms)
    assert sum(line.with_tax for line in shown.lines) == shown.sum_lines.with_tax
    with_tax = shown.sum_lines.with_tax - shown.discount.with_tax + shown.delivery.with_tax
    assert with_tax == shown.total.with_tax == price.gross - price.rounding


