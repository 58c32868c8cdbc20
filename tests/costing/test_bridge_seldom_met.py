"""The bridge where it is seldom walked: lengths of the box, an order that stays, whole sheets, jobs that cannot be priced."""

from dataclasses import replace
from datetime import date
from typing import Any

import pytest

from estimator.costing import bridge, bridge_changes
from estimator.costing.bridge import bridge_of, groups_of
from estimator.costing.bridge_changes import Change, difference_of
from estimator.costing.bridge_order import change_order_of
from estimator.costing.bridge_words import cell_words, number_words
from estimator.costing.estimate import price_alone
from estimator.model.comparison import Bridge, ChangeOrder, RowChange
from estimator.model.exact import Fraction
from estimator.model.problems import Fault, Place
from estimator.model.records import Job
from estimator.model.refusal import Refusal
from estimator.model.results import Price
from estimator.model.shop_records import Instalment, Money, Share
from tests.costing.test_bridge import bridged, gross_of
from tests.samples import sample

F = Fraction


def with_lengths(job: Job, **lengths: Fraction | None) -> Job:
    mixed = {name: length for name, length in {**job.shop.lengths_mm, **lengths}.items() if length is not None}
    return replace(job, shop=replace(job.shop, lengths_mm=mixed))


def with_deeper_setback(job: Job) -> Job:
    """The shelf's rule takes a further length off its depth."""
    rows = tuple(
        replace(row, width=f"{row.width} - lighting") if row.counts_as == "shelf" else row for row in job.construction
    )  # fmt: skip
    assert rows != job.construction
    return replace(job, construction=rows)


# --- lengths of Shop --------------------------------------------------------------------------------------------------


def test_a_length_of_the_box_is_a_change_with_its_price() -> None:
    old = sample("one-cabinet")
    new = with_lengths(old, shelf_setback=F(60), shelf_play=F(4))
    answer = bridged(old, new)
    assert [step.words for step in answer.steps] == ["shelf play: 4 instead of 2", "shelf setback: 60 instead of 20"]
    assert answer.steps[0].after.gross == gross_of(with_lengths(old, shelf_play=F(4)))
    assert answer.steps[1].after.gross == gross_of(new)


def test_a_new_length_comes_before_the_rule_that_names_it_and_goes_after_it() -> None:
    old = sample("one-cabinet")
    new = with_lengths(with_deeper_setback(old), lighting=F(40))
    there, back = bridged(old, new), bridged(new, old)
    assert [step.changes[0].sheet for step in there.steps] == ["Shop", "Construction"]
    assert [step.changes[0].sheet for step in back.steps] == ["Construction", "Shop"]
    assert there.steps[0].gross == back.steps[1].gross == 0
    assert there.steps[0].words == "lighting: 40 instead of blank"
    assert back.steps[1].words == "lighting: blank instead of 40"


# --- one by one -------------------------------------------------------------------------------------------------------


def test_a_change_made_alone_leaves_the_rows_in_their_old_order() -> None:
    """Two cabinets changed places and one of them came twice: made alone, the second stays where it was and counts twice."""
    plain = sample("one-cabinet")
    first = plain.cabinets[0]
    second = replace(first, ref="Wall 2", width_mm=F(500))
    old = replace(plain, cabinets=(first, second))
    new = replace(plain, cabinets=(replace(second, qty=2), first))
    difference = difference_of(old, new)
    twice = next(change for change in difference.changes if change.piece != "order")
    assert [(row.ref, row.qty) for row in difference.job_with([twice]).cabinets] == [(first.ref, 1), ("Wall 2", 2)]
    assert [(row.ref, row.qty) for row in difference.job_with(difference.changes).cabinets] == [("Wall 2", 2), (first.ref, 1)]


def changes(many: int, *, rank: int = 5, field: str = "boards") -> list[Change]:
    said = RowChange("Boards", "", "changed", Place("book.xlsx"))
    return [Change((rank, 0, at), field, at, said) for at in range(many)]


@pytest.mark.parametrize(
    ("rows", "groups"),
    [
        pytest.param(changes(120), [1] * 120, id="120 changes of a sheet are a step each"),
        pytest.param(changes(121), [121], id="121 are a new price list, one step"),
        pytest.param([*changes(121), *changes(2, field="edgings")], [121, 1, 1], id="another sheet's stay apart"),
        pytest.param([*changes(100), *changes(100, rank=6)], [1] * 200, id="so do those of another turn"),
    ],
)
def test_a_sheet_that_changed_all_over_is_one_step(rows: list[Change], groups: list[int]) -> None:
    assert [len(group) for group in groups_of(rows)] == groups


# --- where something is wrong -----------------------------------------------------------------------------------------


def too_wide(job: Job) -> Job:
    return replace(job, cabinets=(replace(job.cabinets[0], width_mm=F(9000)),))


def test_a_job_that_cannot_be_priced_is_refused_by_its_own_name() -> None:
    sound, wrong = sample("one-cabinet"), replace(too_wide(sample("one-cabinet")), workbook="wide.xlsx")
    for answer in (bridge_of(wrong, sound), bridge_of(sound, wrong), change_order_of(wrong, sound, accepted_money=F(1))):
        assert isinstance(answer, Refusal)
        assert answer.workbook == "wide.xlsx"
        assert "9" in answer.problems[0].found


def test_what_is_only_said_but_moves_the_price_is_a_step_after_all(monkeypatch: pytest.MonkeyPatch) -> None:
    """Planted: Discount stands among the words. The bridge must not end beside the new price without saying why."""
    old = sample("one-cabinet")
    new = replace(old, terms=replace(old.terms, discount=Money(F(10))))
    monkeypatch.setattr(bridge_changes, "_NO_PRICE", bridge_changes._NO_PRICE | {"discount"})
    answer = bridge_of(old, new)
    assert isinstance(answer, Bridge)
    assert [step.changes[0].name for step in answer.steps] == ["Discount"]
    assert answer.listed == ()
    assert answer.steps[0].net == -10


def test_a_bridge_that_ends_elsewhere_is_a_fault(monkeypatch: pytest.MonkeyPatch) -> None:
    old = sample("one-cabinet")
    monkeypatch.setattr(bridge, "steps_of", lambda *_, **__: iter(()))
    with pytest.raises(Fault, match="does not end at the new price"):
        bridge_of(old, replace(old, terms=replace(old.terms, margin_share=F(1, 2))))


def test_a_change_order_that_hangs_on_the_price_book_says_so() -> None:
    """The rule of the shelf takes a number that only the new row of Cabinets has, so the price book alone prices nothing."""
    old = sample("one-cabinet")
    cabinets = tuple(replace(row, own_numbers={"lighting": F(40)}) for row in old.cabinets)
    answer = change_order_of(old, replace(with_deeper_setback(old), cabinets=cabinets), accepted_money=F(1))
    assert isinstance(answer, Refusal)
    assert answer.problems[0].found.startswith("changes that can only be priced together: ")
    assert answer.problems[0].expected == "a change of the work that can be priced by itself"


# --- as it is typed ---------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("value", "words"),
    [
        (Share(F(15, 100)), "15 %"), (Money(F("12.5")), "12.5"), (date(2031, 2, 3), "2031-02-03"), (False, "no"), ("", ""), ("oak", "oak"),
        ({"plinth height": F(100), "partitions": F(1)}, "partitions 1, plinth height 100"), (frozenset({"depth", "a height"}), "a height, depth"),
        ((Instalment(F(1, 2), "deposit"), Instalment(F(1, 2), "on completion")), "50 % deposit, 50 % on completion"), ((F(157), F(253)), "157, 253"),
    ],
)  # fmt: skip
def test_a_cell_is_told_as_a_person_would_type_it(value: Any, words: str) -> None:
    assert cell_words(value, None, units="mm") == words


@pytest.mark.parametrize(
    ("value", "what", "units", "words"),
    [
        (F("600.075"), "length", "inch", '23 5/8"'), (F("600.075"), "lengths", "inch", '23 5/8"'), (F("600.075"), "lengths", "mm", "600.075"), (F("600.075"), "length", "mm", "600.075"), (F("15.24"), "roll length", "inch", "50"),
        (F("15.24"), "roll length", "mm", "15.24"), (F("2.5"), "money a metre", "inch", "0.762"), (F("2.5"), "money a metre", "mm", "2.5"),
        (F("0.0825"), "percent", "inch", "8.25 %"), (F(3), "number", "inch", "3"),
    ],
)  # fmt: skip
def test_a_number_is_told_in_the_unit_of_its_book(value: Fraction, what: str, units: str, words: str) -> None:
    """An inch is 25.4 mm: 23 5/8 inches are 600.075 mm, 50 feet 15.24 m, and 2.50 a metre 0.762 a foot."""
    assert number_words(value, what, units=units) == words


# --- change orders ----------------------------------------------------------------------------------------------------


def ordered(old: Job, new: Job, *, accepted: str = "179.65") -> ChangeOrder:
    answer = change_order_of(old, new, accepted_money=F(accepted))
    assert isinstance(answer, ChangeOrder), answer
    return answer


def test_only_the_work_is_ordered_and_a_dearer_board_is_left_out() -> None:
    """One more cabinet, 25 for delivery and a board at 70 instead of 61.50: what the board moved is told to the shop, not to the client."""
    old = sample("one-cabinet")
    dearer = replace(old, boards=(replace(old.boards[0], price=F(70)),))
    first = old.cabinets[0]
    more = replace(dearer, cabinets=(replace(first, qty=first.qty + 1),))
    new = replace(more, terms=replace(more.terms, delivery_charge=old.terms.delivery_charge + 25))
    order = ordered(old, new)
    lines = [line for lines in order.lines for line in lines]
    assert [(line.before_words, line.after_words, line.term) for line in lines] == [
        ("open wall cabinet", "open wall cabinet", ""), ("0", "25", "delivery"),
    ]  # fmt: skip
    today, one_more = price_alone(dearer), price_alone(more)
    assert isinstance(today, Price)
    assert isinstance(one_more, Price)
    assert [line.net for line in lines] == [one_more.net - today.net, 25]
    assert (order.net, order.gross) == (lines[0].net + 25, order.net + order.tax_total)
    assert abs(order.tax_total - order.net / 5) <= F(1, 200)  # 20 %, to the cent
    assert [(step.changes[0].sheet, step.before.gross) for step in order.left_out] == [("Boards", F("179.65"))]


def test_the_least_fee_tops_up_what_a_small_change_adds() -> None:
    old = sample("one-cabinet")
    new = replace(old, terms=replace(old.terms, delivery_charge=F(25)), shop=replace(old.shop, least_change_fee=F(60)))
    order = ordered(old, new)
    assert (order.least_added, order.net) == (35, 60)
    assert [(one.base, one.tax) for one in order.tax] == [(60, 12)]


def test_another_finish_is_ordered_by_the_words_of_the_quote() -> None:
    old = sample("one-cabinet")
    (finish,) = old.finishes
    oak = replace(old.boards[0], board="oak 18", price=F(140))
    made_of = dict.fromkeys(finish.boards, "oak 18")
    new = replace(old, boards=(*old.boards, oak), finishes=(replace(finish, boards=made_of, words="oak, oiled"),))
    (line,) = ordered(old, new).lines[0]
    assert line.after_words == "oak, oiled"
    assert line.net == price_net(new) - price_net(old) > 0


def price_net(job: Job) -> Fraction:
    price = price_alone(job)
    assert isinstance(price, Price)
    return price.net


def test_the_same_work_is_no_change_order() -> None:
    old = sample("one-cabinet")
    answer = change_order_of(old, replace(old, boards=(replace(old.boards[0], price=F(70)),)), accepted_money=F(1))
    assert isinstance(answer, Refusal)
    assert answer.problems[0].found == "the same cabinets, loose parts, extras, finishes and delivery as in the accepted job"


def test_what_is_new_was_called_nothing_and_what_is_gone_is_called_nothing() -> None:
    old = sample("one-cabinet")
    first = old.cabinets[0]
    two = replace(old, cabinets=(first, replace(first, ref="Wall 2", width_mm=F(400))))
    (added,), (gone,) = ordered(old, two).lines[0], ordered(two, old).lines[0]
    assert (added.before_words, added.after_words) == ("", "open wall cabinet")
    assert (gone.before_words, gone.after_words) == ("open wall cabinet", "")
    assert added.net == -gone.net > 0
