"""Which sheet counts in which book, what a tab may be called, what is hidden, and in which unit a book is read."""

from __future__ import annotations

from typing import Any

import pytest

from estimator.model.exact import Fraction
from estimator.model.problems import Place
from estimator.model.refusal import Refusal
from estimator.reading.books import Sheets, _remark_hidden, _runs, read_sheets
from estimator.reading.findings import Findings
from estimator.reading.raw_cells import Cell, RawSheet
from tests.reading.held import Held

JOB = "Item | Value\nQuote date | 2031-02-03\n"
SHOP = "Item | Value\nDirect rate | 30\n"
BOARDS = "Board | Thickness | Sheet length | Sheet width | Price\nwhite | 18 | 2800 | 2070 | 61\n"
CABINETS = "Kind | Qty | Width\nbase | 1 | 600\n"


def sheets_of(job: dict[str, str], shop: dict[str, str] | None = None) -> Sheets:
    one: Any = Held("job.xlsx", job, {})
    other: Any = Held("shop.xlsx", shop, {}) if shop is not None else None
    return read_sheets(one, other, Findings())


def told(sheets: Sheets) -> list[str]:
    return [f"{one.place}: {one.found} | {one.expected} | {one.mend}" for one in sheets.findings.problems.values()]


def remarked(sheets: Sheets) -> list[str]:
    return [str(one) for one in sheets.findings.remarks]


# --- from which book ------------------------------------------------------------------------------------------------------------------------

EITHER = {"Finishes": "Finish | Words for the quote\nwhite | matt\n", "Kinds": "Kind | Words for the quote\nbase | base\n"}


@pytest.mark.parametrize("name", ["Finishes", "Kinds"])
def test_finishes_and_kinds_stand_in_either_book_and_the_jobs_own_win(name: str) -> None:
    table = EITHER[name]
    assert sheets_of({}, {name: table}).tables[name].book == "shop.xlsx"
    assert sheets_of({name: table}, {}).tables[name].book == "job.xlsx"
    assert sheets_of({name: table}, {name: table}).tables[name].book == "job.xlsx"


@pytest.mark.parametrize(("name", "table"), [("Job", JOB), ("Cabinets", CABINETS), ("Time log", "Date | Step\n")])
def test_sheets_of_a_job_are_not_looked_for_in_a_price_book(name: str, table: str) -> None:
    sheets = sheets_of({}, {name: table})
    assert not sheets.has(name)
    assert told(sheets) == []


def test_the_time_log_is_read_when_it_is_asked_for_only() -> None:
    assert not sheets_of({"Time log": "Date | Step\nsoon | cut\n"}).has("Time log")


def test_what_has_rows_what_has_items_and_where_each_stands() -> None:
    sheets = sheets_of({"Job": JOB, "CABINETS ": CABINETS}, {"Boards": BOARDS})
    assert (sheets.has("Job"), sheets.has("Cabinets"), sheets.has("Boards"), sheets.has("Shop")) == (True, True, True, False)
    assert [len(sheets.rows(name)) for name in ("Cabinets", "Boards", "Edgings", "Job")] == [1, 1, 0, 0]
    assert [sheets.home(name) for name in ("Job", "Cabinets", "Boards", "Edgings", "Extras")] == [
        Place("job.xlsx", "Job"), Place("job.xlsx", "CABINETS "), Place("shop.xlsx", "Boards"), Place("shop.xlsx", "Edgings"), Place("job.xlsx", "Extras"),
    ]  # fmt: skip
    assert sheets_of({}).home("Edgings") == Place("job.xlsx", "Edgings")


def test_further_columns_of_machine_are_read_as_machines() -> None:
    sheets = sheets_of({"Machine": "Item | Value | Unit | the small one | Note | my words\nPrice | 100 | | 70 | | dear\nLife | 8 | years | 6 | |"})
    assert [(name, own.items["price"].value.text, own.items["life"].value.text) for name, own in sheets.more_machines] == [("the small one", "70", "6")]  # type: ignore[union-attr]
    assert sheets_of({"Shop": "Item | Value | another\nPrice | 100 | 70"}).more_machines == []


# --- in which unit --------------------------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("job", "own_shop", "price_book", "width_mm", "thickness_mm"),
    [
        ("", None, None, "600", "18"), ("inch", None, None, "15240", "457.2"), ("mm", None, "inch", "600", "457.2"), ("", None, "inch", "15240", "457.2"), ("inch", None, "", "15240", "18"), ("inch", None, "mm", "15240", "18"),
        ("", "inch", None, "15240", "457.2"), ("mm", "inch", None, "600", "18"), ("", "inch", "mm", "15240", "18"), ("", "", "inch", "600", "457.2"), ("Inches", None, None, "15240", "457.2"), ("furlong", None, "inch", "600", "457.2"),
    ],
)  # fmt: skip
def test_a_bare_number_is_in_the_unit_of_its_book(job: str, own_shop: str | None, price_book: str | None, width_mm: str, thickness_mm: str) -> None:
    """The Units of Job, else of a Shop sheet in the job's workbook, else those of the price book; a price book has its own."""
    tables = {"Job": JOB + (f"Units | {job}" if job else ""), "Cabinets": CABINETS}
    if own_shop is not None:
        tables["Shop"] = SHOP + (f"Units | {own_shop}" if own_shop else "")
    if price_book is None:
        sheets = sheets_of({**tables, "Boards": BOARDS})
    else:
        sheets = sheets_of(tables, {"Boards": BOARDS, "Shop": SHOP + (f"Units | {price_book}" if price_book else "")})
    assert sheets.rows("Cabinets")[0].values["width_mm"] == Fraction(width_mm)
    assert sheets.rows("Boards")[0].values["thickness_mm"] == Fraction(thickness_mm)
    assert sheets.units("Boards") == ("mm" if thickness_mm == "18" else "inch")
    assert sheets.units("Cabinets") == ("mm" if width_mm == "600" else "inch")
    assert sheets.units("Edgings") == "mm"


def test_units_that_are_none_are_told_at_their_cell() -> None:
    assert told(sheets_of({"Job": JOB + "Units | furlong"})) == ["job.xlsx > Job > B3: the text furlong | Units: one of mm, inch | choose one of mm, inch"]
    assert told(sheets_of({}, {"Shop": SHOP + "Units | furlong"})) == ["shop.xlsx > Shop > B3: the text furlong | Units: one of mm, inch | choose one of mm, inch"]
    assert told(sheets_of({"Job": JOB + "Units | "})) == []


# --- names of tabs --------------------------------------------------------------------------------------------------------------------------


def test_a_second_sheet_of_one_name() -> None:
    assert told(sheets_of({"Boards": BOARDS, "boards ": BOARDS})) == ["job.xlsx > boards : a second sheet named Boards | one sheet of each name | rename one of the two, or take it out"]


OURS = "or a name unlike any of ours"


@pytest.mark.parametrize(
    ("job", "shop", "problems"),
    [
        ({"Cabinet": CABINETS}, None, [f"job.xlsx > Cabinet: a sheet named Cabinet | a sheet named Cabinets, {OURS} | did you mean Cabinets?"]),
        ({"Bords": BOARDS}, None, [f"job.xlsx > Bords: a sheet named Bords | a sheet named Boards, {OURS} | did you mean Boards?"]),
        ({"Job": JOB}, {"Bords": BOARDS}, [f"shop.xlsx > Bords: a sheet named Bords | a sheet named Boards, {OURS} | did you mean Boards?"]),
        ({"Job": JOB}, {"Cabinet": CABINETS}, []), ({"Boards": BOARDS, "Bords": BOARDS}, None, []), ({"My notes": "a | b"}, {"Old prices": "a | b"}, []),
        ({"Kins": "a | b"}, {"Boards": BOARDS}, [f"job.xlsx > Kins: a sheet named Kins | a sheet named Kinds, {OURS} | did you mean Kinds?"]),
    ],
)  # fmt: skip
def test_a_tab_that_seems_to_mean_one_of_ours(job: dict[str, str], shop: dict[str, str] | None, problems: list[str]) -> None:
    sheets = sheets_of(job, shop)
    assert told(sheets) == problems
    for name in ("Cabinets", "Boards", "Kinds"):
        before = len(told(sheets))
        assert sheets.need(name, "the words for it") is sheets.has(name)
        meant = any(f"did you mean {name}?" in problem for problem in problems)
        assert len(told(sheets)) - before == (0 if meant or sheets.has(name) else 1)


def test_a_misspelt_tab_beside_the_same_sheet_of_the_other_book_is_remarked() -> None:
    words = "this sheet is not read; if Boards is meant, rename it: now Boards of the other workbook counts"
    sheets = sheets_of({"Bords": BOARDS}, {"Boards": BOARDS})
    assert (told(sheets), remarked(sheets)) == ([], [f"job.xlsx > Bords: {words}"])
    assert remarked(sheets_of({"Boards": BOARDS}, {"Bords": BOARDS})) == [f"shop.xlsx > Bords: {words}"]


def test_every_misspelt_tab_is_told_and_remarked() -> None:
    sheets = sheets_of({"Bords": BOARDS, "Edgins": "a | b", "Cabinet": CABINETS}, {"Boards": BOARDS})
    assert [one.partition(":")[0] for one in told(sheets)] == ["job.xlsx > Edgins", "job.xlsx > Cabinet"]
    assert [one.partition(":")[0] for one in remarked(sheets)] == ["job.xlsx > Bords"]


@pytest.mark.parametrize(
    ("job", "said"),
    [
        ({"Kitchen": CABINETS}, True), ({"Kitchen": "Width | Kind | Room | Qty (pieces)\n600 | base | a | 1"}, True), ({"Kitchen": "Kind | Qty"}, False), ({"Kitchen": ""}, False), ({"Cabinet": CABINETS}, False), ({"Cabinets": CABINETS, "Kitchen": CABINETS}, False),
        ({"Extras": CABINETS}, False), ({"Notes": "a | b", "Kitchen": CABINETS}, True),
    ],
)  # fmt: skip
def test_cabinets_under_a_name_far_from_theirs(job: dict[str, str], said: bool) -> None:
    words = "this sheet has the headers of Cabinets, but is not read under this name: rename it Cabinets if its rows are to be priced"
    assert [one for one in remarked(sheets_of(job)) if "headers of Cabinets" in one] == ([f"job.xlsx > Kitchen: {words}"] if said else [])


# --- a sheet that is not there --------------------------------------------------------------------------------------------------------------

COPIED = "add the sheet {0}, or copy it from the blank form (estimator blank writes it)"
BESIDE = "put your price book shop.xlsx into the same folder, or name it with --shop; or "


@pytest.mark.parametrize(
    ("name", "shop", "where", "mend"),
    [
        ("Boards", None, "job.xlsx", BESIDE + COPIED), ("Boards", {}, "job.xlsx or shop.xlsx", COPIED), ("Job", {}, "job.xlsx", COPIED), ("Cabinets", {}, "job.xlsx", COPIED), ("Job", None, "job.xlsx", COPIED),
        ("Kinds", None, "job.xlsx", BESIDE + COPIED), ("Loose parts", {}, "job.xlsx or shop.xlsx", COPIED),
    ],
)  # fmt: skip
def test_a_sheet_that_is_needed_is_told_once(name: str, shop: dict[str, str] | None, where: str, mend: str) -> None:
    sheets = sheets_of({}, shop)
    assert not sheets.need(name, "the words for it")
    assert not sheets.need(name, "other words")
    assert told(sheets) == [f"job.xlsx > {name}: no sheet named {name} in {where} | a sheet {name}: the words for it | {mend.format(name)}"]


# --- what is hidden -------------------------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("hidden", "words"),
    [
        ([], []), ([2], ["row 2 is hidden, and read all the same"]), ([3, 2], ["rows 2 to 3 are hidden, and read all the same"]), ([2, 4, 9], ["rows 2, 4 are hidden, and read all the same"]), ([9], []), ([5], []),
    ],
)  # fmt: skip
def test_hidden_rows_that_hold_something(hidden: list[int], words: list[str]) -> None:
    raw, findings = RawSheet("Cabinets", False, {**{row: {1: Cell("x")} for row in (1, 2, 3, 4)}, 5: {}}, hidden), Findings()
    _remark_hidden(raw, "job.xlsx", findings)
    assert [str(one) for one in findings.remarks] == [f"job.xlsx > Cabinets: {said}" for said in words]


def test_what_is_hidden_is_remarked_of_each_sheet_that_is_read() -> None:
    held: Any = Held("job.xlsx", {"Cabinets": CABINETS, "Job": JOB, "Notes": "a | b"}, {})
    held.sheets = {name: RawSheet(name, True, raw.rows) for name, raw in held.sheets.items()}
    assert [str(one) for one in read_sheets(held, None, Findings()).findings.remarks] == [f"job.xlsx > {name}: this sheet is hidden; it is read all the same" for name in ("Job", "Cabinets")]


def test_hidden_sheets() -> None:
    findings = Findings()
    _remark_hidden(RawSheet("Cabinets", True), "job.xlsx", findings)
    assert [str(one) for one in findings.remarks] == ["job.xlsx > Cabinets: this sheet is hidden; it is read all the same"]


def test_row_numbers_in_words() -> None:
    assert [_runs(rows) for rows in ([1], [1, 2], [1, 3], [1, 2, 3, 7, 9, 8])] == ["1", "1 to 2", "1, 3", "1 to 3, 7 to 9"]


def test_a_refusal_names_the_problems_of_a_shop_book_after_the_jobs_own() -> None:
    from tests.reading.held import read

    answer = read({"Job": JOB, "Bords": BOARDS}, shop={"Edgins": "a | b", "Shop": SHOP})
    assert isinstance(answer, Refusal)
    books = [one.place.workbook for one in answer.problems]
    assert books == sorted(books)
    assert set(books) == {"job.xlsx", "shop.xlsx"}
