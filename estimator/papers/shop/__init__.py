"""The shop papers: what a bench works from. An estimate goes in; the story of each paper comes out, in black and white.

    paper.py             what every section is given: the estimate, the look, numbers as text, edges in words
    edges.py             every banded edge by itself, in the order in which the batches take them
    part_drawing.py      a part laid flat, its banded edges thick, an arrow for the grain
    job_page.py          the job on one page
    cut_list.py          every part, board by board, in the order of the saw
    cutting_diagrams.py  the sheets of the cutting plan: pieces.py writes in a piece, cuts.py tells the saw what to do
    glue_day_sheet.py    the bench's timetable by the clock
    banding_schedule.py  the glue batches at the bench: strips to cut and where each goes
    send_out_sheet.py    what goes to the contract bander, counted out and in
    labels.py            one label a piece, with its QR code from qr_code.py
    buy_list.py          what to buy, by supplier
    assembly_sheets.py   each cabinet with its parts laid flat
    time_sheet.py        the steps of this job, to write down what each really took
    cautions_page.py     what can hurt

Front is the long edge at the foot of a drawing, back the one at its top, left and right are the ends.
"""
