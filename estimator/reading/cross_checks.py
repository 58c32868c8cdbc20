"""All sheets in, everything that only several of them can tell out; rows are completed and spelt alike on the way."""

from __future__ import annotations

from dataclasses import dataclass, replace

from estimator.model.records import Contract, Machine, Shop, Terms
from estimator.reading import job_checks, shop_checks
from estimator.reading.books import Sheets
from estimator.reading.cabinets import known_kinds, number_refs
from estimator.reading.offers import check_contract, read_machines
from estimator.reading.references import known_names, names_for_of, read_roles, role_headers
from estimator.reading.roles import roles_are_given, spell_roles
from estimator.reading.terms import read_shop, read_terms


@dataclass(slots=True)
class Checked:
    """What is no row: the terms, the shop, the offers, and which further columns of Cabinets are lengths."""

    terms: Terms
    shop: Shop
    contract: Contract | None
    machines: tuple[Machine, ...]
    own_lengths: frozenset[str]


_NAMED = (("Finishes", "finish"), ("Boards", "board"), ("Edgings", "edging"), ("Adhesives", "adhesive"))


def check(sheets: Sheets) -> Checked:
    """Every check of the reading, in the order of the sheets."""
    rules = _text_of_rules(sheets)
    terms, unsound_terms = read_terms(sheets)
    shop, unsound_shop = read_shop(sheets, rules=rules)
    job_checks.something_to_price(sheets)
    known = {name: known_names(sheets, name, field) for name, field in _NAMED}
    known["Construction"] = known_kinds(sheets)
    headers = role_headers(sheets.tables.get("Finishes"), sheets)
    for row in sheets.rows("Finishes"):
        read_roles(row, headers, sheets, known)
    finish = job_checks.job_finish(terms, sheets, known)
    finish_unsound = "finish" in unsound_terms or bool(terms.finish and not finish)
    own_lengths = job_checks.check_cabinets(sheets, known, rules=rules, finish=finish, finish_unsound=finish_unsound)
    job_checks.check_loose_parts(sheets, known)
    for row in sheets.rows("Construction"):
        spell_roles(row, known["Construction"])
    roles_are_given(sheets, headers)
    job_checks.check_finishes_extras_options(sheets, known)
    number_refs([sheets.rows(name) for name in ("Cabinets", "Loose parts", "Extras")], sheets)
    shop_checks.check_boards(sheets, shop, trim_unsound="trim_mm" in unsound_shop)
    shop_checks.check_edgings(sheets, known)
    shop_checks.check_stock(sheets, known)
    shop_checks.check_work_and_fittings(sheets, names_for_of(sheets, headers))
    contract, machines = check_contract(sheets, known), read_machines(sheets)
    terms = replace(terms, finish=finish, banding=job_checks.banding(terms, sheets, known))
    return Checked(terms, shop, contract, machines, own_lengths)


def _text_of_rules(sheets: Sheets) -> str:
    """All rules in small letters, so that a further column or row can be told to be asked for."""
    texts = [str(row.values[field]) for row in sheets.rows("Construction") for field in ("count", "length", "width")]
    texts += [str(row.values["number"]) for row in sheets.rows("Fittings")]
    return "\n".join(dict.fromkeys(texts)).casefold()
