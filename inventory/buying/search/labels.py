"""The exact answer in a leaf where every supplier's mode and every group's level is settled.

Offers are taken one after the other; a label is what is held so far: how much of the part at hand, how many packs of
each group that must reach a count, how many atoms of goods of each supplier that must reach a value, and the least
cost of getting there (dynamic programming over resources; Desrochers & Soumis 1988, A Generalized Permanent Labelling
Algorithm, INFOR 26).  Labels that the bound shows to end no cheaper than the best list known are dropped, and so are
labels that hold no more than another for no less.  Conditions are looked at only once a list breaks them (decremental
state space: Righini & Salani 2008, Networks 51; both from memory).
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from itertools import accumulate
from operator import mul

from inventory.buying.bounds.leaf_bound import Bounds, cost_at, reduced
from inventory.buying.knapsack import NEVER, Plan, packs_of
from inventory.buying.problem import Packs
from inventory.buying.search.conditions import Resource, amount_of, resources
from inventory.buying.search.leaf import OFF, ONE, PAY, Leaf

Held = tuple[int, ...]
"""What is held: of the part at hand, then of each resource."""

Stage = dict[Held, tuple[int, Plan, int]]
"""By what is held: the cost, the packs, and the least the whole list can cost (atoms/65536)."""

SCALES = (0, 3, 5, 7, 9, 11, 14, 20, 32)
"""Eighths of a rate that give further bounds."""

LOOKED_AT = 40
"""Kept labels each new one is compared with: the cheapest ones dominate most."""


class TooMany(Exception):
    """More labels would have to be tried than is allowed, or the time is up."""


@dataclass(slots=True)
class Patience:
    """How many labels may still be tried or compared: steps, not seconds, so that every machine finds the same."""

    left: int
    late: Callable[[], bool]

    def spend(self, steps: int) -> None:
        """Take steps off; `TooMany` where none are left."""
        before = self.left
        self.left -= steps
        if self.left < 0 or (before >> 10 != self.left >> 10 and self.late()):
            raise TooMany


def settle(bounds: Bounds, leaf: Leaf, target: int, patience: Patience) -> Packs | None:
    """The cheapest packs in a settled leaf below `target` atoms, or None. `TooMany` where patience ends."""
    every = list(resources(bounds, leaf))
    active = [one for one in every if one.rate]
    while True:
        bought = Labels(bounds, leaf, active, target, patience).best()
        broken = (
            []
            if bought is None
            else [one for one in every if not one.kept(amount_of(bounds, leaf, one, bought))]
        )
        if not broken:
            return bought
        active = [one for one in every if one in active or one in broken]


class Labels:
    """The search of one settled leaf, under some of its conditions, for a list that costs less than `target`."""

    def __init__(
        self,
        bounds: Bounds,
        leaf: Leaf,
        active: Sequence[Resource],
        target: int,
        patience: Patience,
    ) -> None:
        self.bounds, self.problem, self.leaf, self.patience = bounds, bounds.problem, leaf, patience
        self.target = target * ONE
        self.active = active
        self._tails: dict[tuple[int, int, int], int] = {}

    def best(self) -> Packs | None:
        """The cheapest packs, or None when none costs less than the target."""
        order = self._order()
        rest = self._rests(order)
        scales = list(self._others(order))
        stage: Stage = {(0,) * (1 + len(self.active)): (self._fees(), (), 0)}
        for place, part in enumerate(order, 1):
            mine = self._offers(part)
            for at in range(len(mine)):
                stage = self._extend(stage, part, at, mine, rest[place])
            stage = self._closed(stage, [(rates, rests[place]) for rates, rests in scales])
        done = [found for held, found in stage.items() if self._enough(held)]
        if not done:
            return None
        bought: Packs = {}
        for number, packs in packs_of(min(done, key=lambda found: found[0])[1]):
            bought[number] = bought.get(number, 0) + packs
        return bought

    def _order(self) -> list[int]:
        """Parts with most at stake for the conditions first: what comes later only fills up."""
        stake = dict.fromkeys(range(len(self.problem.parts)), 0)
        for one in self.active:
            for pack in self.problem.packs:
                if one.takes(pack) and self.leaf.modes[pack.supplier] != OFF:
                    amount = (
                        cost_at(pack, pack.alone or 1, self.leaf.high) if one.group < 0 else pack.alone or 1
                    )
                    stake[pack.part] = max(stake[pack.part], amount * ONE // one.due if one.due else 0)
        return sorted(stake, key=lambda part: -stake[part])

    def _rests(self, order: Sequence[int]) -> list[int]:
        """The least reduced cost of all parts from each place of the order on."""
        rest = [0]
        for part in reversed(order):
            rest.append(rest[-1] + self._tail(part, 0, self._offers(part), 0))
        return rest[::-1]

    def _others(self, order: Sequence[int]) -> Iterator[tuple[list[int], list[int]]]:
        """Rates of each condition scaled alone, with what the parts then cost at least: further bounds on a label."""
        for one in self.active:
            for scale in SCALES if one.rate else ():
                goods, count = list(self.leaf.goods), list(self.leaf.count)
                if one.group >= 0:
                    count[one.group] = one.rate * scale // 8
                else:
                    goods[one.supplier] = one.rate * scale // 8
                leaf = self.leaf.charged(self.problem, goods, count)
                now = [
                    leaf.count[other.group] if other.group >= 0 else leaf.goods[other.supplier]
                    for other in self.active
                ]
                yield now, _sums_from(order, self.bounds.part_costs(leaf))

    def _fees(self) -> int:
        return sum(self.problem.terms[at].fee for at, mode in enumerate(self.leaf.modes) if mode == PAY)

    def _offers(self, part: int) -> list[int]:
        """A part's offers that can be bought here, earliest first."""
        found = [number for number, _, _, _ in self.bounds.priced(part, self.leaf)]
        return sorted(found, key=lambda number: self.problem.packs[number].tier)

    def _tail(self, part: int, at: int, offers: list[int], held: int) -> int:
        """The least reduced cost of finishing a part with the offers from `at` on when `held` is there."""
        key = (part, at, held)
        if key not in self._tails:
            needs = self.problem.needs[part]
            tier = self.problem.packs[offers[at]].tier if at < len(offers) else len(needs)
            if any(held < need for need in needs[:tier]):
                self._tails[key] = NEVER
            else:
                self._tails[key] = self._new_tail(part, at, offers, held) if at < len(offers) else 0
        return self._tails[key]

    def _new_tail(self, part: int, at: int, offers: list[int], held: int) -> int:
        pack = self.problem.packs[offers[at]]
        full = self.problem.needs[part][-1]
        best = self._tail(part, at + 1, offers, held)
        weight = ONE - self.leaf.goods[pack.supplier]
        if pack.own:
            steps = ((more, own * weight) for _, more, own in pack.ladder(full))
        else:
            price = reduced(pack, self.leaf) or 0
            enough = -(-(full - held) // pack.size)
            steps = (
                (packs * pack.size, price * packs) for packs in range(1, min(enough, pack.most or enough) + 1)
            )
        for more, cost in steps if held < full else ():
            if cost < best:
                best = min(best, cost + self._tail(part, at + 1, offers, min(full, held + more)))
            if held + more >= full:
                break
        return best

    def _extend(self, stage: Stage, part: int, at: int, offers: list[int], rest: int) -> Stage:
        """Every label with 0, 1, 2 … packs of one offer added, for as long as a pack adds anything."""
        number = offers[at]
        touched = [
            (place, one) for place, one in enumerate(self.active, 1) if one.takes(self.problem.packs[number])
        ]
        table = self._costs(number)
        found: Stage = {}
        for held, (cost, plan, _) in stage.items():
            self._keep(found, held, cost, plan, self._tail(part, at + 1, offers, held[0]) + rest)
            for packs, now, dearer in self._more(held, number, touched, table):
                tail = self._tail(part, at + 1, offers, now[0]) + rest
                self._keep(found, now, cost + dearer, (number, packs, plan), tail)
        return found

    def _costs(self, number: int) -> Callable[[int], int | None]:
        pack = self.problem.packs[number]
        if pack.own:
            return pack.own_cost
        price = cost_at(pack, 1, self.leaf.high)
        return lambda packs: price * packs

    def _keep(self, found: Stage, held: Held, cost: int, plan: Plan, rest: int) -> None:
        """Keep a label that is the cheapest of its kind and may still end below the target."""
        self.patience.spend(1)
        old = found.get(held)
        if old is not None and old[0] <= cost:
            return
        least = cost * ONE + rest
        for one, amount in zip(self.active, held[1:], strict=True):
            if amount < one.due:
                least += one.rate * (one.due - amount)
        if least >= self.target:
            return
        found[held] = (cost, plan, least)

    def _more(
        self, held: Held, number: int, touched: list[tuple[int, Resource]], costs: Callable[[int], int | None]
    ) -> Iterator[tuple[int, Held, int]]:
        """(packs, what is then held, cost) for growing packs until another one changes nothing that is needed."""
        pack = self.problem.packs[number]
        full = self.problem.needs[pack.part][-1]
        last = max((start for start, _ in pack.own), default=0)
        before, packs = held, 0
        while True:
            packs += 1
            cost = costs(packs)
            now = _with(held, min(full, held[0] + packs * pack.size), touched, packs, cost or 0)
            if now is None or (now == before and packs > last) or packs > (pack.most or packs):
                return
            before = now
            if cost is not None:
                yield packs, now, cost

    def _closed(self, stage: Stage, scales: Sequence[tuple[list[int], int]]) -> Stage:
        """The labels once a part is complete, without those that hold no more than a cheaper one."""
        exact = [place for place, one in enumerate(self.active, 1) if one.most is not None]
        found: Stage = {}
        kept: dict[Held, list[Held]] = {}
        for held, label in sorted(stage.items(), key=lambda it: it[1][0]):
            if not self._hopeful(held, label[0], scales):
                continue
            rivals = kept.setdefault(tuple(held[place] for place in exact), [])
            self.patience.spend(1 + min(len(rivals), LOOKED_AT) // 8)
            if not any(
                all(a >= b for a, b in zip(rival[1:], held[1:], strict=True)) for rival in rivals[:LOOKED_AT]
            ):
                now = (0, *held[1:])
                rivals.append(now)
                found.setdefault(now, label)
        return found

    def _hopeful(self, held: Held, cost: int, scales: Sequence[tuple[list[int], int]]) -> bool:
        """Whether a label at the end of a part may still end below the target, by every set of rates."""
        short = [
            one.due - amount if amount < one.due else 0
            for one, amount in zip(self.active, held[1:], strict=True)
        ]
        spare = self.target - cost * ONE
        return all(rest + sum(map(mul, rates, short)) < spare for rates, rest in scales)

    def _enough(self, held: Held) -> bool:
        return all(amount >= one.due for one, amount in zip(self.active, held[1:], strict=True))


def _sums_from(order: Sequence[int], costs: Sequence[int]) -> list[int]:
    """The sum of the costs from each place of the order on."""
    return list(accumulate((costs[part] for part in reversed(order)), initial=0))[::-1]


def _with(
    held: Held, covered: int, touched: list[tuple[int, Resource]], packs: int, cost: int
) -> Held | None:
    now = [covered, *held[1:]]
    for place, one in touched:
        added = held[place] + (packs if one.group >= 0 else cost)
        if one.most is not None and added > one.most:
            return None
        now[place] = added if one.most is not None else min(one.due, added)
    return tuple(now)
