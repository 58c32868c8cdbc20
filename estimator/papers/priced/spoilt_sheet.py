"""What the parts of spoilt edges would take, edging by edging, in; what making them anew costs out, live from prices and rates.

The engine counts square metres, strips and pieces; money for one of each stands above them, as in Line by line.
"""

from __future__ import annotations

from collections.abc import Mapping

from estimator.model.dataclass import dataclass
from estimator.model.exact import Fraction
from estimator.model.problems import Fault
from estimator.model.quantities import AnewCounts
from estimator.papers.priced.page import Page
from estimator.papers.priced.quantities import Quantities
from estimator.papers.priced.terms import Span, Term, products, term

NONE = Fraction(0)


@dataclass(frozen=True, slots=True)
class AnewPrices:
    """Money of one: a square metre of each board, a metre of each edging width, a minute of each step without a route."""

    per_m2: tuple[Term, ...]
    per_m: tuple[Term, ...]
    minutes: tuple[Term, ...]
    direct: Term


def write_anew(page: Page, row: int, live: Quantities, prices: AnewPrices) -> tuple[list[Term], list[Term], int]:
    """A row an edging for the parts that go when it is sent, and one for those that stay; gives what each costs."""
    estimate = live.estimate
    work = zip((step for step in estimate.job.work if not step.route), prices.minutes, strict=True)
    steps = [(place, step, one) for place, (step, one) in enumerate(work) if step.per in ("part", "m2")]
    heads = [f"m2 of {use.board}" for use in estimate.boards]
    heads += [f"m of {width.edging.edging}" for use in estimate.edgings for width in use.widths]
    heads += [step.step for _, step, _ in steps]
    page.text(row, 0, "Parts made anew, for every edge", "head")
    page.upright_heads(row, heads, column=1)
    page.text(row + 1, 0, "Money for one, now")
    money = [*prices.per_m2, *prices.per_m, *(one / 60 * prices.direct for _, _, one in steps)]
    above = page.span(row + 1, 1, [page.live(row + 1, 1 + i, one, "money each").value for i, one in enumerate(money)], down=False)
    row += 2
    found: tuple[list[Term], list[Term]] = ([], [])
    boards = [use.board for use in estimate.boards]
    for use in estimate.edgings:
        told = live.spoilt.get(use.edging)
        taken = live.anew.get(use.edging)
        for place, words in enumerate(("those that go", "small ones")):
            cost = (told.goes, told.stays)[place] if told else NONE
            if taken is None or not cost:
                found[place].append(term(0))
                continue
            page.text(row, 0, f"{use.edging}: {words}")
            counts = _counts(taken[place], boards, [at for at, _, _ in steps])
            for column, count in enumerate(counts, start=1):
                page.fact(row, column, count, "fact")
            found[place].append(_cost(page.span(row, 1, counts, down=False), above, cost))
            row += 1
    return found[0], found[1], row + 1


def _counts(taken: AnewCounts, boards: list[str], steps: list[int]) -> list[Fraction]:
    area: Mapping[str, Fraction] = taken.area_m2
    return [*(area.get(board, NONE) for board in boards), *taken.strip_m, *(taken.steps[place] for place in steps)]


def _cost(counts: Span, above: Span, told: Fraction) -> Term:
    """The sum of products; it must be what the engine says."""
    one = products(counts, above)
    if one.value != told:
        raise Fault(f"parts made anew: the formula gives {float(one.value)}, the estimate {float(told)}")
    return one
