"""The name in Job > Logo and the job's folder in, the file of the picture out: never one that lies outside of that folder."""

from __future__ import annotations

from pathlib import Path


def logo_beside(name: str, *, beside: Path | None) -> Path | None:
    """The logo's file when it is a file in that folder or below it; None for anything that leads out of it."""
    if not name.strip() or beside is None:
        return None
    try:
        file = (beside / name.strip()).resolve()
        inside = file.is_relative_to(beside.resolve()) and file.is_file()
    except (OSError, ValueError):
        return None
    return file if inside else None
