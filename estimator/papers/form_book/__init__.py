"""The form as a workbook: drawn from `estimator.model.form` and the starter rows, blank or with any job's rows in it."""

from estimator.papers.form_book.blank import blank_book, names_of, starter_rows
from estimator.papers.form_book.columns_table import columns_table
from estimator.papers.form_book.draw import draw_book
from estimator.papers.form_book.tables import table, tables

__all__ = ["blank_book", "columns_table", "draw_book", "names_of", "starter_rows", "table", "tables"]
