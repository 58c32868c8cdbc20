"""Faults planted in the plans of random boards: whatever the board, the checker must tell each of them."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import pytest

from estimator.costing.cutting import check_plan, plan_board
from estimator.costing.cutting.shuffled import ShuffledNumbers
from estimator.model.cutting_plan import CuttingPlan, Pattern, StockSheet, WantedPart
from estimator.model.exact import Fraction

KERF_MM = Fraction(4)
TRIM_MM = Fraction(10)
STOCK = [StockSheet(Fraction(2440), Fraction(1220), TRIM_MM, Fraction(34), 0, True)]
BOARDS = range(12)

Fault = Callable[[Pattern, list[WantedPart]], Pattern | None]


def wanted_on(board: int) -> list[WantedPart]:
    below = ShuffledNumbers(board).below
    return [
        WantedPart(Fraction(150 + below(700)), Fraction(100 + below(400)), 2 + below(4), ("along", "either")[below(2)])  # type: ignore[arg-type]
        for _ in range(5)
    ]


def planned(wanted: list[WantedPart]) -> CuttingPlan:
    plan = plan_board(wanted=wanted, stock=STOCK, kerf_mm=KERF_MM)
    assert isinstance(plan, CuttingPlan)
    return plan


def one_over_another(pattern: Pattern, wanted: list[WantedPart]) -> Pattern | None:
    first, second, *others = pattern.placements
    return replace(pattern, placements=(first, replace(second, x_mm=first.x_mm, y_mm=first.y_mm), *others))


def into_the_trim(pattern: Pattern, wanted: list[WantedPart]) -> Pattern | None:
    first, *others = pattern.placements
    return replace(pattern, placements=(replace(first, x_mm=TRIM_MM - 1), *others))


def beyond_the_far_trim(pattern: Pattern, wanted: list[WantedPart]) -> Pattern | None:
    *others, last = pattern.placements
    return replace(pattern, placements=(*others, replace(last, y_mm=Fraction(1220) - TRIM_MM - Fraction(1, 8))))


def no_kerf_between(pattern: Pattern, wanted: list[WantedPart]) -> Pattern | None:
    """A neighbour moved up until the two touch; None where no two lie side by side."""
    def size(placement: object) -> tuple[Fraction, Fraction]:
        part = wanted[placement.part]  # type: ignore[attr-defined]
        return (part.width_mm, part.length_mm) if placement.turned else (part.length_mm, part.width_mm)  # type: ignore[attr-defined]

    for place, left in enumerate(pattern.placements):
        for number, right in enumerate(pattern.placements):
            if right.y_mm == left.y_mm and right.x_mm == left.x_mm + size(left)[0] + KERF_MM and place != number:
                touching = replace(right, x_mm=right.x_mm - KERF_MM)
                return replace(pattern, placements=(*pattern.placements[:number], touching, *pattern.placements[number + 1 :]))
    return None


def a_part_twice(pattern: Pattern, wanted: list[WantedPart]) -> Pattern | None:
    return replace(pattern, placements=(*pattern.placements, pattern.placements[0]))


def a_part_forgotten(pattern: Pattern, wanted: list[WantedPart]) -> Pattern | None:
    return replace(pattern, placements=pattern.placements[:-1])


def a_cut_that_stops_short(pattern: Pattern, wanted: list[WantedPart]) -> Pattern | None:
    first, *others = pattern.cuts
    return replace(pattern, cuts=(replace(first, length_mm=first.length_mm - 1), *others))


def an_offcut_too_large(pattern: Pattern, wanted: list[WantedPart]) -> Pattern | None:
    if not pattern.offcuts:
        return None
    first, *others = pattern.offcuts
    return replace(pattern, offcuts=(replace(first, length_mm=first.length_mm + 1), *others))


@pytest.mark.parametrize(
    ("plant", "words"),
    [
        (one_over_another, "overlap"),
        (into_the_trim, "not inside the trimmed sheet"),
        (beyond_the_far_trim, "not inside the trimmed sheet"),
        (no_kerf_between, "cannot be sawn free"),
        (a_part_twice, "is cut"),
        (a_part_forgotten, "is cut"),
        (a_cut_that_stops_short, "not in hand"),
        (an_offcut_too_large, "not the parts and the offcuts"),
    ],
)
def test_a_planted_fault_is_told_on_every_board(plant: Fault, words: str) -> None:
    planted = 0
    for board in BOARDS:
        wanted = wanted_on(board)
        plan = planned(wanted)
        assert check_plan(plan=plan, wanted=wanted, stock=STOCK, kerf_mm=KERF_MM) == []
        for number, pattern in enumerate(plan.patterns):
            wrong = plant(pattern, wanted) if len(pattern.placements) > 1 else None
            if wrong is None:
                continue
            planted += 1
            patterns = (*plan.patterns[:number], wrong, *plan.patterns[number + 1 :])
            told = check_plan(plan=replace(plan, patterns=patterns), wanted=wanted, stock=STOCK, kerf_mm=KERF_MM)
            assert words in " ".join(told)
    assert planted >= len(BOARDS) // 2
