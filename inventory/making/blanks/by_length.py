"""One-dimensional cutting stock: pieces from blanks of known lengths, least length cut into.

Pieces and blanks are lengthened by one kerf each, which turns "a kerf between neighbours" into plain sums:
Σ piece + kerf · (n − 1) ≤ blank is the same as Σ (piece + kerf) ≤ blank + kerf. A first-fit-decreasing plan is
taken where it meets the simple bound; otherwise an arc-flow programme is solved (see `making.blanks.flows`).
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from fractions import Fraction
from math import gcd, inf

from inventory.making.blanks.first_fit import Task, first_fit, simple_bound
from inventory.making.blanks.model import BlankStock, CutPlan, Wanted, as_integers, length_needed, plan_of


def plan_by_length(
    stock: Sequence[BlankStock], wanted: Sequence[Wanted], kerf: Fraction, time_limit: float
) -> CutPlan:
    """The most pieces, then the least length of stock used."""
    task = task_of(stock, wanted, kerf)
    bins, fitting = first_fit(task), task.fitting()
    unmade = task.missing(bins) - (sum(task.demands) - sum(fitting.demands))
    bound = 0 if unmade else simple_bound(fitting)
    if unmade or task.cost(bins) > bound:
        from inventory.making.blanks.flows import best_flow  # a first fit is nearly always as good

        bins, bound = best_flow(task, bins, bound, time_limit)
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
