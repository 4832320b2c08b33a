"""Recovery through the whole chain: bills, sessions, losses and factors of simulated shops, by `relearn`.

Source: an interval's own promise, checked by simulation-based calibration (Talts et al., arXiv:1804.06788; the number
from memory): truth is drawn from the first guess, and 90 % intervals must hold it in 85 shops of 100 at least, and
not in all.
"""

from __future__ import annotations

from fractions import Fraction

import numpy as np
import pytest

from inventory.jobs.learning.learned_figures import relearn
from inventory.jobs.learning.report import loss_intervals
from inventory.ledger.learned import MILLION
from jobs.learning_case import shop, simulated

KNOWN = shop()


def held(shops: int, seed: int) -> dict[tuple[str, str], tuple[int, int]]:
    """By rate and loss: in how many simulated shops its interval holds the truth, and in how many there is one."""
    dice = np.random.default_rng(seed)
    counts: dict[tuple[str, str], tuple[int, int]] = {}
    for _ in range(shops):
        made = simulated(KNOWN, dice)
        truth = {**made.factors, **made.losses}
        figures = relearn(KNOWN, made.sessions)
        ends: dict[tuple[str, str], tuple[Fraction, Fraction]] = {
            (one.part, one.per): (Fraction(one.low), Fraction(one.high)) for one in figures.rates
        }
        ends |= {
            key: (low * MILLION, high * MILLION)
            for key, (low, high) in loss_intervals(KNOWN, figures).items()
        }
        for key in truth.keys() & ends.keys():
            hit, every = counts.get(key, (0, 0))
            low, high = ends[key]
            counts[key] = (hit + (low <= MILLION * truth[key] <= high), every + 1)
    return counts


@pytest.mark.cross_check
def test_simulated_shops_are_recovered() -> None:
    """Three patterns, eight sessions, 40 shops: of all 90 % intervals 85 to 98 in 100 hold the truth.

    A single figure may stray by chance: within 99.9 % of Binomial(40, 0.85 to 0.985).
    """
    from scipy.stats import binom

    counts = held(40, seed=8)
    assert len(counts) == 9
    for key, (hit, every) in counts.items():
        assert binom.ppf(0.0005, every, 0.85) <= hit <= binom.ppf(0.9995, every, 0.985), key
    every = sum(number for _, number in counts.values())
    assert 0.85 <= sum(hit for hit, _ in counts.values()) / every <= 0.98


@pytest.mark.soak
@pytest.mark.cross_check
@pytest.mark.parametrize("seed", [1, 2])
def test_500_simulated_shops_are_recovered(seed: int) -> None:
    """The same with 500 shops: each rate and loss alone is held 85 to 98.5 times in 100 (chance of 500: 1.5)."""
    for key, (hit, every) in held(500, seed).items():
        assert 0.85 - 0.015 <= hit / every <= 0.985 + 0.015, key
