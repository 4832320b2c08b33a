"""Sessions of an invented shop, for the tests of use rates."""

from __future__ import annotations

import random
from collections.abc import Mapping

from inventory.making.rates.model import Observation


def session(name: int, used: float, error: float = 0.1, **exposure: float) -> Observation:
    """One observation; its exposure by keyword."""
    return Observation(name, used, exposure, error)


def shop(seed: int, sessions: int, truth: Mapping[str, float], scatter: float = 0.1) -> list[Observation]:
    """Sessions of 10 to 30 pieces with that scatter (a share of what was used) and weighings right to 0.1."""
    dice = random.Random(seed)
    made = []
    for i in range(sessions):
        exposure = {"piece": float(dice.randint(10, 30)), "session": 1.0}
        exact = sum(rate * exposure[per] for per, rate in truth.items())
        used = exact * (1 + scatter * dice.gauss(0, 1)) + 0.1 * dice.gauss(0, 1)
        made.append(Observation(i, used, {per: exposure[per] for per in truth}, 0.1))
    return made
