"""The odds that what is free suffices for every part at once.

Pieces are started one after another until N are good. Let R_s be the pieces that reach stage s and p_s the
chance to survive it. Going back from the end, R_s given R_{s+1} = m is the number of trials that give m
successes, m + NegativeBinomial(m, p_s); stages at which no part is used are run together, for their
successes multiply. A part that takes q_s steps per piece reaching stage s, and f per session, suffices when

    f + Σ_s q_s · R_s ≤ free.

`joint_odds` walks back through the stages with the state (pieces reaching, what is left of each budget).
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Hashable, Mapping, Sequence
from dataclasses import dataclass, field
from itertools import accumulate
from math import sqrt
from random import Random
from typing import Literal

from inventory.errors import BadInput
from inventory.making.budgets import Budget, TooMuchWork, chance_within
from inventory.making.losses import check_starts, failure_odds, onward_success

ROUNDING = 1e-12
"""Error stated for exact odds: rounding and the outcomes left out as negligible."""

MOST_STEPS = 1_000_000
"""Transitions the exact recursion may take (about a second) before the odds are simulated instead."""

RUNS = 40_000
SEED = 1977


@dataclass(frozen=True, slots=True)
class Need:
    """What one part must cover, in its own smallest steps.

    by_stage     stage index → steps used by each piece that reaches that stage
    per_session  steps used once, however many pieces are made
    free         steps that may be used; None where the part cannot run out
    """

    part: Hashable
    by_stage: Mapping[int, int]
    per_session: int = 0
    free: int | None = None


@dataclass(frozen=True, slots=True)
class Odds:
    """Probability that every part suffices, how it was found and how far it may be off.

    error    rounding bound where exact, standard error where simulated
    weakest  the part least likely to suffice (the first of equals); None where no part can run out
    by_part  for each part alone, the probability that it suffices
    """

    probability: float
    how: Literal["exact", "simulated"]
    error: float
    weakest: Hashable | None
    by_part: Mapping[Hashable, float] = field(default_factory=dict)


def joint_odds(
    good: int,
    success_by_stage: Sequence[float],
    needs: Sequence[Need],
    *,
    most_steps: int = MOST_STEPS,
    runs: int = RUNS,
    seed: int = SEED,
) -> Odds:
    """Odds that every need is covered while `good` good pieces are made.

    Exact where the recursion stays within `most_steps` transitions, otherwise simulated with `runs` runs
    from `seed` (the same call always gives the same answer).
    """
    budgets = _budgets(good, success_by_stage, needs)
    try:
        together = chance_within(good, success_by_stage, list(budgets.values()), most_steps)
        alone = {
            part: chance_within(good, success_by_stage, [budget], most_steps)
            for part, budget in budgets.items()
        }
    except TooMuchWork:
        return simulate_odds(good, success_by_stage, needs, runs=runs, seed=seed)
    by_part = {need.part: alone.get(need.part, 1.0) for need in needs}
    return Odds(min([together, *alone.values()]), "exact", ROUNDING, _weakest(alone), by_part)


def simulate_odds(
    good: int, success_by_stage: Sequence[float], needs: Sequence[Need], *, runs: int = RUNS, seed: int = SEED
) -> Odds:
    """The same odds by `runs` seeded runs; the standard error is √(p(1 − p)/runs).

    p is taken as (hits + 1)/(runs + 2) in the error, so that "never failed" is not stated as "cannot fail".
    """
    budgets = _budgets(good, success_by_stage, needs)
    if runs < 1:
        raise BadInput(f"{runs} runs cannot be simulated.", hint="Give one run or more; 40,000 is usual.")
    together, hits = _count_hits(good, success_by_stage, list(budgets.values()), runs, Random(seed))  # noqa: S311 - dice, not secrets
    alone = {part: hit / runs for part, hit in zip(budgets, hits, strict=True)}
    by_part = {need.part: alone.get(need.part, 1.0) for need in needs}
    share = (together + 1) / (runs + 2)
    return Odds(together / runs, "simulated", sqrt(share * (1 - share) / runs), _weakest(alone), by_part)


def _count_hits(
    good: int, success: Sequence[float], budgets: Sequence[Budget], runs: int, dice: Random
) -> tuple[int, list[int]]:
    """Runs in which every budget held, and for each budget the runs in which it held."""
    steps = _used_stages(success, budgets)
    tables: dict[tuple[int, float], tuple[int, list[float]]] = {}
    together, hits = 0, [0] * len(budgets)
    for _ in range(runs):
        reach, reached = good, [0] * len(success)
        for stage, through in steps:
            reach += _draw(reach, through, dice.random(), tables)
            reached[stage] = reach
        held = [budget.holds(reached) for budget in budgets]
        together += all(held)
        hits = [count + hold for count, hold in zip(hits, held, strict=True)]
    return together, hits


def _draw(
    good: int, success: float, level: float, tables: dict[tuple[int, float], tuple[int, list[float]]]
) -> int:
    """Failures before the `good`-th success at probability `level`, by the inverse of the distribution."""
    key = (good, success)
    if key not in tables:
        fewest, odds = failure_odds(good, success)
        tables[key] = fewest, list(accumulate(odds))
    fewest, sums = tables[key]
    return fewest + min(bisect_left(sums, level), len(sums) - 1)


def _used_stages(success: Sequence[float], budgets: Sequence[Budget]) -> list[tuple[int, float]]:
    """Stages at which some budget is drawn on, last first, with the success from there to the one before."""
    steps, through = [], 1.0
    for stage in reversed(range(len(success))):
        through *= success[stage]
        if any(budget.per_piece[stage] for budget in budgets):
            steps.append((stage, through))
            through = 1.0
    return steps


def _budgets(good: int, success: Sequence[float], needs: Sequence[Need]) -> dict[Hashable, Budget]:
    """The needs that can run out, as budgets by part; several needs of one part are one budget."""
    for onward in onward_success(success):
        check_starts(good, onward)
    budgets: dict[Hashable, Budget] = {}
    for need in needs:
        if need.part in budgets:
            raise BadInput(
                f"The part {need.part} has two needs.", hint="Add up what one part must cover in one need."
            )
        _check(need, len(success))
        if need.free is not None:
            per_piece = tuple(need.by_stage.get(stage, 0) for stage in range(len(success)))
            budgets[need.part] = Budget(per_piece, need.free - need.per_session)
    return budgets


def _check(need: Need, stages: int) -> None:
    """Refuse a need that names a stage that is not there, or a quantity below nothing."""
    if any(not 0 <= stage < stages for stage in need.by_stage):
        raise BadInput(
            f"The part {need.part} is used at a stage that is not there.",
            hint=f"Stages are numbered from 0 to {stages - 1}.",
        )
    if min([need.per_session, *need.by_stage.values()]) < 0:
        raise BadInput(f"The part {need.part} cannot be used by less than nothing.", hint="Give 0 or more.")


def _weakest(alone: Mapping[Hashable, float]) -> Hashable | None:
    return min(alone, key=lambda part: alone[part], default=None)
