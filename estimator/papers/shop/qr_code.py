"""A QR code: plain text in, its dark squares as level runs out, ready to be drawn.

reportlab makes the squares. One fixed mask is taken instead of the best of eight: every reader takes any, and a job has hundreds
of labels.
"""

from __future__ import annotations

from functools import lru_cache
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


def draw_qr(canvas: Canvas, text: str, *, x_pt: float, y_pt: float, size_pt: float) -> None:
    """The code, as wide and high as said, from its lower left corner."""
    rows = dark_squares(text)
    step = size_pt / len(rows)
    path = canvas.beginPath()
    for number, row in enumerate(rows):
        y = y_pt + size_pt - (number + 1) * step
        start = 0
        while start < len(row):
            end = start
            while end < len(row) and row[end]:
                end += 1
            if end > start:
                path.rect(x_pt + start * step, y, (end - start) * step, step)
            start = end + 1
    canvas.saveState()
    canvas.setFillGray(0)
    canvas.drawPath(path, stroke=0, fill=1)
    canvas.restoreState()
