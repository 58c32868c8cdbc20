"""A banding machine of one's own: an estimate in; whether it pays, several side by side, cost of a metre by volume, out."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from fractions import Fraction
from typing import TYPE_CHECKING

from estimator.model.records import Machine
from estimator.model.results import MachineAnswer
from estimator.papers.owner.charts import Curve, Mark, lines, round_ticks
from estimator.papers.owner.paper import OwnerPaper
from estimator.papers.page.pieces import gap, heading, paragraph
from estimator.papers.page.tables import Column, table

if TYPE_CHECKING:
    from reportlab.platypus.flowables import Flowable

_PLOT_NEEDS_PT = 280.0
_TABLE_NEEDS_PT = 320.0
_CUT_AT = 3
"""The plot is cut at so many times today's cost of a metre: what lies higher than that is dear enough."""
Pair = tuple[Machine, MachineAnswer]


def machine_story(paper: OwnerPaper) -> list[Flowable]:
    """Nothing where the workbook weighs no machine."""
    pairs = machines(paper)
    if not pairs:
        return []
    look = paper.look
    story = [*heading("A machine of one's own", look, needs_pt=_TABLE_NEEDS_PT)]
    story += [paragraph(answer_words(paper, *pair), look) for pair in pairs]
    story += [gap(0.5), _table(paper, pairs)]
    for machine, answer in pairs:
        story += _curve(paper, machine, answer)
        story += _cases(paper, machine, answer)
    return story


def machines(paper: OwnerPaper) -> list[Pair]:
    job, estimate = paper.estimate.job, paper.estimate
    asked = [*([job.machine] if job.machine else []), *job.more_machines]
    answers = [*([estimate.machine] if estimate.machine else []), *estimate.more_machines]
    return list(zip(asked, answers, strict=False))


def _name(machine: Machine) -> str:
    return machine.name or "The machine"


def answer_words(paper: OwnerPaper, machine: Machine, answer: MachineAnswer) -> str:
    """Whether it pays, in sentences."""
    name, number = _name(machine), paper.language
    if answer.alternative_per_m is None or answer.npv is None:
        return f"{name}: no answer, since what a metre costs today is not known."
    metres = number.number(machine.metres_a_year, most_decimals=0)
    today = f"against {paper.money(answer.alternative_per_m)} a metre today, edging apart"
    verdict = "pays" if answer.npv > 0 else "does not pay"
    words = [
        f"{name} {verdict} at {metres} m a year {today}: over {machine.life_years} years it "
        f"{'gains' if answer.npv > 0 else 'loses'} {paper.money(abs(answer.npv))} in today's money."
    ]
    if answer.payback_years is not None:
        words.append(f"Its price is back after {number.fixed(answer.payback_years, decimals=1)} years.")
    if answer.break_even_metres is not None:
        words.append(f"It breaks even at {number.number(answer.break_even_metres, most_decimals=0)} m a year.")
    else:
        words.append("It does not break even at any number of metres.")
    return " ".join(words)


def _table(paper: OwnerPaper, pairs: Sequence[Pair]) -> Flowable:
    number = paper.language

    def years(value: Fraction | None) -> str:
        return "never" if value is None else number.fixed(value, decimals=1)

    def share(value: Fraction | None) -> str:
        return "–" if value is None else paper.percent(value)

    lines_of: list[tuple[str, Callable[[Machine, MachineAnswer], str]]] = [
        ("Price with installation", lambda one, _: paper.money(one.price + one.installation)),
        ("Metres a year", lambda one, _: number.number(one.metres_a_year, most_decimals=0)),
        ("A metre today", lambda _, answer: paper.money(answer.alternative_per_m)),
        ("A metre on the machine, running cost alone", lambda one, _: paper.money(one.cost_per_m)),
        ("Cost a year, price and interest spread evenly", lambda _, answer: paper.money(answer.equivalent_annual_cost)),
        ("Saving a year", lambda _, answer: paper.money(answer.saving_a_year)),
        ("Gain over its life in today's money", lambda _, answer: paper.money(answer.npv)),
        ("Yearly return on the money", lambda _, answer: share(answer.irr)),
        ("Years until its price is back", lambda _, answer: years(answer.payback_years)),
        ("The same with interest", lambda _, answer: years(answer.discounted_payback_years)),
        (
            "Metres a year to break even",
            lambda _, one: "–" if one.break_even_metres is None else number.number(one.break_even_metres, most_decimals=0),
        ),
    ]
    rows = [[words, *(figure(*pair) for pair in pairs)] for words, figure in lines_of]
    columns = [Column("", share=2), *(Column(_name(machine), align="right") for machine, _ in pairs)]
    return table(columns, rows, look=paper.look)


def _curve(paper: OwnerPaper, machine: Machine, answer: MachineAnswer) -> list[Flowable]:
    """Cost of a metre against metres a year, for the three ways."""
    points = answer.curve
    if len(points) < 2:
        return []
    curves: list[Curve] = []
    if all(one.by_hand is not None for one in points):
        curves.append(Curve("by hand", tuple((one.metres_a_year, one.by_hand or Fraction(0)) for one in points)))
    if all(one.sent_out is not None for one in points):
        curves.append(Curve("sent out", tuple((one.metres_a_year, one.sent_out or Fraction(0)) for one in points), dashed=True))
    high = max((y for curve in curves for _, y in curve.points), default=points[-1].machine) * _CUT_AT
    own = tuple((one.metres_a_year, one.machine) for one in points if one.machine <= high)
    if own:
        curves.append(Curve("on the machine", own, thick=True))
    marks = [Mark(machine.metres_a_year, "metres a year typed")]
    if answer.break_even_metres is not None and answer.break_even_metres <= points[-1].metres_a_year:
        marks.append(Mark(answer.break_even_metres, "break-even against the cost of a metre today"))
    far, top = points[-1].metres_a_year, max(y for curve in curves for _, y in curve.points)
    return [
        *heading(f"{_name(machine)}: cost of a metre by metres a year", paper.look, level=1, needs_pt=_PLOT_NEEDS_PT),
        lines(
            curves,
            look=paper.look,
            marks=[mark for mark in marks if mark.at <= far],
            x_ticks=[(tick, paper.language.number(tick)) for tick in round_ticks(far) if tick <= far],
            y_ticks=[(tick, paper.language.number(tick)) for tick in round_ticks(top)],
            x_words=f"metres a year; cost of a metre in {paper.terms.currency}, edging apart",
        ),
    ]


def _cases(paper: OwnerPaper, machine: Machine, answer: MachineAnswer) -> list[Flowable]:
    """The answer at interests and lives around the typed ones."""
    if not answer.cases:
        return []
    number = paper.language
    rows = [
        [
            paper.percent(case.interest_share),
            number.number(case.life_years),
            paper.money(case.equivalent_annual_cost),
            paper.money(case.npv),
            "–" if case.break_even_metres is None else number.number(case.break_even_metres, most_decimals=0),
        ]
        for case in answer.cases
    ]
    columns = [
        Column("Interest", width_mm=20),
        Column("Years", width_mm=16, align="right"),
        Column("Cost a year", align="right"),
        Column("Gain in today's money", align="right"),
        Column("Metres to break even", align="right"),
    ]
    typed = [
        place
        for place, case in enumerate(answer.cases)
        if (case.interest_share, case.life_years) == (machine.interest_share, machine.life_years)
    ]
    return [
        *heading(f"{_name(machine)} at other interest and life", paper.look, level=1),
        table(columns, rows, look=paper.look, strong_rows=typed),
    ]
