"""How sure the minutes and the cost are: low, likely and high of each step in, one in two, four in five and nine in ten out (A35).

Minutes and money of the work are live; what low and high prices add is the engine's, from when the job was priced.
"""

from __future__ import annotations

from estimator.model.dataclass import dataclass
from estimator.model.exact import Fraction
from estimator.model.results import Estimate, RiskAnswer
from estimator.papers.priced.figures import Figures, Maybe
from estimator.papers.priced.page import Page
from estimator.papers.priced.terms import Term, choose, term
from estimator.papers.priced.work_sheet import MinuteTerms

HEADS = ("Step", "Low", "Likely", "High", "Mean", "Standard deviation")
SURE_HEADS = ("So sure", "Deviations above the mean", "Minutes", "Minutes, all at once", "Cost", "Cost, all at once")
LEVELS = (("One in two", "0"), ("Four in five", "0.841621233572914"), ("Nine in ten", "1.2815515655446"))


@dataclass(frozen=True, slots=True)
class Sure:
    """Minutes and cost that hold in one of two, four of five and nine of ten jobs, all going well or badly together."""

    minutes: tuple[Term, ...]
    cost: tuple[Term, ...]


@dataclass(frozen=True, slots=True)
class _Sums:
    """Mean, standard deviation, and the same when all goes well or badly at once."""

    mean: Term
    apart: Term
    together: Term


def write_risk(page: Page, row: int, estimate: Estimate, minutes: MinuteTerms, cost: Term, figures: Figures) -> Sure:
    """The levels, then a row a step, and what prices add."""
    levels, row = row, row + len(LEVELS) + 2
    page.heads(row, HEADS, left=1)
    first = row + 1
    means: list[Fraction] = []
    deviations: list[Fraction] = []
    for place, worked in enumerate(estimate.minutes.steps):
        at = first + place
        page.text(at, 0, worked.step.step)
        likely, typed = minutes.by_step[place], figures(worked.step, "Minutes")
        low = page.live(at, 1, _end(figures.maybe(worked.step, "Low"), likely, typed), "minutes")
        page.live(at, 2, likely, "minutes")
        high = page.live(at, 3, _end(figures.maybe(worked.step, "High"), likely, typed), "minutes")
        means.append(page.live(at, 4, (low + likely * 4 + high) / 6, "minutes").value)
        deviations.append(page.live(at, 5, (high - low) / 6, "minutes").value)
    mean, deviation = page.span(first, 4, means), page.span(first, 5, deviations)
    risk = estimate.risk
    of_minutes = _Sums(
        mean.sum() + minutes.extras, Term(f"SQRT(SUMPRODUCT({deviation.words},{deviation.words}))", risk.sd_min), deviation.sum()
    )
    of_cost = _cost(page, first + len(means) + 1, of_minutes, minutes, cost, figures, risk)
    return _levels(page, levels, of_minutes, of_cost, risk)


def _end(end: Maybe, likely: Term, typed: Term) -> Term:
    """The low or high minutes of a step in this job; a blank one is the likely."""
    value = likely.value / typed.value * end.term.value if typed.value else Fraction(0)
    return choose(
        end.asks, end.value is not None, Term(f"IF({typed.words}=0,0,{likely.words}/{typed.words}*{end.term.words})", value), likely
    )


def _cost(
    page: Page, row: int, of_minutes: _Sums, minutes: MinuteTerms, cost: Term, figures: Figures, risk: RiskAnswer
) -> _Sums:
    """The cost: minutes at the full rate, and what low and high prices add."""
    rate = (figures.direct + figures.overhead).value / 60
    shift = risk.cost - cost.value - (of_minutes.mean.value - minutes.total.value) * rate
    variance = max(Fraction(0), risk.cost_sd * risk.cost_sd - risk.sd_min * risk.sd_min * rate * rate)
    page.text(row, 0, "Low and high prices, when priced", "label")
    page.text(row + 1, 0, "add to the mean of the cost", "label")
    page.text(row + 2, 0, "add to its variance", "label")
    page.text(row + 3, 0, "add to its deviation, all at once", "label")
    more = page.fact(row + 1, 1, shift, "money")
    spread = page.fact(row + 2, 1, variance if variance > Fraction(1, 10**12) else 0, "money")
    at_once = page.fact(row + 3, 1, risk.cost_sd_together - of_minutes.together.value * rate, "money")
    per_minute = f"({(figures.direct + figures.overhead).words})/60"
    mean = Term(f"{cost.words}+({of_minutes.mean.words}-{minutes.total.words})*{per_minute}+{more.words}", risk.cost)
    apart = Term(f"SQRT(({of_minutes.apart.words}*{per_minute})^2+{spread.words})", risk.cost_sd)
    together = Term(f"({of_minutes.together.words})*{per_minute}+{at_once.words}", risk.cost_sd_together)
    return _Sums(mean, apart, together)


def _levels(page: Page, row: int, of_minutes: _Sums, of_cost: _Sums, risk: RiskAnswer) -> Sure:
    told = (
        (risk.mean_min, risk.mean_min, risk.cost, risk.cost),
        (risk.p80_min, risk.p80_together_min, risk.cost_p80, risk.cost_p80_together),
        (risk.p90_min, risk.p90_together_min, risk.cost_p90, risk.cost_p90_together),
    )
    page.heads(row, SURE_HEADS, left=1)
    ways = ((of_minutes, 2, "apart"), (of_minutes, 3, "together"), (of_cost, 4, "apart"), (of_cost, 5, "together"))
    minutes: list[Term] = []
    cost: list[Term] = []
    for place, (words, above) in enumerate(LEVELS, start=1):
        at = row + place
        page.text(at, 0, words, "strong")
        page.live(at, 1, term(Fraction(above)), "quantity")
        for i, (sums, column, how) in enumerate(ways):
            deviation = sums.apart if how == "apart" else sums.together
            one = Term(f"{sums.mean.words}+{page.ref(at, 1)}*({deviation.words})", told[place - 1][i])
            written = page.live(at, column, one, "minutes" if sums is of_minutes else "money")
            if how == "together":
                (minutes if sums is of_minutes else cost).append(written)
    return Sure(tuple(minutes), tuple(cost))
