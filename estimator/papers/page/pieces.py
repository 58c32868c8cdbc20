"""The small pieces of a page: text goes in; headings that make the outline, paragraphs, lists, rules, tick boxes come out."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from estimator.papers.page.fonts import markup
from estimator.papers.page.look import (
    GAP_PT,
    HAIR_PT,
    LINE_PT,
    PT_PER_MM,
    SMALL_PT,
    TEXT_PT,
    Look,
    StyleName,
    accent_colour,
    black,
    grey,
    hair,
    style,
)

if TYPE_CHECKING:
    from reportlab.platypus.flowables import Flowable

HEADING_NEEDS_PT = 80.0
"""A heading goes to the next page when less than this is left below it."""


def paragraph(text: str, look: Look, *, name: StyleName = "text") -> Flowable:
    """One paragraph. Plain text is made harmless; a `Markup` is taken as it is."""
    from reportlab.platypus import Paragraph

    return Paragraph(markup(text), style(name, look))


def bullet_list(items: Sequence[str], look: Look) -> list[Flowable]:
    """A list, one dash an item."""
    from reportlab.platypus import Paragraph

    return [Paragraph(markup(item), style("list", look), bulletText="–") for item in items]


def gap(steps: float = 1) -> Flowable:
    """White space of so many steps of the grid; it vanishes at the top of a page."""
    from reportlab.platypus import Spacer

    return Spacer(1, steps * GAP_PT)


def heading(
    text: str, look: Look, *, level: int = 0, needs_pt: float = HEADING_NEEDS_PT, name: StyleName | None = None
) -> list[Flowable]:
    """A heading that stands in the PDF's outline (level 0 and 1) and never at the foot of a page.

    `needs_pt` is how much must follow on the same page, the heading included.
    """
    from reportlab.platypus import CondPageBreak

    return [CondPageBreak(needs_pt), _outlined(text, look, level=level, name=name or ("heading", "subheading")[min(level, 1)])]


def title(text: str, look: Look) -> Flowable:
    """The title of a paper: the first entry of its outline."""
    return _outlined(text, look, level=0, name="title")


def _outlined(text: str, look: Look, *, level: int, name: StyleName) -> Flowable:
    from reportlab.platypus import Paragraph

    class Outlined(Paragraph):  # type: ignore[misc]  # reportlab has no types
        """A paragraph that leaves an entry in the outline where it is drawn."""

        def draw(self) -> None:
            key = f"at {self.canv.getPageNumber()} {id(self)}"
            self.canv.bookmarkHorizontal(key, 0, self.height)
            self.canv.addOutlineEntry(str(text), key, level, closed=False)
            super().draw()

    return Outlined(markup(text), style(name, look))


def rule(look: Look, *, width_pt: float | None = None, accent: bool = True) -> Flowable:
    """A line across the page (or as wide as said)."""
    from reportlab.platypus import HRFlowable

    return HRFlowable(
        width=look.width_pt if width_pt is None else width_pt,
        thickness=LINE_PT if accent else HAIR_PT,
        color=accent_colour(look) if accent else hair(),
        spaceBefore=0,
        spaceAfter=GAP_PT / 2,
        hAlign="LEFT",
    )


def tick_box(*, size_pt: float = TEXT_PT) -> Flowable:
    """An empty square to be ticked with a pen."""
    from reportlab.platypus.flowables import Flowable

    class TickBox(Flowable):  # type: ignore[misc]
        def __init__(self) -> None:
            super().__init__()
            self.width = self.height = size_pt + 1

        def draw(self) -> None:
            self.canv.setStrokeColor(black())
            self.canv.setLineWidth(LINE_PT)
            self.canv.rect(0.5, 0.5, size_pt, size_pt, stroke=1, fill=0)

    return TickBox()


def line_to_write_on(words: str, look: Look, *, width_mm: float) -> Flowable:
    """A line for a signature or a date, with small words below it."""
    from reportlab.platypus.flowables import Flowable

    from estimator.papers.page.fonts import draw_text

    class WritingLine(Flowable):  # type: ignore[misc]
        def __init__(self) -> None:
            super().__init__()
            self.width, self.height = width_mm * PT_PER_MM, 3.2 * GAP_PT

        def draw(self) -> None:
            self.canv.setStrokeColor(black())
            self.canv.setLineWidth(HAIR_PT)
            self.canv.line(0, GAP_PT, self.width, GAP_PT)
            self.canv.setFillColor(grey())
            draw_text(self.canv, words, x_pt=0, y_pt=1.5, size_pt=SMALL_PT)

    return WritingLine()
