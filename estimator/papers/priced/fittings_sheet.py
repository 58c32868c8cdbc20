"""Rows of Fittings in, how many the job takes and what they cost out: live from number and price on."""

from __future__ import annotations

from estimator.model.dataclass import dataclass
from estimator.model.exact import Fraction
from estimator.model.quantities import plain_number
from estimator.model.results import FittingUse
from estimator.papers.priced.figures import Figures
from estimator.papers.priced.page import Page
from estimator.papers.priced.terms import Term, term

HEADS = ("Item", "Route", "Per", "Of", "Counted", "Number each", "Number", "Price", "Cost")
_COUNTED, _EACH, _NUMBER, _PRICE, _COST = 4, 5, 6, 7, 8


@dataclass(frozen=True, slots=True)
class FittingTerms:
    money_each: tuple[Term, ...]
    """What one count of each row costs: number each x price."""
    first_row: int
    next_row: int


def write_fittings(page: Page, row: int, uses: tuple[FittingUse, ...], figures: Figures) -> FittingTerms:
    """One row a fitting with its price; counts are filled in by `write_fitting_cost`."""
    page.heads(row, HEADS, left=4)
    first = row = row + 1
    each: list[Term] = []
    for use in uses:
        fitting = use.fitting
        page.link(row, 0, fitting.item, figures.sources.link(fitting.at.place("Item")))
        for column, words in enumerate((fitting.route or "always", fitting.per, fitting.of or "all"), start=1):
            page.text(row, column, words)
        price = page.live(row, _PRICE, figures(fitting, "Price"), "money each")
        if plain_number(fitting.number) is None:
            page.text(row, _EACH, "by its rule", "typed")
            each.append(price)
        else:
            number = page.live(row, _EACH, figures(fitting, "Number"), "factor")
            each.append(number * price)
        row += 1
    return FittingTerms(tuple(each), first, row + 2)


def write_fitting_cost(
    page: Page, terms: FittingTerms, uses: tuple[FittingUse, ...], counts: tuple[Term, ...], figures: Figures, *, told: Fraction
) -> tuple[Term, tuple[Term, ...]]:
    """Counts on the chosen way, numbers and cost; gives the cost together and the number of each."""
    row = terms.first_row
    costs: list[Fraction] = []
    numbers: list[Term] = []
    for use, count in zip(uses, counts, strict=True):
        counted = page.live(row, _COUNTED, count, "factor")
        plain = plain_number(use.fitting.number) is not None
        number = counted * Term(page.ref(row, _EACH), figures(use.fitting, "Number").value) if plain else counted
        numbers.append(page.live(row, _NUMBER, number, "factor", told=use.number))
        costs.append(page.live(row, _COST, numbers[-1] * Term(page.ref(row, _PRICE), use.fitting.price), told=use.cost).value)
        row += 1
    page.text(row, 0, "Fittings together", "total label")
    for column in range(1, _COST):
        page.text(row, column, "", "total label")
    whole = page.span(terms.first_row, _COST, costs).sum() if costs else term(0)
    return page.live(row, _COST, whole, "total", told=told), tuple(numbers)
