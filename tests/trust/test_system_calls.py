"""Pricing asks nothing of a network and changes nothing outside the folder of the papers; what is planted is seen."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from tests.trust.system_calls import HOUSE, traced, unwanted_calls, watched_pricing

needs_strace = pytest.mark.skipif(shutil.which("strace") is None, reason="strace is not here: what the program asks of the system was NOT watched")


@needs_strace
def test_pricing_keeps_to_the_folder_of_its_papers(tmp_path: Path) -> None:
    folder = tmp_path / "job"
    folder.mkdir()
    calls, unwanted = watched_pricing(HOUSE / "workbooks" / "one-cabinet.xlsx", folder)
    assert any("quote.pdf" in call for call in calls)
    assert unwanted == []


@needs_strace
def test_a_planted_connection_and_a_planted_file_are_seen(tmp_path: Path) -> None:
    program = (
        "import socket, pathlib, contextlib\n"
        f"pathlib.Path({str(tmp_path / 'elsewhere')!r}).write_text('x')\n"
        "with contextlib.suppress(OSError):\n"
        "    socket.create_connection(('127.0.0.1', 9), 0.1)\n"
    )
    calls = traced(["-c", program], cwd=tmp_path, trace=tmp_path / "trace")
    unwanted = unwanted_calls(calls, inside=tmp_path / "papers", cwd=tmp_path)
    assert any("elsewhere" in call for call in unwanted)
    assert any("AF_INET" in call for call in unwanted)
