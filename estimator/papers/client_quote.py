"""The client's quote: an Estimate goes in, the bytes of a PDF come out.

First page: who, what by room with the front view of each run, what it costs. Then the schedule, the finishes, what is
included and what is not, options, payments, terms, care and cautions, and the part that is signed. Nothing internal of the
shop's stands on it: no cost, margin, rate, minute or supplier's price.
"""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING

from estimator.model.exact import Fraction
from estimator.model.results import Estimate
from estimator.papers.page.document import document
from estimator.papers.page.pieces import SHORT_SHARE, gap, heading, kept_whole
from estimator.papers.quote.acceptance import acceptance_story
from estimator.papers.quote.letterhead import letterhead
from estimator.papers.quote.logo_file import logo_beside
from estimator.papers.quote.paper import QuotePaper, one_line, quote_paper
from estimator.papers.quote.price import options_story, payments_story, price_story
from estimator.papers.quote.rooms import RoomRun, fitting_scale, room_runs, rooms_story, views_by_row
from estimator.papers.quote.schedule import finishes_story, schedule_story

if TYPE_CHECKING:
    from reportlab.platypus.flowables import Flowable

_SMALLEST_SCALE = Fraction(1, 50)
"""A smaller drawing says too little: then the price stands first and the drawings follow."""
_LARGEST_RUNS_PT = 330.0
_AIR_PT = 60.0
"""Left free on the first page for the gaps between its sections."""
_NO_LIMIT_PT = 1e6
_HEADING_NEEDS_PT = 120.0


def quote_pdf(estimate: Estimate, *, words: Path | None = None, beside: Path | None = None) -> bytes:
    """The quote as a PDF.

    `words` is a folder with templates of the shop's own (see `page/wording.py`); `beside` is the folder in which the logo is
    looked for. A logo that is missing or no picture leaves its place blank.

    Raises: BadWords when a template of the shop's own cannot be used.
    """
    paper = quote_paper(estimate, words=words, logo=logo_beside(estimate.job.terms.logo, beside=beside))
    terms, label = paper.terms, paper.words.label
    name = " ".join(part for part in (label("quote"), one_line(terms.quote_number)) if part)
    foot = [name, f"{label('revision')} {one_line(terms.revision)}" if terms.revision else "", one_line(terms.job_name)]
    return document(
        _story(paper),
        look=paper.look,
        title=": ".join(part for part in (name, one_line(terms.job_name)) if part),
        author=one_line(estimate.job.shop.shop_name),
        subject=one_line(terms.client),
        language_code=terms.language,
        foot="   ".join(part for part in foot if part),
        page_words=label("page"),
    )


def _story(paper: QuotePaper) -> list[Flowable]:
    views = views_by_row(paper)
    words, look, values = paper.words, paper.look, paper.values()
    return [
        *_first_page(paper, room_runs(paper, views)),
        *schedule_story(paper, views),
        *finishes_story(paper),
        *heading(words.label("covers"), look, needs_pt=_HEADING_NEEDS_PT),
        *words.story("included", values, look),
        *words.story("not_included", values, look),
        *options_story(paper),
        *payments_story(paper),
        *_terms_and_signatures(paper),
    ]


def _terms_and_signatures(paper: QuotePaper) -> list[Flowable]:
    """Terms, care, cautions, what is signed. The signatures never have a page to themselves: the last of the terms goes with them."""
    words, look, values = paper.words, paper.look, paper.values()
    head = heading(words.label("working together"), look, needs_pt=_HEADING_NEEDS_PT)
    sections = [
        [*head, *words.story("terms", values, look)],
        *(said for template in ("care", "cautions") if (said := words.story(template, values, look))),
    ]
    *before, last = sections
    story = [one for section in before for one in kept_whole(section, look, most_share=SHORT_SHARE)]
    return [*story, *kept_whole([*last, gap(), *acceptance_story(paper)], look)]


def _first_page(paper: QuotePaper, runs: tuple[RoomRun, ...]) -> Iterator[Flowable]:
    """Letterhead, rooms and price; the drawings go behind the price when they would push it off the first page."""
    from reportlab.platypus import KeepTogether

    look = paper.look
    head, price = letterhead(paper), price_story(paper)
    left_pt = look.height_pt - sum(flowable.wrap(look.width_pt, look.height_pt)[1] for flowable in (*head, *price)) - _AIR_PT
    scale = fitting_scale(runs, paper, height_pt=min(left_pt, _LARGEST_RUNS_PT))
    yield from head
    yield gap()
    if not runs or (scale and scale >= _SMALLEST_SCALE):
        yield from rooms_story(runs, paper, scale=scale or _SMALLEST_SCALE)
        yield gap()
        yield KeepTogether(price)
        return
    yield from price
    yield from heading(paper.words.label("front views"), look, needs_pt=_LARGEST_RUNS_PT)
    yield from rooms_story(runs, paper, scale=fitting_scale(runs, paper, height_pt=_NO_LIMIT_PT) or _SMALLEST_SCALE)
