"""The same folder on this computer's own workers and through a cluster of two workers on this computer: what --on itself costs.

`python -m tests.benchmarks.cluster [JOBS]` draws the jobs of the folder's benchmark (40 if nothing is said). Both write the same bytes.
"""

import sys
import tempfile
import time
from collections.abc import Iterator
from pathlib import Path

from estimator.batch import tasks_for
from estimator.cluster import packed, price_elsewhere
from estimator.folder import price_folder
from estimator.made_from import prints_of
from estimator.telling import Told
from tests.benchmarks.folder import bytes_below, draw_jobs
from tests.test_cluster import cluster, files_below


def seconds(run: Iterator[Told], *, many: int) -> float:
    start = time.perf_counter()
    assert [told.code for told in run] == [0] * many, "a job of the benchmark was refused"
    return time.perf_counter() - start


def main(many: int) -> None:
    with tempfile.TemporaryDirectory() as folder:
        place = Path(folder)
        paths = draw_jobs(place / "jobs", many)
        here = seconds(price_folder(tasks_for(paths, out=place / "here", again=True), workers=2), many=many)
        tasks = tasks_for(paths, out=place / "there", again=True)
        with cluster(2) as (address, _):
            seconds(price_elsewhere(tasks_for(paths[:2], out=place / "first", again=True), address, as_json=False), many=2)  # they import
            there = seconds(price_elsewhere(tasks, address, as_json=False), many=many)
        assert files_below(place / "here") == files_below(place / "there"), "a byte differs"
        start = time.process_time()
        parcels = [packed(task, prints=prints_of(task.path, shop=None, words=None), as_json=False) for task in tasks]
        packing_ms = (time.process_time() - start) * 1000 / many
        sent = sum(len(content) for parcel in parcels if parcel for content in parcel.files.values())
        back = bytes_below(place / "there")
    print(f"{many} jobs, two workers:  {many / here:.2f} jobs a second as processes, {many / there:.2f} through a cluster on the same cores")
    print(f"a job: {sent / many / 1e6:.3f} MB sent, {back / many / 1e6:.2f} MB come back, {packing_ms:.1f} ms to pack where the files lie")


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 40)
