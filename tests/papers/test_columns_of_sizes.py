"""Sizes in inches stand in one line wherever a part is listed for the saw or for the contract bander."""

from collections.abc import Iterator
from dataclasses import replace

import pytest

from estimator.model.exact import Fraction
from estimator.papers.page.rows import Rows
from estimator.papers.shop.cut_list import cut_list_story
from estimator.papers.shop.glue_day_sheet import glue_day_story
from estimator.papers.shop.paper import ShopPaper, shop_paper
from estimator.papers.shop.send_out_sheet import send_out_story
from tests.samples import estimate_of

LONG_MM = Fraction(757), Fraction(357)


def a_paper() -> ShopPaper:
    """The inch job with everything sent out, every part 29 13/16 by 14 1/16 inches and a hair less."""
    estimate = estimate_of("inch-job", banding="send out")
    parts = tuple(replace(part, cut_length_mm=LONG_MM[0], cut_width_mm=LONG_MM[1]) for part in estimate.parts)
    return shop_paper(replace(estimate, parts=parts))


def sizes_in(story: list[object], at: int) -> Iterator[tuple[str, ...]]:
    for one in story:
        if isinstance(one, Rows) and len(one.columns_pt) > at:
            yield from (tuple(line.cells[at].lines) for line in one.lines if "×" in " ".join(line.cells[at].lines))


def test_the_edging_of_a_glue_batch_stands_in_one_line() -> None:
    estimate = estimate_of("inch-job")
    assert estimate.glue_day is not None
    named = tuple(replace(batch, edging="oak pattern 1 mm", side="long edges") for batch in estimate.glue_day.batches)
    story = glue_day_story(shop_paper(replace(estimate, glue_day=replace(estimate.glue_day, batches=named))))
    told = {tuple(line.cells[1].lines) for one in story if isinstance(one, Rows) and len(one.columns_pt) == 5 for line in one.lines}
    assert told == {("oak pattern 1 mm, long edges",)}


@pytest.mark.parametrize(("story", "at"), [(cut_list_story, 3), (send_out_story, 3)])
def test_a_size_is_never_broken(story: object, at: int) -> None:
    paper = a_paper()
    found = set(sizes_in(story(paper), at))  # type: ignore[operator]
    assert found == {("29 13/16− × 14 1/16−",)}
