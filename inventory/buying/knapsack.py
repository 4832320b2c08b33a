"""The least cost of covering one part when every offer's price is settled: an exact knapsack over whole packs."""

from __future__ import annotations

from collections import deque
from collections.abc import Iterator, Sequence

from inventory.buying.problem import Pack

NEVER = 1 << 200
"""Dearer than anything."""

Plan = tuple[()] | tuple[int, int, "Plan"]
"""What to buy as a chain: (offer number, packs, the rest of the chain)."""

Stands = dict[int, tuple[int, Plan]]
"""The least cost, and the packs, by the size held so far."""

Priced = tuple[int, Pack, int | None, int]
"""An offer to cover with: its number, itself, its price per pack (None: its own steps), and the weight of own costs."""


def cover(needs: Sequence[int], priced: Sequence[Priced]) -> tuple[int, Plan]:
    """Least cost and packs so that by every tier its need has arrived; `NEVER` when these offers cannot.

    Own steps may make more packs than needed cheaper (`Pack.ladder`).  Deadlines are met tier by tier: what arrives for
    an earlier date counts for every later one.  Stands that cost too much even if the rest came at the lowest price per
    size of all offers are not followed.
    """
    full = needs[-1]
    priced = [one for one in priced if one[1].tier < len(needs)]
    if not priced or not full:
        return (NEVER if full else 0), ()
    lowest = _lowest(priced, full)
    best: Stands = {0: (0, ())}
    alone = min((found for one in priced for found in _alone(one, full)), default=None)
    if alone is not None:
        best[full] = (alone[0], (alone[2], alone[1], ()))
    for tier, need in enumerate(needs):
        for number, pack, price, weight in _undominated([one for one in priced if one[1].tier == tier]):
            if pack.most is not None:
                best = limited(best, number, pack.size, steps_of(pack, pack.most, price, weight), full)
            elif price is None:
                best = _own_steps(best, number, pack, weight, full, lowest)
            else:
                _straight(best, number, pack.size, price, full, lowest)
        best = {held: found for held, found in best.items() if held >= need}
    return best.get(full, (NEVER, ()))


def _alone(one: Priced, full: int) -> Iterator[tuple[int, int, int]]:
    """(cost, packs, number) of covering everything with one offer."""
    number, pack, price, weight = one
    if pack.alone is None:
        return
    if price is not None:
        packs = -(-full // pack.size)
        yield price * packs, packs, number
        return
    for packs, size, own in pack.ladder(full):
        if size >= full:
            yield own * weight, packs, number
            return


def _lowest(priced: Sequence[Priced], full: int) -> tuple[int, int]:
    """The lowest price per size of all offers, as (price, size)."""
    lowest: tuple[int, int] | None = None
    for _, pack, price, weight in priced:
        rates = (
            [(price, pack.size)] if price is not None else [(o * weight, s) for _, s, o in pack.ladder(full)]
        )
        for cost, size in rates:
            if lowest is None or cost * lowest[1] < lowest[0] * size:
                lowest = (cost, size)
    return lowest or (0, 1)


def _undominated(priced: list[Priced]) -> list[Priced]:
    """Drop an offer whose pack is no larger and no cheaper than another's straight price without a limit."""
    kept: list[Priced] = []
    for one in sorted(priced, key=lambda it: (-it[1].size, NEVER if it[2] is None else it[2])):
        price = one[2]
        if price is None or not any(k[2] is not None and k[2] <= price and k[1].most is None for k in kept):
            kept.append(one)
    return kept


def _straight(best: Stands, number: int, size: int, price: int, full: int, lowest: tuple[int, int]) -> None:
    """Add packs at one price, in place; a walk stops where another stand is already as cheap."""
    limit = best[full][0] if full in best else NEVER
    for held in sorted(best):
        cost, plan = best[held]
        if (limit - cost) * lowest[1] <= (full - held) * lowest[0]:
            continue
        packs = 0
        at = held
        while at < full:
            at = min(full, at + size)
            packs += 1
            cost += price
            if cost >= limit or (at in best and best[at][0] <= cost):
                break
            best[at] = (cost, (number, packs, plan))
            if at == full:
                limit = cost


def _own_steps(
    best: Stands, number: int, pack: Pack, weight: int, full: int, lowest: tuple[int, int]
) -> Stands:
    """Add any number of packs whose price depends on how many they are."""
    found = dict(best)
    ladder = pack.ladder(full)
    limit = best[full][0] if full in best else NEVER
    for held, (cost, plan) in best.items():
        if held == full or (limit - cost) * lowest[1] <= (full - held) * lowest[0]:
            continue
        for packs, more, own in ladder:
            now = cost + own * weight
            if now >= limit:
                break
            at = held + more
            if at >= full:
                limit = now
                found[full] = (now, (number, packs, plan))
                break
            if at not in found or now < found[at][0]:
                found[at] = (now, (number, packs, plan))
    return found


def packs_of(plan: Plan) -> Iterator[tuple[int, int]]:
    """The (offer number, packs) of a chain; the same offer may come twice."""
    while plan:
        number, packs, plan = plan
        yield number, packs


# Offers of which there are only so many packs: one step of the same knapsack.

PriceStep = tuple[int, int, int]
"""(from packs, to packs, price per pack)."""


def steps_of(pack: Pack, most: int, price: int | None, weight: int) -> list[PriceStep]:
    """The prices of an offer of so many packs at `most`, by how many; `price` where the group's level settles it."""
    if price is not None:
        return [(1, most, price)]
    ends = [*(start - 1 for start, _ in pack.own[1:]), most]
    return [(start, min(end, most), each * weight) for (start, each), end in zip(pack.own, ends, strict=True)]


def limited(best: Stands, number: int, size: int, steps: Sequence[PriceStep], full: int) -> Stands:
    """Every stand with no packs, or any number of packs that a step allows, of one offer added.

    At one price the cheapest way to each size is the least of cost - price * packs over the stands within reach: a
    minimum over a moving window, so that it takes one pass whatever the limit is.
    """
    found = dict(best)
    classes: dict[int, list[int]] = {}
    for held in sorted(best):
        if held < full:
            classes.setdefault(held % size, []).append(held // size)
    for low, high, price in steps:
        for rest, places in classes.items():
            for at, cost, packs, held in _windows(best, size, rest, places, (low, high, price), full):
                if at not in found or cost < found[at][0]:
                    found[at] = (cost, (number, packs, best[held][1]))
    return found


def _windows(
    best: Stands, size: int, rest: int, places: Sequence[int], step: PriceStep, full: int
) -> Iterator[tuple[int, int, int, int]]:
    """(size reached, cost, packs, size before) for one step and the stands that differ by whole packs."""
    low, high, price = step
    window: deque[tuple[int, int]] = deque()
    coming = 0
    for target in range(places[0] + low, min(places[-1] + high, (full - 1 - rest) // size) + 1):
        while coming < len(places) and places[coming] <= target - low:
            worth = best[places[coming] * size + rest][0] - price * places[coming]
            while window and window[-1][1] >= worth:
                window.pop()
            window.append((places[coming], worth))
            coming += 1
        while window and window[0][0] < target - high:
            window.popleft()
        if window:
            place, worth = window[0]
            yield target * size + rest, worth + price * target, target - place, place * size + rest
    for place in places:
        held = place * size + rest
        packs = max(low, -(-(full - held) // size))
        if packs <= high:
            yield full, best[held][0] + price * packs, packs, held
