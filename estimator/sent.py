"""The papers of one revision in, into their folder: what its client was sent is never written again, and never made untrue."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

from estimator.made_from import KEY
from estimator.model.problems import Place, Problem
from estimator.papers.files import kept, write_papers

QUOTE, ESTIMATE = "quote.pdf", "estimate.json"


def written_or_sent(target: Path, papers: dict[str, bytes], *, revision_at: Place) -> Problem | None:
    """Write the papers; or say why they may not be: this revision went out, and the job has changed since."""
    sent = _sent(target)
    if sent and (problem := _sent_otherwise(sent, json.loads(papers[ESTIMATE]), revision_at=revision_at)):
        return problem
    stays = {QUOTE} if sent and (target / QUOTE).is_file() else set()
    write_papers(target, {name: content for name, content in papers.items() if name not in stays})
    return None


def _sent(target: Path) -> dict[str, Any] | None:
    """The estimate of this revision that the client was sent; None when there is none, or it was only asked for."""
    before = kept(target / ESTIMATE)
    try:
        sent = before["job"].get("status", "asked") != "asked"
    except (KeyError, TypeError, AttributeError):
        return None
    return before if sent else None


def _sent_otherwise(before: dict[str, Any], now: dict[str, Any], *, revision_at: Place) -> Problem | None:
    """A problem when what was sent has changed since; another Status is no change, nor is what a newer program tells besides."""
    status = before["job"].pop("status")
    before.pop(KEY, None)
    if _same(before, now):
        return None
    return Problem(
        revision_at,
        f"revision {now['job']['revision']}, which is {status} already; the job has changed since",
        "Revision: the next one, when a quote that went out is changed",
        "type the next revision; the papers of the old one stay as they are",
    )


def _same(before: Any, now: Any) -> bool:
    """Whether everything that was said before is still said."""
    if isinstance(before, dict) and isinstance(now, dict):
        return all(name in now and _same(value, now[name]) for name, value in before.items())
    if isinstance(before, list) and isinstance(now, list):
        return len(before) == len(now) and all(map(_same, before, now))
    return bool(before == now)
