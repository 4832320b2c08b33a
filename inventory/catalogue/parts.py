"""What is counted: kits, tubes, blanks, supplies and tools that wear.

Quantities are integers of thousandths of the part's unit; lengths are exact (`Length`, millimetres as fractions).
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from inventory.measures import Drill, Length, read_amount

Kind = Literal["kit", "tube", "blank", "supply", "tool", "piece"]
KINDS: tuple[Kind, ...] = ("kit", "tube", "blank", "supply", "tool", "piece")
Shape = Literal["square", "round", "natural"]


@dataclass(frozen=True, slots=True)
class Kit:
    """The fittings of one piece in one plating; `tubes_inside` where its tubes are counted with it."""

    family: str
    plating: str
    tubes_inside: bool = False
    usual: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Tube:
    """A brass tube: measured outside diameter, length and the drill its hole wants, kept apart."""

    outside: Length
    length: Length
    drill: Drill
    usual: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Blank:
    """Raw material. Natural blanks have no section of their own: each lot is measured."""

    material: str
    shape: Shape
    width: Length | None = None
    length: Length | None = None
    usual: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Supply:
    """What is used up: adhesive, abrasive, finish, solvent, sundry, packaging, refill, spare fitting.

    net: content of one container (thousandths of the unit); tare: weight of the empty container in grams
    (thousandths); keeps_*: days; density in grams per millilitre; works: minutes a mix stays workable.
    """

    type: str
    net: int | None = None
    tare: int | None = None
    keeps_sealed: int | None = None
    keeps_opened: int | None = None
    hazards: tuple[str, ...] = ()
    density: Fraction | None = None
    works: int | None = None
    usual: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Tool:
    """What wears: drill, bushings, trimmer pilot, saw (its size is the kerf) …; life counts uses."""

    type: str
    size: str = ""
    life: int | None = None


@dataclass(frozen=True, slots=True)
class Piece:
    """A finished piece, ready for a customer or the stall: what it was made from, by name."""

    pattern: str
    kit: str
    blank: str
    refill: str | None = None
    extra_diameter: Length | None = None


@dataclass(frozen=True, slots=True)
class Part:
    """Anything counted. `level` is the reorder level set by hand, in thousandths of the unit; `drawer`: its place."""

    name: str
    detail: Kit | Tube | Blank | Supply | Tool | Piece
    unit: str = "piece"
    note: str = ""
    level: int | None = None
    drawer: str = ""

    @property
    def kind(self) -> Kind:
        """The tab it lives in, as one word; finished pieces have none, weekends bring them."""
        return KIND_OF[type(self.detail)]

    def read_amount(self, text: str, *, whole: bool | str = False) -> int:
        """Thousandths of its unit for what a text says of it: bare numbers, other units, containers (`1 bottle`).

        whole: what comes whole only, in a word for the sentence. Raises BadMeasure.
        """
        detail = self.detail
        net, density = (detail.net, detail.density) if isinstance(detail, Supply) else (None, None)
        return read_amount(text, self.unit, net=net, density=density, whole=whole)


KIND_OF: dict[type, Kind] = {
    Kit: "kit",
    Tube: "tube",
    Blank: "blank",
    Supply: "supply",
    Tool: "tool",
    Piece: "piece",
}
