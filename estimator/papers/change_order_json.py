"""The change order as plain data: what the next one takes its accepted price from; money as text at the minor unit."""

from typing import Any

from estimator.model.comparison import ChangeOrder
from estimator.model.units import decimal_text, money_text


def change_order_data(order: ChangeOrder, *, number: int, quote_number: str, revision: str) -> dict[str, Any]:
    """The accepted price, what the change adds, the new price."""

    def money(value: Any) -> str:
        return money_text(value, currency=order.currency)

    return {
        "number": number,
        "quote_number": quote_number,
        "revision": revision,
        "currency": order.currency,
        "accepted": money(order.accepted),
        "lines": [
            {
                "ref": getattr(line.after or line.before, "ref", ""),
                "before": line.before_words,
                "after": line.after_words,
                "term": line.term,
                "net": money(line.net),
            }
            for lines in order.lines
            for line in lines
        ],
        "least_added": money(order.least_added),
        "net": money(order.net),
        "tax": [
            {"rate": decimal_text(one.rate_share * 100), "base": money(one.base), "tax": money(one.tax)} for one in order.tax
        ],
        "tax_total": money(order.tax_total),
        "gross": money(order.gross),
        "new_total": money(order.new_total),
    }
