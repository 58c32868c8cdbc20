"""What each result sheet is called, its title, and the sentence below it that says what it is for."""

from __future__ import annotations

NAMES = {
    "answer": "Answer",
    "price": "Price",
    "ways": "Ways of banding",
    "work": "Minutes",
    "boards": "Sheets",
    "edging": "Edging used",
    "adhesive": "Adhesive used",
    "fittings": "Fittings used",
    "contractor": "Contract bander",
    "parts": "Parts list",
    "buy": "Buy list",
    "risk": "How sure",
    "sizes": "Larger and smaller",
    "machine": "A machine of your own",
    "lines": "Line by line",
    "counts": "Counts by way",
    "figures": "Figures in use",
    "changed": "What has changed",
    "copies": "As priced",
}
TITLES = {
    "price": ("Price", "From the cost to the total, as it stands on the quote."),
    "ways": (
        "Ways of banding",
        "What each way costs in money that the choice can still save. Pick one in the yellow cell, or leave best.",
    ),
    "work": ("Minutes", "Standard minutes of each step, how often it counts on the chosen way, and what it costs."),
    "boards": ("Sheets", "What the job takes of each board."),
    "edging": ("Edging used", "What the job takes of each edging; the last two columns are for the chosen way."),
    "adhesive": ("Adhesive used", "For the edgings that are banded by hand on the chosen way."),
    "fittings": ("Fittings used", "Hardware and sundries."),
    "contractor": ("Contract bander", "The offer, break by break, and what it comes to for each edging."),
    "parts": ("Parts list", "Every part with its finished and its cut size."),
    "machine": ("A machine of your own", "Whether buying one pays, against the best way of banding on this job."),
    "risk": ("How sure", "Minutes and cost that hold in one of two, four of five, nine of ten such jobs, from low, likely and high."),
    "sizes": ("Larger and smaller", "What the ways of banding cost, were every edge of this job longer or shorter."),
    "buy": ("Buy list", "What the chosen way takes, less what is on hand."),
    "lines": ("Line by line", "What one of each line takes; times the money above the columns this is its prime cost."),
    "counts": (
        "Counts by way",
        "What each way of banding counts, as the engine counted it. The ways stand in the order of Ways of banding.",
    ),
}
