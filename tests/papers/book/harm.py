"""Two packages in, complaints out: what the second lost of the first, and where the second does not hold together.

This reads packages with the standard library's zip and XML and shares no line with the code that it judges.
"""

import io
import posixpath
import re
import xml.etree.ElementTree as ET
import zipfile
from collections import Counter

MAIN = "{http://schemas.openxmlformats.org/spreadsheetml/2006/main}"
RELATION = "{http://schemas.openxmlformats.org/package/2006/relationships}Relationship"
TYPES = "{http://schemas.openxmlformats.org/package/2006/content-types}"
ID = "{http://schemas.openxmlformats.org/officeDocument/2006/relationships}id"
MAY_GROW = {"[content_types].xml", "xl/styles.xml"}   # and the list of sheets with its .rels
MAY_CHANGE = {"count", "fullCalcOnLoad"}   # attributes
MAY_GO = "calcChain"


def list_of_sheets(parts):
    """The part that lists the sheets, and its .rels."""
    name = next(target for _, kind, target in relations("_rels/.rels", parts) if kind == "officeDocument")
    folder, _, file = name.rpartition("/")
    return name, f"{folder}/_rels/{file}.rels".lstrip("/")


def parts_of(package):
    return {name.lower(): content for name, content in named_parts(package).items()}


def named_parts(package):
    with zipfile.ZipFile(io.BytesIO(package)) as opened:
        assert opened.testzip() is None
        return {name: opened.read(name) for name in opened.namelist()}


def harm(before, after):
    """Everything of the first package that the second has lost or changed."""
    old, new = parts_of(before), parts_of(after)
    found, may_grow = [], MAY_GROW | set(list_of_sheets(old))
    for name, content in old.items():
        if MAY_GO.lower() in name:
            continue
        if name not in new:
            found.append(f"{name} is gone")
        elif content != new[name]:
            if name not in may_grow:
                found.append(f"{name} has changed")
            else:
                found += [f"{name}: {loss}" for loss in losses(ET.fromstring(content), ET.fromstring(new[name]))]
                found += [f"{name}: {loss}" for loss in lost_words(content, new[name])]
    return found


def losses(old, new):
    """What an element has lost: children may only be added, never changed, never moved before others."""
    if old.tag != new.tag or (old.text or "").strip() != (new.text or "").strip():
        return [f"{old.tag} has other words"]
    changed = {name for name in {*old.keys(), *new.keys()} if old.get(name) != new.get(name)} - MAY_CHANGE
    if changed:
        return [f"{old.tag} has other {', '.join(sorted(changed))}"]
    found, rest = [], list(new)
    counted = old.tag.startswith(MAIN) and old.tag.removeprefix(MAIN) in {
        "fonts", "fills", "borders", "cellXfs", "dxfs", "sheets", "numFmts", "cellStyleXfs"}
    for position, child in enumerate(old):
        if MAY_GO in ET.tostring(child, encoding="unicode"):
            continue
        if counted and position < len(new) and losses(child, new[position]):
            found.append(f"{child.tag} number {position} is not what it was")
        while rest and losses(child, rest[0]):
            rest.pop(0)
        if not rest:
            found.append(f"{child.tag} {child.attrib} is gone or has moved")
            rest = list(new)
        else:
            rest.pop(0)
    return found


def lost_words(old, new):
    """Comments, prefixes and other things that XML libraries do not show: every tag as typed still stands, in order."""
    encoding = "utf-16" if old[:2] in (b"\xff\xfe", b"\xfe\xff") else "latin-1"
    tags = re.findall(r"<!--.*?-->|<\?.*?\?>|<[^>]*", old.decode(encoding), re.DOTALL)
    text, at = new.decode(encoding), 0
    for tag in tags:
        if MAY_GO in tag or "calcPr" in tag or re.search(r'\scount\s*=', tag) or tag.endswith("/"):
            continue
        found = text.find(tag, at)
        if found < 0:
            return [f"{tag} does not stand there as typed"]
        at = found + len(tag)
    return []


def unsound(package):
    """Where a package does not hold together."""
    named = named_parts(package)
    parts = {name.lower(): content for name, content in named.items()}
    found = [f"{name} stands twice" for name, times in Counter(map(str.lower, named)).items() if times > 1]
    types = ET.fromstring(parts["[content_types].xml"])
    overrides = [element.get("PartName").lower() for element in types.iter(f"{TYPES}Override")]
    endings = [element.get("Extension").lower() for element in types.iter(f"{TYPES}Default")]
    found += [f"two kinds for {name}" for name, times in Counter(overrides + endings).items() if times > 1]
    found += [f"a kind for {name}, which is not there" for name in overrides if name.lstrip("/") not in parts]
    found += [f"{name} has no kind" for name in parts
              if "/" + name not in overrides and name.rpartition(".")[2] not in endings and not name.startswith("[content")]
    for name in parts:
        if name.endswith(".rels"):
            found += broken_relations(name, parts)
    return found + wrong_lists(parts) + wrong_styles(parts)


def relations(name, parts):
    owner = name.replace("_rels/", "").removesuffix(".rels")
    for line in ET.fromstring(parts[name]).iter(RELATION):
        if line.get("TargetMode") != "External":
            target = posixpath.normpath(posixpath.join("/", posixpath.dirname(owner), line.get("Target"))).lstrip("/").lower()
            yield line.get("Id"), line.get("Type").rpartition("/")[2], target


def broken_relations(name, parts):
    lines = list(relations(name, parts))
    ids = Counter(line[0] for line in lines)
    return [f"{name}: {target} is not there" for _, _, target in lines if target not in parts] + [
        f"{name}: id {id_} stands twice" for id_, times in ids.items() if times > 1]


def reached(parts):
    """Every part that can be reached from the package's root."""
    seen, ahead = set(), ["_rels/.rels"]
    while ahead:
        name = ahead.pop()
        if name not in parts or name in seen:
            continue
        seen.add(name)
        for _, _, target in relations(name, parts):
            folder, _, file = target.rpartition("/")
            seen.add(target)
            ahead.append(f"{folder}/_rels/{file}.rels")
    return seen


def orphans(package):
    parts = parts_of(package)
    return {name for name in parts if name not in reached(parts) and not name.startswith(("[content", "customxml"))}


def wrong_lists(parts):
    """The list of sheets and the names against each other and against the sheets themselves."""
    root = ET.fromstring(parts[list_of_sheets(parts)[0]])
    lines = root.findall(f"{MAIN}sheets/{MAIN}sheet")
    targets = {id_: target for id_, _, target in relations(list_of_sheets(parts)[1], parts)}
    found = []
    for what in ("name", "sheetId", ID):
        times = Counter(line.get(what).casefold() for line in lines)
        found += [f"two sheets with {what} {value}" for value, count in times.items() if count > 1]
    found += [f"sheet {line.get('name')} has no part" for line in lines if targets.get(line.get(ID)) not in parts]
    names = Counter((line.get("name").casefold(), line.get("localSheetId")) for line in root.iter(f"{MAIN}definedName"))
    found += [f"two names {name}" for name, count in names.items() if count > 1]
    found += [f"name {name} of a sheet that is not there" for name, sheet in names if sheet and int(sheet) >= len(lines)]
    order = [child.tag for child in root if child.tag.startswith(MAIN)]
    right = [MAIN + name for name in (
        "fileVersion", "fileSharing", "workbookPr", "workbookProtection", "bookViews", "sheets", "functionGroups",
        "externalReferences", "definedNames", "calcPr", "oleSize", "customWorkbookViews", "pivotCaches", "extLst")]
    if order != sorted(order, key=right.index):
        found.append(f"the list of sheets is out of order: {order}")
    chosen = [line.get("name") for line in lines if b'tabSelected="1"' in parts.get(targets.get(line.get(ID)), b"")]
    return found + ([f"sheets {chosen} are chosen together"] if len(chosen) > 1 else [])


def wrong_styles(parts):
    """Positions that cells, rows, columns, cell formats and conditional formats name, against the lists of styles."""
    if "xl/styles.xml" not in parts:
        return []
    root = ET.fromstring(parts["xl/styles.xml"])
    length = {name: len(root.find(MAIN + name) if root.find(MAIN + name) is not None else ())
              for name in ("fonts", "fills", "borders", "cellStyleXfs", "cellXfs", "dxfs")}
    found = [f"{section.tag} says {section.get('count')} and holds {len(section)}" for section in root
             if section.get("count") and int(section.get("count")) != len(section)]
    for entry in root.iterfind(f"{MAIN}cellXfs/{MAIN}xf"):
        for name, section in (("fontId", "fonts"), ("fillId", "fills"), ("borderId", "borders"), ("xfId", "cellStyleXfs")):
            if entry.get(name) and int(entry.get(name)) >= length[section]:
                found.append(f"a cell format names {name} {entry.get(name)}")
    for name, content in parts.items():
        if name.startswith("xl/worksheets/sheet"):
            for element in ET.fromstring(content).iter():
                for what, section in (("s", "cellXfs"), ("style", "cellXfs"), ("dxfId", "dxfs")):
                    value = element.get(what, "") if element.tag.startswith(MAIN) else ""
                    if value.isdigit() and int(value) >= length[section]:
                        found.append(f"{name}: {what} {value}")
    return found
