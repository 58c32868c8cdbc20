"""Where the quote's pages end: nothing that belongs together is parted, nobody signs a page that says nothing, blanks speak German."""

import io
from dataclasses import replace

import pypdf
import pytest

from estimator.model.results import Estimate
from estimator.papers.client_quote import quote_pdf
from tests.samples import estimate_of


def said_with(name: str, **terms: object) -> Estimate:
    estimate = estimate_of(name)
    return replace(estimate, job=replace(estimate.job, terms=replace(estimate.job.terms, **terms)))  # type: ignore[arg-type]


def pages_of(estimate: Estimate) -> list[str]:
    return [" ".join(page.extract_text().split()) for page in pypdf.PdfReader(io.BytesIO(quote_pdf(estimate))).pages]


def signed_alone(pages: list[str]) -> bool:
    return any("Name in capitals" in page and "appliance" not in page for page in pages)


@pytest.mark.parametrize(("name", "quote_shows"), [("kitchen", "by cabinet"), ("kitchen", "by room"), ("one-cabinet", "total")])
def test_the_last_of_the_terms_stands_on_the_page_that_is_signed(name: str, quote_shows: str) -> None:
    assert not signed_alone(pages_of(said_with(name, quote_shows=quote_shows)))


def test_a_page_that_is_only_signed_is_noticed() -> None:
    assert signed_alone(["by licensed trades for each appliance.", "Acceptance Signature Name in capitals, date"])


def test_the_kitchens_finishes_and_payments_are_each_on_one_page() -> None:
    pages = pages_of(estimate_of("kitchen"))
    assert any("white inside and out" in page and "walnut pattern fronts" in page for page in pages)
    assert any("before delivery" in page and "on completion" in page for page in pages)


def test_a_finish_is_told_in_words_once() -> None:
    words = " ".join(pages_of(estimate_of("kitchen")))
    assert words.count("mint fronts with edges") == 1
    assert words.count("finish mint") > 5


def test_what_is_left_blank_is_said_in_german() -> None:
    steps = [("deposit", "50"), ("before delivery", "40"), ("on completion", "10")]
    blank = said_with("one-cabinet", language="de", tax_name="Tax")
    instalments = tuple(replace(blank.price.instalments[0], words=words) for words, _ in steps)
    blank = replace(blank, price=replace(blank.price, instalments=instalments))
    words = " ".join(pages_of(blank))
    assert [said for said in ("Anzahlung", "vor der Lieferung", "Steuer 20") if said not in words] == []
    assert [said for said in ("on completion", "Tax") if said in words] == []


def test_a_schedule_that_was_typed_stays_as_typed() -> None:
    assert "deposit" in " ".join(pages_of(said_with("kitchen", language="de")))


def test_somebody_signs_for_a_shop_without_a_name() -> None:
    estimate = estimate_of("one-cabinet")
    nameless = replace(estimate, job=replace(estimate.job, shop=replace(estimate.job.shop, shop_name="")))
    assert "For the workshop" in pages_of(nameless)[-1]
