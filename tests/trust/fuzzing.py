"""Spoilt workbooks priced through the command: no traceback, no fault of ours, nothing slow, nothing large.

`python -m tests.trust.fuzzing [--bytes 3000] [--xml 3000] [--content 4000] [--seed 1]` spoils a sound job in three ways, prices each one as
a shop would, papers and all, and prints a line for each kind. A spoilt workbook may be refused or priced; it may never end in exit code 3, take
more than 10 s, or bring the process above 512 MB. Each case comes from its own seed, so that one can be run again alone:
`--xml 1 --seed 4711`.
"""

from __future__ import annotations

import argparse
import contextlib
import io
import random
import re
import resource
import signal
import sys
import tempfile
import time
import zipfile
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from pathlib import Path

from openpyxl import load_workbook

from estimator.__main__ import main

HOUSE = Path(__file__).parents[2]
SOUND = (HOUSE / "workbooks" / "one-cabinet.xlsx", HOUSE / "workbooks" / "inch-job.xlsx")
MOST_S, MOST_MB = 10, 512
HANGS_TIMES = 20

HOSTILE_TEXTS = (
    "", " ", "\u00a0", "-", "=1+1", "=cmd|' /C calc'!A1", "+1", "@SUM(A1)", "1E400", "-1E400", "NaN", "inf", "9" * 400, "0.1", "1,5", "1.234,5", "'", '"', "<b>x</b>",
    "&amp;", "{{ 7 * 7 }}", "{% raise %}", "../../etc/passwd", "con", "\u202eabc", "😀" * 30, "ش" * 40, "x" * 40_000, "23 1/2", "3/0", "2' 6\"", "100 %", "101%", "-5 %", "yes",
    "#REF!", "width ** 99999", "9**9**9", "(" * 500, "width+" * 300 + "1", "if(1,2", "__import__('os')", "round_up(1/0)", "2031-02-30", "31.12.9999", "0", "-1", "1e-300", "\x0b", "a\nb",
)  # fmt: skip
"""What people and worse type into cells."""


@dataclass(slots=True)
class Tally:
    """What came of one kind of spoiling."""

    kind: str
    runs: int = 0
    priced: int = 0
    refused: int = 0
    slowest_s: float = 0
    slowest: int = 0
    faults: list[str] = field(default_factory=list)


def flipped(sound: bytes, chance: random.Random) -> bytes:
    """Some bytes of the file changed, or its end cut off."""
    content = bytearray(sound)
    for _ in range(chance.randint(1, 12)):
        content[chance.randrange(len(content))] = chance.randrange(256)
    return bytes(content[: chance.randint(1, len(content))] if chance.random() < 0.2 else content)


def other_xml(sound: bytes, chance: random.Random) -> bytes:
    """One or two parts of the package changed as text, and packed again so that the change is reached."""
    with zipfile.ZipFile(io.BytesIO(sound)) as archive:
        parts = {name: archive.read(name) for name in archive.namelist()}
    for _ in range(chance.randint(1, 2)):
        name = chance.choice([name for name in parts if name.endswith((".xml", ".rels"))])
        parts[name] = _changed(parts[name], chance)
    packed = io.BytesIO()
    with zipfile.ZipFile(packed, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, content in parts.items():
            archive.writestr(name, content)
    return packed.getvalue()


def _changed(content: bytes, chance: random.Random) -> bytes:
    at, to = sorted((chance.randrange(len(content) + 1), chance.randrange(len(content) + 1)))
    number = str(chance.choice((-1, 0, 2**31, 2**63, 10**30, "NaN", "1E400", ""))).encode()
    changes: tuple[Callable[[], bytes], ...] = (
        lambda: content[:at] + content[min(to, at + 200) :],
        lambda: content[:at] + content[at : at + 120] * chance.randint(2, 50) + content[at:],
        lambda: content.replace(b'"1"', b'"' + number + b'"', chance.randint(1, 5)),
        lambda: content.replace(b"<v>", b"<v>" + number, chance.randint(1, 30)),
        lambda: content.replace(b"</v>", b"e9</v>", chance.randint(1, 30)),
        lambda: content.replace(b't="s"', chance.choice((b't="n"', b't="b"', b't="e"', b't="d"', b"")), chance.randint(1, 30)),
        lambda: content.replace(b't="inlineStr"', chance.choice((b't="str"', b't="s"', b'')), chance.randint(1, 30)),
        lambda: content.replace(b"<row ", b'<row hidden="1" ', chance.randint(1, 30)),
        lambda: content.replace(b' r="', b' r="' + chance.choice((b"A", b"1", b"ZZZ", b"-")), chance.randint(1, 30)),
        lambda: content.replace(b"<c ", b"<!-- x --><c ", chance.randint(1, 30)),
        lambda: content.replace(b"<f>", b"<f t='shared' si='0'>", 5),
        lambda: content.replace(b"Target=\"", b"Target=\"../../", chance.randint(1, 3)),
        lambda: content.replace(b"http://", b"file:///etc/", 2),
        lambda: content.replace(b"UTF-8", chance.choice((b"UTF-16", b"latin-1", b"x-none")), 1),
        lambda: b'<!DOCTYPE a [<!ENTITY b "cccc">]>' + content,
        lambda: content + content,
        lambda: b"",
    )  # fmt: skip
    return chance.choice(changes)()


def other_content(sound: bytes, chance: random.Random) -> bytes:
    """Some cells typed over, rows and columns put in or taken out, sheets renamed: a whole workbook with wrong content."""
    book = load_workbook(io.BytesIO(sound))
    for _ in range(chance.randint(1, 8)):
        sheet = chance.choice(book.worksheets)
        row, column = chance.randint(1, min(60, sheet.max_row + 2)), chance.randint(1, min(20, sheet.max_column + 1))
        match chance.randrange(12):
            case 0:
                sheet.delete_rows(row)
            case 1:
                sheet.insert_rows(row)
            case 2:
                sheet.delete_cols(column)
            case 3:
                sheet.title = chance.choice(("Boards ", "boards", "Sheet1", "Cabinet", sheet.title[::-1]))[:31]
            case 4 if len(book.worksheets) > 1:
                book.remove(sheet)
            case 5:
                _typed(sheet, row, column, chance.choice((True, False, 0, -1, 1e300, 1e-9, 10**15, 0.5, 3.0000001)))
            case _:
                _typed(sheet, row, column, chance.choice(HOSTILE_TEXTS))
    saved = io.BytesIO()
    try:
        book.save(saved)
    except (AttributeError, ValueError, TypeError):  # openpyxl cannot write every book that it lets one make: then a sound one does
        return sound
    return saved.getvalue()


def _typed(sheet, row: int, column: int, value: object) -> None:
    """The value typed into a cell, where a workbook can hold it."""
    with contextlib.suppress(Exception):
        sheet.cell(row, column).value = value


SPOILERS: dict[str, Callable[[bytes, random.Random], bytes]] = {"bytes": flipped, "xml": other_xml, "content": other_content}


class TooSlow(BaseException):
    """No error that the program could take for one of its own."""


@contextlib.contextmanager
def no_longer_than(seconds: float) -> Iterator[None]:
    """TooSlow when what stands inside takes more of the processor, or many times as long by the clock: a busy machine is no fault."""

    def ring(*_: object) -> None:
        raise TooSlow(f"over {seconds} s")

    bells = ((signal.SIGPROF, signal.ITIMER_PROF, seconds), (signal.SIGALRM, signal.ITIMER_REAL, seconds * HANGS_TIMES))
    before = [signal.signal(bell, ring) for bell, _, _ in bells]
    for _, timer, after in bells:
        signal.setitimer(timer, after)
    try:
        yield
    finally:
        for (bell, timer, _), old in zip(bells, before, strict=True):
            signal.setitimer(timer, 0)
            signal.signal(bell, old)


def spoilt(kind: str, seed: int) -> bytes:
    """The workbook of one case."""
    chance = random.Random(f"{kind} {seed}")
    return SPOILERS[kind](chance.choice(SOUND).read_bytes(), chance)


def try_case(kind: str, seed: int, folder: Path, tally: Tally) -> None:
    """Price one spoilt workbook through the command, and note what came of it."""
    path = folder / "job.xlsx"
    path.write_bytes(spoilt(kind, seed))
    told = io.StringIO()
    start = time.process_time()
    code: object = None
    try:
        with no_longer_than(MOST_S), contextlib.redirect_stdout(told), contextlib.redirect_stderr(told):
            code = main(["price", str(path), "--out", str(folder / "reports")])
    except SystemExit as leaving:
        code = leaving.code
    except BaseException as wrong:
        tally.faults.append(f"{kind} {seed}: {type(wrong).__name__}: {wrong}")
    took = time.process_time() - start
    tally.runs += 1
    tally.priced += code == 0
    tally.refused += code == 1
    if took > tally.slowest_s:
        tally.slowest_s, tally.slowest = took, seed
    if code not in (0, 1, 2, None) or "Traceback" in told.getvalue():
        tally.faults.append(f"{kind} {seed}: exit code {code}: {told.getvalue()[-400:]}")
    if most_mb() > MOST_MB:
        tally.faults.append(f"{kind} {seed}: the process has grown to {most_mb():.0f} MB")


def most_mb() -> float:
    """The most memory that this program has held, in MB; on Linux without what the one that started it held, which `getrusage` goes on counting."""
    status = Path("/proc/self/status")
    if status.exists():
        return int(re.search(r"^VmHWM:\s*(\d+) kB", status.read_text(), re.MULTILINE)[1]) / 1000  # type: ignore[index]
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1000


def tried(kind: str, *, many: int, seed: int) -> Tally:
    """Many cases of one kind, one after another."""
    tally = Tally(kind)
    with tempfile.TemporaryDirectory() as folder:
        for number in range(seed, seed + many):
            try_case(kind, number, Path(folder), tally)
    return tally


def _words() -> argparse.Namespace:
    reader = argparse.ArgumentParser(description="Price spoilt workbooks; tell every fault.")
    for kind, many in (("bytes", 3000), ("xml", 3000), ("content", 4000)):
        reader.add_argument(f"--{kind}", type=int, default=None, help=f"how many ({many})")
    reader.add_argument("--seed", type=int, default=1)
    options = reader.parse_args()
    if options.bytes is None and options.xml is None and options.content is None:
        options.bytes, options.xml, options.content = 3000, 3000, 4000
    return options


if __name__ == "__main__":
    options = _words()
    failed = False
    for kind in SPOILERS:
        if not (many := getattr(options, kind)):
            continue
        tally = tried(kind, many=many, seed=options.seed)
        print(
            f"{kind:8} {tally.runs:5} cases: {tally.priced} priced, {tally.refused} refused, {len(tally.faults)} faults; "
            f"slowest {tally.slowest_s:.1f} s (seed {tally.slowest}); most memory {most_mb():.0f} MB",
            flush=True,
        )
        print("\n".join(tally.faults[:20]), end="\n" if tally.faults else "")
        failed = failed or bool(tally.faults)
    sys.exit(failed)
