"""The register of many jobs: rows in; a table for the spreadsheet program and one page for the browser out.

rows.py      one row a job, from the data of its estimate.json; what was refused
figures.py   what is left, its share, all metres: of a job and of a sum
money.py     sums and months, each currency for itself
book.py      register.xlsx
charts.py    the charts, as inline SVG
page.py      index.html, with page.html, page.css and page.js beside it
"""

from estimator.papers.register.book import register_book
from estimator.papers.register.page import register_page
from estimator.papers.register.rows import NotRegistered, RefusedRow, RegisterRow, repeated_quotes, row_of

__all__ = ["NotRegistered", "RefusedRow", "RegisterRow", "register_book", "register_page", "repeated_quotes", "row_of"]
