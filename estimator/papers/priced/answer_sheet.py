"""The first sheet: what the job costs and brings, the best way of banding, what is needed, and what is worth a look."""

from __future__ import annotations

from typing import TYPE_CHECKING

from estimator.model.exact import Fraction
from estimator.model.gathering import first_cell, gathered
from estimator.model.units import M_PER_FOOT, MINUTES_PER_HOUR
from estimator.papers.priced.figures import Figures
from estimator.papers.priced.job_sheets import COST_PARTS, JobTerms
from estimator.papers.priced.look import Look
from estimator.papers.priced.page import Page
from estimator.papers.priced.quantities import Quantities
from estimator.papers.priced.risk_sheet import LEVELS, Sure
from estimator.papers.priced.sources import Sources
from estimator.papers.priced.terms import Term, choose, term, total

if TYPE_CHECKING:
    from xlsxwriter.workbook import Workbook

MOST_WAYS_SHOWN = 8
CHART_ROW, CHART_COLUMN, CHART_SIZE, CHART_STEP = 4, 5, (500, 296), 312
"""Charts stand one below the other beside the tables; a step is a chart and a gap, in dots of the screen."""
ROWS_OF_CHARTS = 50
LEAST_WIDTHS, WIDTHS = (28.0, 19.0, 19.0, 19.0), {4: 2.5, **dict.fromkeys(range(5, 12), 9.6)}
"""Of the columns of labels and figures, which grow with the figures; of the gap, and of those below the charts."""
SIGNS_IN_WORDS = 70
"""Letters of a remark or a way that stand in one line."""
AS_PRICED = (
    "Money, minutes and ways of banding follow what you type in the price book and in Job; no fresh run is needed.",
    "As priced until the job is run again: parts, metres, sheets, glue batches of an edging, remarks, low and high prices.",
)
_QUIET, _WARM = "#B9B4A6", "#B8741A"


class Answer:
    """The sheet while it is written: labels in the first two columns, figures in the next two, charts beside them."""

    def __init__(self, page: Page, live: Quantities, job: JobTerms, figures: Figures) -> None:
        self.page, self.live, self.job, self.figures = page, live, job, figures
        self.row = 4
        self.charts = 0
        """How many stand there already."""

    def write(self, workbook: Workbook, *, sources: Sources, choice: str, options: list[tuple[str, Term, Term]], sure: Sure) -> None:
        self._amounts()
        self._needs()
        self._banding(choice)
        self._remarks(sources)
        money_row, money_count = self._money()
        ways_row, ways_count = self._ways()
        self._sure(sure)
        if options:
            self._options(options)
        for words in AS_PRICED:
            self.page.text(self.row, 0, words, "note", fit=False)
            self.row += 1
        self._charts(workbook, (money_row, money_count), (ways_row, ways_count))

    # --- what an owner asks for first -----------------------------------------------------------------------------------

    def _amounts(self) -> None:
        """Price, cost, and the margin that is kept."""
        page, job, price = self.page, self.job, self.job.price
        paid = [
            self.figures(extra, "Qty") * self.figures.maybe(extra, "Cost each").or_0
            for extra in self.live.estimate.job.extras
            if extra.price_each is not None
        ]
        self.left_over = price.net - job.base - total(paid) if paid else price.net - job.base
        amounts = (price.gross, price.net, job.base, self.left_over)
        labels = ("Total with tax", "Net price", "Cost with contingency", "Margin kept")
        for column, (words, one) in enumerate(zip(labels, amounts, strict=True)):
            page.text(self.row, column, words, "big label")
            page.live(self.row + 1, column, one, "big")
        net = price.net
        share = Term(f"({self.left_over.words})/{net.words}", self.left_over.value / (net.value or 1))
        page.live(self.row + 2, 3, choose(f"{net.words}=0", net.value == 0, term(0), share), "share of net")
        page.sheet.set_row(self.row + 1, 30)
        self.row += 4

    def _needs(self) -> None:
        """What the job takes, in two rows of figures."""
        page, estimate, job = self.page, self.live.estimate, self.job
        litres = total([litres for _, litres in job.litres])
        inch = estimate.job.terms.units == "inch"
        edge = total([term(use.net_m / M_PER_FOOT if inch else use.net_m) for use in estimate.edgings])
        first: tuple[tuple[str, Term, Look], ...] = (
            ("Sheets of board", term(sum(use.sheets for use in estimate.boards)), "middle"),
            ("Feet of edge" if inch else "Metres of edge", edge, "middle metres"),
            ("Litres of adhesive", litres, "middle litres"),
            ("Hours of work", job.minutes.total / MINUTES_PER_HOUR, "middle hours"),
        )
        second: tuple[tuple[str, Term, Look], ...] = (
            ("Parts", term(sum(part.count for part in estimate.parts)), "middle"),
            ("Glue batches", job.ways.at_chosen(job.counts.batches.down(0)), "middle"),
            ("An hour costs", self.figures.direct + self.figures.overhead, "middle money"),
        )
        for pairs in (first, second):
            for column, (words, one, look) in enumerate(pairs):
                page.text(self.row, column, words, "big label")
                page.live(self.row + 1, column, one, look)
            page.sheet.set_row(self.row + 1, 22)
            self.row += 3
        count = len(gathered(estimate.remarks))
        page.text(self.row - 3, 3, "Remarks, when priced", "big label")
        self.count_at = (self.row - 2, 3)
        page.sheet.write_number(*self.count_at, count, page.looks["middle warm" if count else "middle"])

    def _banding(self, choice: str) -> None:
        ways = self.job.ways
        self._heads("Banding the edges", "", "")
        self._words("Best way", *ways.words_at(ways.best))
        self._words("Way in this price", *ways.words_at(ways.chosen))
        cost = ways.relevant_cost
        best = Term(f"INDEX({cost.words},{ways.best.words})", cost.values[int(ways.best.value) - 1])
        known = [None if key is None else cost.values[way] for way, key in enumerate(ways.keys)]
        self._saved("The best way saves, against all by hand", ways.cost_at(0), best, known[0])
        if len(known) > 1:
            self._saved("against sending all out", ways.cost_at(len(known) - 1), best, known[-1])
            order, at = ways.cheapest(), f"MATCH(SMALL({ways.list_span},2),{ways.list_span},0)"
            self._saved("against the next best way", f"INDEX({cost.words},{at})", best, known[order[1]] if len(order) > 1 else None,
                        lacking="there is no other")
        self._label("Choose another way")
        self.page.link(self.row, 3, "on Ways of banding", choice)
        self.row += 2

    def _saved(self, words: str, other: str, best: Term, cost: Fraction | None, *, lacking: str = "not possible") -> None:
        """What the best way saves against another; in words where that one is not possible."""
        self._label(words)
        shown = lacking if cost is None else float(cost - best.value)
        self.page.raw(self.row, 3, f'IFERROR({other}-{best.words},"{lacking}")', shown, "money right")
        self.row += 1

    def _remarks(self, sources: Sources) -> None:
        """What is worth a look, each with the cell that it speaks of."""
        page, remarks = self.page, gathered(self.live.estimate.remarks)
        self._heads("Worth a look", "", "")
        if not remarks:
            page.text(self.row, 0, "Nothing.", "note")
            self.row += 1
        for remark in remarks:
            first = first_cell(remark.place)
            words = " ".join(one for one in (first.sheet, first.cell) if one) or "the workbook"
            page.link(self.row, 0, words if first == remark.place else f"{words} and others", sources.link(first))
            self._across(remark.words)
            self.row += 1
        self.row += 1

    # --- tables ---------------------------------------------------------------------------------------------------------

    def _heads(self, words: str, *heads: str) -> None:
        """A heading over the labels, and those of the figures at the right end."""
        page = self.page
        page.heads(self.row, (words, *[""] * (3 - len(heads))), left=4)
        page.heads(self.row, heads, column=4 - len(heads), left=0)
        self.row += 1

    def _label(self, words: str) -> None:
        """A label may run on into the next column, which is left blank for it."""
        self.page.text(self.row, 0, words, "label", fit=False)
        for column in (1, 2, 3):
            self.page.sheet.write_blank(self.row, column, None, self.page.looks["label"])

    def _words(self, words: str, formula: str, answer: str) -> None:
        self._label(words)
        self._across("", "strong words")
        self.page.words(self.row, 1, formula, answer, "strong words", fit=False)
        self._tall(answer)
        self.row += 1

    def _across(self, words: str, look: Look = "words") -> None:
        """Words over three columns, in as many lines as they take."""
        page = self.page
        page.sheet.merge_range(self.row, 1, self.row, 3, "", page.looks[look])
        page.sheet.write_string(self.row, 1, words, page.looks[look])
        self._tall(words)

    def _tall(self, words: str) -> None:
        self.page.sheet.set_row(self.row, 15.5 * (1 + len(words) // SIGNS_IN_WORDS))

    def _money(self) -> tuple[int, int]:
        """Where the money goes: the parts of the cost, and what is left."""
        page = self.page
        self._heads("Where the money goes", "Amount", "Of the net price")
        first, net = self.row, self.job.price.net
        rows = [
            *zip(COST_PARTS, self.job.cost_parts, strict=True),
            ("Contingency", self.job.contingency),
            ("Margin kept", self.left_over),
        ]
        for words, one in rows:
            self._label(words)
            amount = page.live(self.row, 2, one)
            share = Term(
                f"IF({net.words}=0,0,{amount.words}/{net.words})", amount.value / net.value if net.value else amount.value * 0
            )
            page.live(self.row, 3, share, "share")
            self.row += 1
        self.row += 1
        return first, len(rows)

    def _ways(self) -> tuple[int, int]:
        """The cheapest ways, in order."""
        page, ways = self.page, self.job.ways
        self._heads("Cheapest ways of banding", "Relevant cost")
        first = self.row
        span, cost, order = ways.list_span, ways.relevant_cost, ways.cheapest()
        count = min(len(ways.keys), MOST_WAYS_SHOWN)
        for place in range(count):
            at = f"MATCH(SMALL({span},{place + 1}),{span},0)"
            known = order[place] if place < len(order) else None
            way, _ = ways.words_at(Term(at, ways.best.value))
            self._label("")
            page.words(self.row, 0, f'IFERROR({way},"")', ways.words[known] if known is not None else "", "label", fit=False)
            shown = "" if known is None else float(cost.values[known])
            page.raw(self.row, 3, f'IFERROR(INDEX({cost.words},{at}),"")', shown, "money")
            self.row += 1
        self.row += 1
        return first, count

    def _sure(self, sure: Sure) -> None:
        """What holds in most such jobs, all going well or badly at once."""
        page = self.page
        self._heads("How sure", "Hours of work", "Cost")
        for (words, _), minutes, cost in zip(LEVELS, sure.minutes, sure.cost, strict=True):
            self._label(f"{words} such jobs takes at most")
            page.live(self.row, 2, minutes / MINUTES_PER_HOUR, "minutes")
            page.live(self.row, 3, cost)
            self.row += 1
        self.row += 1

    def _options(self, options: list[tuple[str, Term, Term]]) -> None:
        self._heads("Options", "Total with tax", "Difference")
        for words, gross, difference in options:
            self._label(words)
            self.page.live(self.row, 2, gross)
            self.page.live(self.row, 3, difference)
            self.row += 1
        self.row += 1

    # --- charts ---------------------------------------------------------------------------------------------------------

    def _charts(self, workbook: Workbook, money: tuple[int, int], ways: tuple[int, int]) -> None:
        page = self.page
        accent, currency = page.looks.accent, page.looks.currency
        inks = [accent] * (money[1] - 1) + [_WARM]
        self._bars(workbook, f"Where the money goes, in {currency}", money, column=2, inks=inks, least=None, words_share=0.24)
        possible = min(ways[1], len(self.job.ways.cheapest()))
        if possible > 1:  # one way alone is no comparison
            words, inks = f"What banding costs, way by way, in {currency}", [accent] + [_QUIET] * (possible - 1)
            self._bars(workbook, words, (ways[0], possible), column=3, inks=inks, least=0, words_share=0.42)
        page.fixed |= WIDTHS
        for column, least in enumerate(LEAST_WIDTHS):
            page.widths[column] = max(page.widths.get(column, 0.0), least)
        page.last_column = max(page.last_column, max(WIDTHS))
        page.last_row = max(page.last_row, self.row, CHART_ROW + ROWS_OF_CHARTS)

    def _bars(
        self,
        workbook: Workbook,
        title: str,
        rows: tuple[int, int],
        *,
        column: int,
        inks: list[str],
        least: int | None,
        words_share: float,
    ) -> None:
        """A bar a row, each with its amount; what matters most has an ink of its own."""
        page, (first, count) = self.page, rows
        last = first + count - 1
        chart = workbook.add_chart({"type": "bar"})
        chart.add_series(
            {
                "name": title,
                "categories": [page.name, first, 0, last, 0],
                "values": [page.name, first, column, last, column],
                "fill": {"color": inks[0]},
                "points": [{"fill": {"color": ink}} for ink in inks],
                "gap": 40,
                "data_labels": {"value": True, "num_format": "#,##0", "font": {"size": 9}},
            }
        )
        chart.set_title({"name": title, "name_font": {"size": 12, "bold": True}, "overlay": False})
        chart.set_legend({"none": True})
        chart.set_y_axis({"reverse": True, "num_font": {"size": 9}, "line": {"none": True}, "label_position": "low"})
        chart.set_x_axis({"visible": False, "major_gridlines": {"visible": False}, "min": least})
        bars = {"x": words_share, "y": 0.13, "width": 0.84 - words_share, "height": 0.83}  # the rest is for the amounts
        chart.set_plotarea({"layout": bars})
        chart.set_size(dict(zip(("width", "height"), CHART_SIZE, strict=True)))
        chart.set_chartarea({"border": {"color": "#C9C4B8"}})
        page.sheet.insert_chart(CHART_ROW, CHART_COLUMN, chart, {"object_position": 3, "y_offset": self.charts * CHART_STEP})
        self.charts += 1
