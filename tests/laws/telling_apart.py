"""The example of README's section on what moved the price: the kitchen, won and priced, then changed and its price book too."""

import shutil
from pathlib import Path

from openpyxl import load_workbook

WORKBOOKS = Path(__file__).parents[2] / "workbooks"
CHANGES = (
    ("kitchen.xlsx", "Job", "B4", "2"),
    ("kitchen.xlsx", "Cabinets", "J4", 6),
    ("kitchen.xlsx", "Cabinets", "H12", 3),
    ("shop.xlsx", "Boards", "E2", 61.5),
)


def won_kitchen(folder: Path) -> None:
    """The kitchen and the price book in a folder, the job's Status won."""
    shutil.copy(WORKBOOKS / "shop.xlsx", folder)
    book = load_workbook(WORKBOOKS / "kitchen.xlsx")
    book["Job"]["B18"] = "won"
    book.save(folder / "kitchen.xlsx")


def change(folder: Path) -> None:
    """Two more drawers, another shelf, a dearer board, the next revision."""
    for name, sheet, cell, value in CHANGES:
        book = load_workbook(folder / name)
        book[sheet][cell] = value
        book.save(folder / name)
