"""What one of each line takes of boards, edging, fittings and steps in, its prime cost out (A31)."""

from __future__ import annotations

from collections.abc import Sequence

from estimator.model.exact import Fraction
from estimator.papers.priced.page import Page
from estimator.papers.priced.quantities import Quantities
from estimator.papers.priced.terms import Term, products, term


def write_line_counts(
    page: Page,
    row: int,
    live: Quantities,
    *,
    per_m2: Sequence[Term],
    prices: Sequence[Term],
    fittings: Sequence[Term],
    minutes: Sequence[Term],
    direct: Term,
) -> tuple[tuple[Term, ...], int]:
    """A row a line; above the columns what one of each costs now. Gives the prime cost of one of each line.

    prime  =  cut area x cost a m2  +  strips x edging price  +  fittings  +  own steps x direct rate
    """
    job, estimate = live.estimate.job, live.estimate
    heads = [f"m2 of {use.board}" for use in estimate.boards]
    heads += [f"m of {width.edging.edging}" for use in estimate.edgings for width in use.widths]
    heads += [fitting.item for fitting in job.fittings if not fitting.route]
    heads += [step.step for step in job.work if not step.route]
    money = [*per_m2, *prices, *fittings, *(one / 60 * direct for one in minutes)]
    page.text(row, 0, "Line", "head")
    page.upright_heads(row, [*heads, "Told as one sum"], column=1)
    page.text(row + 1, 0, "Money for one, now")
    each = [page.live(row + 1, 1 + i, one, "money each").value for i, one in enumerate(money)]
    above = page.span(row + 1, 1, each, down=False)
    primes: list[Term] = []
    for i, line in enumerate(live.lines):
        at = row + 2 + i
        page.text(at, 0, estimate.price.lines[i].ref)
        counts = [line.area_m2.get(use.board, Fraction(0)) for use in estimate.boards]
        counts += [*line.strip_m, *line.fittings, *line.steps]
        for column, count in enumerate(counts, start=1):
            page.fact(at, column, count, "fact")
        fixed = page.fact(at, len(counts) + 1, line.fixed, "money")
        taken = products(page.span(at, 1, counts, down=False), above) if counts else term(0)
        primes.append(taken + fixed if line.fixed else taken)
    return tuple(primes), row + 3 + len(live.lines)
