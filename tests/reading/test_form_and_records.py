"""The form and the records say the same: every column is a field, every field has a column or is filled in by the reading."""

from __future__ import annotations

from dataclasses import fields
from typing import Any

import pytest

from estimator.model import form, records
from estimator.model.form import SHEETS
from estimator.reading.cells import read_cell
from estimator.reading.typed_numbers import Wrong

PAIRS: dict[str, tuple[Any, set[str]]] = {
    "Job": (records.Terms, set()),
    "Cabinets": (records.Cabinet, {"own_numbers", "own_lengths"}),
    "Loose parts": (records.LoosePart, set()),
    "Finishes": (records.Finish, {"boards", "edgings"}),
    "Extras": (records.Extra, set()),
    "Options": (records.OptionRow, set()),
    "Shop": (records.Shop, {"lengths_mm", "units"}),
    "Boards": (records.Board, set()),
    "Edgings": (records.Edging, set()),
    "Adhesives": (records.Adhesive, set()),
    "Fittings": (records.Fitting, {"units"}),
    "Work": (records.Step, set()),
    "Kinds": (records.Kind, set()),
    "Construction": (records.ConstructionRow, {"units"}),
    "Contract": (records.Contract, set()),
    "Contract prices": (records.ContractPrice, set()),
    "Machine": (records.Machine, {"name"}),
    "Offcuts": (records.BoardOffcut, set()),
    "Roll ends": (records.RollEnd, set()),
    "Drying": (records.DryingRow, set()),
    "Merchant": (records.MerchantRow, set()),
}
NOT_READ_INTO_A_JOB = {"Time log"}


def test_every_sheet_has_its_record() -> None:
    assert {sheet.name for sheet in SHEETS} == PAIRS.keys() | NOT_READ_INTO_A_JOB


@pytest.mark.parametrize("name", PAIRS)
def test_columns_and_fields_agree(name: str) -> None:
    record, filled_in = PAIRS[name]
    sheet = next(sheet for sheet in SHEETS if sheet.name == name)
    assert {column.field for column in sheet.columns} == {field.name for field in fields(record)} - filled_in - {"at"}


def columns() -> list[tuple[form.Sheet, form.Column]]:
    return [(sheet, column) for sheet in SHEETS for column in sheet.columns]


@pytest.mark.parametrize(("sheet", "column"), columns(), ids=lambda part: getattr(part, "header", getattr(part, "name", "")))
def test_every_default_can_be_read(sheet: form.Sheet, column: form.Column) -> None:
    assert not isinstance(read_cell(None, column, units="mm"), Wrong)
    assert not isinstance(read_cell(None, column, units="inch"), Wrong)
    if column.default:
        assert not column.needed, f"{sheet.name} > {column.header} has a default, so a blank cell is an answer"


def test_a_default_that_cannot_be_read_would_be_caught() -> None:
    assert isinstance(read_cell(None, form.Column("Qty", "qty", "whole", "", "a few"), units="mm"), Wrong)
