"""How good and how quick the cutting plans are, beside published values and other libraries; prints tables.

    python -m tests.benchmarks.cutting --instances PATH [--every 5] [--skip-rectpack] [--packingsolver SECONDS]

PATH is a JSON file of the 500 problems of Berkey and Wang (1987) and Martello and Vigo (1998): {"instances": [{"id", "cls",
"W", "H", "items": [[w, h], ...], "best_known_3stage_nonexact_O", "best_known_3stage_nonexact_R"}, ...]}. The realistic
boards are made here from fixed numbers and the construction rules that ship. --packingsolver compares them with that
general-purpose library, so many seconds a board; it needs Python 3.12 or newer. Nothing here is a test: it measures.
"""

from __future__ import annotations

import argparse
import json
import resource
import time
from collections.abc import Iterator
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

from estimator.costing.cutting import plan_board
from estimator.costing.cutting.kerf import grid_of
from estimator.costing.cutting.shuffled import ShuffledNumbers
from estimator.costing.parts import parts_of_job
from estimator.costing.sheets import way_on_sheet
from estimator.model.cutting_plan import CuttingPlan, StockSheet, WantedPart
from estimator.model.exact import Fraction
from tests.costing.test_shipped_kinds import ROLES_MM, _cabinet, _job

KERF_MM = Fraction(4)
GRAINED = "front"
SHEETS = dict.fromkeys(ROLES_MM, (2800, 2070, 61)) | {"back": (2440, 1220, 18), "drawer bottom": (2440, 1220, 18)}
OTHER_SIZES = ((2440, 1220, 34), (3050, 1300, 43))
KINDS = ("base", "base", "drawer base", "drawer over door", "wall", "wall", "tall", "open")
WIDTHS_MM = (300, 400, 450, 500, 600, 600, 800, 900)


@dataclass
class Score:
    sheets: int = 0
    bound: int = 0
    reference: int = 0
    other: int = 0
    over_by_more_than_one: int = 0
    seconds: float = 0.0
    slowest: float = 0.0


def main() -> None:
    words = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    words.add_argument("--instances", type=Path, help="JSON file of the 500 published problems")
    words.add_argument("--every", type=int, default=1, help="take every n-th published problem only")
    words.add_argument("--skip-rectpack", action="store_true", help="do not compare with rectpack")
    words.add_argument("--packingsolver", type=float, metavar="SECONDS", help="compare with packingsolver, so long a board")
    typed = words.parse_args()
    if typed.instances:
        published = json.loads(typed.instances.read_text())["instances"][:: typed.every]
        for way, letter in (("along", "O"), ("either", "R")):
            published_table(published, way, letter, rectpack=not typed.skip_rectpack)
    realistic_table(seconds=typed.packingsolver)
    large_job()
    print(f"most memory: {resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024:.0f} MB")


def published_table(instances: list[dict[str, Any]], way: Any, letter: str, *, rectpack: bool) -> None:
    classes: dict[int, Score] = {}
    for instance in instances:
        score = classes.setdefault(instance["cls"], Score())
        wanted = [WantedPart(Fraction(length), Fraction(width), 1, way) for length, width in instance["items"]]
        stock = [StockSheet(Fraction(instance["W"]), Fraction(instance["H"]), Fraction(0), Fraction(1), 0, True)]
        plan = timed(score, wanted, stock, Fraction(0))
        known = instance[f"best_known_3stage_nonexact_{letter}"]
        score.reference += known
        score.over_by_more_than_one += plan.sheets > known + 1
        if rectpack:
            score.other += by_rectpack(instance, turned=way == "either")
    print(f"\npublished problems, {'with grain' if letter == 'O' else 'turning allowed'}")
    print(f"{'class':>6} {'sheets':>7} {'bound':>7} {'known':>7} {'rectpack':>9} {'mean s':>7} {'most s':>7} {'over by 2':>10}")
    count = len(instances) / len(classes)
    for name, score in [*classes.items(), ("all", together(list(classes.values())))]:
        mean = score.seconds / (count if name != "all" else len(instances))
        print(
            f"{name!s:>6} {score.sheets:>7} {score.bound:>7} {score.reference:>7} {score.other or '-':>9} {mean:>7.3f} "
            f"{score.slowest:>7.3f} {score.over_by_more_than_one:>10}"
        )


def together(scores: list[Score]) -> Score:
    total = Score()
    for score in scores:
        for field in ("sheets", "bound", "reference", "other", "over_by_more_than_one", "seconds"):
            setattr(total, field, getattr(total, field) + getattr(score, field))
        total.slowest = max(total.slowest, score.slowest)
    return total


def timed(score: Score, wanted: list[WantedPart], stock: list[StockSheet], kerf_mm: Fraction) -> CuttingPlan:
    start = time.perf_counter()
    plan = plan_board(wanted=wanted, stock=stock, kerf_mm=kerf_mm)
    took = time.perf_counter() - start
    assert isinstance(plan, CuttingPlan)
    score.sheets += plan.sheets
    score.bound += plan.bound
    score.seconds += took
    score.slowest = max(score.slowest, took)
    return plan


def by_rectpack(instance: dict[str, Any], *, turned: bool) -> int:
    """The best of rectpack's guillotine settings on this one problem."""
    import rectpack

    best = len(instance["items"])
    for name in ("BssfSas", "BafSas", "BssfMaxas", "BafMaxas", "BlsfMaxas"):
        algorithm = getattr(rectpack.guillotine, f"Guillotine{name}")
        for sort in (rectpack.SORT_AREA, rectpack.SORT_LSIDE):
            packer = rectpack.newPacker(
                bin_algo=rectpack.PackingBin.BBF, pack_algo=algorithm, sort_algo=sort, rotation=turned
            )
            packer.add_bin(instance["W"], instance["H"], count=float("inf"))
            for length, width in instance["items"]:
                packer.add_rect(length, width)
            packer.pack()
            best = min(best, len(packer))
    return best


def realistic_jobs() -> Iterator[tuple[int, dict[str, list[WantedPart]]]]:
    """20 jobs of 8 to 60 cabinets: parts by board role."""
    for number in range(20):
        numbers = ShuffledNumbers(100 + number)
        cabinets = []
        for place in range(8 + number * 52 // 19):
            kind, width = KINDS[numbers.below(len(KINDS))], WIDTHS_MM[numbers.below(len(WIDTHS_MM))]
            width = min(width + 10 * numbers.below(4), 600 if kind == "tall" else 950)
            doors = None if kind in ("drawer base", "open") else 1 if width < 600 else 2
            cabinet = replace(_cabinet(kind, width), ref=str(place))
            cabinets.append(cabinet if doors is None else replace(cabinet, doors=doors))
        job = replace(_job(cabinets[0]), cabinets=tuple(cabinets))
        boards: dict[str, list[WantedPart]] = {}
        for part in parts_of_job(job).parts:
            role = part.board_role or part.board
            way = way_on_sheet(part, grain=role == GRAINED)
            boards.setdefault(role, []).append(WantedPart(part.cut_length_mm, part.cut_width_mm, part.count, way))
        yield number, boards


def realistic_table(*, seconds: float | None) -> None:
    print("\nrealistic boards, made here; the last three jobs have three sheet sizes")
    print(f"{'job':>4} {'pieces':>7} {'sheets':>7} {'bound':>6} {'gap':>4} {'money':>8} {'least':>8} {'yield %':>8} {'s':>6} {'other':>8}")
    gaps = []
    money_of_all, other_of_all = Fraction(0), 0.0
    for number, boards in realistic_jobs():
        score, pieces, gap = Score(), 0, 0
        money = least = area = usable = Fraction(0)
        other = 0.0
        for role, wanted in boards.items():
            sizes = [SHEETS[role], *(OTHER_SIZES if number >= 17 and role == "carcass" else ())]
            stock = [StockSheet(Fraction(a), Fraction(b), Fraction(10), Fraction(price), 0, True) for a, b, price in sizes]
            plan = timed(score, wanted, stock, KERF_MM)
            pieces += sum(part.count for part in wanted)
            gap = max(gap, plan.gap) if len(sizes) == 1 else gap
            money, least = money + plan.money, least + plan.bound_money
            other += by_packingsolver(wanted, stock, seconds=seconds) if seconds else 0
            area += plan.parts_mm2
            usable += plan.parts_mm2 + plan.kerf_mm2 + plan.offcut_mm2
        gaps.append(gap)
        print(
            f"{number + 1:>4} {pieces:>7} {score.sheets:>7} {score.bound:>6} {gap:>4} {float(money):>8.0f} {float(least):>8.0f} "
            f"{float(100 * area / usable):>8.1f} {score.seconds:>6.2f} {other:>8.0f}"
        )
        money_of_all, other_of_all = money_of_all + money, other_of_all + other
    print(f"money together {float(money_of_all):.0f}, the other library {other_of_all:.0f}" if seconds else "")
    print(f"boards of one size proven within one sheet in {sum(gap <= 1 for gap in gaps)} of {len(gaps)} jobs")


def by_packingsolver(wanted: list[WantedPart], stock: list[StockSheet], *, seconds: float) -> float:
    """Money of its plan of least cost; sizes are grown by the kerf as ours are, so that it need not know of one."""
    import packingsolver.rectangleguillotine as solver  # type: ignore[import-not-found, unused-ignore]

    grid = grid_of(wanted=wanted, stock=stock, kerf_mm=KERF_MM)
    builder = solver.InstanceBuilder()
    builder.set_objective(solver.Objective.VariableSizedBinPacking)
    for (length, width), sheet in zip(grid.sheets, stock, strict=True):
        builder.add_bin_type(length, width, cost=float(sheet.price), copies=sum(kind.count for kind in grid.kinds))
    for kind in grid.kinds:
        builder.add_item_type(*kind.lies[0], oriented=len(kind.lies) == 1, copies=kind.count)
    parameters = solver.OptimizeParameters()
    parameters.time_limit, parameters.verbosity_level = seconds, 0
    solution = solver.optimize(builder.build(), parameters).solution
    return float(solution.cost()) if solution.full() else float("nan")


def large_job() -> None:
    """5,000 parts of 400 sizes on one board."""
    numbers = ShuffledNumbers(5)
    wanted = [
        WantedPart(Fraction(200 + numbers.below(800)), Fraction(80 + numbers.below(520)), 12 + number % 2, "either")
        for number in range(400)
    ]
    score = Score()
    timed(score, wanted, [StockSheet(Fraction(2800), Fraction(2070), Fraction(10), Fraction(61), 0, True)], KERF_MM)
    print(f"\n{sum(part.count for part in wanted)} parts: {score.sheets} sheets, bound {score.bound}, {score.seconds:.2f} s")


if __name__ == "__main__":
    main()
