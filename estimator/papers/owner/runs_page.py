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
    floor = f", none below {paper.percent(quicker.floor_share)} of the first" if quicker.floor_share else ""
    means = "the time of one" if quicker.model == "unit model" else "the average of all so far"
    lead = (
        f"With a learning curve of {paper.percent(quicker.learning_share)} ({quicker.model}: each doubling of a run brings {means} "
        f"down to that share{floor}) the runs below would save {paper.hours(quicker.saved_min)}, {paper.money(quicker.saved_cost)} at "
        "the direct and the overhead rate."
    )
    rows = [
        [", ".join(run.refs), str(run.count), *map(paper.hours, (run.count * run.each_min, run.learned_min, run.saved_min))]
        for run in quicker.runs
    ]
    columns = [
        Column("Cabinets alike"),
        Column("How many", width_mm=24, align="right"),
        Column("As estimated", width_mm=30, align="right"),
        Column("With learning", width_mm=30, align="right"),
        Column("Saved", width_mm=24, align="right"),
    ]
    return [
        *heading("What if a run of identical cabinets goes quicker", paper.look),
        paragraph(lead, paper.look),
        gap(0.5),
        table(columns, rows, look=paper.look),
        gap(0.5),
        paragraph(
            "A what-if: the price and every other figure leave it out. It counts the steps that repeat with each cabinet, part, door, "
            "drawer and shelf, and it holds for the same people without a long break. Take a curve from your own log, not from a book.",
            paper.look,
            name="small",
        ),
    ]
