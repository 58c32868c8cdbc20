"""Names that stand twice, units in other words, notes with gaps, hidden rows by the dozen: read or told, word for word."""

from pathlib import Path
from typing import Any

import pytest

from estimator.model.exact import Fraction
from estimator.model.refusal import Refusal
from estimator.reading.books import _runs
from estimator.reading.cabinets import _is_length_column
from estimator.reading.names import close_to
from estimator.reading.typed_numbers import Length, Wrong, length, shortened, stored_number
from estimator.reading.workbook import read_job
from tests.reading.base_books import ONE_BOOK
from tests.reading.drawing import draw
from tests.reading.whole_books import one, words

F = Fraction


def with_rows(**more: str) -> dict[str, str]:
    """The correct book with further rows at the end of some sheets, cells parted by bars."""
    return {name: table.rstrip("\n") + ("\n" + more[key] if (key := name.replace(" ", "_")) in more else "") + "\n" for name, table in ONE_BOOK.items()}


def problems(folder: Path, tables: dict[str, str]) -> list[tuple[str, str, str]]:
    answer = read_job(draw(folder / "job.xlsx", tables))
    assert isinstance(answer, Refusal), answer
    return sorted((f"{one.place.sheet} {one.place.cell}", one.found, one.expected) for one in answer.problems)


def test_every_name_that_stands_twice_is_told_in_one_run(tmp_path: Path) -> None:
    tables = with_rows(
        Finishes="White | white 18 | white 1 | white 18 | white 1 | white 8 | again",
        Kinds="OPEN | shelves | 720 | 300 | 2 | 0 | 0",
        Adhesives="Contact | 6 | 2 | 1 | 10 % | 1 | 15 | litres | 30 | 240 | |",
        Contract_prices="White 1 | 100 | 0.80 |",
        Options="All oak | White | oak | once more",
        Drying="contact | 12 | | 50 | 200",
        Merchant="Elm Boards | White 18 | cut | | 1 | | | | | |",
    )  # fmt: skip
    assert problems(tmp_path, tables) == [
        ("Adhesives A3", "the adhesive Contact a second time", "Adhesive: the adhesive Contact once only"),
        (
            "Contract prices B4", "a price of white 1 from these metres a second time",
            "From metres: a price of white 1 from these metres once only",
        ),
        (
            "Drying B4", "the adhesive contact at this temperature and humidity a second time",
            "Temperature: the adhesive contact at this temperature and humidity once only",
        ),
        ("Finishes A4", "the finish White a second time", "Finish: the finish White once only"),
        ("Kinds A4", "the kind OPEN a second time", "Kind: the kind OPEN once only"),
        ("Merchant B4", "the board white 18 a second time", "Board: the board white 18 once only"),
        (
            "Options B3", "the finish white in the option All oak a second time",
            "Replace finish: the finish white in the option All oak once only",
        ),
    ]  # fmt: skip


def test_prices_from_other_metres_are_no_second_price(tmp_path: Path) -> None:
    book = draw(tmp_path / "job.xlsx", with_rows(Contract_prices="White 1 | 200 | 0.80 |"))
    answer = read_job(book)
    assert not isinstance(answer, Refusal), answer.problems
    assert [(price.edging, price.from_m) for price in answer.contract_prices] == [("white 1", 0), ("white 1", 100), ("white 1", 200)]


@pytest.mark.parametrize(("typed", "units"), [("inches", "inch"), ("Imperial", "inch"), ('"', "inch"), ("metric", "mm"), ("millimetres", "mm")])
def test_units_in_other_words(tmp_path: Path, typed: str, units: str) -> None:
    assert one(tmp_path, Job_B9=f"text:{typed}").terms.units == units


def test_a_payment_schedule_on_several_lines_with_gaps(tmp_path: Path) -> None:
    schedule = one(tmp_path, Job_B23="text:50 % deposit\n\n40 % before delivery;\n \n10 % on completion").terms.payment_schedule
    assert [(step.share, step.words) for step in schedule] == [(F(1, 2), "deposit"), (F(2, 5), "before delivery"), (F(1, 10), "on completion")]


def test_a_header_in_another_unit_is_remarked_at_its_cell(tmp_path: Path) -> None:
    for header, unit in (("Width (inches)", "inch"), ("Width (in)", "inch"), ('Width (")', "inch"), ("Width (cm)", "cm"), ("Width (m)", "m")):
        said = [one for one in words(one(tmp_path, Cabinets_E1=f"text:{header}")) if "the header says" in one]
        assert len(said) == 1, header
        assert said[0].startswith("job.xlsx > Cabinets > E1")
        assert f"the header says {unit}, but this workbook's Units are mm: bare numbers here are read as" in said[0]
    assert not [said for said in words(one(tmp_path, Cabinets_E1="Width (mm)")) if "the header says" in said]


def test_an_option_that_changes_nothing_is_remarked_at_the_cell_that_does_not(tmp_path: Path) -> None:
    itself = one(tmp_path, Options_B2="white", Options_C2="white")
    assert any(said.startswith("job.xlsx > Options > C2") and "white is replaced by itself" in said for said in words(itself))
    book = draw(tmp_path / "job.xlsx", with_rows(Finishes="elm | white 18 | white 1 | white 18 | white 1 | white 8 | elm", Options="all elm | elm | oak | elm"))
    answer = read_job(book)
    assert not isinstance(answer, Refusal), answer.problems
    assert any(said.startswith("job.xlsx > Options > B3") and "no cabinet and no loose part has the finish elm" in said for said in words(answer))


# --- small ones by themselves -----------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("numbers", "said"),
    [
        ([7], "7"), ([7, 3, 6, 5], "3, 5 to 7"), (list(range(1, 40, 2)), ", ".join(map(str, range(1, 40, 2)))),
        (list(range(1, 42, 2)), ", ".join(map(str, range(1, 40, 2))) + " and further ones"),
    ],
)  # fmt: skip
def test_row_numbers_in_words(numbers: list[int], said: str) -> None:
    assert _runs(numbers) == said


@pytest.mark.parametrize(
    ("header", "is_length"),
    [(f"Knob ({unit})", True) for unit in ("mm", "cm", "m", "inch", "inches", "in", "ft", "feet", '"')] + [("Knob (kg)", False), ("Knob", False)],
)
def test_a_unit_of_length_after_a_header_makes_it_a_length(header: str, is_length: bool) -> None:
    assert _is_length_column(header, []) is is_length


def test_a_long_text_is_told_short_with_its_length() -> None:
    assert shortened("x" * 20) == "x" * 20
    said: Any = shortened("x" * 500)
    assert said.endswith("... (500 signs)")
    wrong = stored_number("one")
    assert isinstance(wrong, Wrong)
    assert wrong.found == "a number that is none: one"


@pytest.mark.parametrize(
    ("typed", "guess"),
    [
        ("whit", "white"), ("wihte", "white"), ("whiteX", "white"), ("whiteXY", None), ("oka", "oak"), ("ok", None), ("blue", None), ("wehit", None), ("thickness", "thicknes"),
        ("hticknse", "thicknes"), ("htikcnse", None), ("tckss", None),
    ],
)  # fmt: skip
def test_a_name_is_guessed_by_the_signs_that_differ(typed: str, guess: str | None) -> None:
    """A name of up to two signs may not differ at all, one of up to five by one, one of up to ten by two; a swap of neighbours is one."""
    assert close_to(typed, ["white", "oak", "thicknes"]) == guess


# --- as people type lengths -------------------------------------------------------------------------------------------

FRACTION_SIGNS = {"¼": "1/4", "½": "1/2", "¾": "3/4", "⅓": "1/3", "⅔": "2/3", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8", "⅙": "1/6"}


@pytest.mark.parametrize("sign", FRACTION_SIGNS)
def test_each_sign_of_a_fraction(sign: str) -> None:
    worth = F(*map(int, FRACTION_SIGNS[sign].split("/")))
    assert length(f"23{sign} in", bare_mm=F(1)) == Length((23 + worth) * F("25.4"), True)
    assert length(sign, bare_mm=F("25.4")) == Length(worth * F("25.4"), False)


UNITS_MM = {
    "mm": "1", "millimetre": "1", "millimetres": "1", "millimeter": "1", "millimeters": "1", "cm": "10", "centimetre": "10", "centimetres": "10",
    "centimeter": "10", "centimeters": "10", "m": "1000", "metre": "1000", "metres": "1000", "meter": "1000", "meters": "1000", "in": "25.4", "in.": "25.4",
    "inch": "25.4", "inches": "25.4", '"': "25.4", "''": "25.4", "”": "25.4", "“": "25.4", "″": "25.4", "ft": "304.8", "ft.": "304.8", "foot": "304.8",
    "feet": "304.8", "'": "304.8", "’": "304.8", "‘": "304.8", "′": "304.8", "´": "304.8",
}  # fmt: skip
"""The international inch is 25.4 mm and the foot 304.8 mm exactly (international yard and pound agreement, 1959)."""


@pytest.mark.parametrize("unit", UNITS_MM)
def test_each_unit_of_length(unit: str) -> None:
    for typed in (f"3 {unit}", f"3{unit}", f"3{unit}".upper()):
        assert length(typed, bare_mm=F(7)) == Length(3 * F(UNITS_MM[unit]), True)


@pytest.mark.parametrize(
    ("typed", "mm"),
    [
        ("2 ft 6 in", "762"), ("2' 6\"", "762"), ("2'-6\"", "762"), ("2 feet - 6 inches", "762"), ("2 foot 6 1/2 inch", "774.7"), ("2ft.6in.", "762"), ("23–1/2\"", "596.9"),
        ("3⁄4\"", "19.05"), ("3∕4\"", "19.05"), ("６００", "600"), ("６０．５", "60.5"), ("6\u200b00", "600"),
    ],
)  # fmt: skip
def test_feet_and_inches_and_foreign_signs(typed: str, mm: str) -> None:
    found = length(typed, bare_mm=F(1))
    assert not isinstance(found, Wrong), found
    assert found.mm == F(mm)


@pytest.mark.parametrize(
    ("typed", "code"),
    [("€", "EUR"), ("euro", "EUR"), ("Euros", "EUR"), ("£", "GBP"), ("pound", "GBP"), ("pounds", "GBP"), ("$", "USD"), ("dollar", "USD"), ("dollars", "USD"), ("¥", "JPY"), ("yen", "JPY")],
)  # fmt: skip
def test_money_in_words_is_asked_back_by_its_code(tmp_path: Path, typed: str, code: str) -> None:
    answer = read_job(draw(tmp_path / "job.xlsx", ONE_BOOK, changes={("Job", "B10"): f"text:{typed}"}))
    assert isinstance(answer, Refusal)
    assert [(problem.place.cell, problem.mend) for problem in answer.problems] == [("B10", f"did you mean {code}?")]
