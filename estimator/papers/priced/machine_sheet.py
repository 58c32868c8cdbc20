"""Is a machine worth buying, live from every figure of the Machine sheet: cost a year, saving, worth today, paybacks (A36)."""

from __future__ import annotations

from estimator.model.exact import Fraction
from estimator.model.records import Machine
from estimator.model.results import MachineAnswer
from estimator.papers.priced.figures import Figures
from estimator.papers.priced.page import Page
from estimator.papers.priced.terms import Term, choose

LEAST_YEARS = 30
"""Years of the table: a longer life may be typed than the one that was read."""
_YEAR, _WORTH, _LEFT, _PAID = 3, 4, 5, 6


class MachineWriter:
    """The sheet of one machine while it is written."""

    def __init__(self, page: Page, row: int, machine: Machine, answer: MachineAnswer, figures: Figures) -> None:
        self.page, self.row, self.machine, self.answer, self.figures = page, row, machine, answer, figures
        self.top = row
        self.years = Term(figures(machine, "Life").words, Fraction(machine.life_years))
        self.interest = figures(machine, "Interest")

    def write(self, today: Term | None) -> None:
        """Every figure of the answer; `today` is what a metre costs by the best way, edging apart."""
        page, answer = self.page, self.answer
        page.heads(self.row, ("A machine", "Answer"), left=1)
        self.row += 1
        given = self.figures.maybe(self.machine, "Alternative per metre")
        a_metre = self.figures(self.machine, "Cost per metre")
        metres = self.figures(self.machine, "Metres a year")
        fixed = self.figures(self.machine, "Fixed cost a year")
        resale = self.figures(self.machine, "Resale value")
        alternative = None
        if today is not None or given.value is not None:
            alternative = self._line(
                "A metre today, edging apart", given.otherwise(today) if today else given.term, answer.alternative_per_m
            )
        grown = Term(f"(1+{self.interest.words})^{self.years.words}", (1 + self.interest.value) ** int(self.years.value), 2)
        crf = self._line("Share that pays it back in a year (CRF)", self._recovery(grown), answer.crf, "quantity")
        spent = self._line(
            "Price and installation", self.figures(self.machine, "Price") + self.figures(self.machine, "Installation"), None
        )
        a_year = self._line("Cost a year", (spent - resale / grown) * crf + fixed, answer.equivalent_annual_cost)
        if alternative is None:
            return
        better = self._line("Saved on a metre", alternative - a_metre, None)
        saving = self._line("Saved a year", better * metres - fixed, answer.saving_a_year)
        self._line("Worth today (NPV)", saving / crf + resale / grown - spent, answer.npv)
        self._rate(spent, saving, resale)
        self._payback(spent, saving)
        self._table(spent, saving)
        words = f'IF({better.words}>0,{a_year.words}/{better.words},"")'
        self._maybe("Metres a year at which it breaks even", words, answer.break_even_metres)

    def _line(self, words: str, one: Term, told: Fraction | None, look: str = "money") -> Term:
        self.page.text(self.row, 0, words, "label")
        written = self.page.live(self.row, 1, one, look, told=told)  # type: ignore[arg-type]
        self.row += 1
        return written

    def _maybe(self, words: str, formula: str, told: Fraction | None, look: str = "quantity") -> None:
        """An answer that there may be none of."""
        self.page.text(self.row, 0, words, "label")
        self.page.raw(self.row, 1, formula, "" if told is None else float(told), look)  # type: ignore[arg-type]
        self.row += 1

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
        self._maybe("Internal rate (IRR)", words, self.answer.irr, "percent")

    def _payback(self, spent: Term, saving: Term) -> None:
        words = f'IF({saving.words}>0,IF({spent.words}/{saving.words}<={self.years.words},{spent.words}/{saving.words},""),"")'
        self._maybe("Years until it has paid for itself", words, self.answer.payback_years)

    def _table(self, spent: Term, saving: Term) -> None:
        """Year by year, discounted; the first year in which enough has come back tells the discounted payback."""
        page, count = self.page, max(LEAST_YEARS, self.machine.life_years)
        page.heads(self.top, ("Year", "Saving, worth today", "Left to pay", "Paid back after", "Paid"), column=_YEAR, left=0)
        left, worth = spent.value, Fraction(0)
        for year in range(1, count + 1):
            row, last = self.top + year, page.ref(self.top + year - 1, _LEFT)
            page.fact(row, _YEAR, year, "whole")
            value = saving.value / (1 + self.interest.value) ** year if year <= self.machine.life_years else Fraction(0)
            at = page.ref(row, _YEAR)
            discounted = f"IF({at}<={self.years.words},{saving.words}/(1+{self.interest.words})^{at},0)"
            page.live(row, _WORTH, Term(discounted, value), "money")
            before = spent.words if year == 1 else f"{last}-{page.ref(row - 1, _WORTH)}"
            left = spent.value if year == 1 else left - worth
            worth = value
            page.live(row, _LEFT, Term(before, left, 1), "money")
            here, owed = page.ref(row, _WORTH), page.ref(row, _LEFT)
            enough = f'IF({here}>0,IF({here}>={owed}-0.000000001,{page.ref(row, _YEAR)}-1+{owed}/{here},""),"")'
            shown = float(year - 1 + left / worth) if worth > 0 and worth >= left else ""
            page.raw(row, _PAID, enough, shown, "quantity")
            page.raw(row, _PAID + 1, f"IF(ISNUMBER({page.ref(row, _PAID)}),1,0)", 0 if shown == "" else 1, "fact")
        span = page.span(self.top + 1, _PAID, [Fraction(0)] * count).words
        flags = page.span(self.top + 1, _PAID + 1, [Fraction(0)] * count).words
        first = f'IF(SUM({flags})=0,"",INDEX({span},MATCH(1,{flags},0)))'
        self._maybe("The same, discounted", first, self.answer.discounted_payback_years)
