"""The small pieces of a page: text goes in; headings that make the outline, paragraphs, lists, rules, tick boxes come out."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from reportlab.platypus.flowables import Flowable

from estimator.papers.page.fonts import draw_text, markup
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
from estimator.papers.page.words import Words

if TYPE_CHECKING:
    from reportlab.pdfgen.canvas import Canvas

HEADING_NEEDS_PT = 80.0
"""A heading goes to the next page when less than this is left below it."""
SHORT_SHARE = 1 / 3
"""Of a page: a section no longer than this is kept whole."""
_NO_END_PT = 1e6


def paragraph(text: str, look: Look, *, name: StyleName = "text") -> Flowable:
    """One paragraph. Plain text is made harmless; a `Markup` is taken as it is."""
    from reportlab.platypus import Paragraph

    return Paragraph(markup(text), style(name, look)) if hasattr(text, "__html__") else Words(text, style(name, look))


def bullet_list(items: Sequence[str], look: Look) -> list[Flowable]:
    """A list, one dash an item."""
    from reportlab.platypus import Paragraph

    look_of_it = style("list", look)
    return [
        Paragraph(markup(item), look_of_it, bulletText="–") if hasattr(item, "__html__") else Words(item, look_of_it, bullet="–")
        for item in items
    ]


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


def kept_whole(story: Sequence[Flowable], look: Look, *, most_share: float = 1) -> list[Flowable]:
    """A section that goes to the next page when it would not end on this one.

    What is taller than `most_share` of a page may be parted like any other.
    """
    from reportlab.platypus import CondPageBreak

    needs_pt = stacked_pt(story, look.width_pt)
    return [CondPageBreak(needs_pt), *story] if needs_pt <= most_share * look.height_pt else list(story)


def short_sections_whole(story: Sequence[Flowable], look: Look) -> list[Flowable]:
    """The same story; a section from one heading to the next that takes no more than a third of a page is never parted."""
    from reportlab.platypus import CondPageBreak, PageBreak

    def is_heading(one: Flowable) -> bool:
        return isinstance(one, Words) and one.level is not None

    sections: list[list[Flowable]] = [[]]
    for one in story:
        begun = any(not is_heading(other) and not isinstance(other, CondPageBreak) for other in sections[-1])
        if isinstance(one, PageBreak) or (is_heading(one) and begun):  # a heading right below another one stays with it
            sections.append([])
        sections[-1].append(one)
    whole: list[Flowable] = []
    for section in sections:
        paged = any(isinstance(one, PageBreak) for one in section)
        whole += section if paged else kept_whole(section, look, most_share=SHORT_SHARE)
    return whole


def stacked_pt(story: Sequence[Flowable], width_pt: float) -> float:
    """How high flowables stand one below the other."""
    return float(sum(one.wrap(width_pt, _NO_END_PT)[1] + one.getSpaceBefore() + one.getSpaceAfter() for one in story))


def title(text: str, look: Look) -> Flowable:
    """The title of a paper: the first entry of its outline."""
    return _outlined(text, look, level=0, name="title")


def _outlined(text: str, look: Look, *, level: int, name: StyleName) -> Flowable:
    if not hasattr(text, "__html__"):
        return Words(text, style(name, look), level=level)
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


class _TickBox(Flowable):  # type: ignore[misc]  # reportlab has no types
    def __init__(self, size_pt: float) -> None:
        super().__init__()
        self.size_pt = size_pt
        self.width = self.height = size_pt + 1

    def drawOn(self, canvas: Canvas, x: float, y: float, _sW: float = 0) -> None:
        canvas.setStrokeColor(black())
        canvas.setLineWidth(LINE_PT)
        canvas.rect(x + 0.5, y + 0.5, self.size_pt, self.size_pt, stroke=1, fill=0)


def tick_box(*, size_pt: float = TEXT_PT) -> Flowable:
    """An empty square to be ticked with a pen."""
    return _TickBox(size_pt)


class Beside(Flowable):  # type: ignore[misc]  # reportlab has no types
    """Columns of flowables side by side, from the top; a page's end never parts them."""

    def __init__(
        self, columns: Sequence[Sequence[Flowable]], *, widths_pt: Sequence[float], between_pt: float = 0, below_pt: float = 0
    ) -> None:
        super().__init__()
        self.columns, self.widths_pt, self.between_pt, self.below_pt = columns, widths_pt, between_pt, below_pt
        self.heights_pt: list[list[float]] = []

    def wrap(self, _width_pt: float, height_pt: float) -> tuple[float, float]:
        if not self.heights_pt:
            self.heights_pt = [
                [one.wrap(width, height_pt)[1] + (one.getSpaceBefore() if at else 0) for at, one in enumerate(column)]
                for column, width in zip(self.columns, self.widths_pt, strict=True)
            ]
        self.width = sum(self.widths_pt) + (len(self.widths_pt) - 1) * self.between_pt
        self.height = max(sum(heights) for heights in self.heights_pt) + self.below_pt
        return self.width, self.height

    def drawOn(self, canvas: Canvas, x: float, y: float, _sW: float = 0) -> None:
        for column, heights, width in zip(self.columns, self.heights_pt, self.widths_pt, strict=True):
            at = y + self.height
            for one, high in zip(column, heights, strict=True):
                at -= high
                one.drawOn(canvas, x, at)
            x += width + self.between_pt


def line_to_write_on(words: str, look: Look, *, width_mm: float) -> Flowable:
    """A line for a signature or a date, with small words below it."""
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
