"""A folder of a shop's own words: all that is wrong in it is told at once, by file and line; what is right is left alone."""

from pathlib import Path

import pytest

from estimator.papers.page.own_words import wrong_words
from estimator.papers.page.phrases import OURS


def told(folder: Path, language: str = "en") -> list[tuple[str, str, str]]:
    return [(str(one.place).partition("/")[2], one.found, one.mend) for one in wrong_words(folder, language_code=language)]


def test_every_slip_is_told_in_one_run_with_its_line(tmp_path: Path) -> None:
    (tmp_path / "shop.txt").write_text("# ours\ncut lst: Saw list\nno colon\nrest: {size}\n  {nobody}\n", encoding="utf-8")
    (tmp_path / "terms.txt").write_text("All is well.\nHello {{ client }\n", encoding="utf-8")
    (tmp_path / "acceptence.txt").write_text("We agree.", encoding="utf-8")
    (tmp_path / "labels.txt").write_bytes("total: Größe".encode("latin-1"))
    (tmp_path / "opening.docx").write_bytes(b"PK")
    found = told(tmp_path)
    assert [place for place, _, _ in found] == [
        "acceptence.txt", "labels.txt", "opening.docx", "shop.txt > line 2", "shop.txt > line 3", "shop.txt > line 4",
        "shop.txt > line 5", "terms.txt > line 2",
    ]  # fmt: skip
    mends = {place: mend for place, _, mend in found}
    assert mends["acceptence.txt"] == "did you mean acceptance.txt?"
    assert mends["opening.docx"] == "did you mean opening.txt?"
    assert mends["shop.txt > line 2"] == "did you mean cut list?"


@pytest.mark.parametrize("language", ["en", "de"])
def test_our_own_files_and_what_is_no_text_are_in_order(tmp_path: Path, language: str) -> None:
    for file in (OURS / language).iterdir():
        (tmp_path / file.name).write_bytes(file.read_bytes())
    (tmp_path / "logo.png").write_bytes(b"\x89PNG")
    (tmp_path / "fr").mkdir()
    assert told(tmp_path, language) == []


def test_only_the_papers_own_language_is_looked_at(tmp_path: Path) -> None:
    (tmp_path / "de").mkdir()
    (tmp_path / "de" / "shop.txt").write_text("Sägeliste: x", encoding="utf-8")
    assert told(tmp_path) == []
    assert [place for place, _, _ in told(tmp_path, "de")] == ["shop.txt > line 1"]
