"""The whole distribution of what will be asked for, not only its mean.

Orders come at a rate nobody knows exactly; given the rate their number is Poisson, the rate is gamma, so the number
in a stretch of time is negative binomial: mean μ, shape r, variance μ + μ²/r. Each order asks for some pieces, so their
sum is compound. Its probabilities follow from Panjer, Recursive evaluation of a family of compound distributions, ASTIN
Bulletin 12 (1981), from memory: with q = μ/(r + μ), a = q, b = (r − 1) q,
g(0) = (1 − q)^r and g(s) = Σ_{j=1..s} (a + b j/s) f(j) g(s − j), f the sizes of an order, at least 1 each.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import accumulate


def compound(orders: float, shape: float, sizes: Sequence[float], upto: int) -> tuple[float, ...]:
    """Probabilities of 0, 1, … `upto` pieces asked for in all.

    orders: μ, the expected number of orders, 0 or more; shape: r above 0, the larger the surer the rate; sizes:
    probabilities of an order of 1, 2, … pieces, together 1.

    >>> [round(p, 4) for p in compound(2.0, 1.0, (1.0,), 3)]
    [0.3333, 0.2222, 0.1481, 0.0988]
    """
    q = orders / (shape + orders)
    done = [(1 - q) ** shape]
    for s in range(1, upto + 1):
        terms = (
            q * (1 + (shape - 1) * j / s) * sizes[j - 1] * done[s - j]
            for j in range(1, min(s, len(sizes)) + 1)
        )
        done.append(sum(terms))
    return tuple(done)


def enough(probabilities: Sequence[float], chance: float) -> int:
    """The least number of pieces that suffices with that probability; the last one known where none does.

    >>> enough((0.5, 0.3, 0.15, 0.05), 0.9)
    2
    """
    sums = accumulate(probabilities)
    return next((n for n, sum_ in enumerate(sums) if sum_ >= chance - 1e-12), len(probabilities) - 1)
