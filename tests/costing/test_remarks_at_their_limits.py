"""Remarks at their limits: told one above, and not at the value itself. The cabinet that is worked on paper is paid in 89.83 and 89.82."""

from __future__ import annotations

from dataclasses import replace

import pytest

from estimator.costing.price_remarks import deposit_over_cap, percent, rounded_too_far
from estimator.model.exact import Fraction
from estimator.model.shop_records import Money, Share
from tests.samples import estimate_of

F = Fraction


@pytest.mark.parametrize(
    ("cap", "words"),
    [
        (None, None), (Money(F("89.83")), None), (Money(F("89.82")), "89.82"), (Share(F(8983, 17965)), None), (Share(F("0.5")), "89.825"), (Share(F("0.4")), "71.86"),
    ],
)  # fmt: skip
def test_a_first_payment_above_the_cap(cap: Money | Share | None, words: str | None) -> None:
    plain = estimate_of("one-cabinet")
    job = replace(plain.job, terms=replace(plain.job.terms, deposit_cap=cap))
    said = [remark.words for remark in deposit_over_cap(replace(plain, job=job))]
    told = f"the first payment, 89.83, is above the cap of {words}; local law decides, and the first share of Payment schedule can be lowered"
    assert said == ([] if words is None else [told])


def test_without_instalments_nothing_is_above_a_cap() -> None:
    plain = estimate_of("one-cabinet")
    job = replace(plain.job, terms=replace(plain.job.terms, deposit_cap=Money(F(1))))
    assert list(deposit_over_cap(replace(plain, job=job, price=replace(plain.price, instalments=())))) == []


def test_a_share_in_words() -> None:
    assert [percent(F(share)) for share in ("0.175", "0.3333", "1")] == ["17.5 %", "33.3 %", "100 %"]


@pytest.mark.parametrize(
    ("gross", "rounding", "words"),
    [
        ("105", "5", None), ("95", "-5", None), ("180", "0.35", None),
        ("105.01", "5.01", "moves it by 5.01, from 100.00 to 105.01"),
        ("94.99", "-5.01", "moves it by 5.01, from 100.00 to 94.99"),
        ("0", "-179.65", "moves it by 179.65, from 179.65 to 0.00"),
    ],
)  # fmt: skip
def test_a_total_that_is_moved_by_more_than_a_twentieth(gross: str, rounding: str, words: str | None) -> None:
    plain = estimate_of("one-cabinet")
    job = replace(plain.job, terms=replace(plain.job.terms, round_total_to=F(400)))
    said = [remark.words for remark in rounded_too_far(replace(plain, job=job, price=replace(plain.price, gross=F(gross), rounding=F(rounding))))]
    assert said == ([] if words is None else [f"rounding the total to 400 {words}: look whether a smaller step is meant"])
