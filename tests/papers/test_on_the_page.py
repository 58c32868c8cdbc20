"""Every letter of every paper lies on its page and is large enough to be read: 7 points, the least that a printer keeps clear.

Everyday jobs: the kitchen and the inch job. `PAPERS=all` takes the jobs that a person looks at too, one of 60 cabinets among them.
"""

import ctypes
import os
import tempfile
from collections.abc import Callable, Iterator
from pathlib import Path

import pypdfium2
import pypdfium2.raw as pdfium
import pytest

from estimator.model.results import Estimate
from estimator.papers.client_quote import quote_pdf
from estimator.papers.owner_pages import owner_pdf
from estimator.papers.page.fonts import draw_text
from estimator.papers.shop_papers import shop_pdf
from tests.papers.jobs_to_look_at import estimates
from tests.samples import estimate_of

LEAST_PT = 7
PAPERS = (quote_pdf, shop_pdf, owner_pdf)


def jobs() -> Iterator[Estimate]:
    if os.environ.get("PAPERS") == "all":
        with tempfile.TemporaryDirectory() as folder:
            yield from (estimate for _, estimate in estimates(Path(folder)))
    else:
        yield from (estimate_of(name) for name in ("kitchen", "inch-job"))


def amiss(pdf: bytes) -> list[str]:
    """Letters off their page, or too small."""
    found = []
    for number, page in enumerate(pypdfium2.PdfDocument(pdf), start=1):
        width, height = page.get_size()
        text = page.get_textpage()
        for at in range(text.count_chars()):
            letter = chr(pdfium.FPDFText_GetUnicode(text, at))
            if letter.isspace() or pdfium.FPDFText_IsGenerated(text, at):
                continue
            left, foot, right, top = text.get_charbox(at)
            if left < 0 or foot < 0 or right > width or top > height:
                found.append(f"page {number}: {letter} lies off the page")
            matrix = pdfium.FS_MATRIX()
            pdfium.FPDFText_GetMatrix(text, at, ctypes.byref(matrix))
            size = pdfium.FPDFText_GetFontSize(text, at) * max(abs(matrix.a), abs(matrix.b))
            if size < LEAST_PT - 0.001:
                found.append(f"page {number}: {letter} is {size:.1f} pt")
    return found


@pytest.mark.parametrize("paper", PAPERS, ids=lambda paper: paper.__name__)
def test_every_letter_is_on_its_page_and_large_enough(paper: Callable[[Estimate], bytes]) -> None:
    for estimate in jobs():
        assert amiss(paper(estimate)) == []


def test_a_letter_too_small_or_off_the_page_is_seen() -> None:
    from io import BytesIO

    from reportlab.pdfgen.canvas import Canvas

    memory = BytesIO()
    canvas = Canvas(memory, pagesize=(100, 100))
    draw_text(canvas, "a", x_pt=20, y_pt=20, size_pt=6.5)
    draw_text(canvas, "b", x_pt=97, y_pt=20, size_pt=9)
    draw_text(canvas, "c", x_pt=20, y_pt=60, size_pt=7)
    canvas.save()
    assert amiss(memory.getvalue()) == ["page 1: a is 6.5 pt", "page 1: b lies off the page"]
