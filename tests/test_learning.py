"""A folder of finished jobs, from the command to the shop's changed book: what is learned, what is written, what is refused."""

import json
import re
import shutil
import zipfile
from pathlib import Path

import openpyxl
import pytest

from estimator.__main__ import main
from estimator.batch import price_book
from estimator.learning import learn
from estimator.model.exact import Fraction
from estimator.model.refusal import Refusal
from estimator.model.results import Estimate
from workbooks.finished_jobs import FOLDER, finished_jobs

SHOP = FOLDER.parent / "shop.xlsx"


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    jobs = tmp_path / "jobs"
    shutil.copytree(FOLDER, jobs)
    shutil.copy(SHOP, jobs)
    return jobs


def log_of(path: Path) -> list[list[object]]:
    return [list(row) for row in openpyxl.load_workbook(path)["Time log"].iter_rows(min_row=2, values_only=True)]


def test_the_finished_jobs_are_what_the_code_draws() -> None:
    """After a change: `python -m workbooks.finished_jobs`."""
    assert {path.name for path in FOLDER.glob("*.xlsx")} == set(finished_jobs())
    for name, content in finished_jobs().items():
        drawn = FOLDER.parent / f".{name}"
        drawn.write_bytes(content)
        try:
            assert log_of(drawn) == log_of(FOLDER / name)
        finally:
            drawn.unlink()


def test_what_the_jobs_teach(folder: Path) -> None:
    lesson = learn(folder, shop=None, out=folder / "reports")
    learned = lesson.learned
    assert (lesson.jobs, lesson.problems, lesson.refused, lesson.shop_book) == (6, (), (), folder / "shop.xlsx")
    times = {time.step.step: time for time in learned.times}
    assert times["Cut to size"].state == "new"
    assert (times["Cut to size"].rows, times["Cut to size"].wild) == (5, 1)
    assert times["Ease and clean"].state == "too few"
    assert times["Oil fronts, two coats"].state == "never timed"
    # one row for two steps that were always done in one go: on their own unsure, together sure, so one correction
    start, run = times["Coat core edges: start"], times["Coat core edges: run"]
    assert start.shared == ("Coat core edges: run",)
    assert start.minutes / start.step.minutes == pytest.approx(run.minutes / run.step.minutes, rel=1e-3)
    # two rows of one step without a count are one observation of the whole job
    tea = [one for one in learned.observed if one.job == "tea-room.xlsx" and one.name == "Cut to size"]
    assert [one.rows for one in tea] == [2]
    # every row of work that was logged is compared, wild or not
    logged = sum(row[4] for path in FOLDER.glob("*.xlsx") for row in log_of(path) if row[4])
    assert sum(one.real_min for one in learned.observed) == logged
    assert sum(one.real_min for one in learned.by_stage) == sum(one.real_min for one in learned.by_step) == logged
    assert {use.name: use.kind for use in learned.material}["white 1 mm"] == "edging"
    assert all(again.new_net > again.net for again in learned.quotes)


def test_what_was_learned_is_told_on_eighty_columns(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Real beside estimated by stage and step, each new time with how sure it is, and the row that was left aside by its cell."""
    assert main(["learn", str(folder), "--out", str(folder / "reports")]) == 0
    told = capsys.readouterr().out.splitlines()
    assert [line for line in told if len(line) > 80 and str(folder) not in line] == []
    cutting = told.index(next(line for line in told if line.startswith("    cutting ")))
    assert told[cutting + 1].startswith("      Fetch and stack sheets ")
    assert next(line for line in told if line.startswith("    Fetch and stack sheets ")).split()[-5:] == ["6.72", "8.69", "8", "%", "6"]
    assert any(line.startswith("    veterinary.xlsx > Time log > E3: Cut to size, 1619 minutes") for line in told)
    figures = re.compile(r"  +([0-9]+)  +([0-9]+)  [0-9a-z]")
    stages, steps = ([figures.search(line) for line in told if re.match(rf" {{{indents}}}\S", line)] for indents in ("4", "6,8"))
    real = [sum(int(one[2]) for one in rows if one) for rows in (stages, steps)]
    assert abs(real[0] - real[1]) <= len(steps)  # each line is rounded by itself


def test_writing_changes_the_price_book_after_a_copy_and_the_next_price_is_the_one_that_was_told(folder: Path) -> None:
    shop, before = folder / "shop.xlsx", (folder / "shop.xlsx").read_bytes()
    told = {one.job: one.new_net for one in learn(folder, shop=None, out=folder / "reports").learned.quotes}
    inputs = {path: path.read_bytes() for path in folder.glob("*.xlsx") if path != shop}
    assert shop.read_bytes() == before
    assert main(["learn", str(folder), "--out", str(folder / "reports"), "--write", "--date", "2031-07-20"]) == 0
    assert (folder / "shop before 2031-07-20.xlsx").read_bytes() == before
    assert all(path.read_bytes() == content for path, content in inputs.items())
    again = price_book(folder / "tea-room.xlsx")
    assert isinstance(again, Estimate)
    assert again.price.net == told["tea-room.xlsx"]
    assert next(step for step in again.job.work if step.step == "Cut to size").timed
    # learned once more from the same log: the same times, and the first copy stays
    assert main(["learn", str(folder), "--out", str(folder / "reports"), "--write", "--date", "2031-07-20"]) == 0
    assert (folder / "shop before 2031-07-20 (2).xlsx").is_file()
    assert (folder / "shop before 2031-07-20.xlsx").read_bytes() == before
    once_more = price_book(folder / "tea-room.xlsx")
    assert isinstance(once_more, Estimate)
    assert abs(once_more.price.net - told["tea-room.xlsx"]) < 1


def test_a_price_that_reckons_with_a_new_time_is_asked_for_until_the_book_is_worked_out(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """A board's price that the shop reckons from its cutting time; its answer of 70 was saved before the time was learned."""
    shop = folder / "shop.xlsx"
    book = openpyxl.load_workbook(shop)
    row = next(cell.row for cell in book["Work"]["A"] if cell.value == "Cut to size")
    book["Boards"]["E2"] = f"=50+8*Work!F{row}"
    book.save(shop)
    with_answer(shop, "Boards", "E2", "70")
    before = price_book(folder / "tea-room.xlsx")
    assert isinstance(before, Estimate)
    assert next(board.price for board in before.job.boards) == 70
    assert main(["learn", str(folder), "--out", str(folder / "reports"), "--write"]) == 0
    assert "formulas reckon with the new times (Boards > E2)" in capsys.readouterr().out
    after = price_book(folder / "tea-room.xlsx")
    assert isinstance(after, Refusal)
    assert [str(problem.place) for problem in after.problems] == ["shop.xlsx > Boards > E2"]
    assert "save" in after.problems[0].mend


def with_answer(path: Path, sheet: str, cell: str, answer: str) -> None:
    """The saved answer that a spreadsheet program would keep beside a formula."""
    number = openpyxl.load_workbook(path).sheetnames.index(sheet) + 1
    with zipfile.ZipFile(path) as package:
        parts = {name: package.read(name) for name in package.namelist()}
    part = f"xl/worksheets/sheet{number}.xml"
    text, found = re.subn(rf'(<c r="{cell}"[^>]*>\s*<f>[^<]*</f>)\s*<v\s*/?>(?:</v>)?', rf"\1<v>{answer}</v>", parts[part].decode())
    assert found == 1
    with zipfile.ZipFile(path, "w") as package:
        for name, content in parts.items():
            package.writestr(name, text if name == part else content)


def test_a_wrong_log_is_told_and_keeps_the_price_book_as_it_is(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = folder / "archive.xlsx"
    book = openpyxl.load_workbook(path)
    book["Time log"]["E2"], book["Time log"]["C3"] = "all day", "Cut to sise"
    book.save(path)
    before = (folder / "shop.xlsx").read_bytes()
    assert main(["learn", str(folder), "--out", str(folder / "reports"), "--write"]) == 1
    said = capsys.readouterr().out
    assert "archive.xlsx > Time log > E2\n    found     the text all day" in said
    assert "to mend   did you mean Cut to size?" in said
    assert "The price book was not changed: mend the problems above first." in said
    assert (folder / "shop.xlsx").read_bytes() == before


def test_one_log_for_the_whole_shop_and_the_estimate_of_that_day(folder: Path) -> None:
    for name in ("archive", "attic-shelves", "music-school", "small-kitchen"):
        (folder / f"{name}.xlsx").unlink()
    out = folder / "reports"
    kept = out / "tea-room" / "1"
    kept.mkdir(parents=True)
    (kept / "estimate.json").write_text(json.dumps({"minutes": {"steps": {"Cut to size": "1000"}}}), encoding="utf-8")
    book = openpyxl.Workbook()
    sheet = book.active
    sheet.title = "Time log"
    for row in (["Date", "Job", "Step", "Count", "Minutes"], ["2031-05-01", "2031-022", "Cut to size", 37, 300], ["2031-05-01", "Treatment room", "Oil fronts, two coats", 2, 40]):
        sheet.append(row)
    book.save(folder / "times.xlsx")
    learned = learn(folder, shop=None, out=out).learned
    from_shop_log = [one for one in learned.observed if one.at.workbook == "times.xlsx"]
    assert [one.job for one in from_shop_log] == ["tea-room.xlsx", "veterinary.xlsx"]
    planned = price_book(folder / "tea-room.xlsx")
    assert isinstance(planned, Estimate)
    parts = next(one.count for one in planned.minutes.steps if one.step.step == "Cut to size")
    assert from_shop_log[0].estimated_min == Fraction(1000) * 37 / parts


def test_a_workbook_that_holds_everything_is_copied_where_it_is_not_taken_for_a_job(tmp_path: Path) -> None:
    folder, out = tmp_path / "jobs", tmp_path / "reports"
    folder.mkdir()
    book = openpyxl.load_workbook(FOLDER.parent / "one-cabinet.xlsx")
    step = book["Work"]["A2"].value
    sheet = book["Time log"] if "Time log" in book.sheetnames else book.create_sheet("Time log")
    for y, row in enumerate([["Date", "Job", "Step", "Count", "Minutes"], *(["2031-05-01", None, step, 10, 30 + n] for n in range(6))], start=1):
        for x, value in enumerate(row, start=1):
            sheet.cell(y, x).value = value
    book.save(folder / "alone.xlsx")
    before = (folder / "alone.xlsx").read_bytes()
    assert main(["learn", str(folder), "--out", str(out), "--write"]) == 0
    assert [path.name for path in folder.iterdir()] == ["alone.xlsx"]
    assert (out / "alone before 2031-05-01.xlsx").read_bytes() == before
    priced = price_book(folder / "alone.xlsx")
    assert isinstance(priced, Estimate)
    assert priced.job.work[0].timed
    # the mean of 30 to 35 minutes for ten, without the shop's allowance of 10 %
    assert abs(priced.job.work[0].minutes * Fraction(110, 100) - Fraction("3.25")) < Fraction(1, 1000)


def test_a_count_typed_in_an_inch_job_is_in_feet(tmp_path: Path) -> None:
    book = openpyxl.load_workbook(FOLDER.parent / "inch-job.xlsx")
    sheet = book["Time log"] if "Time log" in book.sheetnames else book.create_sheet("Time log")
    for y, row in enumerate([["Date", "Job", "Step", "Count", "Minutes"], ["2031-05-01", None, "Trim both sides", 100, 30]], start=1):
        for x, value in enumerate(row, start=1):
            sheet.cell(y, x).value = value
    book.save(tmp_path / "inch.xlsx")
    (one,) = learn(tmp_path, shop=None, out=tmp_path / "reports").learned.observed
    assert one.steps[0].count == Fraction("30.48")


def test_data_and_nothing_else(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["learn", str(folder), "--out", str(folder / "reports"), "--json"]) == 0
    answer = json.loads(capsys.readouterr().out)
    step = next(one for one in answer["steps"] if one["step"] == "Trim both sides")
    assert Fraction(step["from_min"]) < Fraction(step["standard_min"]) < Fraction(step["to_min"])
    assert sum(one["left_aside"] for one in answer["log"]) == 1


def test_the_shops_own_log_is_never_written_over(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (folder / "times.xlsx").write_bytes(SHOP.read_bytes())
    assert main(["learn", str(folder), "--out", str(folder)]) == 2
    assert "--out" in capsys.readouterr().out
    assert (folder / "times.xlsx").read_bytes() == SHOP.read_bytes()


def test_wrong_words_at_the_prompt(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["learn", str(folder / "tea-room.xlsx")]) == 2
    assert main(["learn", str(folder), "--date", "20 July"]) == 2
    assert "2031-07-01" in capsys.readouterr().err


def test_a_folder_without_a_log_says_what_to_do(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    shutil.copy(FOLDER.parent / "one-cabinet.xlsx", tmp_path)
    assert main(["learn", str(tmp_path), "--out", str(tmp_path / "reports")]) == 0
    assert "no row of a Time log" in capsys.readouterr().out
    assert not (tmp_path / "reports").exists()
