"""The least cost of covering one part when every offer's price is settled: an exact knapsack over whole packs."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from inventory.buying.case import Pack

NEVER = 1 << 200
"""Dearer than anything."""

Plan = tuple[()] | tuple[int, int, "Plan"]
"""What to buy as a chain: (offer number, packs, the rest of the chain)."""

Priced = tuple[int, Pack, int | None, int]
"""An offer to cover with: its number, itself, its price per pack (None: its own steps), and the weight of own costs."""


def cover(needs: Sequence[int], priced: Sequence[Priced]) -> tuple[int, Plan]:
    """Least cost and packs so that by every tier its need has arrived; `NEVER` when these offers cannot.

    Own steps may make more packs than needed cheaper (`Pack.ladder`).  Deadlines are met tier
    by tier: what arrives for an earlier date counts for every later one.
    """
    full = needs[-1]
    best: dict[int, tuple[int, Plan]] = {0: (0, ())}
    for tier, need in enumerate(needs):
        for number, pack, price, weight in _undominated([one for one in priced if one[1].tier == tier]):
            if price is None:
                best = _own_steps(best, number, pack, weight, full)
            else:
                _straight(best, number, pack.size, price, full)
        best = {held: found for held, found in best.items() if held >= need}
    return best.get(full, (NEVER, ()))


def _undominated(priced: list[Priced]) -> list[Priced]:
    """Drop an offer whose pack is no larger and no cheaper than another's straight price."""
    kept: list[Priced] = []
    for one in sorted(priced, key=lambda it: (-it[1].size, NEVER if it[2] is None else it[2])):
        price = one[2]
        if price is None or not any(k[2] is not None and k[2] <= price for k in kept):
            kept.append(one)
    return kept


def _straight(best: dict[int, tuple[int, Plan]], number: int, size: int, price: int, full: int) -> None:
    """Add packs at one price, in place; a walk stops where another stand is already as cheap."""
    for held in sorted(best):
        cost, plan = best[held]
        packs = 0
        at = held
        while at < full:
            at = min(full, at + size)
            packs += 1
            cost += price
            if at in best and best[at][0] <= cost:
                break
            best[at] = (cost, (number, packs, plan))


def _own_steps(
    best: dict[int, tuple[int, Plan]], number: int, pack: Pack, weight: int, full: int
) -> dict[int, tuple[int, Plan]]:
    """Add any number of packs whose price depends on how many they are."""
    found = dict(best)
    ladder = pack.ladder(full)
    for held, (cost, plan) in best.items():
        for packs, more, own in ladder if held < full else ():
            at = min(full, held + more)
            now = cost + own * weight
            if at not in found or now < found[at][0]:
                found[at] = (now, (number, packs, plan))
            if at == full:
                break
    return found


def packs_of(plan: Plan) -> Iterator[tuple[int, int]]:
    """The (offer number, packs) of a chain; the same offer may come twice."""
    while plan:
        number, packs, plan = plan
        yield number, packs
