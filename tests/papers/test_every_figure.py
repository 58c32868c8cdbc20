"""Every amount, count and size on the shop's and the owner's papers is in estimate.json, in the workbook, or is a stated sum of those.

What may stand there, and where each figure comes from, is listed in `figures.py` and `stated_sums.py`. Each check is shown to fail: a figure is changed on
its way to the page, and must be found.
"""

import io
from collections.abc import Callable
from functools import cache
from pathlib import Path

import pypdf
import pypdfium2
import pytest

from estimator.model.exact import Fraction
from estimator.model.results import Estimate
from estimator.papers.owner.paper import OwnerPaper
from estimator.papers.owner_pages import owner_pdf
from estimator.papers.page.language import Language
from estimator.papers.page.phrases import Phrases
from estimator.papers.shop.paper import ShopPaper
from estimator.papers.shop_papers import shop_pdf
from tests.papers.figures import Ledger, ledger_of, unknown_figures
from tests.samples import estimate_of

WORKBOOKS = Path(__file__).parents[2] / "workbooks"
NAMES = ("one-cabinet", "kitchen", "wardrobe", "inch-job")
Paper = Callable[[Estimate], bytes]


@cache
def ledger(name: str) -> Ledger:
    return ledger_of(estimate_of(name))


def words_of(pdf: bytes) -> str:
    """The quick reader runs the numbers of neighbouring cuts together, so the diagrams are read by the careful one."""
    careful = pypdf.PdfReader(io.BytesIO(pdf))
    quick = [page.get_textpage().get_text_bounded() for page in pypdfium2.PdfDocument(pdf)]
    return " ".join(careful.pages[at].extract_text() if ", diagram " in words else words for at, words in enumerate(quick))


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize("paper", [shop_pdf, owner_pdf])
def test_every_figure_on_paper_is_held_by_the_estimate(paper: Paper, name: str) -> None:
    assert unknown_figures(ledger(name), words_of(paper(estimate_of(name)))) == []


def test_the_ledger_is_no_sieve() -> None:
    """Of amounts near the real ones only few are known: a changed figure is found, not by chance taken for another."""
    known = ledger("kitchen")
    amounts = [f"{euros}.{cents:02}" for euros in (226, 751, 978) for cents in range(100)]
    assert sum(one in known.figures for one in amounts) < 20
    sizes = [f"{length} × {width}" for length in range(560, 580) for width in range(555, 565)]
    assert sum(one in known.sizes for one in sizes) < 5


def _wrong(times: int, more: Fraction, real: Callable[..., str]) -> Callable[..., str]:
    """A way of writing a figure that is wrong once, the first figure a little more than it is."""
    calls = 0

    def write(self: object, first: Fraction | None, *others: Fraction, **how: object) -> str:
        nonlocal calls
        calls += first is not None
        wrong = first is not None and calls == times
        return real(self, first + more if wrong else first, *others, **how)

    return write


@pytest.mark.parametrize(
    ("paper", "on", "name", "more", "times"),
    [
        (owner_pdf, OwnerPaper, "money", Fraction(37, 100), 1),
        (owner_pdf, OwnerPaper, "money", Fraction(37, 100), 20),
        (owner_pdf, OwnerPaper, "amount", Fraction(37, 100), 30),
        (owner_pdf, OwnerPaper, "hours", Fraction(6000), 1),
        (owner_pdf, OwnerPaper, "long", Fraction(1000), 3),
        (shop_pdf, Language, "sizes", Fraction(3, 10), 1),
        (shop_pdf, Language, "sizes", Fraction(3, 10), 9),
        (shop_pdf, Language, "length", Fraction(1000), 4),
        (shop_pdf, ShopPaper, "long", Fraction(1000), 1),
        (shop_pdf, ShopPaper, "area", Fraction(1000), 1),
        (shop_pdf, ShopPaper, "minutes", Fraction(1000), 3),
    ],
)
def test_a_changed_figure_is_found(
    paper: Paper, on: type, name: str, more: Fraction, times: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    job = "one-cabinet" if paper is shop_pdf else "wardrobe"
    known = ledger(job)  # before anything is written wrongly
    monkeypatch.setattr(on, name, _wrong(times, more, getattr(on, name)))
    assert unknown_figures(known, words_of(paper(estimate_of(job))))


def test_a_changed_count_is_found(monkeypatch: pytest.MonkeyPatch) -> None:
    known, real = ledger("one-cabinet"), Phrases.counted
    monkeypatch.setattr(Phrases, "counted", lambda self, name, count, /, **values: real(self, name, count + 613, **values))
    assert unknown_figures(known, words_of(shop_pdf(estimate_of("one-cabinet"))))
