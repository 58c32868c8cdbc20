"""The client's quote as a client reads it: the words of the PDF against the estimate, and where they stand on the page."""

import io
import json
import re
from collections.abc import Iterator
from dataclasses import replace
from datetime import date
from functools import cache
from pathlib import Path

import pypdf
import pytest

from estimator.costing.estimate import estimate_job
from estimator.costing.shown import price_shown
from estimator.model.exact import Fraction
from estimator.model.records import Extra, Job
from estimator.model.results import Estimate, Line, Price, TaxLine
from estimator.model.shop_records import Instalment
from estimator.model.units import money_text
from estimator.papers.client_quote import quote_pdf
from estimator.papers.estimate_json import estimate_text
from estimator.papers.page.language import Language
from estimator.papers.page.letters import missing_letters, not_joined
from estimator.papers.page.phrases import BadWords
from estimator.reading.workbook import read_job

WORKBOOKS = Path(__file__).parents[2] / "workbooks"
LONG = 'Überlanger Name mit <b>fetten</b> Zeichen & "Anführung" 😀 שלום'
ONE_WORD = "Donaudampfschifffahrtsgesellschaftskapitänskajütenschrankwand"
MONEY = re.compile(r"\d[\d,]*\.\d{2}(?!\d)")


@cache
def job_of(name: str) -> Job:
    job = read_job(WORKBOOKS / f"{name}.xlsx")
    assert isinstance(job, Job)
    return job


def priced(job: Job) -> Estimate:
    estimate = estimate_job(job)
    assert isinstance(estimate, Estimate), estimate
    return estimate


@cache
def estimate_of(name: str) -> Estimate:
    return priced(crowded() if name == "crowded" else job_of(name))


def kitchen() -> Estimate:
    return estimate_of("kitchen")


def said_with(name: str, **terms: object) -> Estimate:
    """A priced job whose Job sheet says something else that changes no price."""
    estimate = estimate_of(name)
    return replace(estimate, job=with_terms(estimate.job, **terms))


def with_terms(job: Job, **other: object) -> Job:
    return replace(job, terms=replace(job.terms, **other))  # type: ignore[arg-type]


def reader(pdf: bytes) -> pypdf.PdfReader:
    return pypdf.PdfReader(io.BytesIO(pdf))


def words_of(pdf: bytes) -> str:
    """All words of a PDF, with every run of white space as one space."""
    return " ".join(" ".join(page.extract_text() for page in reader(pdf).pages).split())


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


# --- languages, papers, the same bytes --------------------------------------------------------------------------------


def test_german_words_dates_and_money() -> None:
    estimate = said_with("kitchen", language="de", quote_date=date(2031, 3, 14))
    pdf = quote_pdf(estimate)
    words = words_of(pdf)
    whole, cents = money_text(estimate.price.gross, currency="EUR").split(".")
    assert f"{int(whole):,}".replace(",", ".") + f",{cents} €" in words
    for said in ("Angebot", "14. März 2031", "Gültig bis", "Was wir bauen", "Unterschrift", "Seite 1 von"):
        assert said in words
    assert reader(pdf).trailer["/Root"]["/Lang"] == "de"


def test_the_same_estimate_gives_the_same_bytes() -> None:
    assert quote_pdf(kitchen()) == quote_pdf(kitchen())


def test_metadata_outline_and_page_numbers() -> None:
    pdf = reader(quote_pdf(kitchen()))
    assert pdf.metadata is not None
    assert kitchen().job.terms.quote_number in str(pdf.metadata.title)
    titles = [entry.title for entry in pdf.outline if not isinstance(entry, list)]
    assert {"What we make", "What the price covers", "How we work together", "Acceptance"} <= set(titles)
    for number, page in enumerate(pdf.pages, start=1):
        assert f"Page {number} of {len(pdf.pages)}" in page.extract_text()


@pytest.mark.parametrize(("paper", "size_pt"), [("A4", (595.28, 841.89)), ("Letter", (612, 792))])
def test_paper_sizes(paper: str, size_pt: tuple[float, float]) -> None:
    """A4 is 210 x 297 mm (ISO 216); Letter 8.5 x 11 inches (ANSI/ASME Y14.1, size A)."""
    box = reader(quote_pdf(said_with("one-cabinet", paper=paper))).pages[0].mediabox
    assert (float(box.width), float(box.height)) == pytest.approx(size_pt, abs=0.01)


# --- names that are only letters, and the shop's own words ------------------------------------------------------------


def test_marks_in_names_are_only_letters() -> None:
    client = 'Tom <tom@x.example> & <b>Sons</b> "Ltd" {{ total }} <img src="/etc/hostname"/>'
    estimate = said_with("one-cabinet", client=client, job_name=client)
    words = words_of(quote_pdf(estimate))
    assert words.count("Tom <tom@x.example> & <b>Sons</b>") >= 3
    assert "{{ total }}" in words


@pytest.mark.parametrize("field", ["client", "client_address", "job_name", "lead_time_words", "not_included", "tax_words"])
def test_a_cell_of_many_pages_still_prints(field: str) -> None:
    words = words_of(quote_pdf(said_with("one-cabinet", **{field: "word " * 2000})))
    assert words.count("word") >= 2000


def test_letters_without_a_font_are_told() -> None:
    estimate = said_with("one-cabinet", client=LONG)
    assert missing_letters(estimate) == "😀"
    assert not_joined(estimate) == ""
    assert "שלום" in words_of(quote_pdf(estimate))  # a reader that knows the direction gives back what was typed
    assert "\N{REPLACEMENT CHARACTER}" in words_of(quote_pdf(estimate))
    assert missing_letters(kitchen()) == ""


def test_a_shop_replaces_one_template_and_one_label(tmp_path: Path) -> None:
    (tmp_path / "opening.txt").write_text("Hello {{ client }}, <b>as agreed</b>.", encoding="utf-8")
    (tmp_path / "labels.txt").write_text("total with tax: All in", encoding="utf-8")
    estimate = said_with("one-cabinet", client="A & B")
    words = words_of(quote_pdf(estimate, words=tmp_path))
    assert "Hello A & B, as agreed." in words
    assert "All in" in words
    assert "How we work together" in words


@pytest.mark.parametrize(
    ("template", "found"),
    [
        pytest.param("{{ margin }}", "margin", id="a name that does not exist"),
        pytest.param("{{ total", "end of", id="a name that is not closed"),
        pytest.param("<b>{{ total }}", "not closed", id="a mark that is not closed"),
    ],
)
def test_a_template_that_cannot_be_used_is_named(tmp_path: Path, template: str, found: str) -> None:
    (tmp_path / "opening.txt").write_text(template, encoding="utf-8")
    with pytest.raises(BadWords) as caught:
        quote_pdf(kitchen(), words=tmp_path)
    assert "opening.txt" in str(caught.value)
    assert found in str(caught.value)


def test_a_logo_is_a_picture_beside_the_workbook_or_nothing(tmp_path: Path) -> None:
    from PIL import Image

    shop = tmp_path / "shop"
    shop.mkdir()
    Image.new("RGB", (300, 100), "navy").save(shop / "logo.png")
    Image.new("RGB", (300, 100), "navy").save(tmp_path / "outside.png")
    (shop / "broken.png").write_bytes(b"\x89PNG no picture")

    def pictures(logo: str) -> int:
        estimate = said_with("one-cabinet", logo=logo)
        return sum(len(page.images) for page in reader(quote_pdf(estimate, beside=shop)).pages)

    assert pictures("logo.png") == 1
    assert [pictures(logo) for logo in ("", "broken.png", "missing.png", "../outside.png", str(tmp_path / "outside.png"))] == [
        0
    ] * 5


# --- nothing clipped, nothing too small -------------------------------------------------------------------------------


def crowded() -> Job:
    """60 cabinets with long names in rooms with long names, in every column that a quote can have."""
    job = job_of("kitchen")
    cabinets = tuple(
        replace(
            job.cabinets[n % len(job.cabinets)],
            ref=f"{(ONE_WORD, LONG)[n % 2][:56]} {n:02d}",
            room=(LONG, ONE_WORD, "Hall")[n % 3],
            at=replace(job.cabinets[0].at, number=100 + n),
        )
        for n in range(60)
    )
    steps = tuple(Instalment(Fraction(1, 10), f"{LONG} {ONE_WORD}") for _ in range(10))
    named = replace(
        job,
        cabinets=cabinets,
        finishes=tuple(replace(finish, words=f"{LONG} {ONE_WORD}") for finish in job.finishes),
        shop=replace(job.shop, shop_name=LONG, shop_address=f"{ONE_WORD}\n{LONG}", colour="#FFEE66"),
    )
    return with_terms(
        named, client=ONE_WORD * 2, job_name=LONG, quote_number=ONE_WORD, revision=ONE_WORD, prepared_by=LONG, not_included=LONG,
        payment_schedule=steps, prices_shown="both", quote_shows="by cabinet", tax_name=ONE_WORD[:30], site_address=ONE_WORD,
    )  # fmt: skip


def pieces_of_text(pdf: bytes) -> Iterator[tuple[float, float, float, float]]:
    """Left, bottom, right and top of every piece of text, in points, as another program draws it."""
    import pypdfium2

    for page in pypdfium2.PdfDocument(pdf):
        text = page.get_textpage()
        for number in range(text.count_rects()):
            yield text.get_rect(number)


@pytest.mark.parametrize("name", ["crowded", "kitchen", "one-cabinet", "wardrobe", "inch-job"])
def test_all_text_stands_between_the_margins(name: str) -> None:
    estimate = estimate_of(name)
    pdf = quote_pdf(estimate)
    box = reader(pdf).pages[0].mediabox
    side_pt, foot_pt = 22 * 72 / 25.4, 20
    rects = list(pieces_of_text(pdf))
    assert len(rects) > 50
    assert min(left for left, _, _, _ in rects) >= side_pt - 3
    assert max(right for _, _, right, _ in rects) <= float(box.width) - side_pt + 3
    assert min(bottom for _, bottom, _, _ in rects) >= foot_pt
    assert max(top for _, _, _, top in rects) <= float(box.height) - 40


@pytest.mark.parametrize("name", ["crowded", "kitchen", "inch-job"])
def test_no_text_is_smaller_than_seven_points(name: str) -> None:
    pdf = reader(quote_pdf(estimate_of(name)))
    sizes: set[float] = set()

    def note(text: str, _: object, __: object, ___: object, size_pt: float) -> None:
        if text.strip():
            sizes.add(round(size_pt, 2))

    for page in pdf.pages:
        page.extract_text(visitor_text=note)
    assert min(sizes) >= 7
    assert sizes <= {7.0, 7.5, 9.0, 15.0}


def test_fonts_are_embedded_subsets() -> None:
    page = reader(quote_pdf(kitchen())).pages[0]
    fonts = [font.get_object() for font in page["/Resources"]["/Font"].values()]  # type: ignore[union-attr, index]
    text_fonts = [font for font in fonts if font["/Subtype"] == "/TrueType"]
    assert text_fonts
    assert all("/FontFile2" in font["/FontDescriptor"] and "+" in font["/BaseFont"] for font in text_fonts)
