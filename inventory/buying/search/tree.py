"""Best-first branch and bound for the list that costs least.

A node leaves open which modes suppliers have (not used / pays postage / reaches free postage) and which levels price
groups; it is bounded by `shares`, which also drops modes and levels that cannot do better than the best list, and cut
where the bound's answer mixes most.  Once few combinations are left each is a leaf of its own (`leaves`): there the
multipliers of `bounds.multipliers` and `column_generation` are the better ones, and thresholds missed by whole packs
are settled exactly by `labels`.  Nodes and leaves are taken lowest bound first, so the lowest bound left is a bound on
every list at any time.  Only now and then the lowest leaf is looked into before its turn: a better list found early
cuts most of the rest, and where it is much better the search begins again with it.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from time import perf_counter

from inventory.buying.bounds.by_supplier import Shares, Total
from inventory.buying.bounds.column_generation import sharpen
from inventory.buying.bounds.leaf_bound import Bounds
from inventory.buying.bounds.multipliers import tighten
from inventory.buying.bounds.subgradient import ascend
from inventory.buying.heuristics.combinations import hopeful
from inventory.buying.heuristics.improve import descend
from inventory.buying.heuristics.tally import BROKEN, ListTally
from inventory.buying.limits import dearest
from inventory.buying.problem import Packs, Problem
from inventory.buying.search.aims import aimed, aimed_wide, less
from inventory.buying.search.branching import parts
from inventory.buying.search.conditions import missed
from inventory.buying.search.core import Settled, settle_core
from inventory.buying.search.labels import settle
from inventory.buying.search.leaf import ONE, Leaf
from inventory.buying.search.leaves import Leaves, few
from inventory.buying.search.node import Node, Pick, prices_of, whole_space
from inventory.buying.search.patience import TooMany, TooWide, patience
from inventory.buying.search.queue import Queue
from inventory.buying.search.whole import settle_whole, slow

MOST_EFFORT = 3
"""How often the steps of a look into a leaf are doubled before its core goes to HiGHS.

A leaf that was left for that comes after all else, when the best list is better and less of the leaf is to be tried.
"""

HOPE = 2
"""The first width (see `aims`) for a leaf that was only tried as a list and is looked into before all others."""

AHEAD, FAR = 40, 500
"""Nodes and leaves between two looks ahead, and what part of the best list a gap must be to be worth one."""

STARTS, LONG, BETTER = 2, 150, 300
"""How often the search begins: again after so many nodes and leaves, when the best list got better by one part in so
many: a better list cuts most at the root, where its price is aimed at."""

SWEEP, SUPPLIERS, SWEEP_ROUNDS = 50, 8, 60
"""Nodes and leaves after which the whole space is swept for a better list, the suppliers from which that gains more
than it takes, and the rounds of the ascent for it."""

SWEPT, AROUND = 20, 20
"""Combinations that a sweep tries as lists at a time, and leaves that it sharpens or looks into then."""

NEAR = 60
"""Lists dearer than the best by more than one part in this many are not worth bettering."""

FIRST, ROUNDS = 20, 6
"""Rounds of the ascent for the whole space and for each part of it."""

PACE = 0.5
"""Of a full step, at the start of a part's ascent: its prices are nearly right."""

FIRST_TRIED, TRIED = 8, 1
"""Combinations of what the suppliers may do that are tried as lists after an ascent, the most hopeful ones."""


@dataclass(slots=True)
class SearchResult:
    """The best list, its price and the lowest possible price in atoms, and the leaves looked at."""

    bought: Packs
    price: int
    bound: int
    leaves: int


class Search:
    """One search; `start` holds lists to begin from.

    Where none of them keeps every term, it begins below a price no list needs to pass; `best` stays empty if none is
    found.
    """

    def __init__(self, problem: Problem, start: Iterable[Packs], limit: float) -> None:
        self.problem = problem
        self.bounds = Bounds(problem)
        self.shares = Shares(self.bounds)
        self.until = perf_counter() + limit
        self.best: Packs = {}
        self.price = dearest(problem)
        self.leaves = self._looks = 0
        self._tried: set[int] = set()
        self._whole: Node | None = None
        self._looked_whole = False
        self._swept = len(problem.terms) < SUPPLIERS
        self._ahead = self._starts = self._begun = self._hoped = 0
        self._closed: set[tuple[tuple[int, ...], tuple[int, ...]]] = set()
        self._leaves = Leaves(problem)
        self._queue = Queue()
        for bought in start:
            self._offer(bought)

    def run(self) -> SearchResult:
        """Search until the best list is proven or the time is up."""
        self._start()
        bound = None
        while bound is None and self._queue.left(self._target()):
            if self.leaves >= SWEEP and not self._swept:
                bound = self._sweep()
                continue
            if self.leaves >= self._ahead:
                bound = self._look_ahead()
                if bound is None and self._worth_a_start():
                    self._start()
                continue
            one = self._queue.pop()
            if slow(self.problem, self.leaves, self._looks) and self._settle_whole():
                break
            bound = self._settle(one) if isinstance(one, Leaf) else self._dive(one)
        left = [] if bound is None else [bound, *self._queue.bounds()]
        least = min([self.price, *(-(-one // ONE) for one in left)])
        return SearchResult(self.best, self.price, least, self.leaves)

    def _start(self) -> None:
        """The whole space as one node, and nothing else."""
        self._starts += 1
        self._begun = self.leaves
        node = self._root()
        self._queue.begin_again()
        total = self._raise(node, FIRST)
        if node.bound < self._target():
            self._try_best(total, FIRST_TRIED)
        self._whole = node
        self._hoped = less(self._target(), BETTER)
        self._queue.push(node)

    def _root(self) -> Node:
        """The whole space; its parts' prices begin at what they cost in the best list."""
        least = self._queue.least()
        known = 0 if least is None else min(least, self._target())
        prices = prices_of(self.problem, self.best, self.price)
        return whole_space(self.problem, [*prices, *self.shares.floors], known)

    def _sweep(self) -> int | None:
        """Look for a better list all over the whole space, then begin again; the bound when time ran out."""
        self._swept = True
        bound, before = None, None
        while bound is None and before != self._target():
            before, node = self._target(), self._root()
            ascend(self.shares, node, before, SWEEP_ROUNDS, 1.0)
            for picks in hopeful(self.shares, node, before, SWEPT) if node.bound < before else ():
                self._try(picks)
            bound = self._look_around()
        if bound is None:
            self._start()
        return bound

    def _look_around(self) -> int | None:
        """Look in the lowest leaves, one that was only tried as a list so far or waits; the bound when time ran out."""
        for _ in range(AROUND):
            leaf = self._queue.hopeful_below(self._target())
            if leaf is None:
                break
            if leaf.tries:
                bound = self._look_in(leaf)
                if bound is not None:
                    return bound
            elif (leaf.modes, leaf.low) not in self._closed:
                leaf.tries, leaf.width = 1, HOPE
                if self._sharpened(leaf):
                    self._queue.push(leaf)
        return None

    def _worth_a_start(self) -> bool:
        """Whether the best list got so much better in a long search that this is better begun again."""
        return self._starts < STARTS and self.leaves > self._begun + LONG and self._target() < self._hoped

    def _dive(self, node: Node) -> int | None:
        """Follow the most hopeful part to the end, keeping the others; the bound left open when time ran out."""
        while True:
            if self._late():
                return node.bound
            if node.settled(self.problem.of_supplier):
                return self._leaf(node)
            left = few(node, self._target())
            if left is not None:
                self._look_at(left)
                return None
            able = parts(node, self.problem.of_supplier)
            found = [(self._raise(part), part) for part in able if part.bound < self._target()]
            found = sorted((it for it in found if it[1].bound < self._target()), key=lambda it: it[1].bound)
            for _, part in found[1:]:
                self._queue.push(part)
            if not found:
                return None
            total, node = found[0]
            self._try_best(total, TRIED)

    def _raise(self, node: Node, first: int = 0) -> Total:
        """Raise a node's bound; the answer to it. first: so many rounds, for the whole space."""
        self.leaves += 1
        rounds, pace = (first, 1.0) if first else (ROUNDS, PACE)
        return ascend(self.shares, node, self._target(), rounds, pace, patient=first > 0)

    def _try_best(self, total: Total, many: int) -> None:
        """Try the lists that the answer to a node's bound suggests."""
        for picks in total.best_picks(many):
            self._try(picks)

    def _try(self, picks: Sequence[Pick]) -> None:
        """The cheapest list at the modes and levels of one answer."""
        key = hash(tuple(picks))
        if key in self._tried:
            return
        self._tried.add(key)
        leaf = self._leaves.bare(picks)
        found = tighten(self.bounds, leaf, self._target())
        if found is not None and leaf.bound < self._target():
            self._offer(found.bought)
            self._queue.keep_tried(leaf)

    def _look_at(self, left: Sequence[tuple[int, list[Pick]]]) -> None:
        """Bound every leaf of a node that has few; those that may hold a better list wait their turn."""
        for bound, picks in left:
            if bound >= self._target():
                break
            leaf = self._leaves.warm(picks, bound)
            if self._raised(leaf):
                self._queue.push(leaf)
            self._leaves.keep(leaf)

    def _leaf(self, node: Node) -> int | None:
        """Bound a settled node by the multipliers of its conditions, and look in it."""
        leaf = node.leaf(self.problem)
        return self._settle(leaf) if self._raised(leaf) else None

    def _raised(self, leaf: Leaf) -> bool:
        """Raise a leaf's bound by the multipliers of its conditions; whether it may still hold a better list."""
        self.leaves += 1
        if (leaf.modes, leaf.low) in self._closed:
            return False
        relaxed = tighten(self.bounds, leaf, self._target())
        if relaxed is None or leaf.bound >= self._target():
            return False
        self._offer(relaxed.bought)
        return leaf.bound < self._target()

    def _sharpened(self, leaf: Leaf) -> bool:
        """Put the best multipliers into a leaf; whether it may still hold a better list."""
        relaxed = self.bounds.relax(leaf)
        if relaxed is not None and (
            missed(self.problem, leaf, relaxed) or any(leaf.goods) or any(leaf.count)
        ):
            relaxed, rounded = sharpen(self.bounds, leaf, relaxed, self._target())
            if rounded is not None:
                self._offer(rounded)
            if leaf.bound < self._target():
                self._offer(relaxed.bought)
        return leaf.bound < self._target()

    def _settle(self, leaf: Leaf) -> int | None:
        """Sharpen a settled leaf, then look in it; the bound when time ran out in it."""
        if leaf.bound >= self._target():
            return None
        if not leaf.tries:
            leaf.tries = 1
            before = leaf.bound
            if not self._sharpened(leaf):
                return None
            least = self._queue.least()
            if leaf.bound > before and least is not None and leaf.bound > least:
                self._queue.push(leaf)
                return None
        return self._look_in(leaf)

    def _look_ahead(self) -> int | None:
        """Look in the leaf of the lowest bound before its turn, where that is far below the best list.

        One that was only tried as a list so far comes first, then one that waits. A better list found early cuts much
        of what is left.
        """
        self._ahead = self.leaves + AHEAD
        enough = less(self._target(), FAR)
        if (leaf := self._queue.tried_below(enough)) is not None:
            leaf.tries, leaf.width = 1, HOPE
            if (leaf.modes, leaf.low) not in self._closed and self._sharpened(leaf):
                return self._look_in(leaf)
            return None
        while (leaf := self._queue.waiting_below(enough)) is not None:
            if leaf.tries:
                return self._look_in(leaf)
            leaf.tries = 1
            if self._sharpened(leaf):
                self._queue.push(leaf)
        return None

    def _look_in(self, leaf: Leaf) -> int | None:
        """Look in a leaf for a list a little above its bound; the bound when time ran out in it.

        When there is none the bound rises by as much and the leaf waits its turn again. Where it has too many labels it
        is put off, to be looked at longer; HiGHS is asked where that does not help either.
        """
        if not leaf.effort and (leaf.modes, leaf.low) in self._closed:
            return None  # the same leaf was looked into, or put off, as another's part
        self._looks += 1
        price = self.price
        target = aimed(self.problem, leaf, price)
        leaf.tries += 1
        steps = patience(leaf.effort, len(self.problem.parts), self._late)
        try:
            bought = settle(self.bounds, leaf, target, steps)
        except TooMany as many:
            if self._late():
                return leaf.bound
            if leaf.effort >= (1 if isinstance(many, TooWide) else MOST_EFFORT):
                return self._settle_core(leaf, aimed_wide(self.problem, leaf, price))
            leaf.effort += 1
            leaf.width = leaf.widest = max(0, leaf.width - 1)
            self._queue.put_off(leaf)
            self._closed.add((leaf.modes, leaf.low))
            return None
        leaf.width = min(leaf.width + 1, leaf.widest)
        if bought is not None:
            self._offer(bought)
        elif target < price:
            leaf.bound = target * ONE
            self._queue.push(leaf)
            return None
        self._closed.add((leaf.modes, leaf.low))
        return None

    def _settle_whole(self) -> bool:
        """Give all of a list to HiGHS, once; whether that settles it."""
        left = self.until - perf_counter()
        if left <= 0 or self._whole is None or self._looked_whole:
            return False
        self._looked_whole = True
        found = settle_whole(self.problem, self._whole, self.price, left)
        if found.bought is not None:
            self._offer(found.bought)
        return found.certain

    def _settle_core(self, leaf: Leaf, target: int) -> int | None:
        """Give a leaf to HiGHS, for lists below a target; the bound when time ran out in it."""
        left = self.until - perf_counter()
        found = settle_core(self.bounds, leaf, target, left) if left > 0 else Settled(None, False)
        if found.bought is not None:
            self._offer(found.bought)
        if not found.certain:
            return max(leaf.bound, found.bound * ONE)
        leaf.bound = target * ONE
        if leaf.bound < self._target():
            self._queue.push(leaf)
        else:
            self._closed.add((leaf.modes, leaf.low))
        return None

    def _late(self) -> bool:
        return perf_counter() > self.until

    def _target(self) -> int:
        return self.price * ONE

    def _offer(self, bought: Packs) -> None:
        """Take a list, bettered by small changes when it is near the best."""
        key = hash(frozenset(bought.items()))
        if key in self._tried:
            return
        self._tried.add(key)
        tally = ListTally(self.problem, bought)
        if tally.price > self.price + self.price // NEAR:
            return
        descend(tally)
        if tally.price < min(BROKEN, self.price):
            self.price, self.best = tally.price, dict(tally.bought)
