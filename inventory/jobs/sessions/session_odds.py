"""How much of a part the bills ask of a session, and the odds that what is there suffices for it.

How many pieces are worked on at a stage is the batch's law (see `making.evening`); stages of one row are taken as
independent. Of counted parts that is what is used; of supplies it is what their law is asked with (`jobs.supply_use`).
"""

from __future__ import annotations

from collections.abc import Callable, Mapping

from inventory.making.evening import Pieces

Use = dict[int, float]
"""Thousandths used and the probability of just that."""

NEGLIGIBLE = 1e-13
FINEST = 400
"""Steps a distribution is kept in, where the parts of it do not fall on common ones by themselves."""
WHOLE = 1000


def use_of(worked: Pieces, taken: Callable[[int], int]) -> Use:
    """What the pieces worked on at a stage take of a part. taken: thousandths for so many of them."""
    done: Use = {}
    for pieces, weight in worked.items():
        done[taken(pieces)] = done.get(taken(pieces), 0.0) + weight
    return done


def both(one: Mapping[int, float], other: Mapping[int, float]) -> Use:
    """The sum of two independent uses, on a grid no finer than it has to be (rounded up: on the safe side)."""
    done: Use = {}
    for a, p in one.items():
        for b, q in other.items():
            done[a + b] = done.get(a + b, 0.0) + p * q
    done = {use: weight for use, weight in done.items() if weight > NEGLIGIBLE} or done
    if len(done) <= FINEST or all(use % WHOLE == 0 for use in done):
        return done
    step = -(-(max(done) - min(done)) // FINEST)
    coarse: Use = {}
    for use, weight in done.items():
        at = -(-use // step) * step
        coarse[at] = coarse.get(at, 0.0) + weight
    return coarse


def mean(use: Mapping[int, float]) -> float:
    """What is used on average."""
    return sum(amount * weight for amount, weight in use.items())


def suffices(use: Mapping[int, float], once: int, there: int) -> float:
    """P(use ≤ there) of a counted part. once: thousandths taken once a session."""
    enough = sum(weight for amount, weight in use.items() if amount + once <= there)
    return min(enough / sum(use.values()), 1.0)
