"""Making sessions: what was planned, what came of it, what was weighed, and what the maker says of it.

A session is planned by one document and booked by another. What was made and what was weighed are written down as
they were; the learned figures (`ledger.learned`) follow from these and from the catalogue as it is written, and can be
worked out anew at any time.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from typing import Final, Literal

from inventory.catalogue import STAGES
from inventory.ledger.learned import MILLION
from inventory.measures import Length

SessionState = Literal["planned", "booked", "dropped"]
Way = Literal["weighed", "weighed twice", "counted", "used", "by the bill", "not learned"]
"""How a use became known: what is left weighed or counted, weighed before the session too, or written down as used.

Weighed or counted, it is what is missing beside the book: of this session, and of those before it in which the part
was drawn by the bill and nobody looked. Not learned: the book was brought to what is there, for another reason.
"""
UNREAD: Final = ("by the bill", "not learned")
"""Ways that are no reading of a use."""
Word = Literal["pin", "free", "reset"]


def lost_from(stage: str, lost: Mapping[str, int]) -> int:
    """Pieces lost at a stage or later."""
    return sum(lost.get(later, 0) for later in STAGES[STAGES.index(stage) :])


@dataclass(frozen=True, slots=True)
class Planned:
    """One row of a session: so many pieces started for one order (the stall's have orders too), from one kit part."""

    order: str
    kit: str
    starts: int


@dataclass(frozen=True, slots=True)
class Session:
    """A making session. number, document: 0 until it is booked; document is the one that planned it."""

    name: str
    on: date
    rows: tuple[Planned, ...]
    state: SessionState = "planned"
    number: int = 0
    document: int = 0


@dataclass(frozen=True, slots=True)
class Outcome:
    """What came of one row: good pieces, and pieces lost at each stage. order: "" where nobody had planned them.

    tubes_saved, kits_saved, in_part: of the lost pieces, how many had their tubes, their whole kit, or the kit less
    something saved.
    """

    order: str
    pattern: str
    kit: str
    blank: str
    good: int
    lost: Mapping[str, int] = field(default_factory=dict)
    refill: str | None = None
    extra_diameter: Length | None = None
    tubes_saved: int = 0
    kits_saved: int = 0
    in_part: int = 0

    @property
    def started(self) -> int:
        """Pieces begun."""
        return self.good + sum(self.lost.values())

    def reached(self, stage: str) -> int:
        """Pieces that reached a stage: the good ones, and those lost there or later."""
        return self.good + lost_from(stage, self.lost)


@dataclass(frozen=True, slots=True)
class Observed:
    """What one session used of one part: thousandths of its unit, and the standard deviation of the measuring."""

    part: str
    used: int
    error: int
    way: Way = "weighed"


@dataclass(frozen=True, slots=True)
class Happened:
    """One booked session as it is learned from."""

    document: int
    on: date
    outcomes: tuple[Outcome, ...] = ()
    observed: tuple[Observed, ...] = ()


@dataclass(frozen=True, slots=True)
class RateWord:
    """What the maker says of a rate: pin it at a factor, let it learn again, or forget what was learned until now.

    factor: millionths of the bill's quantity; only a pin has one. document: 0 until it is booked.
    """

    part: str
    per: str
    word: Word
    factor: int = MILLION
    document: int = 0
