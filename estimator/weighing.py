"""A year's jobs weighed for a machine: the register's rows in, one sentence a machine out.

The metres and the relevant cost of every job's latest revision are added up and put to the machines of the newest one. A job that
was lost was banded by nobody, so it is left out.
"""

import json
from collections.abc import Sequence
from typing import Any

from estimator.costing.years_jobs import machines_on_jobs
from estimator.model.decision import JobBanding
from estimator.model.exact import Fraction
from estimator.model.problems import Items
from estimator.model.results import MachineAnswer
from estimator.model.shop_records import Machine
from estimator.model.units import M_PER_FOOT, decimal_text, money_text, run_words
from estimator.papers.banding_json import MACHINE_TERMS
from estimator.papers.register import RegisterRow

FEWEST = 2
"""With a single job its own pages tell more."""


def machine_words(rows: Sequence[RegisterRow]) -> str:
    """What the jobs, the newest first, say about the machines; blank where there are too few of them or no machine is weighed."""
    weighed = [row for row in rows if row.year and row.status != "lost"]
    machines: list[dict[str, Any]] = next((found for row in weighed if (found := json.loads(row.machines))), [])
    if not machines or len(weighed) < FEWEST:
        return ""
    if len({row.currency for row in weighed}) > 1:
        return "The jobs here are priced in several currencies, so no machine was weighed on all of them."
    answers = machines_on_jobs([_machine(one) for one in machines], [_job(row) for row in weighed])
    return "\n".join(_sentence(answer, weighed) for answer in answers)


def _job(row: RegisterRow) -> JobBanding:
    metres, *costs = row.year
    return JobBanding(Fraction(metres or 0), *(_maybe(cost) for cost in costs))


def _maybe(text: str | None) -> Fraction | None:
    return None if text is None else Fraction(text)


def _machine(data: dict[str, Any]) -> Machine:
    figures = {name: Fraction(data[name]) for name in MACHINE_TERMS}
    return Machine(
        **figures, life_years=data["life_years"], alternative_per_m=None, at=Items("", "Machine", {}), name=data["name"]
    )


def _sentence(answer: MachineAnswer, rows: Sequence[RegisterRow]) -> str:
    """Whether a machine pays on these jobs as a year's work."""
    currency = rows[0].currency
    inch = all(row.shown_in == "inch" for row in rows)
    units, one, all_of, size = ("inch", "a foot", "feet", M_PER_FOOT) if inch else ("mm", "a metre", "metres", Fraction(1))

    def money(amount: Fraction | None) -> str:
        return money_text(abs(amount or Fraction(0)), currency=currency)

    metres = sum((_job(row).net_m for row in rows), start=Fraction(0))
    a_length = None if answer.alternative_per_m is None else answer.alternative_per_m * size
    jobs = f"{len(rows)} jobs, {run_words(metres, units=units)} of edges at {money(a_length)} {one} today"
    pays = (answer.npv or 0) > 0
    verdict = f"{'gains' if pays else 'loses'} {money(answer.npv)} in today's money over its life"
    back = f", its price back after {decimal_text(answer.payback_years, places=1)} years" if answer.payback_years is not None else ""
    even = answer.break_even_metres
    breaks = f"no number of {all_of}" if even is None else run_words(even, units=units, places=0)
    name = answer.name or "the machine"
    return f"As a year's work ({jobs}, edging apart), {name} {verdict}{back}; it breaks even at {breaks} a year."
