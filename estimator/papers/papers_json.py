"""What only the shop's and the owner's papers show, as plain data: an Estimate in, the key `on_paper` of estimate.json out.

With it every figure of those papers stands in estimate.json, or is a sum, a difference, a multiple or a share of figures there and of
what the workbook says; `tests/papers/stated_sums.py` lists those one by one.
"""

from __future__ import annotations

from typing import Any

from estimator.model.cutting_plan import NamedPattern
from estimator.model.exact import Fraction
from estimator.model.results import Estimate, MachineAnswer
from estimator.model.units import decimal_text

Data = dict[str, Any]


def papers_data(estimate: Estimate) -> Data:
    rates = estimate.rates
    machines = [*([estimate.machine] if estimate.machine else []), *estimate.more_machines]
    return {
        "rates": {"direct": decimal_text(rates.direct), "overhead": decimal_text(rates.overhead), "freed": decimal_text(rates.freed)},
        "step_counts": {one.step.step: decimal_text(one.count) for one in estimate.minutes.steps if one.minutes},
        "fittings": {one.fitting.item: {"number": decimal_text(one.number), "cost": decimal_text(one.cost)} for one in estimate.fittings},
        "batches": [
            {
                "strip_m": decimal_text(one.strip_m),
                "coating_min": decimal_text(one.coating_min),
                "open_used": _maybe(one.open_used_share),
            }
            for one in estimate.batches
        ],
        "glue_day": [
            {
                "strip_m": decimal_text(one.strip_m),
                "first_coat_min": decimal_text(one.first_coat_min),
                "applied_min": decimal_text(one.applied_min),
            }
            for one in (estimate.glue_day.batches if estimate.glue_day else ())
        ],
        "saw": {use.board: [_sawn(entry) for entry in use.plan_entries] for use in estimate.boards},
        "doubts": {one.what: decimal_text(one.mean) for one in estimate.risk.doubts},
        "time": _time(estimate),
        "machines": [_machine(one) for one in machines],
    }


def _maybe(value: Fraction | None) -> str | None:
    return None if value is None else decimal_text(value)


def _sawn(entry: NamedPattern) -> Data:
    """The cuts of one sheet in their order, each with what the fence is set to and the piece in hand; and what is left over."""
    return {
        "cuts": [
            f"{cut.direction} {decimal_text(cut.at_mm - (cut.y_mm if cut.direction == 'rip' else cut.x_mm))} of "
            f"{_size(cut.length_mm, cut.width_mm)}"
            for cut in entry.pattern.cuts
        ],
        "rests": [_size(rest.length_mm, rest.width_mm) for rest in entry.pattern.offcuts],
    }


def _size(length_mm: Fraction, width_mm: Fraction) -> str:
    return f"{decimal_text(length_mm)} x {decimal_text(width_mm)}"


def _time(estimate: Estimate) -> Data | None:
    """Hours at the bench against days away."""
    if estimate.decision is None:
        return None
    time = estimate.decision.time
    return {
        "chosen_hours": decimal_text(time.chosen_hours),
        "bench_days": decimal_text(time.bench_days),
        "away_days": time.away_days,
        "freed": {one.reading: decimal_text(one.worth) for one in time.freed},
    }


def _machine(answer: MachineAnswer) -> Data:
    figures = (
        "alternative_per_m", "equivalent_annual_cost", "saving_a_year", "npv", "irr", "payback_years", "discounted_payback_years",
        "break_even_metres", "pays_from_metres",
    )  # fmt: skip
    return {
        **{name: _maybe(getattr(answer, name)) for name in figures},
        "cases": [
            {
                "interest": decimal_text(one.interest_share),
                "life_years": one.life_years,
                "equivalent_annual_cost": decimal_text(one.equivalent_annual_cost),
                "npv": decimal_text(one.npv),
                "break_even_metres": _maybe(one.break_even_metres),
            }
            for one in answer.cases
        ],
        "crossings": [
            {"metres_a_year": decimal_text(one.metres_a_year), "cost_per_m": decimal_text(one.cost_per_m), "above": one.above}
            for one in answer.crossings
        ],
        "curve_to_metres": decimal_text(answer.curve[-1].metres_a_year) if answer.curve else None,
    }
