"""The sheets of one job: Job, Cabinets, Loose parts, Extras, Options, Time log."""

from estimator.model.form.column import Column, Sheet
from estimator.model.form.shared import COUNTS_AS, GRAIN, MARKS, NOTE, TAX, sizes

JOB = Sheet(
    "Job", "items", "job", "who the job is for and on what terms",
    (
        Column("Job name", "job_name", "text", "what you call the job"),
        Column("Quote number", "quote_number", "text", "your own numbering"),
        Column("Revision", "revision", "text", "what was sent is never overwritten: a changed job takes the next one", "1"),
        Column("Quote date", "quote_date", "date", "the date printed on the quote", needed=True),
        Column("Prepared by", "prepared_by", "text", "who answers for the price"),
        Column("Client", "client", "text", "name on the quote"),
        Column("Client address", "client_address", "text", "as it stands on an envelope"),
        Column("Site address", "site_address", "text", "where the cabinets go"),
        Column("Client e-mail", "client_email", "text", "where the quote is sent"),
        Column("Units", "units", "choice", "for every length in this workbook", "mm", choices=("mm", "inch")),
        Column("Currency", "currency", "currency", "three letters, such as EUR, GBP, JPY", needed=True),
        Column("Tax name", "tax_name", "text", "VAT, sales tax, as the client knows it", "Tax"),
        Column("Tax rate", "tax_rate_share", "percent", "for lines that name none; a job without tax says 0 %", needed=True),
        Column("Prices shown", "prices_shown", "choice", "on the quote", "without tax",
               choices=("without tax", "with tax", "both")),
        Column("Tax words", "tax_words", "text", "for an exempt or reverse-charge job"),
        Column("Quote shows", "quote_shows", "choice", "how far the client sees the price split", "by room",
               choices=("total", "by room", "by cabinet")),
        Column("Status", "status", "choice", "how the quote stands", "asked", choices=("asked", "sent", "won", "lost")),
        Column("Lead time words", "lead_time_words", "text", "such as: six weeks from the deposit"),
        Column("Not included", "not_included", "text", "what the client might expect and does not get"),
        Column("Discount", "discount", "percent or money", "on the sum of lines, never on delivery", "0"),
        Column("Delivery charge", "delivery_charge", "money", "one charge for the whole job", "0"),
        Column("Delivery tax rate", "delivery_tax_rate_share", "percent", "blank: the job's tax rate; 0 % must be written"),
        Column("Margin", "margin_share", "percent", "share of the price that is left after cost; this or Markup", below="100"),
        Column("Markup", "markup_share", "percent", "added to the cost, as a share of it; this or Margin"),
        Column("Contingency", "contingency_share", "percent", "of the cost, before the margin; never on the quote", "0 %"),
        Column("Least price", "least_price", "money", "no job is priced below this before tax"),
        Column("Round total to", "round_total_to", "money", "such as 5: a visible rounding line brings the total there",
               above_0=True),
        Column("Site trips", "site_trips", "whole", "drives to the site that the work is charged for", "0"),
        Column("Payment schedule", "payment_schedule", "schedule", "must add up to exactly 100 %",
               "50 % deposit, 40 % before delivery, 10 % on completion"),
        Column("Deposit cap", "deposit_cap", "percent or money", "the most that local law lets you ask first"),
        Column("Valid for", "valid_for_days", "whole", "days that the price holds", "30"),
        Column("Working days available", "working_days_available", "whole", "a contract bander slower than this is out"),
        Column("Banding", "banding", "banding", "best, by hand, send out, or the edgings to send, with commas", "best"),
        Column("Finish", "finish", "name", "for cabinets whose own Finish is blank", names_in="Finishes"),
        Column("Bench temperature", "bench_temperature", "number", "for the sheet Drying; blank: the Adhesives' own times"),
        Column("Bench humidity", "bench_humidity", "number", "in %, for the sheet Drying"),
        Column("Logo", "logo", "text", "a picture file beside the workbook, for the letterhead"),
        Column("Language", "language", "choice", "of all papers", "en", choices=("en", "de")),
        Column("Paper", "paper", "choice", "of every PDF", "A4", choices=("A4", "Letter")),
        Column("Show fractions", "show_fractions", "choice", "inches on paper to the nearest 16th, 32nd or 64th", "16",
               choices=("16", "32", "64")),
    ),
)  # fmt: skip

CABINETS = Sheet(
    "Cabinets", "rows", "job", "one row a cabinet; Height is the box, Depth the box without doors",
    (
        Column("Ref", "ref", "text", "such as Kitchen 4; blank: the next number in the room"),
        Column("Room", "room", "text", "the quote adds up by room"),
        Column("Kind", "kind", "name", "a kind of the Construction sheet", needed=True, names_in="Construction"),
        Column("Qty", "qty", "whole", "how many alike", needed=True, at_least="1"),
        Column("Width", "width_mm", "length", "outside of the box", needed=True, above_0=True),
        Column("Height", "height_mm", "length", "outside of the box, without legs, plinth or top; blank: the kind's",
               above_0=True),
        Column("Depth", "depth_mm", "length", "outside of the box, without doors; blank: the kind's", above_0=True),
        *sizes(shelves="adjustable shelves in each", doors="doors on each", drawers="drawers in each"),
        Column("Front heights", "front_heights_mm", "lengths", "drawer fronts from top to bottom; blank: equal"),
        Column("Finish", "finish", "name", "a finish choice; blank: the job's", names_in="Finishes"),
        Column("Finished ends", "finished_ends", "choice", "ends that show and get a panel", "none",
               choices=("none", "left", "right", "both")),
        TAX, NOTE,
    ),
    own_columns="a further column with numbers is a name for the rules (Plinth height: plinth_height); a blank cell: as Shop says, else 0",
)  # fmt: skip

LOOSE_PARTS = Sheet(
    "Loose parts", "rows", "job", "one row a part that belongs to no cabinet",
    (
        Column("Ref", "ref", "text", "blank: the next number in the room"),
        Column("Room", "room", "text", "the quote adds up by room"),
        Column("Part", "part", "text", "what it is: filler, plinth, end panel", needed=True),
        Column("Qty", "qty", "whole", "how many alike", needed=True, at_least="1"),
        Column("Length", "length_mm", "length", "runs along the grain", needed=True, above_0=True),
        Column("Width", "width_mm", "length", "across it", needed=True, above_0=True),
        Column("Board", "board", "text", "a board, or with a Finish one of its roles", needed=True),
        Column("Edging", "edging", "text", "an edging, or with a Finish one of its roles"),
        *MARKS, GRAIN,
        Column("Finish", "finish", "name", "then Board and Edging may name its roles", names_in="Finishes"),
        COUNTS_AS, TAX, NOTE,
    ),
)  # fmt: skip

EXTRAS = Sheet(
    "Extras", "rows", "job", "sold with the job but not made by these rules: worktops, glass, a painter",
    (
        Column("Ref", "ref", "text", "blank: the next number in the room"),
        Column("Room", "room", "text", "the quote adds up by room"),
        Column("Words for the quote", "words", "text", "how the client reads it", needed=True),
        Column("Qty", "qty", "number", "how many, or how much", needed=True, above_0=True),
        Column("Cost each", "cost_each", "money", "what it costs the shop"),
        Column("Minutes each", "minutes_each", "number", "the shop's own work on it"),
        Column("Price each", "price_each", "money", "typed: sold at this price; blank: priced with the job"),
        TAX,
    ),
    may_be_absent=True, everyday=False,
)  # fmt: skip

OPTIONS = Sheet(
    "Options", "rows", "job", "the same job with another finish, shown on the quote as a difference",
    (
        Column("Option", "option", "text", "rows of one name belong together", needed=True),
        Column("Replace finish", "replace_finish", "name", "the finish that goes", needed=True, names_in="Finishes"),
        Column("With finish", "with_finish", "name", "the finish that comes", needed=True, names_in="Finishes"),
        Column("Words for the quote", "words", "text", "how the client reads it"),
    ),
    may_be_absent=True, everyday=False,
)  # fmt: skip

TIME_LOG = Sheet(
    "Time log", "rows", "job", "what the bench really took",
    (
        Column("Date", "date", "date", "when it was done", needed=True),
        Column("Job", "job", "text", "blank: this workbook's job; in times.xlsx its workbook, Job name or Quote number"),
        Column("Step", "step", "text", "a step of Work; several with + between them; a stage; a board or an edging really used",
               needed=True),
        Column("Count", "count", "number", "how many were done, or sheets or metres used (feet where Units is inch); "
               "blank: all that the job counts",
               inch_hint="how many were done, or sheets or feet used; blank: all that the job counts"),
        Column("Minutes", "minutes", "number", "how long it took, of one person; blank for a board or an edging"),
        NOTE,
    ),
    may_be_absent=True, everyday=False,
)  # fmt: skip
