"""What lay untouched: the one rule of how long nothing of a part came or went."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date

from inventory.ledger.book import Lot

HALF_A_YEAR, A_YEAR = 182, 365
"""Days from which a part is said to sleep, and to have slept long."""


@dataclass(frozen=True, slots=True)
class Slept:
    """A part that lies there untouched. since: the last day something came or went; cost: minor units it holds."""

    part: str
    since: date
    cost: int

    def days(self, today: date) -> int:
        """How long."""
        return (today - self.since).days


def slept(
    lots: Iterable[Lot], moved: Mapping[str, date], today: date, least: int = HALF_A_YEAR
) -> tuple[Slept, ...]:
    """Parts of which something is there and nothing moved for so many days, the dearest first, by folded name.

    moved: by folded part the last day any of it came or went, loads and counts left out. What came before the book
    began counts from the day it was received; where nobody said, nobody knows, and it is left out.
    """
    from inventory.catalogue import fold

    there: dict[str, list[Lot]] = {}
    for lot in lots:
        if lot.quantity > 0:
            there.setdefault(fold(lot.part), []).append(lot)
    done = []
    for part, several in there.items():
        days = [lot.received_on for lot in several if lot.received_on] + [
            moved[key] for key in (part,) if key in moved
        ]
        if days and (today - max(days)).days >= least:
            done.append(Slept(part, max(days), sum(lot.cost for lot in several)))
    return tuple(sorted(done, key=lambda one: (-one.cost, one.part)))
