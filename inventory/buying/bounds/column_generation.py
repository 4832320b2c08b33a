"""The best multipliers of a leaf: those of the linear programme of `mixture`, whose dual is the bound of `bound`.

Floats only choose multipliers here: the bound itself is then worked out again in integers, so that rounding can make
it weaker but never wrong.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from inventory.buying.bounds.leaf_bound import Bounds, Relaxed, cost_at
from inventory.buying.bounds.mixture import TINY, Mixture, Way
from inventory.buying.problem import Pack, Packs
from inventory.buying.search.leaf import FREE, OFF, ONE, PAY, Leaf, leaf_of, needed

ROUNDS = 8


@dataclass(frozen=True, slots=True)
class Condition:
    """A count of packs of a group, or goods of a supplier, that must reach `due`; `cap` is its dearest multiplier."""

    group: int
    supplier: int
    due: int
    cap: float


def sharpen(bounds: Bounds, leaf: Leaf, best: Relaxed, target: int) -> tuple[Relaxed, Packs | None]:
    """Put the best multipliers into a leaf; the relaxed list there, and the mixture rounded to a list.

    `best` is the relaxed list at the multipliers the leaf has; they stay where no better are found.
    """
    conditions = list(_conditions(bounds, leaf))
    rounded: Packs | None = None
    mixture = _start(bounds, leaf, conditions) if conditions else None
    for _ in range(ROUNDS if mixture is not None else 0):
        if mixture is None or not mixture.solve():
            break
        turned = _turned(bounds, leaf, conditions, mixture.rates)
        found = bounds.relax(turned)
        if found is None:
            break
        rounded = _rounded(mixture)
        if found.bound > best.bound:
            best = found
            leaf.rates, leaf.bound = turned.rates, max(leaf.bound, found.bound)
        if best.bound >= target or not _enriched(bounds, leaf, conditions, mixture, found):
            break
    return best, rounded


def _conditions(bounds: Bounds, leaf: Leaf) -> Iterator[Condition]:
    problem = bounds.problem
    for group, low in enumerate(leaf.low):
        one = problem.groups[group]
        if low and leaf.modes[one.supplier] != OFF:
            prices = [problem.packs[number].prices[leaf.high[group]] for number in one.packs]
            cap = min((price for price in prices if price is not None), default=0)
            yield Condition(group, one.supplier, one.starts[low], float(cap))
    for supplier, mode in enumerate(leaf.modes):
        due = needed(problem, supplier, mode) if mode in (PAY, FREE) else 0
        if due:
            yield Condition(-1, supplier, due, 1.0)


def _start(bounds: Bounds, leaf: Leaf, conditions: Sequence[Condition]) -> Mixture | None:
    """The programme with each part bought the cheapest way, and whole from each offer; None where one has no way.

    What is short is made up at the cap, by more of the cheapest: packs of a group, which are goods too, or goods.
    """
    mixture = Mixture(len(bounds.problem.parts), len(conditions), [])
    found = bounds.relax(leaf_of(bounds.problem, leaf.modes, leaf.low, leaf.high))
    if found is None:
        return None
    for part, mine in _by_part(bounds, found.bought).items():
        mixture.add(_way(bounds, leaf, conditions, part, mine))
    for number, pack in enumerate(bounds.problem.packs):
        if leaf.modes[pack.supplier] != OFF and pack.alone is not None:
            packs = _alone(pack)
            if packs and (
                pack.own or pack.prices[leaf.high[pack.group] if pack.group >= 0 else 0] is not None
            ):
                mixture.add(_way(bounds, leaf, conditions, pack.part, [(number, packs)]))
    for row, one in enumerate(conditions):
        mixture.add(Way(-1, one.cap * one.due, ((row, 1.0), *_goods_too(conditions, one))))
    return mixture


def _goods_too(conditions: Sequence[Condition], one: Condition) -> Iterator[tuple[int, float]]:
    for row, other in enumerate(conditions):
        if one.group >= 0 and other.group < 0 and other.supplier == one.supplier:
            yield row, one.cap * one.due / other.due


def _alone(pack: Pack) -> int:
    """Packs that cover the part alone, cheapest at the offer's own steps."""
    if not pack.own or pack.alone is None:
        return pack.alone or 0
    tried = [pack.alone, *(start for start, _ in pack.own if start > pack.alone)]
    return min(
        ((cost, packs) for packs in tried if (cost := pack.own_cost(packs)) is not None), default=(0, 0)
    )[1]


def _way(
    bounds: Bounds,
    leaf: Leaf,
    conditions: Sequence[Condition],
    part: int,
    packs: Iterable[tuple[int, int]],
) -> Way:
    brings: dict[int, float] = {}
    total = 0
    for number, count in packs:
        pack = bounds.problem.packs[number]
        cost = cost_at(pack, count, leaf.high)
        total += cost
        for row, one in enumerate(conditions):
            if one.group == pack.group if one.group >= 0 else one.supplier == pack.supplier:
                brings[row] = brings.get(row, 0.0) + (count if one.group >= 0 else cost) / one.due
    return Way(part, float(total), tuple(brings.items()), tuple(packs))


def _by_part(bounds: Bounds, bought: Packs) -> dict[int, list[tuple[int, int]]]:
    found: dict[int, list[tuple[int, int]]] = {}
    for number, packs in bought.items():
        found.setdefault(bounds.problem.packs[number].part, []).append((number, packs))
    return found


def _turned(bounds: Bounds, leaf: Leaf, conditions: Sequence[Condition], rates: Sequence[float]) -> Leaf:
    """The leaf with these multipliers, rounded."""
    goods, count = [0] * len(leaf.goods), [0] * len(leaf.count)
    for one, rate in zip(conditions, rates, strict=True):
        if one.group < 0:
            goods[one.supplier] = round(rate / one.due * ONE)
        else:
            count[one.group] = round(rate / one.due * ONE)
    return leaf.charged(bounds.problem, goods, count)


def _enriched(
    bounds: Bounds, leaf: Leaf, conditions: Sequence[Condition], mixture: Mixture, found: Relaxed
) -> bool:
    """Add the ways of a relaxed list that the programme does not know; whether there are any."""
    bought = _by_part(bounds, found.bought)
    new = [mixture.add(_way(bounds, leaf, conditions, part, bought[part])) for part in bounds.mixed]
    return any(new)


def _rounded(mixture: Mixture) -> Packs:
    """Each part its ways in proportion, packs rounded up."""
    bought: Packs = {}
    for way, share in zip(mixture.ways, mixture.values, strict=True):
        for number, packs in way.packs if share > TINY else ():
            bought[number] = bought.get(number, 0) + -(-round(packs * share * 10**6) // 10**6)
    return bought
