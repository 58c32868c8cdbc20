"""A cutting diagram takes the room that its page has: beside or above its cuts, below a heading, above the words of narrow pieces."""

from dataclasses import replace

from reportlab.platypus import PageBreak

from estimator.costing.estimate import estimate_job
from estimator.model.exact import Fraction
from estimator.model.results import Estimate
from estimator.papers.page.pieces import Beside
from estimator.papers.shop.cutting_diagrams import cutting_diagrams_story
from estimator.papers.shop.paper import shop_paper
from tests.samples import estimate_of, sample


def widest_diagram_pt(count: int) -> float:
    job = sample("kitchen")
    slat = replace(job.loose_parts[-2], ref="Slatted bench under the window", qty=count, length_mm=Fraction(300), width_mm=Fraction(40))
    estimate = estimate_job(replace(job, cabinets=(), loose_parts=(slat,), extras=(), options=()))
    assert isinstance(estimate, Estimate)
    drawn = [one for one in cutting_diagrams_story(shop_paper(estimate)) if isinstance(one, Beside)]
    return max(float(one.columns[0][0].width) for one in drawn)


def test_twenty_slats_leave_the_drawing_nearly_as_large_as_one_does() -> None:
    assert widest_diagram_pt(20) > 0.75 * widest_diagram_pt(1)


def test_a_job_of_one_board_has_its_drawing_below_the_heading() -> None:
    story = cutting_diagrams_story(shop_paper(estimate_of("one-cabinet")))
    assert any(isinstance(one, Beside) for one in story)
    assert not any(isinstance(one, PageBreak) for one in story), "a heading alone on its page"


def test_a_job_of_many_boards_begins_its_drawings_on_a_page_of_their_own() -> None:
    story = cutting_diagrams_story(shop_paper(estimate_of("kitchen")))
    kinds = [type(one) for one in story if isinstance(one, (Beside, PageBreak))]
    assert kinds[:2] == [PageBreak, Beside]


def test_a_sheet_twice_as_long_as_wide_has_its_cuts_below_and_one_nearly_square_beside() -> None:
    """4 by 8 feet and an inch over, on Letter paper: beside its cuts the drawing was 5.6 inches wide."""
    for name, widest in (("inch-job", True), ("one-cabinet", False)):
        paper = shop_paper(estimate_of(name))
        first = next(one for one in cutting_diagrams_story(paper) if isinstance(one, Beside))
        assert (len(first.columns) == 1) == widest
        if widest:
            assert float(first.columns[0][0].width) > 0.7 * paper.look.across_width_pt
