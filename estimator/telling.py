"""Outcomes as sentences for the terminal and as data for --json."""

import json
import os
import sys
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from decimal import Decimal
from pathlib import Path
from typing import Any, cast

from estimator.batch import Broken, Outcome, Priced, Refused, Unchanged
from estimator.model.dataclass import dataclass
from estimator.model.exact import Fraction
from estimator.model.gathering import gathered
from estimator.model.results import Estimate
from estimator.model.units import M_PER_FOOT, minor_decimals, money_text, run_words, to_multiple
from estimator.papers.estimate_json import estimate_data
from estimator.prompting import quoted

PRICED, REFUSED, WRONG_WORDS, OUR_FAULT = 0, 1, 2, 3
"""Exit codes."""

_SHOP, _MOST_NAMES = "shop.xlsx", 5
_BOLD, _RED, _PLAIN = "\x1b[1m", "\x1b[31m", "\x1b[0m"


@dataclass(frozen=True, slots=True)
class Told:
    """An outcome as it is told: small enough to come from another process, or from another computer."""

    path: Path
    code: int
    words: str
    data: dict[str, Any] | None
    """For --json."""
    unpriced: Refused | Broken | None
    """For the register."""


def told(outcome: Outcome, *, papers: bool, as_json: bool) -> Told:
    """An outcome in words, with what it means for the exit code."""
    data = data_of(outcome) if as_json else None
    match outcome:
        case Priced(path=path):
            return Told(path, PRICED, "" if as_json else priced_words(outcome, papers=papers), data, None)
        case Unchanged(path=path):
            return Told(path, PRICED, unchanged_words(outcome), data, None)
        case Refused(path=path, refusal=refusal):
            return Told(path, REFUSED, refused_words(outcome), data, Refused(path, replace(refusal, readable=None)))
        case Broken(path=path, ours=ours):
            return Told(path, OUR_FAULT if ours else REFUSED, broken_words(outcome), data, outcome)


def unchanged_words(outcome: Unchanged) -> str:
    """That nothing was done, and why."""
    name = _coloured(outcome.path.name, _BOLD, stream=sys.stdout)
    return f"{name}: {outcome.gross} {outcome.currency}, unchanged since it was priced. Papers: {outcome.folder}"


def _coloured(words: str, colour: str, *, stream: Any) -> str:
    return f"{colour}{words}{_PLAIN}" if stream.isatty() else words


def priced_words(outcome: Priced, *, papers: bool) -> str:
    """One line a job: price, sheets, metres, the best way of banding and what it saves, where the papers are."""
    estimate = outcome.estimate
    terms = estimate.job.terms
    gross = f"{money_text(estimate.price.gross, currency=terms.currency)} {terms.currency}"
    sheets = sum(use.sheets for use in estimate.boards)
    metres = sum((use.net_m for use in estimate.edgings), start=Fraction(0))
    name = _coloured(outcome.path.name, _BOLD, stream=sys.stdout)
    lines = [f"{name}: {gross}, {_sheets(sheets)}, {run_words(metres, units=terms.units)} of edges. {_banding(estimate)}"]
    if papers and outcome.folder:
        lines[0] += f" Papers: {outcome.folder}"
    lines += [f"    {estimate.merchant.sentence}."] if estimate.merchant else []
    lines += [f"    remark  {remark}" for remark in gathered(estimate.remarks)]
    lines += [f"    note    {note}" for note in outcome.notes]
    if not papers:
        lines.append("    no problems found")
    return "\n".join(lines)


def _sheets(count: int) -> str:
    return "1 sheet" if count == 1 else f"{count} sheets"


def _banding(estimate: Estimate) -> str:
    sentence = f"{estimate.decision.sentence}." if estimate.decision else "No edges to band."
    chosen_otherwise = estimate.banding.chosen.sent != estimate.banding.best.sent
    return f"{sentence} Chosen in Job > Banding, though not the best." if chosen_otherwise else sentence


def refused_words(outcome: Refused) -> str:
    """The refusal with every problem: where, found, expected, to mend."""
    problems = outcome.refusal.problems
    count = "1 problem" if len(problems) == 1 else f"{len(problems)} problems"
    head = _coloured(f"{outcome.path.name}: not priced, {count} to mend", _RED, stream=sys.stderr)
    remarks = [f"    remark  {remark}" for remark in outcome.refusal.remarks]
    return "\n\n".join([head, *(str(problem) for problem in problems), *(["\n".join(remarks)] if remarks else [])]) + "\n"


def broken_words(outcome: Broken) -> str:
    """What stopped a workbook that was nobody's wrong input."""
    if not outcome.ours:
        return f"{outcome.path.name}: no paper was written: {outcome.words}"
    return (
        f"{outcome.path.name}: no paper was written, through a fault of this program's own, not of your workbook.\n"
        f"Please send this to its makers:\n{outcome.trace or outcome.words}"
    )


def data_of(outcome: Outcome) -> dict[str, Any]:
    """An outcome as data: the estimate, or the problems."""
    match outcome:
        case Priced(estimate=estimate, as_data=written):
            return cast("dict[str, Any]", json.loads(written)) if written else estimate_data(estimate)
        case Refused(path=path, refusal=refusal):
            problems = [
                {"place": str(one.place), "found": one.found, "expected": one.expected, "mend": one.mend}
                for one in refusal.problems
            ]
            return {"job": {"workbook": path.name}, "outcome": "refused", "problems": problems}
        case Unchanged(path=path, folder=folder):
            return {"job": {"workbook": path.name}, "outcome": "unchanged", "papers": str(folder)}
        case Broken(path=path, words=words):
            return {"job": {"workbook": path.name}, "outcome": "fault", "words": words}


# --- what a run over a folder says at its end -------------------------------------------------------------------------


def not_priced_words(unpriced: Sequence[Refused | Broken], *, many: int) -> str:
    """Which workbooks of a run were not priced, after all that was said of them above; blank when there is none."""
    if not unpriced:
        return ""
    return f"Not priced, {len(unpriced)} of {many} jobs: {_listed([one.path.name for one in unpriced])}"


def no_price_book_words(unpriced: Sequence[Refused | Broken], folders: Sequence[Path]) -> str:
    """That a price book lies above jobs that have none beside them, which is where one is looked for; blank when there is none."""
    lone = [one.path for one in unpriced if not one.path.with_name(_SHOP).is_file()]
    for folder in folders:
        below = [path for path in lone if folder in path.parent.parents]
        if below and (folder / _SHOP).is_file():
            names = _listed([path.name for path in below])
            book = folder / _SHOP
            return f"{book} serves the jobs beside it only, not {names} further down. To use it for all: --shop {quoted(str(book))}"
    return ""


def repeated_words(quotes: Mapping[str, Sequence[str]]) -> str:
    """That a quote number stands on several jobs, by the names of their folders; blank when none does."""
    return "\n".join(
        f"Quote number {number} stands on {_listed(names)}: the register counts each of them" for number, names in quotes.items()
    )


def _listed(names: Sequence[str]) -> str:
    shown = list(names) if len(names) <= _MOST_NAMES else [*names[:_MOST_NAMES], f"{len(names) - _MOST_NAMES} more"]
    return shown[0] if len(shown) == 1 else f"{', '.join(shown[:-1])} and {shown[-1]}"


# --- what watching says -----------------------------------------------------------------------------------------------


def watching_words(folder: Path) -> str:
    return f"Watching {folder}: save a workbook and its job is priced. Ctrl-C ends."


def gone_words(path: Path) -> str:
    return f"{path.name} is gone or renamed; its papers stay where they are"


def moved(before: Mapping[str, Any], now: Mapping[str, Any], *, units: str) -> str:
    """What moved between two estimates of one job, in a sentence: money with the decimals of its currency, lengths as the shop measures.

    >>> one = {"job": {"currency": "EUR"}, "price": {"gross": "100.00"}, "cost": {"total": "70"}, "edgings": {"white": {"net_m": "3"}}}
    >>> moved(one, one, units="mm")
    'nothing has moved'
    >>> moved(one, {**one, "price": {"gross": "112.50"}, "edgings": {"white": {"net_m": "6.048"}}, "best": ["white"]}, units="inch")
    'moved: price +12.50, feet +10.0; best now: send white out'
    """
    currency = str((now.get("job") or {}).get("currency") or "")
    if (was := str((before.get("job") or {}).get("currency") or "")) != currency:
        return f"the job is in {currency} now, and was in {was}: the two prices cannot be compared"
    cents = minor_decimals(currency)
    name, length_m = ("feet", M_PER_FOOT) if units == "inch" else ("metres", Fraction(1))
    figures = (
        ("price", _number(before, "price", "gross"), _number(now, "price", "gross"), cents),
        ("cost", _number(before, "cost", "total"), _number(now, "cost", "total"), cents),
        ("sheets", _sum(before, "boards", "sheets"), _sum(now, "boards", "sheets"), 0),
        (name, _sum(before, "edgings", "net_m") / length_m, _sum(now, "edgings", "net_m") / length_m, 1),
        ("hours", _number(before, "minutes", "total") / 60, _number(now, "minutes", "total") / 60, 1),
    )
    steps = [(what, to_multiple(new - old, step=Fraction(1, 10**places)), places) for what, old, new, places in figures]
    words = [f"{what} {Decimal(step.numerator) / step.denominator:+.{places}f}" for what, step, places in steps if step]
    parts = [f"moved: {', '.join(words)}"] if words else []
    if (before.get("best") or []) != (now.get("best") or []):
        best = now.get("best") or []
        parts.append(f"best now: send {' and '.join(best)} out" if best else "best now: band everything here")
    return "; ".join(parts) or "nothing has moved"


def _number(data: Mapping[str, Any], part: str, name: str) -> Fraction:
    return Fraction(str((data.get(part) or {}).get(name) or 0))


def _sum(data: Mapping[str, Any], part: str, name: str) -> Fraction:
    return sum((Fraction(str(one.get(name) or 0)) for one in (data.get(part) or {}).values()), start=Fraction(0))


def open_elsewhere_words(paths: Iterable[Path]) -> str:
    """Which workbooks are open in a spreadsheet program, by the small file that it leaves beside them; nothing when none is."""
    locks = {path: (path.with_name(f"~${path.name}"), path.with_name(f".~lock.{path.name}#")) for path in paths}
    names = [path.name for path, beside in locks.items() if any(map(os.path.exists, beside))]  # a name may be too long for a longer one
    return f"Open in another program, so what was not saved there is left out: {', '.join(names)}" if names else ""
