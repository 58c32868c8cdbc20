"""Every part once: on the cut list, on one cutting diagram, with one label, in the rows and in the words of the PDF."""

import io
from collections import Counter
from dataclasses import replace

import pypdf

from estimator.model.exact import Fraction
from estimator.papers.shop.cut_list import cut_rows
from estimator.papers.shop.cuts import set_to_mm
from estimator.papers.shop.cutting_diagrams import board_words
from estimator.papers.shop.labels import labels_of
from estimator.papers.shop.paper import shop_paper
from estimator.papers.shop.sheet_drawing import pieces_of
from estimator.papers.shop_papers import shop_pdf
from tests.papers.shop_pages import every_job, page_of_papers, reader_of, section
from tests.samples import estimate_of


@every_job
def test_every_part_is_on_the_cut_list_once(name: str) -> None:
    estimate = estimate_of(name)
    rows = cut_rows(shop_paper(estimate))
    assert Counter(id(row.part) for row in rows) == Counter(id(part) for part in estimate.parts)
    assert sum(row.pieces for row in rows) == sum(use.parts for use in estimate.boards)


@every_job
def test_the_cut_list_prints_each_part_with_both_its_sizes(name: str) -> None:
    estimate, words = estimate_of(name), section(name, "Cut list")
    sizes = shop_paper(estimate).language.sizes
    for part in estimate.parts:
        assert sizes(part.cut_length_mm, part.cut_width_mm) in words
        assert sizes(part.length_mm, part.width_mm) in words
        assert f"{part.ref} {part.part}" in words


@every_job
def test_the_cut_list_has_the_widest_strips_of_a_board_first(name: str) -> None:
    estimate = estimate_of(name)
    rows = cut_rows(shop_paper(estimate))
    for use in estimate.boards:
        across = [
            row.part.cut_length_mm if row.part.grain == "width" else row.part.cut_width_mm
            for row in rows
            if row.board == use.board
        ]
        assert across == sorted(across, reverse=True)


@every_job
def test_every_piece_of_a_planned_board_is_on_one_diagram(name: str) -> None:
    estimate = estimate_of(name)
    for use in estimate.boards:
        if use.plan is None:
            continue
        pieces = [piece for entry in use.plan_entries for piece in pieces_of(use, entry)]
        drawn: Counter[tuple[str, str]] = Counter()
        sized: Counter[tuple[Fraction, Fraction]] = Counter()
        for piece in pieces:
            drawn[piece.placed.ref, piece.placed.part] += piece.sheets
            sized[piece.part.cut_length_mm, piece.part.cut_width_mm] += piece.sheets
            assert (piece.placed.ref, piece.placed.part) == (piece.part.ref, piece.part.part)
        parts = [part for part in estimate.parts if part.board == use.board]
        wanted: Counter[tuple[str, str]] = Counter()
        sizes: Counter[tuple[Fraction, Fraction]] = Counter()
        for part in parts:
            wanted[part.ref, part.part] += part.count
            sizes[part.cut_length_mm, part.cut_width_mm] += part.count
        assert drawn == wanted
        assert sized == sizes
        assert sum(entry.count for entry in use.plan_entries) >= use.sheets


@every_job
def test_the_diagrams_print_each_piece_and_say_what_boards_are_bought_by_yield(name: str) -> None:
    estimate, words = estimate_of(name), section(name, "Cutting diagrams")
    paper = shop_paper(estimate)
    for use in estimate.boards:
        assert board_words(paper, use) in words
        assert ("expected yield" in board_words(paper, use)) == use.by_yield
        assert not use.by_yield or use.plan is None or f"it takes {use.plan.sheets} sheet" in board_words(paper, use)
        for entry in use.plan_entries:
            for piece in pieces_of(use, entry):
                assert paper.language.sizes(piece.part.cut_length_mm, piece.part.cut_width_mm) in words
                assert piece.placed.ref in words


@every_job
def test_the_cuts_of_a_diagram_set_the_saw_inside_the_piece_in_hand(name: str) -> None:
    for use in estimate_of(name).boards:
        for entry in use.plan_entries:
            for cut in entry.pattern.cuts:
                assert 0 < set_to_mm(cut) < (cut.width_mm if cut.direction == "rip" else cut.length_mm)


@every_job
def test_every_piece_has_one_label(name: str) -> None:
    estimate = estimate_of(name)
    labels = labels_of(shop_paper(estimate))
    pieces = Counter({id(part): part.count for part in estimate.parts})
    assert Counter(id(label.part) for label in labels) == pieces
    assert len({(id(label.part), label.number) for label in labels}) == len(labels)


@every_job
def test_the_labels_stand_on_sheets_of_three_by_eight(name: str) -> None:
    estimate, words = estimate_of(name), section(name, "Labels")
    count = sum(part.count for part in estimate.parts)
    reader = reader_of(name)
    starts = page_of_papers(reader)
    first, after = starts["Labels"], starts["Glue day" if estimate.batches else "Send-out sheet"]
    assert after - first == -(-count // 24)
    for part in estimate.parts:
        assert part.part in words


def test_the_shop_can_set_its_own_sheet_of_labels() -> None:
    estimate = estimate_of("one-cabinet")
    shop = replace(estimate.job.shop, label_columns=1, label_rows=2, label_top_mm=Fraction(9))
    few = len(pypdf.PdfReader(io.BytesIO(shop_pdf(replace(estimate, job=replace(estimate.job, shop=shop))))).pages)
    assert few == len(reader_of("one-cabinet").pages) + 2  # five pieces on three sheets of two, where one of 24 held them
