"""The handful of questions that `estimator start` asks: each with the option that answers it too. Said once, imported lightly."""

from __future__ import annotations

from estimator.model.dataclass import dataclass


@dataclass(frozen=True, slots=True)
class Question:
    """`default` is what Enter alone means; blank means that an answer is needed, unless it may be blank."""

    option: str
    words: str
    hint: str
    default: str = ""
    may_be_blank: bool = False
    option_hint: str = ""
    """What the option's help says, where the hint alone would not be understood there."""


UNITS = Question("units", "Do you measure in mm or in inches?", "mm or inch", "mm")


def questions(units: str) -> tuple[Question, ...]:
    """The questions that follow the one about units; what Enter means goes with the unit."""
    inch = units == "inch"
    sheet = "97 x 49" if inch else "2800 x 2070"
    edgings = "white 1 mm, oak pattern 1 mm, birch veneer 0.6 mm"
    return (
        Question("name", "What is your shop called?", "for the letterhead", may_be_blank=True, option_hint="what the shop is called"),
        Question("currency", "In which money do you reckon?", "three letters, such as EUR, GBP, USD, JPY"),
        Question("paper", "On which paper do you print?", "A4 or Letter", "Letter" if inch else "A4"),
        Question("tax", "Which tax stands on your quotes?", "name and rate: VAT 20 %; without tax: Tax 0 %"),
        Question("wage", "What is an hour of work paid?", "money an hour, your own hour too"),
        Question("workers", "How many of you work at the bench?", "a number", "1", option_hint="how many work at the bench"),
        Question("paid-hours", "For how many hours a year is one of you paid?", "hours a year, holidays too", "1840"),
        Question("bench-hours", "How many of them are spent at the bench?", "hours a year, not in office or van", "1400"),
        Question("overhead", "What does the shop cost a year, wages and boards apart?", "money a year: rent, van, office"),
        Question("sheet", "How large is a sheet of your board?", f"length x width, such as {sheet}", sheet),
        Question("edgings", "Which edgings do you use?", "with commas: white 1 mm, oak pattern 1 mm", edgings),
    )


OPTIONS = {one.option: one.option_hint or one.hint for one in (UNITS, *questions("mm"))}
