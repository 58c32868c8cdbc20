"""A workbook file in, its sheets out, each read when somebody asks for it.

Written on the XML itself, because a percent format, a hidden row and a formula without an answer must all be seen, and fast.
"""

from __future__ import annotations

from pathlib import Path

from estimator.model.dataclass import dataclass
from estimator.reading.number_formats import Shows, shows_of_styles
from estimator.reading.package import DAMAGED, Package, Unfit, open_package
from estimator.reading.raw_cells import RawSheet
from estimator.reading.sheet_parts import MOST_CELLS, read_rows, shared_texts

MOST_SHEETS = 250
MOST_TARGETS = 20_000
_LONGEST_TARGET = 2_000


@dataclass(slots=True)
class Book:
    """An opened workbook; sheets are read one by one, when somebody asks for them."""

    name: str
    package: Package
    sheets: dict[str, tuple[str, bool]]
    """Sheet name to its part and whether it is hidden, in the order of the tabs."""
    starts_1904: bool
    _texts: list[str] | None = None
    _shows: tuple[Shows, ...] | None = None
    _texts_part: str = ""
    _styles_part: str = ""
    _cells: int = 0

    def read(self, sheet: str) -> RawSheet:
        part, hidden = self.sheets[sheet]
        if self._texts is None:
            self._texts = shared_texts(self.package, self._texts_part)
        if self._shows is None:
            self._shows = shows_of_styles(self.package, self._styles_part)
        raw = RawSheet(sheet, hidden)
        self._cells += read_rows(raw, self.package, part, texts=self._texts, shows=self._shows)
        if self._cells > MOST_CELLS:
            raise Unfit(f"a workbook of more than {MOST_CELLS:,} filled cells", "split the job into several workbooks")
        return raw

    def close(self) -> None:
        self.package.archive.close()


def open_book(path: Path) -> Book:
    """Open a workbook file; raises Unfit with what was found and how to mend it."""
    package = open_package(path)
    try:
        return _book(path.name, package)
    except BaseException:
        package.archive.close()
        raise


def _book(name: str, package: Package) -> Book:
    main = _targets(package, "_rels/.rels").get("officeDocument", ["xl/workbook.xml"])[0]
    folder, _, file = main.rpartition("/")
    sheets: list[tuple[str, str, bool]] = []
    starts_1904 = False

    def start(tag: str, attributes: dict[str, str]) -> None:
        nonlocal starts_1904
        if tag == "sheet":
            link = next((value for key, value in attributes.items() if key.endswith(":id")), "")
            sheets.append((attributes.get("name", ""), link, attributes.get("state", "visible") != "visible"))
        elif tag == "workbookPr":
            starts_1904 = attributes.get("date1904", "0") in ("1", "true", "on")

    package.parse(main, start=start)
    if len(sheets) > MOST_SHEETS:
        raise Unfit(f"a workbook of {len(sheets):,} sheets, more than {MOST_SHEETS}", "take the sheets out that the job does not need")
    rels = f"{folder}/_rels/{file}.rels" if folder else f"_rels/{file}.rels"
    by_id: dict[str, str] = {}
    by_kind = _targets(package, rels, by_id=by_id)
    for title, link, _hidden in sheets:
        if link not in by_id:
            raise Unfit(f"a damaged workbook: its list of sheets does not say where {title[:40]} is", DAMAGED)
    titles = [title for title, _link, _hidden in sheets]
    if twice := next((title for title in titles if titles.count(title) > 1), ""):
        raise Unfit(f"a damaged workbook: two of its sheets are named {twice[:40]}", DAMAGED)
    found = {title: (part, hidden) for title, link, hidden in sheets if (part := by_id[link])}
    return Book(
        name, package, found, starts_1904,
        _texts_part=by_kind.get("sharedStrings", [""])[0], _styles_part=by_kind.get("styles", [""])[0],
    )  # fmt: skip


def _targets(package: Package, rels: str, *, by_id: dict[str, str] | None = None) -> dict[str, list[str]]:
    """Parts that a part points to, by the last word of their kind; links that leave the workbook are passed over.

    `by_id` is filled with the part of each sheet of cells, by the link's id; a blank for other kinds of sheets.
    """
    base = rels.replace("_rels/", "", 1) if rels.startswith("_rels/") else rels.replace("/_rels/", "/", 1)
    folder = base.rpartition("/")[0]
    by_kind: dict[str, list[str]] = {}
    many = 0

    def start(tag: str, attributes: dict[str, str]) -> None:
        nonlocal many
        many += 1
        if many > MOST_TARGETS or len(attributes.get("Target", "")) > _LONGEST_TARGET:
            raise Unfit(f"a workbook with links among its parts that no program writes ({rels[:80]})", DAMAGED)
        if tag != "Relationship" or attributes.get("TargetMode", "").casefold() == "external":
            return
        target, kind = _inside(folder, attributes.get("Target", "")), attributes.get("Type", "").rpartition("/")[2]
        by_kind.setdefault(kind, []).append(target)
        if by_id is not None:
            by_id[attributes.get("Id", "")] = target if kind == "worksheet" else ""

    if package.has(rels):
        package.parse(rels, start=start)
    return by_kind


def _inside(folder: str, target: str) -> str:
    """A target as a part name: relative to its folder, or from the root of the package."""
    if target.startswith("/"):
        return target.lstrip("/")
    steps = folder.split("/") if folder else []
    for step in target.split("/"):
        if step == "..":
            steps = steps[:-1]
        elif step not in (".", ""):
            steps.append(step)
    return "/".join(steps)
