"""How papers look: the paper size and the shop's colour go in; the grid, the colours, the type sizes and the styles come out.

Two type sizes carry the text, with a plain and a strong weight: 9 points for text, 15 for headings. A third, 7.5, is kept for
what is not read in a row: column headings, sizes in drawings, the foot of the page. There is one accent colour, the shop's
own, for rules, headings and the total; everything else is black or one grey. Nothing depends on colour alone.
"""

from __future__ import annotations

from functools import cache
from typing import TYPE_CHECKING, Literal

from estimator.model.dataclass import dataclass
from estimator.papers.page.fonts import STRONG, TEXT, open_fonts

if TYPE_CHECKING:
    from reportlab.lib.colors import Color
    from reportlab.lib.styles import ParagraphStyle

PT_PER_MM = 72 / 25.4
TEXT_PT = 9.0
LEADING_PT = 12.6
HEAD_PT = 15.0
SMALL_PT = 7.5
HAIR_PT = 0.4
LINE_PT = 0.8
GAP_PT = LEADING_PT
"""The step of the grid between one thing and the next."""

_PAPERS_PT = {"A4": (210 * PT_PER_MM, 297 * PT_PER_MM), "Letter": (8.5 * 72, 11 * 72)}
_SIDE_MM, _TOP_MM, _FOOT_MM = 22, 18, 22
_OWN_COLOUR = "#24425C"
_READABLE_CONTRAST = 4.5
StyleName = Literal["text", "strong", "right", "small", "small right", "title", "heading", "subheading", "accent", "list"]


@dataclass(frozen=True, slots=True)
class Look:
    """The paper, its margins and the two forms of the accent: as the shop chose it, and dark enough to be read as text."""

    page_width_pt: float
    page_height_pt: float
    side_pt: float
    top_pt: float
    foot_pt: float
    accent: str
    accent_ink: str

    @property
    def width_pt(self) -> float:
        """Width between the margins."""
        return self.page_width_pt - 2 * self.side_pt

    @property
    def across_width_pt(self) -> float:
        """Width between the margins of a page that lies on its side."""
        return self.page_height_pt - 2 * self.side_pt

    @property
    def height_pt(self) -> float:
        """Height between the margins."""
        return self.page_height_pt - self.top_pt - self.foot_pt


def look_of(*, paper: Literal["A4", "Letter"], colour: str) -> Look:
    """The look of a shop's papers. A colour that is blank or not understood gives our own quiet blue."""
    width_pt, height_pt = _PAPERS_PT[paper]
    accent = colour_hex(colour) or _OWN_COLOUR
    return Look(
        page_width_pt=width_pt,
        page_height_pt=height_pt,
        side_pt=_SIDE_MM * PT_PER_MM,
        top_pt=_TOP_MM * PT_PER_MM,
        foot_pt=_FOOT_MM * PT_PER_MM,
        accent=accent,
        accent_ink=_readable(accent),
    )


def colour_hex(words: str) -> str | None:
    """A colour as #RRGGBB from `#24425C`, `24425c`, `#abc` or a plain English name; None where it is not understood.

    >>> colour_hex("24425c"), colour_hex("#abc"), colour_hex("quite blue")
    ('#24425C', '#AABBCC', None)
    """
    digits = words.strip().lstrip("#")
    if len(digits) == 3:
        digits = "".join(2 * digit for digit in digits)
    if len(digits) == 6 and all(digit in "0123456789abcdefABCDEF" for digit in digits):
        return f"#{digits.upper()}"
    if not words.strip():
        return None
    from reportlab.lib.colors import getAllNamedColors

    named = getAllNamedColors().get(words.strip().lower().replace(" ", ""))
    return f"#{named.hexval()[2:].upper()}" if named is not None and named.alpha == 1 else None


def _luminance(channels: tuple[float, float, float]) -> float:
    """Relative luminance of an sRGB colour, 0 black to 1 white. Source: wcag-2."""
    linear = [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in channels]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def contrast_on_white(colour: str) -> float:
    """Contrast of text in this colour on white paper, 1 (unseen) to 21 (black). Source: wcag-2.

    >>> round(contrast_on_white("#000000"), 6), round(contrast_on_white("#FFFFFF"), 6)
    (21.0, 1.0)
    """
    red, green, blue = (int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5))
    return 1.05 / (_luminance((red, green, blue)) + 0.05)


def _readable(colour: str) -> str:
    """The colour, darkened as far as text on white needs it."""
    while contrast_on_white(colour) < _READABLE_CONTRAST:
        colour = "#" + "".join(f"{int(colour[at : at + 2], 16) * 15 // 16:02X}" for at in (1, 3, 5))
    return colour


@cache
def black() -> Color:
    from reportlab.lib.colors import Color

    return Color(0.1, 0.1, 0.1)


@cache
def grey() -> Color:
    """For words that stand back; still dark enough to be read."""
    from reportlab.lib.colors import Color

    return Color(0.42, 0.42, 0.42)


@cache
def hair() -> Color:
    """For the hair lines between the rows of a table."""
    from reportlab.lib.colors import Color

    return Color(0.72, 0.72, 0.72)


@cache
def accent_colour(look: Look, *, as_text: bool = False) -> Color:
    from reportlab.lib.colors import HexColor

    return HexColor(look.accent_ink if as_text else look.accent)


@cache
def style(name: StyleName, look: Look) -> ParagraphStyle:
    """A paragraph style by its plain name."""
    from reportlab.lib.enums import TA_RIGHT
    from reportlab.lib.styles import ParagraphStyle

    open_fonts()
    text = {
        "fontName": TEXT, "fontSize": TEXT_PT, "leading": LEADING_PT, "textColor": black(),
        "splitLongWords": 1, "allowWidows": 0, "allowOrphans": 0, "bulletFontName": TEXT, "bulletFontSize": TEXT_PT,
    }  # fmt: skip
    ink = accent_colour(look, as_text=True)
    small = {"fontSize": SMALL_PT, "leading": 10, "textColor": grey()}
    own = {
        "text": {},
        "strong": {"fontName": STRONG},
        "right": {"alignment": TA_RIGHT},
        "small": small,
        "small right": {**small, "alignment": TA_RIGHT},
        "title": {"fontName": STRONG, "fontSize": HEAD_PT, "leading": 19, "textColor": ink},
        "heading": {
            "fontName": STRONG,
            "fontSize": HEAD_PT,
            "leading": 19,
            "textColor": ink,
            "spaceBefore": 1.5 * GAP_PT,
            "spaceAfter": GAP_PT / 2,
        },
        "subheading": {"fontName": STRONG, "textColor": ink, "spaceBefore": GAP_PT, "spaceAfter": 2},
        "accent": {"fontName": STRONG, "textColor": ink},
        "list": {"leftIndent": 12, "bulletIndent": 0},
    }
    return ParagraphStyle(name, **{**text, **own[name]})
