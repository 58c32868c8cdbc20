"""Right-to-left scripts on a page that is read from left to right: a line as it is typed goes in; as it is drawn comes out.

Each run of such letters is turned by itself, with the blanks, hyphens and apostrophes between its words, and accents stay with their
letter: in such a run that is the order of the Unicode bidirectional algorithm (UAX 9). Numbers, commas and brackets keep their place in
the line. The algorithm would turn `600 × 720` round behind a Hebrew name, and a saw would cut the wrong way. Letters of Arabic are
replaced by their joined forms, which Unicode lists (FB50 to FEFC), saying of each which letter it is and where in a word.
"""

from __future__ import annotations

import unicodedata
from collections.abc import Callable, Mapping
from functools import cache

_FIRST = 0x0590
_FORMS = (*range(0xFB50, 0xFC00), *range(0xFE80, 0xFEFD))
_LAM = "\N{ARABIC LETTER LAM}"
_STRETCH = "\N{ARABIC TATWEEL}"
_WITHIN = " -'\"\N{RIGHT SINGLE QUOTATION MARK}"
"""What stands between the words of one run."""


def has_right_to_left(text: str) -> bool:
    """Whether there is anything to turn: most texts are told by their highest letter."""
    return max(text, default=" ") >= chr(_FIRST) and any(map(_is_turned, text))


def _is_turned(letter: str) -> bool:
    return letter >= chr(_FIRST) and unicodedata.bidirectional(letter) in ("R", "AL")


def as_drawn(line: str) -> str:
    """One line in the order in which it is drawn from the left, its Arabic letters joined."""
    drawn: list[str] = []
    run: list[str] = []
    for cluster in _clusters(joined(line)):
        if _is_turned(cluster[0]) or (run and cluster in _WITHIN):
            run.append(cluster)
        else:
            drawn += [*_turned(run), cluster]
            run = []
    return "".join(drawn + _turned(run))


def _turned(run: list[str]) -> list[str]:
    """A run from its last letter to its first; what stands behind its last letter belongs to what follows."""
    end = len(run)
    while end and not _is_turned(run[end - 1][0]):
        end -= 1
    return [*reversed(run[:end]), *run[end:]]


def _clusters(line: str) -> list[str]:
    """Letters with the accents that stand on them."""
    clusters: list[str] = []
    for letter in line:
        if clusters and unicodedata.bidirectional(letter) == "NSM":
            clusters[-1] += letter
        else:
            clusters.append(letter)
    return clusters


def is_joined_script(letter: str) -> bool:
    """Whether a letter belongs to a script that is written joined: Arabic and its kin, and N'Ko."""
    return unicodedata.category(letter) == "Lo" and (unicodedata.bidirectional(letter) == "AL" or "\u07c0" <= letter <= "\u07ff")


def has_forms(letter: str, has_letter: Callable[[str], str | None]) -> bool:
    """Whether the forms that a letter takes in a word are known and can be drawn; hamza has one alone."""
    forms = [form for (letters, _), form in joined_forms().items() if letters == letter]
    return ord(letter) >= _FORMS[0] or (bool(forms) and all(has_letter(form) is not None for form in forms))


# --- joined letters ---------------------------------------------------------------------------------------------------


@cache
def joined_forms() -> Mapping[tuple[str, str], str]:
    """The form of a letter (or of lam with an alef) at a place in a word: isolated, initial, medial, final."""
    forms: dict[tuple[str, str], str] = {}
    for number in _FORMS:
        place, *letters = unicodedata.decomposition(chr(number)).split() or [""]
        if letters and place in ("<isolated>", "<initial>", "<medial>", "<final>"):
            forms.setdefault(("".join(chr(int(one, 16)) for one in letters), place[1:-1]), chr(number))
    return forms


def joined(line: str) -> str:
    """A line with its Arabic letters in the forms that join them, in the order in which they are typed."""
    forms = joined_forms()
    places = [at for at, letter in enumerate(line) if unicodedata.bidirectional(letter) != "NSM"]
    letters = list(line)
    for number, at in enumerate(places):
        before = line[places[number - 1]] if number else ""
        after = line[places[number + 1]] if number + 1 < len(places) else ""
        to_left = _joins_on(line[at]) and _joins_back(after)
        to_right = _joins_on(before) and _joins_back(line[at])
        if before == _LAM and (before + line[at], "isolated") in forms:
            further = number > 1 and _joins_on(line[places[number - 2]])
            letters[places[number - 1]] = forms[before + line[at], "final" if further else "isolated"]
            letters[at] = ""
            continue
        place = ("medial" if to_right else "initial") if to_left else "final" if to_right else "isolated"
        letters[at] = forms.get((line[at], place), line[at])
    return "".join(letters)


def _joins_on(letter: str) -> bool:
    """Whether a letter joins the one typed after it."""
    return letter == _STRETCH or (letter, "initial") in joined_forms()


def _joins_back(letter: str) -> bool:
    """Whether a letter joins the one typed before it."""
    return letter == _STRETCH or (letter, "final") in joined_forms()
