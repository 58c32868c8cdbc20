"""How result sheets look: the job's currency and the shop's colour in, the few formats that all sheets share out."""

from __future__ import annotations

from typing import TYPE_CHECKING, Literal

from estimator.papers.page.look import look_of

if TYPE_CHECKING:
    from xlsxwriter.format import Format
    from xlsxwriter.workbook import Workbook

Look = Literal[
    "title",
    "note",
    "state",
    "head",
    "head right",
    "head upright",
    "label",
    "text",
    "link",
    "fact",
    "quantity",
    "whole",
    "year",
    "year money",
    "year quantity",
    "minutes",
    "money",
    "money right",
    "money or blank",
    "money each",
    "percent",
    "typed",
    "choice",
    "total label",
    "total",
    "total quantity",
    "total whole",
    "strong",
    "yes no",
    "amount",
    "big",
    "big label",
    "middle",
    "middle warm",
    "middle metres",
    "middle litres",
    "middle hours",
    "middle money",
    "strong words",
    "strong next",
    "words",
    "factor",
    "size",
    "share",
    "share of net",
    "unseen",
    "unit",
]
FONT = "Calibri"
PLAIN = "General"
"""As many decimals as a number has; #,##0.## would end every whole number in a lone point."""
GREY, PALE, RULE = "#6B6B6B", "#F4F2EC", "#C9C4B8"
WARN_INK, WARN_PAPER = "#7A1F12", "#FBE6DF"
INPUT_PAPER = "#FFF9DB"


def money_code(decimals: int, *, currency: str = "") -> str:
    """The number format of an amount: at least the minor unit's decimals, with the currency's code behind where it is asked for.

    >>> money_code(2), money_code(0, currency="JPY")
    ('#,##0.00', '#,##0 "JPY"')
    """
    digits = f"#,##0.{'0' * decimals}" if decimals else "#,##0"
    return f'{digits} "{currency}"' if currency else digits


class Looks:
    """The formats of one workbook, each made once."""

    def __init__(self, workbook: Workbook, *, currency: str, decimals: int, colour: str, finest_inch: int = 0) -> None:
        self.workbook, self.currency, self.decimals, self.finest_inch = workbook, currency, decimals, finest_inch
        self.accent = look_of(paper="A4", colour=colour).accent_ink
        self._made: dict[Look, Format] = {}

    def __getitem__(self, look: Look) -> Format:
        if look not in self._made:
            made = {"font_name": FONT, "font_size": 11, "valign": "vcenter", **self._form(look)}
            self._made[look] = self.workbook.add_format(made)
        return self._made[look]

    def warning(self) -> Format:
        return self.workbook.add_format({"font_color": WARN_INK, "bg_color": WARN_PAPER, "bold": True})

    def faded(self) -> Format:
        return self.workbook.add_format({"num_format": ";;;"})

    def ruled(self) -> Format:
        return self.workbook.add_format({"bottom": 1, "bottom_color": RULE})

    def _form(self, look: Look) -> dict[str, object]:
        money = money_code(self.decimals)
        each = money + "##" if self.decimals else PLAIN
        rule = {"bottom": 1, "bottom_color": RULE}
        middle = {"font_size": 14, "bold": True, "align": "left", "font_color": "#333333"}
        over = {"top": 1, "top_color": self.accent, "bold": True}
        head = {"bold": True, "font_color": "#FFFFFF", "bg_color": self.accent, "text_wrap": True}
        forms: dict[Look, dict[str, object]] = {
            "title": {"font_size": 18, "bold": True, "font_color": self.accent},
            "note": {"font_color": GREY, "font_size": 10},
            "state": {"font_color": GREY, "font_size": 10, "italic": True},
            "head": {**head, "valign": "vcenter"},
            "head right": {**head, "align": "right"},
            "head upright": {**head, "rotation": 90, "align": "center", "valign": "bottom"},
            "label": {**rule},
            "text": {**rule},
            "words": {**rule, "text_wrap": True, "indent": 1},
            "link": {**rule, "font_color": self.accent, "underline": 1},
            "fact": {**rule, "num_format": PLAIN, "font_color": GREY},
            "quantity": {**rule, "num_format": "#,##0.000"},
            "whole": {**rule, "num_format": "#,##0"},
            "year": {"num_format": "#,##0"},
            "year money": {"num_format": f'{money};-{money};""'},
            "year quantity": {"num_format": "#,##0.000"},
            "factor": {**rule, "num_format": PLAIN},
            "size": {**rule, "num_format": f"# ??/{self.finest_inch}" if self.finest_inch else PLAIN},
            "minutes": {**rule, "num_format": "#,##0.00"},
            "money": {**rule, "num_format": money},
            "money right": {**rule, "num_format": money, "align": "right"},
            "money or blank": {**rule, "num_format": f'{money};-{money};""'},
            "money each": {**rule, "num_format": each},
            "percent": {**rule, "num_format": "0.0##%"},
            "share": {**rule, "num_format": "0.0%"},
            "share of net": {"font_color": GREY, "font_size": 10, "align": "left", "num_format": '0.0%" of the net price"'},
            "unit": {**rule, "font_color": GREY, "indent": 1},
            "unseen": {"num_format": ";;;"},
            "typed": {**rule, "align": "right", "font_color": GREY},
            "choice": {"bg_color": INPUT_PAPER, "border": 1, "border_color": self.accent, "bold": True},
            "total label": over,
            "total": {**over, "num_format": money},
            "total quantity": {**over, "num_format": "#,##0.00"},
            "total whole": {**over, "num_format": "#,##0"},
            "strong": {**rule, "bold": True},
            "strong next": {"bold": True, "indent": 1},
            "amount": {**rule, "num_format": "#,##0.00"},
            "yes no": {**rule, "align": "right", "num_format": '"yes";"yes";"no"'},
            "big": {
                "font_size": 18,
                "bold": True,
                "align": "left",
                "num_format": money_code(self.decimals, currency=self.currency),
                "font_color": self.accent,
            },
            "middle": {**middle, "num_format": "#,##0"},
            "middle warm": {**middle, "num_format": '#,##0" to read below"', "font_color": WARN_INK},
            "middle metres": {**middle, "num_format": '#,##0.0" ft"' if self.finest_inch else '#,##0.0" m"'},
            "middle litres": {**middle, "num_format": '#,##0.00" l"'},
            "middle hours": {**middle, "num_format": '#,##0.0" h"'},
            "middle money": {**middle, "num_format": money_code(self.decimals, currency=self.currency)},
            "strong words": {**rule, "bold": True, "text_wrap": True, "indent": 1},
            "big label": {"font_color": GREY, "font_size": 10, "valign": "bottom"},
        }
        return forms[look]
