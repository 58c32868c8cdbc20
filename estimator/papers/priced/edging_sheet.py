"""Edgings of a job in, a table of metres, rolls and cost out: live from price and spare on (A12)."""

from __future__ import annotations

from collections.abc import Mapping

from estimator.model.dataclass import dataclass
from estimator.model.exact import Fraction
from estimator.model.taken import EdgingUse, EdgingWidthUse, SmallParts
from estimator.papers.priced.figures import Figures
from estimator.papers.priced.page import Page
from estimator.papers.priced.terms import Term, term, total, whole_up

HEADS = (
    "Edging",
    "Width mm",
    "Edges",
    "Net m",
    "Strips m",
    "Spare",
    "Roll m",
    "Rolls",
    "Bought m",
    "Price a m",
    "Cost",
    "Sent out",
    "Cost to the job",
)
_STRIP, _SPARE, _ROLL, _ROLLS, _BOUGHT, _PRICE, _COST, _SENT, _JOB = 4, 5, 6, 7, 8, 9, 10, 11, 12
_SMALL, _SMALL_COST = 13, 14


@dataclass(frozen=True, slots=True)
class EdgingTerms:
    prices: tuple[Term, ...]
    """A metre, for each width in order."""
    need_m: tuple[Term, ...]
    """Strips with the spare, before they are brought up to whole rolls."""
    rolls: tuple[Term | None, ...]
    bought_m: tuple[Term, ...]
    cost_of: Mapping[str, Term]
    """As if the shop bought it all, by edging."""
    small_cost_of: Mapping[str, Term]
    """What the shop buys for small parts of an edging that the contract bander supplies; empty where there are none."""
    small_need_m: tuple[Term | None, ...]
    first_row: int
    next_row: int


def write_edgings(
    page: Page, row: int, uses: tuple[EdgingUse, ...], small: tuple[SmallParts, ...], figures: Figures
) -> EdgingTerms:
    """One row an edging and width, as if the shop bought it all; who bands it is filled in by `write_edging_cost`."""
    page.heads(row, [head.replace(" mm", f" {page.size_unit}") for head in HEADS], left=1)
    first = row = row + 1
    prices: list[Term] = []
    need: list[Term] = []
    all_rolls: list[Term | None] = []
    bought: list[Term] = []
    cost_of: dict[str, Term] = {}
    staying = _SmallWriter(page, first, small)
    for use in uses:
        costs = []
        for width in use.widths:
            edging = width.edging
            page.link(row, 0, edging.edging, figures.sources.link(edging.at.place("Edging")))
            page.size(row, 1, edging.width_mm)
            page.fact(row, 2, width.edges, "whole")
            page.fact(row, 3, width.net_m)
            strip = page.fact(row, _STRIP, width.strip_m)
            spare = page.live(row, _SPARE, figures(edging, "Spare"), "percent")
            metres = strip * (1 + spare)
            need.append(metres)
            rolls = None
            page.text(row, _ROLL, "")
            page.text(row, _ROLLS, "")
            if width.rolls is not None and edging.roll_length_m is not None:
                roll = page.fact(row, _ROLL, edging.roll_length_m, "factor")
                rolls = page.live(row, _ROLLS, whole_up(metres / roll), "whole", told=width.rolls)
                metres = rolls * roll
            all_rolls.append(rolls)
            bought.append(page.live(row, _BOUGHT, metres, "quantity", told=width.bought_m))
            prices.append(page.live(row, _PRICE, figures(edging, "Price"), "money each"))
            costs.append(page.live(row, _COST, bought[-1] * prices[-1], told=width.cost))
            staying.write(row, width, spare, prices[-1])
            row += 1
        cost_of[use.edging] = total(costs)
    small_cost_of = {name: total(costs) for name, costs in staying.costs.items()}
    return EdgingTerms(
        tuple(prices), tuple(need), tuple(all_rolls), tuple(bought), cost_of, small_cost_of, tuple(staying.need), first, row + 1
    )


class _SmallWriter:
    """Further columns for parts that stay at the bench though their edging is sent; none where there are no such parts."""

    def __init__(self, page: Page, first: int, small: tuple[SmallParts, ...]) -> None:
        self.page = page
        self.widths = {id(width.edging): width for one in small for width in one.stays.widths}
        self.costs: dict[str, list[Term]] = {}
        self.need: list[Term | None] = []
        if small:
            for column, words in ((_SMALL, "Strips on small parts m"), (_SMALL_COST, "Their cost")):
                page.text(first - 1, column, words, "head right")

    def write(self, row: int, all_of_it: EdgingWidthUse, spare: Term, price: Term) -> None:
        width = self.widths.get(id(all_of_it.edging))
        if width is None:
            self.need.append(None)
            return
        metres = self.page.fact(row, _SMALL, width.strip_m) * (1 + spare)
        self.need.append(metres)
        if width.rolls is not None and width.edging.roll_length_m is not None:
            roll = Term(self.page.ref(row, _ROLL), width.edging.roll_length_m)
            metres = whole_up(metres / roll) * roll
        cost = self.page.live(row, _SMALL_COST, metres * price, told=width.cost)
        self.costs.setdefault(width.edging.edging, []).append(cost)


def write_edging_cost(
    page: Page,
    terms: EdgingTerms,
    uses: tuple[EdgingUse, ...],
    staying: tuple[SmallParts, ...],
    sent: Mapping[str, Term],
    *,
    supplied: bool,
    told: Fraction,
) -> Term:
    """Who bands each edging on the chosen way, and what the job pays for it: nothing where the contract bander supplies it."""
    row = terms.first_row
    costs: list[Fraction] = []
    small = {id(width.edging): width.cost for one in staying for width in one.stays.widths}
    for use in uses:
        for width in use.widths:
            goes = page.live(row, _SENT, sent[use.edging], "yes no")
            cost = Term(page.ref(row, _COST), width.cost)
            paid = cost * (1 - goes) if supplied else cost
            if supplied and terms.small_need_m[row - terms.first_row] is not None:
                paid = paid + Term(page.ref(row, _SMALL_COST), small[id(width.edging)]) * goes
            costs.append(page.live(row, _JOB, paid).value)
            row += 1
    page.text(row, 0, "Edging together", "total label")
    for column in range(1, _JOB):
        page.text(row, column, "", "total label")
    whole = page.span(terms.first_row, _JOB, costs).sum() if costs else term(0)
    return page.live(row, _JOB, whole, "total", told=told)
