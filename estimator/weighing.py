"""A year's jobs weighed for a machine: the estimates that lie under --out in, one sentence a machine out.

The metres and the relevant cost of every job's latest revision are added up and put to the machines of the newest one. A job that
was lost was banded by nobody, so it is left out.
"""

import json
from collections.abc import Sequence
from pathlib import Path
from typing import Any

from estimator.costing.years_jobs import machines_on_jobs
from estimator.model.decision import JobBanding
from estimator.model.exact import Fraction
from estimator.model.problems import Items
from estimator.model.results import MachineAnswer
from estimator.model.shop_records import Machine
from estimator.model.units import M_PER_FOOT, decimal_text, money_text, run_words
from estimator.papers.banding_json import MACHINE_TERMS

FEWEST = 2
"""With a single job its own pages tell more."""


def machine_words(out: Path) -> str:
    """What the jobs under --out say about the machines; blank where there are too few of them or no machine is weighed."""
    from estimator.registering import rows_below

    rows, _ = rows_below(out)
    datas = [json.loads((out / row.name / row.revision_folder / "estimate.json").read_text(encoding="utf-8")) for row in rows]
    return words_for(datas)


def words_for(datas: Sequence[dict[str, Any]]) -> str:
    """The same from the data of the estimates, the newest first."""
    weighed = [data for data in datas if data.get("year") and data["job"]["status"] != "lost"]
    machines: list[dict[str, Any]] = next((data["year"]["machines"] for data in weighed if data["year"]["machines"]), [])
    currencies = {data["job"]["currency"] for data in weighed}
    if not machines or len(weighed) < FEWEST:
        return ""
    if len(currencies) > 1:
        return "The jobs here are priced in several currencies, so no machine was weighed on all of them."
    answers = machines_on_jobs([_machine(one) for one in machines], [_job(data["year"]) for data in weighed])
    return "\n".join(_sentence(answer, datas=weighed) for answer in answers)


def _job(year: dict[str, Any]) -> JobBanding:
    return JobBanding(Fraction(year["metres"]), *(_maybe(year[name]) for name in ("by_hand", "send_out", "best")))


def _maybe(text: str | None) -> Fraction | None:
    return None if text is None else Fraction(text)


def _machine(data: dict[str, Any]) -> Machine:
    figures = {name: Fraction(data[name]) for name in MACHINE_TERMS}
    return Machine(
        **figures, life_years=data["life_years"], alternative_per_m=None, at=Items("", "Machine", {}), name=data["name"]
    )


def _sentence(answer: MachineAnswer, *, datas: Sequence[dict[str, Any]]) -> str:
    """Whether a machine pays on these jobs as a year's work."""
    currency = datas[0]["job"]["currency"]
    inch = all(data["job"].get("shown_in") == "inch" for data in datas)
    units, one, all_of, size = ("inch", "a foot", "feet", M_PER_FOOT) if inch else ("mm", "a metre", "metres", Fraction(1))

    def money(amount: Fraction | None) -> str:
        return money_text(abs(amount or Fraction(0)), currency=currency)

    metres = sum((Fraction(data["year"]["metres"]) for data in datas), start=Fraction(0))
    a_length = None if answer.alternative_per_m is None else answer.alternative_per_m * size
    jobs = f"{len(datas)} jobs, {run_words(metres, units=units)} of edges at {money(a_length)} {one} today"
    pays = (answer.npv or 0) > 0
    verdict = f"{'gains' if pays else 'loses'} {money(answer.npv)} in today's money over its life"
    back = f", its price back after {decimal_text(answer.payback_years, places=1)} years" if answer.payback_years is not None else ""
    even = answer.break_even_metres
    breaks = f"no number of {all_of}" if even is None else run_words(even, units=units, places=0)
    name = answer.name or "the machine"
    return f"As a year's work ({jobs}, edging apart), {name} {verdict}{back}; it breaks even at {breaks} a year."
