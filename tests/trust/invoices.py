"""Our tax by rate and totals on published invoices: `python -m tests.trust.invoices FILE`; exit code 1 when any differs by a cent.

FILE is JSON: a list of invoices with the numbers of the examples that go with the European Commission's EN 16931 validation
artefacts (lines with net and vat_rate, document allowances and charges, vat_breakdown, vat_total, tax_exclusive, tax_inclusive). Only invoices
whose own published totals keep BR-CO-10 to BR-CO-17 exactly are judged; how many, and why the others are not, is printed.
"""

from __future__ import annotations

import json
import sys
from collections import defaultdict
from pathlib import Path
from typing import Any

from estimator.costing.pricing import tax_lines
from estimator.model.exact import Fraction
from estimator.model.results import Line
from estimator.model.units import money_text
from tests.building import extra, terms

RULES = tuple(f"BR-CO-{number}" for number in range(10, 18))


def nets_by_rate(invoice: dict[str, Any]) -> dict[str, list[str]]:
    """Every net amount of an invoice, lines and document charges and allowances, under its tax rate."""
    nets: dict[str, list[str]] = defaultdict(list)
    for line in invoice["lines"]:
        nets[line["vat_rate"] or "0"].append(line["net"])
    for charge in invoice["doc_charges"]:
        nets[charge["vat_rate"] or "0"].append(charge["amount"])
    for allowance in invoice["doc_allowances"]:
        nets[allowance["vat_rate"] or "0"].append(f"-{allowance['amount']}")
    return nets


def ours(invoice: dict[str, Any]) -> tuple[dict[Fraction, str], str, str]:
    """Tax by rate, tax in all and the total with tax, by the functions that price a job."""
    currency = invoice["currency"]
    rows = [(rate, net) for rate, nets in nets_by_rate(invoice).items() for net in nets]
    lines = [
        Line(str(i), "", "", Fraction(1), Fraction(0), Fraction(net), Fraction(net), Fraction(rate) / 100, extra("0"))
        for i, (rate, net) in enumerate(rows)
    ]
    tax = tax_lines(lines, discount=Fraction(0), delivery=Fraction(0), terms=terms(currency=currency))
    total_tax = sum((line.tax for line in tax), start=Fraction(0))
    total = sum((line.base for line in tax), start=total_tax)
    by_rate = {line.rate_share * 100: money_text(line.tax, currency=currency) for line in tax}
    return by_rate, money_text(total_tax, currency=currency), money_text(total, currency=currency)


def published(invoice: dict[str, Any]) -> tuple[dict[Fraction, str], str, str]:
    """The same figures as printed on the invoice."""
    currency = invoice["currency"]
    by_rate: dict[Fraction, Fraction] = defaultdict(Fraction)
    for row in invoice["vat_breakdown"]:
        by_rate[Fraction(row["rate"] or "0")] += Fraction(row["tax"])
    return (
        {rate: money_text(tax, currency=currency) for rate, tax in by_rate.items()},
        money_text(Fraction(invoice["vat_total"] or "0"), currency=currency),
        money_text(Fraction(invoice["tax_inclusive"]), currency=currency),
    )


def judged(invoices: list[dict[str, Any]]) -> tuple[int, list[str], list[str]]:
    """How many invoices agree, what differs, and which could not be judged."""
    agree, differ, left_out = 0, [], []
    for number, invoice in enumerate(invoices, start=1):
        name = f"{number} ({Path(invoice['provenance']['path']).name})"
        broken = [rule for rule in RULES if not invoice["exact_checks"].get(rule)]
        if broken:
            left_out.append(f"{name}: its own totals break {', '.join(broken)}")
        elif ours(invoice) == published(invoice):
            agree += 1
        else:
            differ.append(f"{name}: ours {ours(invoice)}, printed {published(invoice)}")
    return agree, differ, left_out


if __name__ == "__main__":
    agree, differ, left_out = judged(json.loads(Path(sys.argv[1]).read_text(encoding="utf-8")))
    print("\n".join([*left_out, *differ]))
    print(f"{agree} invoices agree to the cent, {len(differ)} differ, {len(left_out)} are not exact themselves")
    sys.exit(bool(differ) or not agree)
