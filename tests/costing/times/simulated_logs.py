"""Time logs made up from known true times, and how often the fitted interval holds the truth.

    python -m tests.costing.times.simulated_logs [SEED] [MANY]

Each log is one of many finished jobs of a shop whose true minutes are known: steps timed alone, two steps of one driver with minutes of
their own in rows of both, a step that many jobs forgot, noise, and rows that are grossly wrong (a forgotten digit, a day instead of an
hour). The estimate's own minutes are wrong by up to a factor of two. It prints, for each kind of noise, how often the intervals held the
truth (90 % is promised), how many gross rows were named and how many sound ones, and the same with the wild rows left in.
"""

from __future__ import annotations

import random
import sys
from dataclasses import dataclass, field
from datetime import date

from estimator.costing.times import step_times as fitting
from estimator.costing.times.regression import least_squares
from estimator.costing.times.step_times import step_times
from estimator.costing.times.wild_rows import Fit
from estimator.model.exact import Fraction
from estimator.model.shop_records import Step
from estimator.model.times import Observed, StepCount
from tests.building import AT, shop

NOISES = ("alike in percent", "skewed", "alike in minutes")
GROSS = (Fraction(1, 10), Fraction(3), Fraction(10))
SHOP = shop()


@dataclass
class Tally:
    """What came out over many logs."""

    held: int = 0
    intervals: int = 0
    gross: int = 0
    named: int = 0
    sound_named: int = 0
    sound: int = 0
    widths: list[float] = field(default_factory=list)

    @property
    def share(self) -> float:
        return self.held / self.intervals


def step(name: str, per: str, minutes: Fraction, route: str = "") -> Step:
    return Step(name, "stage", route, per, "", minutes, Fraction(100), None, None, None, "", False, AT)


def simulate(chance: random.Random, noise: str) -> tuple[list[Observed], set[int], tuple[Step, ...], dict[str, Fraction]]:
    """One shop's log: rows, which of them are grossly wrong, its Work, and the true minutes of each step."""
    true = {"cut": 2.5, "bore": 1.4, "assemble": 30.0, "coat: start": 0.35, "coat: run": 0.4, "trim": 0.5}
    true = {name: minutes * chance.uniform(0.7, 1.4) for name, minutes in true.items()}
    per = {"cut": "part", "bore": "part", "assemble": "cabinet", "coat: start": "edge", "coat: run": "metre", "trim": "metre"}
    work = tuple(step(name, per[name], _fraction(true[name] * chance.uniform(0.55, 1.8), 100)) for name in true)
    rows: list[tuple[tuple[str, ...], list[Fraction], float]] = []
    for _ in range(chance.randint(8, 14)):
        cabinets = chance.randint(2, 14)
        parts, edges = cabinets * chance.randint(5, 9), cabinets * chance.randint(4, 16)
        counts = {"cabinet": Fraction(cabinets), "part": Fraction(parts), "edge": Fraction(edges), "metre": _fraction(edges * chance.uniform(0.25, 1.1), 100)}
        done: list[tuple[str, ...]] = [("cut",), ("assemble",), ("coat: start", "coat: run"), ("trim",)]
        if chance.random() < 0.7:
            done.append(("bore",))  # many jobs forgot it
        if chance.random() < 0.5:
            done.append(("coat: run", "trim"))  # a shared driver, logged once more in another mixture
        for names in done:
            took = [counts[per[name]] for name in names]
            rows.append((names, took, sum(float(count) * true[name] for name, count in zip(names, took, strict=True))))
    mean = {name: sum(m for names, _, m in rows if name in names) / sum(name in names for names, _, _ in rows) for name in true}
    observed, gross = [], set()
    for i, (names, took, minutes) in enumerate(rows):
        doubt = chance.gauss(0, 0.12)
        real = {
            "alike in percent": minutes * (1 + doubt),
            "skewed": minutes * 2.718281828 ** (doubt - 0.0072),
            "alike in minutes": minutes + doubt * sum(mean[name] for name in names) / len(names),
        }[noise]
        written = _fraction(max(real, 0.5), 10)
        if chance.random() < 0.06:
            gross.add(i)
            written *= chance.choice(GROSS)
        counted = tuple(StepCount(name, count) for name, count in zip(names, took, strict=True))
        observed.append(Observed(date(2031, 2, 3), "job.xlsx", counted, "stage", max(written, Fraction(1, 10)), Fraction(1), "", AT))
    return observed, gross, work, {name: Fraction(minutes) for name, minutes in true.items()}


def _fraction(value: float, parts: int) -> Fraction:
    return Fraction(max(1, round(value * parts)), parts)


def tally(noise: str, *, seed: int, many: int) -> Tally:
    """Fit so many logs and count."""
    chance, answer = random.Random(f"{seed} {noise}"), Tally()
    for _ in range(many):
        observed, gross, work, true = simulate(chance, noise)
        marked, times = step_times(observed, work, SHOP)
        for time in times:
            if time.from_min is not None and time.to_min is not None and not time.together:
                answer.intervals += 1
                answer.held += time.from_min <= true[time.step.step] <= time.to_min
                answer.widths.append(float(time.within_share or 0))
        named = {i for i, one in enumerate(marked) if one.wild}
        answer.gross += len(gross)
        answer.named += len(gross & named)
        answer.sound += len(observed) - len(gross)
        answer.sound_named += len(named - gross)
    return answer


def with_wild_rows_left_in(noise: str, *, seed: int, many: int) -> Tally:
    """The same logs by plain least squares: what it is worth to leave wild rows aside."""
    robust = fitting.robust_fit
    fitting.robust_fit = lambda rows: Fit(plain, ()) if (plain := least_squares(rows)) and plain.freedom > 1 else None
    try:
        return tally(noise, seed=seed, many=many)
    finally:
        fitting.robust_fit = robust


if __name__ == "__main__":
    seed, many = (int(word) for word in (*sys.argv[1:], "20310203", "200")[: 2]) if len(sys.argv) > 2 else (20310203, 200)
    for noise in NOISES:
        ours, plain = tally(noise, seed=seed, many=many), with_wild_rows_left_in(noise, seed=seed, many=many)
        middle = sorted(ours.widths)[len(ours.widths) // 2]
        print(
            f"noise {noise}: {ours.held} of {ours.intervals} intervals held the truth, {ours.share:.1%} (90 % promised); half of them within "
            f"{middle:.1%}; {ours.named} of {ours.gross} gross rows named, {ours.sound_named} of {ours.sound} sound ones; with wild rows left in "
            f"the interval is within {sorted(plain.widths)[len(plain.widths) // 2]:.1%} and holds {plain.share:.1%}",
            flush=True,
        )
