"""Cells in, a workbook out: XlsxWriter's, but each cell's XML is written when it is given, and nothing is squeezed.

XlsxWriter asks some forty questions of every cell, for the many ways in which a cell can be written. Ours are of five kinds,
checked by whoever writes them, so a cell is one piece of text; all that is not a cell stays XlsxWriter's. Strings stand in their
cells, where the result sheets keep them in the user's book too. The workbook is taken apart again at once, so squeezing its
parts would be for nothing.
"""

from __future__ import annotations

import re
from io import BytesIO, StringIO
from typing import TYPE_CHECKING, Any
from zipfile import ZipFile, ZipInfo

from xlsxwriter import Workbook
from xlsxwriter.packager import Packager
from xlsxwriter.worksheet import Worksheet

from estimator.papers.priced.charts import spelt_out
from estimator.papers.priced.letters import column_letters

if TYPE_CHECKING:
    from xlsxwriter.format import Format

_TO_ESCAPE = re.compile(r"[&<>]")
_CONTROL = re.compile(r"[\x00-\x08\x0b-\x1f]|_x[0-9A-F]{4}_")
_LONGEST = 32767
_Cell = tuple["Format | None", str, object]
"""Its look, the XML behind its style, and the value that a chart shows."""


def escaped(words: str) -> str:
    """Words as they stand between two tags.

    >>> escaped("1 < 2 & 3")
    '1 &lt; 2 &amp; 3'
    """
    if not _TO_ESCAPE.search(words):
        return words
    return words.replace("&", "&amp;").replace("<", "&lt;").replace(">", "&gt;")


class QuickSheet(Worksheet):  # type: ignore[misc]
    """A sheet whose rows and columns count from 0; formulas come without their =."""

    def write_string(self, row: int, column: int, words: str, look: Format | None = None) -> None:
        words = words[:_LONGEST]
        shown = _CONTROL.sub(_as_code, words) if _CONTROL.search(words) else words
        kept = ' xml:space="preserve"' if shown != shown.strip() else ""
        self.table[row][column] = (look, f' t="inlineStr"><is><t{kept}>{escaped(shown)}</t></is></c>', words)

    def write_number(self, row: int, column: int, number: float, look: Format | None = None) -> None:
        self.table[row][column] = (look, f"><v>{number:.16G}</v></c>", number)

    def write_boolean(self, row: int, column: int, value: bool, look: Format | None = None) -> None:
        self.table[row][column] = (look, f' t="b"><v>{value:d}</v></c>', value)

    def write_formula(self, row: int, column: int, formula: str, look: Format | None = None, value: float | str = 0) -> None:
        kind, answer = (' t="str"', escaped(value)) if isinstance(value, str) else ("", repr(value))
        self.table[row][column] = (look, f"{kind}><f>{escaped(formula)}</f><v>{answer}</v></c>", value)

    def write_blank(self, row: int, column: int, blank: object, look: Format | None = None) -> None:
        self.table[row][column] = (look, "/>", None)

    # the names by which XlsxWriter itself writes a cell of a link or of merged ones
    _write_string, _write_number, _write_boolean, _write_formula, _write_blank = (
        *(write_string, write_number, write_boolean, write_formula, write_blank),
    )

    def _assemble_xml_file(self) -> None:
        rows = [row for row in self.table if self.table[row]]
        if rows:
            columns = {column for row in rows for column in self.table[row]}
            self._check_dimensions(min(rows), min(columns))
            self._check_dimensions(max(rows), max(columns))
        super()._assemble_xml_file()

    def _write_rows(self) -> None:
        written: list[str] = []
        styles: dict[int, str] = {id(None): ""}
        letters = [column_letters(column) for column in range((self.dim_colmax or 0) + 1)]
        for row in sorted({*self.table, *self.row_info}):
            if row in self.row_info:
                self.fh.write("".join(written))
                written.clear()
                self._write_row(row, None, self.row_info[row])
            else:
                written.append(f'<row r="{row + 1}">')
            cells: dict[int, _Cell] = self.table[row]
            for column in sorted(cells):
                look, words, _ = cells[column]
                style = styles.get(id(look))
                if style is None:
                    assert look is not None
                    style = styles[id(look)] = f' s="{look._get_xf_index()}"'
                written.append(f'<c r="{letters[column]}{row + 1}"{style}{words}')
            written.append("</row>")
        self.fh.write("".join(written))

    def _get_range_data(self, first_row: int, first_column: int, last_row: int, last_column: int) -> list[Any]:
        """What a chart shows before a program has worked it out."""
        found: list[Any] = []
        for row in range(first_row, last_row + 1):
            for column in range(first_column, last_column + 1):
                cell = self.table[row].get(column) if row in self.table else None
                value = cell[2] if cell else None
                found.append(f"{value:.16g}" if isinstance(value, int | float) else value)
        return found


class _KeptParts(Packager):  # type: ignore[misc]
    """Keeps the parts for whoever asks, and leaves nothing for XlsxWriter to squeeze."""

    def _create_package(self) -> list[Any]:
        self.kept: list[tuple[StringIO | BytesIO, str, bool]] = super()._create_package()
        return []


class QuickWorkbook(Workbook):  # type: ignore[misc]
    """A workbook that is written into memory once it is complete."""

    def __init__(self, options: dict[str, Any]) -> None:
        super().__init__(BytesIO(), options)

    def _get_packager(self) -> _KeptParts:
        self.parts = _KeptParts()
        return self.parts

    def content(self) -> bytes:
        """The whole workbook, with the same bytes for the same cells."""
        self.close()
        memory = BytesIO()
        with ZipFile(memory, "w") as package:
            for part, name, _ in self.parts.kept:
                content = part.getvalue()
                if isinstance(content, str) and name.startswith("xl/charts/"):
                    content = spelt_out(content)
                package.writestr(ZipInfo(name, (1980, 1, 1, 0, 0, 0)), content)
        return memory.getvalue()


def _as_code(sign: re.Match[str]) -> str:
    """A sign that XML cannot hold, by its code; words that look like such a code, so that they stay words."""
    found = sign[0]
    return f"_x005F{found}" if found.startswith("_") else f"_x{ord(found):04X}_"
