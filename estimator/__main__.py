"""The words typed at the prompt in, sentences and an exit code out; no arithmetic.

Exit codes: 0 priced, 1 some workbook refused, 2 wrong words at the prompt, 3 our own fault.
"""

from __future__ import annotations

import argparse
import contextlib
import gc
import json
import os
import re
import sys
from collections.abc import Iterable, Iterator, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from estimator.commands import commands
from estimator.prompting import not_there, quoted
from estimator.questions import OPTIONS

if TYPE_CHECKING:
    from estimator.batch import Broken, Refused
    from estimator.telling import Told

PRICED, REFUSED, WRONG_WORDS, OUR_FAULT = 0, 1, 2, 3
_ORDERS = re.compile("[\x00-\x08\x0b-\x1a\x1c-\x1f\x7f-\x84\x86-\x9f\u202a-\u202e\u2066-\u2069]|\x1b(?!\\[(?:0|1|31)?m)")
"""Signs that a terminal obeys, but for our own colours: the name of a file may hold them."""
STOPPED = 130
"""What shells say of a command that was ended with Ctrl-C."""


def main(words: Sequence[str] | None = None) -> int:
    """Run one command and give its exit code."""
    _speak_utf8()
    gc.set_threshold(200_000, 20, 50)  # little of ours runs in circles: looking for it often took a tenth of the time
    options = commands().read(words)
    match options.command:
        case "start":
            return _start(options)
        case "blank":
            return _blank(Path(options.file), units=options.units)
        case "check":
            return _check([Path(path) for path in options.files], shop=_path(options.shop))
        case "explain":
            return _explain(Path(options.file), " ".join(options.ref), shop=_path(options.shop), as_json=options.json)
        case "learn":
            return _learn(options)
        case "watch":
            return _watch(options)
        case "compare":
            return _compare(options)
        case _:
            return _price(options)


def _path(text: str | None) -> Path | None:
    return Path(text) if text else None


def _start(options: argparse.Namespace) -> int:
    from datetime import date

    from estimator.starting import start

    typed = {option: getattr(options, option.replace("-", "_")) for option in OPTIONS}
    given = {option: answer.encode("utf-8", "replace").decode("utf-8") for option, answer in typed.items() if answer is not None}
    asks = input if sys.stdin.isatty() else None
    return start(Path(options.folder), given, ask=asks, say=_say, today=date.today())


def _blank(path: Path, *, units: str) -> int:
    from estimator.blank import write_blank

    code, words = write_blank(path, units=units)
    _say(words, to_errors=code != PRICED)
    return code


def _check(paths: list[Path], *, shop: Path | None) -> int:
    from estimator.batch import check_many
    from estimator.telling import open_elsewhere_words, told

    if missing := _missing(paths, shop):
        return missing
    seen: list[Path] = []

    def outcomes() -> Iterator[Told]:
        for outcome in check_many(paths, shop=shop):
            seen.append(outcome.path)
            yield told(outcome, papers=False, as_json=False)

    code = _told(outcomes(), as_json=False)
    _say_each(open_elsewhere_words(seen))
    return code


def _explain(path: Path, ref: str, *, shop: Path | None, as_json: bool) -> int:
    from estimator.batch import Priced, check_many
    from estimator.explaining import explained, explained_data, lines_called, no_such_ref
    from estimator.telling import told

    if missing := _missing([path], shop):
        return missing
    for outcome in check_many([path], shop=shop):
        if not isinstance(outcome, Priced):
            return _told([told(outcome, papers=False, as_json=as_json)], as_json=as_json)
        lines = lines_called(outcome.estimate, ref)
        if not lines:
            _say(no_such_ref(outcome.estimate, ref), to_errors=True)
            return WRONG_WORDS
        if as_json:
            _say(json.dumps(explained_data(outcome.estimate, lines), ensure_ascii=False, indent=1))
        else:
            _say("\n\n".join(explained(outcome.estimate, line) for line in lines))
    return PRICED


def _price(options: argparse.Namespace) -> int:
    from estimator.batch import tasks_for
    from estimator.folder import left_alone, price_folder
    from estimator.telling import no_price_book_words, not_priced_words, open_elsewhere_words

    paths, shop, words = [Path(path) for path in options.files], _path(options.shop), _path(options.words)
    out = Path(options.out)
    if out.is_file():
        _say(f"--out must name a folder, and {options.out} is a file. Name another folder, or leave --out away", to_errors=True)
        return WRONG_WORDS
    if missing := _missing([*paths, *([words] if words else [])], shop) or _no_folder(words):
        return missing
    tasks = tasks_for(paths, out=out, shop=shop, words=words, again=options.again or options.json)
    if options.on:
        from estimator.cluster import NoCluster, price_elsewhere

        try:
            outcomes = price_elsewhere(tasks, options.on, as_json=options.json)
        except NoCluster as why:
            _say(str(why), to_errors=True)
            return WRONG_WORDS
    else:
        outcomes = price_folder(tasks, as_json=options.json, workers=options.workers)
    if not any(path.is_dir() for path in paths):
        code = _told(outcomes, as_json=options.json)
        if not options.json:
            _say_each(open_elsewhere_words(paths))
        return code
    if len(tasks) > 1 and sys.stderr.isatty():
        from estimator.progress import with_bar

        outcomes = with_bar(outcomes, many=len(tasks))
    kept: list[Refused | Broken] = []
    code = _told(_keeping(outcomes, kept), as_json=options.json)
    if not options.json:
        _say_each(
            open_elsewhere_words(task.path for task in tasks),
            left_alone(paths, besides=out),
            not_priced_words(kept, many=len(tasks)),
            "" if shop else no_price_book_words(kept, [path for path in paths if path.is_dir()]),
        )
    return max(code, _register(out, kept, quiet=options.json))


def _keeping(outcomes: Iterable[Told], kept: list[Refused | Broken]) -> Iterator[Told]:
    """The outcomes as they come; those that wrote no papers are kept for the register."""
    for outcome in outcomes:
        if outcome.unpriced:
            kept.append(outcome.unpriced)
        yield outcome


def _register(out: Path, kept: list[Refused | Broken], *, quiet: bool) -> int:
    """The register over everything that lies under --out, after a run over a folder."""
    from estimator.papers.register import repeated_quotes
    from estimator.registering import write_register
    from estimator.telling import repeated_words
    from estimator.weighing import machine_words

    try:
        page, rows = write_register(out, kept)
    except OSError as trouble:
        _say(f"the register could not be written: {trouble.strerror}; the earlier one is as it was", to_errors=True)
        return REFUSED
    if not quiet:
        _say_each(
            repeated_words(repeated_quotes(rows)),
            f"Register of {len(rows)} {'job' if len(rows) == 1 else 'jobs'}: {page}",
            machine_words(rows),
        )
    return PRICED


def _compare(options: argparse.Namespace) -> int:
    old, new, shop, words = Path(options.old), Path(options.new), _path(options.shop), _path(options.words)
    if missing := _missing([old, new, *([words] if words else [])], shop) or _no_folder(words):
        return missing
    from estimator.comparing import run

    return run(
        old, new, shop=shop, out=Path(options.out), words=words, order=options.change_order, as_json=options.json, say=_say
    )


def _watch(options: argparse.Namespace) -> int:
    from estimator.watching import watch

    folder, shop, words = Path(options.folder), _path(options.shop), _path(options.words)
    if missing := _missing([folder, *([words] if words else [])], shop) or _no_folder(words):
        return missing
    if not folder.is_dir():
        _say(_a_folder_please(folder, "watch"), to_errors=True)
        return WRONG_WORDS
    watch(folder, out=Path(options.out), shop=shop, words=words, say=_say)
    _say("No longer watching.")
    return PRICED


def _learn(options: argparse.Namespace) -> int:
    from datetime import date

    folder, shop = Path(options.folder), _path(options.shop)
    if missing := _missing([folder], shop):
        return missing
    if not folder.is_dir():
        _say(_a_folder_please(folder, "learn"), to_errors=True)
        return WRONG_WORDS
    try:
        day = date.fromisoformat(options.date) if options.date else None
    except ValueError:
        _say(f"{options.date} is no date; type it as in 2031-07-01", to_errors=True)
        return WRONG_WORDS
    from estimator.lessons import run

    return run(folder, shop=shop, out=Path(options.out), write=options.write, day=day, as_json=options.json, say=_say)


def _a_folder_please(path: Path, command: str) -> str:
    return f"{path} is a file, and {command} wants the folder in which it lies: estimator {command} {quoted(str(path.parent))}"


def _missing(paths: list[Path], shop: Path | None) -> int:
    there = os.path.exists  # a name too long for this computer is not there
    if len(paths) > 1 and not there(paths[0]) and there(whole := " ".join(map(str, paths))):
        _say(f"a name with a blank in it stands between quotes: {quoted(whole)}", to_errors=True)
        return WRONG_WORDS
    for path in (*paths, *([shop] if shop else [])):
        if not there(path):
            _say(not_there(path), to_errors=True)
            return WRONG_WORDS
    return 0


def _no_folder(words: Path | None) -> int:
    """Wrong words where --words names a file: its sentences would be passed over unsaid."""
    if words is None or not words.is_file():
        return 0
    _say(f"--words must name a folder, and {words} is a file. Name the folder in which your sentences lie", to_errors=True)
    return WRONG_WORDS


def _told(outcomes: Iterable[Told], *, as_json: bool) -> int:
    """Tell every outcome as it comes, and the exit code that they add up to."""
    code, data, count = PRICED, [], 0
    for outcome in outcomes:
        count += 1
        code = max(code, outcome.code)
        if outcome.data is not None:
            data.append(outcome.data)
        if outcome.words:
            _say(outcome.words, to_errors=outcome.code != PRICED)
    if as_json:
        print(json.dumps(data[0] if len(data) == 1 else data, ensure_ascii=False, indent=1))
    elif not count:
        _say("there is no job workbook here: a job has the sheets Job and Cabinets. To make one: estimator start my-shop", to_errors=True)
        return REFUSED
    return code


def _say(words: str, *, to_errors: bool = False) -> None:
    print(_ORDERS.sub("?", words), file=sys.stderr if to_errors else sys.stdout, flush=True)


def _say_each(*sentences: str) -> None:
    """What there is to say; a blank is nothing."""
    for words in filter(None, sentences):
        _say(words)


def _speak_utf8() -> None:
    """A name with an accent must not stop a run on a terminal of another alphabet."""
    for name, mode in (("stdin", "r"), ("stdout", "w"), ("stderr", "w")):
        if getattr(sys, name) is None:  # closed: the next file to be opened would get its number, and what is said be written there
            setattr(sys, name, os.fdopen(os.open(os.devnull, os.O_RDWR), mode, encoding="utf-8"))
    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(encoding="utf-8", errors="replace")


def run() -> None:
    """The command as a process: a reader that goes away in the middle, such as `head`, is no fault.

    The process ends at once when all is said: its files are written and its workers gone, and tidying up memory that the system takes
    back anyway took a tenth of a cold run.
    """
    code = PRICED
    try:
        code = main()
    except SystemExit as leaving:
        code = leaving.code if isinstance(leaving.code, int) else WRONG_WORDS
    except BrokenPipeError:
        sys.stdout = None  # nobody reads what is left to say
    except KeyboardInterrupt:
        code = STOPPED
        _last_words("Stopped. Each job's papers are whole, or as they were.")
    except OSError as trouble:
        code = REFUSED
        _last_words(f"{trouble.strerror or trouble}{f': {trouble.filename}' if trouble.filename else ''}. Nothing was left half written")
    except Exception:
        import traceback

        code = OUR_FAULT
        _last_words(f"a fault of this program's own, not of your workbook. Please send this to its makers:\n{traceback.format_exc()}")
    for stream in (sys.stdout, sys.stderr):
        if stream:
            with contextlib.suppress(OSError):
                stream.flush()
    os._exit(code)


def _last_words(words: str) -> None:
    with contextlib.suppress(OSError, ValueError):  # the place to say it may be what is gone
        _say(words, to_errors=True)


if __name__ == "__main__":
    run()
