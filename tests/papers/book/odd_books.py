"""Odd but legal workbooks, written by hand: parts in other places, endings in capitals, and what no library here writes."""

from tests.papers.book.gallery import BARE, MAIN, OFFICE, PACKAGE, WAGE, by_hand, drawn, read_part, with_parts

X14 = "http://schemas.microsoft.com/office/spreadsheetml/2009/9/main"
THREADS = "http://schemas.microsoft.com/office/2017/10/relationships"
SHEET = (
    f'<worksheet xmlns="{MAIN}" xmlns:r="{OFFICE}"><sheetData><row r="5"><c r="B5"><v>{WAGE}</v></c><c r="C5" t="inlineStr"><is>'
    '<t>said in the cell</t></is></c></row></sheetData>{more}</worksheet>'
)
DROP_DOWN = (
    f'<extLst><ext xmlns:x14="{X14}" uri="{{CCE6A557-97BC-4b89-ADB6-D9C93CAAB3DF}}"><x14:dataValidations count="1" '
    'xmlns:xm="http://schemas.microsoft.com/office/excel/2006/main"><x14:dataValidation type="list" allowBlank="1"><x14:formula1>'
    "<xm:f>Shop!$B$5:$B$6</xm:f></x14:formula1><xm:sqref>D5</xm:sqref></x14:dataValidation></x14:dataValidations></ext></extLst>"
)


def override(name, kind):
    return f'<Override PartName="/{name}" ContentType="application/vnd.{kind}"/>'


def list_of_sheets_elsewhere():
    """The list of sheets is book/list.xml, and it names its sheet from the root."""
    plain = by_hand(BARE)
    types = read_part(plain, "[Content_Types].xml").replace(b"/xl/workbook.xml", b"/book/list.xml")
    rels = read_part(plain, "xl/_rels/workbook.xml.rels").replace(b"worksheets/", b"/xl/worksheets/")
    return with_parts(plain, {
        "[Content_Types].xml": types, "_rels/.rels": read_part(plain, "_rels/.rels").replace(b"xl/workbook.xml", b"book/list.xml"),
        "book/list.xml": read_part(plain, "xl/workbook.xml"), "book/_rels/list.xml.rels": rels,
        "xl/workbook.xml": None, "xl/_rels/workbook.xml.rels": None,
    })  # fmt: skip


def capitals():
    """Endings in capitals in the list of part kinds."""
    plain = by_hand(BARE)
    types = read_part(plain, "[Content_Types].xml").replace(b'"rels"', b'"RELS"').replace(b'Extension="xml"', b'Extension="XML"')
    return with_parts(plain, {"[Content_Types].xml": types})


def beside_other_books():
    """Links to another book, a pivot table's store, a thread of comments and its people, drop-downs of the newer kind."""
    workbook = BARE.replace(
        "</workbook>",
        '<externalReferences><externalReference r:id="rId5"/></externalReferences><pivotCaches><pivotCache cacheId="1" r:id="rId6"/>'
        "</pivotCaches></workbook>",
    )
    rels = (
        f'<Relationship Id="rId5" Type="{OFFICE}/externalLink" Target="externalLinks/externalLink1.xml"/>'
        f'<Relationship Id="rId6" Type="{OFFICE}/pivotCacheDefinition" Target="pivotCache/pivotCacheDefinition1.xml"/>'
        f'<Relationship Id="rId7" Type="{THREADS}/person" Target="persons/person.xml"/>'
    )
    types = (
        override("xl/externalLinks/externalLink1.xml", "openxmlformats-officedocument.spreadsheetml.externalLink+xml")
        + override("xl/pivotCache/pivotCacheDefinition1.xml", "openxmlformats-officedocument.spreadsheetml.pivotCacheDefinition+xml")
        + override("xl/threadedComments/threadedComment1.xml", "ms-excel.threadedcomments+xml")
        + override("xl/persons/person.xml", "ms-excel.person+xml")
    )
    relations = f'<Relationships xmlns="{PACKAGE}/relationships">'
    parts = {
        "xl/worksheets/sheet1.xml": SHEET.replace("{more}", DROP_DOWN),
        "xl/worksheets/_rels/sheet1.xml.rels": f'{relations}<Relationship Id="rId1" Type="{THREADS}/threadedComment" '
        'Target="../threadedComments/threadedComment1.xml"/></Relationships>',
        "xl/threadedComments/threadedComment1.xml": '<ThreadedComments xmlns="http://schemas.microsoft.com/office/spreadsheetml/2018/'
        'threadedcomments"><threadedComment ref="B5" id="{1}" personId="{2}"><text>is this still right?</text></threadedComment>'
        "</ThreadedComments>",
        "xl/persons/person.xml": '<personList xmlns="http://schemas.microsoft.com/office/spreadsheetml/2018/threadedcomments"/>',
        "xl/externalLinks/externalLink1.xml": f'<externalLink xmlns="{MAIN}"><externalBook xmlns:r="{OFFICE}" r:id="rId1">'
        '<sheetNames><sheetName val="Prices"/></sheetNames></externalBook></externalLink>',
        "xl/externalLinks/_rels/externalLink1.xml.rels": f'{relations}<Relationship Id="rId1" Type="{OFFICE}/externalLinkPath" '
        'Target="prices%20of%20spring.xlsx" TargetMode="External"/></Relationships>',
        "xl/pivotCache/pivotCacheDefinition1.xml": f'<pivotCacheDefinition xmlns="{MAIN}" refreshOnLoad="1"><cacheSource '
        'type="worksheet"><worksheetSource ref="A5:B6" sheet="Shop"/></cacheSource><cacheFields count="0"/></pivotCacheDefinition>',
    }
    return by_hand(workbook, rels=rels, types=types, parts=parts)


def thousands_of_looks():
    def draw(book, shop):
        for row in range(2000):
            shop.write_number(row + 20, 0, row, book.add_format({"num_format": f'0.00 "{row}"', "indent": row % 9}))

    return drawn(draw)


def odd_books():
    """By a name that says what is odd."""
    return {
        "by hand, list of sheets elsewhere": list_of_sheets_elsewhere(),
        "by hand, endings in capitals": capitals(),
        "by hand, threads, pivots and other books": beside_other_books(),
        "XlsxWriter thousands of looks": thousands_of_looks(),
    }
