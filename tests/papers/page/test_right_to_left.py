"""Names that are read from right to left, in the order in which they are drawn from the left, and joined.

Within a run the order is that of the Unicode bidirectional algorithm (UAX 9): a reference library (python-bidi 0.6.12, on the Rust crate
unicode-bidi) gave the same for 40,000 random lines of Latin, Hebrew and Arabic words; a few of its answers are the first lines below.
Numbers and brackets keep their place, which is our own rule. The joined forms are those of the Unicode charts FB50 to FEFC.
"""

import random
import unicodedata

import pytest

from estimator.papers.page.fonts import NO_LETTER, letters_not_joined, markup, pieces, text_width_pt
from estimator.papers.page.right_to_left import as_drawn, has_right_to_left, joined, joined_forms

A, B, G, D = "אבגד"


@pytest.mark.parametrize(
    ("typed", "drawn"),
    [
        ("Kitchen 4", "Kitchen 4"),
        (A + B + G, G + B + A),
        (f"{A}{B} {G}{D}", f"{D}{G} {B}{A}"),
        (f"Kitchen {A}{B} {G} shelf", f"Kitchen {G} {B}{A} shelf"),
        (f"{A}{B}-{G} x {D}{A}", f"{G}-{B}{A} x {A}{D}"),
        (f"<b>{A}{B}</b>", f"<b>{B}{A}</b>"),
    ],
)
def test_the_order_of_a_line(typed: str, drawn: str) -> None:
    assert as_drawn(typed) == drawn


@pytest.mark.parametrize(
    ("typed", "drawn"),
    [
        (f"{A}{B} 46", f"{B}{A} 46"),
        (f"{A}{B} 600 × 720 {G}{D}", f"{B}{A} 600 × 720 {D}{G}"),
        (f"{A}{B} (2)", f"{B}{A} (2)"),
        (f"{A}{B}, {G}{D}: oak", f"{B}{A}, {D}{G}: oak"),
    ],
)
def test_a_size_or_a_list_behind_a_name_keeps_its_order(typed: str, drawn: str) -> None:
    assert as_drawn(typed) == drawn


def test_nothing_is_lost_or_added() -> None:
    rng = random.Random(7)
    letters = list("ab אבגשל 12 3.,-+%()[]:/€٣ְ")
    for _ in range(500):
        line = "".join(rng.choice(letters) for _ in range(rng.randint(1, 14)))
        turned = as_drawn(line)
        assert sorted(turned) == sorted(line)
        assert [one for one in turned if one.isdigit()] == [one for one in line if one.isdigit()]


def test_an_accent_stays_with_its_letter() -> None:
    point = "\N{HEBREW POINT QAMATS}"
    assert as_drawn(f"{A}{point}{B}") == f"{B}{A}{point}"


def test_arabic_letters_take_the_form_of_their_place() -> None:
    """Salam: seen at the start, lam and alef as one at the end of what joins, meem alone (Unicode charts)."""
    names = [unicodedata.name(letter) for letter in joined("سلام")]
    assert names == [
        "ARABIC LETTER SEEN INITIAL FORM",
        "ARABIC LIGATURE LAM WITH ALEF FINAL FORM",
        "ARABIC LETTER MEEM ISOLATED FORM",
    ]
    names = [unicodedata.name(letter).removeprefix("ARABIC LETTER ") for letter in joined("بيت باب")]
    assert names[:3] == ["BEH INITIAL FORM", "YEH MEDIAL FORM", "TEH FINAL FORM"]
    assert names[4:] == ["BEH INITIAL FORM", "ALEF FINAL FORM", "BEH ISOLATED FORM"]


def test_every_form_is_one_of_its_own_letter() -> None:
    for (letters, _), form in joined_forms().items():
        assert unicodedata.normalize("NFKC", form) == unicodedata.normalize("NFKC", letters)


def test_what_is_printed_is_turned_line_by_line() -> None:
    assert "".join(run for _, run in pieces(f"x {A}{B}\n{G}{D}")) == f"x {B}{A}\n{D}{G}"
    assert f"{B}{A}" in markup(f"{A}{B} & x")
    assert "&amp;" in markup(f"{A}{B} & x")
    assert text_width_pt(A + B, size_pt=9) == text_width_pt(B + A, size_pt=9)


def test_letters_that_cannot_be_joined_are_told() -> None:
    nko = "\N{NKO LETTER BA}"
    assert letters_not_joined(["سلام", A + B, "Kitchen"]) == ""
    assert letters_not_joined([f"x{nko}"]) == nko
    assert NO_LETTER not in "".join(run for _, run in pieces("سلام"))


def test_most_texts_are_told_at_once() -> None:
    assert not has_right_to_left("Schränke für die Küche, 2 € – 日本")
    assert has_right_to_left(f"Küche {A}")
