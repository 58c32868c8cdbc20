"""The walls of the house: rooms look down, never up, never through the wall; the engine knows no file, clock or chance."""

import subprocess
import sys
from pathlib import Path

import pytest

HOUSE = Path(__file__).parents[2]


def lint(folder: Path) -> subprocess.CompletedProcess[str]:
    command = [sys.executable, "-c", "import sys; from importlinter.cli import lint_imports_command as c; sys.exit(c())"]
    return subprocess.run([*command, "--no-cache"], cwd=folder, capture_output=True, text=True, check=False)


def test_every_room_keeps_to_its_floor() -> None:
    ran = lint(HOUSE)
    assert ran.returncode == 0, ran.stdout + ran.stderr


@pytest.mark.parametrize(
    ("file", "line"),
    [
        ("costing/planted.py", "import estimator.papers.estimate_json"),
        ("model/planted.py", "import estimator.costing.rules"),
        ("costing/planted_too.py", "import random"),
        ("without_a_floor.py", ""),
    ],
    ids=["through the wall", "up", "chance in the engine", "a file without a floor"],
)
def test_a_planted_breach_is_caught(tmp_path: Path, file: str, line: str) -> None:
    import shutil

    shutil.copy(HOUSE / "pyproject.toml", tmp_path)
    shutil.copytree(HOUSE / "estimator", tmp_path / "estimator", ignore=shutil.ignore_patterns("__pycache__", "fonts"))
    (tmp_path / "estimator" / file).write_text(f"{line}\n", encoding="utf-8")
    assert lint(tmp_path).returncode != 0
