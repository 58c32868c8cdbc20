"""Is a machine worth buying, live from every figure of the Machine sheet: cost a year, saving, worth today, paybacks (A36).

Several machines stand side by side, a column each; behind them the years of each, and what a metre costs by metres a year.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from estimator.model.exact import Fraction
from estimator.model.results import MachineAnswer
from estimator.model.shop_records import Machine
from estimator.papers.priced.charts import add_lines
from estimator.papers.priced.figures import Figures
from estimator.papers.priced.letters import column_letters
from estimator.papers.priced.page import Page
from estimator.papers.priced.terms import Term, choose

if TYPE_CHECKING:
    from xlsxwriter.workbook import Workbook

LEAST_YEARS = 30
"""Years of the table: a longer life may be typed than the one that was read."""
TENTHS = (2, 4, 6, 8, 10, 12, 15, 20, 25, 30)
"""Metres a year of the curve, in tenths of those that were typed for the first machine."""
LINES = (
    "A metre today, edging apart",
    "Share that pays it back in a year (CRF)",
    "Price and installation",
    "Cost a year",
    "Saved on a metre",
    "Saved a year",
    "Worth today (NPV)",
    "Internal rate (IRR)",
    "Years until it has paid for itself",
    "The same, discounted",
    "Metres a year at which it breaks even",
)
_TODAY, _CRF, _SPENT, _A_YEAR, _BETTER, _SAVING, _NPV, _IRR, _PAYBACK, _DISCOUNTED, _EVEN = range(len(LINES))
_WORTH, _LEFT, _PAID, _FLAG, _COLUMNS_A_MACHINE = 1, 2, 3, 4, 6


def write_machines(
    page: Page,
    row: int,
    machines: tuple[tuple[Machine, MachineAnswer], ...],
    figures: Figures,
    today: Term | None,
    workbook: Workbook,
) -> None:
    """Every machine in a column; `today` is what a metre costs by the best way, edging apart."""
    names = [machine.name or "A machine" if place else machine.name or "The machine" for place, (machine, _) in enumerate(machines)]
    page.heads(row, ("", *names), left=1)
    for line, words in enumerate(LINES):
        page.text(row + 1 + line, 0, words, "label")
        for place in range(len(machines)):
            page.text(row + 1 + line, 1 + place, "", "text")
    written = [
        MachineWriter(page, row, place, len(machines), machine, answer, figures, name).write(today)
        for place, ((machine, answer), name) in enumerate(zip(machines, names, strict=True))
    ]
    if all(one is not None for one in written):
        _curve(page, row + len(LINES) + 3, [one for one in written if one], names, machines[0][0], figures, workbook)


def _curve(
    page: Page,
    row: int,
    written: list[tuple[Term, Term, Term]],
    names: list[str],
    first: Machine,
    figures: Figures,
    workbook: Workbook,
) -> None:
    """What a metre costs on each machine against how many a year, beside what one costs today."""
    page.heads(row, ("Metres a year", "A metre today", *(f"A metre, {name}" for name in names)), left=0)
    a_year = figures(first, "Metres a year")
    for place, tenths in enumerate(TENTHS, start=1):
        metres = page.live(row + place, 0, a_year * tenths / 10, "whole")
        page.live(row + place, 1, written[0][0])
        for machine, (_, a_metre, cost_a_year) in enumerate(written):
            value = a_metre.value + cost_a_year.value / metres.value if metres.value else Fraction(0)
            words = f"IF({metres.words}=0,0,{a_metre.words}+{cost_a_year.words}/{metres.words})"
            page.live(row + place, 2 + machine, Term(words, value))
    if a_year.value:
        below = max(row + len(TENTHS) + 2, row - len(LINES) + LEAST_YEARS)
        lines = [(1, "today"), *((2 + machine, name) for machine, name in enumerate(names))]
        add_lines(
            workbook, page, (below, 0), page,
            rows=(row + 1, row + len(TENTHS)), columns=lines, title="What a metre costs, by metres a year", across="metres a year",
        )  # fmt: skip
        page.last_row = max(page.last_row, below + 18)


class MachineWriter:
    """The column of one machine while it is written, and its years."""

    def __init__(
        self,
        page: Page,
        row: int,
        place: int,
        count: int,
        machine: Machine,
        answer: MachineAnswer,
        figures: Figures,
        name: str,
    ) -> None:
        self.page, self.top, self.machine, self.answer, self.figures = page, row, machine, answer, figures
        self.column, self.name = 1 + place, name
        self.table = count + 2 + max(0, 2 - count) + place * _COLUMNS_A_MACHINE
        self.years = Term(figures(machine, "Life").words, Fraction(machine.life_years))
        self.interest = figures(machine, "Interest")

    def write(self, today: Term | None) -> tuple[Term, Term, Term] | None:
        """A metre today, a metre on the machine, and what it costs a year; None where there is nothing to compare it with."""
        answer, figures, machine = self.answer, self.figures, self.machine
        given = figures.maybe(machine, "Alternative per metre")
        a_metre, metres = figures(machine, "Cost per metre"), figures(machine, "Metres a year")
        fixed, resale = figures(machine, "Fixed cost a year"), figures(machine, "Resale value")
        grown = Term(f"(1+{self.interest.words})^{self.years.words}", (1 + self.interest.value) ** int(self.years.value), 2)
        crf = self._line(_CRF, self._recovery(grown), answer.crf, "quantity")
        spent = self._line(_SPENT, figures(machine, "Price") + figures(machine, "Installation"), None)
        a_year = self._line(_A_YEAR, (spent - resale / grown) * crf + fixed, answer.equivalent_annual_cost)
        if today is None and given.value is None:
            return None
        alternative = self._line(_TODAY, given.otherwise(today) if today else given.term, answer.alternative_per_m)
        better = self._line(_BETTER, alternative - a_metre, None)
        saving = self._line(_SAVING, better * metres - fixed, answer.saving_a_year)
        self._line(_NPV, saving / crf + resale / grown - spent, answer.npv)
        self._rate(spent, saving, resale)
        payback = f'IF({saving.words}>0,IF({spent.words}/{saving.words}<={self.years.words},{spent.words}/{saving.words},""),"")'
        self._maybe(_PAYBACK, payback, answer.payback_years)
        self._table(spent, saving)
        self._maybe(_EVEN, f'IF({better.words}>0,{a_year.words}/{better.words},"")', answer.break_even_metres)
        return alternative, a_metre, a_year

    def _line(self, line: int, one: Term, told: Fraction | None, look: str = "money") -> Term:
        return self.page.live(self.top + 1 + line, self.column, one, look, told=told)  # type: ignore[arg-type]

    def _maybe(self, line: int, formula: str, told: Fraction | None, look: str = "quantity") -> None:
        """An answer that there may be none of."""
        self.page.raw(self.top + 1 + line, self.column, formula, "" if told is None else float(told), look)  # type: ignore[arg-type]

    def _recovery(self, grown: Term) -> Term:
        without = Term(f"1/{self.years.words}", 1 / self.years.value, 2)
        if not self.interest.value:
            shared = Term(f"{self.interest.words}*{grown.words}/({grown.words}-1)", Fraction(0), 2)
        else:
            shared = self.interest * grown / (grown - 1)
        return choose(f"{self.interest.words}=0", self.interest.value == 0, without, shared)

    def _rate(self, spent: Term, saving: Term, resale: Term) -> None:
        """The internal rate; none unless money goes out first and comes back once.

        Programs search it from a guess and give up when that is far off, so they are told what the saving alone brings.
        """
        guess = f"MAX(-0.5,{saving.words}/{spent.words})"
        rate = f"RATE({self.years.words},{saving.words},-{spent.words},{resale.words},0,{guess})"
        words = f'IF({spent.words}>0,IF({saving.words}+{resale.words}>0,IFERROR({rate},""),""),"")'
        self._maybe(_IRR, words, self.answer.irr, "share")

    def _table(self, spent: Term, saving: Term) -> None:
        """Year by year, discounted; the first year in which enough has come back tells the discounted payback."""
        page, count, column = self.page, max(LEAST_YEARS, self.machine.life_years), self.table
        heads = (f"Year, {self.name}", "Saving, worth today", "Left to pay", "Paid back after")
        page.heads(self.top, heads, column=column, left=0)
        left, worth = spent.value, Fraction(0)
        for year in range(1, count + 1):
            row, last = self.top + year, page.ref(self.top + year - 1, column + _LEFT)
            page.fact(row, column, year, "year")
            value = saving.value / (1 + self.interest.value) ** year if year <= self.machine.life_years else Fraction(0)
            at = page.ref(row, column)
            discounted = f"IF({at}<={self.years.words},{saving.words}/(1+{self.interest.words})^{at},0)"
            page.live(row, column + _WORTH, Term(discounted, value), "year money")
            before = spent.words if year == 1 else f"MAX(0,{last}-{page.ref(row - 1, column + _WORTH)})"
            left = spent.value if year == 1 else max(Fraction(0), left - worth)
            worth = value
            page.live(row, column + _LEFT, Term(before, left, 1), "year money")
            here, owed = page.ref(row, column + _WORTH), page.ref(row, column + _LEFT)
            owing = "TRUE" if year == 1 else f"{owed}>0.000000001"
            enough = f'IF({owing},IF({here}>0,IF({here}>={owed}-0.000000001,{at}-1+{owed}/{here},""),""),"")'
            shown = float(year - 1 + left / worth) if worth > 0 and worth >= left and (left or year == 1) else ""
            page.raw(row, column + _PAID, enough, shown, "year quantity")
            page.raw(row, column + _FLAG, f"IF(ISNUMBER({page.ref(row, column + _PAID)}),1,0)", 0 if shown == "" else 1, "unseen")
        page.fade(self.top + 1, column, self.top + count, column + _PAID, f"${column_letters(column + _WORTH)}{self.top + 2}=0")
        span = page.span(self.top + 1, column + _PAID, [Fraction(0)] * count).words
        flags = page.span(self.top + 1, column + _FLAG, [Fraction(0)] * count).words
        first = f'IF(SUM({flags})=0,"",INDEX({span},MATCH(1,{flags},0)))'
        self._maybe(_DISCOUNTED, first, self.answer.discounted_payback_years)
