"""The ways of banding against the size of the job: the engine's curve in, a table, its chart and the break-evens out.

Rolls, packs, price breaks and glue batches move with the size, so these figures are the engine's, from when the job was priced;
a line says when money has moved since.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from estimator.model.decision import Decision
from estimator.model.exact import Fraction
from estimator.model.results import Estimate
from estimator.model.units import M_PER_FOOT
from estimator.papers.priced.charts import add_lines
from estimator.papers.priced.page import Page
from estimator.papers.priced.ways_sheet import WayTerms, words_of

if TYPE_CHECKING:
    from xlsxwriter.workbook import Workbook

HEADS = ("Of this job", "All by hand", "All sent out", "Least cost", "This job", "By")
_NOW = 5
"""The column with one figure, for the point of the job in the chart."""
STILL = "As priced: the costs of the ways have not moved since."
MOVED = "The costs of the ways have moved since this was priced: these figures are from then; run it again."


class SizesWriter:
    """The sheet while it is written."""

    def __init__(self, page: Page, row: int, estimate: Estimate, decision: Decision) -> None:
        self.page, self.row, self.estimate, self.decision = page, row, estimate, decision
        self.lines: list[tuple[int, str]] = []
        self.rows = (row, row)
        inch = estimate.job.terms.units == "inch"
        self.of_one, self.lengths = (M_PER_FOOT, "feet") if inch else (Fraction(1), "metres")

    def write(self, ways: WayTerms) -> None:
        self._whether_still(ways)
        self._curve()
        self._alone()

    def _whether_still(self, ways: WayTerms) -> None:
        moved = [
            f"ABS({ways.cost_at(way)}-{float(value)!r})"
            for way, value in enumerate(ways.relevant_cost.values)
            if ways.keys[way] is not None and way in (0, len(ways.words) - 1, int(ways.best.value) - 1)
        ]
        self.page.words(self.row, 0, f'IF(IFERROR({"+".join(moved)},1)>0.005,"{MOVED}","{STILL}")', STILL, "note", fit=False)
        self.row += 1

    def _curve(self) -> None:
        page, points = self.page, self.decision.curve
        metres = sum((use.net_m for use in self.estimate.edgings), start=Fraction(0))
        heads = (f"{self.lengths.capitalize()} of edge", *HEADS)
        page.heads(self.row, heads, left=0)
        page.text(self.row, len(HEADS), HEADS[-1], "head")
        for column in range(len(HEADS)):
            page.widths[column] = max(page.widths.get(column, 0.0), 13.0)
        first = self.row + 1
        for place, point in enumerate(points):
            row = first + place
            page.fact(row, 0, metres * point.size_share / self.of_one, "minutes")
            page.fact(row, 1, point.size_share, "share")
            for column, cost in ((2, point.by_hand), (3, point.sent_out), (4, point.best)):
                if cost is None:
                    page.text(row, column, "not possible", "typed")
                else:
                    page.fact(row, column, cost, "money")
            sent = [step.sent for step in self.decision.by_metres if step.size_share <= point.size_share]
            if point.size_share == 1:
                page.fact(row, _NOW, point.best or Fraction(0), "money")
            page.text(row, len(HEADS), words_of(sent[-1], len(self.estimate.edgings)) if sent else "", "unit")
        self.rows = (first, first + len(points) - 1)
        known = ((2, "All by hand", [one.by_hand for one in points]), (3, "All sent out", [one.sent_out for one in points]))
        self.lines = [(4, "Least cost"), *((column, words) for column, words, costs in known if None not in costs)]
        self.row = first + len(points) + 1

    def _alone(self) -> None:
        """Each edging, were it the only one: the metres at which both routes cost the same."""
        page, metres = self.page, {use.edging: use.net_m for use in self.estimate.edgings}
        page.heads(self.row, ("One edging alone", f"{self.lengths.capitalize()} in this job", "Both routes cost the same at"), left=1)
        for name, level in self.decision.break_even_m:
            self.row += 1
            page.text(self.row, 0, name)
            page.fact(self.row, 1, metres[name] / self.of_one, "minutes")
            if level is None:
                page.text(self.row, 2, "none", "typed")
            else:
                page.fact(self.row, 2, level / self.of_one, "minutes")
        page.text(self.row + 1, 0, "None: one route is the cheaper at every size, or only one is possible.", "note", fit=False)
        self.row += 2

    def chart(self, workbook: Workbook, onto: Page, at: tuple[int, int], *, size: tuple[int, int] = (620, 330), down: int = 0) -> None:
        """Only where there is something to compare."""
        long = f"{self.lengths} of edge"
        if len(self.lines) > 1 and len(self.decision.curve) > 1:
            add_lines(
                workbook, onto, at, self.page,
                rows=self.rows, columns=self.lines, title=f"What banding costs, by {long}, in {onto.looks.currency}", across=long,
                now=_NOW, size=size, down=down,
            )  # fmt: skip
