"""How long each paper takes to draw and how much memory: `python -m tests.benchmarks.papers`.

Each job is drawn in a process of its own, after the imports; the first drawing opens the fonts and fills what is kept, the second
is what each further job of a batch takes. Memory is the most that the process ever held, its reading and costing included. The
bars: 0.8 s for the 15 cabinets of the kitchen, 3 s for 60 cabinets, 250 MB.
"""

import resource
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

JOBS = ("one-cabinet", "kitchen", "wardrobe", "many-cabinets")


def measure(name: str) -> None:
    """One job: every paper twice."""
    from estimator.model.results import Estimate
    from estimator.papers.client_quote import quote_pdf
    from estimator.papers.owner_pages import owner_pdf
    from estimator.papers.shop_papers import shop_pdf
    from tests.papers.jobs_to_look_at import estimates

    with tempfile.TemporaryDirectory() as folder:
        estimate = next(found for at, found in estimates(Path(folder)) if at == name)
    papers: tuple[tuple[str, Callable[[Estimate], bytes]], ...] = (("quote", quote_pdf), ("shop", shop_pdf), ("owner", owner_pdf))
    __import__("reportlab.platypus"), __import__("jinja2"), __import__("babel.numbers"), __import__("babel.dates")
    print(f"\n{name}, {sum(cabinet.qty for cabinet in estimate.job.cabinets)} cabinet(s)")
    totals = [0.0, 0.0]
    for paper, draw in papers:
        spent = []
        for at in (0, 1):
            start = time.process_time()
            content = draw(estimate)
            spent.append(time.process_time() - start)
            totals[at] += spent[at]
        print(f"  {paper:8}{spent[0]:8.2f} s first{spent[1]:8.2f} s again{len(content) / 1024:9.0f} kB")
    most_mb = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    print(f"  {'all':8}{totals[0]:8.2f} s first{totals[1]:8.2f} s again{most_mb:9.0f} MB of memory at most")


if __name__ == "__main__":
    if len(sys.argv) > 1:
        measure(sys.argv[1])
    else:
        for job in JOBS:
            subprocess.run([sys.executable, "-m", "tests.benchmarks.papers", job], check=True)
