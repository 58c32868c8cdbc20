"""What every paper is made of. A story of flowables goes in, the bytes of a PDF come out.

    fonts.py      the letters: which font draws which, what no font can draw, plain text into safe markup
    look.py       paper, margins, colours, the three type sizes and the paragraph styles
    letters.py    which letters of a job cannot be shown as they should, for a remark
    language.py   numbers, money, dates, lengths as the language and the currency write them
    right_to_left.py  names in Hebrew or Arabic letters, turned and joined
    clock.py      times of day
    words.py      plain paragraphs: lines broken, drawn, split over pages
    tables.py     tables with a repeated header, decimals under each other, totals that never stand alone
    rows.py       their rows on paper
    pieces.py     headings that make the outline, paragraphs, lists, a rule, a tick box, a line to sign on
    phrases.py    the words of the shop's and the owner's papers, by language
    wording.py    the sentences of the quote: templates of a language, single ones replaced by the shop
    document.py   pages with `Page 2 of 5` at the foot, metadata, outline; the same story gives the same bytes

A paper is made so:

    look = look_of(paper=terms.paper, colour=shop.colour)
    language = Language(code=terms.language, currency=terms.currency, units=terms.units, finest_inch=int(terms.show_fractions))
    story = [title("Cut list", look), *heading("Oak 18 mm", look), table(columns, rows, look=look, width_pt=look.width_pt)]
    pdf = document(story, look=look, language=language, title="Cut list 1042", author=shop.shop_name, foot="1042-2 Smith")

Every string that comes from a workbook may be handed over as it is: `paragraph`, `table` and `heading` make it harmless.
Only a `markupsafe.Markup` (what our templates give back) is taken as markup.
"""
