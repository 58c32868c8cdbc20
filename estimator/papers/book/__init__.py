"""The user's own book, unharmed: result sheets of ours go into it, and every part of theirs stays as it was."""

from estimator.papers.book.refused import Refused
from estimator.papers.book.splice import Spliced, add_sheets, dates_from_1904, free_defined_names, free_names
from estimator.papers.book.users_book import UsersBook, open_users_book

__all__ = ["Refused", "Spliced", "UsersBook", "add_sheets", "dates_from_1904", "free_defined_names", "free_names", "open_users_book"]
