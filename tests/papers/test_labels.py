"""One label: its words, its code and its drawing stand beside one another, whatever the part is called and however it is banded."""

import io
from dataclasses import replace
from pathlib import Path

import pytest
from reportlab.pdfgen.canvas import Canvas

from estimator.costing.estimate import estimate_job
from estimator.model.exact import Fraction
from estimator.papers.page.look import PT_PER_MM
from estimator.papers.shop import labels
from estimator.papers.shop.labels import Label
from estimator.papers.shop.paper import ShopPaper, shop_paper
from estimator.reading.workbook import read_job

Box = tuple[float, float, float, float]


@pytest.fixture(scope="module")
def paper() -> ShopPaper:
    return shop_paper(estimate_job(read_job(Path(__file__).parents[2] / "workbooks" / "inch-job.xlsx")))


@pytest.mark.parametrize(
    ("ref", "name"),
    [
        pytest.param("Island 3", "island back", id="short names"),
        pytest.param("Island 3 at the long wall below the window", "island back, seen from the room", id="long names"),
    ],
)
@pytest.mark.parametrize(("length_mm", "width_mm"), [(876, 1216), (1216, 876), (2134, 57)])
@pytest.mark.parametrize(("columns", "rows"), [(3, 8), (3, 10), (2, 7)])
def test_the_drawing_stands_beside_the_code(
    paper: ShopPaper, monkeypatch: pytest.MonkeyPatch, ref: str, name: str, length_mm: int, width_mm: int, columns: int, rows: int
) -> None:
    drawn: list[Box] = []
    coded: list[Box] = []
    monkeypatch.setattr(labels, "draw_part", lambda _c, _p, *, x_pt, y_pt, width_pt, height_pt, grain: drawn.append((x_pt, y_pt, x_pt + width_pt, y_pt + height_pt)))
    monkeypatch.setattr(labels, "draw_qr", lambda _c, _t, *, x_pt, y_pt, size_pt: coded.append((x_pt, y_pt, x_pt + size_pt, y_pt + size_pt)))
    banded = next(part for part in paper.estimate.parts if len(part.bands) == 4)
    bands = tuple(replace(band, edging=replace(band.edging, edging="walnut pattern, brushed, 1 mm")) for band in banded.bands[:3])
    part = replace(banded, ref=ref, part=name, board="walnut pattern 3/4", bands=bands, length_mm=Fraction(length_mm), width_mm=Fraction(width_mm), count_each=2)
    wide_pt, high_pt = paper.look.page_width_pt / columns, paper.look.page_height_pt / rows
    labels._draw_label(Canvas(io.BytesIO()), paper, Label(part, 1), x_pt=0, y_pt=0, width_pt=wide_pt, height_pt=high_pt)
    (code,) = coded
    for box in drawn:
        assert box[2] <= code[0] or box[3] <= code[1], "the drawing covers the code"
        assert box[2] <= wide_pt
    if (columns, rows, ref) == (3, 8, "Island 3"):
        assert len(drawn) == 1
        assert min(drawn[0][2] - drawn[0][0], drawn[0][3] - drawn[0][1]) >= 2 * PT_PER_MM
