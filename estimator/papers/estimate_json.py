"""The estimate as plain data: an Estimate in, the nested names and texts of estimate.json out.

Counts are whole numbers, money on the quote is text at the currency's minor unit, everything else is decimal text; no number
passes through binary float.
"""

import json
from collections.abc import Mapping
from typing import Any

from estimator.model.cutting_plan import NamedPattern
from estimator.model.exact import Fraction
from estimator.model.results import BandingPlan, Estimate, MachineAnswer, Price
from estimator.model.shown import PriceShown, Shown
from estimator.model.taken import BoardUse, Part, RollUse
from estimator.model.units import decimal_text, money_text, to_money
from estimator.papers.banding_json import decision_data, glue_day_data, merchant_data, small_parts_data, year_data
from estimator.papers.papers_json import papers_data

Data = dict[str, Any]


def estimate_text(estimate: Estimate, **more: Data) -> str:
    """The text of estimate.json, the same for the same estimate; `more` keys stand behind the estimate's own."""
    return json.dumps({**estimate_data(estimate), **more}, ensure_ascii=False, indent=1) + "\n"


def estimate_data(estimate: Estimate) -> Data:
    """Everything that outside checks and later runs read of an estimate."""
    terms = estimate.job.terms
    return {
        "job": {
            "name": terms.job_name,
            "quote_number": terms.quote_number,
            "revision": terms.revision,
            "quote_date": terms.quote_date.isoformat(),
            "client": terms.client,
            "status": terms.status,
            "currency": terms.currency,
            "shown_in": terms.units,
        },
        "outcome": "priced",
        "parts": _parts(estimate),
        "boards": {use.board: _board(use) for use in estimate.boards},
        "edgings": _edgings(estimate),
        "rolls": [_rolls(use) for use in estimate.rolls],
        "adhesives": {
            use.adhesive.adhesive: {
                "glued_m2": decimal_text(use.glued_m2),
                "litres": decimal_text(use.litres),
                "packs": use.packs,
                "cost": decimal_text(use.cost),
            }
            for use in estimate.banding.adhesives
        },
        "counts": {name: _count(count) for name, count in estimate.counts.items()},
        "minutes": _minutes(estimate),
        "batches": [
            {
                "edging": batch.edging,
                "edges": batch.edges,
                "metres": decimal_text(batch.metres),
                "start_min": decimal_text(batch.start_min),
                "wait_min": decimal_text(batch.wait_min),
                "elapsed_min": decimal_text(batch.elapsed_min),
                "slack_min": _maybe(batch.slack_min),
            }
            for batch in estimate.batches
        ],
        "plans": [_plan(plan) for plan in estimate.banding.plans],
        "best": list(estimate.banding.best.sent),
        "chosen": list(estimate.banding.chosen.sent),
        "small_parts": small_parts_data(estimate),
        "cost": {
            **{name: decimal_text(getattr(estimate.cost, name)) for name in _COST},
            "extras_at_own_price": decimal_text(_sold(estimate)),
        },
        "price": _price(estimate.price, terms.currency),
        "quote": _shown(estimate.price.shown, terms.currency),
        "options": [
            {
                "option": option.option,
                "gross": money_text(option.gross, currency=terms.currency),
                "difference": money_text(option.difference, currency=terms.currency),
            }
            for option in estimate.options
        ],
        "machine": _machine(estimate.machine),
        "risk": _risk(estimate),
        "decision": decision_data(estimate),
        "glue_day": glue_day_data(estimate),
        "merchant": merchant_data(estimate.merchant),
        "year": year_data(estimate),
        "learning_what_if": _runs(estimate),
        "on_paper": papers_data(estimate),
        "remarks": [{"place": str(remark.place), "words": remark.words} for remark in estimate.remarks],
    }


_COST = (
    "boards", "edging", "adhesive", "fittings", "contractor", "trips", "extras", "labour", "overhead", "total",
    "contingency", "base",
)  # fmt: skip


def _sold(estimate: Estimate) -> Fraction:
    """What the extras that have a price of their own cost the shop; it is only told, and in no total (A30)."""
    own = (row.qty * (row.cost_each or 0) for row in estimate.job.extras if row.price_each is not None)
    return sum(own, start=Fraction(0))


def _maybe(value: Fraction | None) -> str | None:
    return None if value is None else decimal_text(value)


def _count(value: Fraction) -> int | str:
    return int(value) if value.denominator == 1 else decimal_text(value)


def _parts(estimate: Estimate) -> Data:
    area_m2 = sum((use.area_m2 for use in estimate.boards), start=Fraction(0))
    return {
        "count": sum(part.count for part in estimate.parts),
        "area_m2": decimal_text(area_m2),
        "list": [_part(part) for part in estimate.parts],
    }


def _part(part: Part) -> Data:
    return {
        "ref": part.ref,
        "part": part.part,
        "count": part.count,
        "length_mm": decimal_text(part.length_mm),
        "width_mm": decimal_text(part.width_mm),
        "cut_length_mm": decimal_text(part.cut_length_mm),
        "cut_width_mm": decimal_text(part.cut_width_mm),
        "board": part.board,
        "edging": part.bands[0].edging.edging if part.bands else "",
        "banded": [band.side for band in part.bands],
        "bands": {band.side: band.edging.edging for band in part.bands},
    }


def _board(use: BoardUse) -> Data:
    return {
        "parts": use.parts,
        "area_m2": decimal_text(use.area_m2),
        "sheets": use.sheets,
        "bound": use.bound,
        "cost": decimal_text(use.cost),
        "yield": decimal_text(use.yield_share),
        "sizes": [
            {
                "length": decimal_text(one.board.sheet_length_mm),
                "width": decimal_text(one.board.sheet_width_mm),
                "sheets": one.sheets,
            }
            for one in use.by_size
        ],
        "plan": [] if use.by_yield else [_pattern(use, entry) for entry in use.plan_entries],
        "plan_yield": None if use.plan_yield_share is None else decimal_text(use.plan_yield_share),
        "saw_plan": [_pattern(use, entry) for entry in use.plan_entries] if use.by_yield else [],
        "saw_sheets": use.plan.sheets if use.plan else None,
    }


def _pattern(use: BoardUse, entry: NamedPattern) -> Data:
    """One sheet of a cutting plan, how many of it, and its pieces: their cut size, where they lie, whether turned."""
    sheet = use.plan_stock[entry.pattern.sheet]
    return {
        "length": decimal_text(sheet.length_mm),
        "width": decimal_text(sheet.width_mm),
        "count": entry.count,
        "parts": [
            {
                "ref": piece.ref,
                "part": piece.part,
                "x": decimal_text(piece.placement.x_mm),
                "y": decimal_text(piece.placement.y_mm),
                "length": decimal_text(use.plan_parts[piece.placement.part].cut_length_mm),
                "width": decimal_text(use.plan_parts[piece.placement.part].cut_width_mm),
                "turned": piece.placement.turned,
            }
            for piece in entry.pieces
        ],
    }


def _edgings(estimate: Estimate) -> Data:
    bought = {use.edging: use for use in estimate.banding.bought}
    return {
        use.edging: {
            "edges": use.edges,
            "net_m": decimal_text(use.net_m),
            "strip_m": decimal_text(use.strip_m),
            "bought_m": decimal_text(bought[use.edging].bought_m if use.edging in bought else Fraction(0)),
            "cost": decimal_text(bought[use.edging].cost if use.edging in bought else Fraction(0)),
        }
        for use in estimate.edgings
    }


def _rolls(use: RollUse) -> Data:
    """Which strips come from which roll; each list of strips is of one roll, longest first."""
    return {
        "edging": use.edging.edging,
        "width": decimal_text(use.edging.width_mm),
        "strips": use.strips,
        "full_rolls": use.new_rolls,
        "full_rolls_at_least": use.bound,
        "longer_than_a_roll": [decimal_text(length_mm) for length_mm in sorted((*use.too_long_mm, *use.left_over_mm))],
        "cuts": [
            {
                "length": decimal_text(roll.length_mm),
                "roll_end": not roll.new,
                "count": roll.count,
                "strips": [decimal_text(length_mm) for length_mm in sorted(roll.strips_mm, reverse=True)],
            }
            for roll in use.rolls
        ],
    }


def _minutes(estimate: Estimate) -> Data:
    minutes = estimate.minutes
    return {
        "steps": {step.step.step: decimal_text(step.minutes) for step in minutes.steps},
        "extras": decimal_text(minutes.extras),
        "always": decimal_text(minutes.always),
        "by_hand": decimal_text(minutes.by_hand),
        "send_out": decimal_text(minutes.send_out),
        "total": decimal_text(minutes.total),
    }


def _plan(plan: BandingPlan) -> Data:
    figures = (
        "relevant_cost", "edging", "adhesive", "contractor", "trips", "fittings", "by_hand_min", "send_out_min", "spoilt",
    )  # fmt: skip
    return {
        "sent": list(plan.sent),
        "possible": plan.possible,
        "why": plan.why,
        **{name: _maybe(getattr(plan, name)) for name in figures},
    }


def _price(price: Price, currency: str) -> Data:
    def money(value: Fraction) -> str:
        return money_text(value, currency=currency)

    def unit(value: Fraction) -> str:
        """An extra's own price may have more decimals than the minor unit; it is never cut."""
        return money(value) if to_money(value, currency=currency) == value else decimal_text(value)

    return {
        "target": decimal_text(price.target),
        "lines": [
            {
                "ref": line.ref,
                "qty": _count(line.qty),
                "unit": unit(line.unit),
                "net": money(line.net),
                "tax_rate": decimal_text(line.tax_rate_share * 100),
            }
            for line in price.lines
        ],
        "sum_lines": money(price.sum_lines),
        "discount": money(price.discount),
        "delivery": money(price.delivery),
        "net": money(price.net),
        "tax": [
            {"rate": decimal_text(line.rate_share * 100), "base": money(line.base), "tax": money(line.tax)} for line in price.tax
        ],
        "tax_total": money(price.tax_total),
        "rounding": money(price.rounding),
        "gross": money(price.gross),
        "instalments": [{"words": step.words, "amount": money(step.amount)} for step in price.instalments],
    }


def _shown(shown: PriceShown, currency: str) -> Data:
    """Every amount of the quote, without its tax and with it; the lines in the order of the price's lines."""

    def both(amount: Shown) -> Data:
        return {
            "without_tax": money_text(amount.without, currency=currency),
            "with_tax": money_text(amount.with_tax, currency=currency),
        }

    return {
        "lines": [both(line) for line in shown.lines],
        "rooms": [{"room": room.room, **both(room.amount)} for room in shown.rooms],
        "sum_lines": both(shown.sum_lines),
        "discount": both(shown.discount),
        "delivery": both(shown.delivery),
        "total": both(shown.total),
    }


def _machine(machine: MachineAnswer | None) -> Mapping[str, str | None]:
    names = (
        "crf", "equivalent_annual_cost", "saving_a_year", "npv", "irr",
        "payback_years", "discounted_payback_years", "break_even_metres", "pays_from_metres",
    )  # fmt: skip
    return {name: None if machine is None else _maybe(getattr(machine, name)) for name in names}


def _risk(estimate: Estimate) -> Data:
    risk = estimate.risk
    return {
        **{name: decimal_text(getattr(risk, name)) for name in risk.__slots__ if name != "doubts"},
        "doubts": [
            {"what": one.what, "sd": decimal_text(one.sd), "variance_share": decimal_text(one.variance_share)}
            for one in risk.doubts
        ],
    }


def _runs(estimate: Estimate) -> Data | None:
    """What if the later ones of a run of identical cabinets go quicker; no other figure rests on it."""
    quicker = estimate.runs_quicker
    if quicker is None:
        return None
    return {
        "model": quicker.model,
        "learning": decimal_text(quicker.learning_share),
        "floor": decimal_text(quicker.floor_share),
        "runs": [
            {
                "refs": list(run.refs),
                "count": run.count,
                "each_min": decimal_text(run.each_min),
                "run_min": decimal_text(run.count * run.each_min),
                "learned_min": decimal_text(run.learned_min),
            }
            for run in quicker.runs
        ],
        "saved_min": decimal_text(quicker.saved_min),
        "saved_cost": decimal_text(quicker.saved_cost),
    }
