"""The probability that what is free suffices for every part at once.

Pieces are started until N are good. Let R_s be the pieces that reach stage s (see `making.losses.reaching`; what share
survives a stage need not be known exactly). A part that takes q_s steps per piece reaching stage s, and f per session,
suffices when

    f + Σ_s q_s · R_s ≤ free

or, where its use is not known exactly, with the chance that what is free covers a use the bills put at that much:
`Need.covers`, the one place at which a doubtful use enters the probability. Doubts of several parts are independent.
A batch that works on no more pieces at a stage than its parts suffice for gives N good ones with the same probability.
"""

from __future__ import annotations

from collections.abc import Callable, Hashable, Mapping, Sequence
from dataclasses import dataclass, field
from math import sqrt
from typing import TYPE_CHECKING, Literal

from inventory.errors import BadInput
from inventory.making.budgets import Budget, probability_within
from inventory.making.losses.reaching import LEFT_OUT, RUNS, SEED, TooMuchWork, check_stages, simulate_reach
from inventory.making.losses.starts import Survival

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

ROUNDING = 1e-9
"""Error stated where the shares are known exactly: rounding, and outcomes left out as negligible."""
LONG_ENDS = 10 * LEFT_OUT
"""Error stated where they are not: the long ends that are left out."""

MOST_STEPS = 1_000_000
"""Transitions the exact recursion may take (about a second) before it is simulated instead."""


_HAIR = 1e-12  # floats may fall so much short of whole numbers


@dataclass(frozen=True, slots=True)
class Need:
    """What one part must cover, in its own smallest steps.

    by_stage     stage index → steps used by each piece that reaches that stage
    per_session  steps used once, however many pieces are made
    free         steps that may be used; None where the part cannot run out
    covers       where the use is not known exactly: the chance that what is free covers a use which the bills put at
                 so many steps, what is taken once among them; it never rises with them. It takes the place of `free`
    """

    part: Hashable
    by_stage: Mapping[int, int]
    per_session: int = 0
    free: int | None = None
    covers: Callable[[int], float] | None = None


@dataclass(frozen=True, slots=True)
class JointProbability:
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


def joint_probability(
    good: int,
    survivals: Sequence[Survival],
    needs: Sequence[Need],
    *,
    most_steps: int = MOST_STEPS,
    runs: int = RUNS,
    seed: int = SEED,
    alone: dict[tuple[Hashable, int], float] | None = None,
) -> JointProbability:
    """Probability that every need is covered while `good` good pieces are made. survivals: what is known of each stage.

    alone: chances of single parts, by part and what is there of it, kept between calls that differ in nothing else.
    Exact where the recursion stays within `most_steps` transitions, otherwise simulated with `runs` runs
    from `seed` (the same call always gives the same answer).
    """
    budgets = _budgets(good, survivals, needs)
    try:
        together = probability_within(good, survivals, budgets.values(), most_steps)
        found = {} if alone is None else alone
        for part, budget in budgets.items():
            if (part, budget.steps) not in found:
                found[part, budget.steps] = probability_within(good, survivals, [budget], most_steps)
    except TooMuchWork:
        return simulated_probability(good, survivals, needs, runs=runs, seed=seed)
    each = {part: found[part, budget.steps] for part, budget in budgets.items()}
    by_part = {need.part: each.get(need.part, 1.0) for need in needs}
    error = ROUNDING if all(one.exact for one in survivals) else LONG_ENDS
    return JointProbability(min([together, *each.values()]), "exact", error, _weakest(each), by_part)


def simulated_probability(
    good: int,
    survivals: Sequence[Survival],
    needs: Sequence[Need],
    *,
    runs: int = RUNS,
    seed: int = SEED,
) -> JointProbability:
    """The same probability by `runs` seeded runs; the standard error is √(p(1 − p)/runs).

    p is taken as (hits + 1)/(runs + 2) in the error, so that "never failed" is not stated as "cannot fail".
    """
    budgets = _budgets(good, survivals, needs)
    if runs < 1:
        raise BadInput(f"{runs} runs cannot be simulated.", hint="Give one run or more; 40,000 is usual.")
    import numpy as np

    reached = simulate_reach(good, tuple(survivals), runs, seed)
    held = {part: _held(budget, reached) for part, budget in budgets.items()}
    together = float(np.prod(list(held.values()), axis=0).mean()) if held else 1.0
    alone = {part: float(probabilities.mean()) for part, probabilities in held.items()}
    by_part = {need.part: alone.get(need.part, 1.0) for need in needs}
    share = (runs * together + 1) / (runs + 2)
    return JointProbability(together, "simulated", sqrt(share * (1 - share) / runs), _weakest(alone), by_part)


def _held(budget: Budget, reached: NDArray[np.int64]) -> NDArray[np.float64]:
    """For each run the chance that a budget holds."""
    import numpy as np

    used = reached @ np.array(budget.per_piece, dtype=np.float64)  # steps may be too fine for 64 bits
    if budget.covers is None:
        return np.asarray(used <= budget.steps * (1 + _HAIR), dtype=np.float64)
    different, where = np.unique(used, return_inverse=True)
    return np.array([budget.covers(int(steps) + budget.once) for steps in different])[where]


def _budgets(good: int, survivals: Sequence[Survival], needs: Sequence[Need]) -> dict[Hashable, Budget]:
    """The needs that can run out, as budgets by part; several needs of one part are one budget."""
    check_stages(good, survivals)
    budgets: dict[Hashable, Budget] = {}
    for need in needs:
        if need.part in budgets:
            raise BadInput(
                f"The part {need.part} has two needs.", hint="Add up what one part must cover in one need."
            )
        _check(need, len(survivals))
        if need.free is not None:
            per_piece = tuple(need.by_stage.get(stage, 0) for stage in range(len(survivals)))
            budgets[need.part] = Budget(
                per_piece, need.free - need.per_session, need.covers, need.per_session
            )
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
