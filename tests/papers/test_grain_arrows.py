"""The arrow of the grain on a part that is drawn small: its heads never meet, and it is left out where it would be a blot."""

from dataclasses import replace

import pytest

from estimator.papers.shop.part_drawing import draw_part
from tests.samples import estimate_of


class Pen:
    """A canvas that keeps its lines and takes everything else without a word."""

    def __init__(self) -> None:
        self.lines: list[tuple[float, float, float, float]] = []

    def line(self, *ends: float) -> None:
        self.lines.append(ends)  # type: ignore[arg-type]

    def __getattr__(self, _name: str) -> object:
        return lambda *_words, **_named: None


@pytest.mark.parametrize("grain", ["length", "width"])
@pytest.mark.parametrize(("width_pt", "height_pt"), [(48, 20), (48, 12), (48, 9), (48, 6), (140, 6), (10, 24), (6, 6), (48, 7)])
def test_an_arrow_is_an_arrow_or_is_left_out(grain: str, width_pt: float, height_pt: float) -> None:
    side = next(part for part in estimate_of("one-cabinet").parts if part.part == "side")
    bands = tuple(replace(side.bands[0], side=name) for name in ("front", "back"))
    part, pen = replace(side, grain=grain, bands=bands), Pen()
    draw_part(pen, part, x_pt=0, y_pt=0, width_pt=width_pt, height_pt=height_pt, grain=True)  # type: ignore[arg-type]
    arrow = pen.lines[len(bands) :]
    if height_pt - 2 * 2.4 < 3:
        assert arrow == []
        return
    shaft, *heads = arrow
    along = 0 if grain == "length" else 1
    assert len(heads) == 4
    reached = sum(abs(x1 - x0) if along == 0 else abs(y1 - y0) for x0, y0, x1, y1 in (heads[0], heads[2]))
    assert reached < abs(shaft[along + 2] - shaft[along]), "the two heads meet"
    ys = [y for line in arrow for y in (line[1], line[3])]
    assert min(ys) >= 2.4
    assert max(ys) <= height_pt - 2.4
