"""Every figure of speed in one run: `python -m tests.benchmarks`; `--help` names the sizes, which may all be changed.

A cold single job beside the bare floor, a folder with one and two workers beside the floor's own rate, growth with the cabinets of one job, memory
with the jobs of a folder, a cluster beside this computer's own workers, and all of it beside LibreOffice working out and printing the same jobs.
"""

import argparse
from importlib.util import find_spec

from tests.benchmarks import cold_start, folder, growth, libreoffice, memory


def through_a_cluster(jobs: int) -> None:
    if find_spec("distributed") is None:
        print("distributed is not here: NOT measured")
        return
    from tests.benchmarks import cluster

    cluster.main(jobs)


if __name__ == "__main__":
    reader = argparse.ArgumentParser(prog="python -m tests.benchmarks", description="Every figure of speed in one run.")
    reader.add_argument("--runs", type=int, default=5, metavar="N", help="cold runs of one job, for the median; 0 leaves it out, as with all")
    reader.add_argument("--jobs", type=int, default=200, metavar="N", help="jobs of the folder of mixed sizes")
    reader.add_argument("--cabinets", type=int, nargs="*", default=[10, 100, 1000], metavar="N", help="cabinets of one job, as it grows")
    reader.add_argument("--memory", type=int, nargs="*", default=[200, 2000], metavar="N", help="jobs of the folders whose memory is measured")
    reader.add_argument("--cluster", type=int, default=40, metavar="N", help="jobs of the folder that goes through a cluster")
    reader.add_argument("--office-runs", type=int, default=5, metavar="N", help="runs of the kitchen beside LibreOffice, for the median")
    reader.add_argument("--office-jobs", type=int, default=20, metavar="N", help="jobs of the folder beside LibreOffice called per job")
    sizes = reader.parse_args()
    for heading, wanted, run in (
        ("One cold job", sizes.runs, lambda: cold_start.main(sizes.runs)),
        ("Many jobs", sizes.jobs, lambda: folder.main(sizes.jobs)),
        ("Growth with the cabinets of one job", sizes.cabinets, lambda: growth.main(sizes.cabinets)),
        ("Memory with the jobs of a folder", sizes.memory, lambda: memory.main(sizes.memory)),
        ("Through a cluster", sizes.cluster, lambda: through_a_cluster(sizes.cluster)),
        ("What a shop would otherwise do", sizes.office_runs, lambda: libreoffice.main(runs=sizes.office_runs, jobs=sizes.office_jobs)),
    ):
        if wanted:
            print(f"\n{heading}\n", flush=True)
            run()
