"""What is wanted on known days: which of it to order together (Wagner and Whitin 1958; Snyder and Shen 3.7)."""

from __future__ import annotations

from collections.abc import Sequence


def order_days(fixed: float, holding: float, demand: Sequence[float]) -> tuple[tuple[int, ...], float]:
    """The periods (from 0) in which to order, each for all until the next one, and the least cost in all.

    fixed: K an order; holding: h a unit and period held over its end; demand: by period.

    >>> order_days(500, 2, (90, 120, 80, 70))
    ((0, 2), 1380.0)
    """
    best: list[tuple[float, tuple[int, ...]]] = [(0.0, ())]
    for until in range(1, len(demand) + 1):
        found = []
        for begun in range(until):
            carried = sum((at - begun) * demand[at] for at in range(begun, until))
            before, days = best[begun]
            found.append((before + fixed + holding * carried, (*days, begun)))
        best.append(min(found))
    cost, days = best[-1]
    return days, cost
