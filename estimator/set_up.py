"""What papers hang on besides the files of a job: this computer's program, Python and packages, to be held against another computer's.

Two computers that are set up alike write the same bytes; the cluster asks each one before it hands jobs on.
"""

from __future__ import annotations

import sys
import zlib
from collections.abc import Mapping
from functools import cache
from hashlib import sha256
from importlib.metadata import PackageNotFoundError, version
from pathlib import Path

from estimator import __version__

_WRITING = ("openpyxl", "XlsxWriter", "reportlab", "jinja2", "babel", "pillow")
"""Packages that put bytes into papers."""
_SAMPLE = b" ".join(b"%d" % (number * number) for number in range(5000))
"""Something to pack: libraries that pack the same file into other bytes are told apart by it."""


@cache
def set_up() -> dict[str, str]:
    """The program with a print of its files, Python, how bytes are packed, and the packages that write papers."""
    house = Path(__file__).parent
    files = sorted(path for path in house.rglob("*") if path.is_file() and path.suffix != ".pyc")
    whole = b"".join(path.relative_to(house).as_posix().encode() + b"\n" + path.read_bytes() for path in files)
    return {
        "estimator": f"{__version__} ({_short(whole)})",
        "Python": f"{sys.version_info[0]}.{sys.version_info[1]}",
        "packing of files": _short(zlib.compress(_SAMPLE)),
        **{name: _version(name) for name in _WRITING},
    }


def differences(there: Mapping[str, str], here: Mapping[str, str]) -> str:
    """What is not the same, in words; blank where all is.

    >>> differences({"Python": "3.12", "babel": "2.16"}, {"Python": "3.11", "babel": "2.16"})
    'Python 3.12 there and 3.11 here'
    """
    return "; ".join(
        f"{name} {there.get(name, 'not known')} there and {here.get(name, 'not known')} here"
        for name in {**here, **there}
        if there.get(name) != here.get(name)
    )


def _short(content: bytes) -> str:
    return sha256(content).hexdigest()[:8]


def _version(package: str) -> str:
    try:
        return version(package)
    except PackageNotFoundError:
        return "missing"
