"""Cells typed in a book whose unit is another than the job's in, cells that mean the same in the job's book out.

Lengths get their unit as text, prices a metre become prices a foot or the other way round, and the names in a rule are brought to
the unit that its bare numbers were meant in.
"""

from __future__ import annotations

import re
from collections.abc import Mapping

from estimator.model.exact import Fraction
from estimator.model.form import JOB, Sheet
from estimator.model.records import Job
from estimator.model.units import decimal_text
from estimator.papers.priced.typed import Cells, TypedCell

_BARE = re.compile(r"[\d.,/ ]+")
_TOKEN = re.compile(r"\d+(?:\.\d+)?\s*(?:mm|cm|m|inch|in)\b|\.?\d[\d.]*|[^\W\d]\w*(?:\s+[^\W\d]\w*)*|.", re.UNICODE)
_COUNTS = frozenset({"shelves", "doors", "drawers", "ends", "min", "max", "round up", "round down", "if"})
_RULES: Mapping[str, tuple[str, ...]] = {"Construction": ("Count", "Length", "Width"), "Fittings": ("Number",)}


def in_unit_of(job: Job, sheet: Sheet, cells: Cells) -> Cells:
    """A sheet of the second book as it must be typed in the job's."""
    if job.shop.units == job.terms.units:
        return cells
    inch = job.shop.units == "inch"
    return _items(sheet, cells, inch=inch) if sheet.shape == "items" else _rows(job, sheet, cells, inch=inch)


def folded(words: object) -> str:
    """A header without capitals, spaces at its ends and a unit in brackets."""
    return re.sub(r"\s*\([^)]*\)\s*$", "", " ".join(str(words).split())).casefold()


def _rows(job: Job, sheet: Sheet, cells: Cells, *, inch: bool) -> Cells:
    columns = {folded(column.header): column for column in sheet.columns}
    heads = _header_row(cells, set(columns))
    kinds = {at: columns[head] for at, head in heads[1].items() if head in columns}
    found = dict(cells)
    for (row, column), cell in cells.items():
        if row == heads[0] and column in kinds and isinstance(cell.value, str):
            found[row, column] = cell._replace(value=re.sub(r"\s*\([^)]*\)\s*$", "", cell.value))
        elif row > heads[0] and column in kinds:
            form = kinds[column]
            if form.header in _RULES.get(sheet.name, ()):
                counts = _COUNTS | {
                    name.replace("_", " ") for one in job.cabinets for name in one.own_numbers.keys() - one.own_lengths
                }
                found[row, column] = _rule(cell, counts, inch=inch, gives_length=form.header in ("Length", "Width"))
            else:
                found[row, column] = _cell(cell, form.what, inch=inch)
    return found


def _header_row(cells: Cells, known: set[str]) -> tuple[int, dict[int, str]]:
    """The first row with two known headers, and its headers by column."""
    rows: dict[int, dict[int, str]] = {}
    for (row, column), cell in cells.items():
        rows.setdefault(row, {})[column] = folded(cell.value)
    return next(((row, heads) for row, heads in sorted(rows.items()) if len(known & set(heads.values())) >= 2), (-1, {}))


def _items(sheet: Sheet, cells: Cells, *, inch: bool) -> Cells:
    """Item and Value; a row of Shop that the form does not know is a length of the box."""
    row, heads = _header_row(cells, {"item", "value", "unit", "note"})
    places = {head: column for column, head in heads.items()}
    if "item" not in places or "value" not in places:
        return cells
    known = {folded(column.header): column.what for column in sheet.columns}
    found = dict(cells)
    for (at, column), cell in cells.items():
        name = cells.get((at, places["item"]))
        if at <= row or column != places["value"] or name is None:
            continue
        if folded(name.value) == "units":
            found[at, column] = TypedCell("mm" if inch else "inch")
        else:
            job_items = {folded(one.header): one.what for one in JOB.columns}
            what = (
                known.get(folded(name.value))
                or job_items.get(folded(name.value))
                or ("length" if sheet.name == "Shop" else "text")
            )
            found[at, column] = _cell(cell, what, inch=inch)
    return found


def _cell(cell: TypedCell, what: str, *, inch: bool) -> TypedCell:
    if what in ("length", "lengths", "roll length"):
        unit = (" ft" if inch else " m") if what == "roll length" else (" in" if inch else " mm")
        if isinstance(cell.value, float):
            return TypedCell(_short(cell.value) + unit)
        if isinstance(cell.value, str) and _BARE.fullmatch(cell.value.strip()):
            pieces = re.split(r"[,;]\s+", cell.value.strip()) if what == "lengths" else [cell.value.strip()]
            return TypedCell(", ".join(piece + unit for piece in pieces))
    if what == "money a metre" and isinstance(cell.value, float):
        return cell._replace(value=cell.value / 0.3048 if inch else cell.value * 0.3048)
    return cell


def _short(value: float) -> str:
    return decimal_text(Fraction(f"{value:.15g}"))


def _rule(cell: TypedCell, counts: frozenset[str] | set[str], *, inch: bool, gives_length: bool) -> TypedCell:
    """A rule whose bare numbers were meant in the book's unit: its names and lengths are brought to it, its answer back."""
    if isinstance(cell.value, bool):
        return cell
    rule = _short(cell.value) if isinstance(cell.value, float) else cell.value
    there, back = ("/ 25.4", "* 25.4") if inch else ("* 25.4", "/ 25.4")
    words = []
    for token in _TOKEN.findall(rule):
        is_name = token[0].isalpha()
        is_length = token[0].isdigit() and token[-1].isalpha()
        if is_length or (is_name and folded(token.replace("_", " ")) not in counts):
            words.append(f"({token} {there})")
        else:
            words.append(token)
    made = "".join(words)
    if gives_length:
        made = f"({made}) {back}"
    return TypedCell(made) if made != rule else cell
