"""Hazard statements by code, in their full official wording; what holds for a kind of work is in `safety`.

Wording: Regulation (EC) No 1272/2008, annex III (see the table); the product's own safety data sheet governs.
"""

from __future__ import annotations

from functools import cache
from typing import Final

from inventory.catalogue.names import fold
from inventory.catalogue.parts import Supply
from inventory.measures.tables import rows

NONE: Final = "none"
"""What a sheet says in place of codes where its data sheet has none."""
FLAMMABLE: Final = frozenset({"H224", "H225", "H226"})


@cache
def statements() -> dict[str, str]:
    """Official wording by code: `H315` → `Causes skin irritation.`"""
    return {row["code"]: row["statement"] for row in rows("hazards")}


def evaporates(supply: Supply) -> bool:
    """Whether what is in an open container goes into the air (flammable, solvents: common practice)."""
    return not FLAMMABLE.isdisjoint(supply.hazards) or fold(supply.type) in ("solvent", "accelerator")


def tidy_code(text: str) -> str:
    """A code as the tables write it: `h315` → `H315`; the small letters of `H361fd` mean something and stay."""
    return text if text in statements() else text.upper()


def hazard_sentence(part: str, codes: tuple[str, ...]) -> str:
    """One line for one product: `CA thin: H315 Causes skin irritation. H319 …`.

    Codes joined by `+` (`H301+H311`) are said one after the other; of an unknown one the data sheet is pointed to.
    """
    return f"{part}: {' '.join(said for code in codes for said in _said(code))}"


def in_a_sentence(code: str, otherwise: str) -> str:
    """The wording without capital and full stop, `otherwise` for an unknown code: `highly flammable liquid and …`."""
    wording = statements().get(code, otherwise).rstrip(".")
    return wording[:1].lower() + wording[1:]


def _said(code: str) -> list[str]:
    every = [one.strip() for one in code.split("+")]
    if any(one not in statements() for one in every):
        return [f"{code} (what it means is in the safety data sheet)."]
    return [f"{one} {statements()[one]}" for one in every]
