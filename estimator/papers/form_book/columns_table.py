"""The form in, the README's table of sheets and columns out, as markdown."""

from collections.abc import Iterator

from estimator.model.form import SHEETS, Sheet
from estimator.papers.form_book.words import header_of


def columns_table() -> str:
    """Every sheet with its columns: what stands there, and what a blank cell means."""
    return "\n".join(line for sheet in SHEETS for line in _sheet_lines(sheet)).strip() + "\n"


def _sheet_lines(sheet: Sheet) -> Iterator[str]:
    yield f"**{sheet.name}**: {sheet.hint}{'; the sheet may be absent' if sheet.may_be_absent else ''}"
    yield ""
    yield f"| {'item' if sheet.shape == 'items' else 'column'} | what it is | blank |"
    yield "|---|---|---|"
    for column in sheet.columns:
        blank = "needed" if column.needed else column.default
        choices = f" ({', '.join(column.choices)})" if column.choices else ""
        yield f"| {header_of(column, units='mm', currency='')} | {column.hint}{choices} | {blank} |"
    if sheet.own_columns:
        yield f"| *your own* | {sheet.own_columns} | |"
    yield ""
