"""A bar that grows with a folder's run, on a terminal only: what was told in, the same out, shown above the bar."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from estimator.telling import REFUSED, Told


def with_bar(outcomes: Iterable[Told], *, many: int) -> Iterator[Told]:
    """The same outcomes; meanwhile a bar shows how many are done, how fast, what was refused, and the job in hand."""
    from rich.console import Console
    from rich.progress import BarColumn, MofNCompleteColumn, Progress, TextColumn, TimeRemainingColumn

    job, rate = TextColumn("{task.description}"), TextColumn("{task.fields[rate]}")
    columns = (job, BarColumn(), MofNCompleteColumn(), rate, TimeRemainingColumn())
    refused = 0
    with Progress(*columns, console=Console(stderr=True), transient=True) as progress:
        bar = progress.add_task("pricing", total=many, rate="")
        for outcome in outcomes:
            refused += outcome.code >= REFUSED
            speed = progress.tasks[0].speed
            words = [f"{speed:.1f} jobs a second"] if speed else []
            words += [f"{refused} refused"] if refused else []
            progress.update(bar, advance=1, description=outcome.path.name, rate=", ".join(words))
            progress.stop()  # what is told goes to its own stream, as without a bar
            yield outcome
            progress.start()
