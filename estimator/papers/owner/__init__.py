"""What the owner's pages are made of: an Estimate goes in, flowables of one section come out.

    paper.py              what every section is given; what is kept of the price; a way of banding in words
    answer_page.py        the first page: price, cost, profit kept, hours, sheets, how to band, three remarks
    money_page.py         where the money goes, what a cabinet and a running metre cost, profit in its two percents
    banding_page.py       what to do about banding, what it saves, what would change it, the routes side by side
    limits_page.py        how far that holds: size of the job, one edging alone, every input a fifth less and more
    glue_day_page.py      the bench's timetable as bars on a clock
    glue_batches_page.py  each glue batch by itself, where there is no timetable
    machine_page.py       a machine of one's own
    remarks_page.py       doubt about hours and cost, numbers that are untimed or old, everything worth a look
    charts.py             bars, stacked bars and bars in time, drawn so that they read in black and white
    plots.py              lines over an axis, inputs lower and higher
"""
