"""Chance from whole numbers, the same on every system.

numpy promises the raw stream of its PCG64 generator and the hash that seeds it (SeedSequence) for good; how it makes
other laws of them it may change. So draws are halves of these raw numbers, 0 to 2³² − 1, held against the steps of a
law's sums, which are rounded to whole numbers of the same scale: last digits of a logarithm, which differ between
machines, are far below it.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    from inventory.planning.forecasting.arrays import Floats

    Draws = NDArray[np.uint32]
    Ints = NDArray[np.int64]

WHOLE = 2.0**32
MOST = 100_000
"""No draw counts further."""


def draws(seed: int, stream: Sequence[int], many: int) -> Draws:
    """So many whole numbers below 2³², each as likely. stream: what they are for; others do not move them."""
    import numpy as np

    raw = np.random.PCG64(np.random.SeedSequence([seed, *stream])).random_raw(-(-many // 2))
    both = np.stack([raw >> np.uint64(32), raw & np.uint64(0xFFFFFFFF)], axis=1)
    return both.ravel()[:many].astype(np.uint32)


def ladder(shares: Sequence[float]) -> Floats:
    """The steps of a law over so many cases; case i is where a draw has i of them at or below it."""
    import numpy as np

    sums = np.cumsum(np.array(shares, dtype=float))
    return np.asarray(np.rint(sums[:-1] / sums[-1] * WHOLE))


def cases(drawn: Draws, shares: Sequence[float]) -> Ints:
    """Which case each draw is, from 0 on. shares: above 0 in all."""
    import numpy as np

    return np.searchsorted(ladder(shares), drawn, side="right")


def counts(drawn: Draws, size: Floats, odds: Floats) -> Ints:
    """Negative binomial numbers: P(k) = Γ(a + k) / (Γ(a) k!) (1 − q)^a qᵏ, a the size above 0, q from 0 to below 1.

    Arrays of one shape, flat. Found by going up the sums, so that a larger draw is never a smaller number.
    """
    import numpy as np

    chance = (1 - odds) ** size
    found = np.zeros(len(drawn), dtype=np.int64)
    left = np.flatnonzero(drawn >= np.rint(chance * WHOLE))
    a, q, chance, k = size[left], odds[left], chance[left], 0
    reached = chance.copy()
    while left.size and k < MOST:
        chance = chance * (a + k) / (k + 1) * q
        reached = reached + chance
        k += 1
        found[left] = k
        more = (drawn[left] >= np.rint(reached * WHOLE)) & (chance > 0)
        left, a, q, chance, reached = left[more], a[more], q[more], chance[more], reached[more]
    return found
