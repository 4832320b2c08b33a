"""What a supply usually is, by the words of its name: unit, density, shelf life, hazards."""

from __future__ import annotations

from functools import lru_cache

from inventory.catalogue.usual.tables import rows
from inventory.catalogue.usual.words import said_in

FILLED = ("type", "unit", "density", "keeps sealed", "keeps opened", "working time", "hazards")
"""Headings that a usual supply fills."""


@lru_cache(maxsize=4096)
def usual_supply(name: str) -> str:
    """The usual supply that a name means: `CA glue thin` → `thin CA`; empty where no word tells."""
    return next((row["supply"] for row in rows("supplies") if said_in(name, row["words"])), "")


def usual_cells(name: str) -> dict[str, str]:
    """What a sheet would say of a supply of this name, by heading; nothing where no word tells what it is."""
    supply = usual_supply(name)
    found = next((row for row in rows("supplies") if row["supply"] == supply), {})
    return {heading: found[heading] for heading in FILLED if found.get(heading)}
