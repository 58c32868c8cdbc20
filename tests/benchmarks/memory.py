"""Whether a folder's run holds more memory when it has more jobs: `python -m tests.benchmarks.memory [JOBS ...]`, 200 and 2,000 if nothing is said.

Each size is a folder of copies of the one-cabinet sample under other names, priced by the command with its register. Linux only: what each
process held at most is read from /proc while it runs, once the workers are gone for the register alone.
"""

import contextlib
import shutil
import subprocess
import sys
import tempfile
import time
from pathlib import Path

HOUSE = Path(__file__).parents[2]
GLANCE_S = 0.02


def held_mb(process: int | str) -> float:
    """What a process has held at most, in megabytes; 0 where it is gone."""
    with contextlib.suppress(OSError):
        for line in Path(f"/proc/{process}/status").read_text().splitlines():
            if line.startswith("VmHWM:"):
                return int(line.split()[1]) / 1000
    return 0.0


def children_of(process: int) -> list[str]:
    with contextlib.suppress(OSError):
        return [child for task in Path(f"/proc/{process}/task").iterdir() for child in (task / "children").read_text().split()]
    return []


def measured(many: int, place: Path) -> tuple[float, float, float, float]:
    """Megabytes: the process that hands out, the largest worker, the first again with the register; and the seconds of the run."""
    jobs = place / "jobs"
    jobs.mkdir()
    for number in range(many):
        shutil.copy(HOUSE / "workbooks" / "one-cabinet.xlsx", jobs / f"job {number:05}.xlsx")
    command = [sys.executable, "-m", "estimator", "price", str(jobs), "--out", str(place / "out"), "--workers", "2"]
    start = time.perf_counter()
    run = subprocess.Popen(command, cwd=HOUSE, stdout=subprocess.DEVNULL)
    handing = worker = register = 0.0
    while run.poll() is None:
        now = held_mb(run.pid)
        if children := children_of(run.pid):
            handing, worker = max(handing, now), max(worker, *map(held_mb, children))
        register = max(register, now)
        time.sleep(GLANCE_S)
    if run.returncode:
        sys.exit(f"the run over {many} jobs ended with {run.returncode}")
    return handing, worker, register, time.perf_counter() - start


def main(sizes: list[int]) -> None:
    if not Path("/proc/self/status").exists():
        print("this system does not tell what a process has held at most: NOT measured")
        return
    print(f"{'jobs':>9}{'handing out MB':>16}{'a worker MB':>13}{'with the register MB':>22}{'seconds':>10}")
    for many in sizes:
        with tempfile.TemporaryDirectory() as place:
            print("{:9}{:16.1f}{:13.1f}{:22.1f}{:10.0f}".format(many, *measured(many, Path(place))), flush=True)


if __name__ == "__main__":
    main([int(word) for word in sys.argv[1:]] or [200, 2000])
