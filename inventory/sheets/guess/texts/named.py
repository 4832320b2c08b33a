"""The parts of a name."""

from __future__ import annotations

from dataclasses import dataclass, field

from inventory.sheets.guess.guesses import Grade
from inventory.sheets.guess.texts.amounts import Amount


@dataclass(slots=True)
class Named:
    """A name's parts. family: what is left of it; name: of anything but a kit; kind empty: no word tells."""

    kind: str = ""
    type: str = ""
    family: str = ""
    name: str = ""
    plating: str = ""
    makes: str = ""
    sort: str = ""
    drill: str = ""
    net: str = ""
    width: str = ""
    length: str = ""
    pack: int = 0
    aside: str = ""
    by_context: bool = False
    amount: Amount | None = None
    grades: dict[str, tuple[Grade, str]] = field(default_factory=dict)
