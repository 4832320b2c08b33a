"""The cut plan of blanks of known lengths as an exact programme: flows through a graph (`making.blanks.arc_flow`)."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from math import ceil, inf, isfinite

from inventory.making.blanks.arc_flow import Graph, build, walks
from inventory.making.blanks.first_fit import Bins, Task
from inventory.making.blanks.solver import Constraint, Solved, minimise

MOST_ARCS = 60_000
"""Beyond this the exact programme is not tried; a first-fit plan is proven only if it meets the bound."""

_SOLVER_ERROR = 1e-5  # a bound of 452.999999 proves 453


def best_flow(task: Task, start: Bins, bound: int, time_limit: float) -> tuple[Bins, int]:
    """The best plan found, `start` among them, and the best bound, both in cost units."""
    graph = build(task.widths, task.demands, task.rooms, MOST_ARCS)
    if graph is None or not graph.arcs:
        return start, bound
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
