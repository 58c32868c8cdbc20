"""A cutting diagram keeps its page's room, however many pieces are too narrow to be written in."""

from dataclasses import replace

from estimator.costing.estimate import estimate_job
from estimator.model.exact import Fraction
from estimator.model.results import Estimate
from estimator.papers.page.pieces import Beside
from estimator.papers.shop.cutting_diagrams import cutting_diagrams_story
from estimator.papers.shop.paper import shop_paper
from tests.samples import sample


def widest_diagram_pt(count: int) -> float:
    job = sample("kitchen")
    slat = replace(job.loose_parts[-2], ref="Slatted bench under the window", qty=count, length_mm=Fraction(300), width_mm=Fraction(40))
    estimate = estimate_job(replace(job, cabinets=(), loose_parts=(slat,), extras=(), options=()))
    assert isinstance(estimate, Estimate)
    drawn = [one for one in cutting_diagrams_story(shop_paper(estimate)) if isinstance(one, Beside)]
    return max(float(one.columns[0][0].width) for one in drawn)


def test_twenty_slats_leave_the_drawing_nearly_as_large_as_one_does() -> None:
    assert widest_diagram_pt(20) > 0.75 * widest_diagram_pt(1)
