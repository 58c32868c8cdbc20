"""Lines over a table in, a chart of them on its sheet out: what something costs against how much of it there is."""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import TYPE_CHECKING

from estimator.papers.priced.look import PLAIN
from estimator.papers.priced.page import Page

if TYPE_CHECKING:
    from xlsxwriter.workbook import Workbook

_INKS = ("#9A5B13", "#2F6B4F", "#7A1F4B", "#5B5B5B")
_DASHES = ("solid", "dash", "long_dash", "square_dot")


_SAID = (
    (r'<c:showVal val="1"/>', '<c:showLegendKey val="0"/><c:showVal val="1"/><c:showCatName val="0"/><c:showSerName val="0"/>'
                              '<c:showPercent val="0"/><c:showBubbleSize val="0"/>'),
    (r'(<c:(?:grouping|scatterStyle) val="\w+"/>)(?!<c:varyColors)', r'\1<c:varyColors val="0"/>'),
    (r'(</c:tx><c:layout/>)(</c:title>)(?!<c:autoTitleDeleted)', r'\1<c:overlay val="0"/>\2<c:autoTitleDeleted val="0"/>'),
    (r'(<c:legendPos val="\w"/><c:layout/>)(?!<c:overlay)', r'\1<c:overlay val="0"/>'),
    (r'(</c:scaling>)(?!<c:delete)', r'\1<c:delete val="0"/>'),
    (r'(?<!Mark val="none"/>)(<c:tickLblPos)', r'<c:majorTickMark val="out"/><c:minorTickMark val="none"/>\1'),
    (r'(<c:plotVisOnly val="1"/>)(?!<c:dispBlanksAs)', r'\1<c:dispBlanksAs val="gap"/>'),
    (r'(</c:yVal>)(?!<c:smooth)', r'\1<c:smooth val="0"/>'),
)  # fmt: skip


def spelt_out(chart: str) -> str:
    """The XML of a chart with everything said that programs take differently where it is left out.

    They decide by who saved the book last, and that is not us: labels would name series and category, lines would be curved.
    """
    for left_out, said in _SAID:
        chart = re.sub(left_out, said, chart)
    return chart


def add_lines(
    workbook: Workbook,
    onto: Page,
    at: tuple[int, int],
    table: Page,
    *,
    rows: tuple[int, int],
    columns: Sequence[tuple[int, str]],
    title: str,
    across: str,
    now: int | None = None,
    size: tuple[int, int] = (620, 330),
    down: int = 0,
) -> None:
    """Columns of a table as lines over its first one; each has an ink and a dash of its own, so that it prints in grey too.

    `now` is a column with one figure, that of the job as it is; `down` moves the chart below its cell, in dots.
    """
    first, last = rows
    chart = workbook.add_chart({"type": "scatter", "subtype": "straight"})
    for place, (column, words) in enumerate(columns):
        ink = onto.looks.accent if place == 0 else _INKS[(place - 1) % len(_INKS)]
        chart.add_series(
            {
                "name": words,
                "categories": [table.name, first, 0, last, 0],
                "values": [table.name, first, column, last, column],
                "line": {"color": ink, "width": 2.25, "dash_type": _DASHES[place % len(_DASHES)]},
                "marker": {"type": "none"},
            }
        )
    if now is not None:
        chart.add_series(
            {
                "name": "this job",
                "categories": [table.name, first, 0, last, 0],
                "values": [table.name, first, now, last, now],
                "line": {"none": True},
                "marker": {"type": "diamond", "size": 10, "fill": {"color": "#7A1F12"}, "border": {"color": "#7A1F12"}},
            }
        )
    chart.set_title({"name": title, "name_font": {"size": 12, "bold": True}, "overlay": False})
    chart.set_legend({"position": "bottom", "font": {"size": 9}})
    quiet = {"visible": True, "line": {"color": "#E4DFD3", "width": 0.75}}
    chart.set_x_axis({"name": across, "name_font": {"size": 9, "bold": False}, "num_font": {"size": 9}, "min": 0, "num_format": "#,##0"})
    chart.set_y_axis({"num_font": {"size": 9}, "min": 0, "num_format": PLAIN, "major_gridlines": quiet, "line": {"none": True}})
    chart.set_size({"width": size[0], "height": size[1]})
    chart.set_chartarea({"border": {"color": "#C9C4B8"}})
    onto.sheet.insert_chart(*at, chart, {"object_position": 3, "y_offset": down})
