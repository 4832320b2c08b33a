"""Classes made in a hurry are those of the standard library: every behaviour is held against its own."""

from __future__ import annotations

import copy
import dataclasses
import pickle
from collections.abc import Callable
from dataclasses import FrozenInstanceError, asdict, field, fields, replace
from typing import Any

import pytest

from inventory.quick import dataclass

Maker = Callable[..., Any]


@dataclass(frozen=True, slots=True)
class Thing:
    """One for pickle, which looks for it by name."""

    name: str
    sizes: tuple[int, ...] = ()
    more: list[int] = field(default_factory=list)


def made(maker: Maker) -> tuple[Any, Any, Any]:
    """A frozen class with every kind of field, one that may change, and one of a single field."""

    @maker(frozen=True, slots=True)
    class Frozen:
        """A frozen one."""

        name: str
        size: int = 3
        more: list[int] = field(default_factory=list, compare=False)
        quiet: str = field(default="", repr=False)
        kept: int | None = field(default=None, init=False, compare=False)
        worked: list[int] = field(init=False, default_factory=list, repr=False, compare=False)

    @maker(slots=True)
    class Open:
        """One that may change, with something worked out when it is made."""

        name: str
        length: int = field(init=False)

        def __post_init__(self) -> None:
            self.length = len(self.name)

    @maker(frozen=True, slots=True)
    class One:
        """One field, which may be unlike itself."""

        size: float

    return Frozen, Open, One


@pytest.fixture(params=[dataclasses.dataclass, dataclass], ids=["standard", "quick"])
def classes(request: pytest.FixtureRequest) -> tuple[Any, Any, Any]:
    """The three, as the standard library makes them and as we do."""
    return made(request.param)


def test_made_by_place_by_name_and_by_default(classes: tuple[Any, Any, Any]) -> None:
    """As it is written; a list of its own for each; what is missing or too much is a TypeError that names it."""
    frozen, open_, _ = classes
    one, other = frozen("a", 2, quiet="b"), frozen(name="a")
    assert (one.name, one.size, one.quiet, one.kept, one.worked) == ("a", 2, "b", None, [])
    assert (other.size, other.more, other.more is frozen("b").more) == (3, [], False)
    assert open_("four").length == 4
    wrong: tuple[dict[str, Any], ...] = ({}, {"nam": "a"}, {"name": "a", "kept": 1})
    for words in wrong:
        with pytest.raises(TypeError, match="__init__"):
            frozen(**words)


def test_equal_and_hashed(classes: tuple[Any, Any, Any]) -> None:
    """By the fields that are compared, of the same class alone; a frozen one has a hash, the other none."""
    frozen, open_, one = classes
    assert frozen("a", more=[1]) == frozen("a", more=[2]) != frozen("b")
    assert hash(frozen("a", more=[1])) == hash(frozen("a", more=[2])) == hash(("a", 3, ""))
    assert frozen("a") != ("a", 3, "")
    assert open_("a") == open_("a") != open_("b")
    with pytest.raises(TypeError, match="unhashable"):
        hash(open_("a"))
    nothing = float("nan")
    assert one(nothing) == one(nothing) != one(float("nan"))
    assert hash(one(2)) == hash((2,))


def test_shown(classes: tuple[Any, Any, Any]) -> None:
    """Every field by name, but those that are not to be."""
    frozen, open_, _ = classes
    assert repr(frozen("a", quiet="b")).endswith("Frozen(name='a', size=3, more=[], kept=None)")
    assert repr(open_("a")).endswith("Open(name='a', length=1)")


def test_frozen_and_with_slots(classes: tuple[Any, Any, Any]) -> None:
    """Nothing of a frozen one is set or deleted; nothing but fields is ever kept."""
    frozen, open_, _ = classes
    thing, changing = frozen("a"), open_("a")
    with pytest.raises(FrozenInstanceError, match="cannot assign to field 'name'"):
        thing.name = "b"
    with pytest.raises(FrozenInstanceError, match="cannot delete field 'name'"):
        del thing.name
    changing.name = "b"
    assert changing.name == "b"
    with pytest.raises(AttributeError):
        changing.other = 1
    assert not hasattr(thing, "__dict__")


def test_the_library_s_own_functions(classes: tuple[Any, Any, Any]) -> None:
    """Fields, replace, asdict, copies and matching."""
    frozen, _, _ = classes
    thing = frozen("a", more=[1])
    assert [one.name for one in fields(frozen)] == ["name", "size", "more", "quiet", "kept", "worked"]
    assert replace(thing, size=4) == frozen("a", 4)
    assert asdict(thing)["more"] == [1]
    assert copy.copy(thing) == thing == copy.deepcopy(thing)
    assert copy.deepcopy(thing).more is not thing.more
    match thing:
        case frozen(name, size):
            assert (name, size) == ("a", 3)
        case _:
            pytest.fail("not matched")


def test_pickled() -> None:
    """As another process would get it."""
    thing = Thing("a", (1, 2), [3])
    back = pickle.loads(pickle.dumps(thing))  # noqa: S301 - our own
    assert (back, back.more) == (thing, [3])


def test_one_that_comes_of_another() -> None:
    """Its fields come after those it inherits; a plain class that comes of one is made like it."""

    @dataclass(frozen=True, slots=True)
    class Longer(Thing):
        """One field more."""

        last: int = 9

    class Plain(Thing):
        """Nothing more."""

    assert Longer("a", last=8) == Longer("a", (), [], 8) != Thing("a")
    assert (Plain("a").name, Plain("b").name) == ("a", "b")
    assert Thing("c").name == "c"


def test_what_is_said_of_methods_goes_first() -> None:
    """A method the class writes itself is kept."""

    @dataclass(frozen=True, slots=True)
    class Own:
        """With its own words."""

        name: str

        def __repr__(self) -> str:
            return f"<{self.name}>"

        def __eq__(self, other: object) -> bool:
            return isinstance(other, Own)

        def __hash__(self) -> int:
            return 1

    assert (repr(Own("a")), Own("a") == Own("b"), hash(Own("a"))) == ("<a>", True, 1)


def test_whatever_else_is_asked_for_is_the_library_s() -> None:
    """Ordered classes, and classes without slots."""

    @dataclass(frozen=True, slots=True, order=True)
    class Ordered:
        """In order."""

        size: int

    @dataclass(frozen=True)
    class Roomy:
        """With a dictionary."""

        size: int

    assert Ordered(1) < Ordered(2)
    assert vars(Roomy(1)) == {"size": 1}
