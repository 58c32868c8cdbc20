"""The sheets Job and Shop: margin or markup, rates or their build-up, the lengths of the box, and what stands in for what cannot be read."""

from __future__ import annotations

from datetime import date
from typing import Any

import pytest

from estimator.model.exact import Fraction
from estimator.model.problems import Place
from estimator.model.records import Terms
from estimator.model.refusal import Refusal
from estimator.model.shop_records import Shop
from estimator.reading.terms import names_in_rules
from tests.reading.held import read

F = Fraction
Rows = dict[str, str]
TERMS: Rows = {"Quote date": "2031-02-03", "Currency": "EUR", "Tax rate": "20 %"}
RATES: Rows = {"Direct rate": "30", "Overhead rate": "24"}
WITH_MARGIN: Rows = {**TERMS, "Margin": "25 %"}
RULES = "Kind | Part | Count | Length | Width\nbase | side | 2 | height + knob size | width - 2 * gap side"


def items(rows: Rows) -> str:
    return "Item | Value | Unit\n" + "".join(f"{name} | {value}\n" for name, value in rows.items())


def read_both(job: Rows = WITH_MARGIN, shop: Rows | None = RATES, *, rules: str = "") -> Any:
    tables = {"Job": items(job), **({"Shop": items(shop)} if shop is not None else {}), **({"Construction": rules} if rules else {})}
    return read(tables)


def told(*rows: Rows, **more: Any) -> list[str]:
    answer = read_both(*rows, **more)
    assert isinstance(answer, Refusal), "nothing to build is a problem already"
    return [f"{one.place.sheet} {one.place.cell}: {one.found} | {one.expected} | {one.mend}" for one in answer.problems if one.place.sheet in ("Job", "Shop")]


def terms(*rows: Rows, **more: Any) -> Terms:
    return read_both(*rows, **more).readable.terms  # type: ignore[no-any-return]


def shop(*rows: Rows, **more: Any) -> Shop:
    return read_both(*rows, **more).readable.shop  # type: ignore[no-any-return]


def test_a_sound_pair_has_no_problem() -> None:
    assert told() == []


# --- margin or markup -----------------------------------------------------------------------------------------------------------------------

ONE_OF = "exactly one of Margin (a share of the price) and Markup (a share of the cost)"
BOTH = f"a Margin and a Markup as well | {ONE_OF} | clear one of the two"
NEITHER = f"neither a Margin nor a Markup | {ONE_OF} | fill in one of the two: a margin of 20 % is a markup of 25 %"
M, K, MK = {"Margin": "20 %"}, {"Markup": "30 %"}, {"Margin": "20 %", "Markup": "30 %"}


@pytest.mark.parametrize(
    ("job", "price_book", "shares", "problem"),
    [
        (M, {}, (F("0.2"), None), []), (K, {}, (None, F("0.3")), []), ({}, M, (F("0.2"), None), []), ({}, K, (None, F("0.3")), []), (M, K, (F("0.2"), None), []), (K, M, (None, F("0.3")), []),
        (M, MK, (F("0.2"), None), []), ({"Margin": "10 %"}, M, (F("0.1"), None), []), ({"Margin": ""}, K, (None, F("0.3")), []), (MK, {}, (None, F("0.3")), [f"Job B5: {BOTH}"]),
        ({"Markup": "30 %", "Margin": "20 %"}, {}, (None, F("0.3")), [f"Job B6: {BOTH}"]), ({}, MK, (None, F("0.3")), [f"Job Margin: {BOTH}"]), ({}, {}, (None, None), [f"Job Margin: {NEITHER}"]),
        ({"Margin": ""}, {}, (None, None), [f"Job B5: {NEITHER}"]), ({"Markup": "", "Margin": ""}, {"Margin": ""}, (None, None), [f"Job B6: {NEITHER}"]),
        ({"Margn": "20 %"}, {}, (None, None), ["Job A5: a row named Margn | a row named Margin, or a name unlike any of ours | did you mean Margin?"]),
        ({"": "20 %"}, {}, (None, None), ["Job A5: a value whose name is blank | the name of the item | name it, or take B5 out"]),
    ],
)  # fmt: skip
def test_exactly_one_of_margin_and_markup(job: Rows, price_book: Rows, shares: tuple[Any, Any], problem: list[str]) -> None:
    both = read_both({**TERMS, **job}, {**RATES, **price_book})
    assert (both.readable.terms.margin_share, both.readable.terms.markup_share) == shares
    assert told({**TERMS, **job}, {**RATES, **price_book}) == problem


def test_what_counts_in_shop_only_is_remarked_in_job() -> None:
    said = [str(one) for one in read_both({**WITH_MARGIN, "Saw kerf": "3", "Sheet trim": ""}).remarks if "Saw kerf counts" in str(one) or "trim counts" in str(one)]
    assert said == ["job.xlsx > Job > A6: Saw kerf counts in the sheet Shop only, and is not read here: type it there"]


# --- what stands in -------------------------------------------------------------------------------------------------------------------------


def test_what_cannot_be_read_stands_as_if_blank_for_the_rest_of_the_checks() -> None:
    wrong = dict.fromkeys(("Quote date", "Currency", "Tax rate", "Units", "Discount", "Delivery charge", "Margin", "Site trips", "Payment schedule", "Valid for", "Paper"), "?")
    read = terms(wrong, dict.fromkeys(("Direct rate", "Overhead rate", "Saw kerf", "Bench length", "Label columns", "Value of a freed hour"), "?"))
    assert (read.quote_date, read.currency, read.tax_rate_share, read.units) == (date(2000, 1, 1), "EUR", 0, "mm")
    assert (read.discount.amount, read.delivery_charge, read.margin_share, read.site_trips) == (0, 0, None, 0)  # type: ignore[union-attr]
    assert [step.share for step in read.payment_schedule] == [F("0.5"), F("0.4"), F("0.1")]
    assert (read.valid_for_days, read.paper) == (30, "A4")
    own = shop(wrong, dict.fromkeys(("Direct rate", "Overhead rate", "Saw kerf", "Bench length", "Label columns", "Value of a freed hour"), "?"))
    assert (own.direct_rate, own.overhead_rate, own.kerf_mm, own.bench_length_m, own.label_columns, own.value_of_a_freed_hour) == (0, 0, 0, None, 3, "wage")


def test_a_rate_that_nobody_gives_stands_as_0_and_one_that_is_built_up_is_left_to_its_parts() -> None:
    assert [(one.direct_rate, one.overhead_rate) for one in (shop(WITH_MARGIN, {}), shop(WITH_MARGIN, {**WAGE, **YEAR}))] == [(0, 0), (None, None)]


def test_a_default_in_inches_is_that_of_mm() -> None:
    assert shop({**WITH_MARGIN, "Units": "inch"}, {**RATES, "Label side margin": "?"}).label_side_mm == 0


# --- rates ----------------------------------------------------------------------------------------------------------------------------------

DIRECT = "Direct rate, or all of Wage, Paid hours, Productive hours"
OVERHEAD = "Overhead rate, or all of Overhead a year, Productive hours, Workers"
WAGE: Rows = {"Wage": "20", "Paid hours": "1800", "Productive hours": "1400"}
YEAR: Rows = {"Overhead a year": "30000", "Productive hours": "1400", "Workers": "2"}


@pytest.mark.parametrize(
    ("rows", "problems"),
    [
        (RATES, []), ({**WAGE, **YEAR}, []), ({"Direct rate": "30", **YEAR}, []), ({"Overhead rate": "24", **WAGE}, []), ({**RATES, "Direct rate": "0"}, []),
        ({"Overhead rate": "24"}, [f"Shop Direct rate: no Direct rate | {DIRECT} | fill in Direct rate: money an hour; a typed 0 is an answer"]),
        ({"Direct rate": "30"}, [f"Shop Overhead rate: no Overhead rate | {OVERHEAD} | fill in Overhead rate: money an hour; a typed 0 is an answer"]),
        ({}, [f"Shop Direct rate: no Direct rate | {DIRECT} | fill in Direct rate: money an hour; a typed 0 is an answer",
              f"Shop Overhead rate: no Overhead rate | {OVERHEAD} | fill in Overhead rate: money an hour; a typed 0 is an answer"]),
        ({"Overhead rate": "24", "Productive hours": "1400"}, [f"Shop Direct rate: no Direct rate | {DIRECT} | fill in Direct rate: money an hour; a typed 0 is an answer"]),
        ({"Overhead rate": "24", "Wage": "20"}, [f"Shop Paid hours: no Paid hours | {DIRECT} | fill in Paid hours"]),
        ({"Overhead rate": "24", "Wage": "20", "Paid hours": ""}, [f"Shop B4: no Paid hours | {DIRECT} | fill in Paid hours"]),
        ({"Overhead rate": "24", "Wage": "20", "Paid hours": "1800"}, [f"Shop Productive hours: no Productive hours | {DIRECT} | fill in Productive hours"]),
        ({"Overhead rate": "24", "Paid hours": "1800"}, [f"Shop Wage: no Wage | {DIRECT} | fill in Wage"]),
        ({"Direct rate": "30", "Overhead a year": "30000", "Productive hours": "1400"}, [f"Shop Workers: no Workers | {OVERHEAD} | fill in Workers"]),
        ({"Direct rte": "30", "Overhead rate": "24"}, ["Shop A2: a row named Direct rte | a row named Direct rate, or a name unlike any of ours | did you mean Direct rate?"]),
        ({"Direct rte": "30"}, [f"Shop Overhead rate: no Overhead rate | {OVERHEAD} | fill in Overhead rate: money an hour; a typed 0 is an answer",
                                "Shop A2: a row named Direct rte | a row named Direct rate, or a name unlike any of ours | did you mean Direct rate?"]),
        ({"Overhead rate": "24", "Wage": "20", "Paid hous": "1800"}, ["Shop A4: a row named Paid hous | a row named Paid hours, or a name unlike any of ours | did you mean Paid hours?"]),
        ({"Overhead rate": "24", "Wage": "much"}, ["Shop B3: the text much | Wage in money: a number 0 or more | type a number, with digits only"]),
        ({"Wage": "much"}, [f"Shop Overhead rate: no Overhead rate | {OVERHEAD} | fill in Overhead rate: money an hour; a typed 0 is an answer",
                            "Shop B2: the text much | Wage in money: a number 0 or more | type a number, with digits only"]),
        ({"Direct rate": "30", "": "24"}, ["Shop A3: a value whose name is blank | the name of the item | name it, or take B3 out"]),
    ],
)  # fmt: skip
def test_a_rate_is_typed_or_built_up_from_all_its_parts(rows: Rows, problems: list[str]) -> None:
    assert told(WITH_MARGIN, rows) == problems


@pytest.mark.parametrize(
    ("more", "said"),
    [
        ({"Wage": "20"}, ["job.xlsx > Shop > B2: Direct rate is typed, so Wage is not used for it"]),
        ({"Wage": "20", "Paid hours": "1800", "Productive hours": "1400"}, ["job.xlsx > Shop > B2: Direct rate is typed, so Wage and Paid hours are not used for it"]),
        ({"Productive hours": "1400"}, []), ({"Workers": "2"}, ["job.xlsx > Shop > B3: Overhead rate is typed, so Workers is not used for it"]), ({"Wage": ""}, []),
        ({"Overhead a year": "1", "Workers": "2", "Wage": "1"}, ["job.xlsx > Shop > B2: Direct rate is typed, so Wage is not used for it",
                                                                 "job.xlsx > Shop > B3: Overhead rate is typed, so Overhead a year and Workers are not used for it"]),
    ],
)  # fmt: skip
def test_a_typed_rate_sets_its_build_up_aside(more: Rows, said: list[str]) -> None:
    assert [str(one) for one in read_both(WITH_MARGIN, {**RATES, **more}).remarks if "is typed" in str(one)] == said


# --- the lengths of the box -----------------------------------------------------------------------------------------------------------------


def test_every_further_row_with_a_length_is_one_for_the_rules_and_stands_at_its_cell() -> None:
    read = shop(WITH_MARGIN, {**RATES, "Gap side (mm)": "2", "Knob size": '1"', "Colour of doors": "white", "joint": "", "rail": "3.5"})
    assert read.lengths_mm == {"gap_side": 2, "knob_size": F("25.4"), "rail": F("3.5")}
    assert [read.at.place(name) for name in ("gap_side", "knob_size", "Saw kerf")] == [Place("job.xlsx", "Shop", "B4"), Place("job.xlsx", "Shop", "B5"), Place("job.xlsx", "Shop", "Saw kerf")]
    assert shop({**WITH_MARGIN, "Units": "inch"}, {**RATES, "rail": "3.5"}).lengths_mm == {"rail": F("88.9")}


@pytest.mark.parametrize(
    ("row", "unit", "problems"),
    [
        ({"gap side": "two"}, "mm", ["Shop B4: the text two | gap side: a length in mm, for the rules | type a number, with digits only"]),
        ({"gap side": "error:#REF!"}, "mm", ["Shop B4: the error #REF! | gap side: a length in mm, for the rules | mend the formula in this cell, or type its answer"]),
        ({"gap_mid": "two"}, "inch", ["Shop B4: the text two | gap_mid: a length in inches, for the rules | type a number, with digits only"]),
        ({"knob size": "two"}, "mm", ["Shop B4: the text two | knob size: a length in mm, for the rules | type a number, with digits only"]), ({"knob colour": "red"}, "mm", []),
    ],
)  # fmt: skip
def test_a_word_is_a_problem_where_a_rule_asks_for_a_length(row: Rows, unit: str, problems: list[str]) -> None:
    job = {**WITH_MARGIN, "Units": unit}
    assert told(job, {**RATES, **row}, rules=RULES) == problems
    name = next(iter(row)).replace(" ", "_")
    assert shop(job, {**RATES, **row}, rules=RULES).lengths_mm == ({name: 0} if problems else {})


@pytest.mark.parametrize(
    "name", ["joint", "gap side", "gap mid", "gap top", "gap bottom", "groove", "back inset", "rail", "shelf play", "shelf setback", "drawer front", "slide play"]
)
def test_each_length_of_the_box_is_asked_for_under_its_name(name: str) -> None:
    assert told(WITH_MARGIN, {**RATES, name.upper(): "two"}) == [f"Shop B4: the text two | {name.upper()}: a length in mm, for the rules | type a number, with digits only"]


@pytest.mark.parametrize(
    ("row", "lengths", "problems"),
    [
        ({"gap topp": "2"}, {"gap_top": 0, "gap_topp": 2}, ["Shop A4: a row named gap topp | a row named gap top, or a name unlike any of ours | did you mean gap top?"]),
        ({"knob size": "2"}, {"knob_size": 2}, []),
        ({"Ban": "12"}, {"ban": 12}, []),  # close to Bank, which is a text: a number is a length of the shop's own
        ({"Ban": "the mill"}, {}, ["Shop A4: a row named Ban | a row named Bank, or a name unlike any of ours | did you mean Bank?"]),
        ({"Ban": ""}, {}, ["Shop A4: a row named Ban | a row named Bank, or a name unlike any of ours | did you mean Bank?"]),
        ({"gap sides": "2"}, {"gap_side": 0, "gap_sides": 2}, ["Shop A4: a row named gap sides | a row named gap side, or a name unlike any of ours | did you mean gap side?"]),
    ],
)  # fmt: skip
def test_a_name_that_is_close_to_one_of_ours(row: Rows, lengths: dict[str, Any], problems: list[str]) -> None:
    assert told(WITH_MARGIN, {**RATES, **row}, rules=RULES) == problems
    assert shop(WITH_MARGIN, {**RATES, **row}, rules=RULES).lengths_mm == lengths


def test_a_name_that_the_rules_use_is_nobodys_misspelling() -> None:
    assert told(WITH_MARGIN, {**RATES, "gap sides": "2"}, rules=RULES.replace("gap side", "gap sides")) == []


@pytest.mark.parametrize(
    ("name", "rule", "stands"),
    [
        ("gap_side", "width - gap side", True), ("gap_side", "width - gap_side", True), ("gap_side", "width - gap  side * 2", True), ("gap", "gap side", False), ("side", "gap side", False),
        ("gap", "gap_side", False), ("gap", "2*gap", True), ("gap", "(gap)", True), ("gap", "gaps", False), ("gap", "bigap", False), ("", "gap", False), ("a.b", "axb", False), ("a.b", "a.b", True),
        ("_gap_", "gap + 1", True), ("gap", "gap\nheight", True), ("gap", "gap + height", True), ("gap", "gap height", False), ("side", "2 side", False), ("side", "2 * side", True),
    ],
)  # fmt: skip
def test_whether_a_name_stands_in_a_rule(name: str, rule: str, stands: bool) -> None:
    assert names_in_rules(name, rule) is stands


# --- the Unit column ------------------------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("row", "unit", "says"),
    [
        ("Saw kerf | 3 | inch", "mm", "inch"), ("Saw kerf | 3 | Inches", "mm", "inch"), ("Saw kerf | 3 | in", "mm", "inch"), ("Saw kerf | 3 | mm", "inch", "mm"), ("gap side | 3 | inch", "mm", "inch"),
        ("gap_side | 3 | inch", "mm", "inch"), ("Saw kerf | 3 | mm", "mm", ""), ("Saw kerf | 3 | inch", "inch", ""), ("Saw kerf | 3 | cm", "mm", ""), ("Saw kerf | 3 |", "mm", ""),
        ("Saw kerf | text:3 mm | inch", "mm", ""), ("Saw kerf | | inch", "mm", ""), ("Allowance | 10 | inch", "mm", ""), ("knob | 3 | inch", "mm", ""),
    ],
)  # fmt: skip
def test_a_unit_beside_a_bare_number_that_is_not_the_books(row: str, unit: str, says: str) -> None:
    tables = {"Job": items({**WITH_MARGIN, "Units": unit}), "Shop": items(RATES) + row}
    said = [str(one) for one in read(tables).remarks if "Unit says" in str(one)]
    words = f"Unit says {says}, but a bare number in this workbook is in {unit}: it is read as {unit}. Type the unit behind the number, as in 3 mm, where another is meant"
    assert said == ([f"job.xlsx > Shop > B4: {words}"] if says else [])


# --- a sheet that is not there --------------------------------------------------------------------------------------------------------------


def test_a_workbook_without_job_or_shop() -> None:
    copied = "or copy it from the blank form (estimator blank writes it)"
    assert told(WITH_MARGIN, None) == [
        "Shop : no sheet named Shop in job.xlsx | a sheet Shop: the shop's hour, its saw and the lengths of its box | "
        f"put your price book shop.xlsx into the same folder, or name it with --shop; or add the sheet Shop, {copied}"
    ]
    answer = read({"Shop": items({**RATES, **WITH_MARGIN})})
    assert isinstance(answer, Refusal)
    problem = next(one for one in answer.problems if one.place.sheet == "Job")
    assert (problem.found, problem.expected, problem.mend) == ("no sheet named Job in job.xlsx", "a sheet Job: who the job is for and on what terms", f"add the sheet Job, {copied}")
    assert [one.place.sheet for one in answer.problems] == ["Job", "Cabinets"], "what Job would hold is not missed row by row"
