"""What is made: every cabinet with a small front view, loose parts, what else is in the price, the finishes in words.

A cabinet names its finish; the words of each finish stand once, below.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING

from markupsafe import Markup

from estimator.model.records import Cabinet, Extra, LoosePart
from estimator.model.results import Line
from estimator.model.shown import Shown
from estimator.papers.drawings.front import FrontView
from estimator.papers.drawings.pictures import shared_scale, small_front
from estimator.papers.page.pieces import SHORT_SHARE, heading, kept_whole, paragraph
from estimator.papers.page.tables import Column, table
from estimator.papers.quote.letterhead import with_details
from estimator.papers.quote.paper import QuotePaper
from estimator.papers.quote.price import amount_columns, amounts

if TYPE_CHECKING:
    from reportlab.platypus.flowables import Flowable

_REF_MM, _FRONT_MM, _SIZE_MM, _QTY_MM, _PRICE_MM = 22, 28, 38, 12, 26
_INCH_SIZE_MM = 48
"""Three inches with their fractions."""
_FRONT_WIDTH_PT, _FRONT_HEIGHT_PT = 70.0, 84.0
_ROW_NEEDS_PT = 130.0

Priced = list[tuple[Line, Shown]]


def schedule_story(paper: QuotePaper, views: Mapping[int, tuple[FrontView, bool]]) -> list[Flowable]:
    """The schedule room by room."""
    look, words = paper.look, paper.words
    story: list[Flowable] = heading(words.label("schedule"), look, needs_pt=2 * _ROW_NEEDS_PT)
    rooms: dict[str, Priced] = {}
    for line, shown in zip(paper.estimate.price.lines, paper.shown.lines, strict=True):
        rooms.setdefault(line.room, []).append((line, shown))
    for room, lines in rooms.items():
        if room or len(rooms) > 1:
            story += heading(room or words.label("no room"), look, level=1, needs_pt=_ROW_NEEDS_PT)
        for make in (_cabinets, _loose_parts, _extras):
            story += make(lines, paper, views)
    return [*story, *_rounded_sizes(paper)]


def _rounded_sizes(paper: QuotePaper) -> list[Flowable]:
    """A line that says what + and − behind a size mean, where one stands on the page."""
    job, finest = paper.estimate.job, paper.language.finest_inch
    sizes = [size for one in job.cabinets for size in (one.width_mm, one.height_mm, one.depth_mm)]
    sizes += [size for one in job.loose_parts for size in (one.length_mm, one.width_mm)]
    if not paper.language.is_rounded(*sizes):
        return []
    return [paragraph(paper.words.label("rounded", finest=finest), paper.look, name="small")]


def _price_columns(paper: QuotePaper) -> list[Column]:
    return amount_columns(paper, width_mm=_PRICE_MM) if _is_priced(paper) else []


def _is_priced(paper: QuotePaper) -> bool:
    return paper.terms.quote_shows == "by cabinet"


def _price_cells(amount: Shown, paper: QuotePaper) -> list[str]:
    return amounts(amount, paper) if _is_priced(paper) else []


def _size_columns(paper: QuotePaper, *, label: str) -> list[Column]:
    """A column for the sizes; where prices take its room the sizes stand among the words."""
    width_mm = _INCH_SIZE_MM if paper.terms.units == "inch" else _SIZE_MM
    return [] if _is_priced(paper) else [Column(paper.words.label(label, unit=paper.unit_words), width_mm)]


def _cabinets(lines: Priced, paper: QuotePaper, views: Mapping[int, tuple[FrontView, bool]]) -> list[Flowable]:
    words, language = paper.words, paper.language
    scale = shared_scale((view for view, _ in views.values()), width_pt=_FRONT_WIDTH_PT, height_pt=_FRONT_HEIGHT_PT)
    rows: list[list[str | Flowable]] = []
    for line, shown in lines:
        if isinstance(cabinet := line.owner, Cabinet):
            view, _ = views[cabinet.at.number]
            picture = small_front(view, language=language, scale=scale)
            size = language.sizes(cabinet.width_mm, cabinet.height_mm, cabinet.depth_mm)
            beside = size if _is_priced(paper) else ""
            said = cabinet_words(cabinet, line.words, paper, size=beside, finish=_in_finish(cabinet.finish, paper))
            sizes = [] if _is_priced(paper) else [size]
            rows.append([line.ref, picture, said, *sizes, language.number(cabinet.qty), *_price_cells(shown, paper)])
    if not rows:
        return []
    columns = [
        Column(words.label("cabinet"), _REF_MM),
        Column(words.label("front"), _FRONT_MM),
        Column(words.label("what")),
        *_size_columns(paper, label="size"),
        Column(words.label("qty"), _QTY_MM, "right"),
        *_price_columns(paper),
    ]
    return [table(columns, rows, look=paper.look)]


def cabinet_words(cabinet: Cabinet, kind_words: str, paper: QuotePaper, *, size: str, finish: str) -> Markup:
    """The kind, its size where no column has it, what it has, its finished ends, and its finish as it is to be called."""
    words = paper.words
    has = [
        words.counted("doors", cabinet.doors),
        words.counted("drawers", cabinet.drawers),
        words.counted("shelves", cabinet.shelves),
        words.label(f"finished end {cabinet.finished_ends}") if cabinet.finished_ends != "none" else "",
    ]
    details = ", ".join(one for one in has if one)
    return with_details(kind_words, size and f"{size} {paper.unit_words}", details, small=finish)


def _loose_parts(lines: Priced, paper: QuotePaper, _: Mapping[int, tuple[FrontView, bool]]) -> list[Flowable]:
    words, language = paper.words, paper.language
    rows: list[list[str | Flowable]] = []
    for line, shown in lines:
        if isinstance(part := line.owner, LoosePart):
            size = language.sizes(part.length_mm, part.width_mm)
            beside = f"{size} {paper.unit_words}" if _is_priced(paper) else ""
            said = with_details(part.part, beside, small=_in_finish(part.finish, paper) or part.board)
            sizes = [] if _is_priced(paper) else [size]
            rows.append([line.ref, said, *sizes, language.number(part.qty), *_price_cells(shown, paper)])
    if not rows:
        return []
    columns = [
        Column(words.label("loose part"), _REF_MM),
        Column(words.label("what")),
        *_size_columns(paper, label="part size"),
        Column(words.label("qty"), _QTY_MM, "right"),
        *_price_columns(paper),
    ]
    return [*heading(words.label("also"), paper.look, level=1), table(columns, rows, look=paper.look)]


def _in_finish(finish: str, paper: QuotePaper) -> str:
    return paper.words.label("in finish", finish=finish) if finish else ""


def _extras(lines: Priced, paper: QuotePaper, _: Mapping[int, tuple[FrontView, bool]]) -> list[Flowable]:
    words, language = paper.words, paper.language
    rows: list[list[str | Flowable]] = [
        [line.ref, line.words, language.number(line.qty), *_price_cells(shown, paper)]
        for line, shown in lines
        if isinstance(line.owner, Extra)
    ]
    if not rows:
        return []
    columns = [
        Column(words.label("loose part"), _REF_MM),
        Column(words.label("what")),
        Column(words.label("qty"), _QTY_MM + 8, "right"),
        *_price_columns(paper),
    ]
    return [*heading(words.label("extras"), paper.look, level=1), table(columns, rows, look=paper.look)]


def finishes_story(paper: QuotePaper) -> list[Flowable]:
    """The finishes that the job uses, in words."""
    job, words = paper.estimate.job, paper.words
    used = {cabinet.finish for cabinet in job.cabinets} | {part.finish for part in job.loose_parts}
    rows = [[with_details(finish.finish), finish.words or finish.finish] for finish in job.finishes if finish.finish in used]
    if not rows:
        return []
    columns = [Column(words.label("finish"), 50), Column(words.label("finish words"))]
    story = [*heading(words.label("finishes"), paper.look, level=1), table(columns, rows, look=paper.look)]
    return kept_whole(story, paper.look, most_share=SHORT_SHARE)
