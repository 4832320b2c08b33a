"""Words in a name, as the tables of usual values ask for them."""

from __future__ import annotations

import re
from functools import lru_cache


@lru_cache(maxsize=4096)
def words_of(name: str) -> frozenset[str]:
    """The words of a name, without case: `CA glue, thin` → ca, glue, thin."""
    return frozenset(re.findall(r"[^\W_]+", name.casefold()))


def said_in(name: str, groups: str) -> bool:
    """Whether all words of one group stand in the name: `ca+thin|superglue+thin`."""
    there = words_of(name)
    return any(there.issuperset(group.split("+")) for group in groups.split("|") if group)
