"""The parts of a workbook in, the same parts with their paths out: which part belongs to which, and of what kind each is.

A workbook package has two kinds of directory: `[Content_Types].xml` says what each part is, and `_rels/NAME.rels`
beside a part says which other parts it uses, each under an id.
"""

import posixpath
import re
from collections.abc import Iterable, Mapping
from urllib.parse import unquote

from estimator.model.dataclass import dataclass
from estimator.papers.book.marked_text import Edit, Marked, append, edited, encode, escape, read_marked, remove
from estimator.papers.book.refused import Refused
from estimator.papers.book.zipped import Part, parts_of, unpack

CONTENT_TYPES = "[Content_Types].xml"
OFFICE = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"
RELATIONS = "http://schemas.openxmlformats.org/package/2006/relationships"
TYPES = "http://schemas.openxmlformats.org/package/2006/content-types"
_TARGET = re.compile(rb"""\sTarget\s*=\s*["']([^"']*)""")
_NOT_A_WORKBOOK = Refused("The file is a zip but not a workbook (.xlsx or .xlsm).")


@dataclass(frozen=True, slots=True)
class Relation:
    """One line of a `.rels` part: an id, what the other part is for, and where it is (a key; as typed when outside)."""

    id: str
    type: str
    target: str
    outside: bool

    @property
    def role(self) -> str:
        return self.type.rpartition("/")[2]


@dataclass(frozen=True, slots=True)
class Package:
    """Parts by key, in the order of the zip."""

    parts: Mapping[str, Part]

    def read(self, key: str) -> Marked | Refused:
        """The map of an XML part."""
        part = self.parts.get(key)
        if part is None:
            return Refused(f"The workbook is damaged: it names a part {key} that is not in it.")
        content = unpack(part)
        return content if isinstance(content, Refused) else read_marked(content, part.name)

    def relations(self, key: str) -> tuple[Relation, ...] | Refused:
        """What a part uses; nothing when it has no `.rels` beside it."""
        if relations_key(key) not in self.parts:
            return ()
        rels = self.read(relations_key(key))
        return rels if isinstance(rels, Refused) else tuple(relations_in(rels, posixpath.dirname(key)))

    def reached_from(self, starts: Iterable[str]) -> frozenset[str] | Refused:
        """The keys of the starts and of all parts that they use, directly or through others, with their `.rels`."""
        reached: set[str] = set()
        ahead = list(starts)
        while ahead:
            key = ahead.pop()
            if key in reached or key not in self.parts:
                continue
            reached.add(key)
            relations = self.relations(key)
            if isinstance(relations, Refused):
                return relations
            if relations_key(key) in self.parts:
                reached.add(relations_key(key))
            ahead += (relation.target for relation in relations if not relation.outside)
        return frozenset(reached)

    def promised(self) -> frozenset[str]:
        """The keys that any part names, there or not: a part of ours put under such a key would turn up in their sheet."""
        keys: set[str] = set()
        for key, part in self.parts.items():
            if key.endswith(".rels"):
                content = unpack(part)
                folder = posixpath.dirname(key).removesuffix("_rels")
                if isinstance(content, bytes):
                    keys.update(_key(target.decode("utf-8", "replace"), folder) for target in _TARGET.findall(content))
        return frozenset(keys)


def open_package(workbook: bytes) -> Package | Refused:
    """The parts of a workbook by key."""
    parts = parts_of(workbook)
    if isinstance(parts, Refused):
        return parts
    package = Package({part.key: part for part in parts})
    return package if CONTENT_TYPES.lower() in package.parts else _NOT_A_WORKBOOK


def workbook_key(package: Package) -> str | Refused:
    """Where the part stands that lists the sheets; refused where the file is another kind or must not be changed."""
    relations = package.relations("")
    if isinstance(relations, Refused):
        return relations
    if any(relation.type.endswith("/digital-signature/origin") for relation in relations) or any(
            key.startswith("_xmlsignatures/") for key in package.parts):
        return Refused("The workbook is digitally signed, and adding sheets would break the signature: price a copy "
                       "without it.")
    for relation in relations:
        if relation.type == f"{OFFICE}/officeDocument":
            if relation.target.endswith(".bin"):
                return Refused("The workbook is a binary one (.xlsb): save it as a workbook (.xlsx).")
            return relation.target if relation.target in package.parts else _NOT_A_WORKBOOK
        if relation.role == "officeDocument":
            return STRICT
    return _NOT_A_WORKBOOK


STRICT = Refused("The workbook is saved as Strict Open XML, which most programs read as empty: save it as an ordinary "
                 "workbook (.xlsx).")


def relations_key(key: str) -> str:
    """Where the list stands of what a part uses.

    >>> relations_key("xl/workbook.xml")
    'xl/_rels/workbook.xml.rels'
    """
    folder, _, name = key.rpartition("/")
    return f"{folder}/_rels/{name}.rels" if folder else f"_rels/{name}.rels"


def relations_in(rels: Marked, folder: str) -> Iterable[Relation]:
    """The lines of a `.rels` part; targets are read from the folder of the part that uses them."""
    for element in rels.root.children:
        if element.local == "Relationship" and element.space == RELATIONS:
            line = rels.attributes(element)
            outside = line.get("TargetMode") == "External"
            target = line.get("Target", "")
            yield Relation(line.get("Id", ""), line.get("Type", ""), target if outside else _key(target, folder), outside)


def _key(target: str, folder: str) -> str:
    """A target as typed, as a key: `../media/a.png` seen from `xl/drawings` is `xl/media/a.png`."""
    path = unquote(target.replace("\\", "/").partition("#")[0])
    return posixpath.normpath(posixpath.join("/", folder, path)).lstrip("/").lower()


def with_relations(rels: Marked, *, gone: Iterable[str], new: Iterable[tuple[str, str, str]]) -> bytes:
    """A `.rels` part without the ids that are gone and with new lines of id, type and target."""
    taken_off = set(gone)
    edits = [remove(element) for element in rels.root.children
             if element.local == "Relationship" and rels.attributes(element).get("Id") in taken_off]
    prefix = rels.root.prefix
    lines = "".join(f'<{prefix}Relationship Id="{id_}" Type="{type_}" Target="{escape(target)}"/>'
                    for id_, type_, target in new)
    return _with(rels, edits, lines)


@dataclass(frozen=True, slots=True)
class ContentTypes:
    """What each part is: by its own name, else by the ending of its name."""

    marked: Marked
    overrides: Mapping[str, str]
    defaults: Mapping[str, str]

    def of(self, key: str) -> str | None:
        return self.overrides.get(key) or self.defaults.get(key.rpartition(".")[2])

    def without_and_with(self, gone: Iterable[str], new: Mapping[str, tuple[str, bool]]) -> bytes:
        """The part again, without the keys that are gone, and with new names: what each is, and whether by its ending."""
        taken_off = set(gone)
        edits = [remove(element) for element in self.marked.root.children if element.local == "Override"
                 and _key(self.marked.attributes(element).get("PartName", ""), "") in taken_off]
        prefix = self.marked.root.prefix
        defaults = dict(self.defaults)
        endings, lines = [], []
        for name, (kind, by_ending) in new.items():
            ending = name.rpartition(".")[2].lower()
            if by_ending and ending not in defaults:
                defaults[ending] = kind
                endings.append(f'<{prefix}Default Extension="{ending}" ContentType="{kind}"/>')
            elif not by_ending or defaults[ending] != kind:
                lines.append(f'<{prefix}Override PartName="/{escape(name)}" ContentType="{kind}"/>')
        return _with(self.marked, edits, "".join((*endings, *lines)))


def content_types(package: Package) -> ContentTypes | Refused:
    """What each part of a package is."""
    marked = package.read(CONTENT_TYPES.lower())
    if isinstance(marked, Refused):
        return marked
    lines = [(element.local, marked.attributes(element)) for element in marked.root.children if element.space == TYPES]
    return ContentTypes(
        marked,
        {_key(line.get("PartName", ""), ""): line.get("ContentType", "") for local, line in lines if local == "Override"},
        {line.get("Extension", "").lower(): line.get("ContentType", "") for local, line in lines if local == "Default"})


def _with(marked: Marked, edits: list[Edit], lines: str) -> bytes:
    if lines:
        edits += append(marked, marked.root, lines)
    return encode(edited(marked, edits), marked.encoding)
