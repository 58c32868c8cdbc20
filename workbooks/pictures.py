"""Draws the pictures of the README: pages of the sample kitchen's papers, and the kinds of cabinets that ship.

`python -m workbooks.pictures` writes them to reports/pictures/. It needs the tools for developers (pypdfium2, Pillow).
"""

from dataclasses import replace
from pathlib import Path

from estimator.batch import papers_of, price_book
from estimator.costing.parts import parts_of_job
from estimator.model.exact import Fraction
from estimator.model.problems import Problem
from estimator.model.records import Cabinet, Job, Kind
from estimator.model.refusal import Refusal

HERE = Path(__file__).parent
PICTURES = HERE.parent / "reports" / "pictures"
DOTS_A_POINT = 1.3


def _page_with(pdf: bytes, words: str) -> int:
    """The first page on which some words stand."""
    import pypdfium2

    pages = pypdfium2.PdfDocument(pdf)
    return next(i for i in range(len(pages)) if words in pages[i].get_textpage().get_text_bounded())


def page_picture(pdf: bytes, page: int, name: str, *, cut_share: float = 1.0, scale: float = DOTS_A_POINT) -> None:
    """One page of a PDF as a PNG, the lower part cut off where only the top is wanted."""
    import pypdfium2

    picture = pypdfium2.PdfDocument(pdf)[page].render(scale=scale).to_pil()
    picture = picture.crop((0, 0, picture.width, int(picture.height * cut_share)))
    picture.convert("P", palette=1, colors=32).save(PICTURES / f"{name}.png", optimize=True)


def shipped_kinds(job: Job) -> Job:
    """The job with one cabinet of each shipped kind in place of its own."""
    like = job.cabinets[0]
    return replace(
        job, cabinets=tuple(_one_of(kind, like, number) for number, kind in enumerate(job.kinds, start=2)), loose_parts=()
    )


def _one_of(kind: Kind, like: Cabinet, number: int) -> Cabinet:
    return replace(
        like,
        ref=kind.kind,
        kind=kind.kind,
        qty=1,
        width_mm=Fraction(1000 if kind.kind == "corner base" else 600),
        height_mm=kind.height_mm or Fraction(720),
        depth_mm=kind.depth_mm or Fraction(560),
        shelves=kind.shelves or 0,
        doors=kind.doors or 0,
        drawers=kind.drawers or 0,
        front_heights_mm=(),
        finished_ends="none",
        at=replace(like.at, number=number),
    )


def kinds_page(job: Job) -> bytes:
    """A page with a front view of each kind and its name."""
    from reportlab.platypus import Table

    from estimator.papers.drawings.front import front_view, parts_by_row
    from estimator.papers.drawings.pictures import front_picture
    from estimator.papers.drawings.run import hangs_on_the_wall
    from estimator.papers.page.document import document
    from estimator.papers.page.language import Language
    from estimator.papers.page.look import look_of
    from estimator.papers.page.pieces import paragraph

    look = look_of(paper="A4", colour=job.shop.colour)
    language = Language("en", currency="EUR", units="mm")
    parts = parts_by_row(parts_of_job(job).parts)
    pictures = []
    for cabinet in job.cabinets:
        own = parts[(cabinet.at.sheet, cabinet.at.number)]
        hangs = hangs_on_the_wall(cabinet, job.kinds)
        view = front_view(cabinet, own, lengths_mm=job.shop.lengths_mm, hangs=hangs)
        pictures.append(front_picture(view, language=language, width_pt=110, height_pt=110))
    names = [paragraph(cabinet.kind, look) for cabinet in job.cabinets]
    rows = [pictures[:4], names[:4], [*pictures[4:], ""], [*names[4:], ""]]
    story = [Table(rows, colWidths=[look.width_pt / 4] * 4)]
    return document(story, look=look, title="Kinds", author="")


def main() -> None:
    PICTURES.mkdir(parents=True, exist_ok=True)
    path = HERE / "kitchen.xlsx"
    estimate = price_book(path)
    assert not isinstance(estimate, Refusal), estimate.problems
    made = papers_of(estimate, path=path, shop=None, words=None)
    assert not isinstance(made, Problem), made
    papers, _ = made
    page_picture(papers["quote.pdf"], 0, "quote-1")
    page_picture(papers["quote.pdf"], 1, "quote-2")
    page_picture(papers["shop.pdf"], _page_with(papers["shop.pdf"], "diagram 1 of"), "cutting-diagram", scale=0.9)
    page_picture(kinds_page(shipped_kinds(estimate.job)), 0, "kinds", cut_share=0.45)


if __name__ == "__main__":
    main()
