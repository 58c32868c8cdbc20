"""A job as plain dicts goes in; a workbook (or a job book with shop.xlsx beside it) on disk comes out, in the form of the sheets.

job["style"] is a seed for the harmless liberties that people take with a form: columns in another order, capitals, spaces,
units in brackets, blank rows, a column and a sheet of their own. No style: the plain form.
"""

import datetime
from pathlib import Path
from random import Random

from openpyxl import Workbook
from openpyxl.styles import Font

from tests.oracle.cells import Percent, blank
from tests.oracle.jobs import ITEM_SHEETS, unit_of

COLUMNS = {
    "Job": "Item | Value | Note",
    "Cabinets": "Ref | Room | Kind | Qty | Width | Height | Depth | Shelves | Doors | Drawers | Finish | Finished ends"
    " | Tax rate | Note",
    "Loose parts": "Ref | Room | Part | Qty | Length | Width | Board | Edging | Front | Back | Left | Right | Grain"
    " | Tax rate | Note",
    "Finishes": "Finish | Words for the quote",
    "Extras": "Ref | Room | Words for the quote | Qty | Cost each | Minutes each | Price each | Tax rate",
    "Options": "Option | Replace finish | With finish | Words for the quote",
    "Shop": "Item | Value | Unit | Note",
    "Boards": "Board | Thickness | Sheet length | Sheet width | Price | Grain | Charge | Expected yield | Trim | On hand"
    " | Density | E modulus | Priced on",
    "Edgings": "Edging | Material | Thickness | Width | Price | Roll length | Charge | Overhang | Spare | Deduct | By hand"
    " | Send out | Adhesive | On hand | Priced on",
    "Adhesives": "Adhesive | Coverage | Core coats | Strip coats | Spare | Pack | Price | Charge | Drying | Open time"
    " | On hand | Priced on",
    "Fittings": "Item | Route | Per | Of | Number | Price | Pack | On hand | Priced on",
    "Work": "Step | Stage | Route | Per | Of | Minutes | Rating | Allowance | Low | High | During | Timed",
    "Contract": "Item | Value | Unit | Note",
    "Contract prices": "Edging | From metres | Price | Set-up",
    "Machine": "Item | Value | Unit | Note",
    "Construction": "Kind | Part | Count | Length | Width | Board | Edging | Front | Back | Left | Right | Grain"
    " | Counts as",
    "Kinds": "Kind | Words for the quote | Height | Depth | Shelves | Doors | Drawers",
}
FURTHER = {
    "Cabinets": ("Front heights",),
    "Loose parts": ("Finish", "Counts as"),
}  # may stand, and the shop's own roles
SHOPS_OWN = ("Cabinets", "Finishes")  # sheets in which a shop may add columns with a meaning
LENGTHS = {"Width", "Height", "Depth", "Length", "Thickness", "Sheet length", "Sheet width", "Overhang", "Trim"}


def headers(sheet):
    """The columns of a sheet as the form names them."""
    return [one.strip() for one in COLUMNS[sheet].split("|")]


def write(job, folder):
    """Write the job into a folder; gives the path of the job workbook."""
    folder = Path(folder)
    style = Random(job["style"]) if job.get("style") is not None else None
    in_shop_book = set(job.get("shop book") or ())
    books = {False: Workbook(), True: Workbook()}
    for book in books.values():
        book.remove(book.active)
    for sheet in COLUMNS:
        if sheet in job and (job[sheet] or style is None or style.random() < 0.5):
            _sheet(job, sheet, books[sheet in in_shop_book], style)
    for sheet, rows in (job.get("decoys") or {}).items():
        _sheet({**job, sheet: rows, "shop book": [*in_shop_book, sheet]}, sheet, books[True], None)
    if style and style.random() < 0.3:
        books[False].create_sheet("Scratch").append(["called the client", 3, None, "=1+1"])
    name = job.get("file") or "job.xlsx"
    books[False].save(folder / name)
    if in_shop_book:
        books[True].save(folder / "shop.xlsx")
    return folder / name


def _sheet(job, sheet, book, style):
    page = book.create_sheet(sheet)
    if sheet in ITEM_SHEETS:
        rows = [{"Item": name, "Value": value} for name, value in job[sheet].items()]
        if style and style.random() < 0.5:
            style.shuffle(rows)
        for row in rows:
            row["Item"] = _liberty(row["Item"], style, None)
    else:
        rows = job[sheet]
    columns = _columns(sheet, rows, style)
    unit = unit_of(job, sheet)
    page.append([_liberty(name, style, unit if name in LENGTHS else None) for name in columns])
    for cell in page[1]:
        cell.font = Font(bold=True)
    at = 2
    for row in rows:
        if style and style.random() < 0.05:
            at += 1
        for column, name in enumerate(columns, start=1):
            _type(page.cell(at, column), row.get(name), style)
        at += 1


def _columns(sheet, rows, style):
    """The form's columns and the job's own; a column that stays blank may be missing, in any order."""
    columns = headers(sheet)
    columns += [name for row in rows for name in row if name not in columns]
    columns = list(dict.fromkeys(columns))
    if style is None:
        return columns
    used = {name for row in rows for name, value in row.items() if not blank(value)}
    needed = {"Item", "Value"} if sheet in ITEM_SHEETS else set(columns[:1])
    columns = [name for name in columns if name in used | needed or style.random() < 0.6]
    if sheet not in SHOPS_OWN and sheet not in ITEM_SHEETS and style.random() < 0.2:
        columns.append("My remark")
    if style.random() < 0.3:
        style.shuffle(columns)
    return columns


def _liberty(name, style, unit):
    if style is None or style.random() < 0.7:
        return name
    kind = style.choice(("upper", "lower", "spaces", "unit"))
    return {
        "upper": name.upper(),
        "lower": name.lower(),
        "spaces": f"  {name} ",
        "unit": f"{name} ({unit})" if unit else name,
    }[kind]


def _type(cell, value, style):
    if value is None:
        return
    if isinstance(value, Percent):
        cell.value = value.share
        cell.number_format = "0.00%"
    elif isinstance(value, datetime.date):
        cell.value = value
        cell.number_format = "yyyy-mm-dd"
    elif isinstance(value, str):
        if style and value and style.random() < 0.03:
            value = style.choice((f" {value}", f"{value} ", f"\u00a0{value}"))
        cell.value = value
        if value.startswith("="):
            cell.data_type = "s"
    else:
        cell.value = value
