"""What was earned: each sale with what it brought and took, and the sums of any group of them."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field, fields
from datetime import date
from fractions import Fraction
from itertools import repeat
from operator import attrgetter
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
    minutes: Mapping[str, int] = field(default_factory=dict)
    spent: Mapping[str, int] = field(default_factory=dict)

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
        return Fraction(sum(self.minutes.values()), 60)

    @property
    def an_hour(self) -> int | None:
        """What an hour earned, minor units; None where no time is known."""
        return round(self.left / self.hours) if self.hours else None


_COUNTED = tuple(one.name for one in fields(EarnedSums) if one.name not in ("minutes", "spent"))
_counted = attrgetter(*_COUNTED)


@dataclass(frozen=True, slots=True)
class EarnedPart:
    """One thing that happened, with the group it falls into of each sort."""

    on: date
    groups: Mapping[By, str]
    sums: EarnedSums


@dataclass(frozen=True, slots=True)
class Earned:
    """Everything from the first day to the last, both included. unknown: parts that left at a cost nobody knows.

    booked_later: pieces whose day, by the sheet of days they were sold on, is of an earlier month than its entry, with
    which they count here, in `worth` and in `history`.
    """

    first: date
    last: date
    parts: Sequence[EarnedPart]
    unknown: Sequence[str]
    booked_later: int = 0

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
    several = list(some)
    sums = map(sum, zip(*map(_counted, several), strict=True)) if several else repeat(0, len(_COUNTED))
    minutes, spent = dict[str, int](), dict[str, int]()
    for one in several:
        for stage, many in one.minutes.items():
            minutes[stage] = minutes.get(stage, 0) + many
        for what, cost in one.spent.items():
            spent[what] = spent.get(what, 0) + cost
    pieces, sold, materials, supplies, packaging, tools, spoiled, other, unpriced = sums
    rest = spoiled, other, unpriced, minutes, spent
    return EarnedSums(pieces, sold, materials, supplies, packaging, tools, *rest)
