"""One result sheet while it is written: words, numbers and live terms in; cells, column widths and print settings out."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import field
from math import ceil
from typing import TYPE_CHECKING, Literal

from estimator.model.dataclass import dataclass
from estimator.model.exact import Fraction
from estimator.model.problems import Fault, Place
from estimator.model.units import MM_PER_INCH, decimal_text, inches_text
from estimator.papers.book.names import quoted
from estimator.papers.priced.letters import column_letters
from estimator.papers.priced.look import Look, Looks
from estimator.papers.priced.terms import Span, Term

if TYPE_CHECKING:
    from xlsxwriter.worksheet import Worksheet

MOST_WIDTH, LEAST_WIDTH = 46.0, 7.0
MOST_UPRIGHT = 168.0
"""Points; longer headings are broken into two lines."""
SIGNS_ACROSS = 235.0
"""Letters across a sheet of paper that are still read with ease; tables of many columns go on pages side by side."""
FIRST_TABLE_ROW = 4
"""Rows from 0: title, what the sheet is, whether it still holds, a blank one; then the tables."""


def cell_name(row: int, column: int) -> str:
    """A cell's name from its row and column, both from 0.

    >>> cell_name(6, 27)
    '$AB$7'
    """
    return f"${column_letters(column)}${row + 1}"


PAPERS = {"A4": 9, "Letter": 1}
"""Numbers by which a workbook names its paper."""


@dataclass(slots=True)
class Page:
    """A sheet of ours. Rows and columns count from 0."""

    name: str
    sheet: Worksheet
    looks: Looks
    paper: Literal["A4", "Letter"] = "A4"
    widths: dict[int, float] = field(default_factory=dict)
    fixed: dict[int, float] = field(default_factory=dict)
    """Widths of columns that fit nothing but what was decided for them."""
    head_rows: dict[int, dict[int, float]] = field(default_factory=dict)
    """Rows of headings: how long the words of each column are."""
    uprights: dict[int, float] = field(default_factory=dict)
    """Rows of upright headings: how tall they are."""
    last_row: int = 0
    last_column: int = 0
    prefix: str = ""

    def __post_init__(self) -> None:
        self.prefix = f"{quoted(self.name)}!"

    # --- cells --------------------------------------------------------------------------------------------------------

    def text(self, row: int, column: int, words: str, look: Look = "text", *, fit: bool = True) -> None:
        """Words as they are: what begins with = stays text."""
        self.sheet.write_string(row, column, words, self.looks[look])
        self._used(row, column, len(words) * (1.12 if look in ("strong", "head", "total label") else 1.0) if fit else 0.0)

    def heads(self, row: int, words: Sequence[str], *, column: int = 0, left: int = 1) -> None:
        """Column headings; the first `left` stand left, over words, the others right, over numbers."""
        for place, head in enumerate(words):
            self.sheet.write_string(row, column + place, head, self.looks["head" if place < left else "head right"])
            longest = max((len(word) for word in head.split()), default=0)
            self._used(row, column + place, max(longest, len(head) / 2) * 1.15 + 1)
            self.head_rows.setdefault(row, {})[column + place] = len(head) * 1.15

    def upright_heads(self, row: int, words: Sequence[str], *, column: int = 0) -> None:
        """Column headings that stand upright, for tables of many narrow columns."""
        for place, head in enumerate(words):
            self.sheet.write_string(row, column + place, head, self.looks["head upright"])
            self._used(row, column + place, LEAST_WIDTH - 1)
        longest = max((len(head) for head in words), default=0)
        self.uprights[row] = max(self.uprights.get(row, 0.0), min(7.0 * longest + 12, MOST_UPRIGHT))
        self.sheet.set_row(row, self.uprights[row])

    def fact(self, row: int, column: int, value: Fraction | int, look: Look = "quantity") -> Term:
        """A figure of the engine."""
        number = float(value)
        self.sheet.write_number(row, column, number, self.looks[look])
        self._used(row, column, _digits(number, look, self.looks.decimals))
        return Term(self.ref(row, column), value if isinstance(value, Fraction) else Fraction(value))

    def size(self, row: int, column: int, length_mm: Fraction) -> None:
        """A length in the job's unit: the cell holds all of it, its format shows inches to the nearest fraction of the job."""
        self.fact(row, column, length_mm / MM_PER_INCH if self.looks.finest_inch else length_mm, "size")

    def size_words(self, length_mm: Fraction) -> str:
        finest = self.looks.finest_inch
        return inches_text(length_mm, finest=finest) if finest else decimal_text(length_mm, places=1)

    @property
    def size_unit(self) -> str:
        return "inches" if self.looks.finest_inch else "mm"

    def live(self, row: int, column: int, one: Term, look: Look = "money", *, told: Fraction | int | None = None) -> Term:
        """A formula with its answer; `told` is what the Estimate says, and a difference is a fault of ours."""
        if told is not None and one.value != told:
            raise Fault(f"{self.name} {cell_name(row, column)}: the formula gives {float(one.value)}, the estimate {float(told)}")
        self.sheet.write_formula(row, column, self._own(one.words), self.looks[look], _plain(one.value))
        self._used(row, column, _digits(float(one.value), look, self.looks.decimals))
        return Term(self.ref(row, column), one.value)

    def words(self, row: int, column: int, formula: str, answer: str, look: Look = "text", *, fit: bool = True) -> None:
        """A formula that gives words."""
        self.sheet.write_formula(row, column, self._own(formula), self.looks[look], answer)
        self._used(row, column, len(answer) if fit else 0.0)

    def raw(self, row: int, column: int, formula: str, answer: float | str, look: Look) -> None:
        """A formula whose answer may be a number or a blank text."""
        self.sheet.write_formula(row, column, self._own(formula), self.looks[look], answer)
        self._used(row, column, 8.0)

    def link(self, row: int, column: int, words: str, target: str, look: Look = "link") -> None:
        """Words that lead to a cell of this workbook, such as 'Boards'!E5."""
        if target and words:
            self.sheet.write_url(row, column, f"internal:{target}", self.looks[look], string=words)
        else:
            self.sheet.write_string(row, column, words, self.looks["text"])
        self._used(row, column, len(words))

    def fade(self, row: int, column: int, last_row: int, last_column: int, asks: str) -> None:
        """Cells that show nothing while a question about their row holds, and stand on a line while it does not."""
        for criteria, look in ((f"={asks}", self.looks.faded()), (f"=NOT({asks})", self.looks.ruled())):
            self.sheet.conditional_format(row, column, last_row, last_column, {"type": "formula", "criteria": criteria, "format": look})

    # --- references ---------------------------------------------------------------------------------------------------

    def ref(self, row: int, column: int) -> str:
        return f"{self.prefix}${column_letters(column)}${row + 1}"

    def span(self, row: int, column: int, values: Sequence[Fraction], *, down: bool = True) -> Span:
        """The cells from one on, down a column or along a row, that hold these values."""
        steps = max(len(values) - 1, 0)
        end = cell_name(row + steps, column) if down else cell_name(row, column + steps)
        return Span(f"{self.ref(row, column)}:{end}", tuple(values))

    def _own(self, words: str) -> str:
        """Formulas name their own sheet only where a text might hold its name."""
        return words if '"' in words else words.replace(self.prefix, "")

    # --- widths and print ---------------------------------------------------------------------------------------------

    def _used(self, row: int, column: int, width: float) -> None:
        self.last_row, self.last_column = max(self.last_row, row), max(self.last_column, column)
        if width > self.widths.get(column, 0.0):
            self.widths[column] = width

    def finish(
        self,
        *,
        freeze_row: int,
        freeze_column: int = 0,
        landscape: bool = True,
        repeat: int | None = None,
        one_page: bool = False,
        wide: bool = False,
        printed: int | None = None,
    ) -> None:
        """Widths that fit, frozen headers, print settings: as wide as the paper, or a wide table on pages side by side.

        `repeat` is the row of headings that stands on every page; where none is named, the one above the frozen rows.
        `printed` is the last column on paper.
        """
        across = 0.0
        for column in range(self.last_column + 1):
            width = self._width(column)
            self.sheet.set_column(column, column, width)
            across += width
        self._head_heights()
        self.sheet.set_row(0, 27)
        self.sheet.freeze_panes(freeze_row, freeze_column)
        self.sheet.hide_gridlines(2)
        self.sheet.set_landscape() if landscape else self.sheet.set_portrait()
        self.sheet.set_paper(PAPERS[self.paper])
        pages = ceil(across / SIGNS_ACROSS) if wide else 1
        self.sheet.fit_to_pages(pages, 1 if one_page else 0)
        if pages > 1:
            self.sheet.repeat_columns(0)
            self.sheet.print_across()
        self.sheet.set_margins(left=0.5, right=0.5, top=0.6, bottom=0.6)
        if repeat is not None or freeze_row > FIRST_TABLE_ROW:
            self.sheet.repeat_rows(freeze_row - 1 if repeat is None else repeat)
        self.sheet.set_footer(f"&L{self.name.replace('&', '&&')}&RPage &P of &N")
        self.sheet.print_area(0, 0, self.last_row, self.last_column if printed is None else printed)

    def _width(self, column: int) -> float:
        return self.fixed.get(column) or min(max(self.widths.get(column, 0.0) + 2.2, LEAST_WIDTH), MOST_WIDTH)

    def _head_heights(self) -> None:
        """One line where the headings of a row fit into their columns, else two."""
        for row, heads in self.head_rows.items():
            broken = any(length > self._width(column) for column, length in heads.items())
            self.sheet.set_row(row, 32 if broken else 20)


_AFTER = {"whole": 0, "factor": 3, "size": 6, "minutes": 3, "quantity": 4, "percent": 4, "fact": 4}
"""Signs behind the whole number, of what is no money."""


def _plain(value: Fraction) -> float | int:
    return int(value) if value.denominator == 1 else float(value)


def _digits(value: float, look: Look, decimals: int) -> float:
    """How wide a number shows, in letters of the usual size."""
    whole = len(f"{abs(int(value)):,}") + (value < 0)
    after = _AFTER.get(look)
    if after is None:
        after = decimals + (3 if look == "money each" else 1)
    return (whole + decimals + 5) * 1.8 if look == "big" else (whole + after) * 1.15


def cell_of(place: Place) -> tuple[int, int] | None:
    """Row and column, from 0, of a place that names a cell; None for one that names a row or an item."""
    letters = place.cell.rstrip("0123456789")
    digits = place.cell[len(letters) :]
    if not digits or not letters.isascii() or not letters.isupper() or len(letters) > 3:
        return None
    column = 0
    for sign in letters:
        column = column * 26 + ord(sign) - 64
    return int(digits) - 1, column - 1
