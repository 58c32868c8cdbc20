"""A joiner who has only shop.pdf: every part and every banded edge stands in its words as often as the estimate has it.

Each check reads the PDF, and each is shown to fail: a row, a label, a piece or an edge is left out of the papers, and must be missed.
"""

import io
import re
from collections import Counter
from collections.abc import Callable, Iterator
from functools import cache
from pathlib import Path

import pypdf
import pypdfium2
import pytest

from estimator.model.results import Estimate
from estimator.papers.shop import banding_schedule, cut_list, labels, send_out_sheet, sheet_drawing
from estimator.papers.shop.edges import batch_rows
from estimator.papers.shop.paper import shop_paper
from estimator.papers.shop_papers import shop_pdf
from tests.samples import estimate_of

WORKBOOKS = Path(__file__).parents[2] / "workbooks"
NAMES = ("one-cabinet", "kitchen", "wardrobe", "inch-job")
Check = Callable[[Estimate], Iterator[str]]


def papers_of(estimate: Estimate, *, only: str = "") -> dict[str, str]:
    """The words of each paper (or of only one) by its title, all white space made one blank."""
    content = shop_pdf(estimate)
    reader, quick = pypdf.PdfReader(io.BytesIO(content)), pypdfium2.PdfDocument(content)
    titles = ("Buy list", "Cut list", "Cutting diagrams", "Labels", "Glue day", "Banding schedule", "Send-out sheet", "Assembly sheets")
    starts = {}
    for entry in reader.outline:
        if not isinstance(entry, list) and entry.title in titles:
            starts[str(entry.title)] = reader.get_destination_page_number(entry) or 0
    ends = [*sorted(starts.values()), len(reader.pages)]
    words = {}
    for title, start in starts.items():
        if title == only or not only:
            pages = range(start, next(end for end in ends if end > start))
            careful = title == "Cutting diagrams"  # where the quick reader runs the numbers of neighbouring cuts together
            texts = (reader.pages[at].extract_text() if careful else quick[at].get_textpage().get_text_bounded() for at in pages)
            words[title] = re.sub(r"\s+", " ", " ".join(texts))
    return words


def rows_of_the_cut_list(estimate: Estimate) -> Iterator[str]:
    sizes = shop_paper(estimate).language.sizes
    for part in estimate.parts:
        cut, finished = sizes(part.cut_length_mm, part.cut_width_mm), sizes(part.length_mm, part.width_mm)
        yield f" {part.ref} {part.part} {part.count} {cut} {finished} "


def pieces_of_the_diagrams(estimate: Estimate) -> Iterator[str]:
    """Every piece of every way of cutting a sheet, by the estimate's own plan."""
    sizes = shop_paper(estimate).language.sizes
    for use in estimate.boards:
        for entry in use.plan_entries:
            for piece in entry.pieces:
                part = use.plan_parts[piece.placement.part]
                yield f" {piece.ref} {piece.part} {sizes(part.cut_length_mm, part.cut_width_mm)}"


def words_of_the_labels(estimate: Estimate) -> Iterator[str]:
    sizes = shop_paper(estimate).language.sizes
    for part in estimate.parts:
        for number in range(1, part.count + 1):
            of = f", {number} of {part.count}" if part.count > 1 else ""
            yield f" {part.ref} {part.part}{of} {sizes(part.length_mm, part.width_mm)} {part.room} "


def edges_of_the_schedule(estimate: Estimate) -> Iterator[str]:
    """Each row with its counts; that the rows hold every edge once is the engine's to prove, in test_shop_papers.py."""
    paper = shop_paper(estimate)
    for _, rows in batch_rows(estimate):
        for row in rows:
            lengths = f"{paper.language.length(row.band.length_mm)} {paper.strip(row.band)}"
            yield f" {row.part.ref} {row.part.part} {row.band.side} {row.count} {lengths} "


def parts_of_the_send_out_sheet(estimate: Estimate) -> Iterator[str]:
    paper = shop_paper(estimate)
    small = {id(part) for one in paper.staying for part in one.parts}
    for part in estimate.parts:
        if id(part) not in small and any(band.edging.edging in paper.sent for band in part.bands):
            yield f" {part.ref} {part.part} {part.count} {paper.language.sizes(part.cut_length_mm, part.cut_width_mm)} "


CHECKS: dict[str, Check] = {
    "Cut list": rows_of_the_cut_list,
    "Cutting diagrams": pieces_of_the_diagrams,
    "Labels": words_of_the_labels,
    "Banding schedule": edges_of_the_schedule,
    "Send-out sheet": parts_of_the_send_out_sheet,
}


def amiss(estimate: Estimate, title: str, papers: dict[str, str]) -> list[str]:
    """What stands in the paper more or less often than it should."""
    wanted = Counter(CHECKS[title](estimate))
    words = f" {papers.get(title, '')} "
    return [row for row, count in wanted.items() if _times(row, words) != count]


def _times(row: str, words: str) -> int:
    """How often a row stands there; the blank that ends one may begin the next."""
    return len(re.findall(rf"{re.escape(row.rstrip())}(?![\d/])", words))


@cache
def printed(name: str) -> dict[str, str]:
    return papers_of(estimate_of(name))


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize("title", CHECKS)
def test_everything_stands_there_as_often_as_it_is_made(name: str, title: str) -> None:
    assert amiss(estimate_of(name), title, printed(name)) == []


def test_the_kitchen_has_all_five_papers() -> None:
    for title, check in CHECKS.items():
        assert list(check(estimate_of("kitchen"))), title


def _without_the_last(function: Callable[..., tuple[object, ...]]) -> Callable[..., tuple[object, ...]]:
    return lambda *given: tuple(function(*given))[:-1]


def _one_edge_less(function: Callable[..., tuple[object, ...]]) -> Callable[..., tuple[object, ...]]:
    return lambda *given: tuple((batch, rows[:-1]) for batch, rows in function(*given))  # type: ignore[attr-defined, misc]


def _the_last_twice(function: Callable[..., tuple[object, ...]]) -> Callable[..., tuple[object, ...]]:
    return lambda *given: (*function(*given), function(*given)[-1])


def _one_edge_twice(function: Callable[..., tuple[object, ...]]) -> Callable[..., tuple[object, ...]]:
    return lambda *given: tuple((batch, (*rows, rows[-1])) for batch, rows in function(*given))  # type: ignore[misc]


@pytest.mark.parametrize(
    ("title", "module", "name", "fault"),
    [
        ("Cut list", cut_list, "cut_rows", _without_the_last),
        ("Cutting diagrams", sheet_drawing, "pieces_of", _without_the_last),
        ("Labels", labels, "labels_of", _without_the_last),
        ("Banding schedule", banding_schedule, "batch_rows", _one_edge_less),
        ("Send-out sheet", send_out_sheet, "send_rows", _without_the_last),
        ("Labels", labels, "labels_of", _the_last_twice),
        ("Banding schedule", banding_schedule, "batch_rows", _one_edge_twice),
        ("Send-out sheet", send_out_sheet, "send_rows", _the_last_twice),
        ("Cut list", cut_list, "cut_rows", _the_last_twice),
    ],
)
def test_what_is_left_out_or_stands_there_twice_is_noticed(
    title: str, module: object, name: str, fault: Callable[..., object], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(module, name, fault(getattr(module, name)))
    estimate = estimate_of("kitchen" if title == "Send-out sheet" else "one-cabinet")
    assert amiss(estimate, title, papers_of(estimate, only=title))
