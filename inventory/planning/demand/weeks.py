"""The past as weeks: how much was asked for in each, the last of them ending today."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from typing import TYPE_CHECKING

from inventory.ledger.asked import AskedFor

if TYPE_CHECKING:
    from inventory.planning.forecasting.arrays import Floats

WEEK = 7
MOST = 520
"""Weeks looked back on at most: ten years."""


@dataclass(frozen=True, slots=True)
class Weeks:
    """Counts by week and series, (weeks, series), oldest week first; `names` tells the series."""

    names: tuple[str, ...]
    pieces: Floats
    orders: Floats
    last: date

    @property
    def many(self) -> int:
        """How many weeks there are."""
        return len(self.pieces)

    def begins(self, week: int) -> date:
        """The first day of a week."""
        return self.last - timedelta(days=WEEK * (self.many - week) - 1)


def weekly(asked: Iterable[AskedFor], names: Sequence[str], today: date) -> Weeks:
    """Pieces and orders of each pattern by whole weeks back from today to the first one anything was asked for in.

    names: the patterns, folded; what is of others is left out.
    """
    import numpy as np

    from inventory.catalogue import fold

    at = {name: number for number, name in enumerate(names)}
    some = [(one, at[fold(one.pattern)]) for one in asked if fold(one.pattern) in at and one.on <= today]
    back = [((today - one.on).days // WEEK, series, one.pieces) for one, series in some]
    many = min(max((week for week, _, _ in back), default=-1) + 1, MOST)
    pieces, orders = np.zeros((many, len(names))), np.zeros((many, len(names)))
    for week, series, count in back:
        if week < many:
            pieces[many - 1 - week, series] += count
            orders[many - 1 - week, series] += 1
    return Weeks(tuple(names), pieces, orders, today)
