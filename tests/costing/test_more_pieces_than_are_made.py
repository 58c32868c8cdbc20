"""A slip in a Qty, in a rule of Count or in a price list: told or reckoned in bounded time, never a machine out of memory."""

from __future__ import annotations

from dataclasses import replace

from estimator.costing import parts
from estimator.costing.cutting import several_proofs
from estimator.costing.cutting.several_proofs import _least_for
from estimator.costing.estimate import estimate_job
from estimator.costing.parts import parts_of_job
from estimator.model.cutting_plan import StockSheet
from estimator.model.exact import Fraction
from estimator.model.records import Job
from estimator.model.refusal import Refusal
from tests.samples import sample


def one_cabinet(*, qty: int = 1, count: str = "shelves") -> Job:
    job = sample("one-cabinet")
    construction = tuple(replace(row, count=count) if row.part == "shelf" else row for row in job.construction)
    return replace(job, cabinets=(replace(job.cabinets[0], qty=qty),), construction=construction)


def test_a_rule_that_asks_for_a_million_million_pieces() -> None:
    answer = estimate_job(one_cabinet(count="1000000000000"))
    assert isinstance(answer, Refusal)
    assert [str(one) for one in answer.problems] == [
        "one-cabinet.xlsx > Construction > C5\n"
        "    found     1,000,000,000,000 pieces of shelf of Kitchen 1, and more than 50,000 in the whole job\n"
        "    expected  Count: so many that the job has at most 50,000 pieces\n"
        "    to mend   look for a slip here; a job that is truly so large is split into several workbooks"
    ]


def test_a_quantity_beyond_measure_is_told_at_its_own_cell() -> None:
    made = parts_of_job(one_cabinet(qty=10_001))
    assert [(str(one.place), one.expected) for one in made.problems] == [
        ("one-cabinet.xlsx > Cabinets > D2", "Qty: so many that the job has at most 50,000 pieces")
    ]
    assert parts_of_job(one_cabinet(qty=10_000)).problems == ()


def test_after_too_many_pieces_no_more_are_made(monkeypatch) -> None:  # type: ignore[no-untyped-def]
    monkeypatch.setattr(parts, "MOST_PIECES", 1)
    assert [one.part for one in parts_of_job(one_cabinet()).parts] == ["side"]


def test_a_cover_from_more_sizes_than_can_be_tried_is_never_above_the_true_one(monkeypatch) -> None:  # type: ignore[no-untyped-def]
    one = Fraction(1)
    stock = [StockSheet(one, one, one, Fraction(101 * weight + weight % 3, 100), 0, buyable=True) for weight in range(3, 2_000)]
    proof = several_proofs.Proof(9_999, tuple(range(3, 2_000)))
    bounded = _least_for(proof, stock)  # more sizes than Python bears calls within calls
    assert 9_999 <= bounded <= min(sheet.price * -(-9_999 // weight) for sheet, weight in zip(stock, proof.sheets, strict=True))
    few = several_proofs.Proof(10, (3, 4, 0))
    assert _least_for(few, stock[:3]) == 2 * stock[0].price + stock[1].price  # 3 + 3 + 4
    monkeypatch.setattr(several_proofs, "_MOST_TRIES", 0)
    assert _least_for(few, stock[:3]) == 10 * stock[0].price / 3
