"""The driver that plants small faults, itself tried on planted ones: what it plants, what it swaps in, what it calls caught, how it counts."""

import ast
import csv
import subprocess
import sys
from pathlib import Path

import pytest

from tests.trust import mutants
from tests.trust.mutating import mutations_of, planted

SOURCE = '''
"""A module."""
from math import ceil
LEAST: int = 2


def sheets(parts, *, a_sheet=4):
    """Sheets for so many parts."""
    if not parts or a_sheet < LEAST:
        return 0
    for part in parts:
        if part > a_sheet:
            raise ValueError("too large")
    return ceil(sum(part for part in parts if part) / a_sheet)
'''


def test_every_sort_of_fault_is_planted_and_words_for_the_reader_are_left_alone() -> None:
    found = [(one.function, one.was, one.now) for one in mutations_of(SOURCE)]
    assert found == [
        ("", "2", "3"), ("", "4", "5"), ("sheets", "not parts", "parts"), ("sheets", "a_sheet < LEAST", "a_sheet <= LEAST"),
        ("sheets", "a_sheet < LEAST", "not a_sheet < LEAST"), ("sheets", "not parts or a_sheet < LEAST", "not parts and a_sheet < LEAST"),
        ("sheets", "0", "1"), ("sheets", "not parts or a_sheet < LEAST", "not (not parts or a_sheet < LEAST)"),
        ("sheets", "part > a_sheet", "part >= a_sheet"), ("sheets", "part > a_sheet", "not part > a_sheet"),
        ("sheets", "'too large'", "'XXtoo large'"), ("sheets", "raise ValueError('too large')", "pass"), ("sheets", "ceil", "floor"),
        ("sheets", "part", "True"), ("sheets", "sum((part for part in parts if part)) / a_sheet", "sum((part for part in parts if part)) * a_sheet"),
    ]  # fmt: skip


def test_each_fault_differs_from_the_sound_module_and_from_every_other() -> None:
    texts = [ast.unparse(planted(SOURCE, number)) for number in range(len(mutations_of(SOURCE)))]
    assert len({*texts, ast.unparse(ast.parse(SOURCE))}) == len(texts) + 1


@pytest.mark.parametrize(("work", "ended"), [(lambda: 0, "outlived"), (lambda: 1, "caught"), (lambda: 1 / 0, "caught")])
def test_a_fault_lives_only_where_every_test_passes(work: object, ended: str) -> None:
    assert mutants.in_a_fork(work, seconds=60) == ended  # type: ignore[arg-type]


def test_a_fault_swapped_in_changes_the_function_wherever_it_was_imported_to() -> None:
    from estimator.costing.edging import strip_length_mm

    file = "estimator/costing/edging.py"
    which = next(number for number, one in enumerate(mutations_of((mutants.HOUSE / file).read_text())) if one.name == "strip_length_mm: 2 -> 3")

    def swapped_and_right() -> int:
        mutants.swapped(file, which)
        return 0 if strip_length_mm(edge_mm=564, overhang_mm=20) == 624 else 1  # type: ignore[arg-type]

    assert mutants.in_a_fork(swapped_and_right, seconds=60) == "outlived"
    assert strip_length_mm(edge_mm=564, overhang_mm=20) == 604  # type: ignore[arg-type]


def test_a_fault_outside_all_functions_is_there_for_the_tests_that_import_the_module(tmp_path: Path) -> None:
    """In a Python of its own, because this one has imported the sound module long since."""
    script = """
import sys
from tests.trust import mutants
file = "estimator/costing/risk.py"
faults = mutants.faults_of([file])
which = next(number for _, number, one in faults if not one.function and one.was == "9")
name = "tests/costing/test_risk.py::test_p80_and_p90_are_where_80_and_90_percent_lie_below"
ends = [mutants.in_a_fork(lambda: mutants.freshly(file, number, [name]), seconds=60) for number in (which, *spoiling(faults))]
print(ends)
""".replace("spoiling(faults)", "(number for _, number, one in faults if one.was == \"'1.2815515655446004'\")")
    said = subprocess.run([sys.executable, "-c", script], cwd=mutants.HOUSE, capture_output=True, text=True, check=True)
    assert said.stdout.strip().endswith("['outlived', 'caught']")


def test_the_interval_is_that_of_the_published_formula() -> None:
    """E. B. Wilson, 1927, as in R. G. Newcombe, Statistics in Medicine 17 (1998), table I: 81 of 263 gives 0.2553 to 0.3662; from memory."""
    low, high = mutants.between(81, 263)
    assert (round(low, 2), round(high, 2)) == (25.53, 36.62)


def test_every_listed_fault_can_still_be_planted_and_gives_a_reason() -> None:
    with mutants.LISTED.open(newline="") as rows:
        listed = list(csv.DictReader(rows))
    names = {file: {one.name for one in mutations_of(Path(mutants.HOUSE / file).read_text())} for file in {row["file"] for row in listed}}
    assert [row for row in listed if row["fault"] not in names[row["file"]]] == []
    assert {row["reason"] for row in listed} <= {"same behaviour", "only speed", "only wording", "another sound plan", "not caught"}
    assert all(row["why"] for row in listed)
