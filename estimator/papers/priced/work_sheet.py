"""Rows of Work in, minutes by step and what they cost out: live from minutes, rating and allowance on (A15, A16)."""

from __future__ import annotations

from estimator.model.dataclass import dataclass
from estimator.model.exact import Fraction
from estimator.model.results import StepMinutes
from estimator.model.shop_records import Shop, Step
from estimator.papers.priced.figures import Figures
from estimator.papers.priced.page import Page
from estimator.papers.priced.terms import Term, term

HEADS = (
    "Step",
    "Stage",
    "Route",
    "Per",
    "Of",
    "Minutes",
    "Rating",
    "Allowance",
    "Standard minutes each",
    "Count",
    "Minutes in this job",
    "Money at the full rate",
)
_MIN, _RATING, _ALLOWANCE, _EACH, _COUNT, _MINUTES, _MONEY = 5, 6, 7, 8, 9, 10, 11


@dataclass(frozen=True, slots=True)
class WorkTerms:
    each: tuple[Term, ...]
    """Standard minutes of one, for each row of Work."""
    first_row: int
    next_row: int


def write_steps(page: Page, row: int, steps: tuple[StepMinutes, ...], shop: Shop, figures: Figures) -> WorkTerms:
    """One row a step with its standard minutes; counts are filled in by `write_minutes`."""
    page.heads(row, HEADS, left=5)
    first = row = row + 1
    each = []
    for worked in steps:
        each.append(_each(page, row, worked, shop, figures))
        row += 1
    return WorkTerms(tuple(each), first, row + 4)


def _each(page: Page, row: int, worked: StepMinutes, shop: Shop, figures: Figures) -> Term:
    step: Step = worked.step
    page.link(row, 0, step.step, figures.sources.link(step.at.place("Step")))
    for column, words in enumerate((step.stage, step.route or "always", step.per, step.of or "all"), start=1):
        page.text(row, column, words)
    minutes = page.live(row, _MIN, figures(step, "Minutes"), "minutes")
    rating = page.live(row, _RATING, figures(step, "Rating"), "factor")
    allowance = page.live(row, _ALLOWANCE, figures.maybe(step, "Allowance").otherwise(figures(shop, "Allowance")), "percent")
    return page.live(row, _EACH, minutes * rating / 100 * (1 + allowance), "quantity", told=worked.each_min)


@dataclass(frozen=True, slots=True)
class MinuteTerms:
    total: Term
    by_step: tuple[Term, ...]
    extras: Term


def write_minutes(
    page: Page,
    work: WorkTerms,
    steps: tuple[StepMinutes, ...],
    counts: tuple[Term, ...],
    *,
    extras: Term,
    rate: Term,
    told: Fraction,
) -> MinuteTerms:
    """Counts on the chosen way, minutes, and what they cost at the full rate of an hour."""
    row = work.first_row
    minutes: list[Term] = []
    for worked, each, count in zip(steps, work.each, counts, strict=True):
        counted = page.live(row, _COUNT, count, "factor", told=worked.count)
        minutes.append(page.live(row, _MINUTES, each * counted, "minutes", told=worked.minutes))
        page.live(row, _MONEY, minutes[-1] / 60 * rate)
        row += 1
    page.text(row, 0, "Extras that are priced with the job")
    for column in range(1, _MINUTES):
        page.text(row, column, "")
    added = page.live(row, _MINUTES, extras, "minutes")
    page.live(row, _MONEY, added / 60 * rate)
    together = page.span(work.first_row, _MINUTES, [*(one.value for one in minutes), added.value]).sum()
    row += 1
    page.text(row, 0, "Minutes together", "total label")
    for column in range(1, _MINUTES):
        page.text(row, column, "", "total label")
    whole = page.live(row, _MINUTES, together, "total quantity", told=told)
    page.live(row, _MONEY, whole / 60 * rate, "total")
    return MinuteTerms(whole, tuple(minutes), added if extras.value else term(0))
