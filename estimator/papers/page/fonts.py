"""The letters: any text goes in; out comes markup, or drawn text, in which every letter has a font that can draw it.

Text is set in Lato. What Lato lacks (Hebrew, Arabic, a few currency signs, ticks) is drawn with DejaVu Sans Condensed, which is
opened only when it is needed; what neither has is replaced by a sign that nobody overlooks, and `letters_without_a_font`
names it so that the shop can be told. What is read from right to left is turned and joined line by line (`right_to_left.py`).
"""

from __future__ import annotations

import unicodedata
from bisect import bisect_left
from collections.abc import Iterable
from functools import cache, lru_cache
from itertools import groupby
from pathlib import Path
from typing import TYPE_CHECKING, Literal

from estimator.papers.page.right_to_left import as_drawn, has_forms, has_right_to_left, is_joined_script

if TYPE_CHECKING:
    from reportlab.pdfgen.canvas import Canvas

TEXT = "Text"
STRONG = "Text strong"
FALLBACK = "Text fallback"
_NARROWEST = 0.15
"""No printed letter is narrower than this share of the type size."""
NO_LETTER = "\N{REPLACEMENT CHARACTER}"
Align = Literal["left", "centre", "right"]

_FOLDER = Path(__file__).resolve().parent.parent / "fonts"
_FILES = {TEXT: "Lato-Regular.ttf", STRONG: "Lato-Semibold.ttf", FALLBACK: "DejaVuSansCondensed.ttf"}
_LAST_PRINTED = 0xFFFF
"""Beyond it the PDF's own table of letters comes out damaged, so that nobody could copy or search the text."""
_FIRST_VARIANT = "\N{VARIATION SELECTOR-1}"
"""The first of the signs that only say how the letter before them is to look."""
_UNSEEN = {"Cc", "Cf", "Cs", "Co"}


@cache
def _letters_of(font: str) -> frozenset[int]:
    """Opens a font for the PDFs of this process and tells which letters it has."""
    from reportlab.pdfbase import pdfmetrics
    from reportlab.pdfbase.ttfonts import TTFont

    pdfmetrics.registerFont(TTFont(font, str(_FOLDER / _FILES[font])))
    letters = pdfmetrics.getFont(font).face.charToGlyph
    return frozenset(letter for letter in letters if letter <= _LAST_PRINTED)


@cache
def open_fonts() -> None:
    """Makes the two fonts of the text known to reportlab, as the plain and the bold of one family."""
    from reportlab.lib.fonts import addMapping

    for font in (TEXT, STRONG):
        _letters_of(font)
    for bold in (0, 1):
        for italic in (0, 1):
            addMapping(TEXT, bold, italic, STRONG if bold else TEXT)


def clean(text: str) -> str:
    """Text with letters and their accents joined, odd spaces made plain, and what no eye can see taken out."""
    if max(text, default=" ") < _FIRST_VARIANT and text.replace("\N{NO-BREAK SPACE}", " ").isprintable():
        return unicodedata.normalize("NFC", text)
    kept = (
        letter if letter == "\n" else " " if letter in "\t\r\v\f" else letter
        for letter in unicodedata.normalize("NFC", text)
        if letter in "\n\t\r\v\f" or not (unicodedata.category(letter) in _UNSEEN or 0xFE00 <= ord(letter) <= 0xFE0F)
    )
    return "".join(kept)


def font_for(letter: str) -> str | None:
    """The fallback font's name where the text font lacks the letter, blank where it has it, None where no font has it."""
    if letter == "\n" or ord(letter) in _letters_of(TEXT):
        return ""
    return FALLBACK if ord(letter) in _letters_of(FALLBACK) else None


def is_plain(text: str) -> bool:
    """Whether the text font alone can draw the text as it stands, on one line."""
    if text.isascii():
        return text.isprintable()
    return "\n" not in text and clean(text) == text and _letters_of(TEXT).issuperset(map(ord, text))


@lru_cache(maxsize=8_000)
def pieces(text: str) -> tuple[tuple[str, str], ...]:
    """The text in pieces of one font each: (fallback font or blank, letters)."""
    cleaned = clean(text)
    if is_plain(cleaned):
        return (("", cleaned),) if cleaned else ()
    if has_right_to_left(cleaned):
        cleaned = "\n".join("".join(map(_printable, as_drawn(line))) for line in cleaned.split("\n"))
    drawn = [(font_for(letter), letter) for letter in cleaned]
    seen = [(FALLBACK, NO_LETTER) if font is None else (font, letter) for font, letter in drawn]
    return tuple((font, "".join(letter for _, letter in group)) for font, group in groupby(seen, key=lambda pair: pair[0]))


def _printable(letter: str) -> str:
    """A joined form that no font here has goes back to the plain letter."""
    return letter if letter < "\ufb50" or font_for(letter) is not None else unicodedata.normalize("NFKC", letter)


def letters_without_a_font(texts: Iterable[str]) -> str:
    """The letters of the texts that no font here can draw, each once, in the order of the alphabet."""
    letters = {letter for text in texts if not text.isascii() for letter in clean(text)}
    return "".join(sorted(letter for letter in letters if font_for(letter) is None))


def letters_not_joined(texts: Iterable[str]) -> str:
    """The letters that are written joined and for which no font here has the joined forms: each is drawn by itself."""
    letters = {letter for text in texts if not text.isascii() for letter in clean(text)}
    alone = (letter for letter in letters if is_joined_script(letter) and not has_forms(letter, font_for))
    return "".join(sorted(letter for letter in alone if font_for(letter) is not None))


def markup(text: str) -> str:
    """Text as paragraph markup: every sign is only a letter, line ends stay, each letter has its font.

    A text that is markup already (a `markupsafe.Markup`, as our templates give back) only has its letters looked after.
    """
    ready = text if hasattr(text, "__html__") else escape(text)
    if ready.isascii() and "\n" not in ready:
        return str(ready)
    runs = (f'<font name="{font}">{run}</font>' if font else run for font, run in pieces(str(ready)))
    return "".join(runs).replace("\n", "<br/>")


def escape(text: str) -> str:
    """The text with the signs that mean something in markup written as letters.

    >>> escape("Tom <tom@x.example> & Sons")
    'Tom &lt;tom@x.example&gt; &amp; Sons'
    """
    return text.replace("&", "&amp;").replace("<", "&lt;").replace(">", "&gt;").replace('"', "&quot;")


@lru_cache(maxsize=8_000)
def _width_at_one_pt(text: str, *, strong: bool) -> float:
    from reportlab.pdfbase.pdfmetrics import stringWidth

    open_fonts()
    font = STRONG if strong else TEXT
    return sum(float(stringWidth(run, other or font, 1)) for other, run in pieces(text))


def text_width_pt(text: str, *, size_pt: float, strong: bool = False) -> float:
    """How wide the text is when drawn on one line."""
    return size_pt * _width_at_one_pt(text, strong=strong)


def draw_text(
    canvas: Canvas, text: str, *, x_pt: float, y_pt: float, size_pt: float, align: Align = "left", strong: bool = False,
    turned: bool = False,
) -> None:  # fmt: skip
    """Draws one line of text on a canvas, each letter with a font that has it; turned text reads from below."""
    before = 0.0 if align == "left" else text_width_pt(text, size_pt=size_pt, strong=strong) / (2 if align == "centre" else 1)
    x, y, way = (x_pt, y_pt - before, "0 1 -1 0") if turned else (x_pt - before, y_pt, "1 0 0 1")
    canvas._code.append(f"BT {way} {x:.2f} {y:.2f} Tm {_shown(canvas, text, size_pt=size_pt, strong=strong)} ET")


def _shown(canvas: Canvas, text: str, *, size_pt: float, strong: bool) -> str:
    """The PDF's own words for a line of text, kept with its canvas: most lines of the shop papers come several times."""
    from reportlab.pdfbase.pdfmetrics import getFont

    kept: dict[tuple[str, float, bool], str] = canvas.__dict__.setdefault("lines_shown", {})
    shown = kept.get((text, size_pt, strong))
    if shown is None:
        open_fonts()
        runs = []
        for other, run in pieces(text.replace("\n", " ")):
            font = getFont(other or (STRONG if strong else TEXT))
            for subset, letters in font.splitString(run, canvas._doc):
                runs.append(f"{font.getSubsetInternalName(subset, canvas._doc)} {size_pt:g} Tf ({canvas._escape(letters)}) Tj")
        shown = kept[text, size_pt, strong] = " ".join(runs)
    return shown


def shortened(text: str, *, width_pt: float, size_pt: float, strong: bool = False) -> str:
    """The text, cut with an ellipsis where it is wider than the room it has; blank where not even that fits."""
    most = int(width_pt / (_NARROWEST * size_pt)) + 1
    if len(text) <= most and text_width_pt(text, size_pt=size_pt, strong=strong) <= width_pt:
        return text

    def too_wide(end: int) -> bool:
        return text_width_pt(text[:end].rstrip() + "…", size_pt=size_pt, strong=strong) > width_pt

    end = bisect_left(range(1, min(len(text), most)), True, key=too_wide)
    return text[:end].rstrip() + "…" if end else ""
