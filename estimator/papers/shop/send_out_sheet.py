"""The send-out sheet: an estimate in; the parts that go to the contract bander, to be counted out and in again, out."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from estimator.model.dataclass import dataclass
from estimator.model.exact import Fraction
from estimator.model.taken import Band, Part
from estimator.papers.page.pieces import gap, heading, line_to_write_on, paragraph, tick_box, title
from estimator.papers.page.tables import Column, fitting_mm, table
from estimator.papers.shop.paper import ShopPaper, metres
from estimator.papers.shop.part_drawing import small_part

if TYPE_CHECKING:
    from reportlab.platypus.flowables import Flowable


@dataclass(frozen=True, slots=True)
class SendRow:
    """One kind of part that goes out, with the edges that are banded there and those that are banded here."""

    part: Part
    sent: tuple[Band, ...]
    stays: tuple[Band, ...]

    @property
    def edges(self) -> int:
        return self.part.count * len(self.sent)


def send_rows(paper: ShopPaper) -> tuple[SendRow, ...]:
    """Every part with an edge that is sent, those too small for the contract bander's machine left out."""
    rows = []
    small = {id(part) for one in paper.staying for part in one.parts}
    for part in paper.estimate.parts:
        sent = tuple(band for band in part.bands if band.edging.edging in paper.sent and id(part) not in small)
        if sent:
            rows.append(SendRow(part, sent, tuple(band for band in part.bands if band not in sent)))
    return tuple(rows)


def send_out_story(paper: ShopPaper) -> list[Flowable]:
    """Nothing where nothing is sent."""
    rows = send_rows(paper)
    if not rows:
        return []
    look, say, contract = paper.look, paper.say, paper.estimate.job.contract
    to = [say("to the contractor", contractor=contract.contractor)] if contract and contract.contractor else []
    pieces, edges = sum(row.part.count for row in rows), sum(row.edges for row in rows)
    what = say("to band there", pieces=say.counted("pieces", pieces), edges=say.counted("edges", edges))
    story = [
        title(say("send-out sheet"), look),
        paragraph(" ".join([*to, what, say("send-out sheet lead", unit=paper.unit)]), look),
        paragraph(_supplied(paper), look),
    ]
    story += [
        *heading(say("edging"), look, level=1),
        _edgings(paper, rows),
        *heading(say("parts"), look, level=1),
        _parts(paper, rows),
        gap(2),
        *_staying(paper),
    ]
    story += [line_to_write_on(say(name), look, width_mm=80) for name in ("counted out", "counted in")]
    return story


def _staying(paper: ShopPaper) -> list[Flowable]:
    """What is kept back though its edging is sent."""
    if not paper.staying:
        return []
    words = []
    for one in paper.staying:
        for part in one.parts:
            size = paper.language.sizes(part.cut_length_mm, part.cut_width_mm)
            words.append(f"{part.ref} {part.part} ({paper.say.counted('pieces', part.count)}, {size}; {one.edging})")
    return [
        *heading(paper.say("not sent"), paper.look, level=1),
        paragraph(paper.say("not sent but by hand", parts="; ".join(words)), paper.look),
        gap(2),
    ]


def _supplied(paper: ShopPaper) -> str:
    contract = paper.estimate.job.contract
    if contract and contract.supplies_edging:
        return paper.say("edging is supplied")
    return paper.say("edging goes along")


def _edgings(paper: ShopPaper, rows: tuple[SendRow, ...]) -> Flowable:
    found: dict[str, list[Fraction]] = {}
    for row in rows:
        for band in row.sent:
            figures = found.setdefault(band.edging.edging, [Fraction(0), Fraction(0)])
            figures[0] += row.part.count
            figures[1] += row.part.count * band.length_mm
    cells = [[edging, str(int(count)), paper.long(metres(length))] for edging, (count, length) in found.items()]
    say = paper.say
    columns = [
        Column(say("edging")),
        Column(say("edges head"), width_mm=20, align="right"),
        Column(say("length of edges"), width_mm=32, align="right"),
    ]
    return table(columns, cells, look=paper.look)


def _parts(paper: ShopPaper, rows: tuple[SendRow, ...]) -> Flowable:
    say = paper.say
    cells = [list(_cells(paper, row)) for row in rows]
    columns = [
        Column(say("tick out"), width_mm=7),
        Column(say("part"), share=1),
        Column(say("pieces head"), width_mm=12, align="right"),
        Column(say("cut size"), width_mm=fitting_mm((str(row[3]) for row in cells), least_mm=22), align="right"),
        Column("", width_mm=21),
        Column(say("edges to band"), share=1.1),
        Column(say("edges head"), width_mm=12, align="right"),
        Column(say("tick in"), width_mm=7),
        Column(say("damage"), width_mm=20),
    ]
    return table(columns, cells, look=paper.look)


def _cells(paper: ShopPaper, row: SendRow) -> Iterator[str | Flowable]:
    from dataclasses import replace

    part = row.part
    yield tick_box()
    yield f"{part.ref} {part.part}"
    yield str(part.count)
    yield paper.language.sizes(part.cut_length_mm, part.cut_width_mm)
    yield small_part(replace(part, bands=row.sent), width_pt=48, height_pt=20, grain=False)
    later = f" ({paper.say('banded later', edges=paper.edges(row.stays))})" if row.stays else ""
    yield paper.edges(row.sent) + later
    yield str(row.edges)
    yield tick_box()
    yield ""
