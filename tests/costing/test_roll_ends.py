"""Strips from roll ends: a shop's own numbers, worked by hand; every strip comes from one roll, and the words say when none can."""

from __future__ import annotations

from dataclasses import replace

import pytest

from estimator.costing.estimate import estimate_job
from estimator.costing.roll_ends import roll_remarks, rolls_of_job
from estimator.model.exact import Fraction
from estimator.model.records import Job
from estimator.model.results import Estimate
from estimator.model.shop_records import Edging, RollEnd
from estimator.papers.estimate_json import estimate_data
from tests.building import AT
from tests.samples import sample


def _one_cabinet() -> Job:
    """Strips of 2 x 760, 2 x 604 and 602 mm: 3.33 m (the overhang is 20 mm at either end)."""
    return sample("one-cabinet")


def _edging(job: Job, **changed: object) -> tuple[Job, Edging]:
    """The job with one edging's row changed; parts name the new row when they are made."""
    row = replace(next(row for row in job.edgings if row.edging), **changed)  # type: ignore[arg-type]
    return replace(job, edgings=(row, *job.edgings[1:])), row


def _ends(edging: Edging, *metres: str) -> tuple[RollEnd, ...]:
    return tuple(RollEnd(edging.edging, None, Fraction(length), 1, AT) for length in metres)


def _priced(job: Job) -> Estimate:
    estimate = estimate_job(job)
    assert isinstance(estimate, Estimate), estimate
    return estimate


@pytest.mark.parametrize(
    ("metres", "full_rolls"),
    [
        (("3.33",), 0),
        (("1.52", "1.81"), 0),  # 760 + 760 and 604 + 604 + 602 = 1810: to the millimetre
        (("1.52", "1.80"), 1),
        (("0.75", "0.75", "0.75", "0.75", "0.75"), 1),  # 3.75 m, but no end takes a strip of 760
    ],
)
def test_roll_ends_that_hold_the_strips_open_no_full_roll(metres: tuple[str, ...], full_rolls: int) -> None:
    job, row = _edging(_one_cabinet(), roll_length_m=Fraction(50))
    (use,) = _priced(replace(job, roll_ends=_ends(row, *metres))).rolls
    assert (use.new_rolls, use.bound <= use.new_rolls) == (full_rolls, True)
    cut = sorted(length for roll in use.rolls for length in roll.strips_mm * roll.count)
    assert cut == [602, 604, 604, 760, 760]
    assert all(sum(roll.strips_mm) <= roll.length_mm for roll in use.rolls)
    used = sorted(roll.length_mm for roll in use.rolls for _ in range(roll.count) if not roll.new)
    assert all(used.count(length) <= sum(Fraction(one) * 1000 == length for one in metres) for length in used)


def test_roll_ends_are_used_up_though_a_full_roll_would_do_alone() -> None:
    job, row = _edging(_one_cabinet(), roll_length_m=Fraction(50))
    (use,) = _priced(replace(job, roll_ends=_ends(row, "0.8", "1.3"))).rolls
    assert sorted((roll.new, roll.strips_mm) for roll in use.rolls if not roll.new) == [(False, (604, 604)), (False, (760,))]


def test_no_priced_figure_rests_on_roll_ends() -> None:
    job, row = _edging(_one_cabinet())
    plain, with_ends = estimate_data(_priced(job)), estimate_data(_priced(replace(job, roll_ends=_ends(row, "2"))))
    assert plain.pop("rolls") == []
    assert with_ends.pop("rolls")
    plain.pop("remarks"), with_ends.pop("remarks")
    assert plain == with_ends


def test_metres_that_suffice_in_the_wrong_lengths_are_told_and_strips_longer_than_a_roll_too() -> None:
    job, row = _edging(_one_cabinet(), roll_length_m=Fraction(3, 4))
    estimate = _priced(replace(job, roll_ends=_ends(row, *["0.7"] * 5)))
    words = [remark.words for remark in estimate.remarks]
    assert any("760 mm are longer than every roll" in one for one in words)
    assert sum(roll.count * len(roll.strips_mm) for use in estimate.rolls for roll in use.rolls) == 3
    job, row = _edging(_one_cabinet(), roll_length_m=Fraction(50), on_hand_m=Fraction(5))
    estimate = _priced(replace(job, roll_ends=_ends(row, *["0.7"] * 5)))
    assert any("not in their lengths" in remark.words for remark in estimate.remarks)
    assert not any("the buy list goes by On hand" in remark.words for remark in estimate.remarks)


def test_an_edging_that_is_sent_is_not_cut_at_the_bench() -> None:
    job, row = _edging(_one_cabinet(), roll_length_m=Fraction(50))
    parts = _priced(job).parts
    assert rolls_of_job(job, parts, sent=(row.edging,), small=()) == ()
    assert list(roll_remarks(rolls_of_job(job, parts, sent=(), small=()), units="mm")) == []


def test_a_long_roll_of_many_short_strips_is_planned() -> None:
    """1,666 strips of 60 mm from a roll of 100 m: 100,000 / 60 = 1,666.7, so one roll holds them."""
    job, row = _edging(_one_cabinet(), roll_length_m=Fraction(100), overhang_mm=Fraction(0))
    parts = _priced(job).parts
    side = next(part for part in parts if part.bands)
    band = replace(side.bands[0], length_mm=Fraction(60), edging=row)
    many = replace(side, bands=(band,), qty=1666, count_each=1)
    (use,) = rolls_of_job(job, (many,), sent=(), small=())
    assert (use.strips, use.new_rolls, use.bound) == (1666, 1, 1)


@pytest.mark.parametrize(
    ("roll", "ends", "too_long", "left_over", "cut"),
    [
        ("0.76", (), (), (), [602, 604, 604, 760, 760]), ("0.76", ("0.759",), (), (), [602, 604, 604, 760, 760]), ("0.759", (), (760,), (), [602, 604, 604]), ("0.759", ("0.759",), (760,), (), [602, 604, 604]),
        # an end holds one of the two, or both; no new roll does
        ("0.759", ("0.76",), (), (760,), [602, 604, 604, 760]), ("0.759", ("0.76", "0.8"), (), (), [602, 604, 604, 760, 760]), ("0.759", ("1.52",), (), (), [602, 604, 604, 760, 760]), ("0.759", ("1.519",), (), (760,), [602, 604, 604, 760]),
        # one end for one strip, whichever: of 604 and 760 some are left
        ("0.603", ("0.76",), (), (604, 760), None), ("0.5", ("0.7",), (760,), (602, 604), None),
    ],
)  # fmt: skip
def test_a_strip_as_long_as_a_roll_is_cut_from_it_and_one_that_only_an_end_can_give_from_that(
    roll: str, ends: tuple[str, ...], too_long: tuple[int, ...], left_over: tuple[int, ...], cut: list[int] | None
) -> None:
    job, row = _edging(_one_cabinet(), roll_length_m=Fraction(roll))
    (use,) = _priced(replace(job, roll_ends=_ends(row, *ends))).rolls
    assert (use.too_long_mm, use.left_over_mm) == (too_long, left_over)
    found = sorted(length for one in use.rolls for length in one.strips_mm * one.count)
    if cut is not None:
        assert found == cut
    else:
        assert sum(length * 1000 > Fraction(roll) * 1_000_000 for length in found) == 1
    assert all(sum(one.strips_mm) <= one.length_mm for one in use.rolls)
    assert estimate_data(_priced(replace(job, roll_ends=_ends(row, *ends))))["rolls"][0]["longer_than_a_roll"] == [str(length) for length in sorted((*too_long, *left_over))]


def test_strips_that_the_roll_ends_do_not_hold_are_remarked_on() -> None:
    job, row = _edging(_one_cabinet(), roll_length_m=Fraction("0.759"))
    (use,) = _priced(replace(job, roll_ends=_ends(row, "0.76"))).rolls
    words = [remark.words for remark in roll_remarks([use], units="mm")]
    assert words[0] == (
        "white 0.4 mm: strips of 760 mm are longer than a new roll, and the roll ends do not hold all of them: the others would have to be joined"
    )
