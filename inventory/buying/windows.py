"""Covering a part with an offer of which there are only so many packs: one step of the knapsack of `cover`."""

from __future__ import annotations

from collections import deque
from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from inventory.buying.case import Pack

if TYPE_CHECKING:
    from inventory.buying.cover import Stands

Step = tuple[int, int, int]
"""(from packs, to packs, price per pack)."""


def steps_of(pack: Pack, price: int | None, weight: int) -> list[Step]:
    """The prices of an offer with a limit, by how many packs; `price` where the group's level settles it."""
    most = pack.most or 0
    if price is not None:
        return [(1, most, price)]
    ends = [*(start - 1 for start, _ in pack.own[1:]), most]
    found = [
        (start, min(end, most), each * weight) for (start, each), end in zip(pack.own, ends, strict=True)
    ]
    return [one for one in found if one[0] <= one[1]]


def limited(best: Stands, number: int, size: int, steps: Sequence[Step], full: int) -> Stands:
    """Every stand with no packs, or any number of packs that a step allows, of one offer added.

    At one price the cheapest way to each size is the least of cost - price * packs over the stands within reach: a
    minimum over a moving window, so that it takes one pass whatever the limit is.
    """
    found = dict(best)
    classes: dict[int, list[int]] = {}
    for held in sorted(best):
        if held < full:
            classes.setdefault(held % size, []).append(held // size)
    for low, high, price in steps:
        for rest, places in classes.items():
            for at, cost, packs, held in _windows(best, size, rest, places, (low, high, price), full):
                if at not in found or cost < found[at][0]:
                    found[at] = (cost, (number, packs, best[held][1]))
    return found


def _windows(
    best: Stands, size: int, rest: int, places: Sequence[int], step: Step, full: int
) -> Iterator[tuple[int, int, int, int]]:
    """(size reached, cost, packs, size before) for one step and the stands that differ by whole packs."""
    low, high, price = step
    window: deque[tuple[int, int]] = deque()
    coming = 0
    for target in range(places[0] + low, min(places[-1] + high, (full - 1 - rest) // size) + 1):
        while coming < len(places) and places[coming] <= target - low:
            worth = best[places[coming] * size + rest][0] - price * places[coming]
            while window and window[-1][1] >= worth:
                window.pop()
            window.append((places[coming], worth))
            coming += 1
        while window and window[0][0] < target - high:
            window.popleft()
        if window:
            place, worth = window[0]
            yield target * size + rest, worth + price * target, target - place, place * size + rest
    for place in places:
        held = place * size + rest
        packs = max(low, -(-(full - held) // size))
        if packs <= high:
            yield full, best[held][0] + price * packs, packs, held
