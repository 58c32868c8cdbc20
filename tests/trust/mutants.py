"""Do the tests bite? A seed and a count go in; so many small faults, drawn from the whole of costing and reading, are planted one at a time.

`python -m tests.trust.mutants [--many 1000] [--seed 1] [--least 90] [FILES ...]` first notes which test reaches which line and how long it takes
(minutes; `--reach FILE` keeps that for another run of the same sources), then plants each fault in a forked process and runs the tests that reach its
line, the quickest first, until one fails. A fault outlives its tests when all of them pass; one that makes them run without end is caught.
Tests are those of TESTS without those that take longer than MOST_S, with eight random jobs of the second opinion instead of sixty, and of those that
reach a line only as many as take TOGETHER_S, then the pages that hold every sentence: a fault that only a slower test would see counts as not caught.

`surviving.csv` beside this file says of faults that outlived their tests why. Only those listed there as 'same behaviour' are left out of the count.
"""

from __future__ import annotations

import argparse
import csv
import gc
import importlib
import importlib.abc
import importlib.machinery
import json
import os
import random
import resource
import signal
import sys
import time
import traceback
from collections import Counter, defaultdict
from collections.abc import Callable, Iterator, Sequence
from pathlib import Path
from types import CodeType, FrameType, FunctionType
from typing import Any

import pytest

from tests.trust.mutating import Mutation, mutations_of, planted

HOUSE = Path(__file__).parents[2]
ROOMS = ("estimator/costing", "estimator/reading")
TESTS = (
    *ROOMS, "tests/costing", "tests/reading", "tests/published", "tests/gallery", "tests/test_against_oracle.py", "tests/test_comparing.py", "tests/test_learning.py",
    "tests/test_inches.py", "tests/test_weighing.py", "tests/test_explaining.py", "tests/papers/priced/test_every_column.py",
    "tests/test_properties.py", "tests/test_command.py", "tests/papers/test_every_figure.py", "tests/papers/priced/test_figures.py", "tests/trust/test_sly_names.py",
)  # fmt: skip
LISTED = Path(__file__).with_name("surviving.csv")
MOST_S = 5
"""For one test, by the processor, as measured while its lines are noted (which takes twice as long)."""
TOGETHER_S = 15
"""For the tests of one fault, measured likewise."""
OF_A_TABLE_S = 0.25
"""Cases of one test that take so long together are run before the next that do, so that other tests have their turn."""
PAGES, MOST_OF_A_PAGE_S, NO_TIME_S = "gallery", 40, 0.02
"""Tests of what is said, word for word; each is long, so they are asked last. Those that take no time find a page that another test had made."""
Fault = tuple[str, int, Mutation]
Reach = dict[str, Any]


def faults_of(files: Sequence[str]) -> list[Fault]:
    """Every fault that can be planted in the files: file, number, what it is."""
    return [(file, number, one) for file in files for number, one in enumerate(mutations_of((HOUSE / file).read_text()))]


def listed() -> dict[tuple[str, str], dict[str, str]]:
    """The faults that are known to outlive their tests, by file and name."""
    with LISTED.open(newline="") as rows:
        return {(row["file"], row["fault"]): row for row in csv.DictReader(rows)}


# in the process that has collected every test ---------------------------------------------------------------------------------------------


class Planter:
    """Part of pytest: instead of running the tests once, notes what they reach and runs some of them for each fault."""

    def __init__(self, faults: Sequence[Fault], *, reach: Path, told: Path, fresh: bool = False) -> None:
        self.faults, self.reach, self.told, self.fresh = faults, reach, told, fresh

    def pytest_runtestloop(self, session: pytest.Session) -> bool:
        items = {item.nodeid: item for item in session.items}
        noted: Reach = json.loads(self.reach.read_text()) if self.reach.exists() else {"seconds": {}, "lines": {}}
        new = [item for name, item in items.items() if name not in noted["seconds"]]
        if new:
            in_a_fork(lambda: note(new, noted, self.reach), seconds=36_000, telling=True)
            noted = json.loads(self.reach.read_text())
        for number, (file, which, fault) in enumerate(self.faults):
            names = [name for name in chosen(noted, file, fault) if name in items]
            if fault.function:
                began = time.monotonic()
                ended = in_a_fork(lambda: swapped(file, which) or run([items[name] for name in names]), seconds=allowed(noted, names)) if names else "not reached"  # noqa: B023
                with self.told.open("a") as told:
                    told.write(json.dumps([number, ended, round(time.monotonic() - began, 2), len(names)]) + "\n")
        return True


def note(items: Sequence[pytest.Item], noted: Reach, reach: Path) -> int:
    """Run each test once and keep which lines of the rooms it reached and its seconds of the processor; those that fail or take long are left out."""
    import coverage

    signal.signal(signal.SIGVTALRM, _too_slow)

    watching = coverage.Coverage(data_file=None, source=[str(HOUSE / room) for room in ROOMS], config_file=False)
    watching.start()
    for number, item in enumerate(items):
        watching.switch_context(str(number))
        began = time.process_time()
        signal.setitimer(signal.ITIMER_VIRTUAL, MOST_OF_A_PAGE_S if PAGES in item.nodeid else MOST_S, 0.1)
        passed = run([item], following=items[number + 1] if number + 1 < len(items) else None) == 0
        signal.setitimer(signal.ITIMER_VIRTUAL, 0)
        noted["seconds"][item.nodeid] = time.process_time() - began if passed else None
    watching.stop()
    data, places = watching.get_data(), {name: place for place, name in enumerate(noted["seconds"])}
    for file in data.measured_files():
        lines = noted["lines"].setdefault(str(Path(file).relative_to(HOUSE)), {})
        for line, contexts in data.contexts_by_lineno(file).items():
            lines.setdefault(str(line), []).extend(places[items[int(one)].nodeid] for one in contexts if one)
    reach.write_text(json.dumps(noted))
    return 0


def _too_slow(_: int, frame: FrameType | None) -> None:
    """Stops a test, but only in code of the program or its tests: coverage holds a lock, and pytest keeps an account, that must end whole."""
    while frame is not None and frame.f_code.co_filename != __file__ and "coverage" not in frame.f_code.co_filename:
        if frame.f_code.co_filename.startswith(str(HOUSE)):
            signal.setitimer(signal.ITIMER_VIRTUAL, 0)
            raise TimeoutError
        frame = frame.f_back


def chosen(noted: Reach, file: str, fault: Mutation) -> list[str]:
    """The tests for a fault, for one outside all functions those that reach anything in its file; the quickest first, but few of each table of cases."""
    lines, tests = noted["lines"].get(file, {}), list(noted["seconds"].items())
    reached = {place for line in (map(str, fault.lines) if fault.function else lines) for place in lines.get(line, ())}
    known = sorted((seconds, name) for name, seconds in (tests[place] for place in reached) if seconds is not None)
    turn, spent = {}, defaultdict[str, float](float)
    for seconds, name in known:
        turn[name] = spent[name.split("[")[0]] // OF_A_TABLE_S
        spent[name.split("[")[0]] += seconds
    quickest, together = [], 0.0
    for seconds, name in sorted(known, key=lambda one: (turn[one[1]], one[0])):
        together += seconds
        if quickest and together > TOGETHER_S:
            break
        quickest.append(name)
    pages = {name.split("[")[0] for _, name in known if PAGES in name}
    at_once = [name for name, seconds in tests if name.split("[")[0] in pages and seconds is not None and seconds < NO_TIME_S]
    return list(dict.fromkeys([*quickest, *(name for _, name in known if PAGES in name), *at_once]))


def allowed(noted: Reach, names: Sequence[str]) -> float:
    """Seconds of the processor after which tests are taken to run without end."""
    return 10 + 3 * sum(noted["seconds"][name] for name in names)


def run(items: Sequence[pytest.Item], *, following: pytest.Item | None = None) -> int:
    """Run tests until one fails: 1 then, else 0."""
    from _pytest.runner import runtestprotocol

    for item, then in zip(items, [*items[1:], following], strict=True):
        if any(report.failed for report in runtestprotocol(item, nextitem=then, log=False)):
            return 1
    return 0


def swapped(file: str, which: int) -> int:
    """Give every function of the file the code that it has with the fault planted."""
    path = str(HOUSE / file)
    codes = {(code.co_qualname, code.co_firstlineno): code for code in _codes(compile(planted((HOUSE / file).read_text(), which), path, "exec"))}  # type: ignore[arg-type]
    for function in [one for one in gc.get_objects() if isinstance(one, FunctionType) and one.__code__.co_filename == path]:
        function.__code__ = codes[function.__code__.co_qualname, function.__code__.co_firstlineno]
    return 0


def _codes(code: CodeType) -> Iterator[CodeType]:
    for one in code.co_consts:
        if isinstance(one, CodeType):
            yield one
            yield from _codes(one)


def in_a_fork(work: Callable[[], int], *, seconds: float, telling: bool = False) -> str:
    """How the work ended in a process of its own: 'outlived' (0), 'caught' (1, or an error), 'without end'."""
    sys.stdout.flush()
    child = os.fork()
    if not child:
        ended, said = 1, os.dup(2)
        try:
            nowhere = os.open(os.devnull, os.O_WRONLY)
            os.dup2(nowhere, 1)
            os.dup2(nowhere, 2)
            resource.setrlimit(resource.RLIMIT_CPU, (int(seconds) + 1, int(seconds) + 1))
            resource.setrlimit(resource.RLIMIT_AS, (4 << 30, 4 << 30))
            ended = work()
        except BaseException:
            if telling:
                os.write(said, traceback.format_exc().encode())
        os._exit(ended)
    _, status = os.waitpid(child, 0)
    return "without end" if os.WIFSIGNALED(status) else "outlived" if os.WEXITSTATUS(status) == 0 else "caught"


# in a process that has imported nothing of the program yet --------------------------------------------------------------------------------


class Spoilt(importlib.machinery.SourceFileLoader, importlib.abc.MetaPathFinder):
    """Imports one module with its fault, and every other as ever."""

    def __init__(self, file: str, which: int) -> None:
        super().__init__(file.removesuffix(".py").replace("/", ".").removesuffix(".__init__"), str(HOUSE / file))
        self.file, self.which = file, which

    def find_spec(self, name: str, path: object = None, target: object = None) -> importlib.machinery.ModuleSpec | None:  # type: ignore[override]
        return importlib.util.spec_from_file_location(name, self.path, loader=self) if name == self.name else None

    def get_code(self, fullname: str) -> CodeType:
        return compile(planted((HOUSE / self.file).read_text(), self.which), self.path, "exec")  # type: ignore[arg-type]


def pytest_on(names: Sequence[str], *plugins: object) -> int:
    """Run pytest inside this process, quietly, with the same chances each time."""
    from hypothesis import settings

    settings.register_profile("mutants", derandomize=True, database=None, deadline=None)
    settings.load_profile("mutants")
    os.environ["ORACLE_JOBS"] = "8"
    return int(pytest.main(["-x", "-q", "-s", "-p", "no:cacheprovider", "-p", "no:xdist", "--no-header", "--no-summary", "--tb=native", *names], plugins=list(plugins)))


def freshly(file: str, which: int, names: Sequence[str]) -> int:
    """Import everything anew with the fault, and run the tests. The spoilt module comes first: pytest would find the sound one by itself."""
    spoilt = Spoilt(file, which)
    sys.meta_path.insert(0, spoilt)
    importlib.import_module(spoilt.name)
    return min(1, pytest_on(names))


def ends_of(faults: Sequence[Fault], *, reach: Path, told: Path) -> list[str]:
    """How each fault ended, in their order."""
    told.write_text("")
    os.chdir(HOUSE)
    child = os.fork()
    if not child:
        os._exit(pytest_on(TESTS, Planter(faults, reach=reach, told=told)))
    os.waitpid(child, 0)
    ends = {number: ended for number, ended, *_ in map(json.loads, told.read_text().splitlines())}
    noted = json.loads(reach.read_text())
    for number, (file, which, fault) in enumerate(faults):
        if not fault.function:
            names = chosen(noted, file, fault)
            ends[number] = in_a_fork(lambda: freshly(file, which, names), seconds=20 + allowed(noted, names)) if names else "not reached"  # noqa: B023
    return [ends[number] for number in range(len(faults))]


# what is told -----------------------------------------------------------------------------------------------------------------------------


def between(caught: int, many: int) -> tuple[float, float]:
    """The interval that holds the true share in 95 of 100 samples, in percent (Wilson's)."""
    share, z = caught / many, 1.959964
    middle, half = share + z * z / (2 * many), z * (share * (1 - share) / many + z * z / (4 * many * many)) ** 0.5
    return tuple(100 * (middle + side * half) / (1 + z * z / many) for side in (-1, 1))  # type: ignore[return-value]


def tell(faults: Sequence[Fault], ends: Sequence[str]) -> float:
    """Print every fault that outlived its tests and the share that was caught, in percent, and give that share."""
    known, kinds, reasons = listed(), defaultdict[str, Counter[str]](Counter), Counter[str]()
    for (file, _, fault), ended in zip(faults, ends, strict=True):
        row = known.get((file, fault.name), {"reason": "", "why": ""})
        lived = ended in ("outlived", "not reached")
        kinds[fault.kind]["same" if lived and row["reason"] == "same behaviour" else "lived" if lived else "caught"] += 1
        if lived:
            reasons[row["reason"] or "not listed"] += 1
            print(f"{file}:{fault.line}  {fault.name}\n    {ended}; {row['reason'] or 'not listed'} {row['why']}")
    for kind, counts in sorted(kinds.items()):
        print(f"{kind:12} {counts['caught']:5} caught {counts['lived']:4} outlived {counts['same']:4} of the same behaviour")
    print("outlived:", ", ".join(f"{many} {reason}" for reason, many in reasons.most_common()) or "none")
    caught, same = (sum(counts[what] for counts in kinds.values()) for what in ("caught", "same"))
    many = len(faults) - same
    low, high = between(caught, many)
    print(f"caught {caught} of {many}: {100 * caught / many:.1f} % ({low:.1f} to {high:.1f}, 95 of 100 times)")
    return 100 * caught / many


def main(words: Sequence[str]) -> int:
    """Draw, plant, run, tell: 0 when at least the share asked for was caught."""
    asked = argparse.ArgumentParser()
    asked.add_argument("files", nargs="*")
    asked.add_argument("--many", type=int, default=1000)
    asked.add_argument("--seed", type=int, default=1)
    asked.add_argument("--least", type=float, default=90)
    asked.add_argument("--reach", type=Path, default=HOUSE / "reports" / f"reach-{os.getpid()}.json")
    asked.add_argument("--told", type=Path, default=HOUSE / "reports" / f"mutants-{os.getpid()}.txt")
    said = asked.parse_args(words)
    files = said.files or sorted(str(path.relative_to(HOUSE)) for room in ROOMS for path in (HOUSE / room).rglob("*.py"))
    every = faults_of(files)
    drawn = sorted(random.Random(said.seed).sample(range(len(every)), min(said.many, len(every))))
    faults = [every[number] for number in drawn]
    print(f"{len(faults)} of the {len(every)} faults that can be planted in {len(files)} files, seed {said.seed}", flush=True)
    return 0 if tell(faults, ends_of(faults, reach=said.reach, told=said.told)) >= said.least else 1


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
