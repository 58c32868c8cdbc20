"""Why a user's workbook cannot take our sheets: one sentence, and nothing is written."""

from estimator.model.dataclass import dataclass


@dataclass(frozen=True, slots=True)
class Refused:
    """The user's file is left as it is; `reason` says why and how to mend it."""

    reason: str
