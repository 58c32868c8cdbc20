"""The user's own book, unharmed: result sheets of ours go into it, and every part of theirs stays as it was."""

from estimator.papers.book.refused import Refused
from estimator.papers.book.splice import Spliced, add_sheets, dates_from_1904, free_defined_names, free_names

__all__ = ["Refused", "Spliced", "add_sheets", "dates_from_1904", "free_defined_names", "free_names"]
