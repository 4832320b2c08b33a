"""Several parts in one parcel: how often to send for it, and which part to take with it each time.

A parcel costs S, each line s more; part i is taken every m_i parcels. The least of
(S + Σ s_i / m_i) / T + Σ h d_i m_i T / 2 over the time T between parcels and whole m_i: for a given T the best m_i is
the one with m (m − 1) ≤ 2 s_i / (h d_i T²) < m (m + 1), for given m the best T is a square root. Between the times at
which some m_i changes the cost is convex, so it is looked at there one after the other, from above, until no smaller T
can win. (The usual heuristic is not the optimum: Silver, A simple method of determining order quantities in joint
replenishments under deterministic demand, Management Science 22 (1976), whose data stand in the tests.)
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from heapq import heapify, heapreplace
from math import sqrt


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
    fixed, carried = parcel + sum(lines), sum(held)
    now, changed = [1] * len(held), list[int]()  # above all times of a change every m is 1
    changes = [(-_change(s, h, 1), at) for at, (s, h) in enumerate(zip(lines, held, strict=True)) if s]
    heapify(changes)
    cost, kept = sqrt(2 * fixed * carried), 0
    # Below this time the parcels alone cost more than the best way found. One m changes at a time, so that sums are
    # kept and not made anew: of 600 parts there are tens of thousands of changes.
    while changes and -changes[0][0] > parcel / cost:
        at = changes[0][1]
        m = now[at]
        now[at] = m + 1
        heapreplace(changes, (-_change(lines[at], held[at], m + 1), at))
        fixed -= lines[at] / (m * (m + 1))
        carried += held[at]
        changed.append(at)
        if (less := sqrt(2 * fixed * carried)) < cost * (1 - 1e-12):
            cost, kept = less, len(changed)
    many = Counter(changed[:kept])
    return _at(tuple(1 + many[at] for at in range(len(held))), parcel, lines, held)


def _change(line: float, held: float, multiple: int) -> float:
    """The time below which a part is better taken once in `multiple` + 1 parcels."""
    return sqrt(2 * line / (held * multiple * (multiple + 1)))


def multiples_at(time: float, lines: Sequence[float], held: Sequence[float]) -> tuple[int, ...]:
    """Every how many parcels each part is best taken where there is one every so often."""
    return tuple(_multiple(s, h, time) for s, h in zip(lines, held, strict=True))


def _multiple(line: float, held: float, time: float) -> int:
    """The whole m with m (m − 1) ≤ 2 s / (h d T²) < m (m + 1)."""
    return int((1 + sqrt(1 + 8 * line / (held * time * time))) / 2)


def _at(multiples: tuple[int, ...], parcel: float, lines: Sequence[float], held: Sequence[float]) -> Joint:
    fixed = parcel + sum(s / m for s, m in zip(lines, multiples, strict=True))
    carried = sum(h * m for h, m in zip(held, multiples, strict=True))
    return Joint(sqrt(2 * fixed / carried), multiples, sqrt(2 * fixed * carried))
