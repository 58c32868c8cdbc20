"""Where each change stands in the bridge, which row is which in two jobs, and how a cell is said: all typed, on rows of two or three fields."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date
from typing import Any

import pytest

from estimator.costing.bridge_changes import _cell, _cell_changes, _length_changes, _rank, _sheet, difference_of, row_name
from estimator.costing.bridge_order import is_work, least_added
from estimator.costing.bridge_rows import KEYS, Slot, content, fields_of, slots_of
from estimator.costing.bridge_words import cell_words, number_words
from estimator.model.comparison import CellChange
from estimator.model.exact import Fraction
from estimator.model.form import Column
from estimator.model.problems import Row
from estimator.model.shop_records import Instalment, Money, Share
from tests.building import AT, extra, job, shop, terms
from tests.costing.banding.worked import board, fitting, four_edgings, loose
from tests.samples import sample

F = Fraction

# the sheet of each, the order in which they are said, and the place of a row that is changed, that came, that went
PLACES: dict[str, tuple[str, int, tuple[int, int], tuple[int, int], tuple[int, int]]] = {
    "cabinets": ("Cabinets", 0, (2, 0), (2, 0), (2, 0)), "loose_parts": ("Loose parts", 1, (2, 1), (2, 1), (2, 1)), "extras": ("Extras", 2, (2, 2), (2, 2), (2, 2)),
    "options": ("Options", 3, (30, 3), (30, 3), (30, 3)), "finishes": ("Finishes", 4, (3, 0), (1, 3), (20, -3)), "kinds": ("Kinds", 5, (4, 0), (1, 4), (20, -4)),
    "construction": ("Construction", 6, (4, 1), (1, 5), (20, -5)), "boards": ("Boards", 7, (5, 0), (1, 2), (20, -2)), "edgings": ("Edgings", 8, (5, 1), (1, 1), (20, -1)),
    "adhesives": ("Adhesives", 9, (5, 2), (1, 0), (20, 0)), "fittings": ("Fittings", 10, (5, 3), (5, 3), (5, 3)), "work": ("Work", 11, (7, 0), (7, 0), (7, 0)),
    "contract_prices": ("Contract prices", 12, (6, 1), (6, 1), (6, 1)), "offcuts": ("Offcuts", 13, (5, 4), (5, 4), (5, 4)), "roll_ends": ("Roll ends", 14, (5, 5), (5, 5), (5, 5)),
    "drying": ("Drying", 15, (30, 15), (30, 15), (30, 15)), "merchant": ("Merchant", 16, (30, 16), (30, 16), (30, 16)), "more_machines": ("Machine", 17, (30, 17), (30, 17), (30, 17)),
    "terms": ("Job", 18, (8, 0), (8, 0), (8, 0)), "shop": ("Shop", 19, (7, 1), (7, 1), (7, 1)), "contract": ("Contract", 20, (6, 0), (6, 0), (6, 0)), "machine": ("Machine", 21, (30, 21), (30, 21), (30, 21)),
}  # fmt: skip


def test_where_every_change_stands() -> None:
    """New names first, then what is made, how it is built, what it costs, who bands it, work, terms; names that went; what is only said."""
    for field, (sheet, order, changed, came, went) in PLACES.items():
        assert (_rank(field, 7), _rank(field, 7, came=True), _rank(field, 7, went=True)) == ((*changed, 7), (*came, 7), (*went, 7)), field
        assert _rank(field, 7, said_only=True) == (30, order, 7)
        assert _sheet(field).name == sheet


def test_what_a_row_is_known_by() -> None:
    assert {field: " ".join(names) for field, names in KEYS.items()} == {
        "cabinets": "ref", "loose_parts": "ref", "extras": "ref", "options": "option replace_finish", "finishes": "finish", "kinds": "kind", "construction": "kind part",
        "boards": "board sheet_length_mm sheet_width_mm", "edgings": "edging width_mm", "adhesives": "adhesive", "fittings": "item route per of", "work": "step", "contract_prices": "edging from_m",
        "offcuts": "board length_mm width_mm", "roll_ends": "edging width_mm length_m", "drying": "adhesive temperature humidity", "merchant": "merchant board", "more_machines": "name",
    }  # fmt: skip


def test_what_a_row_is_called() -> None:
    assert row_name(board(sheet_length_mm=F(2800), sheet_width_mm=F(2070)), "boards", "mm") == "white 18, 2800 x 2070"
    assert row_name(board(sheet_length_mm=F(2540), sheet_width_mm=F(1270)), "boards", "inch") == 'white 18, 100" x 50"'
    rows = sample("one-cabinet")
    assert row_name(rows.construction[0], "construction", "mm") == f"{rows.construction[0].kind} {rows.construction[0].part}"
    assert row_name(rows.edgings[0], "edgings", "mm") == "white 0.4 mm"
    assert row_name(fitting("screw", "", "part", "white", "1"), "fittings", "mm") == "screw"
    assert row_name(replace(loose("", 1, 1, 1, ""), at=Row("b.xlsx", "Loose parts", 9, {})), "loose_parts", "mm") == "row 9"


# which row is which -------------------------------------------------------------------------------------------------------------------------


@dataclass(frozen=True)
class Thing:
    """A row of a sheet that is known by its name and size."""

    board: str
    sheet_length_mm: int
    sheet_width_mm: int = 1
    note: str = ""
    at: str = ""


def paired(old: str, new: str, *, field: str = "boards") -> str:
    """Rows as letter, size and note; the answer as old > new, with - for none."""

    def rows(words: str) -> list[Any]:
        if field == "extras":
            return [replace(extra("1", ref=word[0]), words=word[1:]) for word in words.split()]
        return [Thing(word[0], int(word[1]), note=word[2:]) for word in words.split()]

    def said(row: Any) -> str:
        return "-" if row is None else f"{row.ref}{row.words}" if field == "extras" else f"{row.board}{row.sheet_length_mm}{row.note}"

    before, after = rows(old), rows(new)
    slots = slots_of(before, after, field=field)
    assert all(slot.old is None or any(slot.old is row for row in before) for slot in slots)
    return " ".join(f"{said(slot.old)}>{said(slot.new)}" for slot in slots)


@pytest.mark.parametrize(
    ("old", "new", "pairs"),
    [
        ("a1 b2", "a1 b2", "a1>a1 b2>b2"), ("a1 b2", "b2 a1", "b2>b2 a1>a1"), ("a1 b2", "a1x b2", "a1>a1x b2>b2"), ("a1 b2", "b2", "a1>- b2>b2"), ("a1 b2 c3", "a1 c3", "a1>a1 b2>- c3>c3"), ("a1", "a1 b2", "a1>a1 ->b2"), ("a1 b2 c3", "c3", "a1>- b2>- c3>c3"),
        ("a1 b2 c3 d4", "c3 a1", "c3>c3 d4>- a1>a1 b2>-"), ("", "a1", "->a1"), ("a1", "", "a1>-"),
        # the only one of its board left on both sides is the same in another size; of two it is not known which
        ("a1", "a2", "a1>a2"), ("a1 a2", "a3", "a1>- a2>- ->a3"), ("a1", "a2 a3", "a1>- ->a2 ->a3"), ("a1 a2", "a2 a3", "a2>a2 a1>a3"), ("a1 b1", "b2 a2", "b1>b2 a1>a2"),
        # two alike: what says the same is paired before what is only called the same
        ("a1x a1y", "a1y a1z", "a1y>a1y a1x>a1z"), ("a1 a1", "a1", "a1>a1 a1>-"),
    ],
)  # fmt: skip
def test_rows_of_two_jobs(old: str, new: str, pairs: str) -> None:
    assert paired(old, new) == pairs


@pytest.mark.parametrize(
    ("old", "new", "pairs"),
    [
        ("1oven 2hob", "1oven 2hob", "1oven>1oven 2hob>2hob"), ("1oven 2hob", "1hob", "1oven>- 2hob>1hob"), ("1oven 2hob", "1hob 2oven", "1oven>1hob 2hob>2oven"), ("1oven 2hob 3sink", "1oven 2sink", "1oven>1oven 2hob>- 3sink>2sink"),
        ("1oven", "1hob 2oven", "->1hob 1oven>2oven"), ("1oven 2hob", "1tap", "1oven>1tap 2hob>-"),
    ],
)  # fmt: skip
def test_rows_numbered_by_the_program_keep_what_they_say_where_some_came_or_went(old: str, new: str, pairs: str) -> None:
    assert paired(old, new, field="extras") == pairs


def test_what_a_row_says_wherever_it_stands() -> None:
    assert content(Thing("a", 1, at="here")) == content(Thing("a", 1, at="there")) == ("a", 1, 1, "")
    assert fields_of(Thing("a", 1), besides=("at", "note")) == ("board", "sheet_length_mm", "sheet_width_mm")
    cabinets = [replace(sample("one-cabinet").cabinets[0], own_numbers=numbers) for numbers in ({"a": F(1), "b": F(2)}, {"b": F(2), "a": F(1)}, {"a": F(2)})]
    assert content(cabinets[0]) == content(cabinets[1]) != content(cabinets[2])
    assert slots_of([], [], field="work") == ()
    assert slots_of([cabinets[0]], [cabinets[2]], field="cabinets") == (Slot(cabinets[0], cabinets[2]),)


# how a cell is said -------------------------------------------------------------------------------------------------------------------------


def column(what: str) -> Column:
    return Column("", "", what, "")


@pytest.mark.parametrize(
    ("value", "what", "units", "words"),
    [
        (None, "number", "mm", ""), ("", "number", "mm", ""), (False, "yes or no", "mm", "no"), (True, "yes or no", "mm", "yes"), (0, "number", "mm", "0"), (7, "count", "mm", "7"), (F(1, 3), "number", "mm", "0.333333"), (F("0.125"), "percent", "mm", "12.5 %"), (F(1, 3), "percent", "mm", "33.333333 %"),
        (F("25.4"), "length", "mm", "25.4"), (F("38.1"), "length", "inch", '1 1/2"'), (F("38.1"), "lengths", "inch", '1 1/2"'), (F("3.048"), "roll length", "inch", "10"), (F("3.048"), "roll length", "mm", "3.048"), (F(2), "money a metre", "inch", "0.6096"), (F(2), "money a metre", "mm", "2"), (F(2), "number", "inch", "2"),
        (Share(F("0.175")), "text", "mm", "17.5 %"), (Money(F("12.50")), "text", "mm", "12.5"), (date(2031, 2, 3), "date", "mm", "2031-02-03"), ({"b": F(2), "a": F("1.5")}, "number", "mm", "a 1.5, b 2"), ((F(2), F(1)), "number", "mm", "2, 1"), (frozenset(("b", "a")), "text", "mm", "a, b"),
        ((Instalment(F("0.4"), "on order"), Instalment(F("0.6"), "at the end")), "text", "mm", "40 % on order, 60 % at the end"), ("plain", "text", "mm", "plain"), ((F("25.4"),), "lengths", "inch", '1"'),
    ],
)  # fmt: skip
def test_a_value_as_it_is_typed(value: Any, what: str, units: str, words: str) -> None:
    assert cell_words(value, column(what), units=units) == words


def test_a_number_without_a_column_is_plain() -> None:
    assert cell_words(F(2), None, units="inch") == "2"
    assert number_words(F("12.7"), "length", units="inch") == '1/2"'


def test_cells_of_a_finish_and_of_a_cabinet() -> None:
    finish = sample("one-cabinet").finishes[0]
    changed = replace(finish, boards={"carcass": "oak 18", "front": "oak 18"}, edgings={}, words="Oak")
    cells = list(_cell_changes(finish, changed, _sheet("finishes"), "mm"))
    assert [(cell.header, cell.before, cell.after) for cell in cells if cell.header.endswith((" board", " edging"))] == [
        *[("carcass board", "white 18", "oak 18"), ("front board", finish.boards.get("front", ""), "oak 18")], *[(f"{role} edging", name, "") for role, name in sorted(finish.edgings.items())],
    ]  # fmt: skip
    cabinet = sample("one-cabinet").cabinets[0]
    other = replace(cabinet, own_numbers={"leg_height": F(100)}, own_lengths=frozenset({"leg_height"}), qty=3)
    assert [(cell.header, cell.before, cell.after) for cell in _cell_changes(cabinet, other, _sheet("cabinets"), "mm")] == [("Qty", "1", "3"), ("leg height", "", "100")]


def test_a_field_that_has_no_column_is_called_by_its_name() -> None:
    assert _cell(AT, "front_heights_mm", None, None, (F(1), F(2)), "mm") == CellChange(AT.place("Front heights mm"), "Front heights mm", "", "1, 2")


def test_lengths_of_the_box() -> None:
    """A new one comes before the rules that may name it, one that went after those that named it, one that is changed with them."""
    old, new = (job(shop=shop(lengths_mm=lengths)) for lengths in ({"gap_mid": F(3), "rail": F(100), "same": F(1)}, {"gap_mid": F(4), "plinth_height": F("120.5"), "same": F(1)}))
    found = list(_length_changes(old, new, "mm"))
    assert [(change.rank, change.field, change.piece) for change in found] == [((4, 2, 0), "shop", "length gap_mid"), ((1, -1, 1), "shop", "length plinth_height"), ((20, 1, 2), "shop", "length rail")]
    assert [change.said.cells[0] for change in found] == [
        CellChange(new.shop.at.place("gap mid"), "gap mid", "3", "4"), CellChange(new.shop.at.place("plinth height"), "plinth height", "", "120.5"), CellChange(old.shop.at.place("rail"), "rail", "100", ""),
    ]  # fmt: skip
    assert [(change.said.sheet, change.said.name, change.said.kind) for change in found] == [("Shop", name, "changed") for name in ("gap mid", "plinth height", "rail")]


def test_a_length_of_the_box_in_inches() -> None:
    old, new = (job(shop=shop(lengths_mm=lengths)) for lengths in ({"gap_mid": F("12.7")}, {"gap_mid": F("38.1")}))
    (change,) = _length_changes(old, new, "inch")
    assert change.said.cells == (CellChange(new.shop.at.place("gap mid"), "gap mid", '1/2"', '1 1/2"'),)


def test_rows_in_another_order_are_a_change_of_their_own() -> None:
    old = four_edgings()
    new = replace(old, loose_parts=old.loose_parts[::-1])
    (moved,) = difference_of(old, new).changes
    assert (moved.rank, moved.field, moved.piece, moved.said.sheet, moved.said.kind, moved.said.name) == ((0, 0, 0), "loose_parts", "order", "Loose parts", "moved", "")
    assert (is_work(moved), moved.is_only_said) == (False, False)


SAID_ONLY = {
    "terms": "job_name quote_number revision quote_date prepared_by client client_address site_address client_email units tax_name prices_shown tax_words quote_shows status lead_time_words not_included "
    "payment_schedule deposit_cap valid_for_days finish logo language paper show_fractions bench_temperature bench_humidity",
    "shop": "shop_name shop_address licence_number tax_number bank email telephone colour prices_stale_after_days units learning learning_share learning_floor_share label_columns label_rows label_side_mm "
    "label_top_mm least_change_fee",
    "contract": "",
}  # fmt: skip
"""Items on which no price rests, by the names of their fields."""


@pytest.mark.parametrize("field", SAID_ONLY)
def test_items_that_are_only_said(field: str) -> None:
    plain = four_edgings()
    items = getattr(plain, field)
    said = set()
    for name in fields_of(items, besides=("at", "lengths_mm")):
        (change,) = difference_of(plain, replace(plain, **{field: replace(items, **{name: "something else"})})).changes
        assert change.piece == {"margin_share": "margin_share+markup_share", "markup_share": "margin_share+markup_share"}.get(name, name)
        if change.is_only_said:
            said.add(name)
    assert said == set(SAID_ONLY[field].split())


@pytest.mark.parametrize(
    ("header", "only_said"), [("note", True), ("ref", True), ("priced_on", True), ("low_price", True), ("high_price", True), ("low_min", True), ("high_min", True), ("timed", True), ("price", False), ("qty", False), ("minutes", False)]
)  # fmt: skip
def test_columns_that_are_only_said(header: str, only_said: bool) -> None:
    """Of whichever sheet has such a column; in Construction a note is none."""
    plain = sample("one-cabinet")
    field = next(field for field in ("cabinets", "boards", "work", "loose_parts") if hasattr(next(iter(getattr(plain, field)), None), header))
    first, *others = getattr(plain, field)
    old = getattr(first, header)
    changes = difference_of(plain, replace(plain, **{field: (replace(first, **{header: not old if isinstance(old, bool) else F(77) if header != "note" and header != "ref" else "other"}), *others)})).changes
    assert {change.is_only_said for change in changes} == {only_said}


@pytest.mark.parametrize(
    ("changed", "work"),
    [
        ({"loose_parts": four_edgings().loose_parts[1:]}, True), ({"extras": (extra("5"),)}, True), ({"terms": terms(delivery_charge=F(9))}, True), ({"terms": terms(site_trips=2)}, True), ({"terms": terms(contingency_share=F("0.1"))}, False),
        ({"boards": (board(price=F(70)),)}, False), ({"shop": shop(value_of_a_freed_hour="wage")}, False), ({"contract": None}, False),
    ],
)  # fmt: skip
def test_what_is_work_that_the_client_orders(changed: dict[str, Any], work: bool) -> None:
    (change,) = difference_of(four_edgings(), four_edgings(**changed)).changes
    assert is_work(change) is work


def test_a_finish_made_of_something_else_is_work_and_a_new_one_is_not() -> None:
    old = sample("one-cabinet")
    other = replace(old, finishes=(replace(old.finishes[0], words="other words"),))
    (change,) = difference_of(old, other).changes
    assert is_work(change) is True
    more = replace(old, finishes=(*old.finishes, replace(old.finishes[0], finish="oak", at=AT)))
    (change,) = difference_of(old, more).changes
    assert is_work(change) is False


@pytest.mark.parametrize(("nets", "least", "added"), [((45, -200), 60, 15), ((310,), 60, 0), ((60,), 60, 0), ((59,), 60, 1), ((), 60, 60), ((30, 30), 60, 0), ((-5,), 0, 0)])
def test_the_least_fee_of_a_change_order(nets: tuple[int, ...], least: int, added: int) -> None:
    assert least_added([F(net) for net in nets], least_charge=F(least)) == added
