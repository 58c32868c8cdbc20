"""Workbooks in, one outcome each: the only place where reading, costing and papers meet.

Each workbook is read, estimated, printed and written on its own; one that is refused or goes wrong never stops the next.
"""

from __future__ import annotations

import errno
import traceback
from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import ExitStack, nullcontext
from dataclasses import fields, is_dataclass, replace
from pathlib import Path
from typing import Any, cast

from estimator.beside import beside, packed, unpacked
from estimator.costing.estimate import Options, estimate_job, option_of, option_rows, problems_of
from estimator.job_files import FILLED_IN, job_paths, names_of_folders
from estimator.made_from import KEY, priced_before, prints_of, with_logo
from estimator.model.dataclass import dataclass
from estimator.model.problems import Place, Problem
from estimator.model.records import Job, OptionRow
from estimator.model.refusal import Refusal
from estimator.model.results import Estimate
from estimator.papers.at_hand import fetch_language, fetch_papers
from estimator.papers.estimate_json import estimate_text
from estimator.papers.files import folder_name
from estimator.reading.workbook import read_job
from estimator.sent import ESTIMATE, QUOTE, written_or_sent


@dataclass(frozen=True, slots=True)
class Priced:
    """A job with its estimate, and where its papers lie."""

    path: Path
    estimate: Estimate
    folder: Path | None
    notes: tuple[str, ...] = ()
    """What the papers had to say of themselves: a sheet that took another name, a letter that the font lacks."""
    as_data: bytes = b""
    """`estimate.json` as it was written."""


@dataclass(frozen=True, slots=True)
class Drawn:
    """A job with its papers by file name, before they are put away."""

    estimate: Estimate
    papers: dict[str, bytes]
    notes: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Unchanged:
    """A job whose papers were made from the very same workbook, price book, words and program: they are left as they are."""

    path: Path
    folder: Path
    gross: str
    currency: str


@dataclass(frozen=True, slots=True)
class Refused:
    path: Path
    refusal: Refusal


@dataclass(frozen=True, slots=True)
class Broken:
    """Our own fault, or a disk that would not take the papers: nothing was left half written."""

    path: Path
    words: str
    ours: bool
    trace: str = ""


Outcome = Priced | Unchanged | Refused | Broken
PAPERS = 5
"""How many papers a job has: quote, owner's, shop papers, filled-in workbook, estimate."""


def price_book(path: Path, *, shop: Path | None = None, alone: bool = False) -> Estimate | Refusal:
    """One workbook to its estimate; a refusal holds the problems of reading and of the engine together."""
    match read_job(path, shop=shop):
        case Refusal() as refusal:
            return _with_the_engines(refusal)
        case job if alone and job.options:
            return _with_options_beside(job)
        case job:
            return estimate_job(job)


def _with_options_beside(job: Job) -> Estimate | Refusal:
    """The estimate of a job that has the machine to itself: each of its options is priced beside it meanwhile."""
    rows = [getattr(job, field.name) for field in fields(job)]
    common = {id(row): row for some in rows for row in (some if isinstance(some, tuple) else (some,)) if is_dataclass(row)}
    with ExitStack() as cores:
        works = [cores.enter_context(beside(_option_packed(job, rows, common))) for rows in option_rows(job)]

        def fetched() -> Options:
            fetch_papers()  # while the others work
            fetch_language(code=job.terms.language, currency=job.terms.currency)
            return dict(cast("tuple[str, Any]", unpacked(work(), common=common)) for work in works)

        return estimate_job(job, options=fetched)


def _option_packed(job: Job, rows: tuple[OptionRow, ...], common: Mapping[int, object]) -> Callable[[], bytes]:
    return lambda: packed(option_of(job, rows), common=common)


def _with_the_engines(refusal: Refusal) -> Refusal:
    """The refusal with what the engine finds in the rows that could be read, so that all problems come in one run."""
    if refusal.readable is None:
        return refusal
    told = {str(problem.place) for problem in refusal.problems}
    more = tuple(problem for problem in problems_of(refusal.readable) if str(problem.place) not in told)
    return replace(refusal, problems=(*refusal.problems, *more))


def check_many(paths: Sequence[Path], *, shop: Path | None = None) -> Iterator[Outcome]:
    """Problems and remarks only; nothing is written."""
    for path in job_paths(paths):
        try:
            match price_book(path, shop=shop):
                case Refusal() as refusal:
                    yield Refused(path, refusal)
                case estimate:
                    problem = _takes_no_sheets(path)
                    yield Refused(path, Refusal(path.name, (problem,))) if problem else Priced(path, estimate, None)
        except Exception as fault:
            yield broken(path, fault)


def _takes_no_sheets(path: Path) -> Problem | None:
    """Why pricing could not put its sheets into this workbook, though it can be read; None where it can."""
    from estimator.papers.book import Refused as NotTaken
    from estimator.papers.book import open_users_book

    book = open_users_book(path.read_bytes())
    return _not_taken(path, book.reason) if isinstance(book, NotTaken) else None


def _not_taken(path: Path, reason: str) -> Problem:
    return Problem(Place(path.name), reason, "a workbook that result sheets can be added to", "save a copy of it and price that")


@dataclass(frozen=True, slots=True)
class Task:
    """One job to price, with where its papers go."""

    path: Path
    folder: Path
    shop: Path | None = None
    words: Path | None = None
    again: bool = True
    """Whether it is priced though nothing has changed since its papers were made."""
    alone: bool = False
    """Whether it has the machine to itself."""


def tasks_for(
    paths: Sequence[Path], *, out: Path, shop: Path | None = None, words: Path | None = None, again: bool = False
) -> list[Task]:
    """A task for every job workbook named, and for every one below the folders named; one that was named itself is always priced."""
    jobs = job_paths(paths, besides=out)
    named = {path for path in paths if not path.is_dir()}
    return [
        Task(path, out / name, shop, words, again=again or path in named, alone=len(jobs) == 1)
        for path, name in zip(jobs, names_of_folders(jobs), strict=True)
    ]


def price_many(paths: Sequence[Path], *, out: Path, shop: Path | None = None, words: Path | None = None) -> Iterator[Outcome]:
    """Every job workbook among the paths and below the folders, priced and printed one after another, changed or not."""
    for task in tasks_for(paths, out=out, shop=shop, words=words, again=True):
        yield do(task)


def do(task: Task) -> Outcome:
    """One task done here."""
    return price_and_write(
        task.path, folder=task.folder, shop=task.shop, words=task.words, again=task.again, alone=task.alone
    )


def price_and_write(
    path: Path, *, folder: Path, shop: Path | None = None, words: Path | None = None, again: bool = True, alone: bool = False
) -> Outcome:
    """One workbook to its papers in `folder`/revision; what was sent is never overwritten."""
    try:
        prints = prints_of(path, shop=shop, words=words)
        if not again and (before := unchanged(path, folder=folder, prints=prints)):
            return before
        match drawn(path, shop=shop, words=words, alone=alone, prints=prints):
            case Refused() as refused:
                return refused
            case made:
                return put_away(path, made, folder=folder)
    except Exception as fault:
        return broken(path, fault)


def unchanged(path: Path, *, folder: Path, prints: Mapping[str, str]) -> Unchanged | None:
    """The papers of a job where they were made from the very same files; None where it is to be priced."""
    if before := priced_before(folder, prints, beside=path.parent, papers=PAPERS):
        found, data = before
        return Unchanged(path, found, data["price"]["gross"], data["job"]["currency"])
    return None


def drawn(path: Path, *, shop: Path | None, words: Path | None, alone: bool, prints: Mapping[str, str]) -> Drawn | Refused:
    """One workbook to its papers, which lie nowhere yet."""
    match price_book(path, shop=shop, alone=alone):
        case Refusal() as refusal:
            return Refused(path, refusal)
        case estimate:
            pass
    if words and (wrong := _wrong_words(words, estimate)):
        return Refused(path, Refusal(path.name, wrong))
    made_from = with_logo(prints, estimate.job.terms.logo, beside=path.parent)
    match papers_of(estimate, path=path, shop=shop, words=words, alone=alone, made_from=made_from):
        case Problem() as problem:
            return Refused(path, Refusal(path.name, (problem,)))
        case papers, notes:
            return Drawn(estimate, papers, notes)


def _wrong_words(words: Path, estimate: Estimate) -> tuple[Problem, ...]:
    from estimator.papers.page.own_words import wrong_words

    return wrong_words(words, language_code=estimate.job.terms.language)


def put_away(path: Path, made: Drawn, *, folder: Path) -> Priced | Refused:
    """The papers into the folder of their revision, unless the client was sent others."""
    terms = made.estimate.job.terms
    target = folder / folder_name(terms.revision)
    if problem := written_or_sent(target, made.papers, revision_at=terms.at.place("Revision")):
        return Refused(path, Refusal(path.name, (problem,)))
    return Priced(path, made.estimate, target, made.notes, made.papers[ESTIMATE])


def broken(path: Path, fault: Exception) -> Broken:
    """What went wrong with one job, which stops no other."""
    if isinstance(fault, OSError):
        return Broken(path, f"{_what_the_disk_says(fault)}; the earlier papers are as they were", ours=False)
    return Broken(path, f"{type(fault).__name__}: {fault}", ours=True, trace=traceback.format_exc())


def _what_the_disk_says(fault: OSError) -> str:
    """What keeps a file from being written, and what to do about it where that is known."""
    where = f" ({fault.filename2 or fault.filename})" if fault.filename else ""
    if isinstance(fault, PermissionError):
        return f"a file may not be written{where}: it may be open in another program. Close it there, and run again"
    if fault.errno == errno.ENOSPC:
        return f"the disk is full{where}: make room on it, and run again"
    return f"{fault.strerror or fault}{where}"


def papers_of(
    estimate: Estimate,
    *,
    path: Path,
    shop: Path | None,
    words: Path | None,
    alone: bool = False,
    made_from: dict[str, str] | None = None,
) -> tuple[dict[str, bytes], tuple[str, ...]] | Problem:
    """Every paper of one job by file name, and what the papers have to say of themselves; or what keeps them from it.

    A job that is priced `alone` has the machine to itself: the papers for the shop and its owner are drawn beside the others.
    """
    from estimator.papers.book import Refused as NotTaken
    from estimator.papers.client_quote import quote_pdf
    from estimator.papers.owner_pages import owner_pdf
    from estimator.papers.page.phrases import BadWords
    from estimator.papers.priced_workbook import priced_book
    from estimator.papers.shop_papers import shop_pdf

    def drawn() -> bytes:
        return packed((shop_pdf(estimate, words=words), owner_pdf(estimate, words=words)), common={})

    shop_path = shop_book_of(estimate.job, path=path, shop=shop)
    with beside(drawn) if alone else nullcontext(drawn) as more_papers:
        book = priced_book(estimate, user_book=path.read_bytes(), shop_book=shop_path.read_bytes() if shop_path else None)
        if isinstance(book, NotTaken):
            return _not_taken(path, book.reason)
        try:
            quote = quote_pdf(estimate, words=words, beside=path.parent)
            shop_papers, owner = cast("tuple[bytes, bytes]", unpacked(more_papers(), common={}))
        except BadWords as bad:
            return bad.problem
        papers = {
            QUOTE: quote,
            "owner.pdf": owner,
            "shop.pdf": shop_papers,
            f"{FILLED_IN}{path.suffix.lower()}": book.book,
            ESTIMATE: estimate_text(estimate, **({KEY: made_from} if made_from else {})).encode("utf-8"),
        }
    return papers, (*book.remarks, *_notes_on_the_quote(estimate, beside=path.parent))


def _notes_on_the_quote(estimate: Estimate, *, beside: Path) -> Iterator[str]:
    """What the quote could not print as it stands in the workbook."""
    from estimator.papers.page.letters import missing_letters, not_joined
    from estimator.papers.quote.letterhead import logo_can_be_printed

    if letters := missing_letters(estimate):
        yield f"the quote's font lacks these letters and prints a box instead: {letters}"
    if letters := not_joined(estimate):
        yield f"the papers print these letters one by one, though their script joins them: {letters}"
    logo = estimate.job.terms.logo
    if logo and not logo_can_be_printed(logo, beside=beside):
        yield f"the logo {logo} is not a picture beside the workbook; its space stays blank"


def shop_book_of(job: Job, *, path: Path, shop: Path | None) -> Path | None:
    """The second book that the job was read from, if any of its sheets came from there."""
    second = shop or path.with_name("shop.xlsx")
    if not second.is_file() or second.samefile(path):
        return None
    books = {job.shop.at.workbook, *(row.at.workbook for rows in (job.boards, job.edgings, job.construction) for row in rows)}
    return second if books - {path.name} else None
