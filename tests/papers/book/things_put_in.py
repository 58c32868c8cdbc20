"""A job's workbook in, the same with things of other programs put into it by hand out: what no library here writes.

Each function changes the parts of a package; several may be put into one book, one after the other.
"""

import io
import re
import zipfile

from tests.papers.book.gallery import MAIN, OFFICE, PACKAGE

LIST, ITS_RELS, TYPES, STYLES, STRINGS = (
    "xl/workbook.xml", "xl/_rels/workbook.xml.rels", "[Content_Types].xml", "xl/styles.xml", "xl/sharedStrings.xml",
)  # fmt: skip
RELS = f"{PACKAGE}/relationships"
OLDER, NEWER = "http://schemas.microsoft.com/office/2007/relationships", "http://schemas.microsoft.com/office/2017/10/relationships"
X14 = "http://schemas.microsoft.com/office/spreadsheetml/2009/9/main"
SHAPES = "http://schemas.openxmlformats.org/drawingml/2006/spreadsheetDrawing"
MARKUP = "http://schemas.openxmlformats.org/markup-compatibility/2006"
SHEETML = "vnd.openxmlformats-officedocument.spreadsheetml"
PLAIN = (
    f'<worksheet xmlns="{MAIN}" xmlns:r="{OFFICE}"><sheetData><row r="1"><c r="A1"><v>7</v></c><c r="B1"><f>A1*2</f><v>14</v></c></row>'
    "</sheetData></worksheet>"
)


def parts_of(book):
    with zipfile.ZipFile(io.BytesIO(book)) as package:
        return {name: package.read(name).decode() if name.endswith((".xml", ".rels", ".vml")) else package.read(name)
                for name in package.namelist()}  # fmt: skip


def book_of(parts):
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as package:
        for name, content in parts.items():
            package.writestr(zipfile.ZipInfo(name, (2031, 2, 3, 4, 5, 6)), content)
    return out.getvalue()


def put(parts, name, at, words):
    """Words before the first place where `at` stands."""
    assert at in parts[name], (name, at)
    parts[name] = parts[name].replace(at, words + at, 1)


def part(parts, name, content, kind, *, of=LIST, id_, role):
    """One more part, with its kind, and named by another."""
    parts[name] = content
    put(parts, TYPES, "</Types>", f'<Override PartName="/{name}" ContentType="application/{kind}"/>')
    relate(parts, of, id_, role, "/" + name)


def relate(parts, owner, id_, role, target, outside=""):
    folder, _, file = owner.rpartition("/")
    rels = f"{folder}/_rels/{file}.rels"
    parts.setdefault(rels, f'<?xml version="1.0" encoding="UTF-8"?>\n<Relationships xmlns="{RELS}"></Relationships>')
    put(parts, rels, "</Relationships>", f'<Relationship Id="{id_}" Type="{role}" Target="{target}"{outside}/>')


def sheet(parts, name):
    """The part of a sheet by its name."""
    id_ = re.search(rf'<sheet name="{name}"[^>]*r:id="([^"]+)"', parts[LIST])[1]
    return "xl/" + re.search(rf'Id="{id_}"[^>]*Target="([^"]+)"', parts[ITS_RELS])[1]


def one_more_sheet(parts, name, number, *, content=PLAIN, kind="worksheet", state=""):
    path = f"xl/{kind}s/sheet{number}.xml"
    part(parts, path, content, f"{SHEETML}.{kind}+xml", id_=f"rIdS{number}", role=f"{OFFICE}/{kind}")
    put(parts, LIST, "</sheets>", f'<sheet name="{name}" sheetId="{number}" {state}r:id="rIdS{number}"/>')
    return path


def shapes_and_controls(parts):
    shop = sheet(parts, "Shop")
    shape = (
        f'<xdr:wsDr xmlns:xdr="{SHAPES}" xmlns:a="http://schemas.openxmlformats.org/drawingml/2006/main"><xdr:absoluteAnchor><xdr:pos x="0" '
        'y="0"/><xdr:ext cx="900000" cy="900000"/><xdr:sp macro="" textlink=""><xdr:nvSpPr><xdr:cNvPr id="2" name="Glue pot"/><xdr:cNvSpPr/>'
        '</xdr:nvSpPr><xdr:spPr><a:prstGeom prst="star5"><a:avLst/></a:prstGeom></xdr:spPr></xdr:sp><xdr:clientData/></xdr:absoluteAnchor>'
        "</xdr:wsDr>"
    )
    box = f'<formControlPr xmlns="{X14}" objectType="CheckBox" checked="Checked" lockText="1"/>'
    part(parts, "xl/drawings/drawing77.xml", shape, "vnd.openxmlformats-officedocument.drawing+xml",
         of=shop, id_="rIdShape", role=f"{OFFICE}/drawing")  # fmt: skip
    part(parts, "xl/ctrlProps/ctrlProp1.xml", box, "vnd.ms-excel.controlproperties+xml", of=shop, id_="rIdBox", role=f"{OFFICE}/ctrlProp")
    control = (
        f'<mc:AlternateContent xmlns:mc="{MARKUP}"><mc:Choice Requires="x14" xmlns:x14="{X14}"><controls><control shapeId="1025" '
        'r:id="rIdBox" name="Check Box 1"/></controls></mc:Choice></mc:AlternateContent>'
    )
    old = "<legacyDrawing" if "<legacyDrawing" in parts[shop] else "</worksheet>"
    put(parts, shop, old, '<drawing r:id="rIdShape"/>')
    put(parts, shop, "</worksheet>", control)


def threads_and_custom_xml(parts):
    threads = "http://schemas.microsoft.com/office/spreadsheetml/2018/threadedcomments"
    said = f'<ThreadedComments xmlns="{threads}"><threadedComment ref="B2" personId="{{A}}" id="{{B}}"><text>right?</text></threadedComment></ThreadedComments>'
    part(parts, "xl/threadedComments/threadedComment1.xml", said, "vnd.ms-excel.threadedcomments+xml",
         of=sheet(parts, "Boards"), id_="rIdT", role=f"{NEWER}/threadedComment")  # fmt: skip
    part(parts, "xl/persons/person.xml", f'<personList xmlns="{threads}"/>', "vnd.ms-excel.person+xml", id_="rIdP", role=f"{NEWER}/person")
    parts["customXml/item1.xml"] = "<shop xmlns='urn:shop'>kept</shop>"
    relate(parts, LIST, "rId900", f"{OFFICE}/customXml", "../customXml/item1.xml")


def pivots_and_slicers(parts):
    store, slicers = "xl/pivotCache/pivotCacheDefinition1.xml", "xl/slicerCaches/slicerCache1.xml"
    part(parts, store, f'<pivotCacheDefinition xmlns="{MAIN}" refreshOnLoad="1"><cacheSource type="worksheet"><worksheetSource ref="A1:B2" '
         'sheet="Boards"/></cacheSource><cacheFields count="0"/></pivotCacheDefinition>', f"{SHEETML}.pivotCacheDefinition+xml",
         id_="rIdPC", role=f"{OFFICE}/pivotCacheDefinition")  # fmt: skip
    part(parts, slicers, f'<slicerCacheDefinition xmlns="{X14}" name="Slicer_Board" sourceName="Board"/>', "vnd.ms-excel.slicerCache+xml",
         id_="rIdSC", role=f"{OLDER}/slicerCache")  # fmt: skip
    put(parts, LIST, "</workbook>", '<pivotCaches><pivotCache cacheId="5" r:id="rIdPC"/></pivotCaches><extLst><ext '
        f'xmlns:x14="{X14}" uri="{{BBE1A952-AA13-448e-AADC-164F8A28A991}}"><x14:slicerCaches><x14:slicerCache r:id="rIdSC"/>'
        "</x14:slicerCaches></ext></extLst>")  # fmt: skip
    put(parts, STYLES, "</styleSheet>", f'<extLst><ext uri="{{EB79DEF2-80B8-43e5-95BD-54CBDDF9020C}}" xmlns:x14="{X14}"><x14:slicerStyles '
        'defaultSlicerStyle="SlicerStyleLight1"/></ext></extLst>')  # fmt: skip


def links_and_calculation_chain(parts):
    part(parts, "xl/calcChain.xml", f'<calcChain xmlns="{MAIN}"><c r="B3" i="1"/></calcChain>', f"{SHEETML}.calcChain+xml",
         id_="rIdCC", role=f"{OFFICE}/calcChain")  # fmt: skip
    other = "xl/externalLinks/externalLink1.xml"
    part(parts, other, f'<externalLink xmlns="{MAIN}"><externalBook xmlns:r="{OFFICE}" r:id="rId1"><sheetNames><sheetName val="P"/>'
         "</sheetNames></externalBook></externalLink>", f"{SHEETML}.externalLink+xml", id_="rIdEL", role=f"{OFFICE}/externalLink")  # fmt: skip
    relate(parts, other, "rId1", f"{OFFICE}/externalLinkPath", "prices%20old.xlsx", ' TargetMode="External"')
    at = parts[LIST].index("</sheets>") + len("</sheets>")
    link = '<externalReferences><externalReference r:id="rIdEL"/></externalReferences>'
    parts[LIST] = parts[LIST][:at] + link + parts[LIST][at:]


def names_and_sheets_like_ours(parts):
    names = (
        '<definedName name="_xlnm._FilterDatabase" localSheetId="1" hidden="1">Cabinets!$A$1:$C$3</definedName><definedName '
        'name="broken">#REF!</definedName><definedName name="Answer">Shop!$B$3</definedName><definedName name="estimator_result_sheet" '
        'hidden="1">"nothing"</definedName>'
    )
    put(parts, LIST, "</definedNames>", names)
    one_more_sheet(parts, "ANSWER", 400)
    one_more_sheet(parts, "price", 401, state='state="hidden" ')
    one_more_sheet(parts, "As priced", 65533, state='state="veryHidden" ')
    one_more_sheet(parts, "O&apos;Neil &amp; sons&#10;", 402)
    chart = one_more_sheet(parts, "Chart alone", 403, content=f'<chartsheet xmlns="{MAIN}" xmlns:r="{OFFICE}"><sheetViews><sheetView '
                           'workbookViewId="0"/></sheetViews><drawing r:id="rId1"/></chartsheet>', kind="chartsheet")  # fmt: skip
    part(parts, "xl/drawings/drawing90.xml", f'<xdr:wsDr xmlns:xdr="{SHAPES}"/>', "vnd.openxmlformats-officedocument.drawing+xml",
         of=chart, id_="rId1", role=f"{OFFICE}/drawing")  # fmt: skip
    table = one_more_sheet(parts, "Totals", 404, content=PLAIN.replace("</worksheet>", '<tableParts count="1"><tablePart r:id="rId1"/>'
                           "</tableParts></worksheet>"))  # fmt: skip
    part(parts, "xl/tables/table9.xml", f'<table xmlns="{MAIN}" id="9" name="Price" displayName="Price" ref="A1:B3" totalsRowCount="1">'
         '<tableColumns count="2"><tableColumn id="1" name="a"/><tableColumn id="2" name="b" totalsRowFunction="sum"/></tableColumns></table>',
         f"{SHEETML}.table+xml", of=table, id_="rId1", role=f"{OFFICE}/table")  # fmt: skip


def left_behind(parts):
    """Parts that nothing names, and a sheet's relations without the sheet."""
    parts |= {"xl/worksheets/sheet99.xml": PLAIN, "xl/charts/chart50.xml": "<a/>"}
    parts["xl/worksheets/_rels/sheet100.xml.rels"] = f'<Relationships xmlns="{RELS}"/>'


def paths_from_the_root(parts):
    """Every relation names its part from the root of the package."""
    for name in [name for name in parts if name.endswith(".rels")]:
        folder = name.partition("_rels/")[0]
        parts[name] = re.sub(r'Target="(?!\w+://|/)([^"]*)"', lambda found, folder=folder: f'Target="/{_flat(folder + found[1])}"', parts[name])


def _flat(path):
    while "/../" in path:
        path = re.sub(r"[^/]+/\.\./", "", path, count=1)
    return path


def strings_in_cells(parts):
    """No table of strings: each stands in its cell."""
    texts = re.findall(r"<si>(.*?)</si>", parts.pop(STRINGS), re.DOTALL)
    for name in [name for name in parts if re.fullmatch(r"xl/worksheets/sheet\d+\.xml", name)]:
        parts[name] = re.sub(r' t="s"([^>]*)><v>(\d+)</v>', lambda found: f' t="inlineStr"{found[1]}><is>{texts[int(found[2])]}</is>', parts[name])
    parts[ITS_RELS] = re.sub(r'<Relationship [^>]*sharedStrings"[^>]*/>', "", parts[ITS_RELS])
    parts[TYPES] = re.sub(r"<Override [^>]*sharedStrings[^>]*/>", "", parts[TYPES])


def last_part_first(parts):
    turned = dict(reversed(list(parts.items())))
    parts.clear()
    parts |= turned


def prefixes_everywhere(parts):
    """Every element of the lists, the styles and the sheets with a prefix."""
    for name in list(parts):
        if name in (LIST, STYLES, STRINGS) or re.fullmatch(r"xl/worksheets/sheet\d+\.xml", name):
            parts[name] = _prefixed(parts[name], "x", MAIN)
        elif name.endswith(".rels"):
            parts[name] = _prefixed(parts[name], "q", RELS)
    parts[TYPES] = _prefixed(parts[TYPES], "ct", f"{PACKAGE}/content-types")


def _prefixed(text, prefix, space):
    return re.sub(r"<(/?)([A-Za-z]\w*)(?=[\s>/])", rf"<\1{prefix}:\2", text.replace(f'xmlns="{space}"', f'xmlns:{prefix}="{space}"'))


def two_bytes_a_letter(parts):
    for name in (LIST, ITS_RELS, STYLES, STRINGS, TYPES):
        parts[name] = parts[name].replace('encoding="UTF-8"', 'encoding="UTF-16"').encode("utf-16")


BOOKS = {
    "put in by other programs": (
        shapes_and_controls, threads_and_custom_xml, pivots_and_slicers, links_and_calculation_chain, names_and_sheets_like_ours, left_behind,
    ),
    "from the root, strings in cells, last part first": (paths_from_the_root, strings_in_cells, last_part_first),
    "prefixes and two bytes a letter": (prefixes_everywhere, two_bytes_a_letter),
}  # fmt: skip
"""What is put into each book."""


def with_things(book, things):
    parts = parts_of(book)
    for thing in things:
        thing(parts)
    return book_of(parts)
