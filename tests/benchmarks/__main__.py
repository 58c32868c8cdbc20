"""Every figure of speed in one run: `python -m tests.benchmarks [JOBS]`.

A cold single job beside the bare floor, a folder of JOBS (200) with one and two workers beside the floor's own rate, growth with the cabinets of one
job, and the kitchen beside LibreOffice recalculating and printing the same kitchen as a formula workbook.
"""

import shutil
import subprocess
import sys
import tempfile
import time
from pathlib import Path

from tests.benchmarks import cold_start, folder, growth

HOUSE = Path(__file__).parents[2]


def libreoffice() -> None:
    """The kitchen priced by the command, and the same kitchen's filled-in workbook recalculated and printed by LibreOffice."""
    if shutil.which("soffice") is None:
        print("LibreOffice is not here: NOT compared")
        return
    with tempfile.TemporaryDirectory() as place:
        kitchen = HOUSE / "workbooks" / "kitchen.xlsx"
        price = [sys.executable, "-m", "estimator", "price", str(kitchen), "--out", place]
        office = ["soffice", "--headless", f"-env:UserInstallation=file://{place}/profile", "--convert-to", "pdf", "--outdir", place,
                  f"{place}/kitchen/1/priced.xlsx"]  # fmt: skip
        for name, command in (("estimator price", price), ("LibreOffice", office)):
            subprocess.run(command, check=True, capture_output=True, cwd=HOUSE)  # the first run warms the disk and makes the profile
            start = time.perf_counter()
            subprocess.run(command, check=True, capture_output=True, cwd=HOUSE)
            print(f"{name:34}{time.perf_counter() - start:10.2f} s by the clock")


if __name__ == "__main__":
    jobs = int(sys.argv[1]) if len(sys.argv) > 1 else 200
    for heading, run in (
        ("One cold job", lambda: cold_start.main(5)),
        ("Many jobs", lambda: folder.main(jobs)),
        ("Growth", lambda: growth.main([10, 100, 1000])),
        ("What a shop would otherwise do", libreoffice),
    ):
        print(f"\n{heading}\n")
        run()
