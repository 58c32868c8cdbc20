"""The head of the first page: who asks, who answers, which quote, and until when."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from markupsafe import Markup

from estimator.papers.page.fonts import markup
from estimator.papers.page.look import PT_PER_MM, SMALL_PT, TEXT_PT, grey
from estimator.papers.page.pieces import gap, paragraph, rule, title
from estimator.papers.quote.logo_file import logo_beside
from estimator.papers.quote.paper import QuotePaper, one_line

if TYPE_CHECKING:
    from reportlab.platypus.flowables import Flowable

_LONG_ITEM = 40
_LOGO_WIDTH_MM, _LOGO_HEIGHT_MM = 42, 20
_LARGEST_LOGO_PIXELS = 40_000_000
_PRINTED_PIXELS = 1000


def letterhead(paper: QuotePaper) -> list[Flowable]:
    """The shop with the place for its logo, the client, the site, number and dates, and the title."""
    terms, look, words = paper.terms, paper.look, paper.words
    story = who_and_when(paper)
    name = " ".join(part for part in (words.label("quote"), one_line(terms.quote_number)) if part)
    story.append(title(": ".join(part for part in (name, one_line(terms.job_name)) if part), look))
    story.append(gap(0.5))
    return story + words.story("opening", paper.values(), look)


def who_and_when(paper: QuotePaper) -> list[Flowable]:
    """The head of every paper for the client: the shop, the client, the site, number and dates."""
    return [_shop_and_logo(paper), gap(0.5), rule(paper.look), gap(0.5), _parties(paper), gap(1.5)]


def _shop_and_logo(paper: QuotePaper) -> Flowable:
    shop, look, words = paper.estimate.job.shop, paper.look, paper.words
    numbers = (
        ("telephone", shop.telephone, False), ("", shop.email, False),
        ("licence", shop.licence_number, True), ("tax number", shop.tax_number, True),
    )  # fmt: skip
    said = [f"{words.label(name)} {one_line(value)}" if named else one_line(value) for name, value, named in numbers if value]
    left: list[Flowable] = [
        paragraph(one_line(shop.shop_name), look, name="title"),
        paragraph(one_line(shop.shop_address), look, name="small"),
        paragraph("  ·  ".join(_unbroken(one) for one in said), look, name="small"),
    ]
    logo_pt = _LOGO_WIDTH_MM * PT_PER_MM
    return side_by_side([left, [_logo(paper.logo)]], widths_pt=[look.width_pt - logo_pt, logo_pt])


def _unbroken(words: str) -> str:
    """A short item that goes to the next line in whole."""
    return words.replace(" ", "\N{NO-BREAK SPACE}") if len(words) < _LONG_ITEM else words


def _logo(file: Path | None) -> Flowable:
    """The shop's logo in its place at the right, or the blank space for it."""
    from reportlab.platypus import Image, Spacer

    blank = Spacer(1, _LOGO_HEIGHT_MM * PT_PER_MM * 0.6)
    picture = _picture(file) if file else None
    if picture is None:
        return blank
    wide, high = _LOGO_WIDTH_MM * PT_PER_MM, _LOGO_HEIGHT_MM * PT_PER_MM
    return Image(picture, width=wide, height=high, kind="proportional", hAlign="RIGHT", lazy=0)


def _picture(file: Path) -> object | None:
    """A picture that can be printed, made small enough for a letterhead; None for whatever is not one."""
    from io import BytesIO

    from PIL import Image as Picture

    try:
        with Picture.open(file, formats=("PNG", "JPEG", "GIF", "BMP")) as picture:
            if picture.width * picture.height > _LARGEST_LOGO_PIXELS:
                return None
            drawn = picture.convert("RGBA")
            drawn.thumbnail((_PRINTED_PIXELS, _PRINTED_PIXELS))
            on_white = Picture.new("RGB", drawn.size, "white")
            on_white.paste(drawn, mask=drawn.getchannel("A"))
            out = BytesIO()
            on_white.save(out, "PNG")
            out.seek(0)
            return out
    except (OSError, ValueError, SyntaxError, Picture.DecompressionBombError):
        return None


def logo_can_be_printed(name: str, *, beside: Path | None) -> bool:
    """Whether the file named in Job > Logo is there and is a picture: for a remark when it is not."""
    file = logo_beside(name, beside=beside)
    return file is not None and _picture(file) is not None


def _parties(paper: QuotePaper) -> Flowable:
    terms, look, words, language = paper.terms, paper.look, paper.words, paper.language
    client = [terms.client, *terms.client_address.splitlines(), terms.client_email]
    site = terms.site_address.splitlines()
    facts = (
        ("quote number", one_line(terms.quote_number)), ("revision", one_line(terms.revision)),
        ("date", language.date(terms.quote_date)), ("valid until", language.date(paper.valid_until)),
        ("prepared by", one_line(terms.prepared_by)),
    )  # fmt: skip
    said = [(words.label(name), value) for name, value in facts if value]
    third = look.width_pt / 3
    return side_by_side(
        [
            _address(words.label("for"), client, paper),
            _address(words.label("site"), site, paper) if site else [],
            [_facts(said, paper, width_pt=third)],
        ],
        widths_pt=[third, third, third],
    )


def _address(head: str, lines: Sequence[str], paper: QuotePaper) -> list[Flowable]:
    return [
        paragraph(standing_back(head), paper.look),
        paragraph("\n".join(line.strip() for line in lines if line.strip()), paper.look),
    ]


def _facts(facts: Sequence[tuple[str, str]], paper: QuotePaper, *, width_pt: float) -> Flowable:
    from reportlab.platypus import Table

    rows = [[paragraph(standing_back(name), paper.look), paragraph(value, paper.look)] for name, value in facts]
    label_pt = 23 * PT_PER_MM
    on_one_line = [("BOTTOMPADDING", (0, 0), (-1, -1), 1), ("TOPPADDING", (0, 0), (0, -1), TEXT_PT - SMALL_PT)]
    return Table(rows, colWidths=[label_pt, width_pt - label_pt], style=[*_BARE, *on_one_line])


_BARE: list[tuple[object, ...]] = [
    ("LEFTPADDING", (0, 0), (-1, -1), 0),
    ("RIGHTPADDING", (0, 0), (-1, -1), 8),
    ("RIGHTPADDING", (-1, 0), (-1, -1), 0),
    ("TOPPADDING", (0, 0), (-1, -1), 0),
    ("BOTTOMPADDING", (0, 0), (-1, -1), 0),
    ("VALIGN", (0, 0), (-1, -1), "TOP"),
]


def side_by_side(columns: Sequence[Sequence[Flowable]], *, widths_pt: Sequence[float]) -> Flowable:
    """Flowables beside each other, without lines or frames."""
    from reportlab.platypus import Table

    return Table(
        [[list(column) or "" for column in columns]], colWidths=list(widths_pt), style=_BARE, hAlign="LEFT", splitInRow=1
    )


def with_details(text: str, *details: str, small: str = "") -> Markup:
    """Plain text in strong type, with plain lines below it, and a last one in small type."""
    lines = [f"<b>{markup(text)}</b>", *(markup(line) for line in details if line)]
    if small:
        lines.append(standing_back(small))
    return Markup("<br/>".join(lines))


def standing_back(text: str) -> Markup:
    """Plain text in small grey type within a line of text."""
    return Markup(f'<font size="{SMALL_PT}" color="{grey().hexval().replace("0x", "#")}">{markup(text)}</font>')
