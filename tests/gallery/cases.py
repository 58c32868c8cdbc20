"""What a person can meet beyond a cell that cannot be read: remarks, problems of the engine, wrong files, wrong words.

Each case is a change to one quiet workbook (no remark at all), or words typed at the prompt.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from pathlib import Path

from openpyxl import load_workbook

from tests.reading.base_books import ONE_BOOK
from tests.reading.drawing import Tables
from tests.test_inches import in_inches

QUIET: Tables = {name: table for name, table in ONE_BOOK.items() if name not in ("Merchant", "Offcuts")} | {
    "Roll ends": "Edging | Width | Length | Count"
}
_TIMED = {("Work", f"L{row}"): "yes" for row in range(2, 9)}
_STIFF: dict[tuple[str, str], str | None] = {("Boards", f"L{row}"): None for row in range(2, 6)}
QUIETLY: Mapping[tuple[str, str], str | None] = {**_TIMED, **_STIFF, ("Cabinets", "L2"): "none"}

# title | sheet cell content; more of them with ;
REMARKS = """
Steps that nobody has timed | Work L3 no
A shelf that sags | Boards L2 1600; Boards L3 1600
A way of banding that is not the best | Job B27 white 1
An edging to be sent that the job does not use | Job B27 birch, white 1; Edgings A5 birch; Edgings C5 1; Edgings D5 23; Edgings E5 0.9; Contract prices A4 birch; Contract prices C4 1.2
A first payment above the cap | Job B24 40 %
A first payment half a cent above the cap | Job B21; Job B24 50 %; Job B17 85.01
A discount that is meant as a share | Job B16 0.05
A least price that holds | Job A29 Least price; Job B29 9000
A discount that goes below the least price | Job A29 Least price; Job B29 9000; Job B16 10 %
Rounded lines that go below the least price | Extras G2; Job A29 Least price; Job B29 9000; Job B16; Job B21
A total that is rounded too far | Job B21 5000
A price below the cost | Job B16 60 %
A price that no line carries | Boards E2 0; Boards E3 0; Boards E4 0; Boards E5 0; Edgings E2 0; Edgings E3 0; Edgings E4 0; Fittings F2 0; Fittings F3 0; Work F2 0; Work I2; Work J2; Work F3 0; Extras E3 0; Extras F3
A price that is old | Boards M2 date:2029-01-10
A batch that uses most of the open time | Adhesives J2 36; Shop B10 6
A rigid band to be glued by hand | Edgings C2 2; Edgings C3 2; Job B27 by hand
Low above the minutes | Work I2 3
High below the minutes | Work J2 1
An option that changes nothing | Options C2 white
An option for a finish that nothing has | Options B2 oak; Options C2 white; Cabinets K3 white; Loose parts P2 white
An item of Shop in the sheet Job | Job A29 Saw kerf; Job B29 3
A wage beside a typed rate | Shop A17 Wage; Shop B17 22
A unit beside a value that is not the workbook's | Shop C16 inches
A header in another unit | Cabinets E1 Width (inch)
No saw kerf | Shop B7
A kerf wider than any blade | Shop B7 40
No sheet trim | Shop B8
Doors on a kind that has none | Cabinets I4 1
Drawer fronts that are higher than their box | Cabinets J2 1; Cabinets Q1 Front heights; Cabinets Q2 900
A strip longer than every roll | Edgings F2 0.8
Strips that only a roll end is long enough for | Edgings F2 0.8; Roll ends A2 white 1; Roll ends B2 23; Roll ends C2 1.3; Edgings N2 1.3
Roll ends whose lengths do not suffice | Roll ends A2 white 1; Roll ends B2 23; Roll ends C2 0.3; Roll ends D2 200; Edgings N2 60
More roll ends than On hand says | Roll ends A2 white 1; Roll ends B2 23; Roll ends C2 40
Values without a name above them | Work N2 7
A point that may mean thousands | Boards E2 text:1.500
"""

ENGINE = """
A part larger than every sheet | Cabinets E3 3000
A part of less than nothing | Cabinets G2 15
A name that no rule knows | Construction D3 width - 2 * carcas thickness
A rule that divides by nothing | Construction D3 width / (doors - 1)
A count that is not whole | Construction C2 width / 7
A band too narrow for its board | Edgings D2 19; Edgings D3 19.5
A part that its bands leave nothing of | Loose parts F3 1; Loose parts J3 x
No way of banding at all | Edgings K4 no
Banding that cannot be sent | Job B27 send out
A discount above everything | Job B16 900000
A start of the day that is no time | Shop A17 Start of day; Shop B17 half past seven
A number of hinges that comes out below nothing | Fittings E2 2 - length
Too few front heights | Cabinets Q1 Front heights; Cabinets Q2 157, 253
"""

# what went wrong | Date | Job | Step | Count | Minutes
LOG = """
A row of the log without a day | | | cut | 4 | 20
A day that is none | yesterday | | cut | 4 | 20
A misspelt step | 2031-03-04 | | asemble | 4 | 20
A step that nobody has | 2031-03-04 | | whittling | 4 | 20
One of several steps that nobody has | 2031-03-04 | | cut + whittling | 4 | 20
Minutes in words | 2031-03-04 | | cut | 4 | two hours
Minutes as a time of day | 2031-03-04 | | cut | 4 | time:02:00
No minutes | 2031-03-04 | | cut | 4 |
Minutes of nothing | 2031-03-04 | | cut | 4 | 0
A count of less than nothing | 2031-03-04 | | cut | -4 | 20
A count in words | 2031-03-04 | | cut | all | 20
A count too many | 2031-03-04 | | cut + coat | text:1 + 2 + 3 | 20
A count of a whole stage | 2031-03-04 | | cutting | 7 | 20
A step that this job has none of | 2031-03-04 | | drive | | 20
A board without its sheets | 2031-03-04 | | white 8 | |
An edging without its length | 2031-03-04 | | white 1 | |
An edging that this job does not use | 2031-03-04 | | birch | 4 |
A job that is not in the folder | 2031-03-04 | Rosewood | cut | 4 | 20
A misspelt job | 2031-03-04 | north-stret.xlsx | cut | 4 | 20
"""
LOG_CHANGES: Mapping[str, Mapping[tuple[str, str], str | None]] = {
    "An edging that this job does not use": {
        ("Edgings", "A5"): "birch", ("Edgings", "C5"): "1", ("Edgings", "D5"): "23", ("Edgings", "E5"): "0.9", ("Job", "B27"): "by hand",
    },
    "A step that this job has none of": {("Job", "B27"): "by hand"},
}  # fmt: skip

IN_INCHES = (
    "A rigid band to be glued by hand", "A strip longer than every roll", "Strips that only a roll end is long enough for", "Roll ends whose lengths do not suffice",
    "More roll ends than On hand says", "A kerf wider than any blade", "A part larger than every sheet", "A part of less than nothing",
    "A band too narrow for its board", "A part that its bands leave nothing of", "A trim that eats the sheet",
    "A roll end of a width that is not stocked", "Labels too small for their words",
)  # fmt: skip
"""Cases that tell a length: they are told once more of the same job in inches."""
READING = """
A trim that eats the sheet | Boards I2 1100
A roll end of a width that is not stocked | Roll ends A2 white 1; Roll ends B2 30; Roll ends C2 4
Labels too small for their words | Shop A17 Label rows; Shop B17 12
"""

FILES: Mapping[str, tuple[str, bytes]] = {
    "A file of nothing": ("north-street.xlsx", b""),
    "A PDF": ("north-street.pdf", b"%PDF-1.4\n"),
    "A table of plain text": ("north-street.csv", b"Ref,Kind,Width\nKitchen 1,base,600\n"),
    "A web page": ("north-street.xls", b"<html><table><tr><td>Ref</td></tr></table></html>"),
    "A workbook in the old format": ("north-street.xls", b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + b"\0" * 504),
    "A picture": ("north-street.png", b"\x89PNG\r\n\x1a\n" + b"\0" * 64),
    "The lock file of an open workbook": ("~$north-street.xlsx", b"\x05owner" + b"\0" * 159),
    "A damaged workbook": ("north-street.xlsx", b"PK\x03\x04" + b"\0" * 64),
}

PROMPT = """
prise kitchen.xlsx
price
price kitchn.xlsx
price kitchen
price nothing-like-it.xlsx
price nowhere/kitchen.xlsx
price my kitchen.xlsx
start my-shop --currency USD --tax "Tax 0 %" --wage 24 --overhead 42000 --units inch --sheet "8 x 4"
price kitchen.xlsx --shpo s.xlsx
price kitchen.xlsx --out
price kitchen.xlsx --out kitchen.xlsx
price shop.xlsx
-v
kitchen.xlsx
blank kitchen.xlsx
blank one two
check empty-folder
start my-shop
start my-shop --currency dollar --tax VAT --wage 0 --overhead lots --edgings whte
start taken --currency EUR --tax "VAT 20 %" --wage 24 --overhead 42000
explain kitchen.xlsx Kitchn 2
explain kitchen.xlsx sofa
blank new.xlsx --units cm
watch kitchen.xlsx
watch kitchens
learn kitchen.xlsx
learn . --date 1.7.2031
learn empty-folder
compare kitchen.xlsx
price kitchen.xlsx --workers many
"""


def hidden(path: Path) -> None:
    book = load_workbook(path)
    book["Edgings"].sheet_state = "hidden"
    book["Cabinets"].row_dimensions[3].hidden = True
    book.save(path)


def merged(path: Path) -> None:
    book = load_workbook(path)
    book["Cabinets"]["B3"] = None
    book["Cabinets"].merge_cells("B2:B3")
    book.save(path)


def retyped_in_inches(path: Path) -> None:
    """The same job in an inch workbook; what stands in rules and in the user's own columns is retyped with its unit."""
    book = load_workbook(path)
    book["Construction"]["D8"] = "width - 2 * carcass thickness"
    book["Cabinets"]["P2"] = book["Cabinets"]["P3"] = "100 mm"
    book.save(path)
    in_inches(path)


def in_inches_and_sagging(path: Path) -> None:
    book = load_workbook(path)
    book["Boards"]["L2"] = book["Boards"]["L3"] = 1600
    book.save(path)
    retyped_in_inches(path)


BY_HAND: Mapping[str, Callable[[Path], None]] = {"A hidden sheet and a hidden row": hidden, "Cells that are merged": merged, "A shelf that sags in an inch job": in_inches_and_sagging}


def changes_of(line: str) -> tuple[str, dict[tuple[str, str], str | None]]:
    """A line of cases as its title and the changes to the quiet workbook."""
    title, _, rest = line.partition(" | ")
    changes: dict[tuple[str, str], str | None] = {}
    for change in filter(None, (one.strip() for one in rest.split("; "))):
        sheet = max((name for name in ONE_BOOK if change.startswith(f"{name} ")), key=len)
        cell, _, content = change.removeprefix(f"{sheet} ").partition(" ")
        changes[sheet, cell] = content or None
    return title, changes


def cases(lines: str) -> dict[str, dict[tuple[str, str], str | None]]:
    return dict(changes_of(line) for line in lines.strip().splitlines())
