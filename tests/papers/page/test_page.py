"""The page that all papers share: letters, numbers by country, tables, colours."""

import io
from datetime import date
from typing import Any, Literal

import pypdf
import pytest

from estimator.model.exact import Fraction
from estimator.papers.page.document import document
from estimator.papers.page.fonts import font_for, is_plain, letters_without_a_font, markup, pieces, shortened, text_width_pt
from estimator.papers.page.language import Language
from estimator.papers.page.look import colour_hex, contrast_on_white, look_of
from estimator.papers.page.pieces import paragraph
from estimator.papers.page.tables import Column, table

LOOK = look_of(paper="A4", colour="")


def pages_of(story: list[Any]) -> list[list[str]]:
    """The lines of text of each page."""
    pdf = document(story, look=LOOK, title="Test", author="Test")
    return [page.extract_text().splitlines() for page in pypdf.PdfReader(io.BytesIO(pdf)).pages]


# --- letters ----------------------------------------------------------------------------------------------------------


def test_every_letter_of_europe_and_the_signs_of_money_have_a_font() -> None:
    """Blocks of the Unicode standard: Latin-1, Latin Extended-A, the Greek and the Cyrillic alphabets; signs of money."""
    letters = [chr(code) for code in [*range(0xA1, 0x180), *range(0x391, 0x3A2), *range(0x3A3, 0x3CA), *range(0x400, 0x460)]]
    assert letters_without_a_font([*letters, "€£¥₹₺₽₴₸₪₩₫₱₦₡₲₵₭₮฿", "×–−…„“”‚‘’½¼¾⅜°²³µ→"]) == ""
    assert all(font_for(letter) == "" for letter in letters if letter.isalpha())


def test_what_the_text_font_lacks_is_drawn_with_another_or_seen() -> None:
    assert pieces("a ₽ 😀 b") == (
        ("", "a "),
        ("Text fallback", "₽"),
        ("", " "),
        ("Text fallback", "\N{REPLACEMENT CHARACTER}"),
        ("", " b"),
    )
    assert markup('5 < 6 & "x"\n₽') == '5 &lt; 6 &amp; &quot;x&quot;<br/><font name="Text fallback">₽</font>'
    assert is_plain("Łódź")
    assert not is_plain("two\nlines")


def test_an_accent_typed_on_its_own_joins_its_letter() -> None:
    assert pieces("Gyo\N{COMBINING DOUBLE ACUTE ACCENT}r") == (("", "Győr"),)


def test_words_too_wide_end_in_an_ellipsis_that_fits() -> None:
    short = shortened("a cabinet with a long name", width_pt=60, size_pt=7.5)
    assert short.endswith("…")
    assert text_width_pt(short, size_pt=7.5) <= 60
    assert shortened("wide", width_pt=1, size_pt=7.5) == ""


# --- numbers ----------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("code", "currency", "written"),
    [
        ("en", "GBP", "£1,234.50"),
        ("en", "USD", "$1,234.50"),
        ("en", "JPY", "¥1,235"),
        ("en", "BHD", "BHD\xa01,234.500"),
        ("en", "IQD", "IQD\xa01,234.500"),
        ("de", "EUR", "1.234,50\xa0€"),
        ("de", "CHF", "CHF\xa01’234.50"),
    ],
)
def test_money_is_written_as_its_country_writes_it(code: str, currency: str, written: str) -> None:
    """Marks and places as in Unicode CLDR; decimals as in ISO 4217 (the Iraqi dinar has 3, though CLDR shows none)."""
    assert Language(code=code, currency=currency, units="mm").money(Fraction("1234.5")) == written


def test_a_credit_has_a_true_minus() -> None:
    assert Language(code="en", currency="GBP", units="mm").amount(Fraction("-0.32")) == "−0.32"


@pytest.mark.parametrize(
    ("code", "currency", "written"),
    [("en", "GBP", "14 March 2031"), ("en", "USD", "March 14, 2031"), ("de", "EUR", "14. März 2031")],
)
def test_dates(code: str, currency: str, written: str) -> None:
    assert Language(code=code, currency=currency, units="mm").date(date(2031, 3, 14)) == written


@pytest.mark.parametrize(
    ("units", "length_mm", "written"),
    [
        ("mm", "2080", "2080"),
        ("mm", "563.5", "563.5"),
        ("inch", "596.9", "23 1/2"),
        ("inch", "19.05", "3/4"),
        ("inch", "25.4", "1"),
        ("inch", "600", "23 5/8−"),
        ("inch", "0.4", "0.016"),
    ],
)
def test_lengths(units: Literal["mm", "inch"], length_mm: str, written: str) -> None:
    """23 1/2 inches are 23.5 x 25.4 = 596.9 mm (the inch of 25.4 mm: ISO 31-1); 600/25.4 = 23.6220, a little under 23 10/16."""
    assert Language(code="en", currency="GBP", units=units).length(Fraction(length_mm)) == written


@pytest.mark.parametrize(
    ("finest", "sixty_fourths", "written"),
    [(16, 26, "22 7/16−"), (32, 26, "22 13/32"), (64, 27, "22 27/64"), (32, 27, "22 7/16−"), (16, 25, "22 3/8+"), (16, 63, "23−"), (16, 0, "22")],
)
def test_inches_to_the_nearest_fraction(finest: int, sixty_fourths: int, written: str) -> None:
    """On a rule: 22 26/64 is 22 13/32, half way from 22 6/16 to 22 7/16; 22 25/64 is nearer to 22 24/64, which is 22 3/8."""
    length_mm = (22 + Fraction(sixty_fourths, 64)) * Fraction("25.4")
    language = Language(code="en", currency="USD", units="inch", finest_inch=finest)
    assert language.length(length_mm) == written
    assert language.is_rounded(length_mm) == (written[-1] in "+−")


# --- tables -----------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("rows", range(40, 52))
def test_a_total_never_stands_alone_and_the_heading_is_repeated(rows: int) -> None:
    body = [[f"row {number}", str(number)] for number in range(rows)]
    story = [table([Column("What"), Column("Amount", 30, "right")], [*body, ["tax", "1"], ["total", "2"]], look=LOOK, totals=2)]
    pages = pages_of(story)
    for page in pages:
        assert "What Amount" in page
        assert any(line.startswith("row ") for line in page)
    assert {"tax 1", "total 2", f"row {rows - 1} {rows - 1}"} <= set(pages[-1])


@pytest.mark.parametrize("above", range(1, 5))
def test_no_row_stands_alone_and_no_heading_stands_twice_on_a_page(above: int) -> None:
    """Some lines above bring the page's end to any place within the last of the rows, each of which is taller than the heading."""
    body = [[f"row {number}\nof three\nlines", str(number)] for number in range(16)]
    lines = paragraph("\n".join(["above"] * above), LOOK)
    pages = pages_of([lines, table([Column("What"), Column("Amount", 30, "right")], body, look=LOOK)])
    for page in pages:
        assert page.count("What Amount") == 1
        assert sum(line.startswith("row ") for line in page) > 1


def test_a_cell_taller_than_a_page_goes_on_over_the_page() -> None:
    pages = pages_of([table([Column("What", 30)], [["many words " * 600]], look=LOOK)])
    assert len(pages) > 1
    assert sum(" ".join(page).count("many") for page in pages) == 600


def test_decimal_points_stand_under_each_other() -> None:
    story = [table([Column("Metres", 40, "decimal"), Column("Rest")], [["0.5", "a"], ["12.125", "b"], ["7", "c"]], look=LOOK)]
    pdf = pypdf.PdfReader(io.BytesIO(document(story, look=LOOK, title="T", author="T")))
    points: dict[str, float] = {}

    def note(text: str, _page: object, matrix: list[float], _font: object, size_pt: float) -> None:
        whole, _, _ = text.strip().partition(".")
        if whole.isdigit() and size_pt == 9:
            points[text.strip()] = matrix[4] + text_width_pt(whole, size_pt=9)

    pdf.pages[0].extract_text(visitor_text=note)
    assert set(points) == {"0.5", "12.125", "7"}
    assert max(points.values()) - min(points.values()) < 0.01


# --- colours ----------------------------------------------------------------------------------------------------------


def test_contrast_against_the_published_examples() -> None:
    """WCAG 2: black on white is 21:1; #767676 is the well-known lightest grey with 4.5:1 on white, #777777 falls below it."""
    assert contrast_on_white("#000000") == pytest.approx(21)
    assert contrast_on_white("#767676") >= 4.5 > contrast_on_white("#777777")


@pytest.mark.parametrize("colour", ["#FFEE66", "#FFFFFF", "#8C5A2B", "navy", "what is this"])
def test_the_accent_is_dark_enough_to_be_read(colour: str) -> None:
    look = look_of(paper="A4", colour=colour)
    assert contrast_on_white(look.accent_ink) >= 4.5
    assert look.accent == (colour_hex(colour) or "#24425C")
