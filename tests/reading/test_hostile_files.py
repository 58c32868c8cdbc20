"""Workbooks that came by e-mail: too large, broken, lying or sly. Each is refused or read in bounds, never with a traceback."""

from __future__ import annotations

import random
import time
import zipfile
from collections.abc import Callable
from pathlib import Path

import pytest

from estimator.model.records import Job
from estimator.model.refusal import Refusal
from estimator.reading.workbook import is_job_workbook, read_job
from tests.reading.base_books import ONE_BOOK
from tests.reading.drawing import draw, redraw_with_shared_texts

Change = Callable[[bytes], bytes]
CABINETS = "xl/worksheets/sheet2.xml"


@pytest.fixture(scope="module")
def with_shared_texts(good: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    return redraw_with_shared_texts(good, tmp_path_factory.mktemp("shared") / "job.xlsx")


@pytest.fixture(scope="module")
def good(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return draw(tmp_path_factory.mktemp("good") / "job.xlsx", ONE_BOOK)


def repack(good: Path, folder: Path, changes: dict[str, Change | None], *, more: dict[str, bytes] | None = None) -> Path:
    """The good workbook with some parts changed (None takes a part out) and some added."""
    path = folder / "job.xlsx"
    with zipfile.ZipFile(good) as old, zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as new:
        for name in old.namelist():
            change = changes.get(name, lambda content: content)
            if change is not None:
                new.writestr(name, change(old.read(name)))
        for name, content in (more or {}).items():
            new.writestr(name, content)
    return path


def refusal(path: Path, *, within_s: float = 5) -> Refusal:
    start = time.perf_counter()
    answer = read_job(path)
    assert time.perf_counter() - start < within_s
    assert isinstance(answer, Refusal)
    return answer


def swap(old: bytes, new: bytes) -> Change:
    def change(content: bytes) -> bytes:
        assert old in content
        return content.replace(old, new, 1)

    return change


def test_a_small_file_that_unpacks_to_200_mb_is_refused_before_it_is_unpacked(good: Path, tmp_path: Path) -> None:
    path = repack(good, tmp_path, {CABINETS: lambda content: content.replace(b"<sheetData>", b"<sheetData>" + b" " * 200_000_000)})
    assert path.stat().st_size < 300_000
    (problem,) = refusal(path).problems
    assert str(problem) == (
        "job.xlsx\n"
        f"    found     a workbook that unpacks from {path.stat().st_size // 1000} kB to 200 MB: no job does that\n"
        "    expected  a workbook (.xlsx) with the sheets of the form\n"
        "    to mend   take old sheets, pictures and styled empty rows out of it, or start from the blank form (estimator blank writes it)"
    )


def test_a_part_that_claims_to_be_small_is_not_read_beyond_its_claim(good: Path, tmp_path: Path) -> None:
    path = repack(good, tmp_path, {CABINETS: lambda content: content.replace(b"<sheetData>", b"<sheetData>" + b" " * 100_000_000)})
    content = bytearray(path.read_bytes())
    at = content.rfind(CABINETS.encode()) - 46
    assert content[at : at + 4] == b"PK\x01\x02"
    content[at + 24 : at + 28] = (500).to_bytes(4, "little")
    path.write_bytes(content)
    refusal(path)


def test_entities_are_refused(good: Path, tmp_path: Path) -> None:
    bomb = b'<!DOCTYPE x [<!ENTITY a "aaaaaaaaaa"><!ENTITY b "&a;&a;&a;&a;&a;&a;&a;&a;&a;&a;">]>'
    path = repack(good, tmp_path, {CABINETS: lambda content: bomb + content.replace(b"<sheetData>", b"<sheetData>&b;")})
    assert "document type" in refusal(path).problems[0].found


def test_a_million_styled_empty_rows_are_not_walked(good: Path, tmp_path: Path) -> None:
    rows = b"".join(b'<row r="%d"><c r="A%d" s="1"/></row>' % (n, n) for n in range(100, 400_000))
    path = repack(good, tmp_path, {CABINETS: swap(b"</sheetData>", rows + b"</sheetData>")})
    start = time.perf_counter()
    assert isinstance(read_job(path), Job)
    assert time.perf_counter() - start < 2


def test_a_cell_in_the_last_row_and_column_does_no_harm(good: Path, tmp_path: Path) -> None:
    far = b'<row r="1048576"><c r="XFD1048576" t="n"><v>1</v></c></row></sheetData>'
    assert isinstance(read_job(repack(good, tmp_path, {CABINETS: swap(b"</sheetData>", far)})), Job)


def test_more_cells_than_a_job_has_are_refused(good: Path, tmp_path: Path) -> None:
    row = b"".join(b"<c><v>%d</v></c>" % n for n in range(600))
    rows = b"".join(b"<row>" + row + b"</row>" for _ in range(1_800))
    path = repack(good, tmp_path, {CABINETS: swap(b"</sheetData>", rows + b"</sheetData>")})
    assert "cells" in refusal(path).problems[0].found


def test_too_many_sheets_are_refused(good: Path, tmp_path: Path) -> None:
    more = b"".join(b'<sheet name="s%d" sheetId="%d" r:id="rId1"/>' % (n, n + 100) for n in range(300))
    namespace = b' xmlns:r="http://schemas.openxmlformats.org/officeDocument/2006/relationships"'
    path = repack(
        good, tmp_path, {"xl/workbook.xml": lambda content: content.replace(b"<sheets>", b"<sheets" + namespace + b">" + more, 1)}
    )
    assert "sheets" in refusal(path).problems[0].found


def test_too_many_parts_are_refused(good: Path, tmp_path: Path) -> None:
    path = repack(good, tmp_path, {}, more={f"xl/media/{n}.png": b"" for n in range(5_000)})
    assert "parts" in refusal(path).problems[0].found


@pytest.mark.parametrize(
    "part", ["xl/workbook.xml", "xl/_rels/workbook.xml.rels", "xl/sharedStrings.xml", CABINETS, "xl/styles.xml", "_rels/.rels"]
)
@pytest.mark.parametrize("damage", ["gone", "cut", "empty", "noise", "nested"])
def test_a_damaged_part_is_told_or_done_without(with_shared_texts: Path, tmp_path: Path, part: str, damage: str) -> None:
    change: Change | None = {
        "gone": None,
        "cut": lambda content: content[: len(content) // 2],
        "empty": lambda content: b"",
        "noise": lambda content: random.Random(7).randbytes(2_000),
        "nested": lambda content: b"<a>" * 200_000,
    }[damage]
    path = repack(with_shared_texts, tmp_path, {part: change})
    answer = read_job(path)
    assert isinstance(answer, Refusal) or (damage == "gone" and part in ("xl/styles.xml", "_rels/.rels"))


@pytest.mark.parametrize("number", ["1E400", "-1E400", "NaN", "INF", "9" * 400, "1E30", "1_000", "0x10", "٣", "1e", "--5"])
def test_a_number_out_of_all_measure_is_told_at_its_cell(good: Path, tmp_path: Path, number: str) -> None:
    path = repack(good, tmp_path, {CABINETS: swap(b'<c r="E2" t="n"><v>600</v>', f'<c r="E2" t="n"><v>{number}</v>'.encode())})
    assert "job.xlsx > Cabinets > E2" in [str(problem.place) for problem in refusal(path).problems]


@pytest.mark.parametrize(
    ("old", "new"),
    [
        (b'r="E2"', b'r="ZZZZZZZZZZ99999999999999999"'),
        (b'r="E2"', b'r="2E"'),
        (b'r="E2"', b'r=""'),
        (b'<row r="2"', b'<row r="-1"'),
        (b'<row r="2"', b'<row r="99999999999999999999"'),
        (b'<row r="2"', '<row r="²"'.encode()),
        (b'<c r="A2" t="s"><v>', b'<c r="A2" t="s"><v>999999'),
        (b'<c r="A2" t="s"><v>', b'<c r="A2" t="s"><v>-'),
        (b'<c r="A2" t="s"><v>', b'<c r="A2" t="s"><v>x'),
        (b'<c r="A2" t="s"><v>', b'<c r="A2" t="zz" s="-5"><v>'),
        (b'<c r="A2" t="s"><v>', b'<c r="A2" t="s" s="99999"><v>'),
    ],
)
def test_cells_with_impossible_names_and_pointers_do_not_break_the_reading(
    with_shared_texts: Path, tmp_path: Path, old: bytes, new: bytes
) -> None:
    assert isinstance(read_job(repack(with_shared_texts, tmp_path, {CABINETS: swap(old, new)})), Job | Refusal)


def test_sheets_that_point_out_of_the_package_are_passed_over(good: Path, tmp_path: Path) -> None:
    for target in (b"../../../etc/passwd", b"http://there.example/sheet.xml", b"/../x", b"file:///etc/passwd"):
        rels = {"xl/_rels/workbook.xml.rels": swap(b"/xl/worksheets/sheet2.xml", target)}
        assert isinstance(read_job(repack(good, tmp_path, rels)), Refusal)


def test_a_locked_part_is_told_as_a_password(good: Path, tmp_path: Path) -> None:
    content = bytearray(good.read_bytes())
    at = content.rfind(b"PK\x01\x02")
    content[at + 8] |= 1
    path = tmp_path / "job.xlsx"
    path.write_bytes(content)
    assert refusal(path).problems[0].found == "a workbook with a password"


def test_macros_links_and_objects_are_never_opened(good: Path, tmp_path: Path) -> None:
    more = {
        "xl/vbaProject.bin": b"\x00" * 100,
        "xl/externalLinks/externalLink1.xml": b"<broken",
        "xl/embeddings/oleObject1.bin": b"\xd0\xcf",
    }
    assert isinstance(read_job(repack(good, tmp_path, {}, more=more)), Job)


def test_tags_with_a_prefix_are_read_too(good: Path, tmp_path: Path) -> None:
    def prefixed(content: bytes) -> bytes:
        import re

        content = re.sub(rb"<(/?)(\w+)(?=[ />])", rb"<\1x:\2", content.partition(b"?>")[2] if content.startswith(b"<?") else content)
        return content.replace(b"xmlns=", b"xmlns:x=")

    path = repack(
        good, tmp_path, {CABINETS: prefixed, "xl/sharedStrings.xml": prefixed, "xl/styles.xml": prefixed, "xl/workbook.xml": prefixed}
    )
    assert isinstance(read_job(path), Job), read_job(path)


def test_flipped_bytes_never_end_in_a_traceback(good: Path, tmp_path: Path) -> None:
    """A small part of the long run that stands in tests/fuzzing."""
    chance = random.Random(20310203)
    whole = good.read_bytes()
    path = tmp_path / "job.xlsx"
    for _ in range(150):
        content = bytearray(whole)
        for _ in range(chance.randint(1, 12)):
            content[chance.randrange(len(content))] = chance.randrange(256)
        path.write_bytes(content[: chance.randint(1, len(content))] if chance.random() < 0.2 else content)
        assert isinstance(read_job(path), Job | Refusal)
        is_job_workbook(path)


def test_changed_xml_never_ends_in_a_traceback(good: Path, tmp_path: Path) -> None:
    chance = random.Random(20310204)
    with zipfile.ZipFile(good) as archive:
        parts = [name for name in archive.namelist() if name.endswith((".xml", ".rels"))]

    def mutate(content: bytes) -> bytes:
        at, to = sorted((chance.randrange(len(content)), chance.randrange(len(content))))
        return chance.choice((
            content[:at] + content[to:] if to - at < 200 else content[:at] + content[at + 5 :],
            content[:at] + content[at : at + 80] + content[at:],
            content.replace(b'"1"', b'"-1"', 3),
            content.replace(b"<v>", b"<v>9", chance.randint(1, 30)),
            content.replace(b't="s"', b't="n"', chance.randint(1, 30)),
            content.replace(b't="n"', b't="b"', chance.randint(1, 30)),
        ))  # fmt: skip

    for _ in range(150):
        answer = read_job(repack(good, tmp_path, {chance.choice(parts): mutate}))
        assert isinstance(answer, Job | Refusal)
