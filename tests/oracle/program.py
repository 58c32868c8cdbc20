"""The path of a job workbook goes in; the program's own answer (the object of estimate.json) comes out."""

import json
import subprocess
import sys
from pathlib import Path
from typing import Any


def program_answer(path: Path) -> dict[str, Any]:
    """What the program says of one workbook, or {"refused": its words} where it gives no estimate."""
    command = [sys.executable, "-m", "estimator", "price", str(path), "--out", str(path.parent / "papers"), "--json"]
    done = subprocess.run(command, capture_output=True, text=True, check=False)
    try:
        found = json.loads(done.stdout)
    except json.JSONDecodeError:
        return {"refused": done.stdout + done.stderr}
    return found if "price" in found else {"refused": done.stdout + done.stderr}
