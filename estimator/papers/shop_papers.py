"""The shop papers: an Estimate goes in, the bytes of a PDF that a bench can work from come out.

Each paper starts on its own page: the job, the buy list, the cut list, the cutting diagrams, the labels, the glue day, the
banding schedule, the send-out sheet, the assembly sheets, the time sheet and the cautions, in the order in which the work goes.
All of it is black on white.
"""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from estimator.model.results import Estimate
from estimator.papers.page.document import across, bare, document, new_page, upright
from estimator.papers.shop.assembly_sheets import assembly_story
from estimator.papers.shop.banding_schedule import banding_schedule_story
from estimator.papers.shop.buy_list import buy_list_story
from estimator.papers.shop.cautions_page import cautions_story
from estimator.papers.shop.cut_list import cut_list_story
from estimator.papers.shop.cutting_diagrams import cutting_diagrams_story
from estimator.papers.shop.glue_day_sheet import glue_day_story
from estimator.papers.shop.job_page import job_story
from estimator.papers.shop.labels import labels_story
from estimator.papers.shop.paper import shop_paper
from estimator.papers.shop.send_out_sheet import send_out_story
from estimator.papers.shop.time_sheet import time_sheet_story

if TYPE_CHECKING:
    from reportlab.platypus.flowables import Flowable


def shop_pdf(estimate: Estimate, *, words: Path | None = None) -> bytes:
    """The shop papers as a PDF; `words` is a folder of the shop's own words (see `page/phrases.py`). Raises: BadWords."""
    paper = shop_paper(estimate, words=words)
    papers = (
        job_story(paper),
        buy_list_story(paper),
        [*cut_list_story(paper), across()],
        [*cutting_diagrams_story(paper), bare()],
        [*labels_story(paper), upright()],
        glue_day_story(paper),
        banding_schedule_story(paper),
        send_out_story(paper),
        assembly_story(paper),
        time_sheet_story(paper),
        cautions_story(paper),
    )
    story: list[Flowable] = []
    for section in papers:
        if section:
            story += [*([new_page()] if story else []), *section]
    terms, say = paper.terms, paper.say
    name = " ".join(part for part in (say("shop papers"), terms.quote_number) if part)
    revision = say("revision", revision=terms.revision) if terms.revision else ""
    return document(
        story,
        look=paper.look,
        title=": ".join(part for part in (name, terms.job_name) if part),
        author=estimate.job.shop.shop_name,
        language_code=terms.language,
        foot="   ".join(part for part in (name, revision, terms.job_name) if part),
        page_words=say("page"),
    )
