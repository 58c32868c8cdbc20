"""The cautions: what can hurt in this work, in plain words; the product's sheet, local code and licensed trades come first."""

from __future__ import annotations

from typing import TYPE_CHECKING

from estimator.papers.page.pieces import bullet_list, heading, paragraph, title
from estimator.papers.shop.paper import ShopPaper

if TYPE_CHECKING:
    from reportlab.platypus.flowables import Flowable

_FIRST = (
    "These are the usual cautions of the trade. They do not replace the safety data sheet of the product in hand, the law and "
    "code of the place, or a licensed trade. Where one of those says otherwise, it holds."
)

CAUTIONS: tuple[tuple[str, tuple[str, ...]], ...] = (
    (
        "Contact adhesive",
        (
            "Read the safety data sheet of the adhesive before the first coat. Open windows or run the extraction; keep it off "
            "skin and out of eyes.",
            "Solvent kinds: the vapour creeps along the floor and flashes back. No pilot flame, heater or running motor until it "
            "has gone.",
            "Water-based kinds that are marked non-flammable still burn once they are dry.",
            "Drying and open times on the banding schedule are the shop's own figures: cold, damp or dry air moves them. "
            "Test a strip first.",
        ),
    ),
    (
        "Cleaners and thinners",
        (
            "They catch fire easily and may make the skin sensitive. Gloves on; never on a wood face before a test on an offcut.",
            "Lay used rags flat to dry out of doors, or put them in a metal bin with a lid: a heap can set itself alight.",
        ),
    ),
    (
        "Edges and irons",
        (
            "Blades and trimming irons are as sharp as razors. Cut away from the hand, with strip and part held down.",
            "A fresh melamine edge cuts: carry sheets and parts with gloves, take them off at a turning machine.",
        ),
    ),
    (
        "Saw and dust",
        (
            "Guard, riving knife and push stick as the maker of the saw says; the trimmed edge lies against the fence.",
            "Wood dust harms the lungs: extraction on and a mask. Limits differ, such as 1 mg in a cubic metre (recommended by "
            "NIOSH in the USA) and 2 mg (EU, hardwood and mixed dust); the law of the place decides.",
            "No dust where glue dries.",
        ),
    ),
    (
        "Lifting",
        (
            "A full sheet of 18 mm weighs 35 to 78 kg: two people or a lift. The mass of each sheet is on the buy list.",
            "Stand sheets so that none can tip; tall cabinets are set up by two and fixed before they are let go.",
        ),
    ),
    (
        "On site",
        (
            "Wall cabinets are fixed to the structure, not to plaster. Fixings and load follow the wall and the local code.",
            "Look for pipes and cables before drilling. Electrics, gas and water are work for licensed trades.",
            "Near heat or standing water a band made at the bench can lift: ask before it is fitted there.",
        ),
    ),
)


def cautions_story(paper: ShopPaper) -> list[Flowable]:
    look = paper.look
    story = [title("Cautions", look), paragraph(_FIRST, look)]
    for name, lines in CAUTIONS:
        story += [*heading(name, look, level=1), *bullet_list(lines, look)]
    return story
