"""Raising the multipliers of a leaf where its list falls short of a count or of a value of goods.

For one shortage the best multiplier solves a continuous knapsack: the parts that can move to the group or supplier,
cheapest move per unit first, until the shortage is filled (Dantzig 1957, Discrete-Variable Extremum Problems,
Operations Research 5, from memory).  Several shortages are taken in turn; a change is kept only where the bound rises.
"""

from __future__ import annotations

from inventory.buying.bounds.leaf_bound import Bounds, Relaxed, cost_at, reduced
from inventory.buying.search.leaf import FREE, OFF, ONE, PAY, Leaf, needed

ROUNDS = 12

Where = tuple[str, int]
"""A multiplier: ("goods", supplier) or ("count", group)."""


def tighten(bounds: Bounds, leaf: Leaf, target: int) -> Relaxed | None:
    """The best relaxed list found for a leaf, whose multipliers and bound are set to match; stops at `target`."""
    best = bounds.relax(leaf)
    tired: set[Where] = set()
    for _ in range(ROUNDS):
        if best is None or best.bound >= target:
            break
        worst = _worst(bounds, leaf, best, tired)
        if worst is None:
            break
        found = _turned(bounds, leaf, best, worst)
        if found is None:
            tired.add(worst)
        else:
            best, tired = found, {worst}
    if best is not None:
        leaf.bound = max(leaf.bound, best.bound)
    return best


def _turned(bounds: Bounds, leaf: Leaf, best: Relaxed, where: Where) -> Relaxed | None:
    """Turn one multiplier up where something is short, down where there is more than needed; None if no gain."""
    kind, at = where
    old = (leaf.goods if kind == "goods" else leaf.count)[at]
    for new in _steps(bounds, leaf, best, where, old):
        goods, count = list(leaf.goods), list(leaf.count)
        (goods if kind == "goods" else count)[at] = new
        turned = leaf.charged(bounds.problem, goods, count)
        found = bounds.relax(turned)
        if found is not None and found.bound > best.bound:
            leaf.rates = turned.rates
            return found
    return None


def _steps(bounds: Bounds, leaf: Leaf, best: Relaxed, where: Where, old: int) -> tuple[int, ...]:
    """Values of a multiplier worth trying."""
    kind, at = where
    if _short(bounds, leaf, best, where) < 0:
        return (0, old // 2, old * 7 // 8)
    step = _goods_step(bounds, leaf, best, at) if kind == "goods" else _count_step(bounds, leaf, best, at)
    return (old + step, old + step // 2) if step > 0 else ()


def _short(bounds: Bounds, leaf: Leaf, found: Relaxed, where: Where) -> int:
    kind, at = where
    if kind == "goods":
        return needed(bounds.problem, at, leaf.modes[at]) - found.goods[at]
    return bounds.problem.groups[at].starts[leaf.low[at]] - found.count[at]


def _worst(bounds: Bounds, leaf: Leaf, found: Relaxed, tired: set[Where]) -> Where | None:
    """The multiplier whose condition is missed by most against what is needed, or passed while it is charged."""
    problem = bounds.problem
    misses: list[tuple[float, Where]] = []
    for at, mode in enumerate(leaf.modes):
        due = needed(problem, at, mode) if mode in (PAY, FREE) else 0
        if due and ("goods", at) not in tired:
            misses.append((_miss(due, found.goods[at], leaf.goods[at]), ("goods", at)))
    for at, low in enumerate(leaf.low):
        if low and ("count", at) not in tired and leaf.modes[problem.groups[at].supplier] != OFF:
            misses.append(
                (_miss(problem.groups[at].starts[low], found.count[at], leaf.count[at]), ("count", at))
            )
    worst = max(misses, default=(0.0, ("", 0)))
    return worst[1] if worst[0] > 0 else None


def _miss(due: int, held: int, rate: int) -> float:
    if held < due:
        return (due - held) / due
    return min(1.0, (held - due) / due) if rate else 0.0


def _part_costs(bounds: Bounds, leaf: Leaf, found: Relaxed) -> dict[int, int]:
    """What each part costs in the relaxed list, less the multipliers."""
    costs: dict[int, int] = {}
    for number, packs in found.bought.items():
        pack = bounds.problem.packs[number]
        price = reduced(pack, leaf) if not pack.own else None
        own = (
            (pack.own_cost(packs) or 0) * (ONE - leaf.goods[pack.supplier])
            if price is None
            else price * packs
        )
        costs[pack.part] = costs.get(pack.part, 0) + own
    return costs


def _count_step(bounds: Bounds, leaf: Leaf, found: Relaxed, group: int) -> int:
    """How much to raise a group's multiplier per pack."""
    problem = bounds.problem
    costs = _part_costs(bounds, leaf, found)
    held: dict[int, int] = {}
    for number in problem.groups[group].packs:
        held[problem.packs[number].part] = held.get(problem.packs[number].part, 0) + found.bought.get(
            number, 0
        )
    moves: list[tuple[int, int]] = []
    cap = None
    for number in problem.groups[group].packs:
        pack = problem.packs[number]
        price = reduced(pack, leaf)
        if price is None:
            continue
        cap = price if cap is None else min(cap, price)
        gain = (pack.alone or 0) - held[pack.part]
        if gain > 0:
            moves.append((max(0, price * (pack.alone or 0) - costs[pack.part]) // gain, gain))
    return _fill(moves, problem.groups[group].starts[leaf.low[group]] - found.count[group], cap or 0)


def _goods_step(bounds: Bounds, leaf: Leaf, found: Relaxed, supplier: int) -> int:
    """How much to raise a supplier's multiplier per atom of goods."""
    problem = bounds.problem
    costs = _part_costs(bounds, leaf, found)
    mine = [(number, pack) for number, pack in enumerate(problem.packs) if pack.supplier == supplier]
    held: dict[int, int] = {}
    for number, pack in mine:
        held[pack.part] = held.get(pack.part, 0) + cost_at(pack, found.bought.get(number, 0), leaf.high)
    weight = ONE - leaf.goods[supplier]
    cap = weight
    moves: list[tuple[int, int]] = []
    for _, pack in mine:
        goods = cost_at(pack, pack.alone or 0, leaf.high)
        rate = leaf.count[pack.group] if pack.group >= 0 else 0
        price = pack.prices[leaf.high[pack.group]] if rate else None
        if price:
            cap = min(cap, weight + -rate // price)
        gain = goods - held[pack.part]
        if gain > 0:
            moves.append((max(0, goods * weight - rate * (pack.alone or 0) - costs[pack.part]) // gain, gain))
    return _fill(moves, needed(problem, supplier, leaf.modes[supplier]) - found.goods[supplier], cap)


def _fill(moves: list[tuple[int, int]], short: int, cap: int) -> int:
    """The price per unit at which the cheapest moves fill the shortage; at most `cap`, where more is just bought."""
    for ratio, gain in sorted(moves):
        if ratio >= cap:
            break
        short -= gain
        if short <= 0:
            return ratio
    return cap
