"""How the house makes its records: a class with typed names in, the standard library's dataclass out, in a fraction of the time.

The standard decorator writes and compiles six functions for each frozen class; for 263 classes that was a third of all imports of
a cold run. Here records of the same number of fields share one compiled `__init__`, in which only the names differ; two records are
equal and hash alike by one shared look at their fields. (Measured for the 263: 90 ms, then 48 with only `__init__` compiled for
each, then 14 like this.) That nobody changes a frozen record is held by mypy, which reads the standard decorator's rules; at run
time nobody pays for it.
"""

from __future__ import annotations

from functools import cache
from operator import attrgetter
from types import CodeType, FunctionType
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from dataclasses import dataclass
else:
    from dataclasses import Field, field
    from dataclasses import dataclass as standard

    @standard
    class _Sample:
        name: str

    _A_FIELD = _Sample.__dataclass_fields__["name"]._field_type

    def dataclass(*, slots: bool, frozen: bool = False, order: bool = False):
        """The decorator, with the words that the house uses; every record has slots, none has a parent."""
        if order:
            return standard(slots=slots, frozen=frozen, order=order)

        def made_from(written: type) -> type:
            names = tuple(written.__annotations__)
            given = [vars(written)[name] for name in names if name in vars(written)]
            if any(isinstance(default, Field) for default in given):
                made = standard(slots=slots, eq=False, repr=False)(written)
            else:
                made = _with_slots(written, names, tuple(given))
            made.__eq__ = _equal_by(attrgetter(*names))
            made.__hash__ = _hash_by(attrgetter(*names)) if frozen else None
            if "__repr__" not in written.__dict__:
                made.__repr__ = _shown
            return made

        return made_from

    def _with_slots(written: type, names: tuple[str, ...], defaults: tuple[object, ...]) -> type:
        """The class again, with a place for each name and nothing else; the defaults are those of the last names."""
        body = {name: value for name, value in vars(written).items() if name not in {*names, "__dict__", "__weakref__"}}
        init = FunctionType(_init_of(len(names)).replace(co_varnames=("self", *names), co_names=names), {}, "__init__", defaults)
        init.__qualname__ = f"{written.__qualname__}.__init__"
        fields = {name: field() for name in names[: len(names) - len(defaults)]}
        fields |= {name: field(default=default) for name, default in zip(names[len(fields) :], defaults, strict=True)}
        for name, one in fields.items():
            one.name, one.type, one._field_type = name, written.__annotations__[name], _A_FIELD
        body |= {"__slots__": names, "__match_args__": names, "__init__": init, "__dataclass_fields__": fields}
        return type(written)(written.__name__, written.__bases__, body)


@cache
def _init_of(many: int) -> CodeType:
    """An `__init__` for so many fields, under names that stand for any."""
    names = [f"field{number}" for number in range(many)]
    made: dict[str, Any] = {}
    exec(f"def __init__(self, {', '.join(names)}):\n" + "\n".join(f"    self.{name} = {name}" for name in names), {}, made)
    code = made["__init__"].__code__
    assert isinstance(code, CodeType)
    return code


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
