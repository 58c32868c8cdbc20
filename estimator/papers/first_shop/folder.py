"""All files of a shop's first folder: answers and the kind of computer in, bytes by file name out."""

from __future__ import annotations

from estimator.papers.first_shop.answers import Answers
from estimator.papers.first_shop.books import job_sheets, shop_sheets
from estimator.papers.first_shop.launchers import Machine, launchers
from estimator.papers.first_shop.page import next_steps
from estimator.papers.form_book import draw_book, names_of

SHOP_BOOK, FIRST_JOB, PAGE = "shop.xlsx", "first-job.xlsx", "next-steps.html"


def first_folder(answers: Answers, *, machine: Machine, python: str, folder: str, home: str = "") -> dict[str, bytes]:
    """The price book, the first job, the launchers and the page that says what to do next."""
    shop = shop_sheets(answers)
    scripts = launchers(machine=machine, python=python, folder=folder, home=home)
    return {
        SHOP_BOOK: draw_book(shop, units=answers.units, currency=answers.currency, paper=answers.paper),
        FIRST_JOB: draw_book(
            job_sheets(answers), units=answers.units, currency=answers.currency, paper=answers.paper, names=names_of(shop)
        ),
        PAGE: next_steps(shop, machine=machine),
        **scripts,
    }
