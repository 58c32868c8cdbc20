"""Columns that rows cannot tell apart in, the same rows with those columns taken as one out."""

from __future__ import annotations

from collections.abc import Sequence

from estimator.costing.times.regression import Row
from estimator.model.exact import Fraction

Names = tuple[str, ...]


def merged_until_told_apart(columns: Sequence[Names], rows: Sequence[Row]) -> tuple[tuple[Names, ...], list[Row]]:
    """Take columns together that always come in the same proportion, until every one that is left has an answer of its own.

    >>> half = Row((Fraction(1, 2), Fraction(1, 2), Fraction(0)), Fraction(1))
    >>> alone = Row((Fraction(0), Fraction(0), Fraction(1)), Fraction(1))
    >>> merged_until_told_apart((("coat",), ("press",), ("cut",)), [half, half, alone])[0]
    (('coat', 'press'), ('cut',))
    """
    names, merged = tuple(columns), list(rows)
    while tangle := _tangle(merged):
        names, merged = taken_as_one(names, merged, [sorted(tangle)])
    return names, merged


def taken_as_one(
    columns: Sequence[Names], rows: Sequence[Row], clusters: Sequence[Sequence[int]]
) -> tuple[tuple[Names, ...], list[Row]]:
    """Each cluster of columns as one column, where its first one stood."""
    others = {k for cluster in clusters for k in cluster[1:]}
    members = [next((list(one) for one in clusters if k == one[0]), [k]) for k in range(len(columns)) if k not in others]
    names = tuple(tuple(name for k in own for name in columns[k]) for own in members)
    return names, [Row(tuple(sum((row.shares[k] for k in own), start=Fraction(0)) for own in members), row.ratio) for row in rows]


def _tangle(rows: Sequence[Row]) -> frozenset[int]:
    """Columns of one combination that adds up to nothing in every row; none when every column can be told."""
    table = [list(row.shares) for row in rows]
    many, pivots = len(table[0]), list[int]()
    for j in range(many):
        top = len(pivots)
        found = next((i for i in range(top, len(table)) if table[i][j]), None)
        if found is None:
            return frozenset({j, *(pivots[i] for i in range(top) if table[i][j])})
        table[top], table[found] = table[found], table[top]
        head = table[top][j]
        table[top] = [value / head for value in table[top]]
        for i in range(len(table)):
            if i != top and table[i][j]:
                times = table[i][j]
                table[i] = [value - times * own for value, own in zip(table[i], table[top], strict=True)]
        pivots.append(j)
    return frozenset()
