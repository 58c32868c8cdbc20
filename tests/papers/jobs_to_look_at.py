"""Jobs whose pages a person looks at, one by one: `python -m tests.papers.jobs_to_look_at FOLDER [JOB ...]`.

Each job's three PDFs are drawn into the folder and every page as a picture. Beside the samples stand a job of 60 cabinets in four
finishes whose names are long and full of strange letters, and a small job in yen; three of them in German too.
"""

import sys
import tempfile
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pypdfium2

from estimator.costing.estimate import estimate_job
from estimator.model.records import Job
from estimator.model.results import Estimate
from estimator.papers.client_quote import quote_pdf
from estimator.papers.form_book import draw_book, names_of, tables
from estimator.papers.owner_pages import owner_pdf
from estimator.papers.shop_papers import shop_pdf
from estimator.reading.workbook import read_job
from workbooks.draw import Rows, shop_sheets

WORKBOOKS = Path(__file__).parents[2] / "workbooks"
SAMPLES = ("one-cabinet", "kitchen", "wardrobe", "inch-job")
GERMAN = ("kitchen", "inch-job", "many-cabinets")
"""Drawn in German too."""
_KINDS = ("base", "drawer base", "wall", "tall", "open", "drawer over door", "corner base", "base", "wall", "drawer base")
_ROOMS = ("Kitchen", "Gästezimmer im Obergeschoß, das mit den beiden runden Fenstern", "Pantry <b>bold</b> & co", "חדר עבודה")
_REFS = ("Kitchen", "Gästezimmer an der langen Nordwand unter der Dachschräge Nr.", "Pantry <i>", "חדר")
_NOTES = ("", "with a note of some length, which says what the bench must know before it cuts this one", "😀 a smile", "")


def many_cabinets() -> dict[str, Rows]:
    """Sixty cabinets in four finishes, with names of 60 letters, umlauts, marks, a smile and letters read from right to left."""
    finishes = [row["Finish"] for row in shop_sheets()["Finishes"]]
    cabinets = []
    for number in range(60):
        kind, group = _KINDS[number % len(_KINDS)], number // 15
        width = 1000 if kind == "corner base" else (600, 450, 800, 900, 535)[number % 5]
        cabinets.append(
            {"Ref": f"{_REFS[group]} {number + 1}", "Room": _ROOMS[group], "Kind": kind, "Qty": "1", "Width": str(width),
             "Finish": finishes[group], "Finished ends": ("", "left", "right", "both")[number % 4], "Note": _NOTES[number % 4]}
        )  # fmt: skip
    job = dict(tables(WORKBOOKS / "rows" / "kitchen"))
    terms = tuple(row for row in job["Job"] if row["Item"] not in ("Job name", "Client", "Finish"))
    names = {"Job name": "Umbau des Gästehauses am Kesselweg, zweiter Bauabschnitt & Anbau", "Client": "Geſellſchaft „Łódź“ für <b>Möbel</b> 😀"}
    loose = {"Ref": "Kitchen 90", "Room": "Kitchen", "Part": "Sockelblende, lang, mit einer Ausklinkung für den Heizkörper links", "Qty": "3",
             "Length": "2600", "Width": "98", "Board": "front", "Edging": "front", "Front": "x", "Finish": finishes[0]}  # fmt: skip
    return {
        "Job": (*({"Item": item, "Value": value} for item, value in names.items()), *terms),
        "Cabinets": tuple(cabinets),
        "Loose parts": (loose,),
    }


def yen_job() -> dict[str, Rows]:
    """A few cabinets in yen, a currency without decimals; all prices a hundredfold."""
    priced = ("Price", "Charge per part", "Minimum charge", "Set-up")
    sheets = {**shop_sheets(), **tables(WORKBOOKS / "rows" / "kitchen")}
    sheets["Cabinets"] = sheets["Cabinets"][:5]
    sheets = {name: rows for name, rows in sheets.items() if name not in ("Extras", "Options", "Loose parts")}
    dear = {}
    for name, rows in sheets.items():
        dear[name] = tuple({at: str(int(float(cell) * 100)) if at in priced and cell else cell for at, cell in row.items()} for row in rows)
    changed = {"Direct rate": "3500", "Overhead rate": "2800", "Wage": "2800", "Overhead a year": "3600000", "Delivery charge": "9000", "Round total to": "100"}
    for name in ("Shop", "Job"):
        dear[name] = tuple({**row, "Value": changed.get(row["Item"], row["Value"])} for row in dear[name])
    dear["Job"] = (*(row for row in dear["Job"] if row["Item"] != "Currency"), {"Item": "Currency", "Value": "JPY"})
    return dear


def estimates(folder: Path) -> Iterator[tuple[str, Estimate]]:
    """Each job to look at, read from a workbook as a shop's would be."""
    paths = [WORKBOOKS / f"{name}.xlsx" for name in SAMPLES]
    shop = folder / "shop.xlsx"
    shop.write_bytes((WORKBOOKS / "shop.xlsx").read_bytes())
    for name, sheets in (("many-cabinets", many_cabinets()), ("yen", yen_job())):
        path = folder / f"{name}.xlsx"
        path.write_bytes(draw_book(sheets, names=names_of(shop_sheets())))
        paths.append(path)
    for path in paths:
        job = read_job(path)
        assert isinstance(job, Job), job
        estimate = estimate_job(job)
        assert isinstance(estimate, Estimate), estimate
        yield path.stem, estimate
        if path.stem in GERMAN:
            estimate = estimate_job(replace(job, terms=replace(job.terms, language="de")))
            assert isinstance(estimate, Estimate), estimate
            yield f"{path.stem}-german", estimate


def main(folder: Path, names: list[str]) -> None:
    folder.mkdir(parents=True, exist_ok=True)
    with tempfile.TemporaryDirectory() as books:
        for name, estimate in estimates(Path(books)):
            if names and name not in names:
                continue
            for paper, content in (("quote", quote_pdf(estimate)), ("shop", shop_pdf(estimate)), ("owner", owner_pdf(estimate))):
                (folder / f"{name}-{paper}.pdf").write_bytes(content)
                for number, page in enumerate(pypdfium2.PdfDocument(content), start=1):
                    page.render(scale=1.4).to_pil().save(folder / f"{name}-{paper}-{number:03}.png")


if __name__ == "__main__":
    main(Path(sys.argv[1]), sys.argv[2:])
