"""Draws the finished jobs of the sample shop, whose time logs are filled in: `python -m workbooks.finished_jobs`.

Clients, cabinets and minutes are invented. They are priced with workbooks/shop.xlsx and read by `estimator learn`.
"""

from estimator.papers.form_book import draw_book, names_of, tables
from workbooks.draw import HERE, shop_sheets

FOLDER = HERE / "finished-jobs"
ROWS = HERE / "rows" / "finished"


def finished_jobs() -> dict[str, bytes]:
    """Every drawn workbook by its file name."""
    names = names_of(shop_sheets())
    return {f"{rows.name}.xlsx": draw_book(tables(rows), names=names) for rows in sorted(ROWS.iterdir()) if rows.is_dir()}


if __name__ == "__main__":
    FOLDER.mkdir(exist_ok=True)
    for name, content in finished_jobs().items():
        (FOLDER / name).write_bytes(content)
        print(f"drawn {FOLDER.name}/{name}")
