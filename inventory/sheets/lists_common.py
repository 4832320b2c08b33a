"""What the supplier lists share: their columns, and a tab's name for a supplier."""

from __future__ import annotations

import re
from collections.abc import Iterable

from inventory.catalogue import fold

HEADINGS = ("done", "part", "supplier code", "pack", "packs", "price", "cost", "needed by", "why")
RESERVED = ("summary", "reasons", "delivery")
LONGEST_TITLE = 31
"""Characters a tab's name may have in ECMA-376 workbooks."""
_NOT_IN_TITLES = re.compile(r"[\[\]:*?/\\']")


def titles(suppliers: Iterable[str]) -> dict[str, str]:
    """A tab's name for each supplier: short, unique, without the characters tabs may not have."""
    taken = {fold(name) for name in RESERVED}
    done: dict[str, str] = {}
    for supplier in suppliers:
        plain = _NOT_IN_TITLES.sub(" ", supplier).strip() or "supplier"
        title, number = plain[:LONGEST_TITLE].strip(), 1
        while fold(title) in taken:
            number += 1
            tail = f" {number}"
            title = plain[: LONGEST_TITLE - len(tail)].strip() + tail
        taken.add(fold(title))
        done[supplier] = title
    return done
