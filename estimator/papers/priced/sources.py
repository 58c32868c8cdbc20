"""A place that a record remembers in, the cell that a formula can point at out, with what stands in it."""

from __future__ import annotations

from collections.abc import Mapping

from estimator.model.dataclass import dataclass
from estimator.model.exact import Fraction
from estimator.model.form import What
from estimator.model.problems import Place
from estimator.model.units import M_PER_FOOT, MM_PER_INCH
from estimator.papers.book.names import quoted
from estimator.papers.priced.other_unit import folded
from estimator.papers.priced.page import cell_name, cell_of
from estimator.papers.priced.typed import Cells, TypedCell

_FACTORS: Mapping[What, tuple[Fraction, Fraction]] = {
    "percent": (Fraction(1, 100), Fraction(1)),
    "length": (Fraction(1), MM_PER_INCH),
    "roll length": (Fraction(1), M_PER_FOOT),
    "money a metre": (Fraction(1), 1 / M_PER_FOOT),
}
"""What a bare 1 can be worth in the engine's unit: in a book in mm and in one in inches; for a percentage bare and formatted."""


@dataclass(frozen=True, slots=True)
class Source:
    """A cell of the user's in the filled-in workbook."""

    sheet: str
    row: int
    column: int
    typed: TypedCell | None
    """None: the cell is blank."""

    @property
    def ref(self) -> str:
        return f"{quoted(self.sheet)}!{cell_name(self.row, self.column)}"

    @property
    def link(self) -> str:
        return self.ref.replace("$", "")

    @property
    def short(self) -> str:
        return f"{self.sheet} {cell_name(self.row, self.column).replace('$', '')}"


@dataclass(frozen=True, slots=True)
class Sources:
    """The sheets of the filled-in workbook as they were typed, and what a bare number is worth in them."""

    cells: Mapping[str, Cells]
    """By the name of the sheet in the filled-in workbook."""
    renamed: Mapping[tuple[str, str], str]
    """The name that a sheet of the second book has in the filled-in workbook, by book and sheet."""
    inch: bool

    def sheet(self, place: Place) -> str | None:
        name = self.renamed.get((place.workbook, place.sheet), place.sheet)
        return name if name in self.cells else None

    def at(self, place: Place) -> Source | None:
        """The cell of a place; None where the sheet has no such cell, so that a default stands."""
        sheet, at = self.sheet(place), cell_of(place)
        if sheet is None or at is None:
            return None
        return Source(sheet, *at, self.cells[sheet].get(at))

    def items(self, sheet: str) -> dict[str, Source]:
        """The value cell of every item that a sheet of names and values lists, blank or not, by the item's name."""
        cells = self.cells.get(sheet, {})
        heads = {folded(cell.value): at for at, cell in reversed(list(cells.items())) if folded(cell.value) in ("item", "value")}
        if len(heads) < 2:
            return {}
        (top, names), (_, values) = heads["item"], heads["value"]
        listed = {row: folded(cell.value) for (row, column), cell in cells.items() if column == names and row > top}
        return {name: Source(sheet, row, values, cells.get((row, values))) for row, name in listed.items()}

    def link(self, place: Place) -> str:
        """Where a click on a name should lead; the sheet itself where there is no cell."""
        sheet = self.sheet(place)
        if sheet is None:
            return ""
        source = self.at(place)
        return source.link if source else f"{quoted(sheet)}!A1"

    def factor(self, what: What, source: Source, read: Fraction | None) -> Fraction | None:
        """What a bare 1 in this cell is worth; None for a percentage whose cell does not tell."""
        bare, other = _FACTORS.get(what, (Fraction(1), Fraction(1)))
        number = source.typed.number if source.typed else None
        if number and read:
            for factor in (bare, other):
                if abs(float(read / factor) - number) <= 1e-9 * abs(number):
                    return factor
        if what == "percent":
            return Fraction(1) if source.typed and source.typed.shows == "percent" else None
        return other if self.inch else bare

    def follow(self, what: What, source: Source, read: Fraction | None) -> str:
        """The words of a formula that turns the typed number into the engine's unit.

        A percentage of 1 and more is 15 % typed bare, or 150 % in a cell that shows percents: its format tells which.
        """
        factor = self.factor(what, source, read)
        if factor is None or (what == "percent" and factor != 1):
            shown = f'IFERROR(LEFT(CELL("format",{source.ref}),1),"")="P"'
            return f"IF({source.ref}<1,{source.ref},IF({shown},{source.ref},{source.ref}/100))"
        if factor == 1:
            return source.ref
        if factor == 1 / M_PER_FOOT:
            return f"{source.ref}/0.3048"
        return f"{source.ref}*{float(factor)}"
