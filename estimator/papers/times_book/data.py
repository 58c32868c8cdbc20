"""What a folder of finished jobs taught, in; plain names and decimal texts for other programs out."""

from typing import Any

from estimator.model.exact import Fraction
from estimator.model.times import Learned, MaterialUse, Observed, QuoteAgain, StepTime
from estimator.model.units import decimal_text, money_text


def learned_data(learned: Learned) -> dict[str, Any]:
    """Counts as whole numbers, money on a quote at its minor unit, everything else as decimal text."""
    return {
        "steps": [_step(time) for time in learned.times],
        "by_stage": [_compared(one) for one in learned.by_stage],
        "by_step": [_compared(one) for one in learned.by_step],
        "by_job": [_compared(one) for one in learned.by_job],
        "log": [_row(one) for one in learned.observed],
        "material": [_material(one) for one in learned.material],
        "quotes": [_quote(one) for one in learned.quotes],
    }


def _maybe(value: Fraction | None) -> str | None:
    return None if value is None else decimal_text(value)


def _step(time: StepTime) -> dict[str, Any]:
    figures = ("now_min", "standard_min", "from_min", "to_min", "within_share", "minutes", "low_min", "high_min")
    return {
        "step": time.step.step,
        "stage": time.step.stage,
        "state": time.state,
        "rows": time.rows,
        "left_aside": time.wild,
        **{name: _maybe(getattr(time, name)) for name in figures},
        "interval": "0.9",
        "together": list(time.together),
    }


def _compared(one: Any) -> dict[str, Any]:
    return {
        "name": one.name,
        "rows": one.rows,
        "estimated_min": decimal_text(one.estimated_min),
        "real_min": decimal_text(one.real_min),
        "whole_min": _maybe(one.whole_min),
    }


def _row(one: Observed) -> dict[str, Any]:
    return {
        "date": one.date.isoformat(),
        "job": one.job,
        "steps": {count.step: decimal_text(count.count) for count in one.steps},
        "real_min": decimal_text(one.real_min),
        "estimated_min": decimal_text(one.estimated_min),
        "left_aside": one.wild,
        "place": str(one.at.place("Step")),
    }


def _material(one: MaterialUse) -> dict[str, Any]:
    return {
        "name": one.name,
        "kind": one.kind,
        "column": "Expected yield" if one.kind == "board" else "Spare",
        "jobs": one.jobs,
        **{name: _maybe(getattr(one, name)) for name in ("planned", "used", "now_share", "share", "from_share", "to_share")},
        "left_aside": list(one.wild),
    }


def _quote(one: QuoteAgain) -> dict[str, Any]:
    return {
        "job": one.job,
        "currency": one.currency,
        **{name: decimal_text(getattr(one, name)) for name in ("minutes", "new_minutes", "cost", "new_cost")},
        "net": money_text(one.net, currency=one.currency),
        "new_net": money_text(one.new_net, currency=one.currency),
    }
