"""The path of a job workbook goes in; the program's own answer (the object of estimate.json) comes out."""

import json
from pathlib import Path
from typing import Any


def program_answer(path: Path) -> dict[str, Any]:
    """What the program says of one workbook, or {"refused": its words} where it gives no estimate.

    The program is imported here, so that the second opinion can be proven without it.
    """
    from estimator.batch import price_book
    from estimator.model.refusal import Refusal
    from estimator.papers.estimate_json import estimate_text

    shop = path.parent / "shop.xlsx"
    match price_book(path, shop=shop if shop.exists() else None):
        case Refusal() as refusal:
            return {"refused": "\n".join(str(problem) for problem in refusal.problems)}
        case estimate:
            found: dict[str, Any] = json.loads(estimate_text(estimate))
            return found
