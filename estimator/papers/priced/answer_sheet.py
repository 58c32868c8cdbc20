"""The first sheet: what the job costs and brings, the best way of banding, what is needed, and what is worth a look."""

from __future__ import annotations

from typing import TYPE_CHECKING

from estimator.model.units import MINUTES_PER_HOUR
from estimator.papers.priced.figures import Figures
from estimator.papers.priced.job_sheets import COST_PARTS, JobTerms
from estimator.papers.priced.page import Page
from estimator.papers.priced.quantities import Quantities
from estimator.papers.priced.risk_sheet import LEVELS, Sure
from estimator.papers.priced.sources import Sources
from estimator.papers.priced.terms import Term, choose, term, total

if TYPE_CHECKING:
    from xlsxwriter.workbook import Workbook

MOST_WAYS_SHOWN = 8
LAST_CHART, BELOW_CHARTS = 42, 59


class Answer:
    """The sheet while it is written."""

    def __init__(self, page: Page, live: Quantities, job: JobTerms, figures: Figures) -> None:
        self.page, self.live, self.job, self.figures = page, live, job, figures
        self.row = 4

    def write(self, workbook: Workbook, *, sources: Sources, choice: str, options: list[tuple[str, Term, Term]], sure: Sure) -> None:
        self._amounts()
        self._banding(choice)
        self._needs()
        money_row, money_count = self._money()
        ways_row, ways_count = self._ways()
        self._sure(sure)
        if options:
            self._options(options)
        self._remarks(sources)
        self._charts(workbook, money_row, money_count, ways_row, ways_count)

    def _amounts(self) -> None:
        """The four figures an owner asks for first."""
        page, job, price = self.page, self.job, self.job.price
        paid = [
            self.figures(extra, "Qty") * self.figures.maybe(extra, "Cost each").or_0
            for extra in self.live.estimate.job.extras
            if extra.price_each is not None
        ]
        self.left_over = price.net - job.base - total(paid) if paid else price.net - job.base
        labels = ("Total with tax", "Net", "Cost with contingency", "Left for the shop")
        for column, (words, one) in enumerate(zip(labels, (price.gross, price.net, job.base, self.left_over), strict=True)):
            page.text(self.row, column, words, "big label")
            page.live(self.row + 1, column, one, "big")
        net = price.net
        share = choose(
            f"{net.words}=0",
            net.value == 0,
            term(0),
            Term(f"({self.left_over.words})/{net.words}", self.left_over.value / (net.value or 1)),
        )
        page.live(self.row + 2, 3, share, "share of net")
        page.sheet.set_row(self.row + 1, 34)
        self.row += 4

    def _pair(self, words: str, one: Term, look: str) -> None:
        self.page.text(self.row, 0, words, "label")
        self.page.live(self.row, 1, one, look)  # type: ignore[arg-type]
        self.row += 1

    def _words(self, words: str, formula: str, answer: str) -> None:
        self.page.text(self.row, 0, words, "label")
        self.page.words(self.row, 1, formula, answer, "strong")
        self.row += 1

    def _banding(self, choice: str) -> None:
        page, ways = self.page, self.job.ways
        page.heads(self.row, ("Banding the edges", ""), left=2)
        self.row += 1
        self._words("Best way", *ways.words_at(ways.best))
        self._words("Way in this price", *ways.words_at(ways.chosen))
        cost = ways.relevant_cost
        best = Term(f"INDEX({cost.words},{ways.best.words})", cost.values[int(ways.best.value) - 1])
        for words, sent in (
            ("The best way saves against by hand", 0),
            ("The best way saves against sending all out", len(ways.words) - 1),
        ):
            if (sent == 0 or sent) and ways.keys[sent] is not None:
                self._pair(words, Term(f"{ways.cost_at(sent)}-{best.words}", cost.values[sent] - best.value), "money")
        page.text(self.row, 0, "Choose another way", "label")
        page.link(self.row, 1, "on the sheet Ways of banding", choice)
        self.row += 2

    def _needs(self) -> None:
        page, estimate, job = self.page, self.live.estimate, self.job
        page.heads(self.row, ("What it takes", ""), left=2)
        self.row += 1
        self._pair("Parts", term(sum(part.count for part in estimate.parts)), "whole")
        self._pair("Sheets", term(sum(use.sheets for use in estimate.boards)), "whole")
        self._pair("Metres of edge", total([term(use.net_m) for use in estimate.edgings]), "quantity")
        if job.litres:
            self._pair("Litres of adhesive", total([litres for _, litres in job.litres]), "quantity")
        self._pair("Glue batches, when priced", term(len(estimate.batches)), "whole")
        self._pair("Hours of work", job.minutes.total / MINUTES_PER_HOUR, "minutes")
        self._pair("An hour costs", self.figures.direct + self.figures.overhead, "money")
        self.row += 1

    def _money(self) -> tuple[int, int]:
        """Where the money goes: the parts of the cost, and what is left."""
        page = self.page
        page.heads(self.row, ("Where the money goes", "Amount", "Of the net"), left=1)
        first = self.row = self.row + 1
        net = self.job.price.net
        rows = [
            *zip(COST_PARTS, self.job.cost_parts, strict=True),
            ("Contingency", self.job.contingency),
            ("Left for the shop", self.left_over),
        ]
        for words, one in rows:
            page.text(self.row, 0, words, "label")
            amount = page.live(self.row, 1, one)
            share = Term(
                f"IF({net.words}=0,0,{amount.words}/{net.words})", amount.value / net.value if net.value else amount.value * 0
            )
            page.live(self.row, 2, share, "share")
            self.row += 1
        self.row += 1
        return first, len(rows)

    def _ways(self) -> tuple[int, int]:
        """The cheapest ways, in order."""
        page, ways = self.page, self.job.ways
        page.heads(self.row, ("Cheapest ways of banding", "Relevant cost"), left=1)
        first = self.row = self.row + 1
        span, cost, order = ways.list_span, ways.relevant_cost, ways.cheapest()
        count = min(len(ways.keys), MOST_WAYS_SHOWN)
        for place in range(count):
            at = f"MATCH(SMALL({span},{place + 1}),{span},0)"
            known = order[place] if place < len(order) else None
            way, _ = ways.words_at(Term(at, ways.best.value))
            page.words(self.row, 0, f'IFERROR({way},"")', ways.words[known] if known is not None else "", "label")
            shown = "" if known is None else float(cost.values[known])
            page.raw(self.row, 1, f'IFERROR(INDEX({cost.words},{at}),"")', shown, "money")
            self.row += 1
        self.row += 1
        return first, count

    def _sure(self, sure: Sure) -> None:
        """What holds in most such jobs, all going well or badly at once."""
        page = self.page
        page.heads(self.row, ("How sure", "Hours of work", "Cost"), left=1)
        self.row += 1
        for (words, _), minutes, cost in zip(LEVELS, sure.minutes, sure.cost, strict=True):
            page.text(self.row, 0, f"{words} such jobs takes at most", "label")
            page.live(self.row, 1, minutes / MINUTES_PER_HOUR, "minutes")
            page.live(self.row, 2, cost)
            self.row += 1
        self.row += 1

    @property
    def next_chart(self) -> tuple[int, int]:
        """Where a third chart stands, below the two of this sheet."""
        return LAST_CHART, 5

    def _options(self, options: list[tuple[str, Term, Term]]) -> None:
        page = self.page
        page.heads(self.row, ("Options", "Total with tax", "Difference"), left=1)
        self.row += 1
        for words, gross, difference in options:
            page.text(self.row, 0, words, "label")
            page.live(self.row, 1, gross)
            page.live(self.row, 2, difference)
            self.row += 1
        self.row += 1

    def _remarks(self, sources: Sources) -> None:
        page, remarks = self.page, self.live.estimate.remarks
        self.row = max(self.row, BELOW_CHARTS)
        page.heads(self.row, ("Worth a look", *[""] * 12), left=13)
        self.row += 1
        if not remarks:
            page.text(self.row, 0, "Nothing.", "note")
            self.row += 1
        for remark in remarks:
            target = sources.link(remark.place)
            words = " ".join(one for one in (remark.place.sheet, remark.place.cell) if one) or "the workbook"
            page.link(self.row, 0, words, target)
            page.sheet.merge_range(self.row, 1, self.row, 12, "", page.looks["words"])
            page.sheet.write_string(self.row, 1, remark.words, page.looks["words"])
            page.sheet.set_row(self.row, 15.5 * (1 + len(remark.words) // 150))
            self.row += 1
        page.last_row = max(page.last_row, self.row)

    def _charts(self, workbook: Workbook, money_row: int, money_count: int, ways_row: int, ways_count: int) -> None:
        page, accent = self.page, self.page.looks.accent
        for title, first, count, at in (
            ("Where the money goes", money_row, money_count, 8),
            ("Cheapest ways of banding", ways_row, ways_count, 25),
        ):
            chart = workbook.add_chart({"type": "bar"})
            chart.add_series(
                {
                    "name": title,
                    "categories": [page.name, first, 0, first + count - 1, 0],
                    "values": [page.name, first, 1, first + count - 1, 1],
                    "fill": {"color": accent},
                    "gap": 40,
                    "data_labels": {"value": True, "num_format": "#,##0", "font": {"size": 9}},
                }
            )
            chart.set_title({"name": title, "name_font": {"size": 12, "bold": True}, "overlay": False})
            chart.set_legend({"none": True})
            chart.set_y_axis({"reverse": True, "num_font": {"size": 9}, "line": {"none": True}})
            chart.set_x_axis(
                {"visible": False, "major_gridlines": {"visible": False}, "min": 0 if title.startswith("Cheap") else None}
            )
            chart.set_size({"width": 620, "height": 330})
            chart.set_chartarea({"border": {"color": "#C9C4B8"}})
            page.sheet.insert_chart(at, 5, chart, {"object_position": 3})
        page.widths |= {4: 1.0, **dict.fromkeys(range(5, 13), 9.0)}
        page.last_column = max(page.last_column, 12)
        page.last_row = max(page.last_row, BELOW_CHARTS)
