"""Where a line may end: never between a number and its unit, or between an inch and its fraction."""

import pytest

from estimator.papers.page.fonts import text_width_pt
from estimator.papers.page.words import broken_lines


@pytest.mark.parametrize(
    ("as_wide_as", "rest", "lines"),
    [
        pytest.param("front: oak pattern 1", "mm", ("front: oak pattern", "1 mm"), id="a number and its unit"),
        pytest.param("all the way along 34", "1/2", ("all the way along", "34 1/2"), id="an inch and its fraction"),
        pytest.param("seventeen strips of 12", "mmm", ("seventeen strips of 12", "mmm"), id="a word that only begins like a unit"),
        pytest.param("in feet and then in", "mm", ("in feet and then in", "mm"), id="a unit without a number"),
    ],
)
def test_lines_end_between_words(as_wide_as: str, rest: str, lines: tuple[str, ...]) -> None:
    room_pt = text_width_pt(as_wide_as, size_pt=9) + 1
    assert broken_lines(f"{as_wide_as} {rest}", width_pt=room_pt, size_pt=9) == lines
