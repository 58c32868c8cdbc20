"""Two jobs by their paths in; what moved the price, on the terminal and as compare.xlsx, or a change order, out.

A job may be named by its workbook, by a folder of its papers (its `priced.xlsx` holds the whole input of that day), or by the
`estimate.json` in it. What was recorded there is taken as the price of that day.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any, Literal

from estimator.batch import price_book
from estimator.costing.bridge import bridge_of
from estimator.costing.bridge_order import change_order_of
from estimator.model.comparison import Bridge, BridgeStep, ChangeOrder
from estimator.model.dataclass import dataclass
from estimator.model.exact import Fraction
from estimator.model.problems import Place, Problem
from estimator.model.refusal import Refusal
from estimator.model.results import Estimate
from estimator.model.units import money_text
from estimator.papers.change_order_json import change_order_data
from estimator.papers.compare_book import compare_book, place_of
from estimator.papers.files import folder_name, kept, write_papers

PRICED, REFUSED, WRONG_WORDS = 0, 1, 2
_ESTIMATE, _ORDER, _ORDER_PDF = "estimate.json", "change-order.json", "change-order.pdf"
_BOOKS = ("priced.xlsx", "priced.xlsm")
_MOST_LINES = 40
Say = Callable[..., None]


@dataclass(frozen=True, slots=True)
class Named:
    """One job as it was named at the prompt."""

    book: Path
    folder: Path | None
    """Where its papers lie, if it was named by them."""
    recorded: Any
    """Its estimate.json, if it was named by its papers; else None."""


def run(
    old_path: Path, new_path: Path, *, shop: Path | None, out: Path, words: Path | None, order: bool, as_json: bool, say: Say
) -> int:
    """Compare, tell, write; the exit code."""
    old, new = named(old_path), named(new_path)
    for path, one in ((old_path, old), (new_path, new)):
        if one is None:
            say(f"{path} holds no priced job: name a workbook, or a folder with {_BOOKS[0]} and {_ESTIMATE} in it", to_errors=True)
            return WRONG_WORDS
    assert old is not None
    assert new is not None
    estimates = [price_book(one.book, shop=shop if one.folder is None else None) for one in (old, new)]
    for estimate in estimates:
        if isinstance(estimate, Refusal):
            return _refused(estimate, say)
    before, after = (estimate for estimate in estimates if isinstance(estimate, Estimate))
    folder = new.folder or out / folder_name(new.book.stem) / folder_name(after.job.terms.revision)
    if order:
        return _ordered(old, before, after, folder=folder, beside=new.book.parent, words=words, as_json=as_json, say=say)
    return _bridged(old, before, after, new=new, folder=folder, as_json=as_json, say=say)


def named(path: Path) -> Named | None:
    """The workbook behind a path; None where there is none."""
    if path.is_file() and path.name != _ESTIMATE:
        return Named(path, None, None)
    folder = path.parent if path.is_file() else path
    if not folder.is_dir():
        return None
    if not any((folder / name).is_file() for name in _BOOKS):
        from estimator.registering import natural

        revisions = sorted((one for one in folder.iterdir() if (one / _ESTIMATE).is_file()), key=lambda one: natural(one.name))
        if not revisions:
            return None
        folder = revisions[-1]
    book = next((folder / name for name in _BOOKS if (folder / name).is_file()), None)
    recorded = kept(folder / _ESTIMATE)
    return Named(book, folder, recorded) if book and isinstance(recorded, dict) else None


def _refused(refusal: Refusal, say: Say) -> int:
    from estimator.batch import Refused
    from estimator.telling import refused_words

    say(refused_words(Refused(Path(refusal.workbook), refusal)), to_errors=True)
    return REFUSED


# --- the bridge -------------------------------------------------------------------------------------------------------


def _bridged(old: Named, before: Estimate, after: Estimate, *, new: Named, folder: Path, as_json: bool, say: Say) -> int:
    bridge = bridge_of(before.job, after.job)
    if isinstance(bridge, Refusal):
        return _refused(bridge, say)
    recorded = _recorded_gross(old, bridge)
    names = tuple(_called(one, estimate) for one, estimate in ((old, before), (new, after)))
    write_papers(folder, {"compare.xlsx": compare_book(bridge, old_name=names[0], new_name=names[1])})
    if as_json:
        say(json.dumps(bridge_data(bridge, recorded=recorded), ensure_ascii=False, indent=1))
    else:
        say("\n".join([*bridge_lines(bridge, names=names, recorded=recorded), f"As a workbook: {folder / 'compare.xlsx'}"]))
    return PRICED


def _recorded_gross(one: Named, bridge: Bridge) -> Fraction:
    """The price of the day as it was recorded; the one of today where nothing was."""
    return bridge.old.gross if one.recorded is None else Fraction(one.recorded["price"]["gross"])


def _called(one: Named, estimate: Estimate) -> str:
    revision = estimate.job.terms.revision
    name = one.folder.parent.name if one.folder else one.book.name
    return f"{name}, revision {revision}" if revision else name


def bridge_lines(bridge: Bridge, *, names: tuple[str, ...], recorded: Fraction) -> Iterator[str]:
    """The bridge for the terminal: both prices, each step with the price after it, then what moves no price."""

    def money(value: Fraction, *, signed: bool = False) -> str:
        text = money_text(value, currency=bridge.currency)
        return f"+{text}" if signed and not text.startswith("-") else text

    whole = bridge.new.gross - recorded
    apart = f"{money(abs(whole))} {'more' if whole > 0 else 'less'}" if whole else "the same"
    yield f"{names[0]}: {money(recorded)} {bridge.currency}"
    yield f"{names[1]}: {money(bridge.new.gross)} {bridge.currency}, {apart}"
    moving = [step for step in bridge.steps if step.gross or step.net]
    rows = [(recorded, recorded, names[0])]
    if bridge.old.gross != recorded:
        rows.append((bridge.old.gross - recorded, bridge.old.gross, "the same workbook, worked out by this version of the program"))
    rows += [(step.gross, step.after.gross, f"{step.words}  [{place_of(step.changes[0])}]") for step in moving]
    if len(rows) > 1:
        yield ""
        yield "From the old price to the new one, with tax; each step stands on those before it"
        deltas = ["" if at == 0 else money(row[0], signed=True) for at, row in enumerate(rows)]
        wide, high = max(map(len, deltas)), max(len(money(row[1])) for row in rows)
        for delta, row in zip(deltas, rows, strict=True):
            yield f"    {delta:>{wide}}  {money(row[1]):>{high}}  {row[2]}"
    still = [change for step in bridge.steps if step not in moving for change in step.changes] + list(bridge.listed)
    if still:
        yield ""
        yield "Changed without moving the price"
        yield from (f"    {change.words}  [{place_of(change)}]" for change in still[:_MOST_LINES])
        if len(still) > _MOST_LINES:
            yield f"    and {len(still) - _MOST_LINES} more, all in the workbook"
    if not bridge.changes:
        yield "Nothing is changed."


def bridge_data(bridge: Bridge, *, recorded: Fraction) -> Any:
    """The comparison as data."""

    def money(value: Fraction) -> str:
        return money_text(value, currency=bridge.currency)

    def step_data(step: BridgeStep) -> Any:
        return {"changes": [_change_data(one) for one in step.changes], "gross": money(step.gross), "net": money(step.net)}

    return {
        "currency": bridge.currency,
        "recorded": money(recorded),
        "old": money(bridge.old.gross),
        "new": money(bridge.new.gross),
        "steps": [step_data(step) for step in bridge.steps],
        "without_price": [_change_data(one) for one in bridge.listed],
    }


def _change_data(change: Any) -> Any:
    cells = [{"place": str(cell.place), "column": cell.header, "was": cell.before, "is": cell.after} for cell in change.cells]
    return {"sheet": change.sheet, "row": change.name, "what": change.kind, "place": str(change.place), "cells": cells}


# --- the change order -------------------------------------------------------------------------------------------------


def _ordered(
    old: Named, before: Estimate, after: Estimate, *, folder: Path, beside: Path, words: Path | None, as_json: bool, say: Say
) -> int:
    """Write the change order; the accepted price is the one that was recorded, whatever the same job would cost today."""
    from estimator.papers.change_order import change_order_pdf
    from estimator.papers.page.phrases import BadWords

    earlier = _earlier_order(old.folder)
    if problem := _not_yet(old, before, after, folder=folder):
        return _refused(Refusal(problem.place.workbook, (problem,)), say)
    accepted = before.price.gross if old.recorded is None else Fraction(old.recorded["price"]["gross"])
    order = change_order_of(before.job, after.job, accepted_money=Fraction(earlier["new_total"]) if earlier else accepted)
    if isinstance(order, Refusal):
        return _refused(order, say)
    number = int(earlier["number"]) + 1 if earlier else 1
    terms = after.job.terms
    data = change_order_data(order, number=number, quote_number=terms.quote_number, revision=terms.revision)
    try:
        pdf = change_order_pdf(
            order, after, number=number, accepted_revision=before.job.terms.revision, words=words, beside=beside
        )
    except BadWords as bad:
        return _refused(Refusal(after.job.workbook, (bad.problem,)), say)
    write_papers(folder, {_ORDER_PDF: pdf, _ORDER: (json.dumps(data, ensure_ascii=False, indent=1) + "\n").encode()})
    say(json.dumps(data, ensure_ascii=False, indent=1) if as_json else "\n".join(order_lines(order, number=number, folder=folder)))
    return PRICED


def _earlier_order(folder: Path | None) -> Any:
    """The change order that lies with the accepted papers: its new total is what was agreed last."""
    return kept(folder / _ORDER) if folder else None


def _not_yet(old: Named, before: Estimate, after: Estimate, *, folder: Path) -> Problem | None:
    """Why there can be no change order yet: the job is not won, or the changed one has no revision of its own."""
    status: Literal["asked", "sent", "won", "lost"] = before.job.terms.status
    if status != "won":
        return Problem(
            before.job.terms.at.place("Status"),
            status,
            "won: a change order changes a job that the client has accepted",
            "write won, price the job once more, and keep that workbook as it is",
        )
    if before.job.terms.currency != after.job.terms.currency:
        return Problem(after.job.terms.at.place("Currency"), after.job.terms.currency, before.job.terms.currency, "keep the currency")
    same = before.job.terms.revision.strip() == after.job.terms.revision.strip()
    if same or (old.folder and old.folder.resolve() == folder.resolve()):
        return Problem(
            after.job.terms.at.place("Revision"),
            f"revision {after.job.terms.revision}, the one that was accepted",
            "Revision: the next one",
            "type the next revision in the changed workbook; the accepted one stays as it is",
        )
    if (folder / _ORDER).is_file() and _status_of(folder) in ("sent", "won"):
        return Problem(
            Place(f"{folder.name}/{_ORDER_PDF}"),
            "a change order that went out already",
            "Revision: the next one",
            "type the next revision in the changed workbook; the change order that went out stays as it is",
        )
    return None


def _status_of(folder: Path) -> str:
    try:
        return str(kept(folder / _ESTIMATE)["job"]["status"])
    except (KeyError, TypeError):
        return ""


def order_lines(order: ChangeOrder, *, number: int, folder: Path) -> Iterator[str]:
    """What the shop reads; what was left out is for its eyes only."""

    def money(value: Fraction) -> str:
        return money_text(value, currency=order.currency)

    def moved(value: Fraction) -> str:
        return f"+{money(value)}" if value > 0 else money(value)

    yield f"Change order {number}: {moved(order.gross)} {order.currency} with tax, {moved(order.net)} before tax"
    if order.least_added:
        yield f"    of it {money(order.least_added)} to reach Shop > Least change fee"
    yield f"    agreed so far {money(order.accepted)}, new price {money(order.new_total)}"
    if order.left_out:
        yield "    left out, for it is no change of the work: the accepted price stands"
        yield from (f"        {moved(step.gross)}  {step.words}" for step in order.left_out)
    yield f"For both to sign: {folder / _ORDER_PDF}"
