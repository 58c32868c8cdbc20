"""compare at the prompt: a workbook against the papers of an earlier day, and the change order of a job that is won."""

import io
import json
import shutil
from collections.abc import Callable
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest
from openpyxl import load_workbook
from pypdf import PdfReader

from estimator.__main__ import main
from estimator.costing.bridge_order import change_order_of
from estimator.costing.estimate import estimate_job
from estimator.model.comparison import ChangeOrder
from estimator.model.records import Job
from estimator.model.results import Estimate
from estimator.papers.change_order import change_order_pdf
from estimator.reading.workbook import read_job

WORKBOOKS = Path(__file__).parents[1] / "workbooks"
SECRET = "Geheimrezept"


def row_of(sheet: Any, item: str) -> int:
    return next(row[0].row for row in sheet.iter_rows() if str(row[0].value or "").partition(" (")[0] == item)


def changed_copy(source: Path, target: Path, change: Callable[[Any], None]) -> Path:
    book = load_workbook(source)
    change(book)
    book.save(target)
    return target


def set_item(book: Any, item: str, value: Any, sheet: str = "Job") -> None:
    book[sheet].cell(row_of(book[sheet], item), 2).value = value


@pytest.fixture(scope="module")
def won(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with the kitchen, won and priced, and the shop's price book beside it."""
    folder = tmp_path_factory.mktemp("won")
    shutil.copy(WORKBOOKS / "shop.xlsx", folder)
    changed_copy(WORKBOOKS / "kitchen.xlsx", folder / "kitchen.xlsx", lambda book: set_item(book, "Status", "won"))
    assert main(["price", str(folder / "kitchen.xlsx"), "--out", str(folder / "reports")]) == 0
    return folder


@pytest.fixture
def shop(won: Path, tmp_path: Path) -> Path:
    """A copy of that folder, to change."""
    return shutil.copytree(won, tmp_path, dirs_exist_ok=True)


def next_revision(book: Any) -> None:
    set_item(book, "Revision", "2")


def two_more_drawers(book: Any) -> None:
    next_revision(book)
    book["Cabinets"]["J4"] = 6
    book["Cabinets"]["O4"] = SECRET


def compare(shop: Path, *more: str) -> int:
    return main(["compare", str(shop / "reports" / "kitchen" / "1"), str(shop / "kitchen.xlsx"), "--out", str(shop / "reports"), *more])


@pytest.mark.parametrize("name", ["kitchen", "wardrobe", "inch-job", "one-cabinet"])
def test_the_papers_hold_the_whole_job(name: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A job compared with its own papers: nothing is changed, in millimetres and in inches, with one book and with two."""
    main(["price", str(WORKBOOKS / f"{name}.xlsx"), "--out", str(tmp_path)])
    capsys.readouterr()
    assert main(["compare", str(tmp_path / name), str(WORKBOOKS / f"{name}.xlsx"), "--out", str(tmp_path)]) == 0
    told = capsys.readouterr().out
    assert "Nothing is changed." in told
    assert "the same" in told


def test_what_an_owner_asks(shop: Path, capsys: pytest.CaptureFixture[str]) -> None:
    changed_copy(shop / "kitchen.xlsx", shop / "kitchen.xlsx", two_more_drawers)
    changed_copy(shop / "shop.xlsx", shop / "shop.xlsx", lambda book: book["Boards"].cell(2, 5, 70))
    capsys.readouterr()
    assert compare(shop, "--json") == 0
    told = json.loads(capsys.readouterr().out)
    assert [step["changes"][0]["sheet"] for step in told["steps"]] == ["Cabinets", "Boards"]
    drawers = told["steps"][0]["changes"][0]["cells"][0]
    assert drawers == {"place": "kitchen.xlsx > Cabinets > J4", "column": "Drawers", "was": "4", "is": "6"}
    assert Fraction(told["recorded"]) + sum(Fraction(step["gross"]) for step in told["steps"]) == Fraction(told["new"])
    assert all(Fraction(step["gross"]) > 0 for step in told["steps"])
    assert {change["row"] for change in told["without_price"]} == {"Revision"}


def test_the_workbook_adds_up_by_itself(shop: Path) -> None:
    changed_copy(shop / "kitchen.xlsx", shop / "kitchen.xlsx", two_more_drawers)
    assert compare(shop) == 0
    file = shop / "reports" / "kitchen" / "2" / "compare.xlsx"
    told, live = (load_workbook(file, data_only=only)["From old to new"] for only in (True, False))
    rows = [row for row in told.iter_rows(min_row=4, values_only=True) if row[0]]
    assert rows[0][2] + sum(row[1] for row in rows[1:-1]) == pytest.approx(rows[-1][2], abs=0.001)
    assert str(live.cell(5, 3).value).startswith("=C4+B5")
    cells = list(load_workbook(file)["What changed"].iter_rows(min_row=2, values_only=True))
    assert ("Cabinets", "Kitchen 3", "changed", "Drawers", "4", "6", "kitchen.xlsx > Cabinets > J4") in cells


def test_an_earlier_version_of_the_program_is_a_step_of_its_own(shop: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """The price of that day is what was recorded that day, whatever the same workbook costs now."""
    file = shop / "reports" / "kitchen" / "1" / "estimate.json"
    data = json.loads(file.read_text(encoding="utf-8"))
    data["price"]["gross"] = "9000.00"
    file.write_text(json.dumps(data), encoding="utf-8")
    capsys.readouterr()
    assert compare(shop) == 0
    told = capsys.readouterr().out
    assert "kitchen, revision 1: 9000.00 EUR" in told
    assert "+395.00  9395.00  the same workbook, worked out by this version of the program" in told


def test_what_is_no_job_is_told(shop: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (shop / "empty").mkdir()
    assert main(["compare", str(shop / "empty"), str(shop / "kitchen.xlsx")]) == 2
    assert "holds no priced job" in capsys.readouterr().err
    assert main(["compare", str(shop / "shop.xlsx"), str(shop / "kitchen.xlsx")]) == 1


# --- the change order ---


def order_data(shop: Path, revision: str = "2") -> Any:
    return json.loads((shop / "reports" / "kitchen" / revision / "change-order.json").read_text(encoding="utf-8"))


def words_of(pdf: bytes) -> str:
    return "\n".join(page.extract_text() for page in PdfReader(io.BytesIO(pdf)).pages)


def test_only_the_work_is_in_it_and_the_accepted_price_stands(shop: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Drawers and a dearer board: the drawers are ordered, the board stays with the shop, and says so to the shop alone."""
    changed_copy(shop / "kitchen.xlsx", shop / "kitchen.xlsx", two_more_drawers)
    changed_copy(shop / "shop.xlsx", shop / "shop.xlsx", lambda book: book["Boards"].cell(2, 5, 70))
    capsys.readouterr()
    assert compare(shop, "--change-order") == 0
    assert "left out, for it is no change of the work" in capsys.readouterr().out
    data = order_data(shop)
    assert data["accepted"] == "9395.00"
    assert [line["ref"] for line in data["lines"]] == ["Kitchen 3"]
    assert Fraction(data["net"]) == sum(Fraction(line["net"]) for line in data["lines"]) + Fraction(data["least_added"])
    assert Fraction(data["gross"]) == Fraction(data["net"]) + Fraction(data["tax_total"])
    assert Fraction(data["new_total"]) == Fraction(data["accepted"]) + Fraction(data["gross"])
    words = words_of((shop / "reports" / "kitchen" / "2" / "change-order.pdf").read_bytes())
    assert "Amount, EUR" in words, "the column runs on to the tax and the price with it"
    for said in ("Change order 1", "Kitchen 3", "6 drawers", "instead of", "4 drawers", "9,395.00", "Signature", "New date of completion"):
        assert said in words, said
    assert SECRET not in words


def test_the_least_fee_brings_a_small_change_up(shop: Path) -> None:
    """A change worth less than the fee is charged at it, before tax; the tax is on the fee too."""
    changed_copy(shop / "kitchen.xlsx", shop / "kitchen.xlsx", two_more_drawers)
    changed_copy(shop / "shop.xlsx", shop / "shop.xlsx", lambda book: set_item(book, "Least change fee", 1000, "Shop"))
    assert compare(shop, "--change-order") == 0
    data = order_data(shop)
    assert data["net"] == "1000.00"
    assert data["gross"] == "1200.00"
    assert Fraction(data["least_added"]) == 1000 - Fraction(data["lines"][0]["net"])


def test_the_next_change_order_starts_from_the_one_before(shop: Path) -> None:
    changed_copy(shop / "kitchen.xlsx", shop / "kitchen.xlsx", two_more_drawers)
    assert compare(shop, "--change-order") == 0
    assert main(["price", str(shop / "kitchen.xlsx"), "--out", str(shop / "reports")]) == 0

    def one_cabinet_less(book: Any) -> None:
        set_item(book, "Revision", "3")
        book["Cabinets"].delete_rows(12)

    changed_copy(shop / "kitchen.xlsx", shop / "kitchen.xlsx", one_cabinet_less)
    second = str(shop / "reports" / "kitchen" / "2")
    assert main(["compare", second, str(shop / "kitchen.xlsx"), "--change-order", "--out", str(shop / "reports")]) == 0
    first, then = order_data(shop, "2"), order_data(shop, "3")
    assert then["number"] == 2
    assert then["accepted"] == first["new_total"]
    assert Fraction(then["gross"]) < 0


@pytest.mark.parametrize(
    ("item", "value", "expected"),
    [("Status", "sent", "won: a change order changes a job"), ("Revision", "1", "Revision: the next one")],
)
def test_there_is_none_before_the_job_is_won_or_without_a_revision_of_its_own(
    shop: Path, item: str, value: str, expected: str, capsys: pytest.CaptureFixture[str]
) -> None:
    changed = changed_copy(shop / "kitchen.xlsx", shop / "changed.xlsx", two_more_drawers)
    old = shop / "old.xlsx"
    changed_copy(shop / "kitchen.xlsx", old, lambda book: set_item(book, "Status", value) if item == "Status" else None)
    if item == "Revision":
        changed_copy(changed, changed, lambda book: set_item(book, item, value))
    assert main(["compare", str(old), str(changed), "--change-order", "--out", str(shop / "reports")]) == 1
    assert expected in capsys.readouterr().err


def test_no_change_is_no_change_order(shop: Path, capsys: pytest.CaptureFixture[str]) -> None:
    changed_copy(shop / "kitchen.xlsx", shop / "kitchen.xlsx", next_revision)
    assert compare(shop, "--change-order") == 1
    assert "a change order is about" in capsys.readouterr().err


@pytest.fixture(scope="module")
def jobs() -> tuple[Job, Job]:
    from dataclasses import replace

    job = read_job(WORKBOOKS / "kitchen.xlsx")
    assert isinstance(job, Job)
    at = next(at for at, row in enumerate(job.cabinets) if row.drawers)
    row = replace(job.cabinets[at], qty=3, note=SECRET)
    extras = tuple(replace(extra, cost_each=Fraction("777.77"), minutes_each=Fraction(888)) for extra in job.extras)
    new = replace(
        job, cabinets=(*job.cabinets[:at], row, *job.cabinets[at + 1 : -1]), loose_parts=job.loose_parts[1:],
        extras=tuple(replace(extra, qty=extra.qty + 1) for extra in extras),
    )  # fmt: skip
    return replace(job, extras=extras), new


@pytest.mark.parametrize("language", ["en", "de"])
def test_nothing_internal_stands_on_it(jobs: tuple[Job, Job], language: str) -> None:
    """No cost, rate, minute, margin, note, board, edging, supplier or step of the shop's, in either language."""
    from dataclasses import replace

    old, new = (replace(job, terms=replace(job.terms, language=language)) for job in jobs)
    order, estimate = change_order_of(old, new, accepted_money=Fraction(9395)), estimate_job(new)
    assert isinstance(order, ChangeOrder)
    assert isinstance(estimate, Estimate)
    words = words_of(change_order_pdf(order, estimate, number=1, accepted_revision="1"))
    inside = [SECRET, "777.77", "888", *(board.board for board in new.boards), *(edging.edging for edging in new.edgings)]
    inside += [step.step for step in new.work if len(step.step) > 6] + [one.item for one in new.fittings if len(one.item) > 8]
    inside += [str(new.contract.contractor)] if new.contract and new.contract.contractor else []
    quoted = " ".join([*(one.words for one in new.finishes), *(kind.words for kind in new.kinds), *(part.part for part in old.loose_parts)])
    for word in inside:
        assert word in quoted or word not in words, word
    for label in {"en": ("Agreed", "no longer made"), "de": ("Vereinbart", "entfällt", "geändert", "Nachtrag 1")}[language]:
        assert label in words
    assert "margin" not in words.lower()
    assert "marge" not in words.lower()


def test_the_amounts_of_a_change_order_add_up(jobs: tuple[Job, Job]) -> None:
    order = change_order_of(*jobs, accepted_money=Fraction(9395))
    assert isinstance(order, ChangeOrder)
    assert sum((line.net for lines in order.lines for line in lines), start=order.least_added) == order.net
    assert sum(one.base for one in order.tax) == order.net
    assert order.gross == order.net + sum(one.tax for one in order.tax)


def test_what_counts_as_the_work(jobs: tuple[Job, Job]) -> None:
    """A finish made of something else, delivery and trips are ordered; another order of rows, a rate and a margin are not."""
    from dataclasses import replace

    old = jobs[0]
    used = next(one for one in old.finishes if one.finish in {row.finish for row in old.cabinets})
    other = next(one for one in old.finishes if one.finish != used.finish and set(one.boards) == set(used.boards))
    new = replace(
        old,
        cabinets=old.cabinets[::-1],
        finishes=tuple(replace(one, boards=other.boards, words="something else") if one is used else one for one in old.finishes),
        terms=replace(old.terms, delivery_charge=old.terms.delivery_charge + 100, site_trips=old.terms.site_trips + 1, margin_share=Fraction(1, 2)),
        shop=replace(old.shop, allowance_share=Fraction(1, 2)),
    )  # fmt: skip
    order = change_order_of(old, new, accepted_money=Fraction(9395))
    assert isinstance(order, ChangeOrder)
    ordered = [line for lines in order.lines for line in lines]
    assert [line.term or line.after_words for line in ordered] == ["something else", "delivery", "site trips"]
    assert ordered[1].net == 100
    assert {change.sheet for step in order.left_out for change in step.changes} <= {"Cabinets", "Job", "Shop"}
    estimate = estimate_job(new)
    assert isinstance(estimate, Estimate)
    words = words_of(change_order_pdf(order, estimate, number=1, accepted_revision="1"))
    for said in ("something else", "Delivery", f"Site visits: {new.terms.site_trips}", "+100.00"):
        assert said in words, said


def test_a_credit_is_given_in_full_and_the_fee_is_charged_beside_it(jobs: tuple[Job, Job]) -> None:
    from dataclasses import replace

    old = jobs[0]
    new = replace(old, cabinets=old.cabinets[1:], shop=replace(old.shop, least_change_fee=Fraction(40)))
    order = change_order_of(old, new, accepted_money=Fraction(9395))
    assert isinstance(order, ChangeOrder)
    assert order.least_added == 40
    assert order.net == order.lines[0][0].net + 40 < 0
