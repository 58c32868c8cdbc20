"""The price on the quote's first page: a column that runs on to the tax and the total with it is not headed "without"."""

import pytest

from estimator.papers.page.rows import Rows
from estimator.papers.quote.paper import quote_paper
from estimator.papers.quote.price import price_story
from tests.papers.quotes import said_with


@pytest.mark.parametrize(
    ("shown", "heads"),
    [("without tax", ["Amount, EUR"]), ("with tax", ["with VAT, EUR"]), ("both", ["without VAT, EUR", "with VAT, EUR"])],
)
def test_a_column_is_headed_by_all_that_stands_in_it(shown: str, heads: list[str]) -> None:
    paper = quote_paper(said_with("kitchen", prices_shown=shown), words=None, logo=None)
    price = next(one for one in price_story(paper) if isinstance(one, Rows))
    assert price.head is not None
    assert [" ".join(cell.lines) for cell in price.head.cells[1:]] == heads
