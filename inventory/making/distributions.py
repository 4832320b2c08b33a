"""Distributions of whole amounts: pieces worked on, thousandths of a unit used, each with its probability.

How many pieces are worked on at a stage is the batch's law (see `making.evening`); stages of one row are taken as
independent. Of counted parts that is what is used; of supplies it is what `making.supply_use` is asked with.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping

Distribution = Mapping[int, float]
"""Amounts and the probability of just so much; they may add up to a little less than 1 where trifles are left out."""

NEGLIGIBLE = 1e-13
FINEST = 400
"""Steps a distribution is kept in, where the parts of it do not fall on common ones by themselves."""
WHOLE = 1000


def mean(one: Distribution) -> float:
    """How much on average."""
    return sum(amount * weight for amount, weight in one.items())


def use_of(worked: Distribution, taken: Callable[[int], int]) -> Distribution:
    """What the pieces worked on at a stage take of a part. taken: thousandths for so many of them."""
    done: dict[int, float] = {}
    for pieces, weight in worked.items():
        done[taken(pieces)] = done.get(taken(pieces), 0.0) + weight
    return done


def both(one: Distribution, other: Distribution) -> Distribution:
    """The sum of two independent amounts, on a grid no finer than it has to be (rounded up: on the safe side)."""
    done: dict[int, float] = {}
    for a, p in one.items():
        for b, q in other.items():
            sum_ = a + b
            done[sum_] = done.get(sum_, 0.0) + p * q
    done = {use: weight for use, weight in done.items() if weight > NEGLIGIBLE} or done
    if len(done) <= FINEST or all(use % WHOLE == 0 for use in done):
        return done
    step = -(-(max(done) - min(done)) // FINEST)
    coarse: dict[int, float] = {}
    for use, weight in done.items():
        at = -(-use // step) * step
        coarse[at] = coarse.get(at, 0.0) + weight
    return coarse


def suffices(use: Distribution, once: int, there: int) -> float:
    """P(use + once ≤ there) of a counted part. once: thousandths taken once a session."""
    return sum(weight for amount, weight in use.items() if amount + once <= there) / sum(use.values())
