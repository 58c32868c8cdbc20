"""Which sheets are ours, which names are free, and what happens to positions and names around a replaced sheet."""

import io
import re
import xml.etree.ElementTree as ET

import openpyxl
import pytest
from hypothesis import given, settings
from hypothesis import strategies as some

from estimator.papers.book import Spliced, add_sheets, dates_from_1904, free_defined_names, free_names
from estimator.papers.book.names import free_name
from tests.papers.book.gallery import (
    BARE,
    PROMISED,
    PROMISED_TYPES,
    by_hand,
    drawn,
    png,
    read_part,
    result_sheets,
    saved,
    with_parts,
)
from tests.papers.book.harm import MAIN, named_parts, orphans, unsound
from tests.papers.book.test_unharmed import BOOKS, WANTED, price, priced


def named(*sheets):
    """A user's book with these sheets; each has its own name in A1."""
    book = openpyxl.Workbook()
    book.active.title = "Shop"
    book.active["B5"] = 21
    for sheet in sheets:
        book.create_sheet(sheet)["A1"] = sheet
    return saved(book)


def in_list(book, change):
    """The book after its list of sheets has been changed as text."""
    return with_parts(book, {"xl/workbook.xml": change(read_part(book, "xl/workbook.xml").decode()).encode()})


def sheets_of(book):
    return openpyxl.load_workbook(io.BytesIO(book)).sheetnames


def names_of(book):
    """The defined names: the sheet's position or None, and what each stands for."""
    root = ET.fromstring(read_part(book, "xl/workbook.xml"))
    return {(element.get("name"), element.get("localSheetId")): element.text for element in root.iter(f"{MAIN}definedName")}


def tab_of(book):
    view = ET.fromstring(read_part(book, "xl/workbook.xml")).find(f"{MAIN}bookViews/{MAIN}workbookView")
    return int(view.get("activeTab", 0))


def test_a_users_sheet_of_our_name_is_never_touched():
    book = named("Price", "price (2)")
    assert free_names(book, WANTED) == {"Price": "Price (3)", "Ways of banding": "Ways of banding"}
    new = price(book)
    assert new.added == ("Price (3)", "Ways of banding")
    assert sheets_of(new.workbook) == ["Shop", "Price", "price (2)", *new.added]
    read = openpyxl.load_workbook(io.BytesIO(new.workbook))
    assert read["Price"]["A1"].value == "Price"
    assert read["Ways of banding"]["B2"].value == "='Price (3)'!B2+5"
    assert read.defined_names["net_total"].attr_text == "'Price (3)'!$B$2"
    assert price(new.workbook).workbook == new.workbook


def test_when_the_users_sheet_goes_ours_takes_its_own_name_again():
    with_both = price(named("Price")).workbook
    read = openpyxl.load_workbook(io.BytesIO(with_both))
    del read["Price"]
    again = price(saved(read))
    assert (again.replaced, again.added) == (("Price (2)", "Ways of banding"), WANTED)
    assert sheets_of(again.workbook) == ["Shop", *WANTED]
    assert unsound(again.workbook) == []


def test_a_result_sheet_that_the_user_renamed_is_the_users():
    kept = in_list(priced("openpyxl plain"), lambda text: text.replace('name="Price"', 'name="Price in May"')
                   .replace("'Price'!", "'Price in May'!"))
    again = price(kept)
    assert names_of(again.workbook)["net_total", None] == "'Price in May'!$B$2"
    assert names_of(again.workbook)["net_total_2", None] == "'Price'!$B$2"
    assert again.replaced == ("Ways of banding",)
    assert sheets_of(again.workbook) == ["Shop", "Price in May", *WANTED]
    assert unsound(again.workbook) == []


def test_a_copy_of_a_result_sheet_is_the_users():
    """Spreadsheet programs copy the mark with the sheet; it goes on saying the name of the sheet that we wrote."""
    once = priced("openpyxl plain")
    copied = in_list(once, lambda text: text.replace(
        "</sheets>", '<sheet xmlns:r="http://schemas.openxmlformats.org/officeDocument/2006/relationships" name="Price (2)" '
        'sheetId="9" r:id="rId99"/></sheets>').replace(
        "</definedNames>", '<definedName name="estimator_result_sheet" localSheetId="3" hidden="1">"Price"</definedName>'
        "</definedNames>"))
    rels = read_part(once, "xl/_rels/workbook.xml.rels").replace(
        b"</Relationships>", b'<Relationship Id="rId99" Type="http://schemas.openxmlformats.org/officeDocument/2006/'
        b'relationships/worksheet" Target="worksheets/sheet9.xml"/></Relationships>')
    types = read_part(once, "[Content_Types].xml").replace(
        b"</Types>", b'<Override PartName="/xl/worksheets/sheet9.xml" ContentType="application/vnd.openxmlformats-'
        b'officedocument.spreadsheetml.worksheet+xml"/></Types>')
    copied = with_parts(copied, {"xl/_rels/workbook.xml.rels": rels, "[Content_Types].xml": types,
                                 "xl/worksheets/sheet9.xml": read_part(once, "xl/worksheets/sheet1.xml")})
    again = price(copied)
    assert again.replaced == WANTED
    assert sheets_of(again.workbook) == ["Shop", "Price (2)", *WANTED]
    assert names_of(again.workbook)["estimator_result_sheet", "1"] == '"Price"'
    assert unsound(again.workbook) == []


def moved_to_the_front(text):
    """Our two sheets before the user's, as a user may drag them: positions in names and views follow."""
    sheets = re.findall(r"<sheet .*?/>", text)
    text = text.replace("".join(sheets), "".join((*sheets[-2:], *sheets[:-2])))
    count = len(sheets)
    return re.sub(r'localSheetId="(\d+)"', lambda found: f'localSheetId="{(int(found[1]) + 2) % count}"', text)


@pytest.mark.parametrize(("open_tab", "then"), [(0, 2), (1, 3), (2, 0), (3, 1)])
def test_positions_follow_when_our_sheets_stood_between(open_tab, then):
    """Open were: our first, our second, the user's first, the user's second; ours go back to the end."""
    book = openpyxl.load_workbook(io.BytesIO(named("Other")))
    book["Other"].print_area = "A1:B2"
    once = price(saved(book)).workbook
    moved = in_list(once, lambda text: re.sub(r'activeTab="\d+"', f'activeTab="{open_tab}"', moved_to_the_front(text)))
    assert sheets_of(moved) == [*WANTED, "Shop", "Other"]
    again = price(moved).workbook
    assert sheets_of(again) == ["Shop", "Other", *WANTED]
    assert names_of(again)["_xlnm.Print_Area", "1"] == "'Other'!$A$1:$B$2"
    assert names_of(again) == names_of(once)
    assert tab_of(again) == then
    sheet = {2: "xl/worksheets/sheet3.xml", 3: "xl/worksheets/sheet4.xml"}.get(then)
    assert sheet is None or b'tabSelected="1"' in read_part(again, sheet)
    assert sum(b"sheetView" in part and b'tabSelected="1"' in part and name.endswith(("3.xml", "4.xml"))
               for name, part in named_parts(again).items()) == (sheet is not None)


def only_price(book):
    """A pricing that writes one sheet where it wrote two before."""
    out = drawn(lambda new, shop: None)
    text = read_part(out, "xl/workbook.xml").replace(b'name="Shop"', b'name="Price"')
    return add_sheets(user_book=book, ours=with_parts(out, {"xl/workbook.xml": text}))


def test_a_result_sheet_that_is_not_written_again_goes_with_all_it_used():
    book = in_list(priced("openpyxl plain"), lambda text: text.replace(
        "</definedNames>", "<definedName name=\"mine\">'Ways of banding'!$B$2+Price!$B$2</definedName></definedNames>"))
    once = only_price(book)
    assert (once.replaced, once.added) == (WANTED, ("Price",))
    assert sheets_of(once.workbook) == ["Shop", "Price"]
    assert not [name for name in named_parts(once.workbook) if "chart" in name or "drawing" in name or "media" in name]
    assert unsound(once.workbook) == []
    assert orphans(once.workbook) == set()
    assert names_of(once.workbook)["mine", None] == "#REF!$B$2+Price!$B$2"
    assert ("net_total", None) not in names_of(once.workbook)


def test_a_picture_that_the_user_took_from_our_sheet_stays():
    """A program that saves a book keeps equal pictures once: ours may then serve a sheet of the user's too."""
    once = priced("openpyxl many things")
    ours = next(name for name, part in named_parts(once).items() if name.startswith("xl/media") and part == png(99))
    rels = read_part(once, "xl/drawings/_rels/drawing1.xml.rels")
    shared = with_parts(once, {"xl/drawings/_rels/drawing1.xml.rels": re.sub(
        rb"/xl/media/image1.png", b"/" + ours.encode(), rels)})
    assert shared != once
    again = price(shared, picture=3).workbook
    assert read_part(again, ours) == png(99)
    assert unsound(again) == []


def test_a_part_that_is_promised_but_missing_is_not_filled_with_ours():
    """Some libraries leave a sheet pointing at a drawing that they never wrote; ours must not turn up in that sheet."""
    book = by_hand(BARE, parts=PROMISED, types=PROMISED_TYPES)
    new = named_parts(price(book).workbook)
    assert new.keys() >= {"xl/drawings/drawing3.xml", "xl/drawings/drawing4.xml", "xl/comments2.xml"}
    assert not new.keys() & {"xl/drawings/drawing1.xml", "xl/drawings/drawing2.xml", "xl/comments1.xml"}
    assert price(price(book).workbook).workbook == price(book).workbook


def test_a_name_of_the_users_that_only_sounds_like_ours_stays():
    book = BOOKS["openpyxl many things"]
    assert free_defined_names(book, ["WAGE", "net_total"]) == {"WAGE": "WAGE_2", "net_total": "net_total"}
    new = price(book, defined="wage").workbook
    assert names_of(new)["wage", None] == "Shop!$B$5"
    assert names_of(new)["wage_2", None] == "'Price'!$B$2"
    assert price(new, defined="wage").workbook == new


def test_who_does_not_ask_for_names_is_stopped():
    with pytest.raises(ValueError, match="Price"):
        add_sheets(user_book=named("PRICE"), ours=result_sheets({name: name for name in WANTED}))
    with pytest.raises(ValueError, match="wage"):
        add_sheets(user_book=BOOKS["openpyxl many things"],
                   ours=result_sheets({name: name for name in WANTED}, defined="wage"))
    with pytest.raises(ValueError, match="different years"):
        add_sheets(user_book=BOOKS["XlsxWriter days from 1904"], ours=result_sheets({name: name for name in WANTED}))
    assert dates_from_1904(BOOKS["XlsxWriter days from 1904"]) is True
    assert dates_from_1904(BOOKS["XlsxWriter plain"]) is False


def chart_sheet(book, shop):
    chart = book.add_chart({"type": "pie"})
    chart.add_series({"values": "=Shop!$B$5:$B$5"})
    book.add_chartsheet("Chart").set_chart(chart)


@pytest.mark.parametrize("draw", [
    lambda book, shop: shop.add_table("A1:B3"),
    chart_sheet,
    lambda book, shop: shop.write_dynamic_array_formula("A1", "=SORT(B1:B3)"),
    lambda book, shop: book.add_vba_project(io.BytesIO(b"x"), is_stream=True),
], ids=["a table", "a chart sheet", "a dynamic array", "macros"])
def test_what_nothing_here_can_move_is_a_fault_of_the_writer(draw):
    with pytest.raises(ValueError, match="may not use"):
        add_sheets(user_book=by_hand(BARE.replace("Shop", "Other")), ours=drawn(draw))


def test_a_style_that_the_book_has_already_is_used_again():
    """Ours are in the book after the first pricing; a tenth one adds nothing."""
    once = priced("XlsxWriter many things")
    tenth = once
    for factor in range(10):
        tenth = price(tenth, factor=factor + 2).workbook
    assert read_part(tenth, "xl/styles.xml") == read_part(once, "xl/styles.xml")


words = some.text(some.characters(exclude_categories=["Cs"], exclude_characters="\x00[]:*?/\\"), min_size=1, max_size=31)


@settings(deadline=None)
@given(wanted=words, taken=some.lists(words, max_size=8))
def test_a_free_name_is_short_and_free(wanted, taken):
    found = free_name(wanted, [*taken, wanted])
    assert len(found) <= 31
    assert found.casefold() not in {name.casefold() for name in [*taken, wanted]}


@settings(deadline=None, max_examples=40)
@given(sheets=some.lists(some.sampled_from(["Price", "PRICE (2)", "Price (3)", "ways of BANDING", "A", "a & b", "it's"]),
                         unique_by=str.casefold))
def test_ours_stand_last_whatever_the_users_sheets_are_called(sheets):
    spliced = price(named(*sheets))
    assert isinstance(spliced, Spliced)
    assert sheets_of(spliced.workbook) == ["Shop", *sheets, *spliced.added]
    assert unsound(spliced.workbook) == []
    again = price(spliced.workbook)
    assert (again.workbook, again.replaced) == (spliced.workbook, spliced.added)
