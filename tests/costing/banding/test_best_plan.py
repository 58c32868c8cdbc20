"""The best plan by searching against every plan tried, on random stakes; and that sharing matters."""

import random
from dataclasses import replace

import pytest

from estimator.costing.banding import searching
from estimator.costing.banding.best_plan import best_group, by_trying, with_tie_grains
from estimator.costing.banding.bounds import bounds_of, nothing_decided
from estimator.costing.banding.searching import search
from estimator.costing.banding.stakes import Stakes, Tin, WholeOrder, cost_of, costs_by_group


def random_stakes(chance: random.Random, *, edgings: int, ladder: bool = False, dear: int = 5000) -> Stakes:
    """Costs, sharers, packs, a minimum and forbidden ways at random; a small `dear` makes many plans cost the same."""

    def figures(most: int) -> tuple[int, ...]:
        return tuple(chance.randrange(most) for _ in range(edgings))

    def shared(count: int) -> dict[int, int]:
        return {chance.randrange(1, 1 << edgings): chance.randrange(dear) for _ in range(chance.randrange(count))}

    def barred() -> int:
        return sum(1 << i for i in range(edgings) if chance.random() < 0.07)

    amounts = tuple(figures(dear) for _ in range(3))
    return Stakes(
        scale=1,
        hand=figures(dear),
        sent=figures(dear // 3 + 1),
        invoice=figures(dear // 2 + 1),
        hand_shared=shared(4),
        sent_shared={**shared(4), (1 << edgings) - 1: chance.randrange(2 * dear)},
        invoice_shared=shared(5),
        minimum=chance.randrange(dear * edgings // 3 + 1),
        tins=tuple(Tin(figures(50), chance.randrange(1, 80), chance.randrange(dear), chance.randrange(60)) for _ in range(chance.randrange(3))),
        order=WholeOrder(figures(100), (0, 25 * edgings, 50 * edgings), amounts) if ladder else None,
        must_send=barred(),
        must_keep=barred(),
    )


def balanced_stakes(chance: random.Random, *, edgings: int, ladder: bool) -> Stakes:
    """The harsh kind: both ways of every edging cost about the same, so that what is shared decides."""
    base = [chance.randrange(500, 5000) for _ in range(edgings)]

    def near(share: int) -> tuple[int, ...]:
        return tuple(max(0, cost * share // 10 + chance.randrange(-400, 400)) for cost in base)

    def shared() -> dict[int, int]:
        return {sum(1 << i for i in chance.sample(range(edgings), 3)): chance.randrange(300) for _ in range(2 * edgings)}

    invoice, metres = near(6), tuple(chance.randrange(5, 100) for _ in range(edgings))
    ladders = tuple(tuple(cost * share // 100 for cost in invoice) for share in (100, 93, 85))
    return Stakes(
        scale=1,
        hand=near(10),
        sent=near(4),
        invoice=(0,) * edgings if ladder else invoice,
        hand_shared=shared(),
        sent_shared={**shared(), (1 << edgings) - 1: 3000},
        invoice_shared=shared(),
        minimum=sum(invoice) // 2,
        tins=tuple(
            Tin(tuple(chance.randrange(1, 50) for _ in base), chance.randrange(60, 200), chance.randrange(1000, 20000), chance.randrange(90))
            for _ in range(2)
        ),
        order=WholeOrder(metres, (0, sum(metres) // 3, 2 * sum(metres) // 3), ladders) if ladder else None,
        must_send=0,
        must_keep=0,
    )


def best_by_definition(stakes: Stakes) -> int | None:
    """Every plan priced one by one; fewer sent before more, then the earlier in the list."""
    plans = [
        (cost_of(stakes, group), group.bit_count(), [i for i in range(stakes.edgings) if group >> i & 1], group)
        for group in range(stakes.everything + 1)
        if stakes.possible(group)
    ]
    return min(plans)[3] if plans else None


@pytest.mark.parametrize("seed", range(300))
def test_searching_finds_what_trying_every_plan_finds(seed: int) -> None:
    chance = random.Random(seed)
    stakes = random_stakes(chance, edgings=chance.randrange(1, 10), ladder=seed % 3 == 0, dear=20 if seed % 2 else 5000)
    best = best_by_definition(stakes)
    assert search(with_tie_grains(stakes)) == best
    assert by_trying(with_tie_grains(stakes)) == best
    assert best_group(stakes) == best


@pytest.mark.parametrize("seed", range(60))
def test_searching_finds_the_best_of_all_plans_where_both_ways_cost_about_the_same(seed: int) -> None:
    stakes = with_tie_grains(balanced_stakes(random.Random(seed), edgings=11, ladder=seed % 2 == 0))
    costs = [cost for cost in costs_by_group(stakes) if cost is not None]
    best = search(stakes)
    assert best is not None
    assert cost_of(stakes, best) == min(costs)


@pytest.mark.parametrize("seed", range(40))
def test_a_search_with_tolls_and_split_by_packs_finds_the_same(seed: int, monkeypatch: pytest.MonkeyPatch) -> None:
    """What a long search does later is done here from the fifth plan on."""
    monkeypatch.setattr(searching, "_SPLIT_AFTER", 5)
    monkeypatch.setattr(searching, "_TOLLS_AFTER", 3)
    stakes = with_tie_grains(balanced_stakes(random.Random(seed), edgings=10, ladder=seed % 2 == 0))
    best = search(stakes)
    assert best is not None
    assert cost_of(stakes, best) == min(cost for cost in costs_by_group(stakes) if cost is not None)


@pytest.mark.parametrize("seed", range(6))
def test_thirty_two_harsh_edgings_are_decided_and_no_change_of_one_or_two_is_better(seed: int) -> None:
    chance = random.Random(seed)
    harsh = balanced_stakes(chance, edgings=32, ladder=seed % 2 == 0) if seed < 4 else random_stakes(chance, edgings=32, ladder=seed == 5)
    best = best_group(harsh)
    assert best is not None
    changed = [best ^ 1 << i ^ (1 << j if j > i else 0) for i in range(32) for j in range(i, 32)]
    assert all(cost_of(harsh, other) >= cost_of(harsh, best) for other in changed if harsh.possible(other))


def test_an_edging_that_can_go_neither_way_leaves_no_plan_at_once() -> None:
    stakes = replace(random_stakes(random.Random(1), edgings=40), must_send=1, must_keep=1)
    assert best_group(stakes) is None


@pytest.mark.parametrize("seed", range(40))
def test_all_plans_at_once_cost_what_each_costs_alone(seed: int) -> None:
    stakes = random_stakes(random.Random(seed), edgings=7, ladder=seed % 2 == 0)
    for group, cost in enumerate(costs_by_group(stakes)):
        assert cost == (cost_of(stakes, group) if stakes.possible(group) else None)


@pytest.mark.parametrize("seed", range(200))
def test_no_completion_lies_below_the_lower_bound(seed: int) -> None:
    chance = random.Random(1000 + seed)
    stakes = random_stakes(chance, edgings=6)
    decided = chance.randrange(64)
    sent = decided & chance.randrange(64) & ~stakes.must_keep
    kept = decided & ~sent & ~stakes.must_send
    free = stakes.everything & ~kept & ~sent
    plans = [sent | more for more in range(64) if more & ~free == 0 and sent | more and stakes.possible(sent | more)]
    now = nothing_decided(stakes)
    for i in range(6):
        now = now.keeping(stakes, i) if kept >> i & 1 else now.sending(stakes, i) if sent >> i & 1 else now
    if plans and free and not (stakes.must_send & stakes.must_keep):
        assert max(bounds_of(stakes, now)) <= min(cost_of(stakes, plan) for plan in plans)


def test_twenty_two_edgings_are_decided_and_no_change_of_one_or_two_is_better() -> None:
    stakes = random_stakes(random.Random(5), edgings=22)
    best = best_group(stakes)
    assert best is not None
    for i in range(22):
        for j in range(i, 22):
            other = best ^ (1 << i) ^ (1 << j if j > i else 0)
            assert not stakes.possible(other) or cost_of(stakes, other) >= cost_of(stakes, best)


def test_judging_each_edging_by_itself_is_worse_somewhere() -> None:
    """With trips and minimum shared, kind-by-kind choosing loses; were sharing lost, it would never lose."""
    worse = 0
    for seed in range(100):
        stakes = random_stakes(random.Random(seed), edgings=5)
        if stakes.must_keep or stakes.must_send:
            continue
        nothing = cost_of(stakes, 0)
        alone = sum(1 << i for i in range(5) if cost_of(stakes, 1 << i) < nothing)
        best = best_group(stakes)
        assert best is not None
        assert cost_of(stakes, best) <= cost_of(stakes, alone)
        worse += cost_of(stakes, best) < cost_of(stakes, alone)
    assert worse > 0
