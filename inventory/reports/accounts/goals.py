"""What is saved for: a sum and a day, how much of it was earned, and which pieces would bring the rest."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date


@dataclass(frozen=True, slots=True)
class Goal:
    """A sum to be earned by a day, minor units. since: the day from which on what is left counts."""

    name: str
    amount: int
    by: date
    since: date


@dataclass(frozen=True, slots=True)
class GoalStand:
    """How far a goal is: minor units; reached is never below 0 nor above the goal."""

    goal: Goal
    reached: int

    @property
    def to_go(self) -> int:
        """What is still to be earned."""
        return self.goal.amount - self.reached


@dataclass(frozen=True, slots=True)
class PatternNet:
    """What a piece of a pattern left on average, minor units, of so many sold; minutes: of work in one, by stage."""

    pattern: str
    net: int
    sold: int
    minutes: int
    by_stage: Mapping[str, int]


@dataclass(frozen=True, slots=True)
class GoalPieces:
    """So many of a pattern. most: how many are expected to be asked for until then, None where nothing tells."""

    of: PatternNet
    count: int
    most: int | None


@dataclass(frozen=True, slots=True)
class GoalPlan:
    """Pieces that bring the rest of a goal in the fewest hours, or the most that can be where they do not.

    promised: minor units that orders already promised are to leave by then; there: minutes until then beside them,
    None where nobody said what hours there are. enough: whether the goal is reached; proven: that no better set is.
    """

    stand: GoalStand
    promised: int
    orders: int
    there: int | None
    pieces: Sequence[GoalPieces]
    enough: bool
    proven: bool

    @property
    def gain(self) -> int:
        """What the pieces leave, minor units."""
        return sum(one.count * one.of.net for one in self.pieces)

    @property
    def minutes(self) -> int:
        """Of work in them, setting up not counted."""
        return sum(one.count * one.of.minutes for one in self.pieces)
