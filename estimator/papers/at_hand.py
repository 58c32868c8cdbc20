"""What writing papers needs, fetched and opened before it is needed: a job's language in, everything loaded.

A cold run does this while other cores price the job's options; the workers of a folder's run are copied after it.
"""

from __future__ import annotations

from datetime import date
from importlib import import_module

_PAPERS = ("priced_workbook", "priced.quick_sheet", "client_quote", "owner_pages", "shop_papers")


def fetch_papers() -> None:
    """The modules that write papers, and the letters that they are set in."""
    for paper in _PAPERS:
        import_module(f"estimator.papers.{paper}")
    from estimator.papers.page.fonts import open_fonts

    open_fonts()


def fetch_language(*, code: str, currency: str) -> None:
    """The templates of a language, and how its country writes dates and money."""
    from estimator.papers.page.language import Language
    from estimator.papers.page.wording import templates_of

    templates_of(code, None)
    Language(code=code, currency=currency, units="mm").date(date(2000, 1, 1))
