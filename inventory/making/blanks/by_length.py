"""One-dimensional cutting stock: pieces from blanks of known lengths, least length cut into.

Pieces and blanks are lengthened by one kerf each, which turns "a kerf between neighbours" into plain sums:
Σ piece + kerf · (n − 1) ≤ blank is the same as Σ (piece + kerf) ≤ blank + kerf. A first-fit-decreasing plan is
taken where it meets the simple bound; otherwise an arc-flow programme is solved (see `making.blanks.arc_flow`).
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from fractions import Fraction
from math import ceil, gcd, inf, isfinite

from inventory.making.blanks.arc_flow import Graph, build, walks
from inventory.making.blanks.first_fit import Bins, Task, first_fit, simple_bound
from inventory.making.blanks.model import BlankStock, CutPlan, Wanted, as_integers, length_needed, plan_of
from inventory.making.blanks.solver import Constraint, Solved, minimise

MOST_ARCS = 60_000
"""Beyond this the exact programme is not tried; a first-fit plan is proven only if it meets the bound."""

_SOLVER_ERROR = 1e-5  # a bound of 452.999999 proves 453


def plan_by_length(
    stock: Sequence[BlankStock], wanted: Sequence[Wanted], kerf: Fraction, time_limit: float
) -> CutPlan:
    """The most pieces, then the least length of stock used."""
    task = task_of(stock, wanted, kerf)
    bins, fitting = first_fit(task), task.fitting()
    unmade = task.missing(bins) - (sum(task.demands) - sum(fitting.demands))
    bound = 0 if unmade else simple_bound(fitting)
    if unmade or task.cost(bins) > bound:
        graph = build(task.widths, task.demands, task.rooms, MOST_ARCS)
        if graph is not None and graph.arcs:
            bins, bound = _best_flow(task, graph, bins, bound, time_limit)
    cuts = [(kind, tuple(Counter(content).items()), times) for (kind, content), times in sorted(bins.items())]
    return plan_of(stock, wanted, kerf, cuts, proven=task.cost(bins) <= bound)


def task_of(stock: Sequence[BlankStock], wanted: Sequence[Wanted], kerf: Fraction) -> Task:
    """The problem in whole units."""
    widths = [length_needed(one, kerf) + kerf for one in wanted]
    sizes = as_integers([*widths, *(blank.length + kerf for blank in stock)])
    lengths = as_integers([blank.length for blank in stock])
    common = gcd(*lengths) or 1
    return Task(
        widths=sizes[: len(wanted)],
        demands=[one.count for one in wanted],
        rooms=sizes[len(wanted) :],
        costs=[length // common for length in lengths],
        counts=[inf if blank.count is None else blank.count for blank in stock],
    )


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
        Constraint(graph.stock_weights(kind), high=count)
        for kind, count in enumerate(task.counts)
        if isfinite(count)
    ]
    rows.append(Constraint(dict.fromkeys(unmade, 1), high=missing))
    return minimise(costs, rows, [inf] * graph.size + list(task.demands), time_limit)


def _demand_rows(task: Task, graph: Graph) -> list[Constraint]:
    """Of each item, those cut and those unmade are those demanded."""
    return [
        Constraint({**graph.item_weights(item), graph.size + item: 1}, demand, demand)
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
