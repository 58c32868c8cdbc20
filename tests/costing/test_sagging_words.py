"""A shelf that sags a little more than its limit is told so: a remark that says about 5/32 inch, limit 5/32 inch, reads as no fault at all."""

import re
from dataclasses import replace

import pytest

from estimator.costing.remarks import sagging_shelves
from estimator.model.exact import Fraction
from tests.samples import estimate_of

SAID = re.compile(r"sags about (?P<sag>.+?) in time when fully loaded \(limit (?P<limit>.+?)\)")


@pytest.mark.parametrize("name", ["inch-job", "kitchen"])
def test_a_sag_is_never_told_to_be_its_limit(name: str) -> None:
    estimate = estimate_of(name)
    shelf = next(part for part in estimate.parts if part.counts_as == "shelf")
    board = replace(next(row for row in estimate.job.boards if row.board == shelf.board), e_modulus_n_mm2=Fraction(1600))
    estimate = replace(estimate, job=replace(estimate.job, boards=(board,)))
    spans = [Fraction(number, 2) for number in range(1200, 2000)]
    told = [one.words for one in sagging_shelves(replace(estimate, parts=tuple(replace(shelf, length_mm=span) for span in spans)))]
    about = [found for words in told if (found := SAID.search(words))]
    assert about
    assert [found[0] for found in about if found["sag"] == found["limit"]] == []
    assert any("sags a little more in time when fully loaded (limit " in words for words in told)
