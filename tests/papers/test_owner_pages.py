"""The owner's pages as an owner reads them: the words of the PDF against the estimate."""

import io
import re
from dataclasses import replace
from functools import cache
from pathlib import Path

import pypdf
import pytest

from estimator.model.exact import Fraction
from estimator.model.problems import Place, Remark
from estimator.model.results import Estimate
from estimator.papers.owner.answer_page import first_remarks
from estimator.papers.owner.banding_page import change_words
from estimator.papers.owner.money_page import money_rows
from estimator.papers.owner.paper import kept_of, owner_paper
from estimator.papers.owner.plots import round_ticks
from estimator.papers.owner.remarks_page import old_money, priced_costs, undated_money, untimed_money
from estimator.papers.owner_pages import owner_pdf
from estimator.papers.page.clock import clock as time_of_day
from estimator.papers.page.language import Language
from tests.samples import estimate_of

WORKBOOKS = Path(__file__).parents[2] / "workbooks"
NAMES = ("kitchen", "wardrobe", "one-cabinet", "inch-job")


def clock(minute: Fraction, name: str = "kitchen") -> str:
    """As it is read from a page: of twelve hours in a job in dollars."""
    return " ".join(time_of_day(minute, day_words="day {n}", of_twelve=name == "inch-job").split())


def pages(estimate: Estimate) -> list[str]:
    """The words of each page, all white space made one blank."""
    reader = pypdf.PdfReader(io.BytesIO(owner_pdf(estimate)))
    return [re.sub(r"\s+", " ", page.extract_text()) for page in reader.pages]


@cache
def pages_of(name: str) -> list[str]:
    return pages(estimate_of(name))


def money(estimate: Estimate, amount: Fraction) -> str:
    terms = estimate.job.terms
    written = Language(code="en", currency=terms.currency, units=terms.units).money(amount)
    return written.replace("\N{NO-BREAK SPACE}", " ")


@pytest.mark.parametrize("name", NAMES)
def test_the_first_page_is_the_answer(name: str) -> None:
    estimate, first = estimate_of(name), pages_of(name)[0]
    kept = estimate.price.net - estimate.cost.base
    kept -= sum(one.qty * (one.cost_each or 0) for one in estimate.job.extras if one.price_each is not None)
    for amount in (estimate.price.gross, estimate.price.net, kept, estimate.banding.chosen.relevant_cost):
        assert amount is not None
        assert money(estimate, amount) in first
    assert str(sum(use.sheets for use in estimate.boards)) in first
    for sent in estimate.banding.chosen.sent:
        assert sent in first
    for remark in estimate.remarks[:1]:
        assert remark.words[1:] in first


@pytest.mark.parametrize("name", NAMES)
def test_every_part_of_the_price_stands_in_the_bars_and_they_add_up(name: str) -> None:
    estimate, words = estimate_of(name), " ".join(pages_of(name))
    rows = money_rows(owner_paper(estimate))
    assert sum(value for _, value in rows) == estimate.price.net
    for _, value in rows:
        assert money(estimate, value) in words


@pytest.mark.parametrize("name", NAMES)
def test_the_routes_stand_side_by_side_with_the_estimates_figures(name: str) -> None:
    estimate = estimate_of(name)
    decision = estimate.decision
    assert decision is not None
    words = " ".join(pages_of(name))
    language = Language(code="en", currency=estimate.job.terms.currency, units="mm")
    for line in decision.lines:
        figures = [language.amount(one) if one is not None else "–" for one in (line.by_hand, line.sent_out, line.best)]
        said = line.words.replace("metre", "foot") if name == "inch-job" else line.words
        assert f"{said[:1].upper()}{said[1:]} {' '.join(figures)}" in words
    for swing in decision.tornado[:3]:
        if swing.width:
            assert language.amount(swing.low_cost) in words
            assert language.amount(swing.high_cost) in words


def test_profit_is_told_from_markup() -> None:
    """A worked figure: 75 kept of 300 is a margin of a quarter and a markup of a third."""
    estimate = estimate_of("one-cabinet")
    priced = replace(
        estimate,
        price=replace(estimate.price, net=Fraction(300)),
        cost=replace(estimate.cost, base=Fraction(225)),
    )
    kept = kept_of(priced)
    assert (kept.profit, kept.of_price, kept.of_cost) == (75, Fraction(1, 4), Fraction(1, 3))
    words = " ".join(pages(priced))
    assert "Of the price (margin) 25.0%" in words
    assert "Of the cost (markup) 33.3%" in words


def test_a_loss_is_called_a_loss() -> None:
    estimate = estimate_of("one-cabinet")
    lost = replace(estimate, price=replace(estimate.price, net=estimate.cost.base - 10))
    words = " ".join(pages(lost))
    assert "it loses money" in words
    assert "Loss" in words
    assert "Profit kept" not in words


def test_a_way_asked_for_that_is_not_the_best_says_what_the_best_saves() -> None:
    estimate = estimate_of("kitchen", "by hand")
    chosen, best = estimate.banding.chosen.relevant_cost, estimate.banding.best.relevant_cost
    assert chosen is not None
    assert best is not None
    assert chosen > best
    words = pages(estimate)[0]
    assert "Band everything here." in words
    assert f"costs {money(estimate, chosen - best)} less" in words


def test_what_would_change_the_answer_begins_with_the_nearest() -> None:
    """The kitchen's flips: minutes by hand from 150 %, the freed hour from 154 %, then those farther away."""
    estimate = estimate_of("kitchen")
    assert estimate.decision is not None
    flips = {flip.what: flip for flip in estimate.decision.flips}
    said = change_words(owner_paper(estimate), estimate.decision)
    assert said[0].startswith("Minutes by hand: ")
    up = flips["minutes by hand"].up_to_share
    assert up is not None
    assert f"more than {int(100 * (up - 1))}% higher" in said[0]
    assert len(said) == len(set(said)) <= 4


def test_old_and_undated_prices_are_counted_in_money() -> None:
    estimate = estimate_of("kitchen")
    bought = list(priced_costs(owner_paper(estimate)))
    assert sum(cost for _, cost, _ in bought) == sum(
        (estimate.cost.boards, estimate.cost.edging, estimate.cost.adhesive, estimate.cost.fittings)
    )
    day = estimate.job.terms.quote_date
    later = replace(estimate.job.terms, quote_date=day.replace(year=day.year + 9))
    stale = replace(estimate, job=replace(estimate.job, terms=later))
    dated = sum(cost for _, cost, day in bought if day)
    assert old_money(owner_paper(estimate)) < old_money(owner_paper(stale)) == dated
    assert old_money(owner_paper(stale)) + undated_money(owner_paper(stale)) == sum(cost for _, cost, _ in bought)
    assert money(stale, dated) in " ".join(pages(stale))


def test_untimed_work_is_counted_in_money() -> None:
    estimate = estimate_of("one-cabinet")
    assert estimate.risk.untimed_minutes_share == 1
    assert untimed_money(owner_paper(estimate)) == estimate.cost.labour + estimate.cost.overhead


def test_remarks_of_the_first_page_come_from_several_sheets() -> None:
    sheets = ["Cabinets", "Cabinets", "Cabinets", "Cabinets", "Work", "Job"]
    remarks = [Remark(Place("a.xlsx", sheet, f"A{row}"), f"{sheet} {row}") for row, sheet in enumerate(sheets)]
    assert [one.words for one in first_remarks(remarks)] == ["Cabinets 0", "Work 4", "Job 5"]
    assert [one.words for one in first_remarks(remarks[:4])] == ["Cabinets 0", "Cabinets 1", "Cabinets 2"]


def test_names_are_only_letters() -> None:
    estimate = estimate_of("one-cabinet")
    odd = "<b>Tom</b> & 'Sons' </font>"
    terms = replace(estimate.job.terms, job_name=odd, client=odd)
    named = replace(estimate, job=replace(estimate.job, terms=terms), remarks=(Remark(Place("a & b.xlsx"), odd),))
    words = pages(named)
    assert words[0].count(odd) >= 2
    assert odd in words[-1]


def test_a_job_without_edges_has_no_banding_pages() -> None:
    estimate = estimate_of("one-cabinet")
    bare = replace(estimate, decision=None, edgings=(), batches=(), glue_day=None)
    words = " ".join(pages(bare))
    assert "There is no edge to band in this job." in words
    assert "The routes side by side" not in words


@pytest.mark.parametrize("name", NAMES)
def test_the_glue_day_stands_on_the_clock(name: str) -> None:
    estimate = estimate_of(name)
    day = estimate.glue_day
    assert day is not None
    words = " ".join(pages_of(name))
    assert f"from {clock(day.start_min, name)} to {clock(day.end_min, name)}" in words
    for batch in day.batches:
        assert f"{batch.edging}, {batch.side} {batch.edges}" in words
        assert f"{clock(batch.first_coat_min, name)} {clock(batch.applied_min, name)}" in words
        assert f"{batch.edges} {batch.side}, {batch.edging}"[:20] in words


def test_a_clock_of_several_days() -> None:
    assert [clock(Fraction(minute)) for minute in (0, 480, 719, "719.5", 1439, "1439.6", 1440, 3 * 1440 + 61)] == [
        "0:00", "8:00", "11:59", "12:00", "23:59", "day 2, 0:00", "day 2, 0:00", "day 4, 1:01",
    ]  # fmt: skip


def test_a_clock_of_twelve_hours() -> None:
    told = [clock(Fraction(minute), "inch-job") for minute in (0, 30, 719, 720, 779, 780, 1439, 1440 + 450)]
    assert told == ["12:00 am", "12:30 am", "11:59 am", "12:00 pm", "12:59 pm", "1:00 pm", "11:59 pm", "day 2, 7:30 am"]


@pytest.mark.parametrize(("code", "currency", "of_twelve"), [("en", "USD", True), ("en", "CAD", True), ("en", "AUD", True), ("en", "GBP", False), ("en", "EUR", False), ("de", "USD", False), ("de", "EUR", False)])
def test_which_countries_say_am_and_pm(code: str, currency: str, of_twelve: bool) -> None:
    """Unicode's CLDR: the short time of a country is written with h or with H."""
    assert Language(code=code, currency=currency, units="mm").clock_of_twelve == of_twelve


def test_without_a_timetable_each_batch_stands_by_itself_and_the_reason_is_told() -> None:
    estimate = estimate_of("kitchen")
    assert estimate.glue_day is not None
    without = replace(estimate, glue_day=replace(estimate.glue_day, tasks=(), why="a strip is longer than the bench"))
    words = " ".join(pages(without))
    assert "There is no timetable for the bench: a strip is longer than the bench." in words
    for batch in estimate.batches:
        assert f"{batch.edges} edges, {batch.edging}" in words


@pytest.mark.parametrize("name", NAMES)
def test_the_same_estimate_gives_the_same_bytes(name: str) -> None:
    assert owner_pdf(estimate_of(name)) == owner_pdf(estimate_of(name))


@pytest.mark.parametrize("most", ["0.004", "1", "1742", "2000", "2001", "99999", "12345678"])
def test_ticks_are_round_and_reach_over_the_most(most: str) -> None:
    ticks = round_ticks(Fraction(most))
    assert ticks[-2] < Fraction(most) <= ticks[-1]
    assert 2 <= len(ticks) <= 7
