"""A cell of a length in, mm or metres out: one length, several with commas, a roll."""

from __future__ import annotations

from estimator.model.exact import Fraction
from estimator.model.form import Column
from estimator.model.units import MM_PER_M
from estimator.reading.cell_numbers import in_bounds, number_of
from estimator.reading.cell_words import found
from estimator.reading.raw_cells import Cell
from estimator.reading.typed_numbers import Units, Wrong, bare_metre_mm, bare_mm, length, said, shortened, tidy


def length_of(cell: Cell, *, bare: Fraction, starts_1904: bool = False) -> Fraction | Wrong:
    """The length in a cell in mm; `bare` is what a bare 1 is worth."""
    if cell.holds == "text":
        typed = length(cell.text, bare_mm=bare)
        return typed if isinstance(typed, Wrong) else typed.mm
    value = number_of(cell, starts_1904)
    return value if isinstance(value, Wrong) else value * bare


def read_length(cell: Cell, column: Column, units: Units, starts_1904: bool) -> Fraction | Wrong:
    value = length_of(cell, bare=bare_mm(units), starts_1904=starts_1904)
    return value if isinstance(value, Wrong) else in_bounds(value, cell, column) or value


def read_roll_length(cell: Cell, column: Column, units: Units, starts_1904: bool) -> Fraction | Wrong:
    value = length_of(cell, bare=bare_metre_mm(units), starts_1904=starts_1904)
    return value if isinstance(value, Wrong) else in_bounds(value, cell, column) or value / MM_PER_M


def read_lengths(cell: Cell, column: Column, units: Units, starts_1904: bool) -> tuple[Fraction, ...] | Wrong:
    """Several lengths with commas between them; a comma before a blank, or a semicolon, parts them."""
    if cell.holds != "text":
        one = length_of(cell, bare=bare_mm(units), starts_1904=starts_1904)
        return one if isinstance(one, Wrong) else _above_0((one,), cell)
    line = tidy(cell.text)
    parting = ";" if ";" in line else (", " if ", " in line else ",")
    sizes = []
    for piece in line.rstrip(",; ").split(parting):
        size = length(piece, bare_mm=bare_mm(units))
        if isinstance(size, Wrong):
            return Wrong(said(line), f"look at '{shortened(piece)}': {size.mend}")
        sizes.append(size.mm)
    return _above_0(tuple(sizes), cell)


def _above_0(sizes: tuple[Fraction, ...], cell: Cell) -> tuple[Fraction, ...] | Wrong:
    return sizes if all(size > 0 for size in sizes) else Wrong(found(cell), "type heights above 0")
