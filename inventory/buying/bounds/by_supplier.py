"""A lower bound over all that suppliers may still do: each part pays a price, each supplier is a small problem alone.

Whoever covers a part earns its price v (`entries` says what less than all of it earns).  What a supplier costs beyond
what it earns is least over its modes and levels: postage, plus a fractional knapsack over the parts whose cost exceeds
v for the counts of packs, and the goods at a multiplier m, that mode and levels demand.  For any prices,

    sum over parts of what they pay at least  +  sum over suppliers of min(0, least cost beyond earnings)

is a lower bound on every list: prices only move money from parts to suppliers (variable splitting: Guignard & Kim 1987,
Lagrangean decomposition, Mathematical Programming 39; for warehouses with fixed costs: Erlenkotter 1978, A Dual-Based
Procedure for Uncapacitated Facility Location, Operations Research 26; both from
memory).  As each supplier's choice of mode and level is
made inside, the bound is that of their convex hull, far above pricing every group at its best level.  All in integers.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace
from heapq import nsmallest
from itertools import product

from inventory.buying.bounds.entries import lines
from inventory.buying.bounds.leaf_bound import Bounds
from inventory.buying.bounds.levels import DEAR, filled, steps_of
from inventory.buying.search.leaf import OFF, ONE, PAY, needed
from inventory.buying.search.node import Node, Pick

LOOKS, SURE_LOOKS = 2, 6
"""Multipliers tried for the goods a mode demands: on the way, where the last ones are nearly right, and at the end."""

FLOOR = 62000
"""What a bundle earns at first at least, in 1/65536 of its cost, though the part's price be less."""

CLOSE = ONE >> 7
"""Multipliers this near each other are not told apart."""

LEAST = ONE >> 6
"""The least multiplier tried where goods fall short without one."""

Taken = list[tuple[int, float]]
"""Parts a supplier covers, with the share of each."""


@dataclass(slots=True)
class SupplierBound:
    """One supplier in one mode: least cost beyond earnings, goods, parts covered, levels, and least cost by level.

    `rest` holds the groups whose goods and parts are not looked at yet: (group, level, cost beyond earnings by offer).
    """

    cost: int
    goods: float
    taken: Taken
    levels: list[int]
    by_level: list[list[int]]
    rest: list[tuple[int, int, list[int]]]
    weight: int


@dataclass(slots=True)
class Total:
    """The bound at one set of prices; by part how much it is short of covered, by supplier what it picks.

    `fixed` is the bound by supplier and mode, with every other supplier at its least, and by group and level.
    """

    bound: int
    short: list[float]
    picks: list[Pick]
    fixed: list[dict[int, int]] = field(default_factory=list)
    answers: list[dict[int, SupplierBound]] = field(default_factory=list)
    levels: list[dict[int, int]] = field(default_factory=list)

    def ways(self) -> list[list[tuple[int, Pick]]]:
        """By supplier, what it costs beyond its best way to take each of its ways, the best first."""
        return [_ways(found) for found in self.answers]

    def best_picks(self, most: int) -> Iterator[list[Pick]]:
        """What the suppliers may do together, the combinations of least bound first."""
        ways = [
            sorted((one.cost, mode, tuple(one.levels)) for mode, one in found.items())
            for found in self.answers
        ]
        for together in nsmallest(most, product(*ways), key=lambda it: sum([cost for cost, _, _ in it])):
            yield [(mode, levels) for _, mode, levels in together]


class Shares:
    """Computes this bound for one case; remembers the last multipliers of each supplier's goods."""

    def __init__(self, bounds: Bounds) -> None:
        self.problem = problem = bounds.problem
        self.lines = lines(problem, bounds.mixed)
        self.mixed = bounds.mixed
        self.floors: list[int] = []
        self._loose: list[list[tuple[int, int, int]]] = [[] for _ in problem.terms]
        for part, line in enumerate(self.lines):
            for entry in line.entries:
                if entry.bundle:
                    self._loose[entry.supplier].append((part, entry.place, entry.whole))
        for part in bounds.mixed:
            self.floors += [entry.whole * FLOOR for entry in self.lines[part].entries if entry.bundle]
        self._steps = [steps_of(problem, group) for group in range(len(problem.groups))]
        self._rates: dict[tuple[int, int], int] = {}

    def total(self, node: Node, sure: bool = False) -> Total:
        """The bound at the node's prices; only when `sure` with every mix of sellers that a part may have."""
        prices = node.prices
        off = [modes == (OFF,) for modes in node.modes]
        parts = len(self.lines)
        short = [1.0] * parts + [0.0] * (len(prices) - parts)
        bound = sum(prices[:parts])
        for part in self.mixed:
            line, price = self.lines[part], prices[part]
            if sure:
                bound += line.least(part, prices, off) - price
            elif line.ways:
                least, way = line.known(part, prices, off)
                if way:
                    bound += least - price
                    short[part] = 0.0
                    for at, amount in way:
                        entry = line.entries[at]
                        earned = line.earns(entry, price, prices)
                        short[part if earned == price else entry.place] += entry.share(earned, amount)
        answers = [self._answers(at, modes, node, sure) for at, modes in enumerate(node.modes)]
        picks: list[Pick] = []
        least_of = []
        for found in answers:
            mode = min(found, key=lambda it: found[it].cost)
            best = found[mode]
            least_of.append(best.cost)
            bound += best.cost
            self._look(best)
            for part, share in best.taken:
                short[part] -= share
            picks.append((mode, tuple(best.levels)))
        total = Total(bound, short, picks)
        if sure:
            total.answers = answers
            self._fix(total, node, answers, least_of)
        return total

    def certain(self, node: Node, found: Total) -> int:
        """The bound of an answer at the node's prices with every mix of sellers, not only those known."""
        off = [modes == (OFF,) for modes in node.modes]
        bound = found.bound
        for part in self.mixed:
            line = self.lines[part]
            known = line.known(part, node.prices, off)[0]
            bound += line.least(part, node.prices, off) - known
        return bound

    def learn(self, node: Node) -> bool:
        """Look for cheap mixes of sellers at the node's prices, to be known from now on; whether any is new."""
        off = [modes == (OFF,) for modes in node.modes]
        known = sum(len(self.lines[part].ways) for part in self.mixed)
        for part in self.mixed:
            self.lines[part].least(part, node.prices, off)
        return sum(len(self.lines[part].ways) for part in self.mixed) > known

    def _fix(
        self, total: Total, node: Node, answers: list[dict[int, SupplierBound]], least_of: list[int]
    ) -> None:
        """What the bound is with one mode, or one level, fixed."""
        total.fixed = [
            {mode: total.bound - least + one.cost for mode, one in found.items()}
            for found, least in zip(answers, least_of, strict=True)
        ]
        total.levels = [{} for _ in self.problem.groups]
        for supplier, found in enumerate(answers):
            for place, group in enumerate(self.problem.of_supplier[supplier]):
                mine = total.levels[group]
                for one in found.values():
                    costs = one.by_level[place] if one.by_level else []
                    for level, cost in enumerate(costs, node.low[group]):
                        whole = total.bound - least_of[supplier] + one.cost - min(costs) + cost
                        mine[level] = min(mine.get(level, whole), whole)

    def _answers(
        self, supplier: int, modes: Sequence[int], node: Node, sure: bool
    ) -> dict[int, SupplierBound]:
        """The least by mode; unless `sure`, only not being used where nothing else can be better."""
        found = {OFF: SupplierBound(0, 0, [], [], [], [], ONE)} if OFF in modes else {}
        dues = {mode: needed(self.problem, supplier, mode) for mode in modes if mode != OFF}
        loose = None
        if dues and (found or not all(dues.values())):
            loose = self._at(supplier, 0, 0, node, sure)
            if loose.cost >= 0 and found and not sure:
                return found
        for mode, due in dues.items():
            enough = min([one.cost for one in found.values()], default=None) if not sure else None
            found[mode] = self._answer(supplier, mode, due, node, loose, enough, sure)
        return found

    def _answer(
        self,
        supplier: int,
        mode: int,
        due: int,
        node: Node,
        loose: SupplierBound | None,
        enough: int | None,
        sure: bool,
    ) -> SupplierBound:
        """The least in one mode, over the multipliers of its goods; `loose` is that without goods or postage.

        enough: what another mode costs; more than that need not be known.
        """
        fee = self.problem.terms[supplier].fee * ONE if mode == PAY else 0
        best = None
        if loose is not None:
            if due:
                self._look(loose)
            best = replace(loose, cost=loose.cost + fee)
            if loose.goods >= due:
                return best
        low, high = 0, ONE
        rate = self._rates.get((supplier, mode), ONE // 10)
        if best is not None:
            rate = max(rate, LEAST)
        for _ in range(SURE_LOOKS if sure else LOOKS):
            if enough is not None and best is not None and best.cost >= enough:
                break
            found = self._at(supplier, fee + rate * due, rate, node, sure)
            self._look(found)
            if best is None or found.cost > best.cost:
                best, self._rates[supplier, mode] = found, rate
            low, high = (rate, high) if found.goods < due else (low, rate)
            rate = _between(low, high, rate)
            if rate < 0:
                break
        assert best is not None  # noqa: S101 - there is always one look
        return best

    def _at(self, supplier: int, cost: int, rate: int, node: Node, sure: bool) -> SupplierBound:
        """The least at one multiplier: every part that earns more than it costs, and what the counts demand."""
        prices, weight = node.prices, ONE - rate
        goods = 0.0
        taken: Taken = []
        for part, place, whole in self._loose[supplier]:
            price = prices[part]
            if place >= 0 and prices[place] > price:
                part, price = place, prices[place]
            more = whole * weight - price
            if more < 0:
                cost += more
                goods += whole
                taken.append((part, 1.0))
        answer = SupplierBound(cost, goods, taken, [], [], [], weight)
        for group in self.problem.of_supplier[supplier]:
            self._add_group(answer, group, node, sure)
        return answer

    def _add_group(self, answer: SupplierBound, group: int, node: Node, sure: bool) -> None:
        """Put the best level of one price group into an answer; the others' costs are worth knowing when `sure`."""
        steps, low, weight = self._steps[group], node.low[group], answer.weight
        earned = steps.earned(node.prices)
        costs = []
        least, best, mores = DEAR * ONE, low, []
        for level in range(low, node.high[group] + 1):
            start, own, cheapest = steps.levels[level]
            beyond = [one * weight - gain for one, gain in zip(own, earned, strict=True)]
            cost = sum([more for more in beyond if more < 0])
            if start and (sure or cost < least):
                cost += filled(start, steps.packs, beyond, cheapest * weight)
            if cost < least:
                least, best, mores = cost, level, beyond
            if sure:
                costs.append(cost)
        answer.cost += least
        answer.levels.append(best)
        answer.by_level.append(costs)
        answer.rest.append((group, best, mores))

    def _look(self, answer: SupplierBound) -> None:
        """Put the goods and the parts of the chosen levels into an answer: those that earn, then those that fill."""
        for group, level, mores in answer.rest:
            steps = self._steps[group]
            short, own, cheapest = steps.levels[level]
            rest = []
            for at, more in enumerate(mores):
                packs = steps.packs[at]
                if more < 0:
                    short -= packs
                    answer.goods += own[at]
                    answer.taken.append((steps.parts[at], packs / steps.whole[at]))
                elif short:
                    rest.append((more // packs, at))
            cap = cheapest * answer.weight
            for loss, at in sorted(rest) if short > 0 else ():
                if loss >= cap or not short:
                    break
                packs = min(steps.packs[at], short)
                answer.goods += own[at] * packs / steps.packs[at]
                answer.taken.append((steps.parts[at], packs / steps.whole[at]))
                short -= packs
            answer.goods += cheapest * max(short, 0)
        answer.rest = []


def _between(low: int, high: int, last: int) -> int:
    """The multiplier to try after the last, which is one of these ends; below 0 where none is left to tell apart."""
    if last == low:
        rate = (low + high) // 2 if high < ONE else min(ONE, 2 * last + CLOSE)
    else:
        rate = (low + high) // 2 if low else last // 3 if last > 3 * CLOSE else 0
    return -1 if high - low < CLOSE or (rate in (low, high) and rate) or not high else rate


def _ways(found: dict[int, SupplierBound]) -> list[tuple[int, Pick]]:
    least = min(one.cost for one in found.values())
    ways: list[tuple[int, Pick]] = []
    for mode, one in found.items():
        lowest = [min(costs) for costs in one.by_level]
        rest = one.cost - sum(lowest) - least
        it = zip(one.levels, one.by_level, lowest, strict=True)
        first = [level - costs.index(cheap) for level, costs, cheap in it]
        steps = [list(enumerate(costs, low)) for costs, low in zip(one.by_level, first, strict=True)]
        for chosen in product(*steps):
            cost = rest + sum([cost for _, cost in chosen])
            ways.append((cost, (mode, tuple([level for level, _ in chosen]))))
    return sorted(ways)
