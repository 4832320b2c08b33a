"""A cutting-stock problem in whole units, the first-fit-decreasing plan for it and a simple bound."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from math import ceil

Bins = Counter[tuple[int, tuple[int, ...]]]
"""How often a blank of a kind is cut into these items (kinds and items by their numbers)."""


MOST_ROUNDINGS = 40
"""Ways of rounding shares that are tried for a bound."""


@dataclass(frozen=True, slots=True)
class Task:
    """Items to be cut from blanks, by number.

    widths  of the items and `rooms` of the blanks, one kerf added to each, in one unit
    costs   lengths of the blanks over their common divisor
    counts  blanks there are of each kind; infinity where there is no limit
    """

    widths: Sequence[int]
    demands: Sequence[int]
    rooms: Sequence[int]
    costs: Sequence[int]
    counts: Sequence[float]

    def cost(self, bins: Bins) -> int:
        """Length of the blanks cut, in cost units."""
        return sum(self.costs[kind] * times for (kind, _), times in bins.items())

    def missing(self, bins: Bins) -> int:
        """Items not made."""
        return sum(self.demands) - sum(len(content) * times for (_, content), times in bins.items())

    def fitting(self) -> Task:
        """The same with only those items demanded which a blank that is there has room for."""
        widest = max((room for _, room in self.there()), default=0)
        wanted = zip(self.widths, self.demands, strict=True)
        return replace(self, demands=[demand if width <= widest else 0 for width, demand in wanted])

    def there(self) -> list[tuple[int, int]]:
        """Cost and room of each kind of blank there is at least one of."""
        kinds = zip(self.costs, self.rooms, self.counts, strict=True)
        return [(cost, room) for cost, room, count in kinds if count > 0]


def simple_bound(task: Task) -> int:
    """No plan for all items costs less; every item demanded fits a blank that is there.

    The widths laid end to end over the cheapest room, and each item by itself: of n = ⌊room / width⌋ to a blank,
    `demand` of them cost at least demand · min(cost / n). Of one kind of blank also `rounded`. The largest of these,
    rounded up.
    """
    kinds = task.there()
    wanted = [(width, demand) for width, demand in zip(task.widths, task.demands, strict=True) if demand]
    if not wanted:
        return 0
    total = sum(width * demand for width, demand in wanted)
    bounds = [total * min(Fraction(cost, room) for cost, room in kinds)]
    bounds += [
        demand * min(Fraction(cost, room // width) for cost, room in kinds if room >= width)
        for width, demand in wanted
    ]
    if len(kinds) == 1:
        ((cost, room),) = kinds
        bounds += [Fraction(cost * ceil(blanks)) for blanks in rounded(wanted, room)]
    return ceil(max(bounds))


def rounded(wanted: Sequence[tuple[int, int]], room: int) -> Iterator[Fraction]:
    """Blanks that (width, how many) take at least, by shares of a blank rounded so that a full one stays at most 1.

    For every k ≥ 1 the shares x = width / room may be replaced by ⌊(k + 1)·x⌋ / k where (k + 1)·x is not whole: those
    of one blank add up to (k + 1) at most, so that what is rounded down adds up to k. (S. P. Fekete, J. Schepers,
    *Mathematical Programming* 91, 2001, u^(k), from memory.) With k = 1 whatever is wider than half a blank has one of
    its own. Tried up to as many as a blank has room for of the narrowest: the larger k, the less is rounded.
    """
    for k in range(1, min(room // min(width for width, _ in wanted), MOST_ROUNDINGS) + 1):
        shares = [divmod((k + 1) * width, room) for width, _ in wanted]
        yield sum(
            (
                demand * (Fraction(whole, k) if over else Fraction(width, room))
                for (whole, over), (width, demand) in zip(shares, wanted, strict=True)
            ),
            Fraction(0),
        )


def first_fit(task: Task) -> Bins:
    """Widest item first into the first blank with room; the better of opening short or long blanks."""
    kinds = sorted(range(len(task.rooms)), key=lambda kind: task.rooms[kind])
    plans = [_fill(task, kinds), _fill(task, kinds[::-1])]
    return min(plans, key=lambda bins: (task.missing(bins), task.cost(bins)))


def _fill(task: Task, order: Sequence[int]) -> Bins:
    """First-fit-decreasing that opens the first kind of `order` that holds the item and is not used up."""
    left = list(task.counts)
    rooms: list[int] = []
    contents: list[tuple[int, list[int]]] = []
    for item in sorted(range(len(task.widths)), key=lambda i: -task.widths[i]):
        width, first = task.widths[item], 0
        for _ in range(task.demands[item]):
            # What had no room for one of a kind has none for the next, so the search goes on from there.
            first = next((b for b in range(first, len(rooms)) if rooms[b] >= width), len(rooms))
            if first == len(rooms):
                kind = next((k for k in order if task.rooms[k] >= width and left[k] > 0), None)
                if kind is None:
                    break
                left[kind] -= 1
                rooms.append(task.rooms[kind])
                contents.append((kind, []))
            rooms[first] -= width
            contents[first][1].append(item)
    return Counter((kind, tuple(content)) for kind, content in contents)
