"""The owner's pages: an Estimate goes in, the bytes of a PDF come out.

First page: the answer alone. Then where the money goes, how to band and how far that holds, the glue batches, a machine of one's
own, how sure it all is, what rests on untimed or old numbers, and everything worth a look where that is more than the first page
holds. All of it is internal to the shop.
"""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from estimator.model.results import Estimate
from estimator.papers.owner.answer_page import answer_story
from estimator.papers.owner.banding_page import banding_story
from estimator.papers.owner.glue_day_page import glue_day_story
from estimator.papers.owner.limits_page import limits_story
from estimator.papers.owner.machine_page import machine_story
from estimator.papers.owner.merchant_page import merchant_story
from estimator.papers.owner.money_page import money_story
from estimator.papers.owner.paper import OwnerPaper, owner_paper
from estimator.papers.owner.remarks_page import age_story, remarks_story, risk_story
from estimator.papers.owner.runs_page import runs_story
from estimator.papers.page.document import document
from estimator.papers.page.pieces import short_sections_whole

if TYPE_CHECKING:
    from reportlab.platypus.flowables import Flowable


def owner_pdf(estimate: Estimate, *, words: Path | None = None) -> bytes:
    """The owner's pages as a PDF; `words` is a folder of the shop's own words (see `page/phrases.py`). Raises: BadWords.

    The same estimate gives the same bytes.
    """
    paper, terms = owner_paper(estimate, words=words), estimate.job.terms
    foot = [paper.say("for the shop only"), terms.quote_number, " ".join(terms.job_name.split())]
    return document(
        short_sections_whole(_story(paper), paper.look),
        look=paper.look,
        title=f"{paper.say('owners pages')}: {' '.join(terms.job_name.split())}",
        author=" ".join(estimate.job.shop.shop_name.split()),
        language_code=terms.language,
        foot="   ".join(part for part in foot if part),
        page_words=paper.say("page"),
    )


def _story(paper: OwnerPaper) -> list[Flowable]:
    return [
        *answer_story(paper),
        *money_story(paper),
        *banding_story(paper),
        *limits_story(paper),
        *glue_day_story(paper),
        *merchant_story(paper),
        *machine_story(paper),
        *runs_story(paper),
        *risk_story(paper),
        *age_story(paper),
        *remarks_story(paper),
    ]
