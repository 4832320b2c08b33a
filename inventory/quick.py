"""`dataclass` of the standard library, for classes with slots, made in a tenth of the time.

A command makes 70 to 150 such classes and uses half of them. The standard library writes and compiles six functions
for each, which is a sixth of all the time a command takes. Here `__init__` is written when the first of a class is
made, and the others are the same functions for all. Fields, `replace`, `fields`, `asdict`, matching, comparing,
hashing, copying and pickling are those of the standard library.
"""

from __future__ import annotations

import dataclasses
from collections.abc import Callable
from dataclasses import MISSING, Field, FrozenInstanceError, fields
from operator import attrgetter
from typing import TYPE_CHECKING, Any

Key = Callable[[Any], tuple[Any, ...]]


def _quick(*, frozen: bool = False, slots: bool = False, **more: bool) -> Callable[[type], type]:
    """As `dataclasses.dataclass`; whatever but `frozen` and `slots` is asked for is left to it."""
    if more or not slots:
        return dataclasses.dataclass(frozen=frozen, slots=slots, **more)
    return lambda cls: _made(cls, frozen=frozen)


def _made(cls: type, *, frozen: bool) -> Any:
    own = vars(cls)
    done: Any = dataclasses.dataclass(init=False, repr=False, eq=False, slots=True)(cls)
    methods = {"__init__": _first(done), "__repr__": _repr, **_comparing(done, frozen=frozen)}
    if frozen:
        methods |= {
            "__setattr__": _no_set,
            "__delattr__": _no_delete,
            "__getstate__": _state,
            "__setstate__": _set_state,
        }
    for name, method in methods.items():
        if name not in own:
            setattr(done, name, method)
    return done


def _comparing(cls: type, *, frozen: bool) -> dict[str, Any]:
    """Equal where the class is the same and all fields are that are compared; hashed only where nothing can change."""
    key = _key([one.name for one in fields(cls) if one.compare])

    def equal(self: Any, other: object) -> bool:
        return key(self) == key(other) if other.__class__ is self.__class__ else NotImplemented

    def hashed(self: Any) -> int:
        return hash(key(self))

    return {"__eq__": equal, "__hash__": hashed if frozen else None}


def _key(names: list[str]) -> Key:
    """The values of these fields, as a tuple."""
    if len(names) > 1:
        return attrgetter(*names)
    return lambda self: tuple(getattr(self, name) for name in names)


def _first(cls: Any) -> Callable[..., None]:
    """An `__init__` that writes the real one when it is called, and hands on to it."""

    def first(self: Any, *values: Any, **named: Any) -> None:
        cls.__init__ = _init(cls)
        cls.__init__(self, *values, **named)

    return first


def _init(cls: type) -> Callable[..., None]:
    """The `__init__` of a class with slots: each field is put straight into its slot."""
    known: dict[str, Any] = {"_nothing": MISSING}
    asked, done = ["self"], []
    for number, one in enumerate(fields(cls)):
        put, default = f"_put{number}", f"_default{number}"
        known[put] = getattr(cls, one.name).__set__
        value = one.name
        if one.default_factory is not MISSING:
            known[default] = one.default_factory
            value = f"{default}() if {one.name} is _nothing else {one.name}" if one.init else f"{default}()"
        elif one.default is not MISSING:
            known[default] = one.default
            value = one.name if one.init else default
        elif not one.init:
            continue  # `__post_init__` gives it
        if one.init:
            asked.append(one.name + _otherwise(one, default))
        done.append(f"    {put}(self, {value})")
    if hasattr(cls, "__post_init__"):
        done.append("    self.__post_init__()")
    exec("\n".join([f"def __init__({', '.join(asked)}):", *(done or ["    pass"])]), known)  # noqa: S102 - as the standard library does
    made: Callable[..., None] = known["__init__"]
    made.__qualname__ = f"{cls.__qualname__}.__init__"
    return made


def _otherwise(one: Field[Any], default: str) -> str:
    if one.default_factory is not MISSING:
        return "=_nothing"
    return "" if one.default is MISSING else f"={default}"


def _repr(self: Any) -> str:
    shown = ", ".join(f"{one.name}={getattr(self, one.name)!r}" for one in fields(self) if one.repr)
    return f"{self.__class__.__qualname__}({shown})"


def _no_set(self: Any, name: str, value: object) -> None:
    del self, value
    raise FrozenInstanceError(f"cannot assign to field {name!r}")


def _no_delete(self: Any, name: str) -> None:
    del self
    raise FrozenInstanceError(f"cannot delete field {name!r}")


def _state(self: Any) -> list[Any]:
    return [getattr(self, one.name) for one in fields(self)]


def _set_state(self: Any, state: list[Any]) -> None:
    for one, value in zip(fields(self), state, strict=True):
        object.__setattr__(self, one.name, value)


if TYPE_CHECKING:
    from dataclasses import dataclass as dataclass  # so that type checkers know what it makes
else:
    dataclass = _quick
