"""The words of the papers: both languages say everything, German papers speak German, a shop's own words are looked at strictly."""

import ast
import io
import re
from collections.abc import Callable, Iterator
from dataclasses import replace
from pathlib import Path

import pypdf
import pypdfium2
import pytest

from estimator.costing.banding.question import INPUTS
from estimator.costing.banding.side_by_side import WORDS
from estimator.papers import owner, shop
from estimator.papers.client_quote import quote_pdf
from estimator.papers.owner_pages import owner_pdf
from estimator.papers.page.phrases import OURS, BadWords, Phrases, filled, phrases, read_words
from estimator.papers.shop.paper import shop_paper
from estimator.papers.shop.time_sheet import timed_steps
from estimator.papers.shop_papers import shop_pdf
from tests.samples import estimate_of

WORKBOOKS = Path(__file__).parents[2] / "workbooks"
LANGUAGES = ("en", "de")
PAPERS = ("common", "shop", "owner", "labels")
_TO_FILL = re.compile(r"\{(\w+)\}")


def ours(language: str, paper: str) -> dict[str, str]:
    return read_words((OURS / language / f"{paper}.txt").read_text(encoding="utf-8"))


def words_of(pdf: bytes) -> str:
    return " ".join(" ".join(page.get_textpage().get_text_bounded() for page in pypdfium2.PdfDocument(pdf)).split())


# --- both languages say everything --------------------------------------------------------------------------------------


def amiss(english: dict[str, str], other: dict[str, str]) -> list[str]:
    """What one language says and the other does not, and what is filled in at one of them only."""
    lone = sorted(set(english) ^ set(other))
    return lone + [name for name in english if name in other and _fills(english[name]) != _fills(other[name])]


def _fills(words: str) -> set[str]:
    return set(_TO_FILL.findall(words))


def test_both_languages_have_the_same_files() -> None:
    assert {file.name for file in (OURS / "de").iterdir()} == {file.name for file in (OURS / "en").iterdir()}


@pytest.mark.parametrize("paper", PAPERS)
def test_both_languages_have_the_same_words_and_fill_in_the_same(paper: str) -> None:
    english, german = ours("en", paper), ours("de", paper)
    assert amiss(english, german) == []
    several = {name for name, words in english.items() if " | " in words}
    assert {name for name, words in german.items() if " | " in words} == several


def test_words_that_a_language_lacks_are_noticed() -> None:
    english = ours("en", "shop")
    lacking = {name: words for name, words in english.items() if name != "cut list"} | {"kerf wide": "1 mm", "the job": "The {job}"}
    assert amiss(english, lacking) == ["cut list", "kerf wide", "the job"]


def names_said(package: object) -> Iterator[str]:
    """Every name of words that stands in the code of a paper; a name put together at the time of printing gives its plain parts."""
    for folder in package.__path__:  # type: ignore[attr-defined]
        for file in (*Path(folder).glob("*.py"), *Path(folder).parent.glob("*_pa*s.py")):
            for node in ast.walk(ast.parse(file.read_text(encoding="utf-8"))):
                if isinstance(node, ast.Constant) and isinstance(node.value, str):
                    yield node.value


@pytest.mark.parametrize(("paper", "package"), [("shop", shop), ("owner", owner)])
def test_no_word_stands_there_for_nothing(paper: str, package: object) -> None:
    """What no paper says is only in the way of whoever translates."""
    said = set(names_said(package))
    heads = ("figure ", *(head for head in said if head.endswith(" ") and len(head) > 3))
    assert [name for name in ours("en", paper) if name not in said and not name.startswith(heads)] == []


def test_every_term_of_the_engine_has_its_word() -> None:
    words = ours("de", "owner")
    for what in (*INPUTS, *WORDS, "relevant cost", "by hand", "sent out", "on the machine"):
        assert f"figure {what}" in words


# --- German papers speak German -----------------------------------------------------------------------------------------


def english_left(words: str, paper: str) -> list[str]:
    """The English headings, heads of columns and sentences that stand in the words of a paper."""
    german, found = ours("de", paper), []
    for name, english in ours("en", paper).items():
        if name.startswith("figure ") or english == german[name] or "{" in english or len(english) < 6:
            continue
        if re.search(rf"(?<!\w){re.escape(english)}(?!\w)", words):
            found.append(name)
    return found


@pytest.mark.parametrize("name", ["kitchen", "wardrobe"])
def test_a_german_job_has_german_papers(name: str) -> None:
    estimate = replace(estimate_of(name, language="de"), remarks=())
    for paper, pdf in (("shop", shop_pdf(estimate)), ("owner", owner_pdf(estimate))):
        words = words_of(pdf)
        for one in estimate.minutes.steps:
            words = words.replace(one.step.step, "")  # typed, and so in the shop's own language
        assert english_left(words, paper) == []
        assert "{" not in words
        assert pypdf.PdfReader(io.BytesIO(pdf)).trailer["/Root"]["/Lang"] == "de"


def test_a_german_time_sheet_counts_in_german() -> None:
    counted = {what for _, _, what in timed_steps(shop_paper(estimate_of("kitchen", language="de")))}
    assert {"Teile", "Kanten", "Meter", "Fahrten zum Einbauort", "Auftrag"} <= counted
    assert not counted & {"part", "parts", "edge", "edges", "metre", "metres", "site trip", "site trips", "job"}


def test_english_on_a_german_paper_is_noticed() -> None:
    words = words_of(shop_pdf(estimate_of("one-cabinet")))
    assert {"cut list", "banding schedule", "buy list", "cautions lead"} <= set(english_left(words, "shop"))


def test_numbers_and_dates_follow_the_language() -> None:
    words = words_of(owner_pdf(estimate_of("kitchen", language="de")))
    assert "3. Februar 2031" in words
    assert re.search(r"\d\.\d{3},\d{2}\s€", words)
    assert not re.search(r"\d,\d{3}\.\d", words)


@pytest.mark.parametrize("language", LANGUAGES)
def test_remarks_say_in_which_language_they_stand(language: str) -> None:
    """The engine's remarks are English; a paper in another language says so in one line."""
    note = ours(language, "common")["language of remarks"]
    estimate = estimate_of("kitchen", language=language)
    for pdf in (shop_pdf(estimate), owner_pdf(estimate)):
        assert bool(note) == (language != "en")
        assert note in words_of(pdf)


# --- a shop's own words -------------------------------------------------------------------------------------------------


def test_a_shop_says_it_otherwise(tmp_path: Path) -> None:
    (tmp_path / "shop.txt").write_text("cut list: Saw list\nworkers: one pair of hands | {n} pairs\n  of hands\n", encoding="utf-8")
    (tmp_path / "en").mkdir()
    (tmp_path / "en" / "owner.txt").write_text("the answer: In short\nthe answer to: In short: {job}\n", encoding="utf-8")
    estimate = estimate_of("kitchen")
    said = words_of(shop_pdf(estimate, words=tmp_path))
    assert "Saw list" in said
    assert "Cut list" not in said
    assert "Buy list" in said
    assert "In short: Kitchen and pantry" in words_of(owner_pdf(estimate, words=tmp_path))
    assert phrases("shop", language_code="en", folder=tmp_path).counted("workers", 2) == "2 pairs of hands"


@pytest.mark.parametrize(
    ("paper", "file", "line", "found"),
    [
        (shop_pdf, "shop.txt", "cutlist: Saw list", "the words cutlist, which no paper has"),
        (owner_pdf, "owner.txt", "money kept: {net} and {margin}", "{margin} in money kept, which is not filled in there"),
        (owner_pdf, "common.txt", "page: {page} of {all}", "{all} in page, which is not filled in there"),
        (quote_pdf, "labels.txt", "totall: All in", "the words totall, which no paper has"),
    ],
)
def test_wrong_words_are_told_before_anything_is_printed(
    paper: Callable[..., bytes], file: str, line: str, found: str, tmp_path: Path
) -> None:
    (tmp_path / file).write_text(line, encoding="utf-8")
    estimate = estimate_of("one-cabinet")
    with pytest.raises(BadWords) as told:
        paper(estimate, words=tmp_path)
    assert told.value.problem.found == found
    assert told.value.problem.place.workbook == f"{tmp_path.name}/{file}"


def test_a_file_that_is_no_text_is_told(tmp_path: Path) -> None:
    (tmp_path / "shop.txt").write_bytes("rest: Rößt".encode("latin-1"))
    with pytest.raises(BadWords):
        phrases("shop", language_code="en", folder=tmp_path)


def test_a_name_or_a_value_that_is_missing_is_no_blank() -> None:
    with pytest.raises(KeyError):
        Phrases({"one": "{n} of {of}"})("two")
    with pytest.raises(KeyError):
        Phrases({"one": "{n} of {of}"})("one", n=1)


def test_what_is_filled_in_is_only_letters() -> None:
    assert filled("{name} and {n}", {"name": "{n} <b>", "n": 2}) == "{n} <b> and 2"
