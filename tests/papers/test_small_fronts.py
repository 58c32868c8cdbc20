"""The small fronts of the quote's schedule are to one scale, and three inches with their fractions stand in one line."""

from collections.abc import Iterator

import pytest
from reportlab.platypus.flowables import Flowable

from estimator.papers.client_quote import views_by_row
from estimator.papers.page.look import PT_PER_MM
from estimator.papers.page.rows import Rows
from estimator.papers.quote.paper import quote_paper
from estimator.papers.quote.schedule import schedule_story
from tests.samples import estimate_of


def drawn_cabinets(name: str) -> Iterator[tuple[str, Flowable, int]]:
    """Ref, picture and lines of the size of each cabinet of the schedule."""
    paper = quote_paper(estimate_of(name), words=None, logo=None)
    views = views_by_row(paper)
    cabinets = {view.ref for view, _ in views.values()}
    for one in schedule_story(paper, views):
        if isinstance(one, Rows):
            for row in one.lines:
                if row.cells[0].lines[0] in cabinets:
                    yield row.cells[0].lines[0], row.cells[1].flowables[0], len(row.cells[3].lines)


@pytest.mark.parametrize("name", ["kitchen", "inch-job", "wardrobe"])
def test_every_front_is_drawn_to_the_same_scale(name: str) -> None:
    paper = quote_paper(estimate_of(name), words=None, logo=None)
    views = {view.ref: view for view, _ in views_by_row(paper).values()}
    scales = {
        round(picture_mm / float(real_mm), 6)
        for ref, picture, _ in drawn_cabinets(name)
        for picture_mm, real_mm in (
            ((picture.width - 4) / PT_PER_MM, views[ref].outer_width_mm),
            ((picture.height - 4) / PT_PER_MM, views[ref].outer_height_mm),
        )
    }
    assert len(scales) == 1


def test_sizes_in_inches_stand_in_one_line() -> None:
    assert {lines for _, _, lines in drawn_cabinets("inch-job")} == {1}
