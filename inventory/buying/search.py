"""Best-first branch and bound for the list that costs least.

A region leaves open which modes suppliers have (not used / pays postage / reaches free postage) and which levels price
groups; it is bounded by `shares`, which also drops modes and levels that cannot do better than the best list, and cut
where the bound's answer mixes most.  Once few combinations are left each is a corner of its own (`corners`): there the
multipliers of `bound` and `mixing` are the better ones, and a threshold missed by whole packs is settled exactly by
`labels`.  Regions and corners are taken lowest bound first, so the lowest bound left is a bound on every list at any
time.  Only now and then the lowest corner is looked into before its turn: a better list found early cuts most of the
rest, and where it is much better the search begins again with it.
"""

from __future__ import annotations

import heapq
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import count
from time import perf_counter

from inventory.buying.ascent import ascend
from inventory.buying.bound import Bounds, Relaxed
from inventory.buying.case import Case, Packs
from inventory.buying.core import NODES, Settled, settle_core
from inventory.buying.corners import Corners, few
from inventory.buying.cutting import parts
from inventory.buying.improve import descend
from inventory.buying.labels import Patience, TooMany, settle
from inventory.buying.limits import dearest
from inventory.buying.mixing import sharpen
from inventory.buying.multipliers import tighten
from inventory.buying.rates import FREE, OFF, ONE, PAY, Corner, needed
from inventory.buying.regions import Pick, Region
from inventory.buying.shares import Shares, Total
from inventory.buying.tally import BROKEN, Tally
from inventory.buying.whole import settle_whole, size

LABELS, LEAST_LABELS = 60_000, 2_000
"""Tried in the settled corners of a list in all, some 0.3 s, and in any one look; beyond that a core goes to HiGHS."""

MANY, SMALL, WHOLE_NODES = 150, 250, 5_000
"""Corners and regions after which a list of so few variables goes to HiGHS as a whole, and how far that looks."""

QUICK, LOOK = 40, 5
"""HiGHS takes as long as a corner for so many squared variables of a list; a look into a corner as long as so many."""

WIDER = (8, 4, 2, 1)
"""What part of the gap is searched at each look into a settled corner: little gaps are searched fast."""

AHEAD, FAR = 40, 500
"""Regions and corners between two looks ahead, and what part of the best list a gap must be to be worth one."""

GLANCE, LAST = 20, 100
"""Nodes of HiGHS for a look before a corner's turn, which need prove nothing; tries after which it gets no more."""

NEARLY = 1000
"""The first look into a corner is for lists dearer than its bound by one part in half as many, each next for twice."""

STARTS, LONG, BETTER = 3, 150, 300
"""How often the search begins: again after so many regions and corners, when the best list got better by one part in so
many: a better list cuts most at the root, where its price is aimed at.
"""

AGAIN = 1
"""How often the bound of the whole space is raised once more when the search begins again."""

CORE = 2400
"""HiGHS is asked for lists dearer than a corner's bound by four parts in so many, next time for twice as much: a wide
core is a slow one.
"""

NEAR = 60
"""Lists dearer than the best by more than one part in this many are not worth bettering."""

FIRST, ROUNDS = 20, 6
"""Rounds of the ascent for the whole space and for each part of it."""

PACE = 0.5
"""Of a full step, at the start of a part's ascent: its prices are nearly right."""

FIRST_TRIED, TRIED = 8, 1
"""Combinations of what the suppliers may do that are tried as lists after an ascent, the most hopeful ones."""


@dataclass(slots=True)
class Found:
    """The best list, its price and the lowest possible price in atoms, and the corners looked at."""

    bought: Packs
    price: int
    bound: int
    corners: int


class Search:
    """One search; `start` holds lists to begin from.

    Where none of them keeps every term, it begins below a price no list needs to pass; `best` stays empty if none is
    found.
    """

    def __init__(self, case: Case, start: Iterable[Packs], limit: float) -> None:
        self.case = case
        self.bounds = Bounds(case)
        self.shares = Shares(self.bounds)
        self.until = perf_counter() + limit
        self.best: Packs = {}
        self.price: int | None = None
        self.corners = self._looks = 0
        self._tried: set[int] = set()
        self._labels = LABELS
        self._whole: Region | None = None
        self._looked_whole = False
        self._ahead = self._starts = self._begun = self._hoped = 0
        self._closed: set[tuple[tuple[int, ...], tuple[int, ...]]] = set()
        self._corners = Corners(case)
        self._order = count()
        self._heap: list[tuple[int, int, Region | Corner]] = []
        for bought in start:
            self._offer(bought)
        if self.price is None:
            self.price = dearest(case)

    def run(self) -> Found:
        """Search until the best list is proven or the time is up."""
        self._start()
        bound = None
        while self._heap and bound is None:
            if self.corners >= self._ahead:
                bound = self._look_ahead()
                if bound is None and self._worth_a_start():
                    self._start()
                continue
            least, _, one = heapq.heappop(self._heap)
            if least >= self._target() or (self._slow() and self._settle_whole()):
                break
            bound = self._settle(one) if isinstance(one, Corner) else self._dive(one)
        assert self.price is not None  # noqa: S101 - the caller starts with a list that keeps every term
        left = [bound] if bound is not None else []
        left += [self._heap[0][0]] if self._heap and bound is not None else []
        least = min([self.price, *(-(-one // ONE) for one in left)])
        return Found(self.best, self.price, least, self.corners)

    def _start(self) -> None:
        """The whole space as one region; its parts' prices begin at what they cost in the best list."""
        case = self.case
        self._starts += 1
        self._begun = self.corners
        known = min(self._heap[0][0], self._target()) if self._heap else 0
        self._heap.clear()
        modes = tuple((OFF, PAY) if one.free is None else (OFF, PAY, FREE) for one in case.terms)
        top = tuple(len(group.starts) - 1 for group in case.groups)
        prices, levels = [0] * len(case.parts), case.levels(self.best)
        for number, packs in self.best.items():
            prices[case.packs[number].part] += case.cost(number, packs, levels) or 0
        whole, price = max(1, sum(prices)), self.price or 0
        prices = [max(1, one * price * ONE // whole) for one in prices]
        region = Region(modes, (0,) * len(top), top, [*prices, *self.shares.floors], known)
        total = self._raise(region, first=True)
        for _ in range(AGAIN if self._starts > 1 else 0):
            if region.bound < self._target():
                total = self._raise(region, first=True)
        if region.bound < self._target():
            self._try_best(total, FIRST_TRIED)
        self._whole = region
        self._hoped = self._target() - self._target() // BETTER
        self._push(region)

    def _worth_a_start(self) -> bool:
        """Whether the best list got so much better in a long search that this is better begun again."""
        return self._starts < STARTS and self.corners > self._begun + LONG and self._target() < self._hoped

    def _dive(self, region: Region) -> int | None:
        """Follow the most hopeful part to the end, keeping the others; the bound left open when time ran out."""
        while True:
            if self._late():
                return region.bound
            if region.settled(self.case.of_supplier):
                return self._leaf(region)
            left = few(region, self._target())
            if left is not None:
                self._look_at(left)
                return None
            found = [(self._raise(part), part) for part in parts(region, self.case.of_supplier)]
            found = sorted((it for it in found if it[1].bound < self._target()), key=lambda it: it[1].bound)
            for _, part in found[1:]:
                self._push(part)
            if not found:
                return None
            total, region = found[0]
            self._try_best(total, TRIED)

    def _raise(self, region: Region, *, first: bool = False) -> Total:
        """Raise a region's bound, longer for the whole space, the first one; the answer to it."""
        rounds, pace = (FIRST, 1.0) if first else (ROUNDS, PACE)
        self.corners += 1
        return ascend(self.shares, region, self._target(), rounds, pace, patient=first)

    def _try_best(self, total: Total, many: int) -> None:
        """Try the lists that the answer to a region's bound suggests."""
        for picks in total.best_picks(many):
            self._try(picks)

    def _try(self, picks: Sequence[Pick]) -> None:
        """The cheapest list at the modes and levels of one answer."""
        key = hash(tuple(picks))
        if key in self._tried:
            return
        self._tried.add(key)
        corner = self._corners.bare(picks)
        found = tighten(self.bounds, corner, self._target())
        if found is not None and corner.bound < self._target():
            self._offer(found.bought)

    def _look_at(self, left: Sequence[tuple[int, list[Pick]]]) -> None:
        """Bound every corner of a region that has few; those that may hold a better list wait their turn."""
        for bound, picks in left:
            if bound >= self._target():
                break
            corner = self._corners.warm(picks, bound)
            if self._raised(corner):
                self._push(corner)
            self._corners.keep(corner)

    def _leaf(self, region: Region) -> int | None:
        """Bound a settled region by the multipliers of its conditions, and look in it."""
        corner = region.corner(self.case)
        return self._settle(corner) if self._raised(corner) else None

    def _raised(self, corner: Corner) -> bool:
        """Raise a corner's bound by the multipliers of its conditions; whether it may still hold a better list."""
        self.corners += 1
        if (corner.modes, corner.low) in self._closed:
            return False
        relaxed = tighten(self.bounds, corner, self._target())
        if relaxed is None or corner.bound >= self._target():
            return False
        self._offer(relaxed.bought)
        return corner.bound < self._target()

    def _sharpened(self, corner: Corner) -> bool:
        """Put the best multipliers into a corner; whether it may still hold a better list."""
        relaxed = self.bounds.relax(corner)
        if relaxed is not None and (self._stuck(corner, relaxed) or any(corner.goods) or any(corner.count)):
            relaxed, rounded = sharpen(self.bounds, corner, relaxed, self._target())
            if rounded is not None:
                self._offer(rounded)
            if corner.bound < self._target():
                self._offer(relaxed.bought)
        return corner.bound < self._target()

    def _settle(self, corner: Corner) -> int | None:
        """Look in a settled corner for a list a little above its bound; the bound when time ran out in it.

        When there is none the bound rises by as much and the corner waits its turn again.
        """
        if corner.bound >= self._target():
            return None
        if not corner.tries:
            corner.tries = 1
            before = corner.bound
            if not self._sharpened(corner):
                return None
            if corner.bound > before and self._heap and corner.bound > self._heap[0][0]:
                self._push(corner)
                return None
        return self._look_in(corner)

    def _look_ahead(self) -> int | None:
        """Look in the corner of the lowest bound before its turn, where that is far below the best list.

        A better list found early cuts much of what is left.
        """
        self._ahead = self.corners + AHEAD
        while (corner := self._lowest()) is not None:
            if corner.tries:
                return self._look_in(corner, GLANCE)
            corner.tries = 1
            if self._sharpened(corner):
                self._push(corner)
        return None

    def _lowest(self) -> Corner | None:
        """Take the waiting corner of the lowest bound out, if that is far enough below the best list."""
        enough = self._target() - self._target() // FAR
        waiting = [
            (one.bound, number, least)
            for least, number, one in self._heap
            if isinstance(one, Corner) and one.tries <= LAST and one.bound < enough
        ]
        if not waiting:
            return None
        _, number, least = min(waiting)
        at = next(place for place, it in enumerate(self._heap) if it[:2] == (least, number))
        corner = self._heap.pop(at)[2]
        heapq.heapify(self._heap)
        assert isinstance(corner, Corner)  # noqa: S101 - for the checker of types
        return corner

    def _look_in(self, corner: Corner, nodes: int = NODES) -> int | None:
        """Look in a corner for a list a little above its bound, with so many nodes where HiGHS is needed."""
        self._looks += 1
        least, price = -(-corner.bound // ONE), self.price or 0
        gap = (price - least) // WIDER[min(corner.tries - 1, len(WIDER) - 1)]
        target = min(price, least + 1 + min(gap, (least << min(corner.tries, 20)) // NEARLY))
        corner.tries += 1
        allowed = max(self._labels, LEAST_LABELS)
        patience = Patience(allowed, self._late)
        try:
            bought = settle(self.bounds, corner, target, patience)
        except TooMany:
            window = (least << min(corner.tries, 20)) // CORE
            return self._settle_core(corner, min(price, least + window), nodes)
        finally:
            self._labels -= allowed - patience.left
        if bought is not None:
            self._offer(bought)
        elif target < price:
            corner.bound = target * ONE
            self._push(corner)
            return None
        self._closed.add((corner.modes, corner.low))
        return None

    def _slow(self) -> bool:
        """Whether a small list has more corners than HiGHS would take time for, for the first time."""
        if self.corners < MANY or self._looked_whole:
            return False
        many, done = size(self.case), self.corners + self._looks * LOOK
        if many > SMALL or done * QUICK < many * many:
            return False
        self._looked_whole = True
        return True

    def _settle_whole(self) -> bool:
        """Give all of a list to HiGHS; whether that settles it."""
        left, price = self.until - perf_counter(), self.price or 0
        if left <= 0 or self._whole is None:
            return False
        found = settle_whole(self.case, self._whole, price, left, WHOLE_NODES)
        if found.bought is not None:
            self._offer(found.bought)
        return found.certain

    def _settle_core(self, corner: Corner, target: int, nodes: int) -> int | None:
        """Give a corner to HiGHS, for lists below a target; the bound when time ran out in it."""
        left = self.until - perf_counter()
        found = settle_core(self.bounds, corner, target, left, nodes) if left > 0 else Settled(None, False)
        if found.bought is not None:
            self._offer(found.bought)
        if not found.certain and (nodes == NODES or self._late()):
            return max(corner.bound, found.bound * ONE)
        if not found.certain:
            corner.tries = LAST + 1
            self._push(corner)
            return None
        corner.bound = target * ONE
        if corner.bound < self._target():
            self._push(corner)
        else:
            self._closed.add((corner.modes, corner.low))
        return None

    def _push(self, one: Region | Corner) -> None:
        heapq.heappush(self._heap, (one.bound, next(self._order), one))

    def _late(self) -> bool:
        return perf_counter() > self.until

    def _target(self) -> int:
        return ONE << 190 if self.price is None else self.price * ONE

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
        """Take a list, bettered by small changes when it is near the best."""
        key = hash(frozenset(bought.items()))
        if key in self._tried:
            return
        self._tried.add(key)
        tally = Tally(self.case, bought)
        if self.price is not None and tally.price > self.price + self.price // NEAR:
            return
        descend(tally)
        if tally.price < BROKEN and (self.price is None or tally.price < self.price):
            self.price, self.best = tally.price, dict(tally.bought)
