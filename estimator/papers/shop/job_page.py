"""The job on one page: an estimate in; what is made, for whom, from what, in how many hours, banded which way, out."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from estimator.model.exact import Fraction
from estimator.model.units import MINUTES_PER_HOUR
from estimator.papers.page.pieces import bullet_list, gap, heading, paragraph, title
from estimator.papers.page.tables import Column, table
from estimator.papers.shop.paper import ShopPaper, counted, listed

if TYPE_CHECKING:
    from reportlab.platypus.flowables import Flowable

_HEAD_PT = 48.0
"""What the heading of the remarks and the line of the others take."""


def job_story(paper: ShopPaper) -> list[Flowable]:
    look = paper.look
    story = [title(paper.terms.job_name or "The job", look), gap(0.3), _facts(paper)]
    story += [*heading("What is made", look, level=1), paragraph(_made_words(paper), look), gap(0.3), _boards(paper)]
    story += [*heading("How it is banded", look, level=1), *(paragraph(line, look) for line in banding_lines(paper))]
    story += [*heading("Hours", look, level=1), _hours(paper)]
    return [*story, *_remarks(paper, above=story)]


def _remarks(paper: ShopPaper, *, above: Sequence[Flowable]) -> list[Flowable]:
    """As many remarks as the page has room for below the rest; how many more there are."""
    look = paper.look
    remarks = [f"{remark.words} ({remark.place})" for remark in paper.estimate.remarks]
    if not remarks:
        return []
    left_pt = look.height_pt - sum(one.wrap(look.width_pt, look.height_pt)[1] + one.getSpaceBefore() for one in above) - _HEAD_PT
    shown: list[Flowable] = []
    for one in bullet_list(remarks, look):
        left_pt -= one.wrap(look.width_pt, look.height_pt)[1]
        if left_pt < 0:
            break
        shown.append(one)
    more = len(remarks) - len(shown)
    others = "all of them" if not shown else f"and {more} more"
    rest = bullet_list([f"{others}: see the owner's pages"], look) if more else []
    return [*heading("Remarks", look, level=1, needs_pt=0), *shown, *rest]


def _facts(paper: ShopPaper) -> Flowable:
    terms = paper.terms
    facts = (
        ("Quote", " revision ".join(part for part in (terms.quote_number, terms.revision) if part)),
        ("Date of the quote", paper.language.date(terms.quote_date)),
        ("Client", terms.client),
        ("Site", terms.site_address),
        ("Lead time", terms.lead_time_words),
        ("Prepared by", terms.prepared_by),
    )
    columns = [Column("", width_mm=34), Column("")]
    return table(columns, [fact for fact in facts if fact[1]], look=paper.look, heading=False, ruled=False)


def _made_words(paper: ShopPaper) -> str:
    job = paper.estimate.job
    cabinets = sum(cabinet.qty for cabinet in job.cabinets)
    loose = sum(part.qty for part in job.loose_parts)
    named = [*(row.room for row in job.cabinets), *(row.room for row in job.loose_parts)]
    rooms = list(dict.fromkeys(room for room in named if room))
    made = [counted(cabinets, "cabinet") if cabinets else "", counted(loose, "loose part") if loose else ""]
    pieces = sum(part.count for part in paper.estimate.parts)
    where = f" for {listed(rooms)}" if rooms else ""
    return f"{listed([words for words in made if words])}{where}: {counted(pieces, 'piece')} to cut."


def _boards(paper: ShopPaper) -> Flowable:
    rows = [
        [use.board, str(use.parts), paper.area(use.area_m2), str(use.sheets)]
        for use in paper.estimate.boards
    ]
    columns = [
        Column("Board"),
        Column("Pieces", width_mm=22, align="right"),
        Column("Cut area", width_mm=26, align="right"),
        Column("Sheets", width_mm=22, align="right"),
    ]
    return table(columns, rows, look=paper.look)


def banding_lines(paper: ShopPaper) -> list[str]:
    """The chosen way in words: what is banded by hand, what is sent, and to whom."""
    estimate, sent = paper.estimate, paper.sent
    uses = estimate.edgings
    if not uses:
        return ["No edge is banded."]
    here = [f"{use.edging} ({counted(use.edges, 'edge')}, {paper.long(use.net_m)})" for use in uses if use.edging not in sent]
    small = {one.edging: one for one in paper.staying}
    here += [f"small parts of {name} ({counted(one.stays.edges, 'edge')}, {paper.long(one.stays.net_m)})" for name, one in small.items()]
    going = [small[use.edging].goes if use.edging in small else use for use in uses if use.edging in sent]
    away = [f"{use.edging} ({counted(use.edges, 'edge')}, {paper.long(use.net_m)})" for use in going if use]
    lines = []
    if here:
        lines.append(f"By hand, {counted(len(estimate.batches), 'batch', 'batches')}: {listed(here)}.")
    if away:
        contract = estimate.job.contract
        to = f" to {contract.contractor}" if contract and contract.contractor else ""
        days = f", {counted(contract.lead_time_days, 'working day')}" if contract else ""
        lines.append(f"Sent out{to}{days}: {listed(away)}.")
    return lines


def stage_minutes(paper: ShopPaper) -> tuple[tuple[str, Fraction], ...]:
    """Minutes of the job by stage, in the order of the Work sheet, those of extras last; stages without any left out."""
    stages: dict[str, Fraction] = {}
    for step in paper.estimate.minutes.steps:
        name = step.step.stage or step.step.step
        stages[name] = stages.get(name, Fraction(0)) + step.minutes
    if paper.estimate.minutes.extras:
        stages["extras"] = stages.get("extras", Fraction(0)) + paper.estimate.minutes.extras
    return tuple((name, minutes) for name, minutes in stages.items() if minutes)


def _hours(paper: ShopPaper) -> Flowable:
    def hours(minutes: Fraction) -> str:
        return paper.language.fixed(minutes / MINUTES_PER_HOUR, decimals=1)

    rows = [[name, hours(minutes)] for name, minutes in stage_minutes(paper)]
    rows.append(["in all", hours(paper.estimate.minutes.total)])
    columns = [Column("Stage"), Column("Hours", width_mm=26, align="right")]
    return table(columns, rows, look=paper.look, width_pt=paper.look.width_pt / 2, totals=1)
