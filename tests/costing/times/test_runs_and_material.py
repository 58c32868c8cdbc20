"""A run of identical cabinets as a what-if that touches no price; a shop's own waste from what it really took."""

import json
from dataclasses import replace

import pytest

from estimator.batch import price_book
from estimator.costing.estimate import estimate_job
from estimator.costing.times.material import JobUse, material_use
from estimator.model.exact import Fraction
from estimator.model.results import Estimate
from estimator.papers.estimate_json import estimate_data
from estimator.papers.owner_pages import owner_pdf
from tests.costing.banding.worked import loose
from workbooks.draw import HERE

F = Fraction


def one_cabinet(qty: int, **learning: object) -> Estimate:
    """The cabinet that is reckoned on paper, so many times: cut 11 and assemble 22 minutes each, by hand the rest."""
    read = price_book(HERE / "one-cabinet.xlsx")
    assert isinstance(read, Estimate)
    job = read.job
    answer = estimate_job(replace(job, cabinets=(replace(job.cabinets[0], qty=qty),), shop=replace(job.shop, **learning)))
    assert isinstance(answer, Estimate)
    return answer


@pytest.mark.parametrize(
    ("model", "total"),
    [("unit model", F("3.738")), ("cumulative average", 5 * F("0.596"))],
    ids=["the printed total time of five units at 80 %", "five times the printed average"],
)
def test_five_alike_at_80_percent(model: str, total: Fraction) -> None:
    """Published coefficients: unit time 0.596 and total time 3.738 at 5 units. One cabinet's own steps take 33 minutes."""
    quicker = one_cabinet(5, learning=model, learning_share=F(80, 100)).runs_quicker
    assert quicker is not None
    (run,) = quicker.runs
    assert (run.count, run.each_min) == (5, 33)
    assert abs(run.learned_min - 33 * total) < 33 * 5 * F("0.0005")
    assert quicker.saved_min == 5 * 33 - run.learned_min
    assert quicker.saved_cost == quicker.saved_min / 60 * 54


def test_nothing_else_changes_and_off_is_the_default() -> None:
    plain, asked = one_cabinet(5), one_cabinet(5, learning="unit model", learning_share=F(80, 100), learning_floor_share=F(70, 100))
    before, after = estimate_data(plain), estimate_data(asked)
    assert before.pop("learning_what_if") is None
    what_if = after.pop("learning_what_if")
    assert (what_if["model"], what_if["learning"], what_if["floor"]) == ("unit model", "0.8", "0.7")
    assert json.dumps(before) == json.dumps(after)


def test_loose_parts_beside_them_are_no_part_of_a_run() -> None:
    plain = one_cabinet(5, learning="unit model", learning_share=F(80, 100))
    shelf = loose("shelf", 9, 560, 280, "", board=plain.job.boards[0].board)
    answer = estimate_job(replace(plain.job, loose_parts=(shelf,)))
    assert isinstance(answer, Estimate)
    assert answer.runs_quicker == plain.runs_quicker


def test_one_cabinet_is_no_run() -> None:
    assert one_cabinet(1, learning="unit model").runs_quicker is None


def test_the_owners_pages_show_it_as_a_what_if() -> None:
    from io import BytesIO

    pypdf = pytest.importorskip("pypdf")
    pages = [owner_pdf(one_cabinet(5, learning=model)) for model in ("", "cumulative average")]
    plain, asked = (" ".join(page.extract_text() for page in pypdf.PdfReader(BytesIO(pdf)).pages) for pdf in pages)
    assert "goes quicker" not in plain
    assert "What if a run of identical cabinets goes quicker" in asked
    assert "cumulative average" in asked


def jobs(*taken: str) -> list[JobUse]:
    return [JobUse(f"job {n}", F(100), F(one), F(100), F(one)) for n, one in enumerate(taken)]


def test_spare_is_what_was_taken_on_top() -> None:
    """By hand: 108, 110, 112, 109 and 111 m for 100 m of strips each are 10 % on average."""
    use = material_use("white", "edging", jobs("108", "110", "112", "109", "111"), now_share=F(5, 100))
    assert use.share == F(10, 100)
    assert use.from_share is not None
    assert use.from_share < F(10, 100) < use.to_share
    assert (use.planned, use.used) == (500, 550)


def test_yield_is_a_division() -> None:
    """Waste is a division: 142.857 m2 taken for 100 m2 of parts is 30 % waste, a yield of 70 %, not of 57 %."""
    use = material_use("oak", "board", jobs("142.857", "142.856", "142.858", "142.857", "142.857"), now_share=None)
    assert abs(use.share - F(70, 100)) < F(1, 10**5)
    assert use.from_share <= use.share <= use.to_share


def test_fewer_than_five_jobs_suggest_nothing_and_a_wild_one_is_named() -> None:
    assert material_use("white", "edging", jobs("108", "110"), now_share=None).from_share is None
    use = material_use("white", "edging", jobs("108", "110", "112", "109", "111", "300"), now_share=None)
    assert use.wild == ("job 5",)
    assert use.share == F(10, 100)
