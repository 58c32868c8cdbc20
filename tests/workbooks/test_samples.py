"""Every drawn job is read and priced as it stands, beside its shop's book; the paper example comes out as on paper."""

from pathlib import Path

import pytest

from estimator.batch import price_book
from estimator.model.exact import Fraction
from estimator.model.results import Estimate
from estimator.papers.form_book import blank_book
from workbooks.draw import HERE, workbooks

JOBS = sorted(set(workbooks()) - {"shop.xlsx"})


def priced(path: Path) -> Estimate:
    answer = price_book(path)
    assert isinstance(answer, Estimate), "\n".join(str(problem) for problem in answer.problems)
    return answer


@pytest.mark.parametrize("name", JOBS)
def test_a_sample_job_prices_as_it_stands(name: str) -> None:
    answer = priced(HERE / name)
    assert answer.price.gross > 0
    assert sum(each.amount for each in answer.price.instalments) == answer.price.gross


def test_the_cabinet_reckoned_on_paper_comes_to_179_65() -> None:
    """One open wall cabinet, by hand: cost 112.285416, / 0.75 = 149.71, tax 29.94, gross 179.65."""
    answer = priced(HERE / "one-cabinet.xlsx")
    assert answer.cost.base == Fraction("112.285416")
    assert (answer.price.net, answer.price.tax_total, answer.price.gross) == (
        Fraction("149.71"),
        Fraction("29.94"),
        Fraction("179.65"),
    )
    assert [each.amount for each in answer.price.instalments] == [Fraction("89.83"), Fraction("89.82")]


def test_the_kitchen_is_a_fair_contest_between_bench_and_contract_bander() -> None:
    """Some edgings go out and some stay, and that is cheaper than all by hand and than every edging that may go."""
    answer = priced(HERE / "kitchen.xlsx")
    possible = [plan for plan in answer.banding.plans if plan.possible and plan.relevant_cost is not None]
    by_hand = next(plan for plan in possible if not plan.sent)
    all_that_may_go = max(possible, key=lambda plan: len(plan.sent))
    best = answer.banding.best
    assert best.sent
    assert best.relevant_cost is not None
    assert all(best.relevant_cost < plan.relevant_cost for plan in (by_hand, all_that_may_go) if plan.relevant_cost is not None)
    assert sum(cabinet.qty for cabinet in answer.job.cabinets) in range(14, 18)
    assert len(answer.options) == 2


def test_the_wardrobe_must_send_its_thick_edge() -> None:
    answer = priced(HERE / "wardrobe.xlsx")
    assert all("walnut 2 mm" in plan.sent for plan in answer.banding.plans if plan.possible)


def test_what_blank_writes_can_be_read_back_and_priced(tmp_path: Path) -> None:
    path = tmp_path / "new.xlsx"
    path.write_bytes(blank_book())
    answer = priced(path)
    assert answer.price.gross > 0
    assert all(cabinet.note.startswith("sample") for cabinet in answer.job.cabinets)
