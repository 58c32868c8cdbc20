"""The open workbook and the few looks that its cells are written in: plain, quiet, the same on every sheet."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import field
from datetime import datetime
from typing import Any

from estimator.model.dataclass import dataclass
from estimator.model.form import Column
from estimator.papers.form_book.cells import column_format, typed

ROWS_WITH_CHOICES = 400
DARK, QUIET, LINE = "#22303A", "#6B757C", "#D5D9DC"
_PLAIN: dict[str, object] = {"valign": "vcenter", "align": "left", "font_name": "Calibri", "font_size": 11}
_LINE_POINTS = 15.5
_TO_THE_RIGHT = ("number", "whole", "percent", "money", "percent or money", "length", "roll length", "money a metre", "rating")
_CENTRED = ("yes no", "mark")


@dataclass(frozen=True, slots=True)
class Pen:
    """A workbook that is being drawn, in one unit and currency."""

    book: Any
    units: str
    currency: str
    drawn: frozenset[str]
    """Sheets that stand in this workbook."""
    names: Mapping[str, tuple[str, ...]]
    """Names of sheets that stand in another one."""
    looks: dict[tuple[tuple[str, object], ...], Any] = field(default_factory=dict)

    def ink(self, **look: object) -> Any:
        """A cell format; the same look is one format."""
        whole = {**_PLAIN, **look}
        key = tuple(sorted(whole.items()))
        if key not in self.looks:
            self.looks[key] = self.book.add_format(whole)
        return self.looks[key]

    def header(self, column: Column | None) -> Any:
        line = {"bottom": 2, "bottom_color": DARK, "font_color": DARK}
        return self.ink(bold=True, **{**look_of(column), **line, "text_wrap": True, "valign": "bottom", "italic": False})

    def leave(self, page: Any, y: int, x: int, column: Column | None, **look: object) -> None:
        """A blank cell with its look, so that what is typed into it stands as its neighbours do."""
        page.write_blank(y, x, None, self.ink(**{**look_of(column), **look, "num_format": column_format(column)}))

    def write(self, page: Any, y: int, x: int, column: Column | None, text: str, **look: object) -> None:
        """A cell with what a person typed, as number, date or text; blank cells are left unwritten."""
        if not text:
            return
        cell = typed(column, text)
        ink = self.ink(**{**look_of(column), **look, "num_format": cell.number_format})
        if isinstance(cell.value, str):
            page.write_string(y, x, cell.value, ink)
        elif isinstance(cell.value, float):
            page.write_number(y, x, cell.value, ink)
        else:
            page.write_datetime(y, x, datetime.combine(cell.value, datetime.min.time()), ink)

    def offer(self, page: Any, column: Column | None, *, first: tuple[int, int], last: tuple[int, int]) -> None:
        """A drop-down where there is something to choose from; it offers and never forbids."""
        source = list(self._choices(column)) if column else []
        if source:
            listed: object = source[0] if source[0].startswith("=") else source
            page.data_validation(*first, *last, {"validate": "list", "source": listed, "show_error": False})

    def _choices(self, column: Column) -> Iterator[str]:
        named = {"yes no": ("yes", "no"), "mark": ("x",), "banding": ("best", "by hand", "send out"),
                 "freed hour": ("idle", "wage", "full rate")}.get(column.what, column.choices)  # fmt: skip
        place = column.names_in or {"board": "Boards", "edging": "Edgings"}.get(column.field, "")
        if named or not place:
            yield from named
            return
        sheet = "Kinds" if place == "Construction" and "Kinds" in self.drawn | self.names.keys() else place
        if sheet in self.drawn:
            yield f"='{sheet}'!$A$2:$A${ROWS_WITH_CHOICES + 1}"
        elif len(",".join(self.names.get(sheet, ()))) < 255:
            yield from self.names.get(sheet, ())


def look_of(column: Column | None) -> dict[str, object]:
    """Numbers to the right, marks in the middle, words to the left with a little air, notes quiet."""
    if column is None or column.what in _TO_THE_RIGHT:
        return {"align": "right", "indent": 1}
    if column.what in _CENTRED:
        return {"align": "center"}
    if column.header == "Note":
        return {"align": "left", "indent": 1, "font_color": QUIET, "italic": True, "text_wrap": True}
    return {"align": "left", "indent": 1, "text_wrap": column.what in ("text", "rule", "schedule")}


def height_of(cells: Mapping[float, str] | None = None, *, lines: int = 1) -> float:
    """Height of a row in points: as many lines as its longest text takes in its column's width."""
    return 3.5 + _LINE_POINTS * max([lines, *(-(-len(text) // int(width)) for width, text in (cells or {}).items())])
