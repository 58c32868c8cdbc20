"""Boards of a job in, a table of their sheets and cost out: live from the price of a sheet on (A10, A11)."""

from __future__ import annotations

from collections.abc import Mapping

from estimator.model.dataclass import dataclass
from estimator.model.exact import Fraction
from estimator.model.records import Job
from estimator.model.shop_records import Board
from estimator.model.taken import BoardUse
from estimator.model.units import MM2_PER_M2
from estimator.papers.priced.figures import Figures
from estimator.papers.priced.page import Page
from estimator.papers.priced.terms import Term

HEADS = (
    "Board",
    "Sheet mm",
    "Parts",
    "Area m2",
    "Sheets",
    "At least",
    "Usable m2 a sheet",
    "Yield",
    "Price a sheet",
    "Cost",
    "Cost a m2 of part",
    "Yield of the plan",
)
_SHEETS, _USABLE, _YIELD, _PRICE, _COST, _PER_M2, _PLAN_YIELD = 4, 6, 7, 8, 9, 10, 11


@dataclass(frozen=True, slots=True)
class BoardTerms:
    cost: Term
    per_m2: Mapping[str, Term]
    """What a square metre of part costs in the lines of the price, by board."""
    next_row: int


def usable_m2(board: Board) -> Fraction:
    """Area of the trimmed sheet (A8)."""
    length_mm, width_mm = board.sheet_length_mm - 2 * board.trim_mm, board.sheet_width_mm - 2 * board.trim_mm
    return length_mm * width_mm / MM2_PER_M2


def write_boards(page: Page, row: int, uses: tuple[BoardUse, ...], job: Job, figures: Figures, *, told: Fraction) -> BoardTerms:
    """One row a board and sheet size; the board's own figures stand on its first row."""
    page.heads(row, [head.replace(" mm", f" {page.size_unit}") for head in HEADS], left=2)
    first = row = row + 1
    per_m2: dict[str, Term] = {}
    costs: list[Fraction] = []
    for use in uses:
        rows = [_size_row(page, row + i, use, i, figures) for i in range(len(use.by_size))]
        costs += [cost.value for cost in rows]
        per_m2[use.board] = page.live(
            row,
            _PER_M2,
            _per_m2(page, row, use, rows, one_size=sum(board.board == use.board for board in job.boards) == 1),
            "money each",
            told=use.cost_per_m2,
        )
        row += len(rows)
    page.text(row, 0, "Boards together", "total label")
    for column in range(1, len(HEADS)):
        page.text(row, column, "", "total label")
    cost = page.live(row, _COST, page.span(first, _COST, costs).sum(), "total", told=told)
    return BoardTerms(cost, per_m2, row + 1)


def _size_row(page: Page, row: int, use: BoardUse, place: int, figures: Figures) -> Term:
    size = use.by_size[place]
    page.link(row, 0, use.board, figures.sources.link(size.board.at.place("Board")))
    page.text(
        row, 1, f"{page.size_words(size.board.sheet_length_mm)} x {page.size_words(size.board.sheet_width_mm)}"
    )
    if place == 0:
        page.fact(row, 2, use.parts, "whole")
        page.fact(row, 3, use.area_m2)
        page.fact(row, 5, use.bound, "whole")
        page.fact(row, _YIELD, use.yield_share, "percent")
        if use.plan_yield_share is not None:
            page.fact(row, _PLAN_YIELD, use.plan_yield_share, "percent")
    sheets = page.fact(row, _SHEETS, size.sheets, "whole")
    usable = page.fact(row, _USABLE, usable_m2(size.board))
    price = page.live(row, _PRICE, figures(size.board, "Price"), "money each")
    if size.board.charge == "area" and use.by_yield:
        area = Term(page.ref(row, 3), use.area_m2)
        return page.live(row, _COST, area / (usable * Term(page.ref(row, _YIELD), use.yield_share)) * price)
    return page.live(row, _COST, sheets * price)


def _per_m2(page: Page, row: int, use: BoardUse, costs: list[Term], *, one_size: bool) -> Term:
    """Of one size with an expected yield the price over what a sheet yields; else the board's cost over its parts' area."""
    if not use.by_yield or not one_size:
        return page.span(row, _COST, [cost.value for cost in costs]).sum() / Term(page.ref(row, 3), use.area_m2)
    board = use.by_size[0].board
    price, usable = Term(page.ref(row, _PRICE), board.price), Term(page.ref(row, _USABLE), usable_m2(board))
    return price / (usable * Term(page.ref(row, _YIELD), use.yield_share))
