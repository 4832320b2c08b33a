"""What the book remembers of parts that were counted otherwise than expected, so that reasons can be found."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING

from inventory.catalogue import fold
from inventory.jobs.differences import Context, differing

if TYPE_CHECKING:
    from inventory.jobs.weekend_measures import Checked
    from inventory.store import Read


def past_of(read: Read, rows: Iterable[Checked]) -> Context:
    """The lines of the parts that differ, and how much ordinary sessions scatter."""
    known = read.catalogue().parts
    names = [name for name in differing(rows) if fold(name) in known]
    scatter: dict[str, int] = {}
    for rate in read.learned().rates:
        scatter[fold(rate.part)] = max(scatter.get(fold(rate.part), 0), rate.scatter)
    return Context({fold(name): read.history(name) for name in names}, scatter)
