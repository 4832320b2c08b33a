"""Best-first branch and bound for the list that costs least.

Branched on, in this order, where the relaxed list of a corner is not yet what it would really cost: a supplier it uses
(not used / pays postage / reaches free postage), then the level of a price group it counts on; what is left, a
threshold missed by whole packs, is settled exactly by `labels`.  Corners are taken lowest bound first, so the lowest
bound left is a bound on every list at any time.
"""

from __future__ import annotations

import heapq
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from itertools import count
from time import perf_counter

from inventory.buying.bound import FREE, OFF, ONE, OPEN, PAY, Bounds, Corner, Relaxed, needed
from inventory.buying.case import Case, Packs
from inventory.buying.improve import descend, rebuilt
from inventory.buying.labels import OutOfTime, settle
from inventory.buying.mixing import sharpen
from inventory.buying.multipliers import tighten
from inventory.buying.tally import BROKEN, Tally

WIDER = (4, 64, 32, 16, 8, 4, 2, 1)
"""What part of the gap is searched at each look into a settled corner; the first look only follows `BEAM` labels."""

BEAM = 20

NEAR = 100
"""Lists dearer than the best by more than one part in this many are not worth bettering."""


@dataclass(slots=True)
class Found:
    """The best list, its price and the lowest possible price in atoms, and the corners looked at."""

    bought: Packs
    price: int
    bound: int
    corners: int


class Search:
    """One search; `start` holds lists to begin from, of which one at least keeps every term."""

    def __init__(self, case: Case, start: Iterable[Packs], limit: float) -> None:
        self.case = case
        self.bounds = Bounds(case)
        self.until = perf_counter() + limit
        self.best: Packs = {}
        self.price: int | None = None
        self.corners = 0
        self._tried: set[int] = set()
        self._order = count()
        self._heap: list[tuple[int, int, Corner, Relaxed]] = []
        for bought in start:
            self._offer(bought)

    def run(self) -> Found:
        """Search until the best list is proven or the time is up."""
        suppliers, groups = self.case.terms, self.case.groups
        top = tuple(len(group.starts) - 1 for group in groups)
        root = Corner((OPEN,) * len(suppliers), (0,) * len(top), top, [0] * len(suppliers), [0] * len(top))
        first = self._bounded(root)
        if first is not None:
            self._push(*first)
        bound = None
        while self._heap and bound is None:
            least, _, corner, relaxed = heapq.heappop(self._heap)
            if least >= self._target():
                break
            bound = self._dive(corner, relaxed)
        assert self.price is not None  # noqa: S101 - the caller starts with a list that keeps every term
        left = [bound] if bound is not None else []
        left += [self._heap[0][0]] if self._heap and bound is not None else []
        least = min([self.price, *(-(-one // ONE) for one in left)])
        return Found(self.best, self.price, least, self.corners)

    def _dive(self, corner: Corner, relaxed: Relaxed) -> int | None:
        """Follow the most hopeful child to the end, keeping the others; the bound left open when time ran out."""
        while True:
            if self._late():
                return corner.bound
            children = list(self._branch(corner, relaxed))
            if not children:
                return self._settle(corner, relaxed)
            kept = [found for child in children if (found := self._bounded(child)) is not None]
            kept = sorted(
                (one for one in kept if one[0].bound < self._target()), key=lambda one: one[0].bound
            )
            for child, answer in kept[1:]:
                self._push(child, answer)
            if not kept:
                return None
            corner, relaxed = kept[0]

    def _settle(self, corner: Corner, relaxed: Relaxed) -> int | None:
        """Look in a settled corner for a list a little above its bound; the bound when time ran out in it.

        When there is none the bound rises by as much and the corner waits its turn again.
        """
        least, price = -(-corner.bound // ONE), self.price or 0
        target = least + 1 + (price - least) // WIDER[min(corner.tries, len(WIDER) - 1)]
        quick = corner.tries == 0
        corner.tries += 1
        try:
            bought, sure = settle(
                self.bounds, corner, min(target, price), self._late, BEAM if quick else None
            )
        except OutOfTime:
            return corner.bound
        if bought is not None:
            self._offer(bought)
        if not sure or (bought is None and target < price):
            corner.bound = target * ONE if sure else corner.bound
            self._push(corner, relaxed)
        return None

    def _push(self, corner: Corner, relaxed: Relaxed) -> None:
        heapq.heappush(self._heap, (corner.bound, next(self._order), corner, relaxed))

    def _late(self) -> bool:
        return perf_counter() > self.until

    def _target(self) -> int:
        return ONE << 190 if self.price is None else self.price * ONE

    def _bounded(self, corner: Corner) -> tuple[Corner, Relaxed] | None:
        """Bound a corner and try the list it suggests; None when it can hold nothing cheaper."""
        self.corners += 1
        relaxed = tighten(self.bounds, corner, self._target())
        if relaxed is None or corner.bound >= self._target():
            return None
        self._offer(relaxed.bought)
        if self._stuck(corner, relaxed) and not self._wishes(corner, relaxed):
            relaxed, rounded = sharpen(self.bounds, corner, relaxed, self._target())
            if corner.bound >= self._target():
                return None
            self._offer(relaxed.bought)
            if rounded is not None:
                self._offer(rounded)
        return corner, relaxed

    def _stuck(self, corner: Corner, relaxed: Relaxed) -> bool:
        """Whether some condition is still missed."""
        groups = self.case.groups
        dues = [needed(self.case, at, mode) for at, mode in enumerate(corner.modes)]
        if any(goods < due for goods, due in zip(relaxed.goods, dues, strict=True)):
            return True
        missed = (
            at for at, low in enumerate(corner.low) if low and relaxed.count[at] < groups[at].starts[low]
        )
        return any(corner.modes[groups[at].supplier] != OFF for at in missed)

    def _offer(self, bought: Packs) -> None:
        """Take a list, bettered by small changes when it is near the best, and by large ones when it is the best."""
        key = hash(frozenset(bought.items()))
        if key in self._tried:
            return
        self._tried.add(key)
        tally = Tally(self.case, bought)
        if self.price is not None and tally.price > self.price + self.price // NEAR:
            return
        descend(tally)
        while tally.price < BROKEN and (self.price is None or tally.price < self.price):
            self.price, self.best = tally.price, dict(tally.bought)
            tally = rebuilt(self.bounds, tally)

    def _branch(self, corner: Corner, relaxed: Relaxed) -> Iterator[Corner]:
        """The parts a corner falls into; none when everything in it is settled."""
        charges, wishes = self._charges(corner, relaxed), self._wishes(corner, relaxed)
        supplier = max(charges, key=lambda at: charges[at], default=None)
        group = max(wishes, key=lambda at: wishes[at], default=None)
        if group is not None and (supplier is None or wishes[group] > 2 * charges[supplier]):
            level = self.case.level(group, relaxed.count[group])
            yield from self._split(corner, group, min(max(level, corner.low[group]), corner.high[group] - 1))
            return
        if supplier is None:
            supplier = next((at for at, mode in enumerate(corner.modes) if mode == OPEN), None)
        if supplier is not None:
            yield from self._modes(corner, supplier)
            return
        for group, one in enumerate(self.case.groups):
            if corner.modes[one.supplier] != OFF and corner.low[group] < corner.high[group]:
                yield from self._split(corner, group, corner.high[group] - 1)
                return

    def _charges(self, corner: Corner, relaxed: Relaxed) -> dict[int, int]:
        """By open supplier what its postage or minimum order would add to the relaxed list, in atoms."""
        found: dict[int, int] = {}
        for at, mode in enumerate(corner.modes):
            terms, goods = self.case.terms[at], relaxed.goods[at]
            if mode == OPEN and goods:
                paid = terms.fee if terms.free is None or goods < terms.free else 0
                charge = paid + max(0, terms.least - goods)
                if charge:
                    found[at] = charge
        return found

    def _wishes(self, corner: Corner, relaxed: Relaxed) -> dict[int, int]:
        """By group how far its packs are priced below the level they reach, in atoms."""
        found: dict[int, int] = {}
        for number, packs in relaxed.bought.items():
            pack = self.case.packs[number]
            if pack.group >= 0 and corner.low[pack.group] < corner.high[pack.group]:
                reached = self.case.level(pack.group, relaxed.count[pack.group])
                real, hoped = pack.prices[reached], pack.prices[corner.high[pack.group]] or 0
                gap = (hoped + 1 if real is None else real - hoped) * packs
                if reached < corner.high[pack.group] and gap > 0:
                    found[pack.group] = found.get(pack.group, 0) + gap
        return found

    def _modes(self, corner: Corner, supplier: int) -> Iterator[Corner]:
        """One supplier not used, used with postage, used with goods that make postage free."""
        for mode in (OFF, PAY, FREE):
            if mode != FREE or self.case.terms[supplier].free is not None:
                modes = (*corner.modes[:supplier], mode, *corner.modes[supplier + 1 :])
                count = list(corner.count)
                for group in self.case.of_supplier[supplier] if mode == OFF else ():
                    count[group] = 0
                yield replace(corner, modes=modes, goods=list(corner.goods), count=count)

    def _split(self, corner: Corner, group: int, level: int) -> Iterator[Corner]:
        """The group at most at `level`, and above it."""
        high = (*corner.high[:group], level, *corner.high[group + 1 :])
        yield replace(corner, high=high, goods=list(corner.goods), count=list(corner.count))
        low = (*corner.low[:group], level + 1, *corner.low[group + 1 :])
        yield replace(corner, low=low, goods=list(corner.goods), count=list(corner.count))
