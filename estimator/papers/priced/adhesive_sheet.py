"""Adhesives of the chosen way in, litres, packs and cost out: live from coverage, spare, pack and price on (A14)."""

from __future__ import annotations

from collections.abc import Sequence

from estimator.model.exact import Fraction
from estimator.model.shop_records import Adhesive
from estimator.model.taken import AdhesiveUse
from estimator.papers.priced.figures import Figures
from estimator.papers.priced.page import Page
from estimator.papers.priced.terms import Term, whole_up

HEADS = (
    "Adhesive",
    "Charge",
    "Glued m2",
    "m2 a litre and coat",
    "Spare",
    "Litres",
    "Pack litres",
    "Packs",
    "Price a pack",
    "Cost",
)


def write_adhesives(
    page: Page, row: int, glued: Sequence[tuple[Adhesive, Term]], uses: Sequence[AdhesiveUse], figures: Figures, *, told: Fraction
) -> tuple[Term, tuple[tuple[Adhesive, Term], ...], int]:
    """A row an adhesive with its glued area on the chosen way. Gives the cost together and the litres of each."""
    page.heads(row, HEADS, left=2)
    first = row = row + 1
    known = {use.adhesive.adhesive: use for use in uses}
    costs, litres_of = [], []
    for glue, area in glued:
        use = known.get(glue.adhesive)
        page.link(row, 0, glue.adhesive, figures.sources.link(glue.at.place("Adhesive")))
        page.text(row, 1, glue.charge)
        coated = page.live(row, 2, area, "quantity", told=use.glued_m2 if use else 0)
        coverage = page.live(row, 3, figures(glue, "Coverage"), "factor")
        spare = page.live(row, 4, figures(glue, "Spare"), "percent")
        litres = page.live(row, 5, coated / coverage * (1 + spare), "quantity", told=use.litres if use else 0)
        pack = page.live(row, 6, figures(glue, "Pack"), "factor")
        packs = page.live(row, 7, whole_up(litres / pack), "whole", told=use.packs if use else 0)
        price = page.live(row, 8, figures(glue, "Price"), "money each")
        paid = packs if glue.charge == "whole packs" else litres / pack
        costs.append(page.live(row, 9, paid * price, told=use.cost if use else 0).value)
        litres_of.append((glue, litres))
        row += 1
    page.text(row, 0, "Adhesive together", "total label")
    for column in range(1, 9):
        page.text(row, column, "", "total label")
    whole = page.span(first, 9, costs).sum() if costs else Term("0", Fraction(0))
    return page.live(row, 9, whole, "total", told=told), tuple(litres_of), row + 2
