"""The launchers: what a shop drops onto them is priced, whatever signs its path holds; what is wrong stays readable.

The Linux ones (and the macOS ones, which are the same script) are run with sh. The Windows ones are read line by line here:
`dropped_on_windows` is tried on command lines as Windows writes them. They were tried by hand in Wine, never on Windows.
"""

from __future__ import annotations

import os
import re
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from estimator.dropped import dropped_on_windows, typed_into_the_window
from estimator.papers.first_shop.launchers import desktop_quoted, launchers

HOUSE = Path(__file__).parents[1]
NAMES = ["plain", "with blank", "O'Hara & Söhne", "50 % $HOME `x`", 'a "quoted" one', "semi;colon (1) #2", "back\\slash", "名前"]
NOT_ON_WINDOWS = re.compile(r'["\\]')


def put(folder: Path, *, machine: str = "linux", python: str = sys.executable) -> Path:
    folder.mkdir(parents=True, exist_ok=True)
    for name, content in launchers(machine=machine, python=python, folder=str(folder)).items():  # type: ignore[arg-type]
        (folder / name).write_bytes(content)
    return folder


def run(words: list[str], *, typed: str = "", cwd: Path | None = None) -> subprocess.CompletedProcess[str]:
    house = {**os.environ, "PYTHONPATH": str(HOUSE)}
    return subprocess.run(words, input=typed, capture_output=True, text=True, env=house, cwd=cwd, timeout=60, check=False)


@pytest.mark.skipif(os.name == "nt", reason="sh")
def test_a_dropped_workbook_is_priced_into_the_launchers_own_folder(tmp_path: Path) -> None:
    folder = put(tmp_path / "O'Hara & Söhne, 50 %")
    job = Path(shutil.copy(HOUSE / "workbooks" / "one-cabinet.xlsx", tmp_path / "Müller & O'Hara (2).xlsx"))
    ran = run(["sh", str(folder / "price a workbook.sh"), str(job)], typed="\n", cwd=tmp_path)
    assert ran.returncode == 0, ran.stderr
    assert "179.65 EUR" in ran.stdout
    assert ran.stdout.endswith("Press Enter to close this window. ")
    assert (folder / "reports" / "Müller & O'Hara (2)" / "1" / "quote.pdf").is_file()


@pytest.mark.skipif(os.name == "nt", reason="sh")
def test_a_double_click_asks_for_the_workbook_and_tells_what_is_wrong(tmp_path: Path) -> None:
    folder = put(tmp_path / "my shop", machine="macos")
    (folder / "first job.xlsx").write_text("not a workbook")
    ran = run(["sh", str(folder / "price a workbook.command")], typed="first\\ job.xlsx\n\n")
    assert "Which workbook is to be priced?" in ran.stdout
    assert "In this folder: first job.xlsx" in ran.stdout
    assert "to mend" in ran.stderr
    assert ran.returncode == 1
    assert "Press Enter to close this window." in ran.stdout
    nothing = run(["sh", str(folder / "price a workbook.command")])
    assert "nothing was priced" in nothing.stdout


@pytest.mark.skipif(os.name == "nt", reason="sh")
def test_a_program_that_has_moved_is_said_so(tmp_path: Path) -> None:
    folder = put(tmp_path / "shop", python="/nowhere/O'Hara/python")
    ran = run(["sh", str(folder / "watch this folder.sh")])
    assert "not where it was" in ran.stdout
    assert "/nowhere/O'Hara/python" in ran.stdout
    assert ran.returncode == 2


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.skipif(os.name == "nt", reason="sh")
def test_every_folder_name_reaches_the_program_whole(name: str, tmp_path: Path) -> None:
    """A stand-in for the program writes down what it is called with."""
    stand_in = tmp_path / name / "python"
    stand_in.parent.mkdir()
    stand_in.write_text('#!/bin/sh\nfor word in "$@"; do printf "<%s>" "$word"; done\n')
    stand_in.chmod(0o755)
    folder = put(tmp_path / name / "shop", python=str(stand_in))
    dropped = f"/home/jo/{name}.xlsx"
    said = run(["sh", str(folder / "price a workbook.sh"), dropped]).stdout
    assert f"<-m><estimator.dropped><{folder}><{dropped}>" in said


@pytest.mark.skipif(os.name == "nt", reason="bash")
@pytest.mark.parametrize("machine", ["linux", "macos"])
def test_what_is_watched_gets_its_papers_beside_the_launcher_from_wherever_it_is_run(machine: str, tmp_path: Path) -> None:
    """A double click on a Mac, or on an icon, opens its window in the person's home folder."""
    stand_in = tmp_path / "python"
    stand_in.write_text('#!/bin/sh\nfor word in "$@"; do printf "<%s>" "$word"; done\n')
    stand_in.chmod(0o755)
    folder = put(tmp_path / "O'Hara & Söhne", machine=machine, python=str(stand_in))
    script = next(path for path in folder.glob("watch this folder.*") if path.suffix in (".sh", ".command"))
    assert run(["bash", "-n", str(script)]).returncode == 0
    said = run(["bash", str(script)], typed="\n", cwd=tmp_path).stdout
    assert f"<-P><-m><estimator><watch><{folder}><--out><{folder}/reports>" in said


def words_of_exec(line: str) -> list[str]:
    """The words of an Exec line: the file's own escapes first, then the quotes of the command (Desktop Entry Specification 1.5)."""
    text = re.sub(r"\\(.)", lambda found: {"s": " ", "n": "\n", "t": "\t", "r": "\r"}.get(found[1], found[1]), line)
    words = re.findall(r'"((?:[^"\\]|\\.)*)"|(\S+)', text)
    plain = [re.sub(r"\\(.)", r"\1", quoted) if quoted else bare for quoted, bare in words]
    return [word if word == "%F" else word.replace("%%", "%") for word in plain]


@pytest.mark.parametrize("name", NAMES)
def test_an_icon_runs_the_script_beside_it(name: str) -> None:
    folder = f"/home/jo/{name}"
    icon = launchers(machine="linux", python="python", folder=folder)["price a workbook.desktop"].decode("utf-8")
    line = next(line for line in icon.splitlines() if line.startswith("Exec="))
    assert words_of_exec(line.removeprefix("Exec=")) == ["sh", f"{folder}/price a workbook.sh", "%F"]
    assert desktop_quoted("a").startswith('"')


@pytest.mark.parametrize("name", [name for name in NAMES if not NOT_ON_WINDOWS.search(name)])
def test_windows_hands_over_the_dropped_names_whole(name: str) -> None:
    """Explorer puts quotes around a name with a blank in it, and around no other."""
    paths = [rf"C:\Users\Jo\{name}\a.xlsx", r"D:\A&B^C.xlsx", r"D:\it's 50 %.xlsx"]
    handed = " ".join(f'"{path}"' if " " in path else path for path in paths)
    launcher = rf"C:\Users\Jo\{name}\price a workbook.cmd"
    assert dropped_on_windows(rf'C:\Windows\system32\cmd.exe /c ""{launcher}" {handed}"') == paths


def test_the_windows_launcher_is_written_as_windows_reads_it() -> None:
    python = r"C:\Users\Jörg & Co\50% more\python.exe"
    for name, content in launchers(machine="windows", python=python, folder="C:\\x").items():
        text = content.decode("utf-8")
        lines = text.split("\r\n")
        assert "\n" not in text.replace("\r\n", "")  # every line ends as Windows ends them
        assert not content.startswith(b"\xef\xbb\xbf")  # a mark before the first word would be read as part of it
        assert lines[0] == "@echo off"
        at = {start: i for i, line in enumerate(lines) for start in ("chcp 65001", 'set "ESTIMATOR_PYTHON', "pause", "exit") if line.startswith(start)}
        assert at["chcp 65001"] < at['set "ESTIMATOR_PYTHON'] < at["pause"] < at["exit"]
        assert r'set "ESTIMATOR_PYTHON=C:\Users\Jörg & Co\50%% more\python.exe"' in lines
        assert 'set "ESTIMATOR_FOLDER=%~dp0."' in lines  # a backslash before the closing quote would swallow it
        at_home = launchers(machine="windows", python=python, folder="C:\\x", home=r"c:\users\jörg & co")[name].decode("utf-8")
        assert r'set "ESTIMATOR_PYTHON=%USERPROFILE%\50%% more\python.exe"' in at_home
        assert at_home.isascii()
        assert all(line.count('"') % 2 == 0 for line in lines)
        run_line = lines[lines.index("goto stay") - 1]
        assert run_line.startswith('"!ESTIMATOR_PYTHON!" -P -m estimator')
        assert '"!ESTIMATOR_FOLDER!"' in run_line  # taken out where & and ^ and % are ordinary signs
        assert ('--out "!ESTIMATOR_FOLDER!\\reports"' in run_line) == name.startswith("watch")
        assert not re.search(r"%[0-9*]", "\n".join(lines).replace("%~dp0", ""))  # a dropped name never stands in a line as it is
        assert name.endswith(".cmd")


def test_names_typed_or_dragged_into_the_window(tmp_path: Path) -> None:
    there = tmp_path / "O'Hara & Söhne.xlsx"
    there.write_bytes(b"")
    assert typed_into_the_window(str(there), windows=False) == [str(there)]
    assert typed_into_the_window(r"/a/O\'Hara\ \&\ more.xlsx /b.xlsx ", windows=False) == ["/a/O'Hara & more.xlsx", "/b.xlsx"]
    assert typed_into_the_window("O'Hara.xlsx", windows=False) == ["O'Hara.xlsx"]
    assert typed_into_the_window("  ", windows=False) == []
