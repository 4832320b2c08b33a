"""How exact things are spelled in a column, and read back: lengths, drills, fractions, lists of words."""

from __future__ import annotations

import json
from fractions import Fraction
from functools import lru_cache

from inventory.measures import Drill, Length, read_drill, read_length


@lru_cache(maxsize=4096)
def length(written: str) -> Length:
    """A length from its column."""
    return read_length(written)


def maybe_length(written: str | None) -> Length | None:
    """A length from a column that may be empty."""
    return None if written is None else length(written)


def written(of: Length | None) -> str | None:
    """A length for its column: the way it was written, from which the same millimetres are read again."""
    return None if of is None else of.written


@lru_cache(maxsize=4096)
def drill(designation: str) -> Drill:
    """A drill from its column."""
    return read_drill(designation)


def maybe_drill(designation: str | None) -> Drill | None:
    """A drill from a column that may be empty."""
    return None if designation is None else drill(designation)


def designation(of: Drill | None) -> str | None:
    """A drill for its column."""
    return None if of is None else of.designation


@lru_cache(maxsize=4096)
def fraction(text: str) -> Fraction:
    """An exact fraction from its column: `3/200`."""
    return Fraction(text)


@lru_cache(maxsize=4096)
def words(text: str) -> tuple[str, ...]:
    """A list of words from its column, which holds JSON."""
    return tuple(json.loads(text))


def listed(of: tuple[str, ...]) -> str:
    """A list of words for its column."""
    return json.dumps(of, ensure_ascii=False)
