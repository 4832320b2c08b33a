"""How many pieces reach each stage until so many are good, and how many to allow for so that all stages are enough.

Let R_s be the pieces that reach stage s until N are good. Going back from the end, R_s given R_{s+1} = m is the number
of trials that give m successes, m plus what `starts.Failures` says of m good ones. What is known of the stages is
independent, so each unknown share enters one step of the chain only, and the chain is exact with it unknown.

Allowing A_s pieces at every stage is enough with P(R_s ≤ A_s for every s): the same chance as that of a batch of A_0
begun together, of which at each stage as many as A_s of those that got so far are worked on, to give N good ones.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import accumulate
from typing import TYPE_CHECKING

from inventory.making.losses.starts import (
    TIE,
    Survival,
    check_confidence,
    check_starts,
    failures,
    never_sure,
    onward_success,
)

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

Law = tuple[int, tuple[float, ...]]
"""The fewest pieces, and the probabilities of that many, one more, …"""

MOST_STEPS = 300_000
"""Transitions an exact chain may take (a few hundredths of a second) before it is simulated instead."""
LEFT_OUT = 1e-5
"""Chance left out at the long end of what reaches a stage, where the share that survives is hardly known."""
MOST_EXACT = 60
"""Good pieces of a hardly known material beyond which the chain is not even tried."""
MOST_TIMES = 500
"""Starts for each good piece beyond which no number is sensible."""
FINE = 40
"""Spare pieces up to which allowances are raised one by one; beyond, by a fortieth."""
RUNS = 20_000
SEED = 1977


class TooMuchWork(Exception):
    """An exact recursion has taken more transitions than were allowed."""


@dataclass(frozen=True, slots=True)
class Allowance:
    """Pieces to allow for at each stage, the first the pieces to start; the chance that they give what is wanted."""

    pieces: tuple[int, ...]
    probability: float


def check_stages(good: int, survivals: Sequence[Survival]) -> None:
    """Refuse an order of nothing, a share that is none and losses so heavy that the work is hopeless."""
    for onward in onward_success(survivals):
        check_starts(good, onward)


def step_back(law: Law, survival: Survival, room: int, cap: int | None = None) -> tuple[Law, int]:
    """The law of what reaches a stage from that of what survives it, up to `cap`; the transitions left of `room`.

    Without a cap the long end is left out beyond a chance of `LEFT_OUT`.
    """
    first, probabilities = law
    after: list[float] = []
    for pieces, probability in enumerate(probabilities, first):
        failed = failures(pieces, survival)
        within = failed.nearly_all(LEFT_OUT) if cap is None else failed.within(cap - pieces)
        start = pieces - first + failed.fewest
        room -= len(within)
        if room < 0:
            raise TooMuchWork
        after.extend([0.0] * (start + len(within) - len(after)))
        for at, share in enumerate(within, start):
            after[at] += probability * share
    rare = _RARER if survival.light or cap is not None else _RARE
    while len(after) > 1 and after[-1] < rare:
        after.pop()
    return (first, tuple(after)), room


_RARE, _RARER = LEFT_OUT / 100, 1e-16


@lru_cache(maxsize=256)
def reach_laws(good: int, survivals: tuple[Survival, ...], most_steps: int = MOST_STEPS) -> tuple[Law, ...]:
    """The law of R_s for each stage. Raises TooMuchWork."""
    check_stages(good, survivals)
    if good > MOST_EXACT and not all(one.exact for one in survivals):
        raise TooMuchWork
    law: Law = (good, (1.0,))
    laws, room, exactly = [], most_steps, 1.0
    for survival in reversed(survivals):
        exactly *= survival.share if survival.exact else 0.0
        if exactly and not survival.sure:  # the successes of stages known exactly multiply
            failed = failures(good, Survival(exactly))
            law = good + failed.fewest, tuple(failed.probabilities)
        elif not survival.sure:
            law, room = step_back(law, survival, room)
        laws.append(law)
    return tuple(reversed(laws))


def probability_at_most(law: Law, pieces: int) -> float:
    """P(R ≤ pieces)."""
    first, probabilities = law
    return min(1.0, sum(probabilities[: max(0, pieces - first + 1)]))


def probability_within(good: int, survivals: tuple[Survival, ...], most: Sequence[int | None]) -> float:
    """P(R_s ≤ most_s for every stage s); None where a stage has no such limit. Raises TooMuchWork."""
    limits: list[int | None] = []
    for limit in most:  # a later stage is never reached by more than an earlier one
        before = limits[-1] if limits else None
        limits.append(limit if before is None else before if limit is None else min(limit, before))
    law: Law = (good, (1.0,))
    room = MOST_STEPS
    for survival, cap in zip(reversed(survivals), reversed(limits), strict=True):
        if cap is None:
            break  # nor does any earlier stage have a limit
        law, room = step_back(law, survival, room, cap)
    return min(1.0, sum(law[1]))


def quantile(law: Law, level: float) -> int:
    """The fewest pieces that are enough with that probability; the most that are known where that is never reached."""
    first, probabilities = law
    sums = accumulate(probabilities)
    return first + next(
        (k for k, reached in enumerate(sums) if reached >= level - TIE), len(probabilities) - 1
    )


@lru_cache(maxsize=2048)
def allowances(good: int, survivals: tuple[Survival, ...], confidence: float) -> Allowance:
    """The pieces to allow for at each stage so that all together are enough with probability `confidence`.

    Each stage starts at its own quantile; while all together are not enough, the stage least likely to be is allowed
    one more. Large orders are simulated (the same call always gives the same answer). Raises BadInput where no
    sensible number is enough.
    """
    check_confidence(confidence)
    check_stages(good, survivals)
    try:
        return _allowed(_Exact(good, survivals), confidence)
    except TooMuchWork:
        return _allowed(_Simulated(good, survivals), confidence)


def _allowed(reach: _Exact | _Simulated, confidence: float) -> Allowance:
    pieces = reach.quantiles(confidence)
    while (probability := reach.together(pieces)) < confidence - TIE:
        alone = [reach.alone(stage, many) for stage, many in enumerate(pieces)]
        weakest = min(alone)
        if weakest >= reach.most or pieces[0] > MOST_TIMES * reach.good:
            raise never_sure(reach.good, confidence)
        more = max(
            1, (pieces[0] - reach.good) // FINE
        )  # of a hundred spare ones a few more make no difference
        pieces = tuple(
            many + more if probability <= weakest else many
            for many, probability in zip(pieces, alone, strict=True)
        )
    return Allowance(pieces, probability)


class _Exact:
    """What reaches the stages by the exact chain. Stages at which nothing is lost have the same law as the next."""

    most = 1.0 - 10 * LEFT_OUT

    def __init__(self, good: int, survivals: tuple[Survival, ...]) -> None:
        self.good, self.survivals = good, survivals
        self.laws = reach_laws(good, survivals)

    def quantiles(self, level: float) -> tuple[int, ...]:
        return tuple(quantile(law, level) for law in self.laws)

    def alone(self, stage: int, pieces: int) -> float:
        return probability_at_most(self.laws[stage], pieces)

    def together(self, pieces: Sequence[int]) -> float:
        return probability_within(self.good, self.survivals, pieces)


class _Simulated:
    """The same by seeded runs, for orders so large that the chain is too long."""

    most = 1.0

    def __init__(self, good: int, survivals: tuple[Survival, ...]) -> None:
        self.good = good
        self.reached = simulate_reach(good, survivals)

    def quantiles(self, level: float) -> tuple[int, ...]:
        import numpy as np

        return tuple(int(one) for one in np.quantile(self.reached, level, axis=0, method="inverted_cdf"))

    def alone(self, stage: int, pieces: int) -> float:
        return float((self.reached[:, stage] <= pieces).mean())

    def together(self, pieces: Sequence[int]) -> float:
        return float((self.reached <= list(pieces)).all(axis=1).mean())


@lru_cache(maxsize=8)
def simulate_reach(
    good: int, survivals: tuple[Survival, ...], runs: int = RUNS, seed: int = SEED
) -> NDArray[np.int64]:
    """Seeded runs of what reaches each stage: an array of runs × stages."""
    import numpy as np

    dice = np.random.default_rng(seed)
    reached = np.full(runs, good, dtype=np.int64)
    done = []
    for survival in reversed(survivals):
        if not survival.sure:
            reached = reached + dice.negative_binomial(reached, shares(dice, survival, runs))
        done.append(reached)
    return np.stack(done[::-1], axis=1)


def shares(dice: np.random.Generator, survival: Survival, runs: int) -> NDArray[np.float64]:
    """Seeded draws of a share that is known as `survival` says."""
    import numpy as np

    if survival.exact:
        return np.full(runs, survival.share)
    return np.maximum(dice.beta(*survival.beta, size=runs), _LEAST_SHARE)


_LEAST_SHARE = 1e-6  # a share of nothing would need endless starts
