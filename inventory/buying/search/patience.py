"""How much may still be tried: steps, not seconds, so that every machine finds the same list."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

LABELS = 4000
"""Steps that the first look into a leaf may take (some 0.05 s)."""

WAYS = 200
"""Ways to cover a part that are tried at most, in the mean of all parts: with more its core goes to HiGHS."""


class TooMany(Exception):
    """More would have to be tried than is allowed, or the time is up."""


class TooWide(TooMany):
    """There is no end of the ways to cover a part, and more patience is of no use."""


@dataclass(slots=True)
class Patience:
    """The steps left; `late` says whether the time is up, asked every thousand. ways: to cover parts, tried at most."""

    left: int
    late: Callable[[], bool]
    ways: int = 10**9

    def spend(self, steps: int) -> None:
        """Take steps off; `TooMany` where none are left."""
        before = self.left
        self.left -= steps
        if self.left < 0 or (before >> 10 != self.left >> 10 and self.late()):
            raise TooMany


def patience(effort: int, parts: int, late: Callable[[], bool]) -> Patience:
    """For one look into a leaf of so many parts; its steps are doubled that often."""
    return Patience(LABELS << effort, late, WAYS * parts)
