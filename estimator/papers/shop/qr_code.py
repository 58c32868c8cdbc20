"""A QR code: plain text in, its dark squares as level runs out, ready to be drawn.

reportlab makes the squares. One fixed mask is taken instead of the best of eight: every reader takes any, and a job has hundreds
of labels.
"""

from __future__ import annotations

from functools import lru_cache
from itertools import groupby
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from reportlab.pdfgen.canvas import Canvas

_MASK = 2


@lru_cache(maxsize=4096)
def dark_squares(text: str) -> tuple[tuple[bool, ...], ...]:
    """The rows of squares from the top down; the text is written as UTF-8."""
    from reportlab.graphics.barcode.qrencoder import QR8bitByte, QRCode, QRErrorCorrectLevel

    code = QRCode(None, QRErrorCorrectLevel.L)
    code.addData(QR8bitByte(text))
    code.version = code.calculate_version()
    code.makeImpl(False, _MASK)
    return tuple(tuple(bool(square) for square in row) for row in code.modules)


@lru_cache(maxsize=4096)
def _runs(text: str) -> str:
    """The dark runs as rectangles of a PDF path, a square being one unit; kept, since numbers are slow to write."""
    rows = dark_squares(text)
    runs: list[str] = []
    for number, row in enumerate(rows):
        start = 0
        for dark, group in groupby(row):
            length = len(tuple(group))
            if dark:
                runs.append(f"{start} {len(rows) - 1 - number} {length} 1 re")
            start += length
    return " ".join(runs)


def draw_qr(canvas: Canvas, text: str, *, x_pt: float, y_pt: float, size_pt: float) -> None:
    """The code, as wide and high as said, from its lower left corner."""
    from reportlab.pdfgen.pathobject import PDFPathObject

    step = size_pt / len(dark_squares(text))
    canvas.saveState()
    canvas.setFillGray(0)
    canvas.translate(x_pt, y_pt)
    canvas.scale(step, step)
    canvas.drawPath(PDFPathObject(code=[_runs(text)]), stroke=0, fill=1)
    canvas.restoreState()
