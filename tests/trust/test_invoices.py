"""The judge of published invoices sees a cent that is planted, and leaves out what its own totals break."""

from __future__ import annotations

from typing import Any

from tests.trust.invoices import RULES, judged


def invoice(**other: Any) -> dict[str, Any]:
    """Example 8 of the European Commission's EN 16931 artefacts, its ten lines added up to one: 908.91 at 21 %."""
    return {
        "currency": "EUR",
        "lines": [{"net": "908.91", "vat_rate": "21"}],
        "doc_charges": [],
        "doc_allowances": [],
        "vat_breakdown": [{"rate": "21", "tax": "190.87"}],
        "vat_total": "190.87",
        "tax_inclusive": "1099.78",
        "exact_checks": dict.fromkeys(RULES, True),
        "provenance": {"path": "examples/8.xml"},
        **other,
    }


def test_a_sound_invoice_agrees() -> None:
    assert judged([invoice()]) == (1, [], [])


def test_a_planted_cent_is_seen() -> None:
    agree, differ, _ = judged([invoice(tax_inclusive="1099.79")])
    assert agree == 0
    assert "1099.79" in differ[0]


def test_an_invoice_that_is_wrong_itself_is_left_out_and_said() -> None:
    agree, differ, left_out = judged([invoice(exact_checks=dict.fromkeys(RULES, True) | {"BR-CO-17": False})])
    assert (agree, differ) == (0, [])
    assert "BR-CO-17" in left_out[0]
