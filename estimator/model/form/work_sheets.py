"""The sheets that ship filled in, or stand ready: Fittings, Work, Kinds, Construction, Contract, Contract prices, Machine,
Merchant."""

from estimator.model.form.column import Column, Sheet
from estimator.model.form.shared import (
    COUNTS_AS,
    GRAIN,
    HIGH_PRICE,
    HIGH_PRICE_M,
    LOW_PRICE,
    LOW_PRICE_M,
    MARKS,
    ON_HAND,
    PRICED_ON,
    sizes,
)

_ROUTE = Column("Route", "route", "choice", "blank: always", choices=("by hand", "send out"))
PER_ALWAYS = ("job", "site trip", "sheet", "part", "m2", "cabinet", "door", "drawer", "shelf")
PER_BY_HAND = ("job", "batch", "part", "edge", "metre")
PER_SEND_OUT = ("order", "trip", "part", "metre")
PER_OF_ROUTE = {"": PER_ALWAYS, "by hand": PER_BY_HAND, "send out": PER_SEND_OUT}
_PER = Column(
    "Per", "per", "choice", "what it is counted by", needed=True,
    choices=tuple(dict.fromkeys((*PER_ALWAYS, *PER_BY_HAND, *PER_SEND_OUT))),
    inch_hint="what it is counted by; m2 and metre are so in every shop: a metre is 3.28 feet, an m2 10.76 square feet",
)  # fmt: skip
_OF = Column("Of", "of", "text", "blank: all; or a kind, finish, role, board, edging, adhesive or material of edging")

FITTINGS = Sheet(
    "Fittings", "rows", "shop", "hardware and sundries",
    (
        Column("Item", "item", "text", "hinge, runner, handle", needed=True),
        _ROUTE, _PER, _OF,
        Column("Number", "number", "rule", "how many for each; may be a rule", "1"),
        Column("Price", "price", "money", "of one", needed=True),
        Column("Pack", "pack", "number", "how many in a pack, for the buy list", above_0=True),
        Column("On hand", "on_hand", "number", ON_HAND, "0"),
        PRICED_ON, LOW_PRICE, HIGH_PRICE,
    ),
    everyday=False,
)  # fmt: skip

WORK = Sheet(
    "Work", "rows", "shop", "one row a step; minutes of one person",
    (
        Column("Step", "step", "text", "what is done", needed=True),
        Column("Stage", "stage", "text", "cutting, banding, assembly, fitting"),
        _ROUTE, _PER, _OF,
        Column("Minutes", "minutes", "number", "for one; two people count twice", needed=True),
        Column("Rating", "rating", "rating", "pace at which it was timed; 100 is normal", "100", above_0=True),
        Column("Allowance", "allowance_share", "percent", "blank: the shop's; 0 % is none"),
        Column("Low", "low_min", "number", "minutes when all goes well"),
        Column("High", "high_min", "number", "minutes when it does not"),
        Column("During", "during", "choice", "for the drying of glue: by-hand steps per edge or metre",
               choices=("coating", "applying")),
        Column("Timed", "timed", "yes no", "yes: timed in this shop", "no"),
    ),
    everyday=False,
)  # fmt: skip

KINDS = Sheet(
    "Kinds", "rows", "shop", "what a kind of cabinet is when nothing is typed",
    (
        Column("Kind", "kind", "text", "a kind of the Construction sheet", needed=True),
        Column("Words for the quote", "words", "text", "how the client reads it"),
        Column("Height", "height_mm", "length", "when Cabinets leave it blank", above_0=True),
        Column("Depth", "depth_mm", "length", "when Cabinets leave it blank", above_0=True),
        *sizes(doors="as above", shelves="as above", drawers="as above"),
        Column("Stands", "stands", "choice", "in drawings: on the floor or on the wall; blank: guessed from its name and size",
               choices=("floor", "wall")),
    ),
    may_be_absent=True, everyday=False,
)  # fmt: skip

CONSTRUCTION = Sheet(
    "Construction", "rows", "shop", "one row a kind of part in a kind of cabinet; sizes are small rules",
    (
        Column("Kind", "kind", "text", "the name that Cabinets use", needed=True),
        Column("Part", "part", "text", "side, bottom, shelf, door", needed=True),
        Column("Count", "count", "rule", "how many in one cabinet; 0 leaves it out", needed=True),
        Column("Length", "length", "rule", "along the grain", needed=True),
        Column("Width", "width", "rule", "across it", needed=True),
        Column("Board", "board", "text", "a role of Finishes", needed=True),
        Column("Edging", "edging", "text", "a role of Finishes"),
        *MARKS, GRAIN, COUNTS_AS,
    ),
    everyday=False,
)  # fmt: skip

CONTRACT = Sheet(
    "Contract", "items", "shop", "terms of the contract bander; leave empty when there is no offer",
    (
        Column("Contractor", "contractor", "text", "who bands for you"),
        Column("Minimum charge", "minimum_charge", "money", "of one order", "0"),
        Column("Charge per part", "charge_per_part", "money", "for each part handled", "0"),
        Column("Trips", "trips", "whole", "there and back, bring and fetch", "0"),
        Column("Distance per trip", "distance_per_trip", "number", "in the unit of the next row", "0", inch_hint="miles"),
        Column("Cost per distance", "cost_per_distance", "money", "a kilometre or mile", "0", inch_hint="a mile"),
        Column("Lead time", "lead_time_days", "whole", "working days", "0"),
        Column("Supplies edging", "supplies_edging", "yes no", "yes: the price holds the edging", "no"),
        Column("Added length per edge", "added_length_mm", "length", "charged on top of each edge", "0"),
        Column("Breaks count", "breaks_count", "choice", "what a price break is counted over", "per edging",
               choices=("per edging", "whole order")),
        Column("Breaks apply to", "breaks_apply_to", "choice", "what the lower price is for", "whole quantity",
               choices=("whole quantity", "quantity above")),
        Column("Buy up", "buy_up", "yes no", "yes: a higher break is paid where that is cheaper", "no"),
        Column("Smallest length", "smallest_length_mm", "length",
               "longer side of the shortest part that the bander takes", "0"),
        Column("Smallest width", "smallest_width_mm", "length",
               "shorter side of the narrowest part that the bander takes", "0"),
        Column("Spoilt", "spoilt_share", "percent", "of the edges sent: parts that come back spoilt", "0 %", at_most="100"),
    ),
    everyday=False,
)  # fmt: skip

CONTRACT_PRICES = Sheet(
    "Contract prices", "rows", "shop", "one row a price break",
    (
        Column("Edging", "edging", "name", "an edging of Edgings", needed=True, names_in="Edgings"),
        Column("From metres", "from_m", "roll length", "the break: metres (feet where Units is inch)", "0", inch_hint="the break, in feet"),
        Column("Price", "price_per_m", "money a metre", "a metre (a foot where Units is inch)", needed=True, inch_hint="a foot"),
        Column("Set-up", "setup", "money", "once an edging; blank on further rows repeats the first"),
        LOW_PRICE_M, HIGH_PRICE_M,
    ),
    everyday=False,
)  # fmt: skip

MACHINE = Sheet(
    "Machine", "items", "shop",
    "a banding machine that the shop might buy; further columns, headed by a name, hold further machines",
    (
        Column("Price", "price", "money", "of the machine", needed=True),
        Column("Installation", "installation", "money", "power, extraction, delivery", "0"),
        Column("Resale value", "resale_value", "money", "at the end of its life", "0"),
        Column("Life", "life_years", "whole", "years", needed=True, at_least="1"),
        Column("Interest", "interest_share", "percent", "what the money costs a year", needed=True),
        Column("Fixed cost a year", "fixed_cost_a_year", "money", "service, space, insurance", "0"),
        Column("Cost per metre", "cost_per_m", "money a metre", "edging apart: glue, power, minutes", needed=True,
               inch_hint="a foot here; edging apart: glue, power, minutes"),
        Column("Metres a year", "metres_a_year", "roll length", "what the shop bands", needed=True,
               inch_hint="feet here: what the shop bands"),
        Column("Alternative per metre", "alternative_per_m", "money a metre",
               "blank: the cheaper of the shop's routes on this job",
               inch_hint="a foot here; blank: the cheaper of the shop's routes on this job"),
    ),
    may_be_absent=True, everyday=False,
)  # fmt: skip

MERCHANT = Sheet(
    "Merchant", "rows", "shop", "a board merchant who delivers parts cut, or cut and banded: compared with making them here",
    (
        Column("Merchant", "merchant", "text", "who it is"),
        Column("Board", "board", "name", "a board of Boards; blank: every board that has no row", names_in="Boards"),
        Column("Delivers", "delivers", "choice", "how the parts come", "cut", choices=("cut", "cut and banded")),
        Column("Price per sheet", "price_per_sheet", "money", "of the board there; blank: the price in Boards"),
        Column("Price per cut", "price_per_cut", "money", "for each cut of the cutting plan", "0"),
        Column("Price per part", "price_per_part", "money", "for each part delivered", "0"),
        Column("Price per metre banded", "price_per_m", "money a metre", "the edging and its banding", "0",
               inch_hint="a foot here: the edging and its banding"),
        Column("Set-up per edging", "setup", "money", "once an edging and board", "0"),
        Column("Minimum charge", "minimum_charge", "money", "of one order; the highest of the rows holds", "0"),
        Column("Lead time", "lead_time_days", "whole", "working days; the longest of the rows holds", "0"),
        PRICED_ON,
    ),
    may_be_absent=True, everyday=False,
)  # fmt: skip

OFFCUTS = Sheet(
    "Offcuts", "rows", "shop", "pieces of board on hand, used first where that saves a sheet",
    (
        Column("Board", "board", "name", "a board of Boards", needed=True, names_in="Boards"),
        Column("Length", "length_mm", "length", "as it lies there, along the grain", needed=True, above_0=True),
        Column("Width", "width_mm", "length", "across the grain", needed=True, above_0=True),
        Column("Count", "count", "whole", "how many alike", "1"),
    ),
    may_be_absent=True, everyday=False,
)  # fmt: skip

ROLL_ENDS = Sheet(
    "Roll ends", "rows", "shop", "what is left of rolls of edging: the banding schedule says which strip comes from which",
    (
        Column("Edging", "edging", "name", "an edging of Edgings", needed=True, names_in="Edgings"),
        Column("Width", "width_mm", "length", "blank: the edging's only width", above_0=True),
        Column("Length", "length_m", "roll length", "what is left on the roll", needed=True, above_0=True),
        Column("Count", "count", "whole", "how many alike", "1"),
    ),
    may_be_absent=True, everyday=False,
)  # fmt: skip
