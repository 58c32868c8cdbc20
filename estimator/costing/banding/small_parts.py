"""Parts too small for the contract bander's machine in, which edges stay at the bench though their edging is sent out.

An edging that is sent sends the edges of the parts that the machine takes. The edges of its small parts are banded by hand, in
batches of their own, with edging that the shop buys.
"""

from collections.abc import Mapping, Sequence

from estimator.costing.adhesive import GluedArea, glued_areas
from estimator.costing.drying import Batched, Impossible, job_batches
from estimator.costing.edging import edgings_of_job
from estimator.model.dataclass import dataclass
from estimator.model.records import Job
from estimator.model.shop_records import Contract
from estimator.model.taken import Batch, Part, SmallParts


@dataclass(frozen=True, slots=True)
class Small:
    """The small parts of a job by edging, with their glue and batches; all empty where every part may be sent."""

    by_edging: Mapping[str, SmallParts]
    glued: GluedArea
    batched: Mapping[str, Batched]

    def batches(self, edging: str) -> tuple[Batch, ...] | Impossible:
        """The glue batches of what stays of an edging that is sent."""
        batched = self.batched.get(edging)
        return batched.batches if batched else ()


NO_SMALL_PARTS = Small({}, {}, {})


def is_small(part: Part, contract: Contract | None) -> bool:
    """A piece as it is cut, the longer side below the smallest length or the shorter below the smallest width.

    Source: common-practice.
    """
    if contract is None:
        return False
    shorter, longer = sorted((part.cut_length_mm, part.cut_width_mm))
    return longer < contract.smallest_length_mm or shorter < contract.smallest_width_mm


def small_ids(job: Job, parts: Sequence[Part]) -> frozenset[int]:
    """The banded parts that stay at the bench, by their id."""
    return frozenset(id(part) for part in parts if part.bands and is_small(part, job.contract))


def small_parts_of(job: Job, parts: Sequence[Part], known: Mapping[str, frozenset[str]]) -> Small:
    """What stays at the bench of every edging, and what of it can go."""
    ids = small_ids(job, parts)
    if not ids:
        return NO_SMALL_PARTS
    staying = [part for part in parts if id(part) in ids]
    going = {use.edging: use for use in edgings_of_job(job, [part for part in parts if id(part) not in ids])}
    by_edging = {
        use.edging: SmallParts(
            edging=use.edging,
            parts=tuple(part for part in staying if any(band.edging.edging == use.edging for band in part.bands)),
            stays=use,
            goes=going.get(use.edging),
        )
        for use in edgings_of_job(job, staying)
    }
    return Small(by_edging, glued_areas(job, staying), job_batches(job, staying, known))
