"""A settled leaf as a whole-number model for HiGHS, of those offers only that can be on a list below the target.

With L the bound of the leaf at its multipliers and c the part's least reduced cost, an offer of which one pack or
more makes the part cost c' at least is on no list below the target T where L - c + c' >= T: the *core* of a problem
is what is left (Balas & Zemel 1980, An Algorithm for Large Zero-One Knapsack Problems, Operations Research 28, from
memory).  In the same way L - c + r x < T ends the packs x of an offer of reduced price r.  What HiGHS finds is held
against every row and priced in whole numbers again; that it found the cheapest, or that there is none, is taken from
it within its tolerances of one in a million: without presolve, with which alone it has been caught at a wrong answer
(`whole_numbers`), and cores take half the time so.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from itertools import accumulate

from inventory.buying.bounds.leaf_bound import Bounds, cost_at, reduced
from inventory.buying.knapsack import NEVER, cover
from inventory.buying.problem import Pack, Packs
from inventory.buying.search.conditions import amount_of, enough_alone, resources
from inventory.buying.search.leaf import ONE, PAY, Leaf
from inventory.buying.search.whole_numbers import Model

NODES = 20_000


@dataclass(frozen=True, slots=True)
class Settled:
    """What HiGHS says: the packs (None: no list below the target) and whether that is certain.

    bound: atoms below which no list is, where it is not.
    """

    bought: Packs | None
    certain: bool
    bound: int = 0


@dataclass(slots=True)
class _Core:
    """The model, and its variables that are packs: (offer, price in atoms) by variable."""

    model: Model = field(default_factory=Model)
    packs: dict[int, tuple[int, int]] = field(default_factory=dict)


def settle_core(bounds: Bounds, leaf: Leaf, target: int, seconds: float, nodes: int = NODES) -> Settled:
    """The cheapest packs in a settled leaf below `target` atoms, at the multipliers the leaf has."""
    relaxed = bounds.relax(leaf)
    if relaxed is None or relaxed.bound >= target * ONE:
        return Settled(None, True)
    core = _Core()
    for part, least in enumerate(bounds.part_costs(leaf)):
        _add_part(core, bounds, leaf, part, target * ONE - relaxed.bound + least)
    wanted = list(resources(bounds, leaf))
    for one in wanted:
        mine = {at: pack for at, pack in core.packs.items() if one.takes(bounds.problem.packs[pack[0]])}
        factors = {at: 1 if one.group >= 0 else price for at, (_, price) in mine.items()}
        core.model.row(factors, one.due, *([] if one.most is None else [one.most]))
    fees = sum(bounds.problem.terms[at].fee for at, mode in enumerate(leaf.modes) if mode == PAY)
    found = core.model.solve(seconds, nodes, presolve=False)
    if found.values is None:
        return Settled(None, found.certain, found.bound + fees)
    bought: Packs = {}
    for at, (number, _) in core.packs.items():
        if found.values[at]:
            bought[number] = bought.get(number, 0) + found.values[at]
    kept = all(one.kept(amount_of(bounds, leaf, one, bought)) for one in wanted)
    kept = kept and all(bounds.problem.covers_part(part, bought) for part in range(len(bounds.problem.parts)))
    price = bounds.problem.price(bought) if kept else None
    sure = price is not None and price <= core.model.cost(found.values) + fees
    return Settled(bought if kept else None, sure and found.certain, found.bound + fees)


def _add_part(core: _Core, bounds: Bounds, leaf: Leaf, part: int, room: int) -> None:
    """A part's offers that may be bought for less than `room`, its reduced cost on a list below the target."""
    model, packs = core.model, bounds.problem.packs
    mine: dict[int, Pack] = {}
    for number, pack, _, _ in bounds.priced(part, leaf):
        switches: dict[int, int] = {}
        for price, fewest, most in _ranges(bounds, leaf, pack, room):
            if _least(bounds, leaf, pack, price, (fewest, most)) < room:
                at = model.variable(price, most)
                mine[at], core.packs[at] = packs[number], (number, price)
                if fewest:
                    switch = model.variable(0, 1)
                    switches[switch] = 1
                    model.row({at: 1, switch: -fewest}, 0)
                    model.row({at: 1, switch: -most}, high=0)
        if len(switches) > 1:
            model.row(switches, high=1)
    for tier, need in enumerate(bounds.problem.needs[part]):
        model.row({at: pack.size for at, pack in mine.items() if pack.tier <= tier}, need)


def _ranges(bounds: Bounds, leaf: Leaf, pack: Pack, room: int) -> Iterator[tuple[int, int, int]]:
    """(price, fewest, most packs) of every step of an offer, or of all its packs where the group's level is settled."""
    if not pack.own:
        price = cost_at(pack, 1, leaf.high)
        yield price, 0, _most(bounds, leaf, pack, price, room)
        return
    ends = [start - 1 for start, _ in pack.own[1:]]
    for (start, price), end in zip(pack.own, [*ends, None], strict=True):
        most = _most(bounds, leaf, pack, price, room)
        if most >= start:
            yield price, start, most if end is None else min(most, end)


def _most(bounds: Bounds, leaf: Leaf, pack: Pack, price: int, room: int) -> int:
    """More packs of an offer than these are on no list below the target, or no use."""
    each = _reduced(leaf, pack, price)
    need = bounds.problem.needs[pack.part][-1]
    most = -(-room // each) - 1 if each else enough_alone(pack, need, price, resources(bounds, leaf))
    return most if pack.most is None else min(most, pack.most)


def _reduced(leaf: Leaf, pack: Pack, price: int) -> int:
    if pack.own:
        return price * (ONE - leaf.goods[pack.supplier])
    return reduced(pack, leaf) or 0


def _least(bounds: Bounds, leaf: Leaf, pack: Pack, price: int, ends: tuple[int, int]) -> int:
    """The least reduced cost of a part with so many packs of one offer, one at least; atoms/65536."""
    needs = bounds.problem.needs[pack.part]
    each, first = _reduced(leaf, pack, price), max(1, ends[0])
    last = min(ends[1], max(first, -(-needs[-1] // pack.size))) if pack.own else min(first, ends[1])
    priced, least = bounds.priced(pack.part, leaf), NEVER
    for packs in range(first, last + 1):
        here = packs * pack.size
        left = [max(0, need - here) if tier >= pack.tier else need for tier, need in enumerate(needs)]
        least = min(least, packs * each + cover(list(accumulate(left, max)), priced)[0])
    return least
