"""The comparison must say nothing of an answer that agrees, and must name whatever is planted in one that does not."""

import copy

import pytest

from tests.oracle.answer import AtLeast, Money, answer
from tests.oracle.compare import differences
from tests.oracle.random_jobs import random_job
from tests.oracle.worked import one_cabinet

WHOLE = {"count", "parts", "sheets", "bound", "edges", "packs", "qty"}


def as_estimate(value, key="", inside=""):
    """What a program that agrees would print."""
    if isinstance(value, Money):
        return f"{float(value.amount):.{value.places}f}"
    if isinstance(value, AtLeast):
        return value.low
    if isinstance(value, dict):
        return {name: as_estimate(one, name, key) for name, one in value.items()}
    if isinstance(value, list):
        return [as_estimate(one, key, inside) for one in value]
    if isinstance(value, (bool, str)) or value is None:
        return value
    if key in ("rate", "tax_rate"):
        return f"{float(value):g}"
    if key in WHOLE or (inside == "counts" and not key.endswith(("m2", "metre"))):
        return int(value) if value == int(value) else f"{float(value)}"
    return f"{float(value):.10f}"


@pytest.fixture(scope="module")
def agreeing():
    expected = answer(one_cabinet())
    return expected, as_estimate(expected)


def test_nothing_is_said_where_both_agree(agreeing):
    assert differences(*agreeing) == []


@pytest.mark.parametrize("seed", range(12))
def test_nothing_is_said_of_random_jobs_that_agree(seed):
    expected = answer(random_job(seed, most_cabinets=12))
    assert differences(expected, as_estimate(expected)) == []


PLANTED = (
    (("price", "gross"), "179.66", "price.gross"),
    (("price", "gross"), "179.6500", "price.gross"),
    (("price", "instalments", 0, "amount"), "89.82", "price.instalments[0].amount"),
    (("price", "lines", 0, "qty"), 2, "price.lines[0].qty"),
    (("price", "tax", 0, "rate"), "21", "price.tax[0].rate"),
    (("price", "tax", 0, "rate"), "20.00", "price.tax[0].rate"),
    (("price", "lines", 0, "tax_rate"), 20, "price.lines[0].tax_rate"),
    (("price", "target"), "149.71389000", "price.target"),
    (("cost", "boards"), "61.50000200", "cost.boards"),
    (("cost", "boards"), "61.5000001", "cost.boards"),
    (("cost", "boards"), 61, "cost.boards"),
    (("cost", "boards"), 61.5, "cost.boards"),
    (("boards", "white 18", "sheets"), "1", "boards.white 18.sheets"),
    (("boards", "green"), {}, "boards.green"),
    (("minutes", "steps", "trim"), "6.88500000", "minutes.steps.trim"),
    (("plans", 0, "relevant_cost"), "9.65102000", "plans[0].relevant_cost"),
    (("plans", 1, "possible"), False, "plans[1].possible"),
    (("plans", 1, "sent"), [], "plans[1].sent"),
    (("best",), ["white thin"], "best"),
    (("batches",), [], "batches"),
    (("batches", 0, "slack_min"), None, "batches[0].slack_min"),
    (("parts", "list", 0, "cut_width_mm"), "299.60000000", "parts.list"),
    (("parts", "list", 0, "banded"), [], "parts.list"),
    (("adhesives",), {}, "adhesives.contact"),
    (("counts", "by hand edge"), 6, "counts.by hand edge"),
    (("counts", "m2"), "0.92777000", "counts.m2"),
)


@pytest.mark.parametrize(
    ("place", "value", "named"), PLANTED, ids=[f"{'.'.join(map(str, p))}={v}" for p, v, _ in PLANTED]
)
def test_a_planted_difference_is_named(agreeing, place, value, named):
    expected, found = agreeing[0], copy.deepcopy(agreeing[1])
    at = found
    for step in place[:-1]:
        at = at[step]
    at[place[-1]] = value
    assert any(said.startswith(named) for said in differences(expected, found))


@pytest.mark.parametrize(
    "key", ["parts", "boards", "edgings", "minutes", "plans", "cost", "price", "options", "chosen"]
)
def test_a_missing_key_is_named(agreeing, key):
    found = {name: value for name, value in agreeing[1].items() if name != key}
    assert differences(agreeing[0], found) == [f"{key}: is missing"]
