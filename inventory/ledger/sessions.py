"""Making weekends: what was planned, what came of it, and what the shop has learned.

Learned figures are integers of millionths (of the supply's unit for one `per`, or of the pieces that reached a stage),
so that they are kept exactly and read without any statistics.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from fractions import Fraction
from typing import Literal

from inventory.catalogue import Per

MILLION = 1_000_000
SessionState = Literal["planned", "booked", "dropped"]


@dataclass(frozen=True, slots=True)
class Session:
    """A making weekend. orders: their names, promised ones and those for the stall, in working order."""

    name: str
    on: date
    orders: tuple[str, ...] = ()
    state: SessionState = "planned"
    document: int | None = None


@dataclass(frozen=True, slots=True)
class Outcome:
    """What became of one order's pieces in a session. lost: pieces by stage."""

    session: str
    order: str
    pattern: str
    plating: str
    blank: str
    material: str
    planned: int
    good: int
    lost: Mapping[str, int] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Observed:
    """How much of a supply one session really took: thousandths of its unit, by weighing or counting.

    error: standard deviation of the measuring, thousandths. exposure: how many of each `per` the session had, in units
    of the bill's own quantity (a line that takes twice the usual counts twice).
    """

    session: str
    part: str
    used: int
    error: int
    exposure: Mapping[Per, Fraction] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class LearnedRate:
    """What one `per` of a supply takes, millionths of its unit, with a 90 % interval."""

    part: str
    per: Per
    prior: int
    estimate: int
    low: int
    high: int
    sessions: int
    pinned: bool = False
    outliers: tuple[str, ...] = ()

    @property
    def factor(self) -> Fraction:
        """What a bill's own quantity is multiplied by."""
        return Fraction(self.estimate, self.prior) if self.prior else Fraction(1)


@dataclass(frozen=True, slots=True)
class LearnedLoss:
    """The share of pieces of a material that fail at a stage, millionths, with a 90 % interval."""

    material: str
    stage: str
    prior: int
    estimate: int
    low: int
    high: int
    reached: int
    lost: int


@dataclass(frozen=True, slots=True)
class Learned:
    """All that the shop has learned from its own sessions."""

    rates: tuple[LearnedRate, ...] = ()
    losses: tuple[LearnedLoss, ...] = ()
