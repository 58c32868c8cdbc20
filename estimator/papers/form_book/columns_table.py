"""The form in, the README's table of sheets and columns out, as markdown."""

from collections.abc import Iterator

from estimator.model.form import SHEETS, Sheet
from estimator.papers.form_book.words import header_of


def columns_table() -> str:
    """Every sheet with its columns, folded up: what stands there, and what a blank cell means."""
    return "\n".join(line for sheet in SHEETS for line in _sheet_lines(sheet)).strip() + "\n"


def _sheet_lines(sheet: Sheet) -> Iterator[str]:
    absent = " (may be absent)" if sheet.may_be_absent else ""
    yield f"<details><summary><b>{sheet.name}</b>{absent}: {sheet.hint}</summary>"
    yield ""
    yield f"| {'item' if sheet.shape == 'items' else 'column'} | what stands there | blank means |"
    yield "|---|---|---|"
    for column in sheet.columns:
        choices = f": {', '.join(column.choices)}" if column.choices else ""
        blank = "needed" if column.needed else column.default
        yield f"| {header_of(column, units='mm', currency='')} | {column.hint}{choices} | {blank} |"
    if sheet.own_columns:
        yield f"| *your own* | {sheet.own_columns} | |"
    yield ""
    yield "</details>"
    yield ""
