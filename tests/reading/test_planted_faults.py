"""Single-cell faults planted one at a time in a correct workbook: each is told at its own cell, in one run."""

from __future__ import annotations

from functools import cache

import pytest

from estimator.model.problems import Refusal
from tests.reading.base_books import ONE_BOOK
from tests.reading.held import job_of, read

# sheet | cell | what is typed there instead; a blank means that the cell is cleared
FAULTS = """
Job | B5 |
Job | B5 | 3/2/2031
Job | B5 | 47882
Job | B5 | 2031-02-30
Job | B5 | soon
Job | B5 | bool:true
Job | B5 | date:1931-02-03
Job | B9 | furlong
Job | B9 | 25.4
Job | B10 |
Job | B10 | €
Job | B10 | EUT
Job | B10 | 978
Job | B12 |
Job | B12 | 0.2
Job | B12 | -5 %
Job | B12 | twenty
Job | B12 | error:#REF!
Job | B12 | =1/5
Job | B12 | bool:true
Job | B13 | with taxes included
Job | B14 | by cupboard
Job | B15 | maybe
Job | B16 | -10
Job | B16 | 120 %
Job | B16 | some
Job | B17 | -1
Job | B17 | 8O
Job | B17 | percent:0.1
Job | B18 | 0.1
Job | B19 |
Job | B19 | 100 %
Job | B19 | 0.25
Job | B19 | percent:1.2
Job | B19 | -3 %
Job | B20 | 0.5
Job | B20 | some
Job | B21 | 0
Job | B21 | -5
Job | B22 | 1.5
Job | B22 | -1
Job | B22 | two
Job | B22 | 9999999999
Job | B23 | 50 % deposit, 49 % on completion
Job | B23 | 50 % deposit, 60 % on completion
Job | B23 | half now, half later
Job | B23 | 100
Job | B24 | sixty
Job | B24 | -60 %
Job | B25 | 30.5
Job | B25 | a month
Job | B26 | -3
Job | B26 | time:12:30
Job | B27 | by machine
Job | B27 | white 2
Job | B28 | whte
Job | A5 | Quote dte
Job | A10 | Curency
Job | A12 | Tax rat
Job | A19 | Margn
Job | A23 | Payment schedul
Job | A21 | Quote number
Job | A1 | Itm
Job | B1 | Valu
Cabinets | A1 | Reff
Cabinets | C1 | Knd
Cabinets | C1 |
Cabinets | D1 | Qyt
Cabinets | D1 |
Cabinets | E1 | Widht
Cabinets | F1 | Heigth
Cabinets | H1 | Shelvs
Cabinets | I1 | Dors
Cabinets | J1 | Drawer
Cabinets | K1 | Finsh
Cabinets | L1 | Finished end
Cabinets | M1 | Tax rte
Cabinets | B1 | Ref
Cabinets | A4 | Kitchen 1
Cabinets | A4 | kitchen  1
Cabinets | C2 |
Cabinets | C2 | bse
Cabinets | C2 | cupboard
Cabinets | D2 |
Cabinets | D2 | 0
Cabinets | D2 | 1.5
Cabinets | D2 | -2
Cabinets | D2 | two
Cabinets | D2 | 1000000
Cabinets | D2 | bool:true
Cabinets | E2 |
Cabinets | E2 | 0
Cabinets | E2 | -600
Cabinets | E2 | 60O
Cabinets | E2 | l00
Cabinets | E2 | 1,500
Cabinets | E2 | 600 kg
Cabinets | E2 | 6 0 0
Cabinets | E2 | wide
Cabinets | E2 | date:2031-03-04
Cabinets | E2 | time:06:00
Cabinets | E2 | percent:0.6
Cabinets | E2 | bool:false
Cabinets | E2 | error:#DIV/0!
Cabinets | E2 | =300+300
Cabinets | E2 | text:1e3
Cabinets | E2 | 1/0
Cabinets | F2 | 0
Cabinets | F2 | tall
Cabinets | G2 | -1
Cabinets | G2 | 56 0
Cabinets | H2 | 1.5
Cabinets | H2 | -1
Cabinets | H2 | one
Cabinets | I3 | 2.5
Cabinets | I3 | 100 mm
Cabinets | J2 | -1
Cabinets | J2 | none
Cabinets | K3 | oack
Cabinets | K3 | walnut
Cabinets | L2 | lft
Cabinets | L2 | front
Cabinets | M3 | 0.1
Cabinets | M3 | ten
Cabinets | M3 | -10
Cabinets | P2 | none
Cabinets | P2 | 1OO
Cabinets | P3 | error:#REF!
Cabinets | H1 |
Cabinets | J1 |
Loose parts | H1 |
Edgings | J1 |
Loose parts | A3 | Filler
Loose parts | C2 |
Loose parts | C1 | Prt
Loose parts | D2 |
Loose parts | D2 | 0
Loose parts | D2 | x
Loose parts | E2 |
Loose parts | E2 | 72O
Loose parts | E2 | -720
Loose parts | F2 |
Loose parts | F2 | 0
Loose parts | G2 |
Loose parts | G2 | frnt
Loose parts | G3 | white 81
Loose parts | G3 | carcass
Loose parts | H2 |
Loose parts | H2 | fronnt
Loose parts | H3 | white 11
Loose parts | I3 | xx
Loose parts | L3 | oak venner
Loose parts | M2 | along
Loose parts | M2 | lenght
Loose parts | N3 | 0.5
Loose parts | P2 | oke
Loose parts | Q3 | shelv
Loose parts | Q3 | box
Finishes | A1 | Finsh
Finishes | B1 | carcass bord
Finishes | C1 | carcass edgng
Finishes | A2 |
Finishes | A3 | white
Finishes | B2 | white 81
Finishes | B2 |
Finishes | C2 | white1
Finishes | C2 |
Finishes | D3 | oak 91
Finishes | E3 | oak venere
Finishes | E3 |
Finishes | F2 | white 88
Finishes | F2 |
Shop | A3 | Direct rat
Shop | A4 | Overhed rate
Shop | A7 | Saw kurf
Shop | A8 | Sheet trm
Shop | A13 | gap topp
Shop | A3 |
Shop | B3 |
Shop | B3 | -30
Shop | B3 | thirty
Shop | B3 | percent:0.3
Shop | B4 |
Shop | B4 | 24 an hour
Shop | B5 | 0.1
Shop | B5 | lots
Shop | B6 | wages
Shop | B6 | 15 %
Shop | B6 | -5
Shop | B7 | -4
Shop | B7 | 4 kg
Shop | B8 | 1O
Shop | B9 | 0
Shop | B9 | long
Shop | B10 | 0
Shop | B10 | 2.5
Shop | B11 | two
Shop | B13 | 2..5
Shop | B16 | 20 mn
Boards | A1 | Bord
Boards | B1 | Thicknes
Boards | C1 | Sheet lenght
Boards | E1 | Prce
Boards | E1 |
Boards | A2 |
Boards | B2 | 0
Boards | B2 | 18O
Boards | B2 |
Boards | B3 | 19
Boards | C2 |
Boards | C2 | -2800
Boards | C5 | 15
Boards | D5 | 18
Boards | D2 | 2O70
Boards | E2 |
Boards | E2 | -1
Boards | E2 | dear
Boards | F2 | maybe
Boards | F3 | yes
Boards | G2 | by sheet
Boards | G3 | area
Boards | H3 | 80 %
Boards | H4 | 0.8
Boards | H4 | 120 %
Boards | H4 | 0 %
Boards | I3 | -12
Boards | I3 | 1100
Boards | J2 | 1.5
Boards | J2 | -1
Boards | K2 | 0
Boards | K2 | heavy
Boards | L2 | -1600
Boards | M2 | 10/1/2031
Boards | M2 | 47858
Edgings | A1 | Edgin
Edgings | D1 | Widht
Edgings | A2 |
Edgings | C2 | 0
Edgings | C2 |
Edgings | D2 |
Edgings | D3 | 23
Edgings | E2 |
Edgings | E2 | -0.45
Edgings | E2 | 0,450,0
Edgings | F2 | 0
Edgings | F2 | fifty
Edgings | G4 | whole rolls
Edgings | G4 | metre
Edgings | H2 | -20
Edgings | I2 | 0.05
Edgings | J2 | perhaps
Edgings | K4 | perhaps
Edgings | L4 | 2
Edgings | M2 | contakt
Edgings | M2 | hot melt
Edgings | N2 | -12
Edgings | O4 | yesterday
Adhesives | A2 |
Adhesives | B2 |
Adhesives | B2 | 0
Adhesives | B2 | 6 m2
Adhesives | C2 | 1.5
Adhesives | C2 | -1
Adhesives | D2 | one
Adhesives | E2 | 0.1
Adhesives | F2 | 0
Adhesives | F2 |
Adhesives | G2 | -14.80
Adhesives | H2 | litre
Adhesives | H2 | pints
Adhesives | I2 | -30
Adhesives | I2 |
Adhesives | J2 | 30
Adhesives | J2 | 20
Adhesives | J2 |
Adhesives | J1 | Open tme
Adhesives | K2 | full
Fittings | A2 |
Fittings | B4 | by hands
Fittings | C2 | dor
Fittings | C2 |
Fittings | C2 | edge
Fittings | C4 | sheet
Fittings | D3 | bsae
Fittings | D4 | oak veneeer
Fittings | F2 |
Fittings | F2 | -2.40
Fittings | G2 | 0
Fittings | H2 | -1
Work | A2 |
Work | A3 | cut
Work | A1 | Stp
Work | C4 | by hnd
Work | D4 | order
Work | D2 | metres
Work | D2 |
Work | D8 | batch
Work | E3 | based
Work | E5 | contct
Work | E7 | wood veneers
Work | F2 |
Work | F2 | -2
Work | F2 | 2 min
Work | F2 | time:00:02
Work | G2 | 0
Work | G2 | 100 %
Work | H3 | 0.05
Work | I2 | -1
Work | J2 | much
Work | K2 | applying
Work | K4 | coating
Work | K5 | coatng
Work | L2 | partly
Kinds | A2 |
Kinds | A2 | bsae
Kinds | A3 | base
Kinds | C2 | 0
Kinds | C2 | high
Kinds | D2 | -560
Kinds | E2 | 1.5
Kinds | F2 | one
Construction | A2 |
Construction | B2 |
Construction | C2 |
Construction | D2 |
Construction | E2 |
Construction | F2 |
Construction | F2 | carcas
Construction | G2 |
Construction | G2 | carcasss
Construction | K7 | frontt
Construction | L2 | lengthwise
Construction | M4 | dor
Construction | D2 | error:#NAME?
Construction | E1 | Widh
Contract | A3 | Minimum charg
Contract | B3 | -60
Contract | B3 | sixty
Contract | B4 | -0.15
Contract | B5 | 1.5
Contract | B6 | far
Contract | B8 | 5.5
Contract | B8 | a week
Contract | B9 | perhaps
Contract | B10 | -50
Contract | B11 | per edge
Contract | B12 | whole
Contract | B13 | 1
Contract prices | A2 | white 12
Contract prices | A2 |
Contract prices | A1 | Edgng
Contract prices | B3 | -100
Contract prices | B3 | 0
Contract prices | C2 |
Contract prices | C2 | 1.1O
Contract prices | D3 | 9
Contract prices | D2 | -8
Extras | C2 |
Extras | D2 | 0
Extras | D2 |
Extras | E2 | lots
Extras | E2 | -640
Extras | F3 | 15 min
Extras | G2 | free
Extras | H3 | 0.1
Extras | A3 | Worktop
Options | A2 |
Options | B2 | wite
Options | B2 |
Options | C2 | oakk
Options | C2 |
Machine | B2 |
Machine | B2 | -1
Machine | B5 |
Machine | B5 | 0
Machine | B5 | 8.5
Machine | B6 |
Machine | B6 | 0.09
Machine | B8 |
Machine | B9 |
Machine | B9 | many
Machine | A5 | Lif
Offcuts | A2 | white 81
Offcuts | B2 |
Offcuts | C2 | 0
Offcuts | D2 | 1.5
Roll ends | A2 | white 11
Roll ends | B2 | 30
Roll ends | B2 |
Roll ends | C2 |
Drying | A2 | contat
Drying | B2 |
Drying | E2 | 20
Drying | D2 | wet
Merchant | B2 | white 81
Merchant | C2 | cuts
Merchant | E2 | -1
Merchant | J2 | 1.5
"""


def faults() -> list[tuple[str, str, str | None]]:
    split = [tuple(part.strip() for part in line.split("|", 2)) for line in FAULTS.strip().splitlines()]
    return [(sheet, cell, content or None) for sheet, cell, content in split]


def test_there_are_enough_of_them() -> None:
    assert len(set(faults())) == len(faults()) >= 200


RECORDS = {
    "Cabinets": "cabinets", "Loose parts": "loose_parts", "Finishes": "finishes", "Kinds": "kinds", "Extras": "extras", "Options": "options", "Boards": "boards",
    "Edgings": "edgings", "Adhesives": "adhesives", "Fittings": "fittings", "Work": "work", "Contract prices": "contract_prices", "Construction": "construction",
    "Offcuts": "offcuts", "Roll ends": "roll_ends", "Drying": "drying", "Merchant": "merchant",
}  # fmt: skip


NO_SIZE = {"Boards": "EGHJKLM", "Edgings": "BEFGHIKLMNO", "Cabinets": "DMN", "Loose parts": "DNO", "Finishes": "G"}
"""Columns on which no size rests: the engine looks at the sizes of such a row all the same."""


@cache
def whole(record: str) -> list[int]:
    """The rows of the correct workbook that are handed on."""
    return [row.at.number for row in getattr(job_of(), record)]


@pytest.mark.parametrize(("sheet", "cell", "content"), faults(), ids=lambda value: str(value))
def test_a_fault_is_told_once_at_its_cell_and_its_sizes_set_its_row_aside(sheet: str, cell: str, content: str | None) -> None:
    answer = read(ONE_BOOK, {(sheet, cell): content})
    assert isinstance(answer, Refusal), "the fault went unseen"
    places = [str(problem.place) for problem in answer.problems]
    twice = ["job.xlsx > Loose parts"] if (sheet, cell) == ("Loose parts", "H1") else []  # an x without a column of edgings, and values without a name
    assert places == [*twice, f"job.xlsx > {sheet} > {cell}"], "\n".join(map(str, answer.problems))
    number = int(cell.lstrip("ABCDEFGHIJKLMNOPQRSTUVWXYZ"))
    if sheet in RECORDS and number > 1:
        kept = [row.at.number for row in getattr(answer.readable, RECORDS[sheet])]
        told_only = cell[0] in NO_SIZE.get(sheet, "")
        rest = [one for one in whole(RECORDS[sheet]) if told_only or one != number]
        assert kept == rest, "a row with a fault in what sizes rest on is not handed on, every other of its sheet is"


MANY = {
    "Cabinets": 3, "Loose parts": 2, "Finishes": 2, "Kinds": 2, "Extras": 2, "Options": 1, "Boards": 4, "Edgings": 3, "Adhesives": 1, "Fittings": 3, "Work": 7, "Contract prices": 2,
    "Construction": 8, "Offcuts": 2, "Roll ends": 2, "Drying": 2, "Merchant": 2,
}  # fmt: skip
"""Rows of the base book, counted by eye."""


def test_without_a_fault_the_workbook_is_read_with_all_its_rows() -> None:
    answer = read(ONE_BOOK)
    assert not isinstance(answer, Refusal), "\n".join(map(str, answer.problems))
    for sheet, many in MANY.items():
        assert [(row.at.sheet, row.at.number) for row in getattr(answer, RECORDS[sheet])] == [(sheet, number) for number in range(2, many + 2)]
