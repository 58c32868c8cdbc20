"""The time sheet stands on one page for as long as its steps do: empty rows and height give way before a second page begins."""

from dataclasses import replace

import pytest

from estimator.papers.page.pieces import stacked_pt
from estimator.papers.page.rows import Rows
from estimator.papers.shop.paper import ShopPaper, shop_paper
from estimator.papers.shop.time_sheet import time_sheet_story
from tests.samples import estimate_of


def of_steps(count: int) -> ShopPaper:
    """The inch job, on Letter paper, with so many steps."""
    estimate = estimate_of("inch-job")
    step = next(one for one in estimate.minutes.steps if one.minutes)
    return shop_paper(replace(estimate, minutes=replace(estimate.minutes, steps=(step,) * count)))


@pytest.mark.parametrize(("count", "empty"), [(10, 4), (27, 4), (29, 2), (30, 1), (31, 0), (32, 4)])
def test_empty_rows_give_way_before_a_second_page_begins(count: int, empty: int) -> None:
    paper = of_steps(count)
    story = time_sheet_story(paper)
    (sheet,) = [one for one in story if isinstance(one, Rows)]
    assert len(sheet.lines) - count == empty
    assert (stacked_pt(story, paper.look.width_pt) <= paper.look.height_pt) == (count < 32)
