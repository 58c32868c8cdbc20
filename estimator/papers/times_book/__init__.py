"""What a folder of finished jobs taught, in; times.xlsx out, and the shop's book with its new times written into it."""

from estimator.papers.times_book.book import times_book
from estimator.papers.times_book.into_work import NewCells, Noted, with_new_cells

__all__ = ["NewCells", "Noted", "times_book", "with_new_cells"]
