"""The register: figures over many jobs, currencies apart, names that are only names, links that lead to their file."""

import io
import re
from datetime import date
from html.parser import HTMLParser
from pathlib import Path
from typing import Any
from urllib.parse import unquote

import pytest
from openpyxl import load_workbook

from estimator.batch import Refused
from estimator.model.exact import Fraction
from estimator.model.problems import Place, Problem
from estimator.model.refusal import Refusal
from estimator.papers.register import NotRegistered, RefusedRow, RegisterRow, register_book, register_page, row_of
from estimator.papers.register.money import months, totals
from estimator.papers.register.rows import COSTS
from estimator.registering import refused_rows, rows_below, write_register

EVIL = "<script>alert(1)</script>"


def page_of(rows: list[RegisterRow], refused: list[RefusedRow]) -> bytes:
    """The page in one piece."""
    return b"".join(register_page(rows, refused))


def row(name: str = "kitchen", **other: Any) -> RegisterRow:
    """A job with round figures."""
    plain: dict[str, Any] = {
        "name": name, "revision_folder": "1", "earlier": (), "papers": ("estimate.json", "owner.pdf", "quote.pdf"),
        "job_name": name, "quote_number": "7", "revision": "1", "client": "Guesthouse", "status": "asked",
        "quote_date": date(2031, 2, 3), "currency": "EUR", "gross": Fraction(1200), "net": Fraction(1000),
        "costs": {**dict.fromkeys(COSTS, Fraction(0)), "boards": Fraction(300), "labour": Fraction(450)},
        "hours": Fraction(15), "sheets": 4, "by_hand_m": Fraction(30), "sent_out_m": Fraction(12),
        "banding": "all by hand", "saving": Fraction(40), "remarks": (),
    }  # fmt: skip
    return RegisterRow(**{**plain, **other})


JOBS = (
    row("kitchen"),
    row("hall", status="won", gross=Fraction("2400.05"), net=Fraction("2000.04"), quote_date=date(2031, 2, 20)),
    row("bath", quote_date=date(2031, 3, 1), gross=Fraction("0.10")),
    row("loft", currency="JPY", gross=Fraction(150000), net=Fraction(136364)),
)


def test_currencies_are_never_added_together() -> None:
    found = {one.currency: one for one in totals(JOBS)}
    assert found["EUR"].gross == Fraction("3600.15")
    assert found["EUR"].won_gross == Fraction("2400.05")
    assert found["JPY"].gross == 150000
    assert [(one.currency, one.month, one.jobs) for one in months(JOBS)] == [("EUR", "2031-02", 2), ("EUR", "2031-03", 1), ("JPY", "2031-02", 1)]


def test_the_months_add_up_to_the_totals() -> None:
    for whole in totals(JOBS):
        parts = [one for one in months(JOBS) if one.currency == whole.currency]
        for figure in ("gross", "won_gross", "net", "cost", "left", "hours", "sheets", "metres", "jobs", "won"):
            assert sum(getattr(one, figure) for one in parts) == getattr(whole, figure), figure


def test_margin_is_what_is_left_of_the_price_before_tax() -> None:
    """1,000 before tax, cost 750: a quarter is left."""
    assert row().left == 250
    assert row().margin_share == Fraction(1, 4)


ESTIMATE: dict[str, Any] = {
    "job": {"name": "Bench", "quote_date": "2031-05-06", "currency": "GBP", "client": "Mill"},
    "price": {"gross": "240.00", "net": "200.00"},
    "cost": {"boards": "90", "labour": "30", "extras": "1", "extras_at_own_price": "9"},
    "minutes": {"total": "90"},
    "boards": {"white 18": {"sheets": 2}, "oak 18": {"sheets": 1}},
    "edgings": {"white 1 mm": {"net_m": "12.5"}, "oak 1 mm": {"net_m": "4"}},
    "small_parts": [{"edging": "white 1 mm", "net_m": "0.5"}],
    "plans": [
        {"sent": [], "possible": True, "relevant_cost": "100"},
        {"sent": ["white 1 mm"], "possible": True, "relevant_cost": "64.5"},
        {"sent": ["white 1 mm", "oak 1 mm"], "possible": True, "relevant_cost": "90"},
    ],
    "best": ["white 1 mm"],
    "chosen": ["white 1 mm"],
}


def test_a_row_is_what_its_estimate_says() -> None:
    """12.5 m are sent, half a metre of small parts stays: 12 away, 4.5 here; 35.50 saved; 130 of cost, the extra's own included."""
    found = row_of(ESTIMATE, name="bench", revision_folder="1")
    assert (found.sent_out_m, found.by_hand_m, found.saving, found.cost) == (12, Fraction("4.5"), Fraction("35.5"), 130)
    assert (found.hours, found.sheets, found.month, found.banding) == (Fraction(3, 2), 3, "2031-05", "send out white 1 mm")


def test_where_by_hand_is_best_the_saving_is_against_all_sent() -> None:
    assert row_of({**ESTIMATE, "best": []}, name="bench", revision_folder="1").saving == -10
    assert row_of({**ESTIMATE, "plans": ESTIMATE["plans"][1:]}, name="bench", revision_folder="1").saving is None


@pytest.mark.parametrize("broken", [{}, [], {"job": {}}, {**ESTIMATE, "price": {"gross": "much"}}, {**ESTIMATE, "boards": 3}])
def test_what_is_no_estimate_is_told(broken: Any) -> None:
    with pytest.raises(NotRegistered):
        row_of(broken, name="x", revision_folder="1")


class Page(HTMLParser):
    """The links, scripts and words of a page."""

    def __init__(self, text: bytes) -> None:
        super().__init__()
        self.links: list[str] = []
        self.tags: list[str] = []
        self.ids: set[str] = set()
        self.feed(text.decode("utf-8"))

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append(tag)
        found = dict(attrs)
        if tag == "a":
            self.links.append(found["href"] or "")
        if found.get("id"):
            self.ids.add(found["id"] or "")


def test_a_client_called_script_is_only_a_name() -> None:
    names = {"client": EVIL, "job_name": EVIL, "quote_number": '"><img src=x onerror=alert(1)>', "remarks": (EVIL,), "banding": EVIL}
    page = page_of([row(EVIL, **names)], [RefusedRow(EVIL, EVIL, 1)])
    found = Page(page)
    assert found.tags.count("script") == 1  # our own
    assert "img" not in found.tags
    assert page.decode().count("&lt;script&gt;alert(1)&lt;/script&gt;") >= 5


@pytest.mark.parametrize("name", ['a "quoted" one', "#1", "why?", "50 % off", "Bäckerei & Söhne", "it's", "a+b;c", "%41", "日本"])
def test_a_link_leads_to_its_file_whatever_its_name(name: str) -> None:
    links = Page(page_of([row(name, revision_folder=name)], [])).links
    quote = next(link for link in links if link.endswith("quote.pdf"))
    assert not re.search(r"""[?#"'<> ]""", quote)
    assert [unquote(part) for part in quote.split("/")] == [name, name, "quote.pdf"]


def test_every_inner_link_has_its_place_and_nothing_comes_from_the_network() -> None:
    text = page_of(JOBS, [RefusedRow("bad.xlsx", "no width", 2)])
    page = Page(text)
    assert {link[1:] for link in page.links if link.startswith("#")} <= page.ids
    assert not re.search(rb"https?://", text)


def test_the_same_jobs_give_the_same_bytes() -> None:
    assert page_of(JOBS, []) == page_of(JOBS, [])
    assert register_book(JOBS, []) == register_book(JOBS, [])


def test_the_book_holds_every_job_and_its_sums() -> None:
    book = load_workbook(io.BytesIO(register_book(JOBS, [RefusedRow("bad.xlsx", "no width", 2)])), data_only=True)
    jobs = [dict(zip([cell.value for cell in book["Jobs"][1]], line, strict=True)) for line in book["Jobs"].iter_rows(min_row=2, values_only=True)]
    assert [one["Job"] for one in jobs] == ["kitchen", "hall", "bath", "loft"]
    assert jobs[1]["Total with tax"] == 2400.05
    assert jobs[0]["Margin"] == 0.25
    sums = {line[0]: line for line in book["Totals"].iter_rows(min_row=2, values_only=True)}
    assert sums["EUR"][1:5] == (3, 1, 3600.15, 2400.05)
    assert [line[:2] for line in book["Refused"].iter_rows(min_row=2, values_only=True)] == [("bad.xlsx", 2)]


def test_a_name_that_looks_like_a_formula_is_text() -> None:
    book = load_workbook(io.BytesIO(register_book([row(client="=1+1", job_name='=HYPERLINK("http://x.example")')], [])))
    assert book["Jobs"]["A2"].value == "=1+1"
    assert book["Jobs"]["A2"].data_type == "s"
    assert book["Jobs"]["B2"].data_type == "s"


@pytest.mark.skipif(not __import__("importlib.util").util.find_spec("ironcalc"), reason="ironcalc is not there on this machine")
def test_another_program_reckons_the_same_sums(tmp_path: Path) -> None:
    """The live sums of Totals and Months, worked out anew by a spreadsheet engine that is not ours."""
    import ironcalc

    file = tmp_path / "register.xlsx"
    file.write_bytes(register_book(JOBS, []))
    model = ironcalc.load_from_xlsx(str(file), "en", "UTC", "en")
    model.evaluate()
    told = load_workbook(file, data_only=True)
    compared = 0
    for number, name in enumerate(told.sheetnames):
        for line in told[name].iter_rows(min_row=2) if name in ("Totals", "Months") else ():
            for cell in line:
                if isinstance(cell.value, int | float):
                    text = model.get_formatted_cell_value(number, cell.row, cell.column).replace(",", "")
                    got = float(text.rstrip("%")) / (100 if text.endswith("%") else 1)
                    assert got == pytest.approx(cell.value, abs=0.06), (name, cell.coordinate)
                    compared += 1
    assert compared == 13 * 5


def estimate_in(folder: Path, **other: Any) -> None:
    import json

    folder.mkdir(parents=True)
    data = {**ESTIMATE, "job": {**ESTIMATE["job"], **other}}
    (folder / "estimate.json").write_text(json.dumps(data), encoding="utf-8")


def test_a_job_stands_once_with_its_latest_revision(tmp_path: Path) -> None:
    for revision in ("1", "2", "10"):
        estimate_in(tmp_path / "bench" / revision, revision=revision)
    (found,), unreadable = rows_below(tmp_path)
    assert (found.revision, found.earlier, unreadable) == ("10", ("1", "2"), ())


def test_an_estimate_that_cannot_be_read_is_told_and_stops_nothing(tmp_path: Path) -> None:
    estimate_in(tmp_path / "good" / "1")
    (tmp_path / "bad" / "1").mkdir(parents=True)
    (tmp_path / "bad" / "1" / "estimate.json").write_text("{", encoding="utf-8")
    page, rows = write_register(tmp_path, [])
    assert len(rows) == 1
    assert "bad/1/estimate.json" in page.read_text(encoding="utf-8")


def test_a_refused_workbook_keeps_its_earlier_row(tmp_path: Path) -> None:
    problem = Problem(Place("bench.xlsx", "Cabinets", "E7"), "the text 60O", "Width in mm", "type digits")
    (found,) = refused_rows([Refused(tmp_path / "bench.xlsx", Refusal("bench.xlsx", (problem,)))], names={"bench"})
    assert found == RefusedRow("bench.xlsx", "bench.xlsx > Cabinets > E7: found the text 60O; expected Width in mm", 1, "bench")


def test_more_months_than_a_chart_holds_are_said_to_be_left_out() -> None:
    rows = [row(f"job {at}", quote_date=date(2030 + at // 12, at % 12 + 1, 1)) for at in range(14)]
    text = page_of(rows, []).decode()
    assert "Value of quotes by month, the latest 12, EUR with tax" in text
    assert "the latest 12" not in page_of(rows[:12], []).decode()


def test_a_quote_number_on_two_jobs_is_told_and_the_jobs_are_told_apart() -> None:
    rows = [row("kitchen", job_name="Kitchen"), row("kitchen copy", job_name="Kitchen"), row("bench", quote_number="8")]
    text = page_of(rows, []).decode()
    assert "Quote number <strong>7</strong> stands on 2 jobs, and each of them is counted: kitchen; kitchen copy." in text
    assert text.count('class="back folder"') == 2
    assert "and each of them is counted" not in page_of(rows[1:], []).decode()


def test_a_long_client_is_read_whole_in_the_table() -> None:
    """Three lines of 24 letters hold what 26 letters of one line would cut off; a short name keeps its row as low as ever."""
    rows = [row(client="A. Client"), row("other", client="The Trustees of the Almshouse and Orchard Foundation")]
    sheet = load_workbook(io.BytesIO(register_book(rows, [])))["Jobs"]
    assert (sheet.row_dimensions[2].height, sheet.row_dimensions[3].height) == (None, 45)  # None: as low as ever
    assert sheet["A3"].alignment.wrap_text
