"""What the program asks of the system while it prices a job: `python -m tests.trust.system_calls [WORKBOOK]`, on Linux with strace.

Prints every connection to a network and every file that is opened for writing, renamed or removed outside the folder of the papers.
There may be none. Exit code 1 when there is one.
"""

from __future__ import annotations

import os
import re
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Sequence
from pathlib import Path

HOUSE = Path(__file__).parents[2]
_WATCHED = "trace=%network,open,openat,creat,unlink,unlinkat,rename,renameat,renameat2,mkdir,mkdirat,rmdir,truncate,chmod,link,symlink"
_WRITING = re.compile(r"O_WRONLY|O_RDWR|O_CREAT|O_TRUNC|O_APPEND")
_QUOTED = re.compile(r'"((?:[^"\\]|\\.)*)"')
_HARMLESS = ("/dev/null", "/dev/tty")


def unwanted_calls(trace: Sequence[str], *, inside: Path, cwd: Path) -> list[str]:
    """The calls of a trace that reach a network, or change a file outside a folder."""
    unwanted = []
    for line in trace:
        call = re.sub(r"^\d+\s+", "", line)
        name = call.split("(", 1)[0]
        if " = -1 E" in call and name not in ("connect", "sendto", "socket"):
            continue  # what the system refused changed nothing
        if name in ("socket", "connect", "sendto", "bind", "listen", "accept", "accept4"):
            if "AF_UNIX" not in call and "AF_" in call:
                unwanted.append(call)
            continue
        if name in ("open", "openat") and not _WRITING.search(call):
            continue
        if name in ("open", "openat", "creat", "unlink", "unlinkat", "rename", "renameat", "renameat2", "mkdir", "mkdirat", "rmdir", "truncate",
                    "chmod", "link", "symlink"):  # fmt: skip
            paths = [(cwd / path).resolve() for path in _QUOTED.findall(call)]
            if any(str(path) not in _HARMLESS and path != inside and inside not in path.parents for path in paths):
                unwanted.append(call)
    return unwanted


def traced(words: Sequence[str], *, cwd: Path, trace: Path) -> list[str]:
    """The watched calls of one command, its children included."""
    command = ["strace", "-f", "-qq", "-s", "4096", "-e", _WATCHED, "-o", str(trace), sys.executable, *words]
    subprocess.run(command, cwd=cwd, capture_output=True, env={**os.environ, "PYTHONPATH": str(HOUSE), "PYTHONDONTWRITEBYTECODE": "1"})
    return trace.read_text(encoding="utf-8", errors="replace").splitlines()


def watched_pricing(workbook: Path, folder: Path) -> tuple[list[str], list[str]]:
    """All watched calls of pricing one workbook, and those that nobody wants."""
    shutil.copy(workbook, folder / workbook.name)
    shutil.copy(HOUSE / "workbooks" / "shop.xlsx", folder / "shop.xlsx")
    out = folder / "papers"
    calls = traced(
        ["-m", "estimator", "price", workbook.name, "--out", str(out)], cwd=folder, trace=folder.parent / f"{folder.name}.trace"
    )
    return calls, unwanted_calls(calls, inside=out.resolve(), cwd=folder)


if __name__ == "__main__":
    with tempfile.TemporaryDirectory() as place:
        folder = Path(place) / "job"
        folder.mkdir()
        calls, unwanted = watched_pricing(Path(sys.argv[1]) if len(sys.argv) > 1 else HOUSE / "workbooks" / "kitchen.xlsx", folder)
    print("\n".join(unwanted) + "\n" if unwanted else "", end="")
    print(f"{len(calls)} calls watched, {len(unwanted)} reach a network or change a file outside the folder of the papers")
    sys.exit(bool(unwanted) or not calls)
