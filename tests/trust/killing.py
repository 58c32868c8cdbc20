"""A folder's run killed over and over, and two runs at once: no file under its final name is ever cut short, and the end is as if nothing had been.

`python -m tests.trust.killing [--jobs 50] [--kills 200] [--seed 1] [--at-once 3]` makes a folder of small jobs, kills the command at chance moments, looks at every
file after each kill, lets it run to its end and compares all bytes with an undisturbed run in another folder. Then it starts several runs at once
on one folder and compares again. Exit code 1 when anything is cut short, lost or different.
"""

from __future__ import annotations

import argparse
import contextlib
import json
import os
import random
import shutil
import subprocess
import sys
import tempfile
import time
import zipfile
from pathlib import Path

from openpyxl import load_workbook

from estimator.papers.files import PASSING

HOUSE = Path(__file__).parents[2]


def make_jobs(folder: Path, many: int) -> None:
    """So many jobs of one cabinet each, no two alike."""
    folder.mkdir(parents=True)
    book = load_workbook(HOUSE / "workbooks" / "one-cabinet.xlsx")
    for number in range(many):
        book["Cabinets"]["E2"] = 400 + number
        book.save(folder / f"job {number:03}.xlsx")


def started(folder: Path, out: Path) -> subprocess.Popen[bytes]:
    """The command as a process of its own group, so that its workers die with it."""
    return subprocess.Popen(
        [sys.executable, "-m", "estimator", "price", str(folder), "--out", str(out)],
        stdout=subprocess.DEVNULL, stderr=subprocess.PIPE, start_new_session=True, cwd=folder.parent,
        env={**os.environ, "PYTHONPATH": str(HOUSE)},
    )  # fmt: skip


def cut_short(out: Path) -> list[str]:
    """Files under a final name that are not whole."""
    return [str(path.relative_to(out)) for path in out.rglob("*") if path.is_file() and PASSING not in path.name and not is_whole(path)]


def is_whole(path: Path) -> bool:
    """Whether a paper is one from its first byte to its last."""
    content = path.read_bytes()
    match path.suffix:
        case ".pdf":
            return content.startswith(b"%PDF-") and content.rstrip().endswith(b"%%EOF")
        case ".xlsx":
            return zipfile.is_zipfile(path) and zipfile.ZipFile(path).testzip() is None
        case ".json":
            try:
                return isinstance(json.loads(content), dict)
            except ValueError:
                return False
        case ".html":
            return content.rstrip().endswith(b"</html>")
    return False


def papers(out: Path) -> dict[str, bytes]:
    return {str(path.relative_to(out)): path.read_bytes() for path in sorted(out.rglob("*")) if path.is_file()}


def undisturbed(folder: Path, out: Path) -> dict[str, bytes]:
    run = started(folder, out)
    _, errors = run.communicate()
    if run.returncode:
        raise SystemExit(f"the undisturbed run ended with {run.returncode}: {errors.decode(errors='replace')}")
    return papers(out)


def killed_run(folder: Path, out: Path, *, kills: int, whole_s: float, chance: random.Random) -> tuple[list[str], int]:
    """What went wrong while the run was killed so often at its work, and how often it was started for that: some runs end before they are killed."""
    wrong: list[str] = []
    met, starts, had = 0, 0, set[str]()
    jobs = len(list(folder.glob("*.xlsx")))
    while met < kills:
        done = sorted(out.rglob("estimate.json"))
        if len(done) > jobs * 3 // 4:  # half of the papers are taken away again, so that there is always something left to do
            for gone in chance.sample(done, k=jobs // 2):
                shutil.rmtree(gone.parent)
                had = {name for name in had if not name.startswith(str(gone.parent.relative_to(out)))}
            done = sorted(out.rglob("estimate.json"))
        run, starts = started(folder, out), starts + 1
        time.sleep(chance.uniform(0.05, whole_s * (1.1 - len(done) / jobs)))
        met += run.poll() is None
        with contextlib.suppress(ProcessLookupError):
            os.killpg(run.pid, 9)
        run.communicate()
        wrong += [f"kill {met}: {name} is cut short" for name in cut_short(out)] if out.is_dir() else []
        has = {name for name in papers(out) if PASSING not in name} if out.is_dir() else set()
        wrong += [f"kill {met}: {name} is lost" for name in had - has]
        had = has
    return wrong, starts


def differences(one: dict[str, bytes], other: dict[str, bytes]) -> list[str]:
    return [f"{name} differs" for name in sorted(one.keys() | other.keys()) if one.get(name) != other.get(name)]


def judged(*, jobs: int, kills: int, at_once: int, seed: int, place: Path) -> tuple[list[str], str]:
    """Everything that went wrong, and a line that says what was done."""
    folder = place / "jobs"
    make_jobs(folder, jobs)
    start = time.perf_counter()
    expected = undisturbed(folder, place / "undisturbed")
    whole_s = time.perf_counter() - start
    wrong, starts = killed_run(folder, place / "killed", kills=kills, whole_s=whole_s, chance=random.Random(seed))
    wrong += [f"after {kills} kills: {one}" for one in differences(expected, undisturbed(folder, place / "killed"))]
    runs = [started(folder, place / "together") for _ in range(at_once)]
    for run in runs:
        _, errors = run.communicate(timeout=60 + 20 * whole_s * at_once)
        wrong += [f"at once: exit code {run.returncode}: {errors.decode(errors='replace')[:300]}"] if run.returncode else []
    wrong += [f"{at_once} at once: {one}" for one in differences(expected, papers(place / "together"))]
    return wrong, f"{jobs} jobs, {kills} kills at work in {starts} runs, {at_once} runs at once, {len(expected)} files compared"


if __name__ == "__main__":
    reader = argparse.ArgumentParser(description="Kill a folder's run over and over, and start several at once.")
    reader.add_argument("--jobs", type=int, default=50)
    reader.add_argument("--kills", type=int, default=200)
    reader.add_argument("--at-once", type=int, default=3)
    reader.add_argument("--seed", type=int, default=1)
    options = reader.parse_args()
    with tempfile.TemporaryDirectory() as place:
        wrong, done = judged(
            jobs=options.jobs, kills=options.kills, at_once=options.at_once, seed=options.seed, place=Path(place)
        )
    print("\n".join([*wrong[:30], f"{done}: {len(wrong)} wrong"]))
    sys.exit(bool(wrong))
