"""Names as people write them: case and doubled spaces do not make two things of one."""

from __future__ import annotations

from collections.abc import Mapping
from functools import lru_cache
from typing import TypeVar

from inventory.errors import UnknownName

T = TypeVar("T")


@lru_cache(maxsize=65536)
def fold(name: str) -> str:
    """The form under which two spellings of one name meet."""
    return " ".join(name.split()).casefold()


def find(known: Mapping[str, T], what: str, name: str) -> T:
    """The thing of this name in a mapping keyed by folded names, or UnknownName with the nearest."""
    try:
        return known[fold(name)]
    except KeyError:
        raise UnknownName(
            what, name, (str(getattr(one, "name", key)) for key, one in known.items())
        ) from None
