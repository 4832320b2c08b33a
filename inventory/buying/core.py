"""A settled corner as a whole-number model for HiGHS, of those offers only that can be on a list below the target.

With L the bound of the corner at its multipliers and c the part's least reduced cost, an offer of which one pack or
more makes the part cost c' at least is on no list below the target T where L - c + c' >= T: the *core* of a problem is
what is left (Balas & Zemel 1980, An Algorithm for Large Zero-One Knapsack Problems, Operations Research 28).  In the
same way L - c + r x < T ends the packs x of an offer of reduced price r.  What HiGHS finds is priced in whole numbers
again; that it found the cheapest, or that there is none, is taken from it within its tolerances of one in a million.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from itertools import accumulate
from math import gcd, inf

from inventory.buying.bound import Bounds, cost_at, reduced
from inventory.buying.case import Pack, Packs
from inventory.buying.conditions import Resource, amount_of, resources
from inventory.buying.cover import NEVER, cover
from inventory.buying.rates import ONE, PAY, Corner

Row = tuple[dict[int, int], float, float]
"""Factors by variable, and the least and the most of their sum."""


@dataclass(frozen=True, slots=True)
class Settled:
    """What HiGHS says of a corner: the packs (None: no list below the target) and whether that is certain.

    bound: atoms below which no list of the corner is, where it ran out of time.
    """

    bought: Packs | None
    certain: bool
    bound: int = 0


@dataclass(slots=True)
class _Model:
    """Variables as (offer, price in atoms, fewest and most packs where it is used, step or -1), and rows over them."""

    packs: list[tuple[int, int, int, int]] = field(default_factory=list)
    steps: list[int] = field(default_factory=list)
    rows: list[Row] = field(default_factory=list)


def settle_core(bounds: Bounds, corner: Corner, target: int, seconds: float) -> Settled:
    """The cheapest packs in a settled corner below `target` atoms; `corner` has its bound and multipliers."""
    relaxed = bounds.relax(corner)
    if relaxed is None or relaxed.bound >= target * ONE:
        return Settled(None, True)
    model = _Model()
    costs = bounds.part_costs(corner)
    for part, least in enumerate(costs):
        _add_part(model, bounds, corner, part, target * ONE - relaxed.bound + least)
    wanted = list(resources(bounds, corner))
    for one in wanted:
        _add_condition(model, bounds, one)
    return _solved(model, bounds, corner, wanted, seconds)


def _add_part(model: _Model, bounds: Bounds, corner: Corner, part: int, room: int) -> None:
    """A part's offers that may be bought for less than `room`, its reduced cost on a list below the target."""
    needs = bounds.case.needs[part]
    first = len(model.packs)
    for number, pack, _, _ in bounds.priced(part, corner):
        for price, fewest, most in _ranges(bounds, corner, pack, room):
            if _least(bounds, corner, pack, price, (fewest, most)) < room:
                model.packs.append((number, price, fewest, most))
    for tier, need in enumerate(needs):
        mine = range(first, len(model.packs))
        sizes = {at: bounds.case.packs[model.packs[at][0]] for at in mine}
        model.rows.append(({at: pack.size for at, pack in sizes.items() if pack.tier <= tier}, need, inf))


def _ranges(bounds: Bounds, corner: Corner, pack: Pack, room: int) -> Iterator[tuple[int, int, int]]:
    """(price, fewest, most packs) of every step of an offer, or of all its packs where the group's level is settled."""
    if not pack.own:
        price = cost_at(pack, 1, corner.high)
        yield price, 0, _most(bounds, corner, pack, price, room)
        return
    ends = [start - 1 for start, _ in pack.own[1:]]
    for (start, price), end in zip(pack.own, [*ends, None], strict=True):
        most = _most(bounds, corner, pack, price, room)
        if most >= start:
            yield price, start, most if end is None else min(most, end)


def _most(bounds: Bounds, corner: Corner, pack: Pack, price: int, room: int) -> int:
    """More packs of an offer than these are on no list below the target, or no use."""
    each = _reduced(corner, pack, price)
    ends = [-(-room // each) - 1] if each else [_useful(bounds, corner, pack, price)]
    return min(ends if pack.most is None else [*ends, pack.most])


def _reduced(corner: Corner, pack: Pack, price: int) -> int:
    if pack.own:
        return price * (ONE - corner.goods[pack.supplier])
    return reduced(pack, corner) or 0


def _useful(bounds: Bounds, corner: Corner, pack: Pack, price: int) -> int:
    """Packs that cover the part, reach every step and every condition they count for by themselves."""
    many = -(-bounds.case.needs[pack.part][-1] // pack.size) + max(
        (start for start, _ in pack.own), default=0
    )
    for one in resources(bounds, corner):
        if one.takes(pack):
            many += one.due if one.group >= 0 else -(-one.due // price) if price else 0
    return many


def _least(bounds: Bounds, corner: Corner, pack: Pack, price: int, ends: tuple[int, int]) -> int:
    """The least reduced cost of a part with so many packs of one offer, or one at least; atoms/65536."""
    needs = bounds.case.needs[pack.part]
    each, first = _reduced(corner, pack, price), max(1, ends[0])
    last = min(ends[1], max(first, -(-needs[-1] // pack.size))) if pack.own else min(first, ends[1])
    priced, least = bounds.priced(pack.part, corner), NEVER
    for packs in range(first, last + 1):
        here = packs * pack.size
        left = [max(0, need - here) if tier >= pack.tier else need for tier, need in enumerate(needs)]
        least = min(least, packs * each + cover(list(accumulate(left, max)), priced)[0])
    return least


def _add_condition(model: _Model, bounds: Bounds, one: Resource) -> None:
    mine = {at: pack for at, pack in enumerate(model.packs) if one.takes(bounds.case.packs[pack[0]])}
    factors = {at: 1 if one.group >= 0 else price for at, (_, price, _, _) in mine.items()}
    model.rows.append((factors, one.due, inf if one.most is None else one.most))


def _solved(
    model: _Model, bounds: Bounds, corner: Corner, wanted: Sequence[Resource], seconds: float
) -> Settled:
    import numpy as np
    from scipy.optimize import Bounds as Ends
    from scipy.optimize import LinearConstraint, milp
    from scipy.sparse import lil_array

    many = len(model.packs)
    rows = [*_scaled(model.rows), *_switches(model)]
    size = many + sum(1 for pack in model.packs if pack[2])
    matrix = lil_array((len(rows), size))
    for row, (factors, _, _) in enumerate(rows):
        for at, factor in factors.items():
            matrix[row, at] = factor
    fees = sum(bounds.case.terms[at].fee for at, mode in enumerate(corner.modes) if mode == PAY)
    unit = gcd(*(price for _, price, _, _ in model.packs)) or 1
    cost = np.zeros(size)
    cost[:many] = [price // unit for _, price, _, _ in model.packs]
    upper = np.ones(size)
    upper[:many] = [most for _, _, _, most in model.packs]
    found = milp(
        cost,
        integrality=np.ones(size, dtype=np.int64),
        bounds=Ends(0, upper),
        constraints=LinearConstraint(
            matrix.tocsr(), [low for _, low, _ in rows], [high for _, _, high in rows]
        ),
        options={"time_limit": max(seconds, 0.01), "mip_rel_gap": 0.0},
    )
    if found.x is None:
        return Settled(None, found.status == 2, _dual(found.mip_dual_bound, unit, fees))
    bought: Packs = {}
    for (number, _, _, _), value in zip(model.packs, found.x[:many], strict=True):
        if count := round(value):
            bought[number] = bought.get(number, 0) + count
    kept = all(one.kept(amount_of(bounds, corner, one, bought)) for one in wanted)
    kept = kept and all(bounds.case.covers_part(part, bought) for part in range(len(bounds.case.parts)))
    return Settled(
        bought if kept else None, kept and found.status == 0, _dual(found.mip_dual_bound, unit, fees)
    )


def _dual(bound: float | None, unit: int, fees: int) -> int:
    return 0 if bound is None or not bound > 0 or bound == inf else int(bound * (1 - 1e-9)) * unit + fees


def _scaled(rows: Sequence[Row]) -> Iterator[Row]:
    """Rows with factors as small as they can be in whole numbers."""
    for factors, low, high in rows:
        unit = gcd(*factors.values()) or 1
        least = -(-int(low) // unit)
        yield (
            {at: factor // unit for at, factor in factors.items()},
            least,
            high if high == inf else high // unit,
        )


def _switches(model: _Model) -> Iterator[Row]:
    """One switch a step of an offer with steps: its packs lie in the step, and at most one step is taken."""
    place = len(model.packs)
    steps: dict[int, dict[int, int]] = {}
    for at, (number, _, fewest, most) in enumerate(model.packs):
        if fewest:
            yield {at: 1, place: -fewest}, 0, inf
            yield {at: 1, place: -most}, -inf, 0
            steps.setdefault(number, {})[place] = 1
            place += 1
    yield from ((mine, -inf, 1) for mine in steps.values() if len(mine) > 1)
