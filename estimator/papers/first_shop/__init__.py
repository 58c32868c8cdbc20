"""A shop's first folder: a handful of answers in; its price book, a first job, a page and launchers out, as bytes by file name."""

from estimator.papers.first_shop.answers import EDGINGS_TO_CHOOSE, Answers
from estimator.papers.first_shop.books import job_sheets, shop_sheets
from estimator.papers.first_shop.folder import first_folder
from estimator.papers.first_shop.launchers import Machine

__all__ = ["EDGINGS_TO_CHOOSE", "Answers", "Machine", "first_folder", "job_sheets", "shop_sheets"]
