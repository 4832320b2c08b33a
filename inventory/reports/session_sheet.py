"""What stands on the sheet of a making session and on a count sheet, before somebody fills them (`filled`).

Quantities are thousandths of the part's unit, weights thousandths of a gram.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date
from fractions import Fraction
from typing import Literal

from inventory.catalogue import Kind
from inventory.catalogue.safety import Safety
from inventory.measures import Length


@dataclass(frozen=True, slots=True)
class PlannedPieces:
    """Pieces to make. row: its number in the plan, from 1. wanted: good ones needed; stages: those of its bill.

    cut_to: the lengths one piece is cut to, in words.
    """

    row: int
    order: str
    pattern: str
    plating: str
    kit: str
    blank: str
    starts: int
    wanted: int
    stages: tuple[str, ...]
    refill: str = ""
    extra_diameter: Length | None = None
    customer: str = ""
    due: date | None = None
    cut_to: str = ""


@dataclass(frozen=True, slots=True)
class PlannedBlanks:
    """A kind of blank to be cut, or (with a lot) a measured one. planned: blanks; pieces: the plan in words."""

    part: str
    planned: int
    pieces: str
    lot: int = 0
    name: str = ""


@dataclass(frozen=True, slots=True)
class BottleRow:
    """A lot of which one container goes on the scale. quantity: what the book says is there of it, in all containers.

    density: g per unit (1 for grams); use_by: the last day by all that is known; several: whether full ones are asked
    for; before: whether it is to be weighed before the session too, for it may go into the air; idle: the session will
    hardly touch it, so that a printed page does without.
    """

    part: str
    lot: int
    name: str
    unit: str
    quantity: int
    tare: int
    density: Fraction
    opened_on: date | None = None
    use_by: date | None = None
    several: bool = False
    before: bool = False
    idle: bool = False


@dataclass(frozen=True, slots=True)
class UseRow:
    """Strips, pads and the like: how much the bills expect to be used."""

    part: str
    unit: str
    expected: int


@dataclass(frozen=True, slots=True)
class CountRow:
    """A part worth counting, and why. booked: what the book says (None on a blind sheet); lot: one very lot, or 0.

    containers: whether full ones and the open one's weight may be written instead of an amount; drawer: where it lies.
    """

    part: str
    unit: str
    why: str = ""
    booked: int | None = None
    lot: int = 0
    name: str = ""
    containers: bool = False
    drawer: str = ""
    opened_on: date | None = None
    kind: Kind | Literal[""] = ""


@dataclass(frozen=True, slots=True)
class SessionSheet:
    """Everything a session sheet shows. setup_list: lines in working order, (stage, what to lay out).

    bench: tools, tubes and glue, (what, which ones); by_order: parts, (order, which ones); kerf: of the saw, mm;
    check_first: of the cautions what is to be looked at before the work.
    """

    mark: str
    session: int
    document: int
    name: str
    on: date
    pieces: tuple[PlannedPieces, ...]
    bottles: tuple[BottleRow, ...]
    uses: tuple[UseRow, ...]
    counts: tuple[CountRow, ...]
    setup_list: tuple[tuple[str, str], ...] = ()
    cautions: tuple[str, ...] = ()
    blanks: tuple[PlannedBlanks, ...] = ()
    safety: Safety = field(default_factory=Safety)
    bench: tuple[tuple[str, str], ...] = ()
    by_order: tuple[tuple[str, str], ...] = ()
    kerf: str = ""
    check_first: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class CountSheet:
    """Everything a count sheet shows. version: of the book it was made from."""

    mark: str
    version: int
    on: date
    blind: bool
    rows: tuple[CountRow, ...]
