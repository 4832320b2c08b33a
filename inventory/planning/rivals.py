"""Other orders that may want the same stock before more of it comes, and how likely one of them goes without.

Orders of each stream come as Poisson at a rate that is gamma about its mean, of sizes of their own; an order counts
where it could be late at all. Their pieces together are compound negative binomial (`predictive.compound`), sums
of several streams by convolution. Rates of streams are independent: what good and bad times they have together widens
each of them.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from itertools import accumulate

from inventory.planning.predictive import compound


@dataclass(frozen=True, slots=True)
class Rivals:
    """Orders of one stream. orders: expected of those that count; shape: of the gamma law; sizes: probabilities."""

    orders: float
    shape: float
    sizes: Mapping[int, float]


def wanted_more(streams: Iterable[Rivals], pieces: int) -> tuple[float, ...]:
    """The probabilities that they want more than 0, 1, … `pieces` in all.

    >>> [round(one, 4) for one in wanted_more([Rivals(2.0, 1.0, {1: 1.0})], 2)]
    [0.6667, 0.4444, 0.2963]
    """
    done: Sequence[float] = (1.0, *[0.0] * pieces)
    for one in streams:
        most = max(one.sizes, default=1)
        sizes = [one.sizes.get(size, 0.0) for size in range(1, most + 1)]
        law = compound(one.orders, one.shape, sizes, pieces)
        done = [sum(done[k] * law[n - k] for k in range(n + 1)) for n in range(pieces + 1)]
    return tuple(max(1 - sum_, 0.0) for sum_ in accumulate(done))
