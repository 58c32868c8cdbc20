"""Names of columns and rows, which one was meant, and the order in which all problems are told."""

from __future__ import annotations

import pytest

from estimator.model.problems import Place
from estimator.reading import findings as findings_module
from estimator.reading.findings import Findings
from estimator.reading.names import close_to, fold, fold_header, rule_name, unit_in_brackets
from estimator.reading.raw_cells import column_letter, column_number


def test_problems_stand_in_the_order_of_the_sheets() -> None:
    findings = Findings()
    places = [("shop.xlsx", "Job", "A1"), ("job.xlsx", "Boards", "A1"), ("job.xlsx", "Cabinets", "B10"), ("job.xlsx", "Cabinets", "AA2"), ("job.xlsx", "Cabinets", "Z2"), ("job.xlsx", "cabinets", "A3"), ("job.xlsx", "Cabinets", "row 1"), ("job.xlsx", "Notes", "C1"),
              ("job.xlsx", "Job", "B9"), ("job.xlsx", "", ""), ("job.xlsx", "Job", "Margin")]  # fmt: skip
    for place in places:
        findings.problem(Place(*place), found="x", expected="y", mend="z")
        findings.remark(Place(*place), "x")
    said = [str(one.place) for one in findings.problems_in_order("job.xlsx")]
    assert said == [
        "job.xlsx", "job.xlsx > Notes > C1", "job.xlsx > Job > Margin", "job.xlsx > Job > B9", "job.xlsx > Cabinets > row 1", "job.xlsx > Cabinets > Z2", "job.xlsx > Cabinets > AA2", "job.xlsx > Cabinets > B10", "job.xlsx > cabinets > A3",
        "job.xlsx > Boards > A1", "shop.xlsx > Job > A1",
    ]  # fmt: skip
    assert [str(one.place) for one in findings.remarks_in_order("job.xlsx")] == said


def test_more_problems_than_anybody_reads(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(findings_module, "MOST_PROBLEMS", 2)
    findings = Findings()
    for number in (1, 2):
        findings.problem(Place("job.xlsx", "Job", f"A{number}"), found="x", expected="y", mend="z")
    assert len(findings.problems_in_order("job.xlsx")) == 2
    for number in range(1_003):
        findings.problem(Place("job.xlsx", "Job", f"A{number}"), found="x", expected="y", mend="z")
    last = findings.problems_in_order("job.xlsx")[-1]
    assert (str(last.place), last.found, last.expected, last.mend) == ("job.xlsx", "1,001 further problems", "a workbook with fewer than 2 problems", "mend those above first, then run again")


# --- names ----------------------------------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(("number", "letters"), [(1, "A"), (26, "Z"), (27, "AA"), (52, "AZ"), (53, "BA"), (702, "ZZ"), (703, "AAA"), (0, "")])
def test_letters_of_columns(number: int, letters: str) -> None:
    assert column_letter(number) == letters
    assert (column_number(letters), column_number(f"{letters}17"), column_number("a1")) == (number, number, 0)


def test_names_without_what_does_not_matter() -> None:
    assert [fold(name) for name in ("  White   OAK ", "m²", "ﬁr", "STRASSE", "straße")] == ["white oak", "m2", "fir", "strasse", "strasse"]
    assert [fold_header(name) for name in ("Width (mm)", "Width [mm]", "Width(mm) ", "Width (a) (b)", "(mm)", "Width ((mm))")] == ["width", "width", "width", "width (a)", "", "width ((mm))"]
    assert [unit_in_brackets(name) for name in ("Width (MM)", "Width [in]", "Width", "Width (m) x", "Width ( m )")] == ["mm", "in", "", "", "m"]
    assert [rule_name(name) for name in ("Gap side (mm)", "gap-side", "Gap__side", "gap - side")] == ["gap_side", "gap_side", "gap_side", "gap_side"]


@pytest.mark.parametrize(
    ("typed", "known", "guess"),
    [
        ("", ("a", ""), ""), ("ab", ("ab",), "ab"), ("ac", ("ab",), None), ("abc", ("abd",), "abd"), ("abc", ("ade",), None), ("abc", ("ab",), None), ("abcde", ("abcxy",), None), ("abcdef", ("abcdxy",), "abcdxy"), ("abcdef", ("abcxyz",), None),
        ("abcdefghij", ("abcdefgxyz",), None), ("abcdefghijk", ("abcdefghxyz",), "abcdefghxyz"), ("abcdefghijk", ("abcdefgwxyz",), None), ("abc", ("acb",), "acb"), ("abcd", ("badc",), None), ("abcdef", ("badcef",), "badcef"), ("abd", ("abc", "abe"), "abc"), ("abcf", ("abce", "abcf"), "abcf"),
        ("abc" + "y" * 77, ("xyz" + "y" * 77 + "z",), "xyz" + "y" * 77 + "z"), ("abc" + "y" * 77 + "z", ("xyz" + "y" * 77,), "xyz" + "y" * 77),
        ("y" * 80 + "abcdef", ("y" * 80 + "uvwxyz",), "y" * 80 + "uvwxyz"), ("y" * 79 + "a", ("y" * 79 + "b",), "y" * 79 + "b"), ("abcabc", ("abcabcabc",), None), ("aabbcc", ("abc",), None), ("aaaabbbb", ("bbbbaaaa",), None), ("abc", ("cab",), None),
    ],
)  # fmt: skip
def test_which_name_was_meant(typed: str, known: tuple[str, ...], guess: str | None) -> None:
    """A name of up to two signs may not differ at all, one of up to five by one, of up to ten by two, a longer one by three; of two alike the first."""
    assert close_to(typed, known) == guess
