"""The short words and the sentences of a paper: its name, a language and a shop's own folder in; words with their values filled in out.

They stand in `papers/words/<language>/<paper>.txt`, one `name: words` after the other; a line that begins with blanks goes on with
the one above it. `{name}` is filled in; ` | ` parts the words for one from those for several. A shop's own file of the same name
needs only the lines that differ. It is strict: a name that we do not know, or a `{name}` that is not filled in there, is told
before anything is printed. Plain text and no templates: these words are read in a cold run, and that must cost nothing.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from functools import cache
from pathlib import Path

from estimator.model.dataclass import dataclass
from estimator.model.exact import Fraction
from estimator.model.problems import Place, Problem

OURS = Path(__file__).resolve().parent.parent / "words"
_TO_FILL = re.compile(r"\{(\w+)\}")
_SEVERAL = " | "


class BadWords(Exception):
    """Words of the shop's own that cannot be used; `problem` says which and why."""

    def __init__(self, problem: Problem) -> None:
        super().__init__(str(problem))
        self.problem = problem


@dataclass(frozen=True, slots=True)
class Phrases:
    """The words of one paper in one language."""

    words: Mapping[str, str]

    def __call__(self, name: str, /, **values: object) -> str:
        """The words of a name, filled in; a name or a value that is missing is our own fault and stops the paper."""
        words = self.words[name]
        return filled(words, values) if values else words

    def counted(self, name: str, count: int | Fraction, /, **values: object) -> str:
        """A count with its noun: 1 sheet, 9 sheets."""
        one, _, many = self.words[name].partition(_SEVERAL)
        return filled(one if count == 1 else many or one, {"n": count, **values})

    def listed(self, names: Sequence[str], *, most: int = 0) -> str:
        """Names as a person lists them; with `most`, a long list ends with how many more there are."""
        if most and len(names) > most:
            return self("and more", names=", ".join(names[: most - 1]), n=len(names) - most + 1)
        return self("and", names=", ".join(names[:-1]), last=names[-1]) if len(names) > 1 else "".join(names)

    def term(self, kind: str, word: str) -> str:
        """The word for one of the engine's own terms, such as a side; what a shop named itself stays as it is."""
        return self.words.get(f"{kind} {word}", word)


def filled(words: str, values: Mapping[str, object]) -> str:
    """Words with every {name} in them filled in; what is filled in is never looked at again.

    >>> filled("{n} of {length}", {"n": 3, "length": "{n} mm"})
    '3 of {n} mm'
    """
    return _TO_FILL.sub(lambda found: str(values[found[1]]), words)


def phrases(*papers: str, language_code: str, folder: Path | None = None) -> Phrases:
    """The words of some papers together. Raises: BadWords when a file of the shop's own cannot be used."""
    words: dict[str, str] = {}
    for paper in papers:
        ours = _ours(language_code, paper)
        words |= {**ours, **own_words(ours, name=f"{paper}.txt", language_code=language_code, folder=folder)}
    return Phrases(words)


@cache
def _ours(language_code: str, paper: str) -> Mapping[str, str]:
    return read_words((OURS / language_code / f"{paper}.txt").read_text(encoding="utf-8"))


def own_words(ours: Mapping[str, str], *, name: str, language_code: str, folder: Path | None) -> Mapping[str, str]:
    """What a shop says otherwise: its own language's file before the common one. Raises: BadWords."""
    words: dict[str, str] = {}
    for place in (folder, folder / language_code) if folder else ():
        file = place / name
        if not file.is_file():
            continue
        try:
            text = file.read_text(encoding="utf-8-sig")
        except UnicodeDecodeError as error:
            raise BadWords(_problem(file, "a file that is not UTF-8 text")) from error
        for problem in wrong_lines(text, ours, file=file):
            raise BadWords(problem)
        words |= read_words(text)
    return words


def wrong_lines(text: str, ours: Mapping[str, str], *, file: Path) -> Iterator[Problem]:
    """Every line that has no name, a name that no paper says, or a `{name}` that is not filled in there."""
    from difflib import get_close_matches

    begun = ""
    for number, line in enumerate(text.splitlines(), start=1):
        if not line.strip() or line.startswith("#"):
            continue
        head, colon, said = line.partition(":")
        if line[:1].isspace() and begun:
            key, said = begun, line
        elif not colon:
            yield _problem(file, f"the line {line.strip()}, without a name and a colon", line=number)
            continue
        else:
            key = head.strip()
        begun = key if key in ours else ""
        if not begun:
            near = get_close_matches(key, list(ours), n=1)
            yield _problem(file, f"the words {key}, which no paper has", line=number, near=near)
            continue
        unknown = set(_TO_FILL.findall(said)) - set(_TO_FILL.findall(ours[key]))
        if unknown:
            yield _problem(file, f"{{{min(unknown)}}} in {key}, which is not filled in there", line=number)


def read_words(text: str) -> dict[str, str]:
    """`name: words` a line, lines that begin with blanks joined to the one above; # begins a line that nobody prints."""
    words: dict[str, str] = {}
    name = ""
    for line in _lines(text):
        if line[:1].isspace() and name:
            words[name] = f"{words[name]} {line.strip()}".strip()
        else:
            head, colon, rest = line.partition(":")
            name = head.strip() if colon else ""
            if name:
                words[name] = rest.strip()
    return words


def _lines(text: str) -> Iterable[str]:
    return (line for line in text.splitlines() if line.strip() and not line.startswith("#"))


def where(file: Path) -> str:
    """A file as a person finds it: its folder and its name."""
    return f"{file.parent.name}/{file.name}"


def _problem(file: Path, found: str, *, line: int = 0, near: Sequence[str] = ()) -> Problem:
    return Problem(
        Place(where(file), cell=f"line {line}" if line else ""),
        found,
        f"name: words, a name and the {{names}} in its words as in our own {file.name}",
        f"did you mean {near[0]}?" if near else "mend the line, or take it out so that our own words are used",
    )
