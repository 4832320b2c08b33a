"""How exact things are spelled in a column, and read back: lengths, drills, fractions, lists."""

from __future__ import annotations

import json
from collections.abc import Callable
from fractions import Fraction
from functools import lru_cache
from typing import Any, NamedTuple

from inventory.measures import read_drill, read_length


class Codec(NamedTuple):
    """Both ways of one type; nothing is never asked of either."""

    read: Callable[[str], Any]
    write: Callable[[Any], str]


def _words(text: str) -> tuple[str, ...]:
    return tuple(json.loads(text))


def _listed(of: tuple[str, ...]) -> str:
    return json.dumps(of, ensure_ascii=False)


def _numbers(text: str) -> tuple[int, ...]:
    return tuple(map(int, json.loads(text)))


def _numbers_listed(of: tuple[int, ...]) -> str:
    return _listed(tuple(map(str, of)))


CODECS = {
    # the way it was written, from which the same millimetres are read again
    "Length": Codec(lru_cache(maxsize=4096)(read_length), lambda of: of.written),
    "Drill": Codec(read_drill, lambda of: of.designation),
    "Fraction": Codec(lru_cache(maxsize=4096)(Fraction), str),
    "tuple[str, ...]": Codec(lru_cache(maxsize=4096)(_words), _listed),
    "tuple[int, ...]": Codec(_numbers, _numbers_listed),
}
"""By the type of a field, as it is written in its class."""
