"""A correct job with every sheet filled in, as text tables: single book, or job and shop book apart. The shop is invented."""

JOB = """
Item                   | Value                                                | Note
Job name               | Mill Lane kitchen                                    | 
Quote number           | 2031-014                                             | 
Revision               | 1                                                    | 
Quote date             | date:2031-02-03                                      | 
Prepared by            | the owner                                            | 
Client                 | the family at Mill Lane                              | 
Site address           | 7 Mill Lane, Oakham Mere                             | 
Units                  | mm                                                   | 
Currency               | EUR                                                  | 
Tax name               | VAT                                                  | 
Tax rate               | 20 %                                                 | 
Prices shown           | both                                                 | 
Quote shows            | by room                                              | 
Status                 | asked                                                | 
Discount               | percent:0.02                                         | 
Delivery charge        | 85                                                   | 
Delivery tax rate      | 20                                                   | 
Margin                 | 25 %                                                 | 
Contingency            | 3 %                                                  | 
Round total to         | 1                                                    | 
Site trips             | 2                                                    | 
Payment schedule       | 50 % deposit, 40 % before delivery, 10 % on completion | 
Deposit cap            | 60 %                                                 | 
Valid for              | 30                                                   | 
Working days available | 15                                                   | 
Banding                | best                                                 | 
Finish                 | white                                                | 
"""

CABINETS = """
Ref       | Room    | Kind | Qty | Width | Height | Depth | Shelves | Doors | Drawers | Finish | Finished ends | Tax rate | Note     | Partitions | Plinth height
Kitchen 1 | Kitchen | base | 2   | 600   | 720    | 560   | 1       | 1     | 0       |        | left          |          | by sink  |            | 100
          | Kitchen | base | 1   | 800   |        |       | 2       | 2     |         | oak    | none          | 10 %     |          | 1          | 100
Larder    | Pantry  | open | 1   | 450   | 1900   | 350   | 4       |       |         | white  |               |          |          |            |
"""

LOOSE_PARTS = """
Ref    | Room    | Part      | Qty | Length | Width | Board     | Edging   | Front | Back | Left | Right     | Grain  | Tax rate | Note | Finish | Counts as
Filler | Kitchen | filler    | 2   | 720    | 80    | front     | front    | x     |      |      |           | length |          |      | oak    |
Shelf  | Pantry  | shelf     | 1   | 900    | 250   | white 18  | white 1  | x     |      | x    | oak veneer | any   | 10 %     |      |        | shelf
"""

FINISHES = """
Finish | carcass board | carcass edging | front board | front edging | back board | Words for the quote
white  | white 18      | white 1        | white 18    | white 1      | white 8    | white, matt
oak    | white 18      | white 1        | oak 19      | oak veneer   | white 8    | oak veneer, oiled
"""

SHOP = """
Item                  | Value               | Unit        | Note
Shop name             | Alder Yard Joinery  |             |
Direct rate           | 30                  | an hour     |
Overhead rate         | 24                  | an hour     |
Allowance             | 10 %                |             |
Value of a freed hour | wage                |             |
Saw kerf (mm)         | 4                   | mm          |
Sheet trim            | 10                  | mm          |
Bench length          | 10                  | m           |
Edges in a batch      | 60                  |             |
gap side              | 2                   | mm          |
gap_mid               | 3                   | mm          |
gap top               | 2                   | mm          |
gap bottom            | 0                   | mm          |
shelf play            | 2                   | mm          |
shelf setback         | 20                  | mm          |
"""

BOARDS = """
Board    | Thickness | Sheet length | Sheet width | Price | Grain | Charge       | Expected yield | Trim | On hand | Density | E modulus | Priced on
white 18 | 18        | 2800         | 2070        | 61.50 | no    | whole sheets |                |      | 1       | 650     | 1600      | date:2031-01-10
white 18 | 18        | 2070         | 1400        | 33    | no    | whole sheets |                | 12   | 0       | 650     | 1600      |
white 8  | 8         | 2800         | 2070        | 28.40 | no    | area         | 80 %           |      |         |         |           | 2031-01-10
oak 19   | 19        | 2800         | 2070        | 140   | yes   | whole sheets |                |      |         | 680     |           |
"""

EDGINGS = """
Edging     | Material    | Thickness | Width | Price | Roll length | Charge | Overhang | Spare | Deduct | By hand | Send out | Adhesive | On hand | Priced on
white 1    | plastic     | 1         | 23    | 0.45  | 50          |        | 20       | 5 %   | yes    |         |          | contact  | 12      |
white 1    | plastic     | 1         | 43    | 0.80  | 50          |        | 20       | 5 %   | yes    |         |          | contact  |         |
oak veneer | wood veneer | 0.6       | 24    | 0.95  |             | metres | 20       | 5 %   | no     | yes     | no       | none     |         | 2031-01-10
"""

ADHESIVES = """
Adhesive | Coverage | Core coats | Strip coats | Spare | Pack | Price | Charge | Drying | Open time | On hand | Priced on
contact  | 6        | 2          | 1           | 10 %  | 1    | 14.80 | litres | 30     | 240       |         |
"""

FITTINGS = """
Item   | Route   | Per     | Of         | Number                        | Price | Pack | On hand | Priced on
hinge  |         | door    |            | 2 + (length > 900)            | 2.40  | 50   | 10      |
leg    |         | cabinet | base       | 4                             | 0.90  |      |         |
paper  | by hand | metre   | oak veneer |                               | 0.05  |      |         |
"""

WORK = """
Step     | Stage    | Route    | Per     | Of          | Minutes | Rating | Allowance | Low | High | During   | Timed
cut      | cutting  |          | part    |             | 2       | 100    |           | 1   | 4    |          | yes
assemble | assembly |          | cabinet | base        | 20      |        | 5 %       |     |      |          | no
set up   | banding  | by hand  | batch   |             | 5       |        |           |     |      |          |
coat     | banding  | by hand  | edge    | contact     | 0.4     |        |           |     |      | coating  |
apply    | banding  | by hand  | metre   |             | 0.5     |        |           |     |      | applying |
sand     | banding  | by hand  | metre   | wood veneer | 1       |        |           |     |      |          |
drive    | banding  | send out | trip    |             | 20      |        | 0 %       |     |      |          |
"""

KINDS = """
Kind | Words for the quote | Height | Depth | Shelves | Doors | Drawers
base | base cabinet        | 720    | 560   | 1       | 1     | 0
open | open shelves        | 720    | 300   | 2       | 0     | 0
"""

CONSTRUCTION = """
Kind | Part   | Count   | Length                      | Width                       | Board   | Edging  | Front | Back | Left  | Right | Grain  | Counts as
base | side   | 2       | height                      | depth                       | carcass | carcass | x     |      |       |       |        |
base | bottom | 1       | width - 2 carcass_thickness | depth                       | carcass | carcass | x     |      |       |       |        |
base | door   | doors   | height - gap top            | (width - 2 gap side)/doors  | front   | front   | x     | x    | x     | x     | length | door
base | back   | 1       | height                      | width                       | back    |         |       |      |       |       |        |
base | shelf  | shelves | width - 2 carcass_thickness | depth - shelf setback       | carcass | carcass | x     |      |       |       |        | shelf
open | side   | 2       | height                      | depth                       | carcass | carcass | x     |      | front | x     |        |
open | shelf  | shelves | width - 36                  | depth - shelf_setback       | carcass | carcass | x     |      |       |       | any    | shelf
base | plinth | 1       | width                       | plinth height               | front   |         |       |      |       |       |        |
""".replace("2 carcass", "2 * carcass").replace("2 gap", "2 * gap")

CONTRACT = """
Item                  | Value          | Unit | Note
Contractor            | the band works |      |
Minimum charge        | 60             |      |
Charge per part       | 0.15           |      |
Trips                 | 2              |      |
Distance per trip     | 10             | km   |
Cost per distance     | 0.50           |      |
Lead time             | 5              | days |
Supplies edging       | no             |      |
Added length per edge | 50             | mm   |
Breaks count          | per edging     |      |
Breaks apply to       | whole quantity |      |
Buy up                | yes            |      |
"""

CONTRACT_PRICES = """
Edging  | From metres | Price | Set-up
white 1 | 0           | 1.10  | 8
white 1 | 100         | 0.90  |
"""

EXTRAS = """
Ref     | Room    | Words for the quote | Qty | Cost each | Minutes each | Price each | Tax rate
Worktop | Kitchen | stone worktop       | 1   | 640       |              | 910        |
Painter | Kitchen | painting the wall   | 2   | 120       | 15           |            | 10 %
"""

OPTIONS = """
Option    | Replace finish | With finish | Words for the quote
all oak   | white          | oak         | every front in oak
"""

MACHINE = """
Item                  | Value | Unit  | Note
Price                 | 16000 |       |
Installation          | 500   |       |
Resale value          | 3000  |       |
Life                  | 8     | years |
Interest              | 9 %   |       |
Fixed cost a year     | 650   |       |
Cost per metre        | 0.95  |       |
Metres a year         | 4200  |       |
Alternative per metre | 2.10  |       |
"""

OFFCUTS = """
Board    | Length | Width | Count
white 18 | 1200   | 600   | 2
oak 19   | 900    | 400   |
"""

ROLL_ENDS = """
Edging     | Width | Length | Count
white 1    | 23    | 7.5    | 2
oak veneer |       | 12     |
"""

DRYING = """
Adhesive | Temperature | Humidity | Drying | Open time
contact  | 20          | 50       | 30     | 240
contact  | 12          |          | 45     | 200
"""

MERCHANT = """
Merchant    | Board    | Delivers       | Price per sheet | Price per cut | Price per part | Price per metre banded | Set-up per edging | Minimum charge | Lead time | Priced on
Mere Boards | white 18 | cut and banded | 64              | 0.80          | 0.20           | 1.30                   | 6                 | 40             | 8         | 2031-01-10
Mere Boards | oak 19   | cut            |                 | 1             |                |                        |                   |                |           |
"""

JOB_SHEETS = {"Job": JOB, "Cabinets": CABINETS, "Loose parts": LOOSE_PARTS, "Extras": EXTRAS, "Options": OPTIONS}
SHOP_SHEETS = {
    "Finishes": FINISHES, "Shop": SHOP, "Boards": BOARDS, "Edgings": EDGINGS, "Adhesives": ADHESIVES, "Fittings": FITTINGS, "Work": WORK,
    "Kinds": KINDS, "Construction": CONSTRUCTION, "Contract": CONTRACT, "Contract prices": CONTRACT_PRICES, "Machine": MACHINE,
    "Offcuts": OFFCUTS, "Roll ends": ROLL_ENDS, "Drying": DRYING, "Merchant": MERCHANT,
}  # fmt: skip
ONE_BOOK = {**JOB_SHEETS, **SHOP_SHEETS}
