"""The client's quote, section by section.

words.py       what the templates may name
letterhead.py  the head of the first page: the shop, the client, the site, the quote's number and dates
logo_file.py   where the logo lies: beside the workbook or below, never outside
rooms.py       the front view of each room's run
price.py       the table that ends in the total, the options, the payments
schedule.py    every cabinet with a small front view, loose parts, extras, finishes
acceptance.py  the page that is signed
"""
