"""Draws the shop book and the sample jobs again, from the rows beside this file and the starter rows: `python -m workbooks.draw`.

It also prints the table of sheets and columns into README.md, between its two marks.
The shop, the town and every client are invented; prices are invented and plausible. The drawn files are never edited by hand.
"""

from pathlib import Path

from estimator.papers.form_book import columns_table, draw_book, names_of, starter_rows, tables

HERE = Path(__file__).parent
README = HERE.parent / "README.md"
BEGINS, ENDS = "<!-- columns -->", "<!-- /columns -->"
Rows = tuple[dict[str, str], ...]
_STARTED = ("Kinds", "Construction", "Work")
"""Sheets that this shop took over as they ship."""


def shop_sheets() -> dict[str, Rows]:
    """The invented shop's own price book: its rows, and the starter rows where it changed nothing."""
    own = dict(tables(HERE / "rows" / "shop"))
    started = {name: starter_rows()[name] for name in _STARTED}
    started["Work"] += own.pop("Work more")
    return {**started, **own}


def inch_sheets() -> dict[str, Rows]:
    """A job of another invented shop that reckons in inches; all in one workbook."""
    own = tables(HERE / "rows" / "inch-job")
    made = {row["Kind"] for row in own["Kinds"]}
    rules = tuple(row for row in starter_rows()["Construction"] if row["Kind"] in made)
    return {"Construction": rules, "Work": starter_rows()["Work"], **own}


def workbooks() -> dict[str, bytes]:
    """Every drawn workbook by its file name."""
    shop = shop_sheets()
    names = names_of(shop)
    return {
        "shop.xlsx": draw_book(shop),
        "one-cabinet.xlsx": draw_book(tables(HERE / "rows" / "one-cabinet")),
        "kitchen.xlsx": draw_book(tables(HERE / "rows" / "kitchen"), names=names),
        "wardrobe.xlsx": draw_book(tables(HERE / "rows" / "wardrobe"), names=names),
        "inch-job.xlsx": draw_book(inch_sheets(), units="inch", currency="USD", paper="Letter"),
    }


def with_columns(readme: str) -> str:
    """README's text with the table of the form as it is now; a text without both marks stays as it is."""
    before, begins, rest = readme.partition(BEGINS)
    _, ends, after = rest.partition(ENDS)
    return f"{before}{begins}\n\n{columns_table()}\n{ends}{after}" if begins and ends else readme


if __name__ == "__main__":
    for name, content in workbooks().items():
        (HERE / name).write_bytes(content)
        print(f"drawn {name}")
    if README.exists():
        README.write_text(with_columns(README.read_text(encoding="utf-8")), encoding="utf-8")
