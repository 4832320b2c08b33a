"""What a supply usually is, by the words of its name: unit, density, shelf life, hazards."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache, lru_cache

from inventory.catalogue.usual.tables import rows
from inventory.catalogue.usual.words import said_in

FILLED = ("type", "unit", "density", "keeps sealed", "keeps opened", "working time", "hazards")
"""Headings that a usual supply fills."""


@lru_cache(maxsize=4096)
def usual_supply(name: str) -> str:
    """The usual supply that a name means: `CA glue thin` → `thin CA`; empty where no word tells."""
    return next((row["supply"] for row in rows("supplies") if said_in(name, row["words"])), "")


def usual_cells(name: str) -> Mapping[str, str]:
    """What a sheet would say of a supply of this name, by heading; nothing where no word tells what it is."""
    return _cells_of(usual_supply(name))


@cache
def _cells_of(supply: str) -> Mapping[str, str]:
    found = next((row for row in rows("supplies") if row["supply"] == supply), {})
    return {heading: found[heading] for heading in FILLED if found.get(heading)}
