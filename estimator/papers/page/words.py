"""Plain words on a page: a text and a style go in; a paragraph that breaks its lines, splits over pages and is drawn fast comes out.

reportlab's own paragraph is taken for markup only; a list of a thousand short lines would spend half its time in it.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from functools import lru_cache
from typing import TYPE_CHECKING

from reportlab.lib.enums import TA_RIGHT
from reportlab.platypus.flowables import Flowable

from estimator.papers.page.fonts import STRONG, draw_text, text_width_pt

if TYPE_CHECKING:
    from reportlab.lib.styles import ParagraphStyle
    from reportlab.pdfgen.canvas import Canvas

_BLANKS = re.compile(r"[ \t\r]+(?!\d+/\d|(?<=\d )(?:mm|m|ft|kg|lb)\b)")
"""Between words; a no-break space is none of them, and 23 1/2 or 1 mm is one word."""
_LEAST_LINES = 2
"""No paragraph leaves a single line alone at either side of a page's end."""


@lru_cache(maxsize=4_000)
def broken_lines(text: str, *, width_pt: float, size_pt: float, strong: bool = False, whole_words: bool = False) -> tuple[str, ...]:
    """A text broken between its words where it is wider than the room, and within a word that is wider alone.

    With `whole_words` such a word stays as it is: a drawing then finds that it does not fit.
    """
    lines: list[str] = []
    for given in text.split("\n"):
        line = ""
        for word in _BLANKS.split(given.strip(" \t\r")):
            longer = f"{line} {word}" if line else word
            if text_width_pt(longer, size_pt=size_pt, strong=strong) <= width_pt:
                line = longer
                continue
            if line:
                lines.append(line)
            line = word
            while not whole_words and len(line) > 1 and text_width_pt(line, size_pt=size_pt, strong=strong) > width_pt:
                most = _letters_that_fit(line, width_pt=width_pt, size_pt=size_pt, strong=strong)
                lines.append(line[:most])
                line = line[most:]
        lines.append(line)
    return tuple(lines)


def _letters_that_fit(word: str, *, width_pt: float, size_pt: float, strong: bool) -> int:
    """How many letters from the start fit; at least one."""
    low, high = 1, len(word)
    while low < high:
        middle = (low + high + 1) // 2
        if text_width_pt(word[:middle], size_pt=size_pt, strong=strong) <= width_pt:
            low = middle
        else:
            high = middle - 1
    return low


class Words(Flowable):  # type: ignore[misc]  # reportlab has no types
    """A paragraph of plain text; with `level` it leaves an entry in the outline where it is drawn."""

    def __init__(self, text: str, style: ParagraphStyle, *, bullet: str = "", level: int | None = None) -> None:
        super().__init__()
        self.text, self.style, self.bullet, self.level = text, style, bullet, level
        self.lines: Sequence[str] = ()
        self.fixed = False

    def wrap(self, width_pt: float, _height_pt: float) -> tuple[float, float]:
        style = self.style
        if not self.fixed:
            room, strong = width_pt - style.leftIndent, style.fontName == STRONG
            self.lines = broken_lines(self.text, width_pt=room, size_pt=style.fontSize, strong=strong) if self.text else ()
        self.width, self.height = width_pt, len(self.lines) * style.leading
        return self.width, self.height

    def split(self, width_pt: float, height_pt: float) -> list[Words]:
        """Two lines at least on either page; the whole to the next page where that cannot be."""
        self.wrap(width_pt, height_pt)
        fit = min(int(height_pt / self.style.leading), len(self.lines) - _LEAST_LINES)
        if fit < _LEAST_LINES:
            return []
        return [self._part(self.lines[:fit], first=True), self._part(self.lines[fit:], first=False)]

    def _part(self, lines: Sequence[str], *, first: bool) -> Words:
        part = Words(self.text, self.style, bullet=self.bullet if first else "", level=self.level if first else None)
        part.lines, part.fixed = lines, True
        return part

    def drawOn(self, canvas: Canvas, x: float, y: float, _sW: float = 0) -> None:
        style = self.style
        strong, right = style.fontName == STRONG, style.alignment == TA_RIGHT
        if self.level is not None:
            key = f"at {canvas.getPageNumber()} {y:.0f} {self.text}"
            canvas.bookmarkHorizontal(key, 0, y + self.height)
            canvas.addOutlineEntry(self.text, key, self.level, closed=False)
        if canvas._fillColorObj is not style.textColor:
            canvas.setFillColor(style.textColor)
        base = y + self.height - style.fontSize
        if self.bullet:
            draw_text(canvas, self.bullet, x_pt=x + style.bulletIndent, y_pt=base, size_pt=style.fontSize, strong=strong)
        start = x + self.width if right else x + style.leftIndent
        for line in self.lines:
            draw_text(canvas, line, x_pt=start, y_pt=base, size_pt=style.fontSize, strong=strong, align="right" if right else "left")
            base -= style.leading
