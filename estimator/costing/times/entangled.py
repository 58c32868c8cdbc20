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
        kept = [j for j in range(len(names)) if j not in tangle or j == min(tangle)]
        names = tuple(tuple(name for i in sorted(tangle) for name in names[i]) if j in tangle else names[j] for j in kept)
        merged = [
            Row(
                tuple(sum((row.shares[i] for i in tangle), start=Fraction(0)) if j in tangle else row.shares[j] for j in kept),
                row.ratio,
            )
            for row in merged
        ]
    return names, merged


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
