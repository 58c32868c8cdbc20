"""New times of a handful of logged rows, worked on paper: which rows hang together, what is too few, too wide, at odds or shared, and the cells of Work."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest

from estimator.costing.sheets import usable_m2
from estimator.costing.times.comparing import compared
from estimator.costing.times.observing import _unit_of, seen_in
from estimator.costing.times.regression import Row
from estimator.costing.times.runs import runs_quicker
from estimator.costing.times.step_times import _Factor, _Fitted, _groups, _logged_alike, _row, _time_of, step_times, with_new_times
from estimator.model.exact import Fraction
from estimator.model.problems import Problem
from estimator.model.shop_records import Step
from estimator.model.times import Compared, LogRow, Observed, StepCount, StepTime
from tests.building import AT, CELLS, shop
from tests.costing.test_seldom_met import logged, ten_parts

F = Fraction
SHOP = shop(allowance_share=F("0.1"))


def step(name: str, minutes: str = "2", *, per: str = "part", rating: int = 100, allowance: str | None = None) -> Step:
    return Step(name, "making", "", per, "", F(minutes), F(rating), None if allowance is None else F(allowance), F(1), F(3), "", False, AT)


def seen(real: str | int, *steps: tuple[str, int], job: str = "a.xlsx", stage: str = "making", rows: int = 1) -> Observed:
    """Minutes for so many of each step; by today's minutes, 2.2 each, whatever."""
    counts = tuple(StepCount(name, F(count)) for name, count in steps)
    return Observed(date(2031, 3, 4), job, counts, stage, F(real), F(10), "", AT, rows)


# which rows hang together -------------------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("logs", "usable", "groups"),
    [
        (["a", "b", "a"], [0, 1, 2], [[1], [0, 2]]), (["a", "b", "ab"], [0, 1, 2], [[0, 1, 2]]), (["a", "b", "c"], [0, 1, 2], [[0], [1], [2]]), (["ab", "bc", "cd", "e"], [0, 1, 2, 3], [[0, 1, 2], [3]]),
        (["a", "b", "ab"], [0, 1], [[0], [1]]), (["ab", "x", "cd", "bc"], [0, 1, 2, 3], [[1], [0, 2, 3]]), ([], [], []),
    ],
)  # fmt: skip
def test_rows_that_share_a_step_stand_in_one_group(logs: list[str], usable: list[int], groups: list[list[int]]) -> None:
    assert _groups([seen(1, *[(name, 1) for name in log]) for log in logs], usable) == groups


@pytest.mark.parametrize(
    ("stands", "alike"),
    [
        # columns by the rows that they stand in; alike where both stand together at least as often as one alone
        (["012", "01"], [[0, 1]]), (["01", "1"], [[0, 1]]), (["012", "1"], []), (["01", "23"], []), (["0", "1", "0"], [[0, 2]]), (["01", "01", "23", "23", "4"], [[0, 1], [2, 3]]), (["01", "12", "2"], [[1, 2]]), (["0"], []),
        # each is held against the first that it is like only
        (["0123", "23", "3"], [[0, 1]]),
    ],
)  # fmt: skip
def test_columns_that_are_logged_alike(stands: list[str], alike: list[list[int]]) -> None:
    rows = [Row(tuple(F(int(str(number) in one), len(stands)) for one in stands), F(1)) for number in range(5)]
    assert _logged_alike(rows) == alike


def test_a_row_as_shares_of_what_was_reckoned() -> None:
    """4 at 2 minutes and 2 at 6 are 20: 0.4 and 0.6, and 25 real are 1.25 of it. A step of no minutes is taken at one a piece."""
    now = {"cut": F(2), "sand": F(6), "look": F(0)}
    assert _row(seen(25, ("cut", 4), ("sand", 2)), ("cut", "sand", "look"), now) == Row((F("0.4"), F("0.6"), F(0)), F("1.25"))
    assert _row(seen(6, ("look", 12)), ("look",), now) == Row((F(1),), F("0.5"))


# what is made of a fit ----------------------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(("factor", "half", "wide"), [("1", "0.5", False), ("1", "0.51", True), ("2", "1", False), ("2", "1.01", True), (None, "0", True), (None, "9", True)])
def test_an_interval_wider_than_half_on_either_side(factor: str | None, half: str, wide: bool) -> None:
    assert _Factor(("cut",), 5, 0, None if factor is None else F(factor), F(half)).is_wide is wide


def time_of(*factors: _Factor, shared: tuple[_Factor, ...] = (), now: str = "2.2", **own: object) -> StepTime:
    return _time_of(StepTime(step("cut", **own), "never timed", 0, 0, F(now)), _Fitted(factors, shared, frozenset()), SHOP)  # type: ignore[arg-type]


CUT = _Factor(("cut",), 5, 1, F("1.5"), F("0.3"), F("0.9"))
PLAIN = time_of(CUT)


def test_a_new_time_and_its_cells() -> None:
    """1.5 x 2.2 = 3.3 standard minutes, 1.2 x 2.2 to 1.8 x 2.2, a fifth to either side. Without 10 % allowance 3; low 0.6 x 2.2/1.1, high 2.4 x 2.2/1.1."""
    expected = StepTime(step("cut"), "new", 5, 1, F("2.2"), F("3.3"), F("2.64"), F("3.96"), F("0.2"), F(3), F("1.2"), F("4.8"))
    assert time_of(CUT) == expected


def test_rating_and_an_allowance_of_its_own_are_taken_off() -> None:
    """3.3 at a rating of 120 and without allowance are 2.75; low 1.32/1.2, high 5.28/1.2."""
    found = time_of(CUT, rating=120, allowance="0")
    assert (found.minutes, found.low_min, found.high_min) == (F("2.75"), F("1.1"), F("4.4"))


def test_cells_hold_four_decimals_and_no_low_below_nothing() -> None:
    found = time_of(replace(CUT, factor=F(1, 3), half=F(1, 9), to_an_end=F(1, 2)))
    assert (found.minutes, found.low_min, found.high_min) == (F("0.6667"), F(0), F("1.6667"))
    assert (found.standard_min, found.within_share) == (F("2.2") / 3, F(1, 3))
    none_yet = time_of(replace(CUT, factor=F(3), half=F(1)), now="0")
    assert (none_yet.standard_min, none_yet.from_min, none_yet.to_min) == (3, 2, 4)


@pytest.mark.parametrize(
    ("change", "state", "said"),
    [
        ({"rows": 5}, "new", True), ({"rows": 4}, "too few", False), ({"factor": None}, "too few", False), ({"half": F("0.75")}, "new", True), ({"half": F("0.76")}, "at odds", True), ({"half": F("1.5")}, "at odds", False), ({"half": F("1.49")}, "at odds", True),
    ],
)  # fmt: skip
def test_too_few_rows_and_too_wide_an_interval(change: dict[str, object], state: str, said: bool) -> None:
    found = time_of(replace(CUT, **change))  # type: ignore[arg-type]
    assert (found.state, found.standard_min is not None, found.minutes is not None) == (state, said, state == "new")
    assert (found.rows, found.wild) == (change.get("rows", 5), 1)


def test_steps_never_told_apart_are_named() -> None:
    assert time_of(_Factor(("saw",), 9, 2, F(9)), replace(CUT, steps=("glue", "cut", "sand"))).together == ("glue", "sand")


def test_a_shared_correction_stands_in_the_cells_and_its_own_interval_beside_it() -> None:
    """Its own 1.5 is too wide; shared with three others 1.2 within 0.24: minutes 1.2 x 2.2/1.1. Of the others the one never told apart is not named twice."""
    own = replace(CUT, steps=("cut", "glue"), half=F(1))
    shared = (_Factor(("x",), 9, 0, F(7)), _Factor(("saw", "cut", "glue", "sand"), 9, 0, F("1.2"), F("0.24"), F("0.3")))
    found = time_of(own, shared=shared)
    assert (found.state, found.standard_min, found.within_share) == ("new", F("3.3"), F(2, 3))
    assert (found.together, found.shared, found.shared_within_share) == (("glue",), ("saw", "sand"), F("0.2"))
    assert (found.minutes, found.low_min, found.high_min) == (F("2.4"), F("1.8"), F(3))
    assert (PLAIN.shared, PLAIN.shared_within_share) == ((), None)
    odd = time_of(own, shared=(replace(shared[1], half=F("0.61")),))
    assert (odd.state, odd.shared, odd.minutes) == ("at odds", (), None)
    none = time_of(own, shared=(replace(shared[1], factor=None, half=F(0)),))
    assert (none.state, none.minutes) == ("at odds", None)


# from the log to Work -----------------------------------------------------------------------------------------------------------------------


def test_a_log_of_three_steps() -> None:
    """Cut, 2.2 a piece: five rows of 10 pieces that took 21 to 23 minutes, and one of 90 left aside. Sand has two rows, look none; a step that Work has not is passed over."""
    work = [step("cut"), step("sand", "1"), step("look")]
    log = [*[seen(minutes, ("cut", 10)) for minutes in ("21", "21.5", "22", "22.5", "23")], seen(90, ("cut", 10)), seen(11, ("sand", 10)), seen(12, ("sand", 10)), seen(5, ("gone", 1)), seen(5, ("cut", 1), ("gone", 1))]
    marked, (cut, sand, look) = step_times(log, work, SHOP)
    assert [one.wild for one in marked] == [False] * 5 + [True] + [False] * 4
    assert (cut.state, cut.rows, cut.wild, cut.now_min, cut.minutes) == ("new", 5, 1, F("2.2"), 2)
    assert abs(cut.standard_min - F("2.2")) < F(1, 10**8)
    assert (sand.state, sand.rows, sand.wild, sand.now_min, sand.standard_min) == ("too few", 2, 0, F("1.1"), None)
    assert look == StepTime(work[2], "never timed", 0, 0, F("2.2"))
    new = with_new_times(work, (cut, sand, look))
    assert (new[0].minutes, new[0].timed, new[0].low_min, new[0].high_min) == (2, True, cut.low_min, cut.high_min)
    assert new[1:] == tuple(work[1:])
    assert with_new_times(work, (replace(cut, state="at odds"), replace(sand, minutes=F(9)), replace(look, state="new"))) == tuple(work)


def test_low_and_high_lie_three_deviations_of_a_row_and_the_fit_off() -> None:
    """Ratios 21/22 to 23/22: left over -1/22 to 1/22, squares 2.5/22^2, over 4 degrees. The fit's own: each moves the mean by a quarter of what it is off, 2.5/16/22^2.

    (0.625 + 0.15625)/22^2 = 0.00161415; 3 x its root is 0.12053. Times 2.
    """
    _, (cut,) = step_times([seen(minutes, ("cut", 10)) for minutes in ("21", "21.5", "22", "22.5", "23")], [step("cut")], SHOP)
    assert (cut.low_min, cut.high_min) == (F("1.7589"), F("2.2411"))


def test_steps_logged_in_the_same_rows_share_a_correction_only_where_their_own_is_too_wide() -> None:
    """Cut and sand always together, 10 and 10 or 10 and 11: their own factors cannot be known well, together 1.1. Saw, in rows of its own, stays its own."""
    work = [step("cut"), step("sand"), step("saw")]
    both = [("22", 10), ("24", 10), ("20", 10), ("23.1", 11), ("25.1", 11), ("21.1", 11)]
    log = [seen(F(real) * F("2.2"), ("cut", 10), ("sand", count)) for real, count in both]
    alone = [seen(F(real) * F("2.2"), ("saw", 10)) for real in ("10", "10.1", "9.9", "10", "10.1", "9.9")]
    _, (cut, sand, saw) = step_times([*log, *alone, seen(F("44"), ("cut", 1), ("saw", 19))], work, SHOP)
    assert (cut.state, cut.shared, sand.shared) == ("new", ("sand",), ("cut",))
    assert cut.minutes == sand.minutes
    assert abs(cut.minutes - F("2.2")) < F("0.05")
    assert cut.within_share is None or cut.within_share > F(1, 2)
    assert (saw.state, saw.shared) == ("new", ())


# what was seen ------------------------------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("per", "inch", "unit"), [("metre", True, "0.3048"), ("m2", True, "0.09290304"), ("part", True, "1"), ("metre", False, "1"), ("m2", False, "1")]
)
def test_the_unit_of_a_typed_count(per: str, inch: bool, unit: str) -> None:
    assert _unit_of(step("x", per=per), inch=inch) == F(unit)


def noted(*names: str, kind: str = "steps", counts: tuple[int | str, ...] = (), minutes: str | None = "60", day: int = 4, note: str = "") -> LogRow:
    return LogRow(date(2031, 3, day), "ten.xlsx", names, kind, tuple(map(F, counts)), None if minutes is None else F(minutes), note, CELLS)  # type: ignore[arg-type]


def test_days_of_one_step_are_put_together() -> None:
    """The latest date, both notes, the minutes that were noted; a stage and a step of one name are two things."""
    log = [noted("cut", minutes="12", day=5, note="slow"), noted("cut", minutes=None, day=6), noted("cut", minutes="9", day=3, note="quick"), noted("making", kind="stage", minutes="7")]
    cut, making = seen_in(log, ten_parts(), then={}).observed
    assert cut == Observed(date(2031, 3, 6), "ten.xlsx", (StepCount("cut", F(10)),), "making", F(21), F(20), "slow; quick", CELLS, 3)
    assert (making.name, making.stage, making.estimated_min, making.real_min, making.rows) == ("cut + sand + fetch", "making", 40, 7, 1)


def test_a_row_of_steps_of_two_stages() -> None:
    (one,) = seen_in([noted("cut", "press", counts=(4, 2))], ten_parts(), then={}).observed
    assert (one.stage, one.estimated_min, one.name) == ("making + banding", 4 * 2 + 2 * F("1.5"), "cut + press")


def test_a_stage_of_which_the_job_has_nothing_is_told() -> None:
    found = seen_in([noted("fitting", kind="stage")], ten_parts(), then={})
    assert found.observed == ()
    assert found.problems == (
        Problem(
            CELLS.place("Count"), "nothing: the cell is blank", "Count: a number, for the job's estimate has nothing of the stage fitting",
            "name its steps in its place, and type how many of each were done",
        ),
    )  # fmt: skip


def test_counts_and_runs_of_a_workbook_in_inches_are_feet() -> None:
    inches = ten_parts()
    inches = replace(inches, job=replace(inches.job, terms=replace(inches.job.terms, units="inch")))
    found = seen_in([noted("press", counts=(10,)), noted("white", kind="edging", counts=(20,), minutes=None)], inches, then={})
    assert found.observed[0].steps == (StepCount("press", F("3.048")),)
    assert found.observed[0].estimated_min == F("3.048") * F("1.5")
    assert (found.edgings["white"].used, found.edgings["white"].taken, found.edgings["white"].net) == (F("6.096"), F("6.096"), 8)
    plain = seen_in([noted("press", counts=(10,)), noted("white", kind="edging", counts=(20,), minutes=None)], ten_parts(), then={})
    assert (plain.observed[0].steps[0].count, plain.edgings["white"].used, plain.edgings["white"].planned) == (10, 20, 8)


def test_one_count_for_steps_that_count_otherwise_is_a_share_of_the_job_in_feet_too() -> None:
    inches = ten_parts()
    inches = replace(inches, job=replace(inches.job, terms=replace(inches.job.terms, units="inch")))
    (one,) = seen_in([noted("press", "cut", counts=(10,))], inches, then={}).observed
    assert one.steps == (StepCount("press", F("3.048")), StepCount("cut", 10 * F("3.048") / 8))


def test_boards_and_edgings_that_were_used() -> None:
    """Two rows of one board add up; what the job has not is told and the rows after it are read. One sheet of 5980 x 5980 was planned."""
    log = [noted("white 18", kind="board", counts=(1,)), noted("oak 18", kind="board", counts=(9,)), noted("beech", kind="edging", counts=(9,)), noted("white 18", kind="board", counts=(2,)), noted("white", kind="edging", counts=("8.5",))]
    found = seen_in(log, ten_parts(), then={})
    use = found.boards["white 18"]
    assert (use.job, use.planned, use.used, use.net, use.taken) == ("ten.xlsx", 1, 3, F("2.76"), 3 * F("35.7604"))
    assert usable_m2(ten_parts().job.boards[0]) == F("35.7604")
    assert (found.edgings["white"].used, found.edgings["white"].taken, list(found.boards), list(found.edgings)) == (F("8.5"), F("8.5"), ["white 18"], ["white"])
    assert found.problems == tuple(
        Problem(CELLS.place("Step"), f"{name}, of which this job uses none", f"Step: {which} that the job uses", "use the name of the one that was taken, or take the row out")
        for name, which in (("oak 18", "a board"), ("beech", "an edging"))
    )  # fmt: skip


def test_a_board_in_two_sizes_is_taken_as_it_was_planned() -> None:
    """Three sheets of 5980 x 5980 and one of 980 x 980 were planned: 27.061 each on average... (3 x 35.7604 + 0.9604)/4. None planned: the first of its rows."""
    plain = ten_parts()
    (use,) = plain.boards
    small = replace(use.by_size[0], board=replace(use.by_size[0].board, sheet_length_mm=F(1000), sheet_width_mm=F(1000)), sheets=1)
    other = replace(use, board="other", by_size=(replace(use.by_size[0], sheets=50),))
    two = replace(plain, boards=(other, replace(use, sheets=4, by_size=(replace(use.by_size[0], sheets=3), small))))
    found = seen_in([noted("white 18", kind="board", counts=(2,))], two, then={}).boards["white 18"]
    assert (found.taken, found.planned, found.used) == (2 * F("27.0604"), 4, 2)
    none = replace(plain, boards=(replace(use, sheets=0, by_size=()),))
    none = replace(none, job=replace(none.job, boards=(replace(none.job.boards[0], board="first"), *none.job.boards)))
    assert seen_in([noted("white 18", kind="board", counts=(2,))], none, then={}).boards["white 18"].taken == 2 * F("35.7604")


def test_what_the_estimate_of_the_day_allowed() -> None:
    log = [logged("cut", counts=(4,)), logged("hang", counts=(3,))]
    assert [one.estimated_min for one in seen_in(log, ten_parts(), then={"cut": F(30), "hang": F(99)}).observed] == [12, 15]


def test_estimated_against_real() -> None:
    log = [seen(12, ("cut", 4), job="b.xlsx", rows=2), seen(9, ("sand", 4)), seen(8, ("cut", 4), stage="more")]
    by_job = compared(log, lambda one: one.job, order=["a.xlsx", "c.xlsx"], whole={"a.xlsx": F(99)})
    assert by_job == (Compared("a.xlsx", 2, F(20), F(17), F(99)), Compared("b.xlsx", 2, F(10), F(12), None))
    assert [one.name for one in compared(log, lambda one: one.name)] == ["cut", "sand"]
    assert [one.name for one in compared(log, lambda one: one.name, order=["sand"])] == ["sand", "cut"]


def test_a_job_without_a_learning_curve_has_no_runs() -> None:
    assert runs_quicker(ten_parts()) is None
