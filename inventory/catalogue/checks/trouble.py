"""One thing in which a catalogue disagrees with itself, and the words for it."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import lru_cache

from inventory.errors import UnknownName


@dataclass(frozen=True, slots=True)
class Trouble:
    """One thing that cannot be: where its row is, what it says, and why not.

    key: folded names that find the row in its tab: (part,), (family,), (family, barrel), (pattern,), and
    (pattern, number of the line in its bill as text). said: what the cell says. absence: the trouble is that
    something is missing, so a row that could not be read may be its cause.
    """

    tab: str
    key: tuple[str, ...]
    column: str
    said: str
    problem: str
    absence: bool = False


def unknown(what: str, name: str, known: Iterable[str]) -> str:
    """The sentence for a name that leads nowhere, with the nearest ones."""
    return _unknown(what, name, tuple(known))


@lru_cache(maxsize=1024)
def _unknown(what: str, name: str, known: tuple[str, ...]) -> str:
    error = UnknownName(what, name, known)  # a search among thousands of names: not twice for one slip
    return f"{error.message} {error.hint}"


def names_of(things: Mapping[str, object]) -> list[str]:
    """The names as their owners spell them."""
    return [str(getattr(thing, "name", key)) for key, thing in things.items()]
