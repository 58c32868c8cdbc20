"""The client's quote as it is printed: nothing clipped, nothing too small, on its paper, with its fonts and its outline."""

from collections.abc import Iterator
from datetime import date

import pytest

from estimator.model.units import money_text
from estimator.papers.client_quote import quote_pdf
from tests.papers.quotes import estimate_of, kitchen, reader, said_with, words_of


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
