"""The job on one page: an estimate in; what is made, for whom, from what, in how many hours, banded which way, out."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from estimator.model.exact import Fraction
from estimator.model.gathering import gathered
from estimator.model.taken import EdgingUse
from estimator.model.units import MINUTES_PER_HOUR
from estimator.papers.page.pieces import bullet_list, gap, heading, paragraph, title
from estimator.papers.page.tables import Column, table
from estimator.papers.shop.paper import ShopPaper

if TYPE_CHECKING:
    from reportlab.platypus.flowables import Flowable

_HEAD_PT = 48.0
"""What the heading of the remarks and the line of the others take."""


def job_story(paper: ShopPaper) -> list[Flowable]:
    look, say = paper.look, paper.say
    story = [title(paper.terms.job_name or say("the job"), look), gap(0.3), _facts(paper)]
    story += [*heading(say("what is made"), look, level=1), paragraph(_made_words(paper), look), gap(0.3), _boards(paper)]
    story += [*heading(say("how it is banded"), look, level=1), *(paragraph(line, look) for line in banding_lines(paper))]
    story += [*heading(say("hours"), look, level=1), _hours(paper)]
    return [*story, *_remarks(paper, above=story)]


def _remarks(paper: ShopPaper, *, above: Sequence[Flowable]) -> list[Flowable]:
    """As many remarks as the page has room for below the rest; how many more there are."""
    look = paper.look
    remarks = [f"{remark.words} ({remark.place})" for remark in gathered(paper.estimate.remarks)]
    if not remarks:
        return []
    note = paper.say("language of remarks")
    above = [*above, *([paragraph(note, look)] if note else [])]
    left_pt = look.height_pt - sum(one.wrap(look.width_pt, look.height_pt)[1] + one.getSpaceBefore() for one in above) - _HEAD_PT
    shown: list[Flowable] = []
    for one in bullet_list(remarks, look):
        left_pt -= one.wrap(look.width_pt, look.height_pt)[1]
        if left_pt < 0:
            break
        shown.append(one)
    more = len(remarks) - len(shown)
    others = paper.say("all remarks elsewhere") if not shown else paper.say("more remarks elsewhere", n=more)
    rest = bullet_list([others], look) if more else []
    notes = [paragraph(note, look)] if note and shown else []
    return [*heading(paper.say("remarks"), look, level=1, needs_pt=0), *notes, *shown, *rest]


def _facts(paper: ShopPaper) -> Flowable:
    terms, say = paper.terms, paper.say
    revision = say("revision", revision=terms.revision) if terms.revision else ""
    facts = (
        ("quote", " ".join(part for part in (terms.quote_number, revision) if part)),
        ("date of the quote", paper.language.date(terms.quote_date)),
        ("client", terms.client),
        ("site", terms.site_address),
        ("lead time", terms.lead_time_words),
        ("prepared by", terms.prepared_by),
    )
    columns = [Column("", width_mm=34), Column("")]
    return table(columns, [(say(name), fact) for name, fact in facts if fact], look=paper.look, heading=False, ruled=False)


def _made_words(paper: ShopPaper) -> str:
    job, say = paper.estimate.job, paper.say
    cabinets = sum(cabinet.qty for cabinet in job.cabinets)
    loose = sum(part.qty for part in job.loose_parts)
    named = [*(row.room for row in job.cabinets), *(row.room for row in job.loose_parts)]
    rooms = list(dict.fromkeys(room for room in named if room))
    made = [say.counted(name, count) for name, count in (("cabinets", cabinets), ("loose parts", loose)) if count]
    pieces = say.counted("pieces", sum(part.count for part in paper.estimate.parts))
    if rooms:
        return say("to cut for rooms", made=say.listed(made), rooms=say.listed(rooms), pieces=pieces)
    return say("to cut", made=say.listed(made), pieces=pieces)


def _boards(paper: ShopPaper) -> Flowable:
    rows = [
        [use.board, str(use.parts), paper.area(use.area_m2), str(use.sheets)]
        for use in paper.estimate.boards
    ]
    say = paper.say
    columns = [
        Column(say("board")),
        Column(say("pieces head"), width_mm=22, align="right"),
        Column(say("cut area"), width_mm=26, align="right"),
        Column(say("sheets head"), width_mm=22, align="right"),
    ]
    return table(columns, rows, look=paper.look)


def banding_lines(paper: ShopPaper) -> list[str]:
    """The chosen way in words: what is banded by hand, what is sent, and to whom."""
    estimate, sent, say = paper.estimate, paper.sent, paper.say
    uses = estimate.edgings
    if not uses:
        return [say("nothing is banded")]

    def said(name: str, use: EdgingUse) -> str:
        return say("so much of an edging", edging=name, edges=say.counted("edges", use.edges), run=paper.long(use.net_m))

    here = [said(use.edging, use) for use in uses if use.edging not in sent]
    small = {one.edging: one for one in paper.staying}
    here += [said(say("small parts of", edging=name), one.stays) for name, one in small.items()]
    going = [small[use.edging].goes if use.edging in small else use for use in uses if use.edging in sent]
    away = [said(use.edging, use) for use in going if use]
    lines = []
    if here:
        lines.append(say("by hand in batches", batches=say.counted("batches", len(estimate.batches)), edgings=say.listed(here)))
    if away:
        contract = estimate.job.contract
        to = say("sent out to", contractor=contract.contractor) if contract and contract.contractor else say("sent out")
        days = f", {say.counted('working days', contract.lead_time_days)}" if contract else ""
        lines.append(f"{to}{days}: {say.listed(away)}.")
    return lines


def stage_minutes(paper: ShopPaper) -> tuple[tuple[str, Fraction], ...]:
    """Minutes of the job by stage, in the order of the Work sheet, those of extras last; stages without any left out."""
    stages: dict[str, Fraction] = {}
    for step in paper.estimate.minutes.steps:
        name = step.step.stage or step.step.step
        stages[name] = stages.get(name, Fraction(0)) + step.minutes
    if paper.estimate.minutes.extras:
        stages[paper.say("stage extras")] = stages.get(paper.say("stage extras"), Fraction(0)) + paper.estimate.minutes.extras
    return tuple((name, minutes) for name, minutes in stages.items() if minutes)


def _hours(paper: ShopPaper) -> Flowable:
    def hours(minutes: Fraction) -> str:
        return paper.language.fixed(minutes / MINUTES_PER_HOUR, decimals=1)

    rows = [[name, hours(minutes)] for name, minutes in stage_minutes(paper)]
    rows.append([paper.say("in all"), hours(paper.estimate.minutes.total)])
    columns = [Column(paper.say("stage")), Column(paper.say("hours"), width_mm=26, align="right")]
    return table(columns, rows, look=paper.look, width_pt=paper.look.width_pt / 2, totals=1)
