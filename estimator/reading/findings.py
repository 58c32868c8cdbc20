"""What the reading finds on its way: problems and remarks, each with its place, put in the order of the sheets at the end."""

from __future__ import annotations

import re
from dataclasses import field

from estimator.model.dataclass import dataclass
from estimator.model.form import SHEETS
from estimator.model.problems import Place, Problem, Remark
from estimator.reading.names import fold
from estimator.reading.raw_cells import column_number
from estimator.reading.typed_numbers import Wrong

MOST_PROBLEMS = 500
"""More than anybody reads: after these the rest is counted only."""
BLANK = "nothing: the cell is blank"


@dataclass(slots=True)
class Findings:
    """Problems and remarks so far; the same cell is never told the same thing twice."""

    problems: dict[tuple[Place, str], Problem] = field(default_factory=dict)
    remarks: dict[Remark, None] = field(default_factory=dict)
    further: int = 0

    def problem(self, place: Place, *, found: str, expected: str, mend: str) -> None:
        if (place, expected) in self.problems:
            return
        if len(self.problems) >= MOST_PROBLEMS:
            self.further += 1
            return
        self.problems[place, expected] = Problem(place, found, expected, mend)

    def wrong(self, place: Place, wrong: Wrong, *, expected: str) -> None:
        self.problem(place, found=wrong.found, expected=wrong.expected or expected, mend=wrong.mend)

    def remark(self, place: Place, words: str) -> None:
        self.remarks[Remark(place, words)] = None

    def problems_in_order(self, workbook: str) -> tuple[Problem, ...]:
        told = sorted(self.problems.values(), key=lambda problem: _order(problem.place, workbook))
        if self.further:
            told.append(Problem(
                Place(workbook), f"{self.further:,} further problems", f"a workbook with fewer than {MOST_PROBLEMS} problems",
                "mend those above first, then run again",
            ))  # fmt: skip
        return tuple(told)

    def remarks_in_order(self, workbook: str) -> tuple[Remark, ...]:
        return tuple(sorted(self.remarks, key=lambda remark: _order(remark.place, workbook)))


_SHEET_ORDER = {fold(sheet.name): number for number, sheet in enumerate(SHEETS)}
_CELL = re.compile(r"([A-Z]+)(\d+)")


def _order(place: Place, workbook: str) -> tuple[bool, int, str, int, int, str]:
    cell = _CELL.fullmatch(place.cell)
    row, column = (int(cell[2]), column_number(cell[1])) if cell else (0, 0)
    return place.workbook != workbook, _SHEET_ORDER.get(fold(place.sheet), -1), place.sheet, row, column, place.cell
