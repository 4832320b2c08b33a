"""What was earned: each sale with what it brought and took, and the sums of any group of them."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date
from fractions import Fraction
from typing import Final, Literal

SaleKind = Literal["order", "market", "gift"]
By = Literal["month", "pattern", "material", "plating", "kind", "place", "session"]
GROUPS: Final[tuple[By, ...]] = ("month", "pattern", "material", "plating", "kind", "place", "session")
ESTIMATE: Final = (
    "Tools by the share of their life and hours by the minutes a piece is said to take: both are estimates. "
    "What is income, and what may be set against it, is for a licensed adviser to say."
)


@dataclass(frozen=True, slots=True)
class EarnedSums:
    """Minor units, positive; minutes of work by stage; spent: beside parts, by what it was for.

    unpriced: pieces handed over for which no price is known, so that what they brought counts as nothing.
    """

    pieces: int = 0
    sold: int = 0
    materials: int = 0
    supplies: int = 0
    packaging: int = 0
    tools: int = 0
    spoiled: int = 0
    other: int = 0
    unpriced: int = 0
    minutes: Mapping[str, Fraction] = field(default_factory=dict)
    spent: Mapping[str, int] = field(default_factory=dict)

    def __add__(self, more: EarnedSums) -> EarnedSums:
        zero = Fraction(0)
        return EarnedSums(
            self.pieces + more.pieces,
            self.sold + more.sold,
            self.materials + more.materials,
            self.supplies + more.supplies,
            self.packaging + more.packaging,
            self.tools + more.tools,
            self.spoiled + more.spoiled,
            self.other + more.other,
            self.unpriced + more.unpriced,
            {
                s: self.minutes.get(s, zero) + more.minutes.get(s, zero)
                for s in {**self.minutes, **more.minutes}
            },
            {one: self.spent.get(one, 0) + more.spent.get(one, 0) for one in {**self.spent, **more.spent}},
        )

    @property
    def outlay(self) -> int:
        """All that was spent beside parts."""
        return sum(self.spent.values())

    @property
    def left(self) -> int:
        """What remains of what was sold once everything it took is paid."""
        cost = self.materials + self.supplies + self.packaging + self.tools + self.spoiled + self.other
        return self.sold - cost - self.outlay

    @property
    def hours(self) -> Fraction:
        """Of work in the pieces."""
        return sum(self.minutes.values(), Fraction(0)) / 60

    @property
    def an_hour(self) -> int | None:
        """What an hour earned, minor units; None where no time is known."""
        return round(self.left / self.hours) if self.hours else None


@dataclass(frozen=True, slots=True)
class EarnedPart:
    """One thing that happened, with the group it falls into of each sort."""

    on: date
    groups: Mapping[By, str]
    sums: EarnedSums


@dataclass(frozen=True, slots=True)
class Earned:
    """Everything from the first day to the last, both included. unknown: parts that left at a cost nobody knows."""

    first: date
    last: date
    parts: Sequence[EarnedPart]
    unknown: Sequence[str]

    @property
    def total(self) -> EarnedSums:
        """All of it."""
        return added(part.sums for part in self.parts)

    def by(self, group: By) -> dict[str, EarnedSums]:
        """EarnedSums of each group: months in their order, others by what they left."""
        found: dict[str, list[EarnedSums]] = {}
        for part in self.parts:
            found.setdefault(part.groups[group], []).append(part.sums)
        sums = {name: added(several) for name, several in found.items()}
        order: Callable[[str], object] = (
            (lambda name: name) if group == "month" else (lambda name: -sums[name].left)
        )
        return {name: sums[name] for name in sorted(sums, key=order)}  # type: ignore[arg-type]  # all of one sort


def added(some: Iterable[EarnedSums]) -> EarnedSums:
    """All of them together."""
    return sum(some, EarnedSums())
