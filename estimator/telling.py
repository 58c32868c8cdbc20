"""Outcomes as sentences for the terminal and as data for --json."""

import sys
from dataclasses import replace
from pathlib import Path
from typing import Any

from estimator.batch import Broken, Outcome, Priced, Refused, Unchanged
from estimator.model.dataclass import dataclass
from estimator.model.exact import Fraction
from estimator.model.results import Estimate
from estimator.model.units import money_text, run_words
from estimator.papers.estimate_json import estimate_data

PRICED, REFUSED, WRONG_WORDS, OUR_FAULT = 0, 1, 2, 3
"""Exit codes."""

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
    lines += [f"    remark  {remark}" for remark in estimate.remarks]
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
        case Priced(estimate=estimate):
            return estimate_data(estimate)
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
