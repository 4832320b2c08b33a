"""A small list's least cost without a search: every way to cover each part, every set of suppliers.

What each part costs at least by the suppliers it comes from is enumerated; a set of suppliers costs at least the sum of
these, what its minimum orders or free postage ask for if that is more, and the postage it pays.  A list that costs no
more than the lowest of these bounds is proven.  Where none does (a threshold to be filled up to, price groups, several
days, too many ways) nothing is claimed, and the search has to look.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from itertools import combinations, product

from inventory.buying.problem import Pack, Packs, Problem, Terms

SELLERS = 4
"""With more suppliers than these (81 sets with their postage) the search is asked."""

STEPS = 2_000
"""Counts of packs that are tried at most for a whole list: some milliseconds, what reading the search takes."""

Sellers = frozenset[int]
Way = tuple[int, Packs]
"""What it costs in atoms, and the packs."""


def proven_list(problem: Problem, starts: Iterable[Packs]) -> Way | None:
    """A list that costs least, of equal ones an earlier of `starts`; None where this way cannot prove any."""
    if problem.groups or any(len(needs) > 1 for needs in problem.needs):
        return None
    sellers = {pack.supplier for pack in problem.packs if not problem.late(pack)}
    ways = _ways(problem) if len(sellers) <= SELLERS else None
    if ways is None:
        return None
    bounds, found = [], list(starts)
    for chosen in _sets(sellers):
        best = [way for way in (_within(one, chosen) for one in ways) if way is not None]
        if len(best) == len(ways):
            bounds.append(_at_least(sum(cost for cost, _ in best), [problem.terms[one] for one in chosen]))
            found.append({number: count for _, packs in best for number, count in packs.items()})
    priced = [(cost, packs) for packs in found if (cost := problem.price(packs)) is not None]
    cheapest = min(priced, key=lambda way: way[0], default=None)
    return cheapest if cheapest is not None and cheapest[0] <= min(bounds, default=-1) else None


def _sets(sellers: Iterable[int]) -> Iterator[Sellers]:
    """Every set of suppliers but the empty one."""
    ordered = sorted(sellers)
    for size in range(1, len(ordered) + 1):
        yield from map(frozenset, combinations(ordered, size))


def _at_least(goods: int, terms: Sequence[Terms]) -> int:
    """Atoms that goods of at least so much cost with postage where exactly these suppliers are used.

    A supplier is paid for postage, or sends free from his threshold on; either way his minimum order is kept.
    """
    kinds = [
        [(one.least, one.fee), *([] if one.free is None else [(max(one.least, one.free), 0)])]
        for one in terms
    ]
    return min(
        max(goods, sum(least for least, _ in modes)) + sum(fee for _, fee in modes)
        for modes in product(*kinds)
    )


def _within(ways: dict[Sellers, Way], chosen: Sellers) -> Way | None:
    """The cheapest of these ways that needs no other supplier."""
    return min((way for who, way in ways.items() if who <= chosen), key=lambda way: way[0], default=None)


def _ways(problem: Problem) -> list[dict[Sellers, Way]] | None:
    """For each part the cheapest way to cover it by the suppliers it needs; None where there are too many to try."""
    cover = _Cover(problem)
    for part, needs in enumerate(problem.needs):
        mine = [n for n in problem.by_part[part] if not problem.late(problem.packs[n])]
        cover.ways.append({})
        cover.extend(mine, needs[0], 0, {})
    return None if cover.left < 0 else cover.ways


@dataclass(slots=True)
class _Cover:
    """The ways found, by part, and how many counts of packs may still be tried."""

    problem: Problem
    ways: list[dict[Sellers, Way]] = field(default_factory=list)
    left: int = STEPS

    def extend(self, offers: Sequence[int], need: int, cost: int, packs: Packs) -> None:
        """Every way to cover the rest of a need by these offers; what costs more than a known one is left."""
        who = frozenset(self.problem.packs[number].supplier for number in packs)
        known = _within(self.ways[-1], who)
        if known is not None and known[0] <= cost:
            return
        if need <= 0:
            self.ways[-1][who] = cost, packs
        elif offers:
            self.extend(offers[1:], need, cost, packs)
            for count, size, more in _counts(self.problem.packs[offers[0]], need):
                self.left -= 1
                if self.left < 0:
                    return
                self.extend(offers[1:], need - size, cost + more, {**packs, offers[0]: count})


def _counts(pack: Pack, need: int) -> Iterator[tuple[int, int, int]]:
    """(packs, size together, atoms), up to the first count that covers the need: no larger one costs less."""
    if pack.own:
        counts: Iterable[tuple[int, int, int]] = pack.ladder(need)
    else:
        price = pack.prices[0] or 0
        counts = ((n, n * pack.size, n * price) for n in range(1, -(-need // pack.size) + 1))
    for one in counts:
        yield one
        if one[1] >= need:
            return
