"""The owner's pages say a thing once: remarks that the first page holds are not printed again, and no wait of 0 minutes is told."""

from dataclasses import replace

from estimator.model.exact import Fraction
from estimator.model.problems import Place, Remark
from estimator.model.results import Estimate
from estimator.papers.owner.glue_day_page import glue_day_words
from estimator.papers.owner.paper import owner_paper
from estimator.papers.owner.remarks_page import remarks_story
from tests.samples import estimate_of


def with_remarks(count: int) -> Estimate:
    remarks = tuple(Remark(Place("kitchen.xlsx", "Cabinets", f"A{number}"), f"look at {number}") for number in range(count))
    return replace(estimate_of("kitchen"), remarks=remarks)


def test_the_table_of_remarks_stands_only_where_the_first_page_does_not_hold_them_all() -> None:
    tables = [bool(remarks_story(owner_paper(with_remarks(count), words=None))) for count in (0, 3, 4)]
    assert tables == [False, False, True]


def test_a_glue_day_tells_its_wait_where_there_is_one_and_why_its_batches_differ() -> None:
    for language, waits, batches in (("en", ", and 26 min of waiting", "where the price counts"), ("de", " Arbeit, dazu 26 min", "wo der Preis")):
        estimate = estimate_of("kitchen", language=language)
        paper, day = owner_paper(estimate, words=None), estimate.glue_day
        assert day is not None
        assert waits in glue_day_words(paper, replace(day, waiting_min=Fraction(26)))
        assert "0 min" not in glue_day_words(paper, replace(day, waiting_min=Fraction(0)))
        assert (batches in glue_day_words(paper, day)) == (len(day.batches) != len(estimate.batches))
        assert batches not in glue_day_words(paper, replace(day, batches=day.batches[: len(estimate.batches)]))
