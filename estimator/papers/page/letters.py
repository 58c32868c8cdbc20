"""Which letters of a job the papers cannot show as they should: an Estimate goes in, those letters come out, for a remark."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import fields, is_dataclass

from estimator.model.problems import Items, Row
from estimator.model.results import Estimate
from estimator.papers.page.fonts import letters_not_joined, letters_without_a_font


def missing_letters(estimate: Estimate) -> str:
    """The letters of the job that no font of the papers has: each is printed as a sign that nobody overlooks."""
    return letters_without_a_font(_texts(estimate.job))


def not_joined(estimate: Estimate) -> str:
    """The letters of the job that should be joined to their neighbours and cannot be: each is printed by itself."""
    return letters_not_joined(_texts(estimate.job))


def _texts(record: object) -> Iterator[str]:
    """Every text in a record and in what it holds; where it stands in the workbook is not printed."""
    if isinstance(record, str):
        if not record.isascii():
            yield record
    elif isinstance(record, tuple):
        for one in record:
            yield from _texts(one)
    elif isinstance(record, Mapping):
        for name, value in record.items():
            yield from _texts(name)
            yield from _texts(value)
    elif is_dataclass(record) and not isinstance(record, (Row, Items)):
        for field in fields(record):
            yield from _texts(getattr(record, field.name))
