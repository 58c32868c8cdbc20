"""All sheets in, everything that only several of them can tell out; rows are completed and spelt alike on the way."""

from __future__ import annotations

from dataclasses import replace

from estimator.model.dataclass import dataclass
from estimator.model.records import Terms
from estimator.model.shop_records import Contract, Machine, Shop
from estimator.reading import job_checks, shop_checks
from estimator.reading.books import Sheets
from estimator.reading.cabinets import number_refs, own_columns
from estimator.reading.loose_parts import check_loose_parts
from estimator.reading.offers import check_contract, read_machines
from estimator.reading.references import known_names, names_for_of
from estimator.reading.roles import find_roles, read_roles, roles_are_given, spell_roles
from estimator.reading.terms import read_shop, read_terms


@dataclass(slots=True)
class Checked:
    """What is no row: the terms, the shop, the offers, and which further columns of Cabinets are lengths."""

    terms: Terms
    shop: Shop
    contract: Contract | None
    machines: tuple[Machine, ...]
    own_lengths: frozenset[str]


_NAMED = (
    ("Finishes", "finish"),
    ("Boards", "board"),
    ("Edgings", "edging"),
    ("Adhesives", "adhesive"),
    ("Construction", "kind"),
)


def check(sheets: Sheets) -> Checked:
    """Every check of the reading, in the order of the sheets."""
    rules = _text_of_rules(sheets)
    terms, unsound_terms = read_terms(sheets)
    shop, unsound_shop = read_shop(sheets, rules=rules)
    job_checks.something_to_price(sheets)
    job_checks.tell_names_twice(sheets)
    known = {name: known_names(sheets, name, field) for name, field in _NAMED}
    roles = find_roles(sheets.tables.get("Finishes"), sheets)
    for row in sheets.rows("Finishes"):
        read_roles(row, roles, sheets, known)
    finish = job_checks.job_finish(terms, sheets, known)
    job = sheets.items.get("Job")
    finish_unsound = "finish" in unsound_terms or bool(terms.finish and not finish) or not (job and job.complete)
    job_checks.check_cabinets(sheets, known, finish=finish, finish_unsound=finish_unsound)
    own_lengths = own_columns(sheets.tables.get("Cabinets"), rules=rules, of_the_shop=shop.lengths_mm, sheets=sheets)
    check_loose_parts(sheets, known, roles)
    for row in sheets.rows("Construction"):
        spell_roles(row, known["Construction"])
    roles_are_given(sheets, roles)
    job_checks.check_extras_and_options(sheets, known)
    lines = [sheets.rows(name) for name in ("Cabinets", "Loose parts", "Extras")]
    job_checks.spell_alike((row for rows in lines for row in rows), "room")
    number_refs(lines, sheets)
    shop_checks.check_labels(sheets, shop, paper=terms.paper)
    shop_checks.check_boards(sheets, shop, trim_unsound="trim_mm" in unsound_shop)
    shop_checks.check_edgings(sheets, known)
    shop_checks.check_stock(sheets, known)
    shop_checks.check_work_and_fittings(sheets, names_for_of(sheets, [role for role, _ in roles.headers], roles_complete=roles.complete))
    contract, machines = check_contract(sheets, known), read_machines(sheets)
    _set_aside_finishes_without_boards(sheets)
    terms = replace(terms, finish=finish, banding=job_checks.banding(terms, sheets, known))
    return Checked(terms, shop, contract, machines, own_lengths)


def _set_aside_finishes_without_boards(sheets: Sheets) -> None:
    """A finish whose board has no row with its sizes gives the rules no thickness, and they should not be blamed for it."""
    sound = {str(row.values["board"]) for row in sheets.rows("Boards") if row.has_sizes("Boards")}
    for row in sheets.rows("Finishes"):
        if not sound.issuperset(row.values["boards"].values()):
            row.bad.add("boards")


def _text_of_rules(sheets: Sheets) -> str:
    """All rules in small letters, so that a further column or row can be told to be asked for."""
    texts = [str(row.values[field]) for row in sheets.rows("Construction") for field in ("count", "length", "width")]
    texts += [str(row.values["number"]) for row in sheets.rows("Fittings")]
    return "\n".join(dict.fromkeys(texts)).casefold()
