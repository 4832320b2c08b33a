"""How lines of ordinary days are worded, typed or on a sheet: why something went, how much, which finished piece."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

from inventory.catalogue import Catalogue, Part, Piece, fold
from inventory.errors import BadInput, BadMeasure
from inventory.measures import listed

WHY: Final[Mapping[str, tuple[str, ...]]] = {
    "gave away": ("given away", "gave it away", "gave", "gift", "present"),
    "broke": ("broken",),
    "threw out": ("thrown out", "threw away", "thrown away", "out of date"),
    "lent": ("lent out",),
    "used up": ("used",),
}
"""Our words for why something went, and others that say the same."""


def reason_of(text: str) -> str:
    """Our word for why something went. Raises BadInput."""
    said = fold(text)
    found = next((word for word, others in WHY.items() if said == word or said in others), None)
    if found is None:
        words = listed([f"“{word}”" for word in WHY], most=len(WHY))
        wrong = f"“{text}” is no reason the book knows." if said else "Why did it go?"
        raise BadInput(wrong, hint=f"Write --why with one of {words}.")
    return found


def amount_of(part: Part, text: str) -> int:
    """Thousandths of a part for what was typed. Raises BadMeasure, also for nothing."""
    whole = "" if part.kind == "supply" else f"{part.kind.capitalize()}s"
    quantity = part.read_amount(text, whole=whole or False)
    if quantity <= 0:
        raise BadMeasure(f"“{text}” of {part.name} is nothing.", hint="Write how much: 2, 50 ml, 1 bottle.")
    return quantity


def pieces_called(catalogue: Catalogue, text: str) -> list[Part]:
    """Finished pieces whose name has all the words."""
    words = set(fold(text).split())
    return [
        part
        for part in catalogue.parts.values()
        if isinstance(part.detail, Piece) and words <= set(fold(part.name).replace(",", " ").split())
    ]
