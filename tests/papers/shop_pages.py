"""Shop papers to read in the tests: a sample's name and a way of banding go in; the pages' words, and where each paper starts, out."""

import io
import re
from collections import Counter
from functools import cache
from pathlib import Path

import pypdf
import pytest

from estimator.model.results import Estimate
from estimator.papers.shop_papers import shop_pdf
from tests.samples import estimate_of

WORKBOOKS = Path(__file__).parents[2] / "workbooks"
NAMES = ("kitchen", "wardrobe", "one-cabinet", "inch-job")
every_job = pytest.mark.parametrize("name", NAMES)
TITLES = (
    "Buy list", "Cut list", "Cutting diagrams", "Glue day", "Banding schedule", "Send-out sheet", "Assembly sheets", "Time sheet", "Cautions",
)  # fmt: skip


@cache
def reader_of(name: str, banding: str = "") -> pypdf.PdfReader:
    return pypdf.PdfReader(io.BytesIO(shop_pdf(estimate_of(name, banding))))


@cache
def pages_of(name: str, banding: str = "") -> tuple[str, ...]:
    """The words of each page, all white space made one blank."""
    return tuple(re.sub(r"\s+", " ", page.extract_text()) for page in reader_of(name, banding).pages)


def page_of_papers(reader: pypdf.PdfReader) -> dict[str, int]:
    """The page on which each paper starts, from the outline."""
    starts = {}
    for entry in reader.outline:
        if not isinstance(entry, list) and entry.title in (*TITLES, "Labels"):
            page = reader.get_destination_page_number(entry)
            assert page is not None
            starts[str(entry.title)] = page
    return starts


def section(name: str, first: str, banding: str = "") -> str:
    """The words of one paper: from its first page up to the next paper's."""
    starts = page_of_papers(reader_of(name, banding))
    start = starts[first]
    end = min((page for page in starts.values() if page > start), default=len(pages_of(name, banding)))
    return " ".join(pages_of(name, banding)[start:end])


def all_edges(estimate: Estimate) -> Counter[tuple[int, str]]:
    """How often each edge of each part is banded in the job."""
    return Counter({(id(part), band.side): part.count for part in estimate.parts for band in part.bands})
