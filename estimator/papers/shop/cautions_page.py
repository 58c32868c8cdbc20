"""The cautions: what can hurt in this work, in plain words; the product's sheet, local code and licensed trades come first."""

from __future__ import annotations

from typing import TYPE_CHECKING

from estimator.papers.page.pieces import bullet_list, heading, paragraph, title
from estimator.papers.shop.paper import ShopPaper

if TYPE_CHECKING:
    from reportlab.platypus.flowables import Flowable

CAUTIONS: tuple[tuple[str, int], ...] = (("adhesive", 4), ("cleaners", 2), ("edges", 2), ("saw", 3), ("lifting", 2), ("site", 3))
"""What can hurt, in the order of the work, and how many sentences stand to each in `words/<language>/shop.txt`."""

_IN_UNITS = frozenset({"caution lifting 1"})
"""Said in the job's own units."""


def cautions_story(paper: ShopPaper) -> list[Flowable]:
    look, say = paper.look, paper.say
    story = [title(say("cautions"), look), paragraph(say("cautions lead"), look)]
    for topic, many in CAUTIONS:
        names = [f"caution {topic} {number}" for number in range(1, many + 1)]
        lines = [say(f"{name} in {paper.terms.units}" if name in _IN_UNITS else name) for name in names]
        story += [*heading(say(f"caution {topic}"), look, level=1), *bullet_list(lines, look)]
    return story
