"""The probability that what is free suffices, and needs raised until buying the missing parts meets the confidence."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Hashable, Mapping, Sequence
from dataclasses import replace
from fractions import Fraction
from functools import cache, lru_cache
from math import ceil, lcm, prod

from inventory.catalogue import STAGES, fold
from inventory.jobs.orders.needs import PartNeed, Requirements, needs_for
from inventory.making.consumption import tubes_lying_in
from inventory.making.evening import evening
from inventory.making.joint_probability import JointProbability, Need, joint_probability
from inventory.making.losses.reaching import LEFT_OUT, Law, TooMuchWork, quantile, reach_laws
from inventory.making.supply_use import Doubt

SURE = 1 - 1e-8
"""A part that suffices at this level cannot tip the probability and is left out of the recursion."""
NEARLY = 0.999
"""A supply that suffices so surely whatever the pieces do stays out of the recursion, its chance is multiplied in."""
MOST_STEPS = 60_000
"""Transitions of the exact recursion (a few hundredths of a second) beyond which it is simulated."""


PartProbabilities = dict[tuple[Hashable, int], float]
"""The chance of each part alone, by what is there of it: for one plan, whatever is bought for it."""


def order_probability(
    plan: Requirements,
    count: int,
    free: Mapping[str, int] | None = None,
    alone: PartProbabilities | None = None,
) -> JointProbability:
    """P(every part suffices for `count` good pieces). free: by folded name, in place of the shelf's.

    alone: filled and read, where several shelves are asked about for one plan.
    """
    needs = _budgets(plan, free or {})
    try:
        laws = reach_laws(count, plan.survivals)
    except TooMuchWork:
        return joint_probability(count, plan.survivals, needs, most_steps=MOST_STEPS)
    enough = [quantile(law, SURE) for law in laws]
    ample = _ample(needs, laws)
    tight = [need for need in needs if need.part not in ample and not _plenty(need, enough)]
    found = _with_ample(
        joint_probability(count, plan.survivals, tight, most_steps=MOST_STEPS, alone=alone), ample
    )
    open_ended = {at for at, (_, law) in enumerate(laws) if len(law) > 1}
    left_out = [need for need in needs if need not in tight and open_ended & need.by_stage.keys()]
    if left_out and not all(one.exact for one in plan.survivals):
        # What is left out hardly ever runs out, but it may: "100 %" would be too much.
        return replace(found, probability=min(found.probability, 1.0 - LEFT_OUT))
    return found


def _ample(needs: Sequence[Need], laws: Sequence[Law]) -> dict[Hashable, tuple[float, float]]:
    """Supplies that hardly ever run out, whatever the pieces do: their chance, and how much it hangs on these."""
    most = [quantile(law, NEARLY) for law in laws]
    usual = [law[0] + sum(at * probability for at, probability in enumerate(law[1])) for law in laws]
    found: dict[Hashable, tuple[float, float]] = {}
    for need in needs:
        if need.covers is not None and (least := need.covers(ceil(_steps(need, most)))) >= NEARLY:
            probability = need.covers(ceil(_steps(need, usual)))
            found[need.part] = probability, probability - least
    return found


def _with_ample(found: JointProbability, ample: Mapping[Hashable, tuple[float, float]]) -> JointProbability:
    """With the probability of these, which do not hang on the pieces; the error says how little they do."""
    if not ample:
        return found
    by_part = {**found.by_part, **{part: probability for part, (probability, _) in ample.items()}}
    together = found.probability * prod(probability for probability, _ in ample.values())
    error = found.error + sum(apart for _, apart in ample.values())
    weakest = found.weakest or min(ample, key=lambda part: ample[part][0])
    return replace(found, probability=together, error=error, by_part=by_part, weakest=weakest)


def _steps(need: Need, pieces: Sequence[float]) -> float:
    """What so many pieces reaching each stage take, in the need's own steps."""
    return need.per_session + sum(steps * pieces[at] for at, steps in need.by_stage.items())


def free_now(plan: Requirements) -> dict[str, int]:
    """What is free of each part before any stage takes of it, by folded name."""
    free: dict[str, int] = {}
    for need in plan.parts:
        free.setdefault(fold(need.part.name), need.free)
    return free


def after_buying(plan: Requirements) -> dict[str, int]:
    """What will be free of each part once every shortage is bought."""
    free = free_now(plan)
    for need in plan.parts:
        free[fold(need.part.name)] += need.short
    return free


def needs_at(
    plan: Requirements, count: int, level: float, only: str | None = None
) -> dict[tuple[str, str], int]:
    """The needs of every part but the blank (or of just one) at another confidence, by folded name and stage."""
    return needs_for(plan, evening(count, plan.survivals, level), level, only)


def _budgets(plan: Requirements, free: Mapping[str, int]) -> list[Need]:
    here = Counter({**free_now(plan), **free})
    by_part: dict[str, dict[int, Fraction]] = {}
    sessions: Counter[str] = Counter()
    inside: Counter[str] = Counter()
    for use in plan.uses:
        key, at = fold(use.part), STAGES.index(use.stage)
        if use.is_blank:
            continue
        by_part.setdefault(key, {})[at] = use.per_piece  # `uses` has one a part and stage
        sessions[key] += use.per_session
        inside[key] += tubes_lying_in(here[fold(plan.kit.name)], use, plan.kit)
    done = [
        _whole(key, stages, sessions[key], here[key] + inside[key], plan.doubts.get(key))
        for key, stages in by_part.items()
    ]
    return [*done, *_blank_budget(plan, here), *_tool_budgets(plan, here)]


def _whole(key: str, stages: Mapping[int, Fraction], once: int, free: int, doubt: Doubt | None) -> Need:
    """A need in steps so fine that each piece takes a whole number: a third is no more than a third."""
    finer = lcm(*(take.denominator for take in stages.values()))
    steps = {at: take.numerator * (finer // take.denominator) for at, take in stages.items()}
    covers = None if doubt is None else _covers(doubt, once, free, finer)
    return Need(key, steps, once * finer, free * finer, covers)


@lru_cache(maxsize=512)  # who looks for how many to start asks the same of each number
def _covers(doubt: Doubt, once: int, free: int, finer: int) -> Callable[[int], float]:
    """The chance that what is free covers a use the bills put at so many steps, `once` thousandths among them."""

    @cache
    def covers(steps: int) -> float:
        return doubt.within(free, max(steps / finer - once, 0.0))

    return covers


def _blank_budget(plan: Requirements, free: Mapping[str, int]) -> list[Need]:
    """Blanks count by the pieces they give: those there, and those bought at the catalogue's size."""
    for need in plan.parts:
        if need.is_blank:
            bought = (free.get(fold(need.part.name), need.free) - need.free) // 1000
            give = plan.blanks.capacity + bought * plan.blanks.each
            return [Need(fold(need.part.name), {STAGES.index(need.stage): 1}, 0, give)]
    return []


def _tool_budgets(plan: Requirements, free: Mapping[str, int]) -> list[Need]:
    tools: dict[str, PartNeed] = {fold(need.part.name): need for need in plan.parts if need.tool}
    return [Need(key, {}, 1000, free.get(key, need.free)) for key, need in tools.items()]


def _plenty(need: Need, enough: Sequence[int]) -> bool:
    worst = need.per_session + sum(steps * enough[at] for at, steps in need.by_stage.items())
    return need.covers is None and (need.free is None or need.free >= worst)
