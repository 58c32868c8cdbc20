"""What if the later ones of a run of identical cabinets go quicker: an estimate in; a short table out, when the shop asks for it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from estimator.papers.owner.paper import OwnerPaper
from estimator.papers.page.pieces import gap, heading, paragraph
from estimator.papers.page.tables import Column, table

if TYPE_CHECKING:
    from reportlab.platypus.flowables import Flowable


def runs_story(paper: OwnerPaper) -> list[Flowable]:
    """Nothing where Shop > Learning is blank or no two cabinets are alike."""
    quicker = paper.estimate.runs_quicker
    if quicker is None:
        return []
    say = paper.say
    lead = say(
        f"runs by {quicker.model}",
        share=paper.percent(quicker.learning_share),
        floor=say("runs floor", share=paper.percent(quicker.floor_share)) if quicker.floor_share else "",
        hours=paper.hours(quicker.saved_min),
        cost=paper.money(quicker.saved_cost),
    )
    rows = [
        [", ".join(run.refs), str(run.count), *map(paper.hours, (run.count * run.each_min, run.learned_min, run.saved_min))]
        for run in quicker.runs
    ]
    columns = [
        Column(say("cabinets alike")),
        Column(say("how many"), width_mm=24, align="right"),
        Column(say("as estimated"), width_mm=30, align="right"),
        Column(say("with learning"), width_mm=30, align="right"),
        Column(say("saved"), width_mm=24, align="right"),
    ]
    return [
        *heading(say("runs"), paper.look),
        paragraph(lead, paper.look),
        gap(0.5),
        table(columns, rows, look=paper.look),
        gap(0.5),
        paragraph(say("runs note"), paper.look, name="small"),
    ]
