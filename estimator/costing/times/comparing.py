"""Logged minutes in, estimated against real by step, by stage and by job out."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence

from estimator.model.exact import Fraction
from estimator.model.times import Compared, Observed


def compared(
    observed: Sequence[Observed],
    name_of: Callable[[Observed], str],
    *,
    order: Iterable[str] = (),
    whole: Mapping[str, Fraction] | None = None,
) -> tuple[Compared, ...]:
    """Sums of the log by a name; rows that are left aside in the fit are in them, for those minutes were spent too.

    real and estimated are for the same counts, so a job of which half was logged is not called quick.
    """
    names = dict.fromkeys([name for name in order if any(name_of(one) == name for one in observed)])
    names |= dict.fromkeys(name_of(one) for one in observed)
    answer = []
    for name in names:
        rows = [one for one in observed if name_of(one) == name]
        answer.append(
            Compared(
                name=name,
                rows=sum(one.rows for one in rows),
                estimated_min=sum((one.estimated_min for one in rows), start=Fraction(0)),
                real_min=sum((one.real_min for one in rows), start=Fraction(0)),
                whole_min=(whole or {}).get(name),
            )
        )
    return tuple(answer)
