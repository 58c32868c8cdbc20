"""What the chosen way takes in, what is to be bought out: less what is on hand, up to whole rolls and packs."""

from __future__ import annotations

from functools import reduce
from operator import add

from estimator.model.exact import Fraction
from estimator.model.results import Estimate, bought_together
from estimator.model.units import M_PER_FOOT
from estimator.papers.priced.figures import Figures
from estimator.papers.priced.job_sheets import JobTerms
from estimator.papers.priced.look import Look
from estimator.papers.priced.page import Page
from estimator.papers.priced.terms import Term, greater, term, whole_up

HEADS = ("What", "Which", "Needed", "On hand", "To buy", "In", "Packs to buy", "of")


def write_buy_list(page: Page, row: int, estimate: Estimate, job: JobTerms, figures: Figures) -> None:
    """Boards, edging, adhesive and fittings, a row each; rows of one fitting together."""
    long_unit, long_m = ("ft", M_PER_FOOT) if estimate.job.terms.units == "inch" else ("m", Fraction(1))
    page.heads(row, HEADS, left=2)
    row += 1
    for use in estimate.boards:
        for size in use.by_size:
            board = size.board
            _row(
                page,
                row,
                "Board",
                board.board,
                figures.sources.link(board.at.place("Board")),
                term(size.sheets),
                term(board.on_hand),
                "sheets",
                None,
            )
            row += 1
    widths = [(use.edging, width) for use in estimate.edgings for width in use.widths]
    supplied = estimate.job.contract is not None and estimate.job.contract.supplies_edging
    for i, (name, width) in enumerate(widths):
        need = job.edging.need_m[i]
        if supplied:
            need, small = need * (1 - job.edging_sent[name]), job.edging.small_need_m[i]
            need = need + small * job.edging_sent[name] if small else need
        roll = term(width.edging.roll_length_m / long_m) if width.edging.roll_length_m else None
        link = figures.sources.link(width.edging.at.place("Edging"))
        on_hand = figures(width.edging, "On hand")
        if long_m != 1:
            need, on_hand = need / term(long_m), on_hand / term(long_m)
        _row(page, row, "Edging", name, link, need, on_hand, long_unit, roll)
        row += 1
    for glue, litres in job.litres:
        link = figures.sources.link(glue.at.place("Adhesive"))
        _row(page, row, "Adhesive", glue.adhesive, link, litres, figures(glue, "On hand"), "litres", figures(glue, "Pack"))
        row += 1
    numbers = {id(use): number for use, number in zip(estimate.fittings, job.fitting_numbers, strict=True)}
    for same in bought_together(estimate.fittings):
        first = same[0].fitting
        pack = figures.maybe(first, "Pack")
        needed, held = (
            reduce(add, terms)
            for terms in ([numbers[id(use)] for use in same], [figures(use.fitting, "On hand") for use in same])
        )
        link = figures.sources.link(first.at.place("Item"))
        _row(page, row, "Fitting", first.item, link, needed, held, "pieces", pack.term if pack.value else None)
        row += 1


def _row(page: Page, row: int, what: str, which: str, link: str, need: Term, on_hand: Term, unit: str, pack: Term | None) -> None:
    page.text(row, 0, what)
    page.link(row, 1, which, link)
    look: Look = "amount" if unit in ("m", "ft", "litres") else "factor"
    needed = page.live(row, 2, need, look)
    held = page.live(row, 3, on_hand, look)
    buy = page.live(row, 4, greater(term(0), needed - held), look)
    page.text(row, 5, unit, "unit")
    if pack is None:
        page.text(row, 6, "")
        page.text(row, 7, "")
        return
    page.live(row, 6, whole_up(buy / pack), "whole")
    page.live(row, 7, pack, "factor")
