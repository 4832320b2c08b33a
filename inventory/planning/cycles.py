"""How often to send to a supplier: postage, price steps and free postage against money that lies in stock.

A cycle of T weeks takes d_i m_i T of part i each m_i-th time. Tried are the joint replenishment cycle at full postage,
the one that just reaches free postage, those that just reach a price step, and each week up to half a year; the one
with the least cost a week is taken: purchase prices at the step reached, postage, the work of a line, and money
tied up, i c d T / 2 (`reorder.joint`, `reorder.quantity`).
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from math import inf

from inventory.planning.reorder.joint import joint_replenishment, multiples_at

LONGEST = 26.0
"""Weeks between two parcels of a supplier at most: nobody looks half a year ahead."""
LINE = 0.20
"""What a line more on a list costs in work, in the shop's coin (an assumption: a minute at 12 an hour)."""


@dataclass(frozen=True, slots=True)
class Supplied:
    """One part from one supplier. rate: units a week; keeps: weeks it may lie (None: any).

    price: what a unit costs, in coins of the shop, where so many units of it and its price group are bought at once.
    group: rows of one price group share its name; steps: units of the group at which the price falls.
    """

    rate: float
    price: Callable[[float], float]
    group: str
    steps: tuple[float, ...] = ()
    keeps: float | None = None


@dataclass(frozen=True, slots=True)
class Cycle:
    """Weeks between parcels, every how many of them each part comes, and what it all costs a week."""

    weeks: float
    multiples: tuple[int, ...]
    cost: float


def cycle(parts: Sequence[Supplied], postage: float, free_from: float | None, holding: float) -> Cycle:
    """The least-cost cycle. holding: coins a coin's worth and week; parts with a rate above 0, at least one."""
    single = [one.rate * one.price(0.0) for one in parts]
    spent = sum(single)
    tried = {float(week) for week in range(1, int(LONGEST) + 1)}
    if postage > 0:
        tried.add(joint_replenishment(postage, [LINE] * len(parts), [holding * one for one in single]).every)
    if free_from is not None:
        tried.add(free_from / spent)
    groups = {one.group: sum(other.rate for other in parts if other.group == one.group) for one in parts}
    tried |= {step / groups[one.group] for one in parts for step in one.steps}
    within = (_at(time, parts, postage, free_from, holding) for time in tried if time <= LONGEST)
    return min(within, key=lambda one: one.cost)


def _at(
    time: float, parts: Sequence[Supplied], postage: float, free_from: float | None, holding: float
) -> Cycle:
    held = [holding * one.rate * one.price(0.0) for one in parts]
    longest = [max(int((one.keeps or LONGEST) / time), 1) for one in parts]
    free = multiples_at(time, [LINE] * len(parts), held)
    multiples = tuple(min(m, most) for m, most in zip(free, longest, strict=True))
    units = [one.rate * min(m * time, one.keeps or inf) for one, m in zip(parts, multiples, strict=True)]
    groups: dict[str, float] = {}
    for one, many in zip(parts, units, strict=True):
        groups[one.group] = groups.get(one.group, 0.0) + many
    prices = [one.price(groups[one.group]) for one in parts]
    goods = sum(one.rate * price for one, price in zip(parts, prices, strict=True))
    posted = 0.0 if free_from is not None and goods * time >= free_from * (1 - 1e-9) else postage
    lines = sum(LINE / m for m in multiples)
    lying = sum(price * many for price, many in zip(prices, units, strict=True)) / 2
    return Cycle(time, multiples, goods + (posted + lines) / time + holding * lying)
