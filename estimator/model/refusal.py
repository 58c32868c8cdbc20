"""A workbook that cannot be priced: what the reading or the engine gives instead of an answer."""

from estimator.model.dataclass import dataclass
from estimator.model.problems import Problem, Remark
from estimator.model.records import Job


@dataclass(frozen=True, slots=True)
class Refusal:
    """A workbook that cannot be priced, with every problem found.

    `readable` is the job as far as it could be read, without the rows whose sizes have problems, so that the engine can look
    for more problems in the same run. It is None when there was no job to read at all.
    """

    workbook: str
    problems: tuple[Problem, ...]
    remarks: tuple[Remark, ...] = ()
    readable: Job | None = None
