"""The sheets that a shop fills in once: Finishes, Shop, Boards, Edgings, Adhesives, Drying."""

from estimator.model.form.column import Column, Sheet
from estimator.model.form.shared import HIGH_PRICE, HIGH_PRICE_M, LOW_PRICE, LOW_PRICE_M, ON_HAND, PRICED_ON

FINISHES = Sheet(
    "Finishes", "rows", "shop", "one row a finish choice; every header X board or X edging makes a role x",
    (
        Column("Finish", "finish", "text", "the name that Cabinets use", needed=True),
        Column("Words for the quote", "words", "text", "how the client reads it"),
    ),
    own_columns="X board and X edging: the board and the edging of role x",
)  # fmt: skip

SHOP = Sheet(
    "Shop", "items", "shop", "the shop, its hour and the lengths of its box; any row of Job may stand here as the default",
    (
        Column("Shop name", "shop_name", "text", "letterhead"),
        Column("Shop address", "shop_address", "text", "letterhead"),
        Column("Licence number", "licence_number", "text", "where local law wants one on the quote"),
        Column("Tax number", "tax_number", "text", "letterhead"),
        Column("Bank", "bank", "text", "where the client pays to"),
        Column("E-mail", "email", "text", "letterhead"),
        Column("Telephone", "telephone", "text", "letterhead"),
        Column("Colour", "colour", "text", "the one accent of the papers, such as #24425C"),
        Column("Direct rate", "direct_rate", "money", "what an hour of a worker costs; or the build-up from Wage"),
        Column("Overhead rate", "overhead_rate", "money", "rent, office, vans an hour; or from Overhead a year"),
        Column("Wage", "wage", "money", "paid an hour; the owner's too"),
        Column("Paid hours", "paid_hours", "number", "a year and worker", above_0=True),
        Column("On-cost", "on_cost_share", "percent", "what the employer pays on top", "0 %"),
        Column("Productive hours", "productive_hours", "number", "a year and worker, at the bench", above_0=True),
        Column("Workers", "workers", "number", "how many share the overhead", above_0=True),
        Column("Overhead a year", "overhead_a_year", "money", "all that is paid whether there is work or not"),
        Column("Allowance", "allowance_share", "percent", "of the basic time, for rest and small delays", "0 %"),
        Column("Value of a freed hour", "value_of_a_freed_hour", "freed hour",
               "what an hour saved at the bench is worth: idle, wage, full rate or an amount", "wage"),
        Column("Saw kerf", "kerf_mm", "length", "what the blade takes", "0"),
        Column("Sheet trim", "trim_mm", "length", "cut off each side of a sheet", "0"),
        Column("Bench length", "bench_length_m", "roll length", "strip that can lie out at once; blank: no limit",
               above_0=True),
        Column("Edges in a batch", "edges_in_a_batch", "whole", "most edges at once; blank: no limit", at_least="1"),
        Column("Workers at the bench", "bench_workers", "whole", "who band at the same time", "1", at_least="1"),
        Column("Start of day", "start_of_day", "text", "when the bench starts, such as 7:30", "8:00"),
        Column("End of day", "end_of_day", "text", "when the bench stops", "16:30"),
        Column("Breaks", "breaks", "text", "when nobody works, such as 9:30-9:45, 12:00-12:30", "12:00-12:30"),
        Column("Spoilt by hand", "spoilt_by_hand_share", "percent", "of the edges banded at the bench", "0 %", at_most="100"),
        Column("Learning", "learning", "choice", "a what-if for runs of identical cabinets, never in the price: unit model (each "
               "doubling of the run brings the time of one down to Learning percent) or cumulative average (the average so far)",
               choices=("unit model", "cumulative average")),
        Column("Learning percent", "learning_share", "percent", "what each doubling of the run leaves", "90 %", above_0=True,
               at_most="100"),
        Column("Learning floor", "learning_floor_share", "percent", "no cabinet takes less than this of the first one", "0 %",
               at_most="100"),
        Column("Label columns", "label_columns", "whole", "labels side by side on the sheet that you print on", "3", at_least="1"),
        Column("Label rows", "label_rows", "whole", "labels one below the other", "8", at_least="1"),
        Column("Label side margin", "label_side_mm", "length", "from the paper's edge to the first label, left and right", "0"),
        Column("Label top margin", "label_top_mm", "length", "the same at the top and at the foot", "0"),
        Column("Least change fee", "least_change_fee", "money", "before tax: the least that added work costs in a change order", "0"),
        Column("Prices stale after", "prices_stale_after_days", "whole", "days after which a price is said to be old", "365"),
    ),
    own_columns="every further row with a number is a length for the rules (gap side: gap_side)",
)  # fmt: skip

BOARDS = Sheet(
    "Boards", "rows", "shop", "one row a board and sheet size",
    (
        Column("Board", "board", "text", "several sizes of one board: several rows", needed=True),
        Column("Thickness", "thickness_mm", "length", "measured, not as labelled", needed=True, above_0=True),
        Column("Sheet length", "sheet_length_mm", "length", "the grain runs along it", needed=True, above_0=True),
        Column("Sheet width", "sheet_width_mm", "length", "across the grain", needed=True, above_0=True),
        Column("Price", "price", "money", "of one sheet", needed=True),
        Column("Grain", "grain", "yes no", "yes: parts are not turned", "no"),
        Column("Charge", "charge", "choice", "how the job pays for it", "whole sheets", choices=("whole sheets", "area")),
        Column("Expected yield", "expected_yield_share", "percent", "blank: sheets come from a cutting plan",
               above_0=True, at_most="100"),
        Column("Trim", "trim_mm", "length", "each side; blank: the shop's Sheet trim"),
        Column("On hand", "on_hand", "whole", "sheets in stock, used before any is bought", "0"),
        Column("Density", "density_kg_m3", "number", "kg a cubic metre, for the mass of a sheet", above_0=True,
               inch_hint="kg a cubic metre, for the mass of a sheet: pounds a cubic foot times 16"),
        Column("E modulus", "e_modulus_n_mm2", "number", "N a square mm, for the sag of shelves", above_0=True,
               inch_hint="N a square mm, for the sag of shelves: pounds a square inch divided by 145"),
        PRICED_ON, LOW_PRICE, HIGH_PRICE,
    ),
)  # fmt: skip

EDGINGS = Sheet(
    "Edgings", "rows", "shop", "one row an edging and width",
    (
        Column("Edging", "edging", "text", "several widths of one edging: several rows", needed=True),
        Column("Material", "material", "text", "a step of Work may be limited to it"),
        Column("Thickness", "thickness_mm", "length", "of the band", needed=True, above_0=True),
        Column("Width", "width_mm", "length", "at least the board's thickness and 2 mm", needed=True, above_0=True,
               inch_hint="at least the board's thickness and 5/64 (2 mm)"),
        Column("Price", "price_per_m", "money a metre", "a metre (a foot where Units is inch)", needed=True, inch_hint="a foot"),
        Column("Roll length", "roll_length_m", "roll length", "metres (feet where Units is inch)", above_0=True, inch_hint="feet"),
        Column("Charge", "charge", "choice", "blank: whole rolls where a roll length is given",
               choices=("metres", "whole rolls"),
               inch_hint="metres: by the foot, no more than is needed; blank: whole rolls where a roll length is given"),
        Column("Overhang", "overhang_mm", "length", "left over at each end, trimmed later", "0"),
        Column("Spare", "spare_share", "percent", "bought on top of what is needed", "0 %"),
        Column("Deduct", "deduct", "yes no", "yes: parts are cut smaller by the band's thickness", "no"),
        Column("By hand", "by_hand", "yes no", "no: cannot be banded at the bench", "yes"),
        Column("Send out", "send_out", "yes no", "no: cannot go to the contract bander", "yes"),
        Column("Adhesive", "adhesive", "name", "none or blank: pre-glued", names_in="Adhesives"),
        Column("On hand", "on_hand_m", "roll length", ON_HAND, "0"),
        PRICED_ON, LOW_PRICE_M, HIGH_PRICE_M,
    ),
)  # fmt: skip

ADHESIVES = Sheet(
    "Adhesives", "rows", "shop", "one row an adhesive; figures from its data sheet",
    (
        Column("Adhesive", "adhesive", "text", "the name that Edgings use", needed=True),
        Column("Coverage", "coverage_m2_per_litre", "number", "square metres a litre and coat", needed=True, above_0=True,
               inch_hint="square metres a litre and coat: square feet a US gallon divided by 40.75"),
        Column("Core coats", "core_coats", "whole", "a porous core edge takes two (common practice)", "2"),
        Column("Strip coats", "strip_coats", "whole", "the strip takes one (common practice)", "1"),
        Column("Spare", "spare_share", "percent", "for what stays in the roller and the tin", "0 %"),
        Column("Pack", "pack_litres", "number", "litres", needed=True, above_0=True, inch_hint="litres; a US gallon is 3.785"),
        Column("Price", "price", "money", "of one pack", needed=True),
        Column("Charge", "charge", "choice", "how the job pays for it", "whole packs", choices=("whole packs", "litres")),
        Column("Drying", "drying_min", "number", "minutes from coating to pressing", needed=True),
        Column("Open time", "open_min", "number", "minutes after coating in which it still grips", needed=True,
               above_0=True),
        Column("On hand", "on_hand_litres", "number", ON_HAND, "0"),
        PRICED_ON, LOW_PRICE, HIGH_PRICE,
        Column("Between coats", "between_coats_min", "number", "minutes that a second core coat waits for the first", "0"),
    ),
    everyday=False,
)  # fmt: skip

DRYING = Sheet(
    "Drying", "rows", "shop", "an adhesive's own table of times by temperature and humidity; used for the glue day only",
    (
        Column("Adhesive", "adhesive", "name", "an adhesive of Adhesives", needed=True, names_in="Adhesives"),
        Column("Temperature", "temperature", "number", "of the bench, in the unit of the data sheet", needed=True),
        Column("Humidity", "humidity", "number", "in %; blank: the sheet names none"),
        Column("Drying", "drying_min", "number", "minutes from coating to pressing", needed=True),
        Column("Open time", "open_min", "number", "minutes after coating in which it still grips", needed=True, above_0=True),
    ),
    may_be_absent=True, everyday=False,
)  # fmt: skip
