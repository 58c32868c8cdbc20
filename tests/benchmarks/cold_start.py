"""How long one cold `price` of the sample kitchen takes, beside a bare script that opens, saves and prints a PDF.

`python -m tests.benchmarks.cold_start [RUNS]` runs the two in turn, each as a process of its own, and prints medians of the
processor time and of the clock. The bare script opens the same workbook with openpyxl, saves it, and writes a PDF of three
pages with reportlab: the floor that no program of this kind can do without. Both find their modules compiled, as an installed
program does; with PYTHONDONTWRITEBYTECODE a checkout compiles its own at every start, which costs 0.2 s more.
"""

import os
import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path

HOUSE = Path(__file__).parents[2]
KITCHEN = HOUSE / "workbooks" / "kitchen.xlsx"
BARE = """
import sys
from openpyxl import load_workbook
from reportlab.pdfgen.canvas import Canvas
load_workbook(sys.argv[1]).save(sys.argv[2] + "/saved.xlsx")
canvas = Canvas(sys.argv[2] + "/three.pdf")
for page in range(3):
    for line in range(40):
        canvas.drawString(60, 780 - 18 * line, f"page {page} line {line}")
    canvas.showPage()
canvas.save()
"""


def three_pages(place: object) -> None:
    """The bare script's PDF, for a floor that stays warm."""
    from reportlab.pdfgen.canvas import Canvas

    canvas = Canvas(place)
    for page in range(3):
        for line in range(40):
            canvas.drawString(60, 780 - 18 * line, f"page {page} line {line}")
        canvas.showPage()
    canvas.save()


def seconds(command: list[str], env: dict[str, str]) -> tuple[float, float]:
    """Processor seconds and clock seconds of one run of a command."""
    before, start = os.times(), time.perf_counter()
    subprocess.run(command, check=True, cwd=HOUSE, stdout=subprocess.DEVNULL, env=env)
    after = os.times()
    spent = after.children_user + after.children_system - before.children_user - before.children_system
    return spent, time.perf_counter() - start


def main(runs: int) -> None:
    with tempfile.TemporaryDirectory() as folder:
        bare = [sys.executable, "-c", BARE, str(KITCHEN), folder]
        price = [sys.executable, "-m", "estimator", "price", str(KITCHEN), "--out", folder]
        env = {name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}
        env["PYTHONPYCACHEPREFIX"] = f"{folder}/compiled"
        for command in (bare, price):
            seconds(command, env)  # one run that does not count compiles, and warms the disk
        pairs = [(seconds(bare, env), seconds(price, env)) for _ in range(runs)]
    print(f"{'':24}{'processor s':>12}{'clock s':>12}   median of {runs}")
    for name, which in (("bare script", 0), ("estimator price", 1)):
        print(f"{name:24}" + "".join(f"{statistics.median(pair[which][i] for pair in pairs):12.2f}" for i in (0, 1)))
    print(f"{'ratio':24}" + "".join(f"{statistics.median(pair[1][i] / pair[0][i] for pair in pairs):12.2f}" for i in (0, 1)))


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 5)
