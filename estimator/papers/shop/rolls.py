"""Strips from rolls: an estimate in; for each edging a table that says which strips are cut from which roll out."""

from __future__ import annotations

from collections import Counter
from typing import TYPE_CHECKING

from estimator.model.cutting_plan import CutRoll
from estimator.model.exact import Fraction
from estimator.model.taken import RollUse
from estimator.model.units import MM_PER_M
from estimator.papers.page.pieces import gap, heading, paragraph, tick_box
from estimator.papers.page.tables import Column, table
from estimator.papers.shop.paper import ShopPaper

if TYPE_CHECKING:
    from reportlab.platypus.flowables import Flowable


def rolls_story(paper: ShopPaper) -> list[Flowable]:
    """Nothing where every width comes off a single full roll: then any strip can be cut from it."""
    shown = [use for use in paper.estimate.rolls if use.ends or len(use.rolls) > 1 or any(roll.count > 1 for roll in use.rolls)]
    if not shown:
        return []
    say = paper.say
    story = [*heading(say("strips from rolls"), paper.look), paragraph(say("strips from rolls lead"), paper.look), gap(0.5)]
    columns = [
        Column(say("tick cut"), width_mm=9),
        Column(say("from roll"), width_mm=46),
        Column(say("rolls head"), width_mm=14, align="right"),
        Column(say("strips of each")),
        Column(say("left over"), width_mm=24, align="right"),
    ]
    for use in shown:
        head = say("edging wide", edging=use.edging.edging, width=paper.language.length(use.edging.width_mm))
        story += [*heading(head, paper.look, level=1, needs_pt=80), table(columns, _rows(paper, use), look=paper.look), gap()]
    return story


def _rows(paper: ShopPaper, use: RollUse) -> list[list[str | Flowable]]:
    return [
        [tick_box(), _from(paper, use, roll), str(roll.count), strips_words(paper, roll), paper.long(_left_m(roll))]
        for roll in use.rolls
    ]


def _from(paper: ShopPaper, use: RollUse, roll: CutRoll) -> str:
    length = paper.long(roll.length_mm / MM_PER_M)
    if not roll.new:
        return paper.say("roll end of", length=length)
    return paper.say("full roll of" if use.edging.roll_length_m is not None else "off a long roll", length=length)


def strips_words(paper: ShopPaper, roll: CutRoll) -> str:
    """The strips of one roll, equal ones together, longest first."""
    counts = Counter(roll.strips_mm)
    said = (
        paper.say("so many of", n=counts[length_mm], size=paper.language.length(length_mm)) for length_mm in sorted(counts, reverse=True)
    )
    return ", ".join(said)


def _left_m(roll: CutRoll) -> Fraction:
    return (roll.length_mm - sum(roll.strips_mm, start=Fraction(0))) / MM_PER_M
