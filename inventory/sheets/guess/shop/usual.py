"""What no stranger's sheet says and everybody has: contents of containers, and where the rest comes from.

Geometry, materials, supplies and schedules are those of `catalogue.usual`; a cell that holds one is marked as usual.
"""

from __future__ import annotations

from inventory.catalogue.usual.supplies import usual_supply

WHY = "usual, not from your sheet"
LEAD_DAYS = 5
_CONTENTS = {
    "accelerator": ("ml", "200 ml"), "adhesive": ("ml", "50 ml"), "finish": ("ml", "100 ml"),
    "solvent": ("ml", "1000 ml"), "wax": ("g", "100 g"),
}  # fmt: skip
"""The unit a supply is counted in and what one container holds: common practice, no source."""


def contents_of(name: str, type_: str) -> tuple[str, str]:
    """The unit a supply is counted in and what one container holds; pieces and nothing where it is counted."""
    return _CONTENTS.get(usual_supply(name)) or _CONTENTS.get(type_, ("piece", ""))
