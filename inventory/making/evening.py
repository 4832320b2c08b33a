"""One order at the bench: a batch is begun together, and what is used counts every start that reaches a stage.

A_0 pieces are begun; of the K_s that get as far as stage s, M_s = min(K_s, A_s) are worked on (no more than was laid
out for that stage), and K_{s+1} given M_s = m is beta-binomial, for the share that survives is not known exactly:

    P(K = k) = C(m, k) · B(a + k, b + m − k) / B(a, b)

(Johnson, Kemp, Kotz, *Univariate Discrete Distributions*, 3rd ed. 2005, ch. 6, from memory). The chance of at least N
good ones is that of `reaching.allowances`. Starts, set-asides, sessions and prices all go by this one model.
"""

from __future__ import annotations

from collections.abc import Hashable, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from math import exp, lgamma
from typing import TYPE_CHECKING

from inventory.making.distributions import Distribution
from inventory.making.losses.reaching import RUNS, SEED, Allowance, allowances, shares
from inventory.making.losses.starts import Survival, log_beta

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

MOST_EXACT = 200
"""Starts beyond which the batch is simulated."""
TOGETHER = 8_000
"""Runs for several batches together."""
STEPS = 400
"""Counts a simulated batch is told in; it is rounded up to them."""

_NEGLIGIBLE = 1e-13


@dataclass(frozen=True, slots=True)
class Evening:
    """A batch for `good` good pieces. survivals: what is known of each stage; allowed: the most worked on at each.

    chance: that at least `good` come out.
    """

    good: int
    survivals: tuple[Survival, ...]
    allowed: tuple[int, ...]
    probability: float

    @property
    def starts(self) -> int:
        """Pieces begun."""
        return self.allowed[0]

    def begun(self, starts: int) -> Evening:
        """The same evening with another number of pieces begun, no more at any stage."""
        allowed = (starts, *(min(starts, most) for most in self.allowed[1:]))
        here = Evening(self.good, self.survivals, allowed, 0.0)
        enough = sum(probability for pieces, probability in here.finished.items() if pieces >= self.good)
        return replace(here, probability=min(enough, 1.0))

    @property
    def worked(self) -> tuple[Distribution, ...]:
        """By stage, how many pieces are worked on there."""
        return _batch(self.allowed, self.survivals)[:-1]

    @property
    def finished(self) -> Distribution:
        """How many come out good."""
        return _batch(self.allowed, self.survivals)[-1]

    @property
    def spare(self) -> float:
        """Good pieces beyond those wanted, on average."""
        return sum(max(pieces - self.good, 0) * probability for pieces, probability in self.finished.items())


def evening(good: int, survivals: Sequence[Survival], confidence: float) -> Evening:
    """The smallest batch that gives `good` good pieces with probability `confidence`. Raises BadInput."""
    found: Allowance = allowances(good, tuple(survivals), confidence)
    return Evening(good, tuple(survivals), found.pieces, found.probability)


def nothing(survivals: Sequence[Survival]) -> Evening:
    """No piece begun: everything wanted is there."""
    return Evening(0, tuple(survivals), (0,) * len(survivals), 1.0)


@lru_cache(maxsize=512)
def _batch(allowed: tuple[int, ...], survivals: tuple[Survival, ...]) -> tuple[Distribution, ...]:
    """The law of what is worked on at each stage, and last of what comes out good."""
    if allowed[0] > MOST_EXACT:
        runs = simulate_batch(allowed, survivals, RUNS, SEED)
        return tuple(_told(runs[:, stage]) for stage in range(runs.shape[1]))
    here: dict[int, float] = {allowed[0]: 1.0}
    done: list[Distribution] = []
    for most, survival in zip(allowed, survivals, strict=True):
        here = _at_most(here, most)
        done.append(here)
        here = _survive(here, survival)
    return (*done, here)


def _at_most(pieces: Distribution, most: int) -> dict[int, float]:
    done: dict[int, float] = {}
    for many, probability in pieces.items():
        done[min(many, most)] = done.get(min(many, most), 0.0) + probability
    return done


def _survive(pieces: dict[int, float], survival: Survival) -> dict[int, float]:
    if survival.sure:
        return pieces
    done: dict[int, float] = {}
    for many, weight in pieces.items():
        for kept, share in enumerate(survivor_probabilities(many, survival)):
            done[kept] = done.get(kept, 0.0) + weight * share
    return {many: probability for many, probability in done.items() if probability > _NEGLIGIBLE}


@lru_cache(maxsize=4096)
def survivor_probabilities(pieces: int, survival: Survival) -> tuple[float, ...]:
    """P(K = k) for k = 0, 1, … `pieces` of which each survives."""
    share, (a, b) = survival.share, survival.beta
    if survival.sure:
        return (*(0.0 for _ in range(pieces)), 1.0)
    done = []
    for k in range(pieces + 1):
        ways = lgamma(pieces + 1) - lgamma(k + 1) - lgamma(pieces - k + 1)
        if survival.exact:
            done.append(exp(ways) * share**k * (1.0 - share) ** (pieces - k))
        else:
            done.append(exp(ways + log_beta(a + k, b + pieces - k) - log_beta(a, b)))
    return tuple(done)


def simulate_batch(
    allowed: Sequence[int], survivals: Sequence[Survival], runs: int, seed: int
) -> NDArray[np.int64]:
    """Seeded runs of a batch: an array of runs × (pieces worked on at each stage, and good ones last)."""
    import numpy as np

    dice = np.random.default_rng(seed)
    here = np.full(runs, allowed[0], dtype=np.int64)
    done = []
    for most, survival in zip(allowed, survivals, strict=True):
        here = np.minimum(here, most)
        done.append(here)
        if not survival.sure:
            here = dice.binomial(here, shares(dice, survival, runs))
    return np.stack([*done, here], axis=1)


def _told(runs: NDArray[np.int64]) -> Distribution:
    """Simulated counts on a grid no finer than it has to be, rounded up."""
    import numpy as np

    step = max(1, -(-int(runs.max() - runs.min()) // STEPS))
    counts = dict(zip(*np.unique(-(-runs // step) * step, return_counts=True), strict=True))
    return {int(many): float(often) / len(runs) for many, often in counts.items()}


def all_enough(batches: Sequence[tuple[Evening, Sequence[Hashable]]]) -> float:
    """The chance that every one of several batches gives what is wanted; seeded runs, right to about half a point.

    With each batch what its stages' shares are called: batches of one material share what they lose, so that all come
    out well together more often than if each met a fate of its own.
    """
    if len(batches) < 2:
        return batches[0][0].probability if batches else 1.0
    import numpy as np

    dice, drawn = np.random.default_rng(SEED), dict[Hashable, "NDArray[np.float64]"]()
    enough = np.ones(TOGETHER, dtype=bool)
    for batch, names in batches:
        here = np.full(TOGETHER, batch.starts, dtype=np.int64)
        for name, most, survival in zip(names, batch.allowed, batch.survivals, strict=True):
            here = np.minimum(here, most)
            if not survival.sure:
                if name not in drawn:
                    drawn[name] = shares(dice, survival, TOGETHER)
                here = dice.binomial(here, drawn[name])
        enough &= here >= batch.good
    return float(enough.mean())
