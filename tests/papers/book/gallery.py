"""Workbooks as users have them, each drawn here: what spreadsheet programs and libraries write, and what a hand can spoil."""

import io
import struct
import warnings
import zipfile
import zlib

import openpyxl
import xlsxwriter
from openpyxl.chart import BarChart, Reference
from openpyxl.comments import Comment
from openpyxl.drawing.image import Image
from openpyxl.formatting.rule import ColorScaleRule, FormulaRule
from openpyxl.packaging.custom import StringProperty
from openpyxl.styles import Font, NamedStyle, PatternFill, Protection
from openpyxl.workbook.defined_name import DefinedName
from openpyxl.worksheet.datavalidation import DataValidation
from openpyxl.worksheet.table import Table

MAIN = "http://schemas.openxmlformats.org/spreadsheetml/2006/main"
OFFICE = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"
PACKAGE = "http://schemas.openxmlformats.org/package/2006"
KIND = "application/vnd.openxmlformats-officedocument.spreadsheetml"
WAGE = 21   # stands in Shop!B5 of every book, and our sheets point at it


def png(red):
    """A picture of one dot."""
    def chunk(kind, content):
        return struct.pack(">L", len(content)) + kind + content + struct.pack(">L", zlib.crc32(kind + content))
    head = struct.pack(">2L5B", 1, 1, 8, 2, 0, 0, 0)
    return (b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", head) + chunk(b"IDAT", zlib.compress(bytes((0, red, 90, 90))))
            + chunk(b"IEND", b""))


def saved(book):
    out = io.BytesIO()
    book.save(out)
    return out.getvalue()


def drawn(draw, **options):
    """A book that XlsxWriter draws: `draw(book, shop)`."""
    out = io.BytesIO()
    book = xlsxwriter.Workbook(out, {"in_memory": True, **options})
    shop = book.add_worksheet("Shop")
    shop.write("A5", "Wage")
    shop.write("B5", WAGE)
    draw(book, shop)
    book.close()
    return out.getvalue()


def with_parts(package, changes):
    """The package with parts replaced, added, or (None) taken out."""
    out = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(package)) as old, zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as new:
        held = {name: old.read(name) for name in old.namelist()}
        for name, content in {**held, **changes}.items():
            if content is not None:
                new.writestr(zipfile.ZipInfo(name, (2031, 2, 3, 4, 5, 6)), content)
    return out.getvalue()


def read_part(package, name):
    return zipfile.ZipFile(io.BytesIO(package)).read(name)


# ---------------------------------------------------------------- written by openpyxl

def openpyxl_plain():
    book = openpyxl.Workbook()
    book.active.title = "Shop"
    book.active["A5"], book.active["B5"] = "Wage", WAGE
    return book


def openpyxl_rich():
    book = openpyxl_plain()
    shop = book.active
    for row in range(1, 5):
        shop.append([f"step {row}", row * 1.5])
    shop["A1"].font = Font(name="Arial", size=14, color="FF336699")
    shop["A1"].fill = PatternFill("solid", fgColor="FFEEDDCC")
    shop["C1"] = 1234.5
    shop["C1"].number_format = '#,##0.00 "zł"'
    shop["C2"] = "=C1*2"
    shop["C1"].protection = Protection(locked=False)
    shop.protection.sheet = True
    shop["A2"].comment = Comment("Measured twice", "Shop")
    shop.add_image(Image(io.BytesIO(png(200))), "E2")
    chart = BarChart()
    chart.add_data(Reference(shop, min_col=2, min_row=6, max_row=9))
    shop.add_chart(chart, "G2")
    shop.conditional_formatting.add("B6:B9", ColorScaleRule(start_type="min", start_color="FFFFFF",
                                                            end_type="max", end_color="FF0000"))
    shop.conditional_formatting.add("B6:B9", FormulaRule(["$B6>3"], font=Font(bold=True)))
    choice = DataValidation("list", formula1='"yes,no"')
    choice.add("D2:D9")
    shop.add_data_validation(choice)
    book.add_named_style(NamedStyle("Shop heading", font=Font(bold=True)))
    shop["A3"].style = "Shop heading"
    shop["A4"].hyperlink = "https://shop.example/a?b=1&c=2"
    shop.print_title_rows, shop.print_area = "1:2", "A1:D9"
    shop.page_setup.orientation = "landscape"
    shop.merge_cells("A11:C12")
    hidden = book.create_sheet("Hidden rates")
    hidden.sheet_state = "hidden"
    hidden.append(["Name", "Rate"])
    hidden.append(["a", 1])
    hidden.add_table(Table(displayName="Rates", ref="A1:B2"))
    book.defined_names["wage"] = DefinedName("wage", attr_text="Shop!$B$5")
    hidden.defined_names["local"] = DefinedName("local", attr_text="'Hidden rates'!$B$2")
    book.custom_doc_props.append(StringProperty(name="Cupboard", value="third"))
    book.create_chartsheet("Chart only").add_chart(BarChart())
    book.active = 1
    return book


# ---------------------------------------------------------------- written by XlsxWriter

def many_things(book, shop):
    money = book.add_format({"num_format": '#,##0.00 "€"', "bold": True, "bg_color": "#FFEEDD", "border": 2})
    shop.write_column("A6", ["cut", "band", "drill"], money)
    shop.write_column("B6", [3, 5, 2], money)
    shop.write_formula("B9", "=SUM(B6:B8)", money, 10)
    shop.write_rich_string("A10", "plain ", money, "strong", " plain")
    shop.insert_textbox("D1", "Glue pot: fill on Friday")
    shop.insert_button("D8", {"caption": "Count", "macro": "count"})
    shop.insert_image("F1", "dot.png", {"image_data": io.BytesIO(png(10))})
    shop.write_comment("B6", "From the log")
    shop.add_sparkline("C6", {"range": "Shop!B6:B8"})
    shop.conditional_format("B6:B8", {"type": "data_bar", "data_bar_2010": True})
    shop.conditional_format("B6:B8", {"type": "icon_set", "icon_style": "3_arrows"})
    shop.conditional_format("B6:B8", {"type": "cell", "criteria": ">", "value": 4,
                                      "format": book.add_format({"font_color": "#AA0000", "num_format": "0.0000"})})
    shop.data_validation("D2", {"validate": "list", "source": "=Shop!$A$6:$A$8"})
    shop.add_table("H1:I3", {"name": "Woods", "data": [["oak", 1], ["ash", 2]]})
    shop.protect("", {"objects": True})
    shop.set_header("&L&G", {"image_left": "dot.png", "image_data_left": io.BytesIO(png(11))})
    shop.set_background(io.BytesIO(png(12)), is_byte_stream=True)
    shop.freeze_panes(2, 1)
    shop.print_area("A1:D12")
    shop.autofilter("A5:B8")
    shop.write_url("A12", "https://shop.example/", string="The shop")
    chart = book.add_chart({"type": "column"})
    chart.add_series({"values": "=Shop!$B$6:$B$8", "categories": "=Shop!$A$6:$A$8"})
    shop.insert_chart("F8", chart)
    book.define_name("wage", "=Shop!$B$5")
    book.define_name("Shop!local", "=Shop!$B$6")
    sheet = book.add_chartsheet("Chart only")
    pie = book.add_chart({"type": "pie"})
    pie.add_series({"values": "=Shop!$B$6:$B$8"})
    sheet.set_chart(pie)
    secret = book.add_worksheet("Secret & <sons>")
    secret.very_hidden()
    book.set_properties({"title": "Rates", "author": "The shop"})
    book.set_custom_property("Cupboard", "third")


def macros(book, shop):
    shop.insert_button("D8", {"caption": "Count", "macro": "count"})
    book.add_vba_project(io.BytesIO(b"not a real project, and never opened here" * 9), is_stream=True)


# ---------------------------------------------------------------- written by hand

def by_hand(workbook, *, rels="", types="", parts=(), encoding="utf-8", rel_target="xl/workbook.xml"):
    """A package of as few parts as there can be, around a given list of sheets."""
    head = f'<?xml version="1.0" encoding="{encoding}"?>'
    sheet = f'{head}<worksheet xmlns="{MAIN}"><sheetData><row r="5"><c r="B5"><v>{WAGE}</v></c></row></sheetData></worksheet>'
    held = {
        "[Content_Types].xml": f'{head}<Types xmlns="{PACKAGE}/content-types">'
        '<Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/>'
        '<Default Extension="xml" ContentType="application/xml"/>'
        f'<Override PartName="/xl/workbook.xml" ContentType="{KIND}.sheet.main+xml"/>'
        f'<Override PartName="/xl/worksheets/sheet1.xml" ContentType="{KIND}.worksheet+xml"/>{types}</Types>',
        "_rels/.rels": f'{head}<Relationships xmlns="{PACKAGE}/relationships">'
        f'<Relationship Id="rId1" Type="{OFFICE}/officeDocument" Target="{rel_target}"/></Relationships>',
        "xl/workbook.xml": head + workbook,
        "xl/_rels/workbook.xml.rels": f'{head}<Relationships xmlns="{PACKAGE}/relationships">'
        f'<Relationship Id="rId1" Type="{OFFICE}/worksheet" Target="worksheets/sheet1.xml"/>{rels}</Relationships>',
        "xl/worksheets/sheet1.xml": sheet,
        **dict(parts),
    }
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w") as package:
        for name, content in held.items():
            package.writestr(name, content if isinstance(content, bytes) else content.encode(encoding))
    return out.getvalue()


BARE = f'<workbook xmlns="{MAIN}" xmlns:r="{OFFICE}"><sheets><sheet name="Shop" sheetId="1" r:id="rId1"/></sheets></workbook>'

PREFIXED = f"""
<x:workbook xmlns:x='{MAIN}' xmlns:rel='{OFFICE}'>
  <!-- <sheets> said once, not here > -->
  <x:bookViews><x:workbookView activeTab='0' firstSheet = "0" /></x:bookViews>
  <x:sheets >
    <x:sheet name='Shop' sheetId='7' rel:id='rId1'/>
  </x:sheets
  >
  <x:definedNames><x:definedName name='wage'><![CDATA[Shop!$B$5]]></x:definedName></x:definedNames>
  <x:calcPr calcMode='manual'/>
</x:workbook>"""

WITH_OTHERS = f"""<workbook xmlns="{MAIN}" xmlns:mc="http://schemas.openxmlformats.org/markup-compatibility/2006"
 xmlns:z="urn:not-of-this-program" mc:Ignorable="z"><mc:AlternateContent><mc:Choice Requires="z"><z:sheets><z:sheet
 name="never"/></z:sheets></mc:Choice></mc:AlternateContent><sheets><sheet xmlns:r="{OFFICE}" name="Shop" sheetId="3"
 r:id="rId1"/></sheets><functionGroups/><definedNames/><extLst><ext uri="a"><z:x a="1 > 0"/></ext></extLst></workbook>"""

PREFIXED_STYLES = f"""<?xml version="1.0"?><s:styleSheet xmlns:s="{MAIN}"><s:fonts count="1"><s:font><s:sz val="10"/>
<s:name val="Arial"/></s:font></s:fonts><s:fills count="1"><s:fill><s:patternFill patternType="none"/></s:fill></s:fills>
<s:borders count="1"><s:border/></s:borders><s:cellXfs count="1"><s:xf numFmtId="0" fontId="0" fillId="0" borderId="0"/>
</s:cellXfs><s:dxfs count="0"/></s:styleSheet>"""

STYLES_REL = f'<Relationship Id="rId2" Type="{OFFICE}/styles" Target="/xl/Styles.xml"/>'
STYLES_TYPE = f'<Override PartName="/xl/styles.xml" ContentType="{KIND}.styles+xml"/>'
CHAIN_REL = f'<Relationship Id="rId9" Type="{OFFICE}/calcChain" Target="calcChain.xml"/>'
CHAIN_TYPE = f'<Override PartName="/xl/calcChain.xml" ContentType="{KIND}.calcChain+xml"/>'
CHAIN = f'<calcChain xmlns="{MAIN}"><c r="B5" i="1"/></calcChain>'
PROMISED = {"xl/worksheets/_rels/sheet1.xml.rels": f'<Relationships xmlns="{PACKAGE}/relationships"><Relationship Id="rId1" '
            f'Type="{OFFICE}/drawing" Target="../drawings/drawing1.xml"/></Relationships>'}
PROMISED_TYPES = "".join(f'<Override PartName="/xl/{name}" ContentType="application/vnd.openxmlformats-officedocument.{kind}"/>'
                         for name, kind in (("drawings/drawing2.xml", "drawing+xml"), ("comments1.xml", "x+xml")))
ODD_PICTURES = '<Default Extension="PNG" ContentType="image/x-of-the-user"/>'
CUSTOM = {"customXml/item1.xml": "<shop xmlns='urn:shop'>kept</shop>",
          "customXml/_rels/item1.xml.rels": f'<Relationships xmlns="{PACKAGE}/relationships"/>',
          "xl/worksheets/_rels/sheet7.xml.rels": f'<Relationships xmlns="{PACKAGE}/relationships"/>',
          "xl/media/image3.png": png(7)}


def gallery():
    """Every book by a name that says what is in it."""
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        return {
            "openpyxl plain": saved(openpyxl_plain()),
            "openpyxl many things": saved(openpyxl_rich()),
            "XlsxWriter plain": drawn(lambda book, shop: None),
            "XlsxWriter many things": drawn(many_things),
            "XlsxWriter days from 1904": drawn(many_things, date_1904=True),
            "XlsxWriter strings in cells": drawn(many_things, constant_memory=False),
            "XlsxWriter macros": drawn(macros),
            "by hand, no styles, no strings, no theme": by_hand(BARE),
            "by hand, UTF-16": by_hand(BARE, encoding="utf-16"),
            "by hand, Latin letters": by_hand(BARE.replace("<sheets>", "<!-- Stückliste --><sheets>"), encoding="iso-8859-1"),
            "by hand, prefixes and single quotes": by_hand(PREFIXED, rels=STYLES_REL, types=STYLES_TYPE,
                                                           parts={"xl/styles.xml": PREFIXED_STYLES}),
            "by hand, other namespaces": by_hand(WITH_OTHERS, parts=CUSTOM, types=ODD_PICTURES),
            "by hand, calculation chain": by_hand(BARE, rels=CHAIN_REL, types=CHAIN_TYPE, parts={"xl/calcChain.xml": CHAIN}),
            "by hand, absolute target": by_hand(BARE, rel_target="/xl/workbook.xml"),
        }


# ---------------------------------------------------------------- our own sheets

def result_sheets(names, *, dates_from_1904=False, factor=2, picture=99, defined="net_total", shop="Shop"):
    """Result sheets as the estimator writes them, with something of every kind that they may use."""
    out = io.BytesIO()
    book = xlsxwriter.Workbook(out, {"in_memory": True, "date_1904": dates_from_1904})
    first, second = (names[wanted] for wanted in ("Price", "Ways of banding"))
    price, ways = book.add_worksheet(first), book.add_worksheet(second)
    money = book.add_format({"num_format": '#,##0.00 "€"', "bold": True, "bg_color": "#DDEEFF", "border": 1, "locked": 0})
    price.write_string("A1", 'Price of "oak & ash" <net>', book.add_format({"font_size": 20, "font_name": "Arial"}))
    price.write_string("A2", "= not a formula", money)
    price.write_formula("B2", f"={shop}!B5*{factor}", money, WAGE * factor)
    price.write_formula("B3", f"='{second}'!B2+1", money, WAGE * factor + 6)
    price.write_formula("B4", '=IF(B2>0," s=""7"" t=""s""","")', None, ' s="7" t="s"')
    price.write_url("A5", f"internal:'{second}'!B2", string="to the ways")
    price.write_url("A6", "https://shop.example/?a=1&b=2", string="the shop")
    price.write_rich_string("A7", "plain ", money, "strong")
    price.write_comment("B2", "What the client pays")
    price.conditional_format("B2:B3", {"type": "cell", "criteria": ">", "value": 40,
                                       "format": book.add_format({"font_color": "#008800", "num_format": '0.000 "h"'})})
    price.data_validation("C2", {"validate": "list", "source": ["by hand", "send out"]})
    price.set_column("A:A", 30, money)
    price.set_row(8, 30, money)
    price.freeze_panes(1, 0)
    price.print_area("A1:C9")
    price.repeat_rows(0)
    price.insert_image("E1", "dot.png", {"image_data": io.BytesIO(png(picture))})
    ways.write_formula("B2", f"='{first}'!B2+5", money, WAGE * factor + 5)
    ways.write_string("A2", "Price of \"oak & ash\" <net>")
    chart = book.add_chart({"type": "bar"})
    chart.add_series({"values": f"='{second}'!$B$2:$B$2", "categories": f"='{second}'!$A$2:$A$2"})
    ways.insert_chart("D2", chart)
    if defined:
        book.define_name(defined, f"='{first}'!$B$2")
    book.close()
    return out.getvalue()
