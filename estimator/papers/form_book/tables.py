"""Plain text tables in, rows out: `Header | Header` and one row a line, as the starter rows and the sample jobs are kept."""

from collections.abc import Mapping, Sequence
from pathlib import Path

Rows = Sequence[Mapping[str, str]]
"""Rows of one sheet: header to what a person would type; a blank cell may be left out."""


def table(text: str) -> tuple[dict[str, str], ...]:
    """The rows of a text table; blank lines and lines that begin with # are passed over.

    >>> table("Item | Value\\nUnits | mm")
    ({'Item': 'Units', 'Value': 'mm'},)
    """
    lines = [line for line in text.splitlines() if line.strip() and not line.lstrip().startswith("#")]
    headers, *rows = [[cell.strip() for cell in line.split("|")] for line in lines]
    return tuple(dict(zip(headers, row, strict=True)) for row in rows)


def tables(folder: Path) -> dict[str, tuple[dict[str, str], ...]]:
    """Every table of a folder by the name of its sheet: `loose_parts.txt` is `Loose parts`."""
    return {
        path.stem.replace("_", " ").capitalize(): table(path.read_text(encoding="utf-8"))
        for path in sorted(folder.glob("*.txt"))
    }
