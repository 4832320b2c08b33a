"""Lines of the supplier list as they were ordered."""

from __future__ import annotations

from dataclasses import dataclass, field

from inventory.errors import Place


@dataclass(frozen=True, slots=True)
class Placed:
    """One line that was ordered: packs of `pack` thousandths at `price` a pack, minor units of the supplier's coin."""

    supplier: str
    part: str
    pack: int
    packs: int
    price: int
    code: str = ""
    place: Place = field(default_factory=Place, compare=False)

    @property
    def quantity(self) -> int:
        """Thousandths of the part's unit."""
        return self.pack * self.packs

    @property
    def cost(self) -> int:
        """Minor units of the supplier's currency."""
        return self.price * self.packs


@dataclass(frozen=True, slots=True)
class PlacedSheet:
    """An edited list that came back. announced: what was read in a way the person should know of."""

    lines: tuple[Placed, ...]
    announced: tuple[str, ...] = ()
