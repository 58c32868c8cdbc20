"""The bridge from one price to another: it adds up over random pairs, and each step is the change that it names.

The pairs are random jobs of the second opinion's generator: a job and itself with a handful of random changes, and two jobs that
have nothing in common. ESTIMATOR_BRIDGES sets how many pairs (a few every day, 200 in the long checks).
"""

import os
from collections.abc import Callable
from dataclasses import replace
from functools import cache
from pathlib import Path
from random import Random
from tempfile import TemporaryDirectory
from typing import Any

import pytest

from estimator.costing.bridge import bridge_of
from estimator.costing.estimate import estimate_job
from estimator.model.comparison import Bridge
from estimator.model.exact import Fraction
from estimator.model.records import Job
from estimator.model.refusal import Refusal
from estimator.model.results import Estimate
from estimator.model.shop_records import Money, Share
from estimator.reading.workbook import read_job
from tests.oracle.book import write
from tests.oracle.random_jobs import random_job

PAIRS = int(os.environ.get("ESTIMATOR_BRIDGES", "8"))
SEEDS = range(90_000, 90_000 + PAIRS)
HOUSE = Path(__file__).parents[2]


@cache
def job_of(seed: int) -> Job:
    with TemporaryDirectory() as folder:
        job = read_job(Path(write(random_job(seed, most_cabinets=8), Path(folder))))
    assert not isinstance(job, Refusal), job
    return job


def gross_of(job: Job) -> Fraction | None:
    answer = estimate_job(replace(job, options=()))
    return answer.price.gross if isinstance(answer, Estimate) else None


def bridged(old: Job, new: Job) -> Bridge:
    answer = bridge_of(old, new)
    assert isinstance(answer, Bridge), [str(problem) for problem in answer.problems]
    return answer


def some_other(rows: tuple[Any, ...], rng: Random, **fields: Callable[[Any], Any]) -> tuple[Any, ...]:
    """The rows with one of them changed in one field."""
    if not rows:
        return rows
    at, name = rng.randrange(len(rows)), rng.choice(sorted(fields))
    value = fields[name](getattr(rows[at], name))
    return (*rows[:at], replace(rows[at], **{name: value}), *rows[at + 1 :])


def dearer(value: Fraction) -> Fraction:
    return value * Fraction(11, 10) + 1


def changed(job: Job, rng: Random) -> Job:
    """The job after an owner has been at it: a few changes of every kind, some of which nobody can price."""
    def turned(rows: tuple[Any, ...]) -> tuple[Any, ...]:
        return rows[1:] + rows[:1]

    changes: list[Callable[[Job], Job]] = [
        lambda job: replace(job, cabinets=some_other(job.cabinets, rng, qty=lambda n: n + 1, width_mm=lambda mm: mm - 13)),
        lambda job: replace(job, cabinets=job.cabinets[:-1] if len(job.cabinets) > 1 else job.cabinets),
        lambda job: replace(job, cabinets=(*job.cabinets, *(replace(row, ref=f"{row.ref} more", qty=2) for row in job.cabinets[:1]))),
        lambda job: replace(job, cabinets=turned(job.cabinets)),
        lambda job: replace(job, loose_parts=some_other(job.loose_parts, rng, qty=lambda n: n + 2)),
        lambda job: replace(job, boards=some_other(job.boards, rng, price=dearer)),
        lambda job: replace(job, edgings=some_other(job.edgings, rng, price_per_m=dearer, overhang_mm=lambda mm: mm + 3)),
        lambda job: replace(job, fittings=some_other(job.fittings, rng, price=dearer)),
        lambda job: replace(job, work=some_other(job.work, rng, minutes=dearer)),
        lambda job: replace(job, work=job.work[:-1]),
        lambda job: replace(job, shop=replace(job.shop, allowance_share=job.shop.allowance_share + Fraction(1, 50))),
        lambda job: replace(job, terms=replace(job.terms, discount=Share(Fraction(3, 100)))),
        lambda job: replace(job, terms=replace(job.terms, discount=Money(Fraction(7)))),
        lambda job: replace(job, terms=replace(job.terms, margin_share=Fraction(31, 100), markup_share=None)),
        lambda job: replace(job, terms=replace(job.terms, delivery_charge=job.terms.delivery_charge + 40)),
        lambda job: replace(job, terms=replace(job.terms, client="Somebody else", lead_time_words="ten weeks")),
    ]  # fmt: skip
    for change in rng.sample(changes, rng.randint(1, 6)):
        after = change(job)
        job = after if gross_of(after) is not None else job
    return job


@pytest.mark.parametrize("seed", SEEDS)
def test_the_steps_add_up_to_the_cent(seed: int) -> None:
    old, rng = job_of(seed), Random(seed)
    new = changed(old, rng) if seed % 4 else job_of(seed + 1_000)
    old = replace(old, terms=replace(old.terms, currency=new.terms.currency))
    before, after = gross_of(old), gross_of(new)
    assert before is not None
    assert after is not None
    bridge = bridged(old, new)
    assert bridge.old.gross == before
    assert bridge.new.gross == after
    assert before + sum((step.gross for step in bridge.steps), start=Fraction(0)) == after
    for earlier, later in zip(bridge.steps, bridge.steps[1:], strict=False):
        assert earlier.after == later.before
    assert all(step.changes for step in bridge.steps)


@pytest.mark.parametrize("seed", SEEDS)
def test_back_again_is_the_same_difference_with_the_other_sign(seed: int) -> None:
    old = job_of(seed)
    new = changed(old, Random(seed + 7))
    there, back = bridged(old, new), bridged(new, old)
    assert sum(step.gross for step in there.steps) == -sum(step.gross for step in back.steps)


@pytest.mark.parametrize("seed", SEEDS[:3])
def test_a_job_and_itself_have_no_difference(seed: int) -> None:
    bridge = bridged(job_of(seed), job_of(seed))
    assert bridge.steps == ()
    assert bridge.listed == ()


@cache
def kitchen() -> Job:
    job = read_job(HOUSE / "workbooks" / "kitchen.xlsx")
    assert isinstance(job, Job)
    return job


def test_each_step_is_the_price_of_its_own_change() -> None:
    """Two more drawers, then a dearer board: the first step is what the drawers alone would have done."""
    old = kitchen()
    at = next(at for at, row in enumerate(old.cabinets) if row.drawers)
    with_drawers = replace(old, cabinets=(*old.cabinets[:at], replace(old.cabinets[at], qty=old.cabinets[at].qty + 2), *old.cabinets[at + 1 :]))
    boards = tuple(replace(row, price=row.price + 5) if row.board == "white 18" else row for row in with_drawers.boards)
    new = replace(with_drawers, boards=boards)
    bridge = bridged(old, new)
    names = [step.changes[0].sheet for step in bridge.steps]
    assert names[0] == "Cabinets"
    assert set(names[1:]) == {"Boards"}
    assert bridge.steps[0].after.gross == gross_of(with_drawers)
    assert bridge.steps[1].words.startswith("Boards: white 18, 2800 x 2070: Price 63.4")
    assert bridge.steps[1].words.endswith(" instead of 58.4")


def test_a_cabinet_of_a_finish_that_is_new_can_be_priced_by_itself() -> None:
    """The new board and finish come first and cost nothing; then the cabinet; then the old finish goes."""
    old = kitchen()
    first = old.cabinets[0]
    finish = next(one for one in old.finishes if one.finish == first.finish)
    board = replace(old.boards[0], board="elm 18", price=Fraction(140))
    own = replace(finish, finish="elm", boards={role: "elm 18" if name == old.boards[0].board else name for role, name in finish.boards.items()})
    new = replace(
        old, boards=(*old.boards, board), finishes=(*old.finishes, own), cabinets=(replace(first, finish="elm"), *old.cabinets[1:])
    )
    bridge = bridged(old, new)
    assert [(step.changes[0].sheet, step.changes[0].kind, len(step.changes)) for step in bridge.steps] == [
        ("Boards", "added", 1),
        ("Finishes", "added", 1),
        ("Cabinets", "changed", 1),
    ]
    assert [step.gross == 0 for step in bridge.steps] == [True, True, False]


def test_changes_that_only_work_together_are_one_step() -> None:
    """A board that is renamed in Boards and in every finish: in between nothing can be priced."""
    old = kitchen()
    name = old.boards[0].board

    def renamed(rows: Any) -> dict[str, str]:
        return {role: "renamed 18" if board == name else board for role, board in rows.items()}

    new = replace(
        old,
        boards=tuple(replace(row, board="renamed 18") if row.board == name else row for row in old.boards),
        finishes=tuple(replace(row, boards=renamed(row.boards)) for row in old.finishes),
        loose_parts=tuple(replace(row, board="renamed 18") if row.board == name else row for row in old.loose_parts),
    )
    bridge = bridged(old, new)
    assert sum(step.gross for step in bridge.steps) == bridge.new.gross - bridge.old.gross == 0


def test_a_cabinet_put_in_between_is_one_change_though_the_numbers_move() -> None:
    old = kitchen()
    rows = [row for row in old.cabinets if row.room == old.cabinets[0].room]
    others = tuple(row for row in old.cabinets if row.room != old.cabinets[0].room)
    more = [rows[0], replace(rows[1], width_mm=Fraction(333)), *rows[1:]]
    numbered = tuple(replace(row, ref=f"{row.room} {at}") for at, row in enumerate(more, start=1))
    bridge = bridged(old, replace(old, cabinets=(*numbered, *others)))
    assert [(change.kind, change.name) for step in bridge.steps for change in step.changes] == [("added", numbered[1].ref)]


def test_two_currencies_have_no_difference() -> None:
    old = kitchen()
    answer = bridge_of(old, replace(old, terms=replace(old.terms, currency="USD")))
    assert isinstance(answer, Refusal)
    assert "one currency" in answer.problems[0].expected


def test_an_owners_note_moves_no_price() -> None:
    old = kitchen()
    new = replace(old, cabinets=(replace(old.cabinets[0], note="mind the pipe"), *old.cabinets[1:]))
    bridge = bridged(old, new)
    assert bridge.steps == ()
    assert bridge.listed[0].words == f"{old.cabinets[0].ref}: Note mind the pipe instead of {old.cabinets[0].note or 'blank'}"
