"""A banding machine of one's own: an estimate in; whether it pays, several side by side, cost of a metre by volume, out."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING

from estimator.model.exact import Fraction
from estimator.model.results import MachineAnswer
from estimator.model.shop_records import Machine
from estimator.papers.owner.paper import OwnerPaper, capital
from estimator.papers.owner.plots import Curve, Mark, lines, round_ticks
from estimator.papers.page.pieces import gap, heading, paragraph
from estimator.papers.page.tables import Column, table

if TYPE_CHECKING:
    from reportlab.platypus.flowables import Flowable

_PLOT_NEEDS_PT = 280.0
_TABLE_NEEDS_PT = 320.0
_HEAD_PT, _ROW_PT = 50.0, 18.7
"""What a small heading with the head of its table takes, and each row of it."""
_CUT_AT = 3
"""The plot is cut at so many times today's cost of a metre: what lies higher than that is dear enough."""
Pair = tuple[Machine, MachineAnswer]


def machine_story(paper: OwnerPaper) -> list[Flowable]:
    """Nothing where the workbook weighs no machine."""
    pairs = machines(paper)
    if not pairs:
        return []
    look = paper.look
    story = [*heading(paper.say("machine"), look, needs_pt=_TABLE_NEEDS_PT)]
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


def _name(paper: OwnerPaper, machine: Machine) -> str:
    return capital(machine.name or paper.say("the machine"))


def answer_words(paper: OwnerPaper, machine: Machine, answer: MachineAnswer) -> str:
    """Whether it pays, in sentences."""
    name, say, unit = _name(paper, machine), paper.say, paper.long_unit
    if answer.alternative_per_m is None or answer.npv is None:
        return say("no answer on the machine", name=name, one=paper.one_long)
    words = [
        say.counted(
            "machine pays" if answer.npv > 0 else "machine does not pay",
            machine.life_years,
            name=name,
            run=f"{paper.long(machine.metres_a_year, decimals=0)} {unit}",
            today=paper.money_per_long(answer.alternative_per_m),
            one=paper.one_long,
            amount=paper.money(abs(answer.npv)),
        )
    ]
    if answer.payback_years is not None:
        words.append(say("price is back", years=paper.language.fixed(answer.payback_years, decimals=1)))
    if answer.break_even_metres is not None:
        words.append(say("breaks even at", run=f"{paper.long(answer.break_even_metres, decimals=0)} {unit}"))
    else:
        words.append(say("does not break even", unit=unit))
    return " ".join(words)


def _table(paper: OwnerPaper, pairs: Sequence[Pair]) -> Flowable:
    number, say, one_long = paper.language, paper.say, paper.one_long

    def years(value: Fraction | None) -> str:
        return say("never") if value is None else number.fixed(value, decimals=1)

    def share(value: Fraction | None) -> str:
        return "–" if value is None else paper.percent(value)

    lines_of: list[tuple[str, Callable[[Machine, MachineAnswer], str]]] = [
        (say("price with installation"), lambda one, _: paper.money(one.price + one.installation)),
        (capital(say("so many a year", unit=paper.long_unit)), lambda one, _: paper.long(one.metres_a_year, decimals=0)),
        (say("one today", one=one_long), lambda _, answer: paper.money_per_long(answer.alternative_per_m)),
        (say("one on the machine", one=one_long), lambda one, _: paper.money_per_long(one.cost_per_m)),
        (say("cost a year evenly"), lambda _, answer: paper.money(answer.equivalent_annual_cost)),
        (say("saving a year"), lambda _, answer: paper.money(answer.saving_a_year)),
        (say("gain over its life"), lambda _, answer: paper.money(answer.npv)),
        (say("yearly return"), lambda _, answer: share(answer.irr)),
        (say("years until back"), lambda _, answer: years(answer.payback_years)),
        (say("same with interest"), lambda _, answer: years(answer.discounted_payback_years)),
        (capital(say("a year to break even", unit=paper.long_unit)), lambda _, answer: _break_even(paper, answer.break_even_metres)),
    ]
    rows = [[words, *(figure(*pair) for pair in pairs)] for words, figure in lines_of]
    columns = [Column("", share=2), *(Column(_name(paper, machine), align="right") for machine, _ in pairs)]
    return table(columns, rows, look=paper.look)


def _break_even(paper: OwnerPaper, metres: Fraction | None) -> str:
    return "–" if metres is None else paper.long(metres, decimals=0)


def _curve(paper: OwnerPaper, machine: Machine, answer: MachineAnswer) -> list[Flowable]:
    """Cost of a metre (or foot) against how many a year, for the three ways and the cheapest of today's."""
    if len(answer.curve) < 2:
        return []
    a_year = paper.m_of_long_unit
    curves, say, unit = _curves(paper, answer, a_year), paper.say, paper.long_unit
    far, top = answer.curve[-1].metres_a_year / a_year, max(y for curve in curves for _, y in curve.points)
    marks = [Mark(machine.metres_a_year / a_year, say("a year typed", unit=unit))]
    for one in answer.crossings:
        above, below, run = paper.engines(one.above), paper.engines(one.below), paper.long(one.metres_a_year, decimals=0)
        marks.append(Mark(one.metres_a_year / a_year, say("way from", way=above, other=below, run=run)))
    if answer.pays_from_metres not in (None, answer.curve[0].metres_a_year, *(one.metres_a_year for one in answer.crossings)):
        pays = answer.pays_from_metres or Fraction(0)
        marks.append(Mark(pays / a_year, say("cheaper than any from", run=paper.long(pays, decimals=0))))
    return [
        *heading(say("what one costs", name=_name(paper, machine), one=paper.one_long), paper.look, level=1, needs_pt=_PLOT_NEEDS_PT),
        lines(
            curves,
            look=paper.look,
            marks=[mark for mark in marks if mark.at <= far],
            x_ticks=[(tick, paper.language.number(tick)) for tick in round_ticks(far) if tick <= far],
            y_ticks=[(tick, paper.language.number(tick)) for tick in round_ticks(top)],
            x_words=say("volume axis", unit=unit, one=paper.one_long, currency=paper.terms.currency),
        ),
        gap(0.5),
        *[paragraph(words, paper.look) for words in _crossing_words(paper, answer)],
        *_left_out(paper, answer),
    ]


def _crossing_words(paper: OwnerPaper, answer: MachineAnswer) -> list[str]:
    """From how many a year which way is the cheaper, a year's banding priced as one question."""
    unit, say = paper.long_unit, paper.say
    words = [
        say(
            "from so many cheaper",
            run=f"{paper.long(one.metres_a_year, decimals=0)} {unit}",
            one=paper.one_long,
            above=paper.engines(one.above),
            below=paper.engines(one.below),
            cost=paper.money_per_long(one.cost_per_m),
        )
        for one in answer.crossings
    ]
    first, pays = answer.curve[0].metres_a_year, answer.pays_from_metres
    if pays is None:
        words.append(say("machine never below", run=f"{paper.long(answer.curve[-1].metres_a_year, decimals=0)} {unit}"))
    else:
        how = "machine already below" if pays == first else "machine below from"
        words.append(say(how, run=f"{paper.long(pays, decimals=0)} {unit}"))
    return [" ".join(words)]


def _curves(paper: OwnerPaper, answer: MachineAnswer, a_year: Fraction) -> list[Curve]:
    """The lines of the plot, the machine's own cut where it is far above all others."""
    points = answer.curve
    costs = {
        "by hand": [(one.metres_a_year, one.by_hand) for one in points],
        "sent out": [(one.metres_a_year, one.sent_out) for one in points],
        "cheapest today": [(one.metres_a_year, one.best) for one in points],
    }
    curves: list[Curve] = []
    for words, pairs in costs.items():
        known = tuple((metres / a_year, cost * a_year) for metres, cost in pairs if cost is not None)
        if len(known) == len(pairs):
            curves.append(Curve(paper.engines(words), known, dashed=words != "by hand"))
    high = max((y for curve in curves for _, y in curve.points), default=points[0].machine * a_year) * _CUT_AT
    own = tuple((one.metres_a_year / a_year, one.machine * a_year) for one in points if one.machine * a_year <= high)
    return [*curves, Curve(paper.engines("on the machine"), own, thick=True)] if own else curves


def _left_out(paper: OwnerPaper, answer: MachineAnswer) -> list[Flowable]:
    """Why a way has no line."""
    missing = [
        paper.say(name)
        for name, costs in (
            ("everything by hand", [one.by_hand for one in answer.curve]),
            ("everything sent out", [one.sent_out for one in answer.curve]),
        )
        if None in costs
    ]
    words = paper.say("no line for", ways=paper.listed(missing))
    return [gap(0.4), paragraph(words, paper.look, name="small")] if missing else []


def _cases(paper: OwnerPaper, machine: Machine, answer: MachineAnswer) -> list[Flowable]:
    """The answer at interests and lives around the typed ones."""
    if not answer.cases:
        return []
    number, say = paper.language, paper.say
    rows = [
        [
            paper.percent(case.interest_share),
            number.number(case.life_years),
            paper.money(case.equivalent_annual_cost),
            paper.money(case.npv),
            _break_even(paper, case.break_even_metres),
        ]
        for case in answer.cases
    ]
    columns = [
        Column(say("interest"), width_mm=20),
        Column(say("years"), width_mm=16, align="right"),
        Column(say("cost a year"), align="right"),
        Column(say("gain in todays money"), align="right"),
        Column(capital(say("to break even", unit=paper.long_unit)), align="right"),
    ]
    typed = [
        place
        for place, case in enumerate(answer.cases)
        if (case.interest_share, case.life_years) == (machine.interest_share, machine.life_years)
    ]
    return [
        *heading(
            say("other interest and life", name=_name(paper, machine)), paper.look, level=1, needs_pt=_HEAD_PT + _ROW_PT * len(rows)
        ),
        table(columns, rows, look=paper.look, strong_rows=typed),
    ]
