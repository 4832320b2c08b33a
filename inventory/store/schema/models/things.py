"""Tables of what is counted: parts and what is special to each kind of them.

Lengths are text as written (`7 mm`, `27/64 in`), drills their designation; both are read back exactly. `usual` is a
JSON list of headings of the sheet under which nobody said a word, so that a usual value stands there.
"""

from __future__ import annotations

from inventory.store.schema.models.base import Row, named, number, to, whole


class PartRow(Row, table=True):
    """Anything counted; level in thousandths of the unit. into_id: the part it was merged into, and is now."""

    __tablename__ = "part"

    id: int = number()
    key: str = named()
    name: str
    kind: str
    unit: str
    note: str = ""
    level: int | None = whole(default=None)
    drawer: str = ""
    into_id: int | None = to("part.id", default=None)


class PlatingRow(Row, table=True):
    """A metal finish."""

    __tablename__ = "plating"

    id: int = number()
    key: str = named()
    name: str


class PlatingSubstituteRow(Row, table=True):
    """A substitute for a plating, in the order of liking."""

    __tablename__ = "plating_substitute"

    plating_id: int = number("plating.id")
    position: int = number()
    substitute_id: int = to("plating.id")


class MaterialRow(Row, table=True):
    """What blanks are made of."""

    __tablename__ = "material"

    id: int = number()
    key: str = named()
    name: str
    allowance: str
    caution: str = ""
    listed_species: str = ""
    usual: str = "[]"


class MaterialLossRow(Row, table=True):
    """The share of pieces a material loses at one stage, as an exact fraction in text."""

    __tablename__ = "material_loss"

    material_id: int = number("material.id")
    position: int = number()
    stage: str
    share: str


class KitRow(Row, table=True):
    """The fittings of one piece in one plating."""

    __tablename__ = "kit"

    part_id: int = number("part.id")
    family_id: int = to("family.id", index=True)
    plating_id: int = to("plating.id")
    tubes_inside: bool = False
    usual: str = "[]"


class TubeRow(Row, table=True):
    """A brass tube."""

    __tablename__ = "tube"

    part_id: int = number("part.id")
    outside: str
    length: str
    drill: str
    usual: str = "[]"


class BlankRow(Row, table=True):
    """Raw material by the piece."""

    __tablename__ = "blank"

    part_id: int = number("part.id")
    material_id: int = to("material.id")
    shape: str
    width: str | None = None
    length: str | None = None
    usual: str = "[]"


class SupplyRow(Row, table=True):
    """What is used up; hazards is a JSON list of statement codes, density an exact fraction in text."""

    __tablename__ = "supply"

    part_id: int = number("part.id")
    type: str
    net: int | None = whole(default=None)
    tare: int | None = whole(default=None)
    keeps_sealed: int | None = None
    keeps_opened: int | None = None
    hazards: str = "[]"
    density: str | None = None
    works: int | None = None
    usual: str = "[]"


class ToolRow(Row, table=True):
    """What wears."""

    __tablename__ = "tool"

    part_id: int = number("part.id")
    type: str
    size: str = ""
    life: int | None = whole(default=None)
