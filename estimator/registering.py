"""The register after a run over a folder: the estimates that lie under --out in, register.xlsx and index.html beside them out.

It reads every estimate.json, so jobs of earlier runs and jobs that were left as they are stand in it too. What was refused is
told by the run. The same estimates and refusals give the same bytes.
"""

import re
from collections.abc import Iterable, Sequence
from datetime import date
from pathlib import Path
from typing import Any

from estimator.batch import Broken, Outcome, Refused
from estimator.papers.files import folder_name, kept, write_papers
from estimator.papers.register import NotRegistered, RefusedRow, RegisterRow, register_book, register_page, row_of

_ESTIMATE = "estimate.json"


def write_register(out: Path, outcomes: Iterable[Outcome]) -> tuple[Path, Sequence[RegisterRow]]:
    """Write both papers; where the page is, and the rows that stand in it."""
    rows, unreadable = rows_below(out)
    refused = (*refused_rows(outcomes, names={row.name for row in rows}), *unreadable)
    write_papers(out, {"register.xlsx": register_book(rows, refused), "index.html": register_page(rows, refused)})
    return out / "index.html", rows


def rows_below(out: Path) -> tuple[tuple[RegisterRow, ...], tuple[RefusedRow, ...]]:
    """The latest revision of every job, the newest quote first; and what cannot be read."""
    found: list[RegisterRow] = []
    unreadable: list[RefusedRow] = []
    for job in sorted(folder for folder in out.iterdir() if folder.is_dir() and _ours(folder)) if out.is_dir() else ():
        dated: list[tuple[date, list[tuple[bool, int, str]], RegisterRow]] = []
        for folder in sorted(one for one in job.iterdir() if _ours(one) and (one / _ESTIMATE).is_file()):
            try:
                row = _row(folder)
            except (OSError, ValueError, NotRegistered) as trouble:
                unreadable.append(RefusedRow(f"{job.name}/{folder.name}/{_ESTIMATE}", f"cannot be read: {trouble}", 1))
                continue
            dated.append((row.quote_date, natural(folder.name), row))
        if dated:
            found.append(_latest(sorted(dated, key=lambda one: one[:2])))
    return tuple(sorted(found, key=lambda row: (-row.quote_date.toordinal(), row.name))), tuple(unreadable)


def _latest(dated: Sequence[tuple[date, Any, RegisterRow]]) -> RegisterRow:
    from dataclasses import replace

    *before, (_, _, last) = dated
    return replace(last, earlier=tuple(row.revision_folder for _, _, row in before))


def _row(folder: Path) -> RegisterRow:
    data = kept(folder / _ESTIMATE)
    if not isinstance(data, dict):
        raise NotRegistered("no estimate stands in it")
    return row_of(
        data,
        name=folder.parent.name,
        revision_folder=folder.name,
        papers=tuple(sorted(file.name for file in folder.iterdir() if file.is_file() and _ours(file))),
    )


def natural(name: str) -> list[tuple[bool, int, str]]:
    """A key by which revision 10 stands behind revision 9.

    >>> sorted(["10", "9", "2b"], key=natural)
    ['2b', '9', '10']
    """
    pieces = re.split(r"(\d+)", name.casefold())
    return [(piece.isdecimal(), int(piece) if piece.isdecimal() else 0, piece) for piece in pieces if piece]


def _in_letters(words: str) -> str:
    """Words that can be written: a name on disk may hold what is no letter."""
    return words.encode("utf-8", "replace").decode("utf-8")


def _ours(path: Path) -> bool:
    """Whether a name is of letters, as all are that a run gives."""
    return path.name == _in_letters(path.name)


def refused_rows(outcomes: Iterable[Outcome], *, names: set[str]) -> tuple[RefusedRow, ...]:
    """What was not priced, in the order of the workbooks' names."""
    found: list[RefusedRow] = []
    for outcome in outcomes:
        stem = folder_name(outcome.path.stem)
        both = folder_name(f"{outcome.path.parent.name} {outcome.path.stem}")
        earlier = next((name for name in (both, stem) if name in names), "")
        match outcome:
            case Refused(path=path, refusal=refusal):
                first = refusal.problems[0] if refusal.problems else None
                why = f"{first.place}: found {first.found}; expected {first.expected}" if first else "not priced"
                found.append(RefusedRow(_in_letters(path.name), _in_letters(why), len(refusal.problems), earlier))
            case Broken(path=path, words=words):
                found.append(RefusedRow(_in_letters(path.name), _in_letters(words), 1, earlier))
            case _:
                pass
    return tuple(sorted(found, key=lambda one: (one.workbook, one.why)))
