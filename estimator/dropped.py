"""What was dropped onto a launcher, in; its papers and a plain sentence, out. Run by the launchers that `estimator start` writes.

    python -m estimator.dropped FOLDER [WORKBOOK ...]

FOLDER is where the launcher lies: its shop.xlsx is the price book, and the papers go into its `reports`. Where nothing was
dropped, the window asks for a name: a workbook may be dragged into it. Windows hands the whole command line over as it is, in
ESTIMATOR_DROPPED, because a name with & in it would otherwise be cut in two.
"""

from __future__ import annotations

import os
import re
import shlex
import sys
from collections.abc import Mapping, Sequence
from pathlib import Path

from estimator.__main__ import main as estimator

_AFTER_THE_LAUNCHER = re.compile(r'\.cmd"?(.*)$', re.IGNORECASE | re.DOTALL)
_WORD = re.compile(r'"([^"]*)"|(\S+)')


def dropped_on_windows(line: str) -> list[str]:
    """The names in the command line of a Windows launcher; a name with a blank stands between quotes there.

    >>> dropped_on_windows(r'cmd.exe /c ""C:\\Jo\\price a workbook.cmd" C:\\A&B.xlsx "C:\\my jobs\\Müller & Söhne.xlsx""')
    ['C:\\\\A&B.xlsx', 'C:\\\\my jobs\\\\Müller & Söhne.xlsx']
    >>> dropped_on_windows(r'cmd.exe /c ""C:\\Jo\\price a workbook.cmd" "')
    []
    """
    found = _AFTER_THE_LAUNCHER.search(line)
    if not found:
        return []
    rest = found[1].strip()
    if rest.count('"') % 2:
        rest = rest[: rest.rindex('"')]
    return [quoted or bare for quoted, bare in _WORD.findall(rest)]


def typed_into_the_window(line: str, *, windows: bool) -> list[str]:
    """The names in a line that was typed or dragged into a window: quoted, or with \\ before blanks as a Mac writes them.

    >>> typed_into_the_window("/Users/jo/first\\\\ job\\\\ \\\\&\\\\ more.xlsx ", windows=False)
    ['/Users/jo/first job & more.xlsx']
    >>> typed_into_the_window('"C:\\\\my jobs\\\\a.xlsx"', windows=True)
    ['C:\\\\my jobs\\\\a.xlsx']
    """
    line = line.strip()
    if not line or os.path.exists(line):
        return [line] if line else []
    if windows:
        return [quoted or bare for quoted, bare in _WORD.findall(line)]
    try:
        return shlex.split(line)
    except ValueError:  # a quote that is never closed, such as an apostrophe typed by hand
        return [line]


def _asked(folder: Path) -> list[str]:
    jobs = sorted(path.name for path in folder.glob("*.xls[xm]") if path.name != "shop.xlsx" and not path.name.startswith("~$"))
    print("Which workbook is to be priced? Drag it into this window, or type its name, and press Enter.")
    if jobs:
        print(f"In this folder: {', '.join(jobs)}")
    try:
        names = typed_into_the_window(input("> "), windows=os.name == "nt")
    except EOFError:
        return []
    return [name if Path(name).is_absolute() else str(folder / name) for name in names]


def main(words: Sequence[str], environment: Mapping[str, str]) -> int:
    """Price what was dropped, with the launcher's own price book, and give the exit code."""
    folder = Path(words[0]).resolve()
    names = [*words[1:]] or dropped_on_windows(environment.get("ESTIMATOR_DROPPED", "")) or _asked(folder)
    if not names:
        print("Nothing was named, so nothing was priced.")
        return 2
    shop = folder / "shop.xlsx"
    further = ["--shop", str(shop)] if shop.is_file() else []
    return estimator(["price", *further, "--out", str(folder / "reports"), "--", *names])


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:], os.environ))
