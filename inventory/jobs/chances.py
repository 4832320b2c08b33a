"""The odds that what is free suffices, and needs raised until buying the missing parts meets the confidence."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from fractions import Fraction
from math import lcm

from inventory.catalogue import STAGES, Kit, fold
from inventory.jobs.needs import PartNeed, Requirements, need_of
from inventory.making.bill import steps_per_piece
from inventory.making.evening import evening
from inventory.making.odds import Need, Odds, joint_odds
from inventory.making.reaching import LEFT_OUT, TooMuchWork, quantile, reach_laws

SURE = 1 - 1e-8
"""A part that suffices at this level cannot tip the odds and is left out of the recursion."""
MOST_STEPS = 60_000
"""Transitions of the exact recursion (a few hundredths of a second) beyond which the odds are simulated."""


def odds(plan: Requirements, count: int, free: Mapping[str, int] | None = None) -> Odds:
    """Joint odds that every part suffices for `count` good pieces. free: by folded name, in place of the shelf's."""
    needs = _budgets(plan, free or {})
    try:
        laws = reach_laws(count, plan.survivals)
    except TooMuchWork:
        return joint_odds(count, plan.survivals, needs, most_steps=MOST_STEPS)
    enough = [quantile(law, SURE) for law in laws]
    tight = [need for need in needs if not _plenty(need, enough)]
    found = joint_odds(count, plan.survivals, tight, most_steps=MOST_STEPS)
    open_ended = {at for at, (_, odds) in enumerate(laws) if len(odds) > 1}
    left_out = [need for need in needs if need not in tight and open_ended & need.by_stage.keys()]
    if left_out and not all(one.exact for one in plan.survivals):
        # What is left out hardly ever runs out, but it may: "100 %" would be too much.
        return replace(found, probability=min(found.probability, 1.0 - LEFT_OUT))
    return found


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


def needs_at(plan: Requirements, count: int, level: float) -> dict[tuple[str, str], int]:
    """The needs of every part but the blank at another confidence, by folded name and stage."""
    reach = evening(count, plan.survivals, level).allowed
    return {
        (fold(use.part), use.stage): need_of(use, reach, plan.kit, plan.uses)
        for use in plan.uses
        if use.role != "the blank"
    }


def _budgets(plan: Requirements, free: Mapping[str, int]) -> list[Need]:
    here = {**free_now(plan), **free}
    by_part: dict[str, dict[int, Fraction]] = {}
    sessions: dict[str, int] = {}
    inside: dict[str, int] = {}
    for use in plan.uses:
        key, at = fold(use.part), STAGES.index(use.stage)
        if use.role == "the blank":
            continue
        stages = by_part.setdefault(key, {})
        stages[at] = stages.get(at, Fraction(0)) + use.per_piece
        sessions[key] = sessions.get(key, 0) + use.per_session
        if use.role == "the tubes" and isinstance(plan.kit.detail, Kit) and plan.kit.detail.tubes_inside:
            inside[key] = steps_per_piece(use) * here.get(fold(plan.kit.name), 0) // 1000
    done = [
        _whole(key, stages, sessions[key], here.get(key, 0) + inside.get(key, 0))
        for key, stages in by_part.items()
    ]
    return [*done, *_blank_budget(plan, here), *_tool_budgets(plan, here)]


def _whole(key: str, stages: Mapping[int, Fraction], once: int, free: int) -> Need:
    """A need in steps so fine that each piece takes a whole number: a third is no more than a third."""
    finer = lcm(*(take.denominator for take in stages.values()))
    return Need(key, {at: int(take * finer) for at, take in stages.items()}, once * finer, free * finer)


def _blank_budget(plan: Requirements, free: Mapping[str, int]) -> list[Need]:
    """Blanks count by the pieces they give: those there, and those bought at the catalogue's size."""
    for need in plan.parts:
        if need.role == "the blank":
            bought = (free.get(fold(need.part.name), need.free) - need.free) // 1000
            give = plan.blanks.capacity + bought * plan.blanks.each
            return [Need(fold(need.part.name), {STAGES.index(need.stage): 1}, 0, give)]
    return []


def _tool_budgets(plan: Requirements, free: Mapping[str, int]) -> list[Need]:
    tools: dict[str, PartNeed] = {fold(need.part.name): need for need in plan.parts if need.tool}
    return [Need(key, {}, 1000, free.get(key, need.free)) for key, need in tools.items()]


def _plenty(need: Need, enough: Sequence[int]) -> bool:
    worst = need.per_session + sum(steps * enough[at] for at, steps in need.by_stage.items())
    if need.covers is not None:
        return need.covers(worst) >= SURE
    return need.free is None or need.free >= worst
