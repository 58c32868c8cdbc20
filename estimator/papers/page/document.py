"""The PDF itself: a story of flowables goes in; bytes with page x of y, metadata and outline come out.

The same story gives the same bytes: no clock, no random name. Pages stand upright; `across()` in a story turns the pages after it
on their side, `upright()` turns them back, `bare()` gives whole sheets of paper without margins or foot. How many pages there are
is known only at the end, so each foot is drawn then, as a form that its page has already placed.
"""

from __future__ import annotations

import os
from collections.abc import Callable, Sequence
from io import BytesIO
from typing import TYPE_CHECKING

from estimator.papers.page.fonts import clean, draw_text, open_fonts, shortened
from estimator.papers.page.look import GAP_PT, SMALL_PT, Look, grey

if TYPE_CHECKING:
    from reportlab.pdfgen.canvas import Canvas
    from reportlab.platypus.doctemplate import BaseDocTemplate, PageTemplate
    from reportlab.platypus.flowables import Flowable

_UPRIGHT, _ACROSS, _BARE = "upright", "across", "bare"
_PAGE_WORDS = "{page} / {pages}"


def document(
    story: Sequence[Flowable],
    *,
    look: Look,
    title: str,
    author: str,
    subject: str = "",
    language_code: str = "en",
    foot: str = "",
    page_words: str = _PAGE_WORDS,
) -> bytes:
    """The bytes of a PDF.

    `foot` stands at the left of every foot; `page_words` at its right, with `{page}` and `{pages}` filled in.
    """
    from reportlab.pdfgen.canvas import Canvas
    from reportlab.platypus.doctemplate import BaseDocTemplate

    open_fonts()

    widths_pt: list[float | None] = []
    """Width of each page; None for one without a foot."""

    class PaperCanvas(Canvas):  # type: ignore[misc]  # reportlab has no types
        """A canvas that draws every foot once the number of pages is known."""

        def save(self) -> None:
            for page, width_pt in enumerate(widths_pt, start=1):
                if width_pt is None:
                    continue
                number = page_words.format(page=page, pages=len(widths_pt))
                _draw_foot(self, form=_form(page), number=number, words=foot, look=look, page_width_pt=width_pt)
            super().save()

    def place_foot(canvas: Canvas, _: BaseDocTemplate) -> None:
        canvas.doForm(_form(canvas.getPageNumber()))
        widths_pt.append(canvas._pagesize[0])

    def place_none(_canvas: Canvas, _: BaseDocTemplate) -> None:
        widths_pt.append(None)

    out = BytesIO()
    paper = BaseDocTemplate(
        out,
        pagesize=(look.page_width_pt, look.page_height_pt),
        title=clean(title),
        author=clean(author),
        subject=clean(subject),
        creator="estimator",
        producer="estimator",
        invariant=1,
        pageCompression=1,
        lang=language_code,
        displayDocTitle=True,
        initialFontName="Text",
    )
    os.environ.pop("SOURCE_DATE_EPOCH", None)  # a day of the builder's: the paper would carry it
    paper.addPageTemplates([*_templates(look, place_foot), _bare_template(look, place_none)])
    paper.build(list(story), canvasmaker=PaperCanvas)
    return out.getvalue()


def _templates(look: Look, place_foot: Callable[[Canvas, BaseDocTemplate], None]) -> list[PageTemplate]:
    from reportlab.platypus import Frame, PageTemplate

    sizes = {_UPRIGHT: (look.page_width_pt, look.page_height_pt), _ACROSS: (look.page_height_pt, look.page_width_pt)}
    return [
        PageTemplate(
            id=name,
            pagesize=(width_pt, height_pt),
            onPage=place_foot,
            frames=[
                Frame(
                    look.side_pt, look.foot_pt, width_pt - 2 * look.side_pt, height_pt - look.foot_pt - look.top_pt,
                    leftPadding=0, rightPadding=0, topPadding=0, bottomPadding=0, id=name,
                )
            ],
        )
        for name, (width_pt, height_pt) in sizes.items()
    ]  # fmt: skip


def _bare_template(look: Look, on_page: Callable[[Canvas, BaseDocTemplate], None]) -> PageTemplate:
    from reportlab.platypus import Frame, PageTemplate

    size = look.page_width_pt, look.page_height_pt
    frame = Frame(0, 0, *size, leftPadding=0, rightPadding=0, topPadding=0, bottomPadding=0, id=_BARE)
    return PageTemplate(id=_BARE, pagesize=size, onPage=on_page, frames=[frame])


def bare() -> Flowable:
    """From the next page on, one flowable has the whole sheet of paper to itself: no margin, no foot."""
    from reportlab.platypus import NextPageTemplate

    return NextPageTemplate(_BARE)


def across() -> Flowable:
    """From the next page on, pages lie on their side."""
    from reportlab.platypus import NextPageTemplate

    return NextPageTemplate(_ACROSS)


def upright() -> Flowable:
    """From the next page on, pages stand upright again."""
    from reportlab.platypus import NextPageTemplate

    return NextPageTemplate(_UPRIGHT)


def new_page() -> Flowable:
    from reportlab.platypus import PageBreak

    return PageBreak()


def _form(page: int) -> str:
    return f"foot-{page}"


def _draw_foot(canvas: Canvas, *, form: str, number: str, words: str, look: Look, page_width_pt: float) -> None:
    y_pt = look.foot_pt - 2 * GAP_PT
    right_pt = page_width_pt - look.side_pt
    canvas.beginForm(form, lowerx=0, lowery=0, upperx=page_width_pt, uppery=look.foot_pt)
    canvas.setFillColor(grey())
    short = shortened(words, width_pt=right_pt - look.side_pt - 80, size_pt=SMALL_PT)
    draw_text(canvas, short, x_pt=look.side_pt, y_pt=y_pt, size_pt=SMALL_PT)
    draw_text(canvas, number, x_pt=right_pt, y_pt=y_pt, size_pt=SMALL_PT, align="right")
    canvas.endForm()
