"""The client's quote with names that are only letters, letters without a font, the shop's own words and its logo."""

from pathlib import Path

import pytest

from estimator.papers.client_quote import quote_pdf
from estimator.papers.page.letters import missing_letters, not_joined
from estimator.papers.page.phrases import BadWords
from tests.papers.quotes import LONG, kitchen, reader, said_with, words_of


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


