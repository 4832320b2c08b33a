"""What cutting, losses and dust of a material usually are, by its name."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from inventory.catalogue.safety.kinds import dust_of
from inventory.catalogue.stages import STAGES
from inventory.catalogue.usual.tables import rows
from inventory.catalogue.usual.words import said_in


@dataclass(frozen=True, slots=True)
class UsualMaterial:
    """Texts as a sheet would write them; losses by stage."""

    sort: str
    allowance: str
    losses: Mapping[str, str]
    caution: str = ""
    listed_species: str = ""
    source: str = ""

    @property
    def natural(self) -> bool:
        """Whether its blanks have no section of their own: each is measured."""
        return self.sort in ("antler", "horn")


def usual_material(name: str, sort: str = "") -> UsualMaterial:
    """What is usual of a material of this name; of one no word is known of, what is of plain wood."""
    table = rows("materials")
    found = next((row for row in table if row["sort"] == sort), None)
    found = found or next((row for row in table if said_in(name, row["words"])), table[0])
    losses = {stage: found[stage] for stage in STAGES if found.get(stage)}
    timber = next((row for row in rows("timbers") if said_in(name, row["words"])), {})
    caution = "; ".join(filter(None, (found["caution"], dust_of(name).caution)))
    return UsualMaterial(
        found["sort"],
        found["allowance"],
        losses,
        caution,
        timber.get("listed species", ""),
        found["source"],
    )
