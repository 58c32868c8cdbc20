"""Short sections of a story are kept whole: a table of five rows is not parted three and two, and no heading is left behind."""

import io

import pypdf
from reportlab.platypus.flowables import Flowable

from estimator.papers.page.document import document, new_page
from estimator.papers.page.look import look_of
from estimator.papers.page.pieces import gap, heading, paragraph, short_sections_whole
from estimator.papers.page.tables import Column, table

LOOK = look_of(paper="Letter", colour="")


def rows(name: str, count: int) -> Flowable:
    return table([Column("row")], [[f"{name} {number}"] for number in range(count)], look=LOOK)


def pages_of(story: list[Flowable]) -> list[str]:
    pdf = document(short_sections_whole(story, LOOK), look=LOOK, title="", author="")
    return [page.extract_text() for page in pypdf.PdfReader(io.BytesIO(pdf)).pages]


def test_a_short_table_goes_to_the_next_page_with_its_heading() -> None:
    first, second = pages_of([*heading("long", LOOK), rows("above", 28), *heading("boards", LOOK), rows("board", 5)])
    assert "above 27" in first
    assert "board" not in first
    assert all(f"board {number}" in second for number in range(5))


def test_a_heading_right_above_another_goes_along() -> None:
    first, second = pages_of(
        [*heading("long", LOOK), rows("above", 28), *heading("machines", LOOK), *heading("the first", LOOK, level=1), rows("machine", 5)]
    )
    assert "machines" not in first
    assert second.index("machines") < second.index("the first")


def test_what_takes_more_than_a_third_of_a_page_may_be_parted() -> None:
    first, second = pages_of([*heading("long", LOOK), rows("above", 20), *heading("many", LOOK), rows("one of many", 20)])
    assert "one of many 0" in first
    assert "one of many 19" in second


def test_nothing_is_lost_and_pages_that_are_asked_for_stay() -> None:
    story = [paragraph("before", LOOK), gap(), new_page(), *heading("a", LOOK), rows("a", 2), new_page(), *heading("b", LOOK), rows("b", 2)]
    before, first, second = pages_of(story)
    assert "before" in before
    assert ("a 1" in first, "b 1" in second) == (True, True)
