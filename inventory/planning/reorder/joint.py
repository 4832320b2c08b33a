"""Several parts in one parcel: how often to send for it, and which part to take with it each time.

A parcel costs S, each line s more; part i is taken every m_i parcels. The least of
(S + Σ s_i / m_i) / T + Σ h d_i m_i T / 2 over the time T between parcels and whole m_i: for a given T the best m_i is
the one with m (m − 1) ≤ 2 s_i / (h d_i T²) < m (m + 1), for given m the best T is a square root. Between the times at
which some m_i changes the cost is convex, so it is looked at there one after the other, from above, until no smaller T
can win. (The usual heuristic is not the optimum: Silver, A simple method of determining order quantities in joint
replenishments under deterministic demand, Management Science 22 (1976), whose data stand in the tests.)
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil, sqrt


@dataclass(frozen=True, slots=True)
class Joint:
    """Time between parcels, every how many of them each part is taken, and the cost per unit of time."""

    every: float
    multiples: tuple[int, ...]
    cost: float


def joint_replenishment(parcel: float, lines: Sequence[float], held: Sequence[float]) -> Joint:
    """The least-cost way. parcel: S above 0; lines: s_i, 0 or more.

    held: h·d_i above 0, what a unit of time's need costs to hold for a unit of time. At least one part.
    """
    time = max(sqrt(s / h) for s, h in zip(lines, held, strict=True))  # above it every m is 1
    best = _at((1,) * len(held), parcel, lines, held)
    # Below this time the parcels alone cost more than the best way found.
    while time > parcel / best.cost:
        time *= 1 - 1e-12  # just below the time of a change
        multiples = multiples_at(time, lines, held)
        best = min(best, _at(multiples, parcel, lines, held), key=lambda one: one.cost)
        changes = (sqrt(2 * s / (h * m * (m + 1))) for s, h, m in zip(lines, held, multiples, strict=True))
        time = max((change for change in changes if change < time), default=0.0)
    return best


def multiples_at(time: float, lines: Sequence[float], held: Sequence[float]) -> tuple[int, ...]:
    """Every how many parcels each part is best taken where there is one every so often."""
    return tuple(_multiple(s, h, time) for s, h in zip(lines, held, strict=True))


def _multiple(line: float, held: float, time: float) -> int:
    """The whole m with m (m − 1) ≤ x < m (m + 1)."""
    x = 2 * line / (held * time * time)
    return max(ceil((sqrt(4 * x + 1) - 1) / 2 - 1e-12), 1) if x * (1 + 1e-12) < 1e18 else 1


def _at(multiples: tuple[int, ...], parcel: float, lines: Sequence[float], held: Sequence[float]) -> Joint:
    fixed = parcel + sum(s / m for s, m in zip(lines, multiples, strict=True))
    carried = sum(h * m for h, m in zip(held, multiples, strict=True))
    return Joint(sqrt(2 * fixed / carried), multiples, sqrt(2 * fixed * carried))
