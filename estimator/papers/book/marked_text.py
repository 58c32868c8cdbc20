"""An XML part in, a shallow map of where each element stands out; and edits at those places, all else left as typed.

A user's XML is never written anew: a library that reads and writes it would rename its prefixes, and spreadsheet
programs that look for them (`mc:Ignorable`) would call the book damaged. So the text is kept, and pieces are put in
or cut out at places that the map names.
"""

import re
from collections.abc import Iterable, Iterator, Mapping

from estimator.model.dataclass import dataclass
from estimator.model.written import is_known_encoding
from estimator.papers.book.refused import Refused

DEEPEST = 3   # root, its children and theirs: no place that we edit lies deeper

_TAG = re.compile(
    r"<(?:(?P<silent>!--.*?-->|!\[CDATA\[.*?\]\]>|\?.*?\?>)"
    r"|/(?P<close>[^\s<>/]+)\s*>"
    r"|(?P<name>[^\s<>/!?]+)(?P<attributes>(?:\s+[^\s=<>/]+\s*=\s*(?:\"[^\"<]*\"|'[^'<]*'))*)\s*(?P<empty>/?)>)",
    re.DOTALL)
_SILENT = re.compile(r"<!\[CDATA\[(.*?)\]\]>|<!--.*?-->|<\?.*?\?>", re.DOTALL)
_ATTRIBUTE = re.compile(r"([^\s=]+)\s*=\s*(?:\"([^\"]*)\"|'([^']*)')")
_DECLARED = re.compile(rb"""^\s*<\?xml[^>]*?\sencoding\s*=\s*["']([A-Za-z0-9._-]+)["']""")
_REFERENCE = re.compile(r"&(?:#([0-9]{1,9})|#[xX]([0-9a-fA-F]{1,8})|(\w+));")
_NAMED = {"amp": "&", "lt": "<", "gt": ">", "quot": '"', "apos": "'"}


@dataclass(frozen=True, slots=True)
class Element:
    """Where one element stands: text[start:inner] is its opening tag, text[inside_end:end] its closing tag."""

    name: str                     # as typed, with its prefix
    space: str                    # the namespace that the prefix stands for
    start: int
    inner: int
    inside_end: int
    end: int
    children: tuple["Element", ...]

    @property
    def local(self) -> str:
        return self.name.rpartition(":")[2]

    @property
    def prefix(self) -> str:
        """`x:` or nothing: what stands before the names of children in the same namespace."""
        return self.name[:-len(self.local)]


@dataclass(frozen=True, slots=True)
class Marked:
    """One XML part: its text, how it was encoded, and the map of its elements."""

    text: str
    encoding: str
    root: Element

    def children(self, *path: str) -> Iterator[Element]:
        """Elements of the root's own namespace at a path below the root."""
        level: list[Element] = [self.root]
        for local in path:
            level = [child for element in level for child in element.children
                     if child.local == local and child.space == self.root.space]
        return iter(level)

    def first(self, *path: str) -> Element | None:
        return next(self.children(*path), None)

    def whole(self, element: Element) -> str:
        return self.text[element.start:element.end]

    def inside(self, element: Element) -> str:
        return self.text[element.inner:element.inside_end]

    def words(self, element: Element) -> str:
        """What a person would read inside an element that has no others in it."""
        plain = _SILENT.sub(lambda found: escape(found[1] or ""), self.inside(element))
        return unescape(plain)

    def attributes(self, element: Element) -> dict[str, str]:
        """The attributes by their names as typed, with `&amp;` and its like read."""
        opening = self.text[element.start + 1 + len(element.name):element.inner]
        return {name: unescape(double or single) for name, double, single in _ATTRIBUTE.findall(opening)}


@dataclass(frozen=True, slots=True)
class Edit:
    """Put `words` where text[start:end] stood."""

    start: int
    end: int
    words: str


def read_marked(content: bytes, name: str) -> Marked | Refused:
    """The map of an XML part, or a sentence when it is not XML or carries a DTD (which can hide harm)."""
    decoded = _decode(content)
    if decoded is None:
        return Refused(f"The workbook is damaged at {name}: its letters cannot be read.")
    text, encoding = decoded
    root = _root(text)
    if root is None:
        if "<!DOCTYPE" in text:
            return Refused(f"The workbook carries a document type definition in {name}, which no spreadsheet program "
                           "writes and which can hide harm: save it again in a spreadsheet program.")
        return Refused(f"The workbook is damaged at {name}: open it in a spreadsheet program, let it repair the file, "
                       "save it and price it again.")
    return Marked(text, encoding, root)


def encode(text: str, encoding: str) -> bytes:
    """Back into the encoding that the part had; a letter that it lacks is written as its number."""
    return text.encode(encoding, "xmlcharrefreplace")


def edited(marked: Marked, edits: Iterable[Edit]) -> str:
    """The text with every edit made; edits at one place stand in the order given."""
    pieces: list[str] = []
    at = 0
    for edit in sorted(edits, key=lambda one: one.start):
        pieces += (marked.text[at:edit.start], edit.words)
        at = edit.end
    return "".join((*pieces, marked.text[at:]))


def remove(element: Element) -> Edit:
    return Edit(element.start, element.end, "")


def append(marked: Marked, parent: Element, words: str, attributes: Mapping[str, str | int | None] = {}) -> list[Edit]:
    """Put words in as the last children of an element, which may be written as `<parent/>`, and set its attributes."""
    opening = with_attributes(marked.text[parent.start:parent.inner], parent.name, attributes)
    if parent.inner == parent.end:
        return [Edit(parent.start, parent.end, f"{opening[:-2].rstrip()}>{words}</{parent.name}>")]
    if attributes:
        return [Edit(parent.start, parent.inner, opening), Edit(parent.inside_end, parent.inside_end, words)]
    return [Edit(parent.inside_end, parent.inside_end, words)]


def with_attributes(opening: str, name: str, values: Mapping[str, str | int | None]) -> str:
    """An opening tag with attributes set; None takes one off."""
    at = 1 + len(name)
    rest = opening[at:]
    for attribute, value in values.items():
        pattern = re.compile(rf"\s+{re.escape(attribute)}\s*=\s*(?:\"[^\"]*\"|'[^']*')")
        words = "" if value is None else f' {attribute}="{escape(str(value))}"'
        rest, found = pattern.subn(lambda _, words=words: words, rest, count=1)  # type: ignore[misc]
        if not found and words:
            rest = words + rest
    return opening[:at] + rest


def set_attributes(marked: Marked, element: Element, values: Mapping[str, str | int | None]) -> Edit:
    """The same as an edit of an element that stands in the part."""
    opening = marked.text[element.start:element.inner]
    return Edit(element.start, element.inner, with_attributes(opening, element.name, values))


def escape(words: str) -> str:
    """Words as they may stand in XML, between quotes too."""
    return words.replace("&", "&amp;").replace("<", "&lt;").replace(">", "&gt;").replace('"', "&quot;")


def unescape(words: str) -> str:
    """The words that escaped XML stands for."""
    if "&" not in words:
        return words
    return _REFERENCE.sub(_letter, words)


def _letter(found: re.Match[str]) -> str:
    number = int(found[1]) if found[1] else int(found[2], 16) if found[2] else None
    if number is not None:
        return chr(number) if number < 0x110000 else found[0]
    return _NAMED.get(found[3], found[0])


def _decode(content: bytes) -> tuple[str, str] | None:
    """The text (a byte-order mark stays its first letter) and the encoding that gives the same bytes again."""
    if content.startswith((b"\xff\xfe", b"<\x00")):
        encoding = "utf-16-le"
    elif content.startswith((b"\xfe\xff", b"\x00<")):
        encoding = "utf-16-be"
    else:
        declared = _DECLARED.match(content.removeprefix(b"\xef\xbb\xbf"))
        encoding = declared[1].decode("ascii") if declared else "utf-8"
        if not is_known_encoding(encoding):
            return None
    try:
        return content.decode(encoding), encoding
    except (UnicodeError, LookupError):
        return None


@dataclass(slots=True)
class _Open:
    """An element whose closing tag has not come yet."""

    name: str
    start: int
    inner: int
    spaces: Mapping[str, str]
    children: list[Element]


def _root(text: str) -> Element | None:
    """The root element with its map; None when the tags do not fit together."""
    above = _Open("", 0, 0, {"": "", "xml": "http://www.w3.org/XML/1998/namespace"}, [])
    pending = [above]
    deeper: list[str] = []
    at = text.find("<")
    while at >= 0:
        tag = _TAG.match(text, at)
        if tag is None:
            return None
        end = tag.end()
        name, close = tag["name"], tag["close"]
        if close is not None:
            if deeper:
                if deeper.pop() != close:
                    return None
            elif len(pending) == 1 or pending[-1].name != close:
                return None
            else:
                _close(pending, at, end)
        elif name is not None and (deeper or len(pending) > DEEPEST):
            if not tag["empty"]:
                deeper.append(name)
        elif name is not None:
            pending.append(_Open(name, at, end, _spaces(pending[-1].spaces, tag["attributes"]), []))
            if tag["empty"]:
                _close(pending, end, end)
        at = text.find("<", end)
    return above.children[0] if len(pending) == 1 and not deeper and len(above.children) == 1 else None


def _close(pending: list[_Open], inside_end: int, end: int) -> None:
    done = pending.pop()
    space = done.spaces.get(done.name.rpartition(":")[0], "")
    pending[-1].children.append(
        Element(done.name, space, done.start, done.inner, inside_end, end, tuple(done.children)))


def _spaces(known: Mapping[str, str], attributes: str) -> Mapping[str, str]:
    """The prefixes that hold inside an element: those around it and those that it declares."""
    if "xmlns" not in attributes:
        return known
    declared = {name.partition(":")[2]: unescape(double or single)
                for name, double, single in _ATTRIBUTE.findall(attributes)
                if name == "xmlns" or name.startswith("xmlns:")}
    return {**known, **declared}
