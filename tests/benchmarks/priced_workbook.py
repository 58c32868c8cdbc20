"""How long the result sheets take to write, beside XlsxWriter alone for the same cells; at most twice as long is wanted.

    python -m tests.benchmarks.priced_workbook [JOB WORKBOOK ...]

XlsxWriter alone is given every cell of our sheets, each formula with its answer, and one format a number format; it draws no
link, chart, width or check. Ours works the answers out, splices the sheets into the user's book and does all of that.
"""

import io
import sys
import time
from collections.abc import Callable
from pathlib import Path

from openpyxl import load_workbook
from xlsxwriter import Workbook

from estimator.batch import price_book
from estimator.model.results import Estimate
from estimator.papers.priced_workbook import PricedBook, priced_book

SAMPLES = Path(__file__).parents[2] / "workbooks"
TIMES = 5


def best_of(run: Callable[[], object]) -> float:
    """The shortest of a few runs, in seconds of the processor."""
    spent = []
    for _ in range(TIMES):
        start = time.process_time()
        run()
        spent.append(time.process_time() - start)
    return min(spent)


def cells_of(book: bytes) -> list[tuple[str, list[tuple[int, int, object, object, str]]]]:
    """Sheet by sheet: row, column, formula or value, answer and number format of every cell that we wrote."""
    formulas, answers = load_workbook(io.BytesIO(book)), load_workbook(io.BytesIO(book), data_only=True)
    ours = [sheet for sheet in formulas if "estimator_result_sheet" in sheet.defined_names]
    return [
        (sheet.title, [
            (cell.row - 1, cell.column - 1, cell.value, answers[sheet.title][cell.coordinate].value, cell.number_format)
            for row in sheet.iter_rows() for cell in row if cell.has_style or cell.value is not None
        ])
        for sheet in ours
    ]  # fmt: skip


def xlsxwriter_alone(sheets: list[tuple[str, list[tuple[int, int, object, object, str]]]]) -> bytes:
    memory = io.BytesIO()
    workbook = Workbook(memory, {"in_memory": True})
    looks = {code: workbook.add_format({"num_format": code}) for _, cells in sheets for *_, code in cells}
    for name, cells in sheets:
        sheet = workbook.add_worksheet(name)
        for row, column, value, answer, code in cells:
            if isinstance(value, str) and value.startswith("="):
                sheet.write_formula(row, column, value, looks[code], "" if answer is None else answer)
            elif isinstance(value, int | float):
                sheet.write_number(row, column, value, looks[code])
            elif isinstance(value, str):
                sheet.write_string(row, column, value, looks[code])
            else:
                sheet.write_blank(row, column, None, looks[code])
    workbook.close()
    return memory.getvalue()


def main(paths: list[Path]) -> None:
    for path in paths:
        estimate = price_book(path)
        assert isinstance(estimate, Estimate)
        shop = path.with_name("shop.xlsx")
        user_book, shop_book = path.read_bytes(), shop.read_bytes() if shop.exists() else None

        def ours() -> PricedBook:
            book = priced_book(estimate, user_book=user_book, shop_book=shop_book)
            assert isinstance(book, PricedBook)
            return book

        sheets = cells_of(ours().book)
        count = sum(len(cells) for _, cells in sheets)
        whole, alone = best_of(ours), best_of(lambda: xlsxwriter_alone(sheets))
        print(f"{path.name}: {count} cells, ours {whole * 1000:.0f} ms, XlsxWriter alone {alone * 1000:.0f} ms, ratio {whole / alone:.2f}")


if __name__ == "__main__":
    main([Path(one) for one in sys.argv[1:]] or [SAMPLES / f"{name}.xlsx" for name in ("one-cabinet", "kitchen", "wardrobe")])
