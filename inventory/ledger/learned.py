"""The figures learned from all sessions, and the catalogue with them: what everybody sees once they are booked.

Shares and factors are kept as whole millionths. Every judge of an order reads them, so they stand apart from the
sessions they come from (`ledger.sessions`), which few commands read.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Final

from inventory.catalogue import Catalogue, fold, over

MILLION: Final = 1_000_000


@dataclass(frozen=True, slots=True)
class LearnedRate:
    """How many times the bill's quantity is really used, millionths, with its 90 % interval.

    sessions: how many it was learned from; outliers: documents left out; scatter: thousandths of the part's unit by
    which ordinary sessions differ (one standard deviation). points: factors that are as likely as each other,
    millionths; hands: with each of them how far sessions differ, millionths of what an ordinary one uses, below 0
    where it is the same amount whatever is made; ordinary: thousandths of the part's unit that the bills write for an
    ordinary session. None of these in a book of earlier versions until it is learned anew.
    """

    part: str
    per: str
    factor: int
    low: int
    high: int
    sessions: int
    outliers: tuple[int, ...] = ()
    pinned: bool = False
    scatter: int = 0
    points: tuple[int, ...] = ()
    hands: tuple[int, ...] = ()
    ordinary: int = 0


@dataclass(frozen=True, slots=True)
class LearnedLoss:
    """The share of pieces of one material lost at one stage, millionths, and what it was learned from.

    worth: the pieces of experience it is worth, thousandths (see `making.losses.learned`); 0: not worked out. Its 90 %
    interval follows from all materials' counts, and is worked out where it is shown.
    """

    material: str
    stage: str
    share: int
    reached: int
    lost: int
    worth: int = 0


@dataclass(frozen=True, slots=True)
class LearnedFigures:
    """Everything learned so far."""

    rates: tuple[LearnedRate, ...] = ()
    losses: tuple[LearnedLoss, ...] = ()

    def scatter(self) -> dict[str, int]:
        """By how much ordinary sessions differ, by folded part name (see `LearnedRate`)."""
        found: dict[str, int] = {}
        for one in self.rates:
            found[fold(one.part)] = max(found.get(fold(one.part), 0), one.scatter)
        return found


def millionths(value: float | Fraction) -> int:
    """A share or factor as the book keeps it."""
    return round(value * MILLION)


def exactly(value: int) -> Fraction:
    """A kept share or factor as an exact number."""
    return Fraction(value, MILLION)


def with_learned(written: Catalogue, learned: LearnedFigures) -> Catalogue:
    """The written catalogue with learned losses in place of its own and factors on its bills."""
    losses: dict[str, dict[str, Fraction]] = {}
    for one in learned.losses:
        losses.setdefault(fold(one.material), {})[one.stage] = exactly(one.share)
    materials = {
        key: replace(material, losses={**material.losses, **losses.get(key, {})})
        for key, material in written.materials.items()
    }
    factors = {(fold(one.part), one.per): exactly(one.factor) for one in learned.rates}
    return replace(written, materials=over(written.materials, materials), factors=factors)
