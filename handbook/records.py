"""Frozen dataclasses with slots, made quickly."""

from __future__ import annotations

from dataclasses import MISSING
from dataclasses import dataclass as _dataclass
from operator import attrgetter
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from dataclasses import dataclass as dataclass  # noqa: PLC0414 - handed on
else:

    def dataclass(*, frozen: bool, slots: bool) -> Any:
        """Make a class what the library's decorator makes it, in a third of the time.

        The library compiles six methods for each class, which for some hundreds of
        classes is a quarter of the start of a command; here only `__init__` is compiled,
        and the others are shared. A record is pickled as a call of its class. That none is
        changed is seen to by the type checker alone, which reads the library's decorator: a
        class that refuses changes as it runs takes twice the time to make a record, and a
        build makes hundreds of thousands.
        """
        assert frozen
        assert slots
        return _made

    def _made(cls: Any) -> Any:
        made: Any = _dataclass(init=False, repr=False, eq=False, slots=True)(cls)
        fields = made.__dataclass_fields__.values()
        made.__init__ = _init(made, fields)
        made.__compared__ = staticmethod(_values([one.name for one in fields if one.compare]))
        made.__given__ = staticmethod(_values([one.name for one in fields if one.init]))
        shared = {"__repr__": _repr, "__eq__": _eq, "__hash__": _hash, "__reduce__": _reduce}
        for name, method in shared.items():
            if cls.__dict__.get(name) is None:
                setattr(made, name, method)
        return made


def _init(made: Any, fields: Any) -> Any:
    """Compile `__init__`."""
    names: dict[str, Any] = {"_unset": MISSING}
    parameters, lines = [], []
    for one in fields:
        if not one.init:
            continue
        name = value = one.name
        if one.default is not MISSING:
            names[f"_default_{name}"] = one.default
            parameters.append(f"{name}=_default_{name}")
        elif one.default_factory is not MISSING:
            names[f"_make_{name}"] = one.default_factory
            parameters.append(f"{name}=_unset")
            value = f"_make_{name}() if {name} is _unset else {name}"
        else:
            parameters.append(name)
        lines.append(f"self.{name} = {value}")
    if hasattr(made, "__post_init__"):
        lines.append("self.__post_init__()")
    body = "; ".join(lines) or "pass"
    exec(f"def __init__(self, {', '.join(parameters)}): {body}", names)  # noqa: S102 - names of fields
    return names["__init__"]


def _values(names: list[str]) -> Any:
    """Give a function from a record to the tuple of some of its values."""
    if len(names) > 1:
        return attrgetter(*names)
    return lambda record: tuple(getattr(record, name) for name in names)


def _repr(self: Any) -> str:
    fields = self.__dataclass_fields__.values()
    shown = (f"{one.name}={getattr(self, one.name)!r}" for one in fields if one.repr)
    return f"{type(self).__qualname__}({', '.join(shown)})"


def _eq(self: Any, other: Any) -> Any:
    if other.__class__ is not self.__class__:
        return NotImplemented
    return self.__compared__(self) == self.__compared__(other)


def _hash(self: Any) -> int:
    return hash(self.__compared__(self))


def _reduce(self: Any) -> tuple[Any, Any]:
    return type(self), self.__given__(self)
