"""All that is left of a list as one whole-number model for HiGHS: for lists whose bound stays far below every list.

Of every supplier the modes, and of every price group the levels, that a node leaves open:

    min  sum of price[o,k] x[o,k] + fee[s] (used[s] - free[s])
    a part's packs that arrive by each day hold what is needed by then,
    start[k] y[k] <= packs of the group at level k <= (start[k+1] - 1) y[k],   sum of y[k] <= used[s],
    goods of s >= least[s] used[s],  >= free from[s] free[s],   free[s] <= used[s].

Small lists with large gaps take HiGHS less than the many leaves they have; on large ones the leaves are faster.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field

from inventory.buying.problem import Pack, Packs, Problem
from inventory.buying.search.core import Settled
from inventory.buying.search.leaf import FREE, OFF
from inventory.buying.search.node import Node
from inventory.buying.search.whole_numbers import Model

MANY, SMALL = 150, 250
"""Leaves and nodes after which a list of so few variables goes to HiGHS as a whole."""

NODES = 5_000
"""How far HiGHS looks."""

QUICK, LOOK = 40, 5
"""HiGHS takes as long as a leaf for so many squared variables of a list; a look into a leaf as long as so many."""


@dataclass(slots=True)
class _Whole:
    """The model, its variables that are packs, and by supplier the factors of its goods and its switch."""

    problem: Problem
    model: Model = field(default_factory=Model)
    packs: dict[int, int] = field(default_factory=dict)
    goods: list[dict[int, int]] = field(default_factory=list)
    used: list[int] = field(default_factory=list)


def settle_whole(problem: Problem, node: Node, target: int, seconds: float, nodes: int = NODES) -> Settled:
    """The cheapest list of a node; what costs `target` atoms or more may be left out."""
    whole = _model(problem, node, target)
    found = whole.model.solve(seconds, nodes, target)
    if found.values is None:
        return Settled(None, found.certain, found.bound)
    bought: Packs = {}
    for at, number in whole.packs.items():
        if found.values[at]:
            bought[number] = bought.get(number, 0) + found.values[at]
    price = problem.price(bought)
    sure = price is not None and price <= whole.model.cost(found.values)
    return Settled(bought, sure and found.certain, found.bound)


def slow(problem: Problem, leaves: int, looks: int) -> bool:
    """Whether a small list had more leaves and nodes, and looks into leaves, than HiGHS would take time for."""
    if leaves < MANY:
        return False
    many, done = size(problem), leaves + looks * LOOK
    return many <= SMALL and done * QUICK >= many * many


def size(problem: Problem) -> int:
    """About so many variables the model of a case has."""
    return sum(
        len(problem.groups[pack.group].starts) if pack.group >= 0 else max(1, len(pack.own))
        for pack in problem.packs
    )


def _model(problem: Problem, node: Node, target: int) -> _Whole:
    whole = _Whole(problem)
    for supplier, modes in enumerate(node.modes):
        _add_supplier(whole, supplier, modes)
    for group, one in enumerate(problem.groups):
        if node.modes[one.supplier] != (OFF,):
            _add_group(whole, group, range(node.low[group], node.high[group] + 1), target)
    for number, pack in enumerate(problem.packs):
        if pack.group < 0 and node.modes[pack.supplier] != (OFF,):
            _add_alone(whole, number, pack, target)
    for supplier, modes in enumerate(node.modes):
        _add_sums(whole, supplier, modes)
    for part, needs in enumerate(problem.needs):
        _add_needs(whole, part, needs)
    return whole


def _add_needs(whole: _Whole, part: int, needs: Sequence[int]) -> None:
    mine = {
        at: whole.problem.packs[n] for at, n in whole.packs.items() if whole.problem.packs[n].part == part
    }
    for tier, need in enumerate(needs):
        whole.model.row({at: pack.size for at, pack in mine.items() if pack.tier <= tier}, need)


def _add_supplier(whole: _Whole, supplier: int, modes: Sequence[int]) -> None:
    used = whole.model.variable(whole.problem.terms[supplier].fee, int(modes != (OFF,)))
    if OFF not in modes:
        whole.model.row({used: 1}, 1)
    whole.used.append(used)
    whole.goods.append({})


def _add_sums(whole: _Whole, supplier: int, modes: Sequence[int]) -> None:
    terms, used, goods = whole.problem.terms[supplier], whole.used[supplier], whole.goods[supplier]
    if terms.least:
        whole.model.row({**goods, used: -terms.least}, 0)
    if terms.free is not None and FREE in modes:
        free = whole.model.variable(-terms.fee, 1)
        whole.model.row({free: 1, used: -1}, high=0)
        whole.model.row({**goods, free: -terms.free}, 0)


def _add_group(whole: _Whole, group: int, levels: Sequence[int], target: int) -> None:
    """One switch a level, the packs bought at it beside."""
    one = whole.problem.groups[group]
    priced = [
        (at, [(n, price) for n in one.packs if (price := whole.problem.packs[n].prices[at]) is not None])
        for at in levels
    ]
    chosen: dict[int, int] = {}
    for at, mine in priced:
        useful = {n: _useful(whole.problem, whole.problem.packs[n], price, target) for n, price in mine}
        end = (
            one.starts[at + 1] - 1 if at + 1 < len(one.starts) else max(sum(useful.values()), one.starts[at])
        )
        _add_step(whole, mine, useful, (one.starts[at], end), chosen)
    whole.model.row({**chosen, whole.used[one.supplier]: -1}, high=0)


def _add_alone(whole: _Whole, number: int, pack: Pack, target: int) -> None:
    steps = pack.own or [(1, pack.prices[0] or 0)]
    chosen: dict[int, int] = {}
    for (start, price), end in zip(steps, [*(start - 1 for start, _ in steps[1:]), None], strict=True):
        useful = max(_useful(whole.problem, pack, price, target), start)
        useful = useful if pack.most is None else min(useful, pack.most)
        if useful >= start:
            last = useful if end is None else min(useful, end)
            _add_step(whole, [(number, price)], {number: last}, (start, last), chosen)
    whole.model.row({**chosen, whole.used[pack.supplier]: -1}, high=0)


def _add_step(
    whole: _Whole,
    mine: Sequence[tuple[int, int]],
    useful: Mapping[int, int],
    ends: tuple[int, int],
    chosen: dict[int, int],
) -> None:
    """The packs at one price step, and its switch, which is put with the `chosen`; ends: fewest and most packs."""
    model = whole.model
    switch = model.variable(0, 1)
    chosen[switch] = 1
    packs = dict(_variables(whole, mine, useful, ends[1]))
    model.row({**dict.fromkeys(packs, 1), switch: -ends[0]}, 0)
    model.row({**dict.fromkeys(packs, 1), switch: -ends[1]}, high=0)
    for at, most in packs.items() if len(packs) > 1 else ():
        model.row({at: 1, switch: -most}, high=0)


def _variables(
    whole: _Whole, mine: Sequence[tuple[int, int]], useful: Mapping[int, int], end: int
) -> Iterator[tuple[int, int]]:
    for number, price in mine:
        most = min(useful[number], end)
        at = whole.model.variable(price, most)
        whole.packs[at] = number
        whole.goods[whole.problem.packs[number].supplier][at] = price
        yield at, most


def _useful(problem: Problem, pack: Pack, price: int, target: int) -> int:
    """More packs than these are no use: they cover the part, reach every step and sum of the supplier by themselves."""
    terms = problem.terms[pack.supplier]
    start = (
        problem.groups[pack.group].starts[-1] if pack.group >= 0 else max([1, *(at for at, _ in pack.own)])
    )
    many = start if problem.late(pack) else start + -(-problem.needs[pack.part][-1] // pack.size)
    if price:
        many = min(many + -(-max(terms.least, terms.free or 0) // price), -(-target // price))
    return many if pack.most is None else min(many, pack.most)
