"""Workbooks in, the same workbooks worked out anew by an independent spreadsheet program out."""

from __future__ import annotations

import shutil
import subprocess
import tempfile
from collections.abc import Sequence
from pathlib import Path

MOST_FILES_A_CALL = 50
ALWAYS_ANEW = (
    '<?xml version="1.0" encoding="UTF-8"?>\n<oor:items xmlns:oor="http://openoffice.org/2001/registry" '
    'xmlns:xs="http://www.w3.org/2001/XMLSchema" xmlns:xsi="http://www.w3.org/2001/XMLSchema-instance">'
    '<item oor:path="/org.openoffice.Office.Calc/Formula/Load">'
    '<prop oor:name="OOXMLRecalcMode" oor:op="fuse"><value>0</value></prop></item>'
    "</oor:items>"
)
"""A fresh profile that works out every formula anew when a workbook is opened; without it the answers in the file are trusted."""


def libreoffice() -> str | None:
    return shutil.which("soffice") or shutil.which("libreoffice")


def recalculated(books: Sequence[Path], out: Path) -> list[Path]:
    """Each workbook, opened, worked out and saved again by LibreOffice; every file must come back."""
    program = libreoffice()
    assert program, "LibreOffice is not installed"
    out.mkdir(parents=True, exist_ok=True)
    with tempfile.TemporaryDirectory() as profile:
        user = Path(profile) / "user"
        user.mkdir()
        (user / "registrymodifications.xcu").write_text(ALWAYS_ANEW, encoding="utf-8")
        for first in range(0, len(books), MOST_FILES_A_CALL):
            some = books[first : first + MOST_FILES_A_CALL]
            command = [
                program,
                f"-env:UserInstallation=file://{profile}",
                "--headless",
                "--convert-to",
                "xlsx",
                "--outdir",
                str(out),
            ]
            subprocess.run([*command, *map(str, some)], capture_output=True, check=True, timeout=600)
    back = [out / book.name for book in books]
    missing = [path.name for path in back if not path.exists()]
    assert not missing, f"LibreOffice gave no answer for {missing}"
    return back
