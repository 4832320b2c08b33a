"""Hazard statements by code, in short words, and the usual cautions.

Codes: Regulation (EC) No 1272/2008, annex III. The wording here is a reminder; the product's own safety data sheet
governs.
"""

from __future__ import annotations

from typing import Final

STATEMENTS: Final = {
    "H225": "highly flammable liquid and vapour",
    "H226": "flammable liquid and vapour",
    "H302": "harmful if swallowed",
    "H304": "may be fatal if swallowed and enters airways",
    "H314": "causes severe skin burns and eye damage",
    "H315": "causes skin irritation",
    "H317": "may cause an allergic skin reaction",
    "H318": "causes serious eye damage",
    "H319": "causes serious eye irritation",
    "H332": "harmful if inhaled",
    "H334": "may cause allergy or asthma symptoms if inhaled",
    "H335": "may cause respiratory irritation",
    "H336": "may cause drowsiness or dizziness",
    "H351": "suspected of causing cancer",
    "H373": "may cause damage to organs through long exposure",
    "H411": "toxic to aquatic life with long lasting effects",
    "EUH066": "repeated exposure may cause skin dryness or cracking",
    "EUH202": "cyanoacrylate: bonds skin and eyes in seconds",
    "EUH204": "contains isocyanates: may produce an allergic reaction",
    "EUH205": "contains epoxy constituents: may produce an allergic reaction",
}

SHEET: Final = "The product's own safety data sheet and local rules govern."
DUST: Final = (
    "Dust of wood, horn, antler, bone, shell and resin harms: use extraction and a respirator, "
    "and eye protection at the lathe."
)
SPECIES: Final = "check the CITES list in force and keep species, source and document number with the lot"
FLAMMABLE: Final = frozenset({"H224", "H225", "H226"})


def hazard_sentence(part: str, codes: tuple[str, ...]) -> str:
    """One line for one product: `CA thin: causes skin irritation (H315); …`."""
    words = [f"{STATEMENTS[code]} ({code})" if code in STATEMENTS else code for code in codes]
    return f"{part}: {'; '.join(words)}."
