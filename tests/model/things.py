"""What the plain model knows of lots, purchases, orders and documents."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass, field
from datetime import date

Cell = tuple[object, ...]


class Refusal(Exception):
    """The tool must refuse this, and change nothing."""


@dataclass(frozen=True)
class Lot:
    """What a lot is; how much it holds stands in its cells. of: the lot it was a part of before it was opened."""

    part: str
    received: date | None
    opened: date | None = None
    of: int = 0


@dataclass(frozen=True)
class Purchase:
    """What a bought line is; what is still due stands in its cells."""

    part: str
    supplier: str
    expected: date


@dataclass(frozen=True)
class Wish:
    """An order as it was asked for."""

    pattern: str
    kit: str
    blank: str
    count: int
    due: date

    @property
    def plating(self) -> str:
        """The plating as it was asked for."""
        return self.kit.split()[-1]


@dataclass
class Document:
    """What one document did. undone: the number of the one that took it back; turn: how often it was turned round.

    named: what a part was called before and is called now; agreed: an order before and now; said: likewise what is
    said of the week and of what is retired; joined: of what is another thing now; plated: an order's plating.
    day: when it was; facts: what it adds to the past, for whoever looks back; went: parts it used that no cell held.
    """

    number: int
    cells: Counter[Cell] = field(default_factory=Counter)
    states: dict[str, str] = field(default_factory=dict)
    sessions: dict[int, str] = field(default_factory=dict)
    doubts: dict[str, bool] = field(default_factory=dict)
    handed: dict[str, int] = field(default_factory=dict)
    content: object = None
    undoes: int = 0
    undone: int = 0
    turn: int = 0
    parcels: list[tuple[str, date]] = field(default_factory=list)
    came: date | None = None
    ordered: dict[str, frozenset[tuple[str, int]]] = field(default_factory=dict)
    lent: list[tuple[int, int, int, bool]] = field(default_factory=list)
    back: dict[str, int] = field(default_factory=dict)
    went: set[str] = field(default_factory=set)
    named: dict[str, tuple[str, str]] = field(default_factory=dict)
    agreed: dict[str, tuple[Wish, Wish]] = field(default_factory=dict)
    said: dict[str, tuple[str, str]] = field(default_factory=dict)
    joined: dict[str, tuple[str, str]] = field(default_factory=dict)
    day: date = date.min
    facts: Counter[Cell] = field(default_factory=Counter)
    plated: dict[str, tuple[str, str]] = field(default_factory=dict)
