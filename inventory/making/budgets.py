"""Chance that budgets drawn on by the pieces reaching each stage hold out: the recursion behind `joint_probability`.

A budget is Σ_s a_s · R_s ≤ B with whole-number weights. The walk goes from the last stage to the first.
What is left of a budget is kept only as finely as the earlier stages can tell apart: it is divided by the
greatest common divisor of the weights still to come, cut off where it can no longer bind, and budgets whose
remaining weights have the same proportions are carried as one, the smallest. A part used at one stage is
thus a cap on the pieces that reach it and adds nothing to the state.

A doubtful budget is one whose use is not known exactly: it holds with a chance that depends on Σ_s a_s · R_s alone, and
independently of all else. Its sum is carried until the last stage that draws on it, where all is weighed by it;
so what is not known of a supply's use is mixed in exactly, too.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from functools import cache, lru_cache
from math import gcd
from sys import maxsize

from inventory.making.losses.reaching import LEFT_OUT, TooMuchWork, reach_laws
from inventory.making.losses.reaching import probability_within as stages_within
from inventory.making.losses.starts import Survival, failures

Shape = tuple[int, ...]
State = tuple[int, tuple[int, ...], tuple[int, ...]]
"""Pieces reaching the stage just handled; what is left of each budget; what is spent of each doubtful one."""


@dataclass(frozen=True, slots=True)
class Budget:
    """Whole steps taken by each piece that reaches stage 0, 1, …, and the steps there are in all.

    covers: the chance that a doubtful budget holds where so many steps are taken, `once` whatever is made and the
    others by the pieces; it takes the place of `steps`.
    """

    per_piece: Shape
    steps: int
    covers: Callable[[int], float] | None = None
    once: int = 0


@dataclass(frozen=True, slots=True)
class _Rest:
    """What becomes of a budget after a stage: where it is carried on, in what unit, where it cannot bind."""

    take: int
    goes_to: int | None
    unit: int = 1
    most: int = 0


@dataclass(frozen=True, slots=True)
class _Doubt:
    """A doubtful budget: its weights, what is taken once, and whether it is done with once a stage is handled."""

    per_piece: Shape
    covers: Callable[[int], float]
    once: int

    def ends_at(self, stage: int) -> bool:
        """Whether no earlier stage draws on it."""
        return not any(self.per_piece[:stage])


def probability_within(
    good: int, survivals: Sequence[Survival], budgets: Iterable[Budget], most_steps: int
) -> float:
    """P(every budget holds) while `good` good pieces are made. survivals: what is known of each stage.

    Raises `TooMuchWork` once more than `most_steps` transitions were needed. Who plans many orders asks the same of
    several: each question is answered once.
    """
    return _probability_within(good, tuple(survivals), tuple(budgets), most_steps)


@lru_cache(maxsize=4096)
def _probability_within(
    good: int, survivals: tuple[Survival, ...], budgets: tuple[Budget, ...], most_steps: int
) -> float:
    hard = [budget for budget in budgets if budget.covers is None]
    if any(budget.steps < 0 for budget in hard):
        return 0.0
    certain, doubts = _doubts(budgets)
    if not doubts and all(sum(map(bool, budget.per_piece)) < 2 for budget in hard):
        return certain * stages_within(good, survivals, _caps(hard, len(survivals)))
    # More pieces than a law tells of never reach its stage, but with negligible probability.
    ceilings = (
        [first + len(probabilities) - 1 for first, probabilities in reach_laws(good, survivals)]
        if hard
        else []
    )
    shapes, left = _first_shapes(hard, ceilings)
    states: dict[State, float] = {(good, left, tuple(doubt.once for doubt in doubts)): certain}
    room, through = most_steps, 1.0
    for stage in reversed(range(len(survivals))):
        if not shapes and not doubts:
            break
        survival = survivals[stage]
        if survival.exact:
            survival = Survival(through * survival.share)
            if stage and survivals[stage - 1].exact and not _drawn_at(stage, shapes, doubts):
                through = survival.share  # the successes of stages known exactly multiply
                shapes = [shape[:stage] for shape in shapes]
                continue
        through = 1.0
        totals = [sum(shape) for shape in shapes]
        rests, shapes = _rests(shapes, stage, ceilings)
        step = _Step(stage, survival, totals, rests, len(shapes), doubts)
        states, room = step.back(states, room)
        doubts = [doubt for doubt in doubts if not doubt.ends_at(stage)]
    return min(1.0, sum(states.values()))


def _caps(hard: Sequence[Budget], stages: int) -> list[int | None]:
    """The most pieces at each stage where every budget is drawn on at one stage only."""
    caps: list[int | None] = [None] * stages
    for budget in hard:
        for stage, take in enumerate(budget.per_piece):
            if take:
                most, old = budget.steps // take, caps[stage]
                caps[stage] = most if old is None else min(old, most)
    return caps


def _drawn_at(stage: int, shapes: Sequence[Shape], doubts: Sequence[_Doubt]) -> bool:
    return any(shape[stage] for shape in shapes) or any(doubt.per_piece[stage] for doubt in doubts)


def _doubts(budgets: Sequence[Budget]) -> tuple[float, list[_Doubt]]:
    """The doubtful budgets that pieces draw on, and the chance that all others of them hold."""
    certain, doubts = 1.0, []
    for budget in budgets:
        if budget.covers is not None and any(budget.per_piece):
            doubts.append(_Doubt(budget.per_piece, cache(budget.covers), budget.once))
        elif budget.covers is not None:
            certain *= budget.covers(budget.once)
    return certain, doubts


@dataclass(frozen=True, slots=True)
class _Step:
    """One stage further back."""

    stage: int
    survival: Survival
    totals: Sequence[int]
    rests: Sequence[_Rest]
    width: int
    doubts: Sequence[_Doubt]

    def back(self, states: dict[State, float], room: int) -> tuple[dict[State, float], int]:
        """The states after it, and how many transitions may still be made."""
        after: dict[State, float] = {}
        weighed: dict[tuple[int, ...], dict[int, tuple[float, tuple[int, ...]]]] = {}
        for (reached, left, spent), probability in states.items():
            # Every earlier stage is reached by at least as many, so what is left must cover them there too.
            cap = min((have // total for have, total in zip(left, self.totals, strict=True)), default=maxsize)
            failed = failures(reached, self.survival)
            first = reached + failed.fewest
            within = failed.nearly_all(LEFT_OUT) if cap == maxsize else failed.within(cap - reached)
            room -= len(within)
            if room < 0:
                raise TooMuchWork
            known = weighed.setdefault(spent, {})
            for pieces, share in enumerate(within, first):
                if pieces not in known:
                    known[pieces] = self._weighed(spent, pieces)
                held, now = known[pieces]
                state = pieces, _spend(left, pieces, self.rests, self.width), now
                after[state] = after.get(state, 0.0) + probability * share * held
        return after, room

    def _weighed(self, spent: tuple[int, ...], pieces: int) -> tuple[float, tuple[int, ...]]:
        """The chance that doubtful budgets no earlier stage draws on hold, and what is spent of the others."""
        held, now = 1.0, []
        for before, doubt in zip(spent, self.doubts, strict=True):
            sum_ = before + doubt.per_piece[self.stage] * pieces
            if doubt.ends_at(self.stage):
                held *= doubt.covers(sum_)
            else:
                now.append(sum_)
        return held, tuple(now)


def _spend(left: Sequence[int], pieces: int, rests: Sequence[_Rest], width: int) -> tuple[int, ...]:
    """What is left of the budgets once `pieces` reached the stage, in the units of the earlier stages."""
    if not width:
        return ()
    after = [maxsize] * width
    for have, rest in zip(left, rests, strict=True):
        if rest.goes_to is not None:
            after[rest.goes_to] = min(
                after[rest.goes_to], (have - rest.take * pieces) // rest.unit, rest.most
            )
    return tuple(after)


def _rests(shapes: Sequence[Shape], stage: int, ceilings: Sequence[int]) -> tuple[list[_Rest], list[Shape]]:
    """For each budget what becomes of it before `stage`, and the shapes that are carried on."""
    shorter: dict[Shape, int] = {}
    rests = []
    for shape in shapes:
        rest = shape[:stage]
        if any(rest):
            reduced, unit, most = _reduced(rest, ceilings)
            rests.append(_Rest(shape[stage], shorter.setdefault(reduced, len(shorter)), unit, most))
        else:
            rests.append(_Rest(shape[stage], None))
    return rests, list(shorter)


def _first_shapes(budgets: Sequence[Budget], ceilings: Sequence[int]) -> tuple[list[Shape], tuple[int, ...]]:
    """The shapes to start from and what there is of each; a budget nothing draws on is left out."""
    left: dict[Shape, int] = {}
    for budget in budgets:
        if any(budget.per_piece):
            reduced, unit, most = _reduced(budget.per_piece, ceilings)
            left[reduced] = min(left.get(reduced, most), budget.steps // unit)
    return list(left), tuple(left.values())


def _reduced(shape: Shape, ceilings: Sequence[int]) -> tuple[Shape, int, int]:
    """The weights over their greatest common divisor, that divisor, and the most that could ever be drawn."""
    unit = gcd(*shape)
    reduced = tuple(weight // unit for weight in shape)
    return reduced, unit, sum(weight * most for weight, most in zip(reduced, ceilings, strict=False))
