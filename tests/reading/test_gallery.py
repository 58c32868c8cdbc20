"""Every problem that a person can meet while a workbook is read, in its exact words: the gallery page is held to the program.

`python -m tests.reading.test_gallery` writes the page anew; read it aloud before it is kept.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.reading.base_books import ONE_BOOK
from tests.reading.held import told as problems_told

PAGE = Path(__file__).with_name("gallery.md")

# what went wrong | sheet | cell | content
CASES = """
A letter in a number | Cabinets | E2 | 60O
Two numbers in one | Cabinets | E2 | 1,500
Words instead of a number | Cabinets | E2 | wide
A number with a wrong unit | Cabinets | E2 | 600 kg
A needed cell is blank | Cabinets | E2 |
A size of nothing | Cabinets | E2 | 0
A fraction that turned into a date | Cabinets | E2 | date:2031-04-03
A time of day | Cabinets | E2 | time:06:00
A percentage where none can be | Cabinets | E2 | percent:0.6
A yes where a number belongs | Cabinets | E2 | bool:true
A broken formula | Cabinets | E2 | error:#REF!
A formula that was never worked out | Cabinets | E2 | =300+300
Half a cabinet | Cabinets | D2 | 1.5
Too many cabinets | Cabinets | D2 | 1000000
A kind that nobody drew | Cabinets | C2 | bse
A finish that does not exist | Cabinets | K3 | walnut
A misspelt finish | Cabinets | K3 | oka
A Ref a second time | Cabinets | A4 | Kitchen 1
A choice that is none | Cabinets | L2 | lft
A misspelt header | Cabinets | E1 | Widht
A header that is gone | Cabinets | C1 |
A header that is gone from a column that may lack | Cabinets | H1 |
A column twice | Cabinets | G1 | Height
A word in a column that the rules use | Cabinets | P2 | none
A percentage that may mean two things | Job | B12 | 0.2
A percentage in words | Job | B12 | 20 percent
A margin of everything | Job | B19 | 100 %
Neither margin nor markup | Job | B19 |
Margin and markup as well | Job | A20 | Markup
A schedule of 99 % | Job | B23 | 50 % deposit, 49 % on completion
A schedule without shares | Job | B23 | half now, half later
A date in the order of one country | Job | B5 | 3/2/2031
A date that lost its format | Job | B5 | 47882
A day that no calendar has | Job | B5 | 2031-02-30
A date of long ago | Job | B5 | date:1931-02-03
No date | Job | B5 |
A misspelt item | Job | A5 | Quote dte
An item twice | Job | A21 | Quote number
A currency by its sign | Job | B10 | €
A currency that does not exist | Job | B10 | EUT
A unit that we do not know | Job | B9 | furlong
A banding choice that is none | Job | B27 | by machine
An edging to send that does not exist | Job | B27 | white 2
A header of a sheet of names and values | Job | B1 | Valu
A loose part of an unknown board | Loose parts | G3 | white 81
A loose part of a role that its finish lacks | Loose parts | G2 | bottom
An x without an edging | Loose parts | H3 |
A mark that is neither x nor an edging | Loose parts | I3 | xx
A finish with an unknown board | Finishes | B2 | white 81
A finish without a board that its cabinets need | Finishes | B2 |
A misspelt role | Finishes | B1 | carcass bord
A finish twice | Finishes | A3 | white
No rate | Shop | B3 |
A freed hour that is no amount | Shop | B6 | wages
Labels too small for their words | Shop | B8 | 12
A length of the box that is none | Shop | B11 | two
A misspelt length of the box | Shop | A13 | gap topp
A value without a name | Shop | A8 |
Two thicknesses of one board | Boards | B3 | 19
A yield in one size only | Boards | H3 | 80 %
A sheet that is all trim | Boards | C5 | 15
A trim that eats the sheet | Boards | I3 | 1100
A yield above everything | Boards | H4 | 120 %
An edging in the same width twice | Edgings | D3 | 23
Whole rolls of no known length | Edgings | G4 | whole rolls
An adhesive that does not exist | Edgings | M2 | contakt
Neither yes nor no | Edgings | K4 | perhaps
An open time that ends before the drying | Adhesives | J2 | 30
A count that the route does not know | Fittings | C2 | edge
An Of that names nothing | Work | E3 | based
A step twice | Work | A3 | cut
During where no glue dries | Work | K2 | coating
A rating with a % sign | Work | G2 | 100 %
A role that no finish has | Construction | F2 | carcas
An edging that the row lacks | Construction | G2 |
A rule with = before it | Construction | D2 | error:#NAME?
Breaks that cannot be counted | Contract | B11 | whole order
Two set-ups of one edging | Contract prices | D3 | 9
A price break twice | Contract prices | B3 | 0
An extra without a worth | Extras | G2 |
A roll end of a width that is not stocked | Roll ends | B2 | 30
"""
EXTRA_CHANGES = {
    "Breaks that cannot be counted": {("Contract", "B12"): "quantity above"},
    "Labels too small for their words": {("Shop", "A8"): "Label rows"},
    "An extra without a worth": {("Extras", "E2"): None},
}
WHOLE_SHEETS = {
    "A sheet is missing": {"Boards": None},
    "A misspelt sheet": {"Cabinets": "Cabinet"},
    "Nothing to price": {"Cabinets": None, "Loose parts": None},
    "Headers of which we know none": {"Boards": "Bretter"},
}


def problems_of(title: str, sheet: str, cell: str, content: str | None) -> str:
    return problems_told(ONE_BOOK, {(sheet, cell): content, **EXTRA_CHANGES.get(title, {})}, name="north-street.xlsx")


def problems_of_sheets(names: dict[str, str | None]) -> str:
    tables = {names.get(name, name): table for name, table in ONE_BOOK.items() if names.get(name, name)}
    if "Bretter" in tables:
        tables["Boards"] = "Brett | Stärke | Preis\nweiß | 18 | 60\n"
        del tables["Bretter"]
    return problems_told(tables, name="north-street.xlsx")


def cases() -> list[tuple[str, str, str, str | None]]:
    split = [[part.strip() for part in line.split("|", 3)] for line in CASES.strip().splitlines()]
    return [(title, sheet, cell, content or None) for title, sheet, cell, content in split]


def page() -> str:
    parts = ["# What the program says when a workbook cannot be read\n"]
    parts += [f"## {title}\n\n```\n{problems_of(title, sheet, cell, content)}\n```\n" for title, sheet, cell, content in cases()]
    parts += [f"## {title}\n\n```\n{problems_of_sheets(names)}\n```\n" for title, names in WHOLE_SHEETS.items()]
    return "\n".join(parts)


def told() -> dict[str, str]:
    sections = PAGE.read_text(encoding="utf-8").split("\n## ")[1:]
    return {section.partition("\n")[0]: section.split("```\n")[1].rstrip("\n") for section in sections}


@pytest.mark.parametrize(("title", "sheet", "cell", "content"), cases(), ids=[case[0] for case in cases()])
def test_the_words_of_a_problem(title: str, sheet: str, cell: str, content: str | None) -> None:
    assert problems_of(title, sheet, cell, content) == told()[title]


@pytest.mark.parametrize("title", WHOLE_SHEETS)
def test_the_words_when_a_whole_sheet_is_wrong(title: str) -> None:
    assert problems_of_sheets(WHOLE_SHEETS[title]) == told()[title]


def test_the_page_holds_these_cases_and_no_others() -> None:
    assert list(told()) == [case[0] for case in cases()] + list(WHOLE_SHEETS)


if __name__ == "__main__":
    PAGE.write_text(page(), encoding="utf-8")
