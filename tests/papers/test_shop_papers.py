"""The shop papers as a bench reads them: every banded edge once, and what each paper holds, in the rows and in the words of the PDF."""

import io
import re
from collections import Counter
from dataclasses import replace

import pypdf

from estimator.model.exact import Fraction
from estimator.model.results import Estimate
from estimator.papers.page.clock import clock
from estimator.papers.shop.banding_schedule import strip_rows
from estimator.papers.shop.buy_list import adhesive_rows, board_rows, edging_rows, fitting_rows, sheet_kg
from estimator.papers.shop.cautions_page import CAUTIONS
from estimator.papers.shop.edges import batch_rows
from estimator.papers.shop.job_page import stage_minutes
from estimator.papers.shop.paper import shop_paper
from estimator.papers.shop.send_out_sheet import send_rows
from estimator.papers.shop.time_sheet import timed_steps
from estimator.papers.shop_papers import shop_pdf
from tests.papers.shop_pages import TITLES, all_edges, every_job, page_of_papers, pages_of, reader_of, section
from tests.samples import estimate_of

# --- every banded edge once ----------------------------------------------------------------------------------------------


def ways_to_band(name: str) -> list[str]:
    """Every way that is possible, as the Job sheet would say it; the chosen one as blank."""
    plans = [plan for plan in estimate_of(name).banding.plans if plan.possible]
    return ["", *(", ".join(plan.sent) or "by hand" for plan in plans)]


@every_job
def test_every_banded_edge_is_on_the_schedule_or_the_send_out_sheet_once(name: str) -> None:
    for banding in ways_to_band(name):
        assert edges_on_paper(estimate_of(name, banding)) == all_edges(estimate_of(name, banding)), banding


def edges_on_paper(estimate: Estimate) -> Counter[tuple[int, str]]:
    """Each banded edge by its part and side, as often as the schedule and the send-out sheet have it."""
    found: Counter[tuple[int, str]] = Counter()
    for batch, rows in batch_rows(estimate):
        assert sum(row.count for row in rows) == batch.edges
        assert sum((row.count * row.band.length_mm for row in rows), Fraction(0)) == batch.metres * 1000
        for row in rows:
            found[id(row.part), row.band.side] += row.count
    for sent_row in send_rows(shop_paper(estimate)):
        for band in sent_row.sent:
            found[id(sent_row.part), band.side] += sent_row.part.count
    return found


@every_job
def test_the_strips_of_a_batch_are_as_long_as_the_batch_says(name: str) -> None:
    for batch, rows in batch_rows(estimate_of(name)):
        strips = strip_rows(rows)
        assert sum(strip.count for strip in strips) == batch.edges
        assert sum((strip.count * strip.length_mm for strip in strips), Fraction(0)) == batch.strip_m * 1000
        assert {strip.edging for strip in strips} == {batch.edging}


@every_job
def test_the_schedule_prints_every_batch_with_its_times_and_strips(name: str) -> None:
    estimate = estimate_of(name)
    if not estimate.batches:
        assert "Banding schedule" not in " ".join(pages_of(name))
        return
    words, paper = section(name, "Banding schedule"), shop_paper(estimate)
    for batch, rows in batch_rows(estimate):
        assert f"{batch.edges} edges, {paper.long(batch.metres)} of edge" in words
        assert f"Wait {paper.minutes(batch.wait_min)} min" in words
        for strip in strip_rows(rows):
            assert f"{paper.language.length(strip.length_mm)} {strip.count} {strip.edging}" in words
        for row in rows:
            assert f"{row.part.ref} {row.part.part} {row.band.side} {row.count}" in words


@every_job
def test_the_send_out_sheet_is_there_only_when_something_is_sent(name: str) -> None:
    estimate = estimate_of(name)
    rows = send_rows(shop_paper(estimate))
    assert bool(rows) == bool(estimate.banding.chosen.sent)
    if not rows:
        assert "Send-out sheet" not in " ".join(pages_of(name))
        return
    words = section(name, "Send-out sheet")
    edges = sum(use.edges for use in estimate.edgings if use.edging in estimate.banding.chosen.sent)
    assert sum(row.edges for row in rows) == edges
    assert f"with {edges} edges to band" in words
    for row in rows:
        assert f"{row.part.ref} {row.part.part}" in words


# --- the other papers --------------------------------------------------------------------------------------------------------


@every_job
def test_each_paper_starts_on_its_own_page(name: str) -> None:
    estimate, starts = estimate_of(name), page_of_papers(reader_of(name))
    absent = {"Banding schedule", "Glue day"} if not estimate.batches else set()
    absent |= {"Send-out sheet"} if not estimate.banding.chosen.sent else set()
    assert set(starts) == {*TITLES, "Labels"} - absent
    assert len(set(starts.values())) == len(starts)
    for words, page in starts.items():
        after_the_foot = pages_of(name)[page].partition(f"Page {page + 1} of {len(pages_of(name))} ")[2]
        assert words == "Labels" or after_the_foot.startswith(words)


@every_job
def test_the_job_stands_on_one_page_with_its_hours(name: str) -> None:
    estimate, first = estimate_of(name), pages_of(name)[0]
    paper = shop_paper(estimate)
    assert "Buy list" in pages_of(name)[1]
    stages = stage_minutes(paper)
    assert sum((minutes for _, minutes in stages), Fraction(0)) == estimate.minutes.total
    for stage, minutes in (*stages, ("in all", estimate.minutes.total)):
        assert f"{stage} {paper.language.fixed(minutes / 60, decimals=1)}" in first


@every_job
def test_the_paper_is_as_the_job_says(name: str) -> None:
    sizes = {"A4": (595, 842), "Letter": (612, 792)}
    wanted = sizes[estimate_of(name).job.terms.paper]
    for page in reader_of(name).pages:
        found = round(float(page.mediabox.width)), round(float(page.mediabox.height))
        assert found in (wanted, wanted[::-1])


@every_job
def test_every_cabinet_has_its_assembly_sheet(name: str) -> None:
    estimate, words = estimate_of(name), section(name, "Assembly sheets")
    for cabinet in estimate.job.cabinets:
        assert f"{cabinet.ref}: {cabinet.kind}" in words
    for part in estimate.parts:
        assert shop_paper(estimate).edges(part.bands) in words


@every_job
def test_the_buy_list_has_every_board_edging_and_adhesive(name: str) -> None:
    estimate, words = estimate_of(name), section(name, "Buy list")
    paper = shop_paper(estimate)
    for rows in (board_rows(paper), edging_rows(paper), adhesive_rows(paper), fitting_rows(paper)):
        for row in rows:
            assert f"{row.what} {row.needed} {row.on_hand} {row.to_buy}".replace("  ", " ") in words
    assert len(edging_rows(paper)) == sum(len(use.widths) for use in estimate.edgings)
    assert len(board_rows(paper)) >= len(estimate.boards)


def test_legs_counted_by_kind_of_cabinet_are_bought_as_one_thing() -> None:
    """By hand: 14 under base cabinets, 8 + 8 + 8 + 6 under the other kinds are 44; 20 are on hand, so one pack of 100 does."""
    legs = [row for row in fitting_rows(shop_paper(estimate_of("kitchen"))) if row.what == "leg"]
    assert [(row.needed, row.on_hand, row.to_buy) for row in legs] == [("44", "20", "1 pack of 100")]


def test_a_sheet_of_18_mm_needs_two_people() -> None:
    """67.8 kg by hand: 2.8 x 2.07 x 0.018 m3 at 650 kg a m3; common practice has 35 to 78 kg for a full sheet of 18 mm."""
    estimate = estimate_of("kitchen")
    white = next(board for board in estimate.job.boards if board.board == "white 18" and board.sheet_length_mm == 2800)
    assert sheet_kg(white) == Fraction("67.8132")
    assert "67.8 kg each, two people" in section("kitchen", "Buy list")
    light = sheet_kg(replace(white, density_kg_m3=Fraction(200)))
    assert light is not None
    assert light < 25
    assert sheet_kg(replace(white, density_kg_m3=None)) is None
    assert "mass unknown" in section("one-cabinet", "Buy list")


@every_job
def test_the_glue_day_stands_by_the_clock_with_every_task(name: str) -> None:
    estimate = estimate_of(name)
    day, words = estimate.glue_day, section(name, "Glue day")
    assert day is not None
    for task in day.tasks:
        batch = day.batches[task.batch]
        ends = (clock(minute % 1440, day_words="day {n}", of_twelve=name == "inch-job") for minute in (task.start_min, task.end_min))
        times = " ".join(" ".join(ends).split())
        line = rf"{times} \d+ {re.escape(task.doing)} batch {task.batch + 1}: {re.escape(batch.edging)}, {batch.side} {batch.edges}"
        assert re.search(line, words)
    for batch in day.batches:
        assert all(ref in words for ref in batch.refs)


@every_job
def test_the_time_sheet_has_every_step_of_the_job_with_its_count_and_no_minutes(name: str) -> None:
    estimate, words = estimate_of(name), section(name, "Time sheet")
    paper = shop_paper(estimate)
    number = paper.language.number
    for one in estimate.minutes.steps:
        several = {"shelf": "shelves", "batch": "batches", "m2": "m²"}.get(one.step.per, f"{one.step.per}s")
        count, per = one.count, one.step.per if one.count == 1 else several
        if name == "inch-job" and one.step.per == "metre":
            count, per = count / Fraction("0.3048"), "feet"
        line = f"{one.step.step} {number(count, most_decimals=2)} {per}"
        assert (line in words) == (one.minutes > 0)
    assert timed_steps(paper)


@every_job
def test_the_cautions_close_the_papers_and_defer(name: str) -> None:
    last, say = pages_of(name)[-1], shop_paper(estimate_of(name)).say
    for words in ("safety data sheet", "code of the place", "licensed trade", *(say(f"caution {topic}") for topic, _ in CAUTIONS)):
        assert words in last


def test_the_same_estimate_gives_the_same_bytes() -> None:
    assert shop_pdf(estimate_of("kitchen")) == shop_pdf(estimate_of("kitchen"))


def test_no_price_stands_on_the_shop_papers() -> None:
    words = " ".join(pages_of("kitchen"))
    assert not re.search(r"[£€$¥]", words)


def test_a_name_with_marks_in_it_is_only_letters() -> None:
    estimate = estimate_of("one-cabinet")
    wild = '<b>Küche & "Bad"</b> ☃'
    parts = tuple(replace(part, ref=wild, part=wild, room=wild) for part in estimate.parts)
    job = replace(estimate.job, terms=replace(estimate.job.terms, job_name=wild))
    reader = pypdf.PdfReader(io.BytesIO(shop_pdf(replace(estimate, parts=parts, job=job))))
    words = re.sub(r"\s+", " ", " ".join(page.extract_text() for page in reader.pages))
    assert words.count('<b>Küche & "Bad"</b>') >= len(parts)
