"""A lower bound over all that suppliers may still do: each part pays a price, each supplier is a small problem alone.

Whoever covers a part earns its price v (`entries` says what less than all of it earns).  What a supplier costs beyond
what it earns is least over its modes and levels: postage, plus a fractional knapsack over the parts whose cost exceeds
v for the counts of packs, and the goods at a multiplier m, that mode and levels demand.  For any prices,

    sum over parts of what they pay at least  +  sum over suppliers of min(0, least cost beyond earnings)

is a lower bound on every list: prices only move money from parts to suppliers (variable splitting: Guignard & Kim 1987,
Lagrangean decomposition, Mathematical Programming 39; for warehouses with fixed costs: Erlenkotter 1978, A Dual-Based
Procedure for Uncapacitated Facility Location, Operations Research 26).  As each supplier's choice of mode and level is
made inside, the bound is that of their convex hull, far above pricing every group at its best level.  All in integers.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from heapq import nsmallest
from itertools import product

from inventory.buying.bound import OFF, ONE, PAY, Bounds, needed
from inventory.buying.entries import lines
from inventory.buying.regions import Pick, Region

LOOKS, SURE_LOOKS = 2, 6
"""Multipliers tried for the goods a mode demands: on the way, where the last ones are nearly right, and at the end."""

FLOOR = 62000
"""What a bundle earns at first at least, in 1/65536 of its cost, though the part's price be less."""

CLOSE = ONE >> 7
"""Multipliers this near each other are not told apart."""

Taken = list[tuple[int, float]]
"""Parts a supplier covers, with the share of each."""


Step = tuple[int, list[tuple[int, int, int, int]], int, bool]
"""A level of a price group: packs it asks for, its parts, the cheapest pack, whether any part has too few packs.

A part is (part, packs, their cost, packs that cover it): as many packs as cover it or are left, if that is less.
"""


@dataclass(slots=True)
class Answer:
    """One supplier in one mode: least cost beyond earnings, goods, parts covered, levels, and least cost by level."""

    cost: int
    goods: float
    taken: Taken
    levels: list[int]
    by_level: list[list[int]]


@dataclass(slots=True)
class Total:
    """The bound at one set of prices; by part how much it is short of covered, by supplier what it picks.

    `fixed` is the bound by supplier and mode, with every other supplier at its least, and by group and level.
    """

    bound: int
    short: list[float]
    picks: list[Pick]
    fixed: list[dict[int, int]] = field(default_factory=list)
    answers: list[dict[int, Answer]] = field(default_factory=list)
    levels: list[dict[int, int]] = field(default_factory=list)

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
        self.case = case = bounds.case
        self.lines = lines(case, bounds.mixed)
        self.mixed = bounds.mixed
        self.floors: list[int] = []
        self._loose: list[list[tuple[int, int, int]]] = [[] for _ in case.terms]
        for part, line in enumerate(self.lines):
            for entry in line.entries:
                if entry.bundle:
                    self._loose[entry.supplier].append((part, entry.place, entry.whole))
        for part in bounds.mixed:
            self.floors += [entry.whole * FLOOR for entry in self.lines[part].entries if entry.bundle]
        self._levels = [self._by_level(group) for group in range(len(case.groups))]
        self._rates: dict[tuple[int, int], int] = {}

    def _by_level(self, group: int) -> list[Step]:
        one, found = self.case.groups[group], []
        for level, start in enumerate(one.starts):
            items, least = [], None
            for number in one.packs:
                pack = self.case.packs[number]
                price = pack.prices[level]
                if price is not None:
                    whole = max(1, -(-self.case.needs[pack.part][-1] // pack.size))
                    packs = min(whole, pack.most or whole)
                    items.append((pack.part, packs, price * packs, whole))
                    least = price if least is None else min(least, price)
            scarce = any(most < whole for _, most, _, whole in items)
            found.append((start if level else 0, items, least or 0, scarce))
        return found

    def total(self, region: Region, sure: bool = False) -> Total:
        """The bound at the region's prices; only when `sure` with every mix of sellers that a part may have."""
        prices = region.prices
        off = [modes == (OFF,) for modes in region.modes]
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
        answers = [
            {mode: self._answer(at, mode, region, SURE_LOOKS if sure else LOOKS) for mode in modes}
            for at, modes in enumerate(region.modes)
        ]
        picks: list[Pick] = []
        least_of = []
        for found in answers:
            mode = min(found, key=lambda it: found[it].cost)
            best = found[mode]
            least_of.append(best.cost)
            bound += best.cost
            for part, share in best.taken:
                short[part] -= share
            picks.append((mode, tuple(best.levels)))
        total = Total(bound, short, picks)
        if sure:
            total.answers = answers
            self._fix(total, region, answers, least_of)
        return total

    def learn(self, region: Region) -> bool:
        """Look for cheap mixes of sellers at the region's prices, to be known from now on; whether any is new."""
        off = [modes == (OFF,) for modes in region.modes]
        known = sum(len(self.lines[part].ways) for part in self.mixed)
        for part in self.mixed:
            self.lines[part].least(part, region.prices, off)
        return sum(len(self.lines[part].ways) for part in self.mixed) > known

    def _fix(
        self, total: Total, region: Region, answers: list[dict[int, Answer]], least_of: list[int]
    ) -> None:
        """What the bound is with one mode, or one level, fixed."""
        total.fixed = [
            {mode: total.bound - least + one.cost for mode, one in found.items()}
            for found, least in zip(answers, least_of, strict=True)
        ]
        total.levels = [{} for _ in self.case.groups]
        for supplier, found in enumerate(answers):
            for place, group in enumerate(self.case.of_supplier[supplier]):
                mine = total.levels[group]
                for one in found.values():
                    costs = one.by_level[place] if one.by_level else []
                    for level, cost in enumerate(costs, region.low[group]):
                        whole = total.bound - least_of[supplier] + one.cost - min(costs) + cost
                        mine[level] = min(mine.get(level, whole), whole)

    def _answer(self, supplier: int, mode: int, region: Region, looks: int) -> Answer:
        """The least a supplier costs beyond its earnings in one mode, over the multipliers of its goods."""
        if mode == OFF:
            return Answer(0, 0, [], [], [])
        due = needed(self.case, supplier, mode)
        fee = self.case.terms[supplier].fee * ONE if mode == PAY else 0
        if not due:
            return self._at(supplier, fee, 0, region)
        low, high = 0, ONE
        rate = self._rates.get((supplier, mode), ONE // 10)
        best: Answer | None = None
        for _ in range(looks):
            found = self._at(supplier, fee + rate * due, rate, region)
            if best is None or found.cost > best.cost:
                best, self._rates[supplier, mode] = found, rate
            if found.goods < due:
                low = rate
                rate = (low + high) // 2 if high < ONE else min(ONE, 2 * rate + CLOSE)
            else:
                high = rate
                rate = (low + high) // 2 if low else rate // 3 if rate > 3 * CLOSE else 0
            if high - low < CLOSE or (rate in (low, high) and rate):
                break
            if not high:
                break
        assert best is not None  # noqa: S101 - there is always one look
        return best

    def _at(self, supplier: int, cost: int, rate: int, region: Region) -> Answer:
        """The least at one multiplier: every part that earns more than it costs, and what the counts demand."""
        prices, weight = region.prices, ONE - rate
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
        answer = Answer(cost, goods, taken, [], [])
        for group in self.case.of_supplier[supplier]:
            self._add_group(answer, group, region, weight)
        return answer

    def _add_group(self, answer: Answer, group: int, region: Region, weight: int) -> None:
        """Put the best level of one price group into an answer."""
        steps, low = self._levels[group], region.low[group]
        costs = []
        for step in steps[low : region.high[group] + 1]:
            mores = _beyond(step, region.prices, weight)
            cost = sum([more for more in mores if more < 0])
            costs.append(cost + _filled(step, mores, weight) if step[0] else cost)
        cost = min(costs)
        best = costs.index(cost)
        answer.cost += cost
        answer.levels.append(low + best)
        answer.by_level.append(costs)
        _take(answer, steps[low + best], region.prices, weight)


def _beyond(step: Step, prices: Sequence[int], weight: int) -> list[int]:
    """What each part of a level costs beyond what it earns."""
    if step[3]:
        return [own * weight - prices[part] * most // whole for part, most, own, whole in step[1]]
    return [own * weight - prices[part] for part, _, own, _ in step[1]]


def _filled(step: Step, mores: Sequence[int], weight: int) -> int:
    """What it costs to fill a level: a fractional knapsack for the packs it asks for beyond the parts that earn.

    The parts that lose least a pack come first, the last one in part; packs nobody needs are there at the cheapest
    price.
    """
    start, items, cheapest, _ = step
    short = start - sum([item[1] for item, more in zip(items, mores, strict=True) if more < 0])
    if short <= 0:
        return 0
    cost, cap = 0, cheapest * weight
    rest = [(more // item[1], item[1]) for item, more in zip(items, mores, strict=True) if more >= 0]
    rest.sort()
    for loss, packs in rest:
        if loss >= cap:
            break
        if packs >= short:
            return cost + loss * short
        cost += loss * packs
        short -= packs
    return cost + cap * short


def _take(answer: Answer, step: Step, prices: Sequence[int], weight: int) -> None:
    """Put the goods and the parts of a level into an answer: those that earn, then those that fill it."""
    short, items, cheapest, _ = step
    rest = []
    for item, more in zip(items, _beyond(step, prices, weight), strict=True):
        part, most, own, whole = item
        if more < 0:
            short -= most
            answer.goods += own
            answer.taken.append((part, most / whole))
        else:
            rest.append((more // most, item))
    cap = cheapest * weight
    for loss, (part, most, own, whole) in sorted(rest) if short > 0 else ():
        if loss >= cap or not short:
            break
        packs = min(most, short)
        answer.goods += own * packs / most
        answer.taken.append((part, packs / whole))
        short -= packs
    answer.goods += cheapest * max(short, 0)
