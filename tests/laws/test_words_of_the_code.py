"""Names wear their unit, numbers face each other by name, formulas cite listed sources, and the engine knows no float."""

import ast
import re
from collections.abc import Iterator
from pathlib import Path

import pytest

HOUSE = Path(__file__).parents[2]
ENGINE = sorted((HOUSE / "estimator" / "costing").rglob("*.py")) + sorted((HOUSE / "estimator" / "model").glob("*.py"))
UNITS = ("_mm", "_m", "_m2", "_mm2", "_mm3", "_min", "_minutes", "_hours", "_days", "_litres", "_share", "_per_m", "_per_m2",
         "_per_litre", "_kg_m3", "_n_mm2", "_years", "_rate", "_a_year", "_price", "_cost", "_charge", "_money")  # fmt: skip
PLAIN = {
    # plain numbers, counts and money, whose name says all there is to say
    "value", "total", "step", "minutes", "litres", "rating", "qty", "number", "count", "metres", "hours", "workers", "weight",
    "low", "likely", "high", "cost", "price", "base", "wage", "each", "net", "gross", "tax", "unit", "amount", "rate", "target",
    "share", "discount", "delivery", "sum_lines", "left", "right", "of_one", "factor", "prime", "money",
}  # fmt: skip


def formulas() -> Iterator[tuple[Path, ast.FunctionDef]]:
    for path in ENGINE:
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.FunctionDef):
                yield path, node


def numbers_of(function: ast.FunctionDef) -> list[ast.arg]:
    arguments = [*function.args.posonlyargs, *function.args.args, *function.args.kwonlyargs]
    return [one for one in arguments if isinstance(one.annotation, ast.Name) and one.annotation.id == "Fraction"]


def unitless(source: str) -> list[str]:
    return [
        argument.arg
        for node in ast.walk(ast.parse(source))
        if isinstance(node, ast.FunctionDef) and not node.name.startswith("_")
        for argument in numbers_of(node)
        if not argument.arg.endswith(UNITS) and argument.arg not in PLAIN
    ]


@pytest.mark.parametrize("path", ENGINE, ids=lambda path: str(path.relative_to(HOUSE)))
def test_a_number_wears_its_unit(path: Path) -> None:
    assert unitless(path.read_text(encoding="utf-8")) == []


def test_a_name_without_unit_is_caught() -> None:
    assert unitless("def f(*, span: Fraction): ...") == ["span"]


def test_two_numbers_are_passed_by_name() -> None:
    loose = []
    for path, function in formulas():
        numbers = numbers_of(function)
        if len(numbers) > 1 and not function.name.startswith("_") and any(one in function.args.args for one in numbers[1:]):
            loose.append(f"{path.name}: {function.name}")
    assert loose == []


def cited(docstring: str) -> list[str]:
    """The keys after `Source:` in a docstring."""
    found = re.search(r"^\s*Source: (.+?)(?:\n\s*\n|\n\s*[A-Z][a-z]+:|\Z)", docstring, re.MULTILINE | re.DOTALL)
    if not found:
        return []
    parts = found.group(1).replace("common practice", "common-practice").split(";")
    return [re.split(r"[\s,(:]|\.$|\. ", part.strip(), maxsplit=1)[0] for part in parts]


def listed() -> set[str]:
    return set(re.findall(r"^## `([^`]+)`", (HOUSE / "reports" / "sources.md").read_text(encoding="utf-8"), re.MULTILINE))


def test_every_source_that_a_formula_cites_is_listed() -> None:
    keys = listed()
    unknown = [
        f"{path.name}: {function.name}: {key}"
        for path, function in formulas()
        for key in cited(ast.get_docstring(function) or "")
        if key.rstrip(".") not in keys
    ]
    assert unknown == []


def test_a_formula_by_hand_cites_a_source() -> None:
    """A docstring that works an example by hand is a formula, and says where it comes from."""
    silent = [
        f"{path.name}: {function.name}"
        for path, function in formulas()
        if "By hand:" in (ast.get_docstring(function) or "") and not cited(ast.get_docstring(function) or "")
    ]
    assert silent == []


@pytest.mark.parametrize("word", ["float", "round"])
def test_the_engine_calls_no(word: str) -> None:
    calls = [
        f"{path.name}:{node.lineno}"
        for path in ENGINE
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8")))
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id == word
    ]
    assert calls == []


def test_no_function_needs_scrolling() -> None:
    long = [
        f"{path.relative_to(HOUSE)}: {node.name}, {node.end_lineno - node.lineno + 1} lines"
        for path in sorted((HOUSE / "estimator").rglob("*.py"))
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8")))
        if isinstance(node, ast.FunctionDef) and node.end_lineno and node.end_lineno - node.lineno + 1 > 75
    ]
    assert long == []
