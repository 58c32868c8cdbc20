"""Sheets exchanged for cheaper and smaller ones: what is tried, how long, in which order, and what comes of it, on paper."""

from __future__ import annotations

import pytest

from estimator.costing.cutting.effort import Effort
from estimator.costing.cutting.improving import OpenSheet, Refitting
from estimator.costing.cutting.kerf import Grid, Kind
from estimator.costing.cutting.several_proofs import Proof
from estimator.costing.cutting.several_sizes import _exchanges, _smaller, cheaper_sheets
from estimator.model.cutting_plan import StockSheet
from estimator.model.exact import Fraction

F = Fraction
THREE = ((10, 10), (7, 10), (5, 10))


def stock(*sheets: tuple[str | int, int, bool]) -> list[StockSheet]:
    return [StockSheet(F(1), F(1), F(0), F(price), on_hand, buyable) for price, on_hand, buyable in sheets]


def board(area: int, *sheets: tuple[int, int]) -> Grid:
    return Grid(1, 0, (Kind(((area, 1),), 1, (0,)),), sheets or THREE)


@pytest.mark.parametrize(
    ("used", "prices", "area", "exchanges"),
    [
        # nothing more is bought, and sheets of less worth or of less area are taken
        pytest.param((1, 0, 0), [(9, 1, True), (7, 1, True), (5, 1, True)], 36, [((0,), (1,)), ((0,), (2,))], id="on hand: what is worth less, the roomiest first"),
        pytest.param((1, 0, 0), [(9, 1, True), (7, 1, True), (5, 1, True)], 51, [((0,), (1,))], id="50 cannot hold 51"),
        pytest.param((1, 0, 0), [(9, 1, True), (7, 1, True), (5, 1, True)], 50, [((0,), (1,)), ((0,), (2,))], id="50 can hold 50"),
        pytest.param((1, 0, 0), [(9, 0, True), (9, 0, True), (10, 0, True)], 36, [((0,), (1,))], id="bought: as dear and smaller"),
        pytest.param((1, 0, 0), [(9, 0, True), (7, 0, True), (5, 0, True)], 36, [((0,), (1,)), ((0,), (2,))], id="bought: cheaper"),
        pytest.param((0, 1, 0), [(7, 0, True), (7, 0, True), (9, 0, True)], 36, [], id="as dear and larger is no gain"),
        pytest.param((0, 1, 0), [(7, 1, True), (7, 1, True), (9, 1, True)], 36, [], id="nor on hand"),
        pytest.param((0, 1, 0), [(6, 1, True), (7, 1, True), (9, 1, True)], 36, [((1,), (0,))], id="larger and worth less is"),
        pytest.param((1, 0, 0), [(9, 1, False), (7, 1, False), (5, 0, False)], 36, [((0,), (1,))], id="none of the third is on hand"),
        pytest.param((1, 0, 0), [(9, 1, False), (7, 0, False), (3, 2, False)], 36, [((0,), (2, 2)), ((0,), (2,))], id="two of it are: roomier than one"),
        pytest.param((1, 0, 0), [(9, 1, False), (7, 0, False), (3, 2, False)], 81, [((0,), (2, 2))], id="two hold 81"),
        pytest.param((2, 0, 0), [(9, 2, False), (7, 1, False), (5, 0, False)], 36, [((0,), (1,)), ((0,), ()), ((0, 0), (1,))], id="one of two, or both"),
    ],
)
def test_exchanges_that_take_less_of_the_stock(
    used: tuple[int, ...], prices: list[tuple[str | int, int, bool]], area: int, exchanges: list[tuple[tuple[int, ...], tuple[int, ...]]]
) -> None:
    assert _smaller(used, stock(*prices), board(area)) == exchanges


def test_of_exchanges_as_roomy_those_of_fewer_sheets_and_then_the_earlier_stock() -> None:
    """Two sheets of 4 x 10 in two stocks alike, and pairs of 2 x 10 that are as roomy together."""
    sheets = ((10, 10), (4, 10), (4, 10), (2, 10))
    prices = stock((9, 0, True), (3, 0, True), (3, 0, True), (1, 0, True))
    found = _exchanges((1, 0, 0, 0), prices, board(20, *sheets), [], likely_only=True)
    assert [exchange for exchange in found if exchange[1] in ((1,), (2,), (3, 3))] == [((0,), (1,)), ((0,), (2,))]
    loose = _exchanges((1, 0, 0, 0), prices, board(36, *sheets), [], likely_only=False)
    assert [exchange for exchange in loose if exchange[1] in ((1,), (2,), (3, 3), (1, 3))] == [((0,), (1, 3)), ((0,), (1,)), ((0,), (2,)), ((0,), (3, 3))]
    smaller = _smaller((1, 0, 0, 0), prices, board(36, *sheets))
    assert smaller[-3:] == [((0,), (1,)), ((0,), (2,)), ((0,), (3, 3))]


def test_the_six_largest_pieces_on_hand_come_too_the_earlier_of_two_alike_first() -> None:
    sheets = ((10, 10), (9, 10), (2, 10), (3, 10), (1, 10), (3, 10))
    prices = stock((9, 0, True), (8, 0, True), (0, 2, False), (0, 2, False), (0, 9, False), (0, 1, False))
    found = _exchanges((1, 0, 0, 1, 0, 0), prices, board(36, *sheets), [], likely_only=False)
    assert ((0,), (1, 3, 5, 2, 2, 4, 4)) in found
    assert ((0,), (3, 5, 2, 2, 4, 4)) in found
    proof = [Proof(17, (0, 0, 2, 3, 1, 3))]  # what is used of the fourth and these six weigh 3 + 3 + 3 + 2 + 2 + 1 + 1 = 15
    assert _exchanges((1, 0, 0, 1, 0, 0), prices, board(36, *sheets), proof, likely_only=False) == []
    proof = [Proof(15, (0, 0, 2, 3, 1, 3))]
    assert len(_exchanges((1, 0, 0, 1, 0, 0), prices, board(36, *sheets), proof, likely_only=False)) == len(found)


@pytest.mark.parametrize(("stocks", "reached"), [(14, True), (80, False)])
def test_so_many_exchanges_are_looked_at_and_no_more(stocks: int, reached: bool) -> None:
    """Fourteen sizes make 1 exchange for none, 13 for one other and 13 x 14 / 2 = 91 for two: all are looked at. Of eighty sizes the last pairs are not."""
    sheets = ((90, 10), *[(40, 10)] * (stocks - 1))
    prices = stock((900, 0, True), *[(300 + number, 0, True) for number in range(1, stocks)])
    found = _exchanges((1, *[0] * (stocks - 1)), prices, board(800, *sheets), [], likely_only=False)
    pairs = [come for _, come in found if len(come) == 2]
    assert ((stocks - 1, stocks - 1) in pairs) is reached
    if not reached:
        # 1200: one for none, 79 for one, 79 times two for one, which are not there, and 1041 of the 3160 for two
        assert len(found) == 1 + 79 + 1041
        # 300 of them, likewise; one of 40 x 10 alone cannot hold 800
        assert len(_smaller((1, *[0] * (stocks - 1)), prices, board(800, *sheets))) == 300 - 159


# how long each is tried ---------------------------------------------------------------------------------------------------------------------


class Answers:
    """In place of the refilling: which exchanges work at which try, with what each was given."""

    def __init__(self, monkeypatch: pytest.MonkeyPatch, works: dict[int, bool], *, spends: int | None = None) -> None:
        self.works, self.spends, self.seen = works, spends, list[tuple[list[int], list[int], int]]()
        monkeypatch.setattr(Refitting, "placed_all", self)

    def __call__(self, sheets: list[OpenSheet], aside: list[int], effort: Effort) -> bool:
        self.seen.append(([sheet.stock for sheet in sheets], list(aside), effort.left))
        effort.left -= effort.left if self.spends is None else self.spends
        if self.works.get(len(self.seen)):
            for number, sheet in enumerate(sheets):
                if not sheet.laid and number == len(sheets) - 1:
                    sheet.laid, sheet.used = [(0, 0, 0, 36, 1)], 36
            return True
        return False


def plan() -> list[OpenSheet]:
    return [OpenSheet(0, [(0, 0, 0, 36, 1)], 36)]


PRICES = stock((9, 0, True), (7, 0, True), (5, 0, True))


def test_each_exchange_gets_a_turn_and_then_twice_the_turn(monkeypatch: pytest.MonkeyPatch) -> None:
    """25 on 70 and on 50 are likely, on nothing not: the first turn of 15,000 tries all three, the next, of 30,000, the likely two, and so on until the effort ends."""
    answers = Answers(monkeypatch, {})
    effort = Effort(120_001)
    found = cheaper_sheets(grid=board(25), stock=PRICES, plan=plan(), proofs=(), effort=effort)
    assert [sheet.stock for sheet in found] == [0]
    assert effort.left == 0
    first = [([1], [0], 15_000), ([2], [0], 15_000), ([], [0], 15_000), ([1], [0], 30_000), ([2], [0], 30_000), ([1], [0], 15_001)]
    assert answers.seen[:6] == first
    # at last the exchanges for less of the stock get 5,000 each
    assert answers.seen[6:] == [([1], [0], 5_000), ([2], [0], 5_000)]


def test_turns_end_at_two_million(monkeypatch: pytest.MonkeyPatch) -> None:
    """15,000 doubled eight times is 3,840,000, the first that is no longer below 2,000,000; two exchanges a turn after the first, which has three."""
    answers = Answers(monkeypatch, {})
    effort = Effort(10**9)
    cheaper_sheets(grid=board(25), stock=PRICES, plan=plan(), proofs=(), effort=effort)
    turns = [given for _, _, given in answers.seen[:-2]]
    assert turns == [15_000] * 3 + [15_000 * 2**number for number in range(1, 9) for _ in (0, 1)]
    assert effort.left == 10**9 - sum(turns)


def test_effort_that_is_not_spent_comes_back(monkeypatch: pytest.MonkeyPatch) -> None:
    answers = Answers(monkeypatch, {2: True}, spends=1_000)
    effort = Effort(20_000)
    found = cheaper_sheets(grid=board(25), stock=PRICES, plan=plan(), proofs=(), effort=effort)
    assert [sheet.stock for sheet in found] == [2]
    assert answers.seen == [([1], [0], 15_000), ([2], [0], 15_000), ([], [0], 15_000)]
    assert effort.left == 17_000


def test_after_an_exchange_that_works_all_begins_anew(monkeypatch: pytest.MonkeyPatch) -> None:
    """The third size is found at the first turn of 30,000; from there the only exchange that costs less is for none, with 15,000, unlikely later."""
    answers = Answers(monkeypatch, {5: True})
    found = cheaper_sheets(grid=board(25), stock=PRICES, plan=plan(), proofs=(), effort=Effort(10**7))
    assert [sheet.stock for sheet in found] == [2]
    assert answers.seen == [([1], [0], 15_000), ([2], [0], 15_000), ([], [0], 15_000), ([1], [0], 30_000), ([2], [0], 30_000), ([], [0], 15_000)]


def test_an_exchange_that_worked_is_tried_anew_from_what_is_there_then(monkeypatch: pytest.MonkeyPatch) -> None:
    """Two sheets of 10 x 10, each exchanged for one of 7 x 10 in turn: the second time with the sheets as they are then."""
    answers = Answers(monkeypatch, {1: True, 2: True})
    two = [OpenSheet(0, [(0, 0, 0, 25, 1)], 25), OpenSheet(0, [(0, 0, 0, 25, 1)], 25)]
    pair = Grid(1, 0, (Kind(((25, 1),), 2, (0,)),), ((10, 10), (7, 10)))
    found = cheaper_sheets(grid=pair, stock=PRICES[:2], plan=two, proofs=(), effort=Effort(31_000))
    assert answers.seen[:2] == [([0, 1], [0], 15_000), ([1, 1], [0], 15_000)]
    assert [sheet.stock for sheet in found] == [1, 1]


def test_without_effort_only_less_of_the_stock_is_tried(monkeypatch: pytest.MonkeyPatch) -> None:
    """40,000 in all, 5,000 each; after one that works, from what is there then, until none is left."""
    prices = stock((9, 1, True), (7, 1, True), (5, 1, True))
    answers = Answers(monkeypatch, {1: True})
    found = cheaper_sheets(grid=board(25), stock=prices, plan=plan(), proofs=(), effort=Effort(0))
    assert [sheet.stock for sheet in found] == [1]
    assert answers.seen == [([1], [0], 5_000), ([2], [0], 5_000)]
    many = ((10, 10), *[(7, 10)] * 10)
    answers = Answers(monkeypatch, {})
    cheaper_sheets(grid=board(36, *many), stock=stock((9, 1, True), *[(7, 1, True)] * 10), plan=plan(), proofs=(), effort=Effort(0))
    assert [given for _, _, given in answers.seen] == [5_000] * 8


def test_what_was_left_of_a_try_is_gone_on_from(monkeypatch: pytest.MonkeyPatch) -> None:
    """The second time an exchange is tried its sheets hold what the first try laid, and fewer kinds are aside."""
    seen = []

    def placed_all(_: Refitting, sheets: list[OpenSheet], aside: list[int], effort: Effort) -> bool:
        seen.append(([piece[0] for sheet in sheets for piece in sheet.laid], list(aside)))
        effort.left = 0
        if sheets and aside:
            sheets[-1].laid.append((aside.pop(), 0, 0, 1, 1))
            return False
        return bool(sheets)

    monkeypatch.setattr(Refitting, "placed_all", placed_all)
    two = [OpenSheet(0, [(0, 0, 0, 18, 1), (1, 18, 0, 7, 1)], 25)]
    found = cheaper_sheets(grid=board(25), stock=PRICES, plan=two, proofs=(), effort=Effort(10**6))
    assert seen[:4] == [([], [0, 1]), ([], [0, 1]), ([], [0, 1]), ([1], [0])]
    # placed at the third turn on the second size, and from there in the same way on the third
    assert [sheet.stock for sheet in found] == [2]


def test_a_sheet_that_stays_empty_is_left_out(monkeypatch: pytest.MonkeyPatch) -> None:
    Answers(monkeypatch, {1: True})
    prices = stock((9, 0, True), (7, 0, True), (0, 2, False))
    found = cheaper_sheets(grid=board(25), stock=prices, plan=plan(), proofs=(), effort=Effort(15_000))
    assert [sheet.stock for sheet in found] == [2]


def test_with_no_cheaper_set_of_sheets_nothing_is_tried(monkeypatch: pytest.MonkeyPatch) -> None:
    answers = Answers(monkeypatch, {})
    prices = stock((9, 0, True), (10, 0, True), (12, 0, True))
    effort = Effort(50_000)
    proofs = [Proof(1, (1, 1, 1))]
    found = cheaper_sheets(grid=board(25), stock=prices, plan=plan(), proofs=proofs, effort=effort)
    assert ([sheet.stock for sheet in found], answers.seen, effort.left) == ([0], [], 50_000)
