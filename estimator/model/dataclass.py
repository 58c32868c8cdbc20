"""How the house makes its records: a class with typed names in, the standard library's dataclass out, in a third of the time.

The standard decorator writes and compiles six functions for each frozen class; for 155 classes that was a third of all imports of
a cold run (measured: 90 ms of 230). Here only `__init__` is compiled; two records are equal and hash alike by one shared look at
their fields. That nobody changes a frozen record is held by mypy, which reads the standard decorator's rules; at run time nobody
pays for it.
"""

from __future__ import annotations

from operator import attrgetter
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from dataclasses import dataclass
else:
    from dataclasses import dataclass as standard

    def dataclass(*, slots: bool, frozen: bool = False, order: bool = False):
        """The decorator, with the words that the house uses."""
        if order:
            return standard(slots=slots, frozen=frozen, order=order)

        def made_from(written: type) -> type:
            made = standard(slots=slots, eq=False, repr=False)(written)
            names = tuple(made.__dataclass_fields__)
            made.__eq__ = _equal_by(attrgetter(*names))
            made.__hash__ = _hash_by(attrgetter(*names)) if frozen else None
            if "__repr__" not in written.__dict__:
                made.__repr__ = _shown
            return made

        return made_from


def _equal_by(fields: attrgetter[Any]) -> Any:
    def __eq__(self: object, other: object) -> bool:
        return fields(self) == fields(other) if other.__class__ is self.__class__ else NotImplemented

    return __eq__


def _hash_by(fields: attrgetter[Any]) -> Any:
    def __hash__(self: object) -> int:
        return hash(fields(self))

    return __hash__


def _shown(self: Any) -> str:
    shown = ", ".join(f"{name}={getattr(self, name)!r}" for name, field in self.__dataclass_fields__.items() if field.repr)
    return f"{self.__class__.__qualname__}({shown})"


__all__ = ["dataclass"]
