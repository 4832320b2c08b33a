"""One-dimensional cutting stock: all the pieces of a session from blanks of known lengths, least length used.

Items and blanks are lengthened by one kerf each, which turns "a kerf between neighbours" into plain sums:
Σ item + kerf · (n − 1) ≤ blank is the same as Σ (item + kerf) ≤ blank + kerf. A first-fit-decreasing plan is
taken where it meets the simple bound; otherwise an arc-flow programme is solved (see `making.blanks.arc_flow`).
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Hashable, Mapping, Sequence
from fractions import Fraction
from math import ceil, gcd, inf, isfinite

from inventory.errors import BadInput
from inventory.making.blanks.arc_flow import Graph, build, walks
from inventory.making.blanks.cutting import Stock, as_integers, check_cut, check_stock
from inventory.making.blanks.first_fit import Bins, Task, first_fit, simple_bound
from inventory.making.blanks.solver import Row, Solved, minimise
from inventory.quick import dataclass

MOST_ARCS = 60_000
"""Beyond this the exact programme is not tried; a first-fit plan is proven only if it meets the bound."""

_SOLVER_ERROR = 1e-5  # a bound of 452.999999 proves 453


@dataclass(frozen=True, slots=True)
class Item:
    """A length to cut, mm, and how many. Halves that stay together are one item, their cut included."""

    key: Hashable
    length: Fraction
    demand: int


@dataclass(frozen=True, slots=True)
class Pattern:
    """`times` blanks of one kind, each cut into these (item, how many), each leaving `offcut` mm."""

    stock: Hashable
    items: tuple[tuple[Hashable, int], ...]
    times: int
    offcut: Fraction


@dataclass(frozen=True, slots=True)
class Plan:
    """A cutting plan.

    used    kind of blank → blanks cut
    short   item → how many no blank is left for, or long enough for
    length  of the blanks cut, mm; `waste` is that less the items
    bound   no plan that makes as many items cuts into less than this, mm; proven where `length` equals it
    """

    patterns: tuple[Pattern, ...]
    used: Mapping[Hashable, int]
    short: Mapping[Hashable, int]
    length: Fraction
    waste: Fraction
    proven: bool
    bound: Fraction


def cutting_plan(
    stock: Sequence[Stock], items: Sequence[Item], kerf: Fraction, time_limit: float = 10.0
) -> Plan:
    """Cut all items from the stock: the most items, then the least length of stock used.

    Exact unless `time_limit` seconds run out or the problem is too large; then the best plan found is given,
    with a bound. Errors: `BadInput` for sizes or counts below nothing or a key listed twice.
    """
    check_stock(stock)
    _check_items(items, kerf)
    task = _task(stock, items, kerf)
    bins, fitting = first_fit(task), task.fitting()
    unmade = task.missing(bins) - (sum(task.demands) - sum(fitting.demands))
    bound = 0 if unmade else simple_bound(fitting)
    if unmade or task.cost(bins) > bound:
        graph = build(task.widths, task.demands, task.rooms, MOST_ARCS)
        if graph is not None and graph.arcs:
            bins, bound = _best_flow(task, graph, bins, bound, time_limit)
    return _plan(stock, items, kerf, task, bins, bound)


def relaxed_length(stock: Sequence[Stock], items: Sequence[Item], kerf: Fraction) -> float:
    """Gilmore & Gomory's bound: the least length of stock, mm, were fractions of blanks allowed.

    Counts of stock are left out of account. Infinite where an item fits no blank.
    """
    check_stock(stock)
    _check_items(items, kerf)
    task = _task(stock, items, kerf)
    if any(width > max(task.rooms, default=0) for width in task.widths):
        return inf
    graph = build(task.widths, task.demands, task.rooms, inf)
    if graph is None or not graph.arcs:
        return 0.0
    rows = [*graph.flow_rows(), *_demand_rows(task, graph)]
    most = [inf] * graph.size + [0] * len(items)
    found = minimise(_costs(task, graph), rows, most, inf, relaxed=True)
    return found.bound * float(_cost_unit(stock, task))


def _best_flow(task: Task, graph: Graph, start: Bins, bound: int, time_limit: float) -> tuple[Bins, int]:
    """The best plan found, `start` among them, and the best bound, both in cost units."""
    missing, sure, plans = task.missing(start), True, [start]
    if missing:
        time_limit /= 2
        fewest = _solve(task, graph, [0] * graph.size + [1] * len(task.widths), missing, time_limit)
        plans += _bins(graph, fewest)
        missing, sure = min(task.missing(bins) for bins in plans), fewest.proven
    least = _solve(task, graph, _costs(task, graph), missing, time_limit)
    plans += _bins(graph, least)
    # Unsure means that a plan with fewer items missing may exist, of which this bound says nothing.
    if sure and isfinite(least.bound):
        bound = max(bound, ceil(least.bound - _SOLVER_ERROR))
    return min(plans, key=lambda bins: (task.missing(bins), task.cost(bins))), bound


def _solve(task: Task, graph: Graph, costs: Sequence[float], missing: int, time_limit: float) -> Solved:
    """Minimise over flows with at most `missing` items unmade; the last variables count these by item."""
    unmade = range(graph.size, graph.size + len(task.widths))
    rows = [*graph.flow_rows(), *_demand_rows(task, graph)]
    rows += [
        Row(graph.stock_weights(kind), high=count)
        for kind, count in enumerate(task.counts)
        if isfinite(count)
    ]
    rows.append(Row(dict.fromkeys(unmade, 1), high=missing))
    return minimise(costs, rows, [inf] * graph.size + list(task.demands), time_limit)


def _demand_rows(task: Task, graph: Graph) -> list[Row]:
    """Of each item, those cut and those unmade are those demanded."""
    return [
        Row({**graph.item_weights(item), graph.size + item: 1}, demand, demand)
        for item, demand in enumerate(task.demands)
    ]


def _costs(task: Task, graph: Graph) -> list[int]:
    """A finish costs the length of its blank; cutting and leaving out cost nothing."""
    return [0] * len(graph.arcs) + [task.costs[f.stock] for f in graph.finishes] + [0] * len(task.widths)


def _bins(graph: Graph, solved: Solved) -> list[Bins]:
    """The plan a solution stands for, if there is a solution."""
    values = solved.whole()
    if values is None:
        return []
    bins: Bins = Counter()
    for kind, content, times in walks(graph, values[: graph.size]):
        bins[kind, content] += times
    return [bins]


def _plan(
    stock: Sequence[Stock], items: Sequence[Item], kerf: Fraction, task: Task, bins: Bins, bound: int
) -> Plan:
    """The plan in the callers' words and in mm."""
    patterns = tuple(_pattern(stock, items, kerf, bin_, times) for bin_, times in sorted(bins.items()))
    used: Counter[Hashable] = Counter()
    for pattern in patterns:
        used[pattern.stock] += pattern.times
    made: Counter[Hashable] = Counter()
    for pattern in patterns:
        made.update({key: n * pattern.times for key, n in pattern.items})
    short = {item.key: item.demand - made[item.key] for item in items if made[item.key] < item.demand}
    unit = _cost_unit(stock, task)
    length = task.cost(bins) * unit
    waste = length - sum((item.length * made[item.key] for item in items), Fraction(0))
    return Plan(patterns, used, short, length, waste, task.cost(bins) <= bound, bound * unit)


def _pattern(
    stock: Sequence[Stock],
    items: Sequence[Item],
    kerf: Fraction,
    content: tuple[int, tuple[int, ...]],
    times: int,
) -> Pattern:
    kind, cut = content
    taken = sum((items[item].length + kerf for item in cut), Fraction(0))
    named = tuple((items[item].key, number) for item, number in Counter(cut).items())
    return Pattern(stock[kind].key, named, times, max(Fraction(0), stock[kind].length - taken))


def _task(stock: Sequence[Stock], items: Sequence[Item], kerf: Fraction) -> Task:
    widths = [item.length + kerf for item in items]
    sizes = as_integers([*widths, *(blank.length + kerf for blank in stock)])
    lengths = as_integers([blank.length for blank in stock])
    common = gcd(*lengths) or 1
    return Task(
        widths=sizes[: len(items)],
        demands=[item.demand for item in items],
        rooms=sizes[len(items) :],
        costs=[length // common for length in lengths],
        counts=[inf if blank.count is None else blank.count for blank in stock],
    )


def _cost_unit(stock: Sequence[Stock], task: Task) -> Fraction:
    """Millimetres in one cost unit."""
    return stock[0].length / task.costs[0] if stock else Fraction(1)


def _check_items(items: Sequence[Item], kerf: Fraction) -> None:
    """Refuse items without length, demands below nothing, an item listed twice and a kerf below nothing."""
    for item in items:
        check_cut([item.length], kerf)
        if item.demand < 0:
            raise BadInput(f"{item.demand} of {item.key} cannot be cut.", hint="Give 0 or more.")
    if len({item.key for item in items}) < len(items):
        raise BadInput("One item is listed twice.", hint="Add up the demand of each item.")
