"""The choice of banding as plain data: an Estimate in, the parts of estimate.json that lie behind its plans out."""

from typing import Any

from estimator.model.decision import MerchantAnswer, MerchantWay
from estimator.model.exact import Fraction
from estimator.model.results import Estimate
from estimator.model.units import decimal_text

Data = dict[str, Any]


def _maybe(value: Fraction | None) -> str | None:
    return None if value is None else decimal_text(value)


def small_parts_data(estimate: Estimate) -> list[Data]:
    """What stays at the bench of each edging when it is sent: parts too small for the contract bander's machine."""
    return [
        {
            "edging": one.edging,
            "sent": one.edging in estimate.banding.chosen.sent,
            "edges": one.stays.edges,
            "net_m": decimal_text(one.stays.net_m),
            "parts": [{"ref": part.ref, "part": part.part, "count": part.count} for part in one.parts],
        }
        for one in estimate.banding.small_parts
    ]


def decision_data(estimate: Estimate) -> Data | None:
    """Why the best way of banding is the best: for pages and later runs."""
    decision = estimate.decision
    if decision is None:
        return None
    return {
        "sentence": decision.sentence,
        "side_by_side": [
            {
                "line": one.words,
                "by_hand": _maybe(one.by_hand),
                "send_out": _maybe(one.sent_out),
                "best": _maybe(one.best),
                "chosen": _maybe(one.chosen),
            }
            for one in decision.lines
        ],
        "break_even_m": {name: _maybe(metres) for name, metres in decision.break_even_m},
        "by_metres": [{"size": decimal_text(one.size_share), "sent": list(one.sent)} for one in decision.by_metres],
        "by_pieces": [{"size": decimal_text(one.size_share), "sent": list(one.sent)} for one in decision.by_pieces],
        "tornado": [
            {
                "input": one.what,
                "low": decimal_text(one.low_cost),
                "low_sent": list(one.low_sent),
                "high": decimal_text(one.high_cost),
                "high_sent": list(one.high_sent),
            }
            for one in decision.tornado
        ],
        "flips": [
            {
                "input": one.what,
                "down_to": _maybe(one.down_to_share),
                "down_sent": list(one.down_sent),
                "up_to": _maybe(one.up_to_share),
                "up_sent": list(one.up_sent),
            }
            for one in decision.flips
        ],
        "freed_hours": decimal_text(decision.time.freed_hours),
        "send_by": decision.time.send_by,
    }


MACHINE_TERMS = (
    "price", "installation", "resale_value", "interest_share", "fixed_cost_a_year", "cost_per_m", "metres_a_year",
)  # fmt: skip


def year_data(estimate: Estimate) -> Data | None:
    """What a run over many jobs puts to the machines: this job's metres and their cost, and the machines that the shop weighs."""
    banded, job = estimate.banded, estimate.job
    if banded is None:
        return None
    machines = [*([job.machine] if job.machine else []), *job.more_machines]
    return {
        "metres": decimal_text(banded.net_m),
        "by_hand": _maybe(banded.by_hand),
        "send_out": _maybe(banded.sent_out),
        "best": _maybe(banded.best),
        "machines": [
            {"name": one.name, "life_years": one.life_years, **{name: decimal_text(getattr(one, name)) for name in MACHINE_TERMS}}
            for one in machines
        ],
    }


def merchant_data(answer: MerchantAnswer | None) -> Data | None:
    """Parts from the board merchant beside all made here."""
    if answer is None:
        return None
    return {
        "sentence": answer.sentence,
        "lead_time_days": answer.lead_time_days,
        "here": _merchant_way(answer.here),
        "whole": _merchant_way(answer.whole),
        "by_board": [_merchant_way(way) for way in answer.by_board],
        "best": _merchant_way(answer.best),
    }


def _merchant_way(way: MerchantWay) -> Data:
    figures = ("sheets", "cuts", "parts", "banding", "top_up", "boards_here", "work_here", "banding_here", "cost")
    return {
        "boards": list(way.boards),
        "why": way.why,
        **{name: _maybe(getattr(way, name)) for name in figures},
        "sent": list(way.sent),
    }


def glue_day_data(estimate: Estimate) -> Data | None:
    """The bench's timetable: minutes from midnight before the first day; 1440 a day."""
    glue_day = estimate.glue_day
    if glue_day is None:
        return None
    figures = ("start_min", "end_min", "labour_min", "waiting_min", "one_after_another_min", "least_end_min")
    return {
        **{name: decimal_text(getattr(glue_day, name)) for name in figures},
        "why": glue_day.why,
        "batches": [
            {
                "edging": one.edging,
                "side": one.side,
                "edges": one.edges,
                "metres": decimal_text(one.metres),
                "open_used": _maybe(one.open_used_share),
                "as_listed_min": decimal_text(one.as_listed_min),
                "ordered_min": decimal_text(one.ordered_min),
                "least_min": decimal_text(one.least_min),
            }
            for one in glue_day.batches
        ],
        "tasks": [
            {
                "worker": one.worker + 1,
                "batch": one.batch + 1,
                "doing": one.doing,
                "start_min": decimal_text(one.start_min),
                "end_min": decimal_text(one.end_min),
            }
            for one in glue_day.tasks
        ],
    }
