"""The sentences of the papers: templates and values go in; paragraphs, lists and headings of one language come out.

Templates stand in `papers/words/<language>/`. A shop may replace single ones: a file of the same name in its own folder, or in
`<folder>/<language>/`, is taken instead. They are jinja2 templates written as plain text:

    # Payment                          a heading
    Work starts with the deposit.      a paragraph; <b>bold</b> may stand in it
                                       (it goes on in the next line until a blank one)
    - {{ total }} in all               an item of a list

A value is only letters: `<`, `&` and quotes in a client's name change nothing. A name that does not exist is an error, never a
blank. `labels.txt` holds the short words of tables, one `name: words` a line; there a shop's own file replaces only the lines
that it has.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING, Literal

from estimator.model.dataclass import dataclass
from estimator.model.problems import Place, Problem
from estimator.papers.page.phrases import OURS, BadWords, Phrases, phrases

if TYPE_CHECKING:
    from jinja2 import Environment, Template
    from markupsafe import Markup
    from reportlab.platypus.flowables import Flowable

    from estimator.papers.page.look import Look

_LABELS = "labels"
_CLOSED = "a template whose names in {{ }} all exist and whose marks are closed"


@dataclass(frozen=True, slots=True)
class Block:
    """One piece of a template: a heading, a paragraph, or one item of a list."""

    what: Literal["heading", "paragraph", "item"]
    words: Markup


@dataclass(frozen=True, slots=True)
class Wording:
    """The words of one language, with the shop's own where it has them."""

    language_code: str
    folder: Path | None
    labels: Mapping[str, str]

    def label(self, name: str, **values: object) -> str:
        """Short words for a table; `{name}` in them is filled in."""
        return Phrases(self.labels)(name, **values)

    def counted(self, name: str, count: int) -> str:
        """A count with its noun: 1 door, 2 doors; blank for none."""
        return Phrases(self.labels).counted(name, count) if count else ""

    def blocks(self, template: str, values: Mapping[str, object]) -> tuple[Block, ...]:
        """A template filled in, in pieces."""
        return _blocks(self._filled_in(template, values))

    def story(self, template: str, values: Mapping[str, object], look: Look) -> list[Flowable]:
        """A template filled in, as flowables for a paper."""
        from estimator.papers.page.pieces import bullet_list, gap, heading, paragraph

        story: list[Flowable] = []
        last = ""
        try:
            for block in self.blocks(template, values):
                if last and block.what != "heading" and not (block.what == last == "item"):
                    story.append(gap(0.4))
                match block.what:
                    case "heading":
                        story += heading(block.words, look, level=1)
                    case "item":
                        story += bullet_list([block.words], look)
                    case "paragraph":
                        story.append(paragraph(block.words, look))
                last = "" if block.what == "heading" else block.what
        except ValueError as error:
            raise BadWords(self._problem(template, "a mark such as <b> that is not closed", str(error))) from error
        return story

    def _filled_in(self, template: str, values: Mapping[str, object]) -> str:
        from jinja2 import TemplateError, UndefinedError

        try:
            found: Template = templates_of(self.language_code, self.folder).get_template(f"{template}.txt")
            return found.render(values)
        except UndefinedError as error:
            unknown = str(error).partition("'")[2].partition("'")[0] or str(error)
            expected = f"names of these between {{{{ and }}}}: {', '.join(sorted(values))}"
            raise BadWords(self._problem(template, f"the name {unknown}, which nothing fills in", "", expected=expected)) from error
        except (TemplateError, UnicodeDecodeError) as error:
            raise BadWords(self._problem(template, str(error) or "a template that cannot be read", "")) from error

    def _problem(self, template: str, found: str, more: str, *, expected: str = _CLOSED) -> Problem:
        where = self.folder.name if self.folder else OURS.name
        return Problem(
            Place(f"{where}/{template}.txt"),
            " ".join(part for part in (found, more.splitlines()[0] if more else "") if part),
            expected,
            "mend the file, or take it out of the folder so that our own words are used",
        )


def wording(*, language_code: str, folder: Path | None = None) -> Wording:
    """The words of a language; `folder` holds templates that a shop has replaced."""
    return Wording(language_code, folder, phrases(_LABELS, language_code=language_code, folder=folder).words)


def _folders(language_code: str, folder: Path | None) -> list[Path]:
    own = [folder / language_code, folder] if folder else []
    return [*own, OURS / language_code]


@cache
def templates_of(language_code: str, folder: Path | None) -> Environment:
    """The templates of a language, a shop's own before ours."""
    from jinja2 import Environment, FileSystemLoader, StrictUndefined
    from jinja2.sandbox import SandboxedEnvironment

    kind = SandboxedEnvironment if folder else Environment  # a shop's templates may have come from anywhere
    return kind(
        loader=FileSystemLoader([str(place) for place in _folders(language_code, folder)], encoding="utf-8-sig"),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        optimized=True,
    )


def _blocks(text: str) -> tuple[Block, ...]:
    """The pieces of a filled-in template."""
    from markupsafe import Markup

    blocks: list[Block] = []
    goes_on = False
    for line in text.splitlines():
        words = Markup(line.strip())
        if words.startswith("# "):
            blocks.append(Block("heading", words[2:].strip()))
            goes_on = False
        elif words.startswith("- "):
            blocks.append(Block("item", words[2:].strip()))
            goes_on = True
        elif not words:
            goes_on = False
        elif goes_on:
            last = blocks.pop()
            blocks.append(Block(last.what, last.words + " " + words))
        else:
            blocks.append(Block("paragraph", words))
            goes_on = True
    return tuple(blocks)


def lines_of(text: str) -> Sequence[str]:
    """The lines of a cell in which a person typed several, without dashes in front and blank ones."""
    return [line.strip().lstrip("-–• ").strip() for line in text.splitlines() if line.strip()]
