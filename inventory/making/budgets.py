"""Chance that budgets drawn on by the pieces reaching each stage hold out: the exact recursion behind `odds`.

A budget is Σ_s a_s · R_s ≤ B with whole-number weights. The walk goes from the last stage to the first.
What is left of a budget is kept only as finely as the earlier stages can tell apart: it is divided by the
greatest common divisor of the weights still to come, cut off where it can no longer bind, and budgets whose
remaining weights have the same proportions are carried as one, the smallest. A part used at one stage is
thus a cap on the pieces that reach it and adds nothing to the state.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import gcd
from sys import maxsize

from inventory.making.losses import failure_odds, onward_success

Shape = tuple[int, ...]
State = tuple[int, tuple[int, ...]]  # pieces reaching the stage just handled; what is left of each budget


class TooMuchWork(Exception):
    """The state has grown beyond what was allowed."""


@dataclass(frozen=True, slots=True)
class Budget:
    """Whole steps taken by each piece that reaches stage 0, 1, …, and the steps there are in all."""

    per_piece: Shape
    steps: int

    def holds(self, reached: Sequence[int]) -> bool:
        """Whether it covers these numbers of pieces reaching the stages."""
        return sum(take * pieces for take, pieces in zip(self.per_piece, reached, strict=True)) <= self.steps


@dataclass(frozen=True, slots=True)
class _Rest:
    """What becomes of a budget after a stage: where it is carried on, in what unit, where it cannot bind."""

    take: int
    goes_to: int | None
    unit: int = 1
    most: int = 0


def chance_within(good: int, success: Sequence[float], budgets: Sequence[Budget], most_steps: int) -> float:
    """P(every budget holds) while `good` good pieces are made; `success` by stage, each in (0, 1].

    Raises `TooMuchWork` once more than `most_steps` transitions were needed.
    """
    if any(budget.steps < 0 for budget in budgets):
        return 0.0
    ceilings = [_ceiling(good, onward) for onward in onward_success(success)]
    shapes, left = _first_shapes(budgets, ceilings)
    states: dict[State, float] = {(good, left): 1.0}
    through, room = 1.0, most_steps
    for stage in reversed(range(len(success))):
        through *= success[stage]
        if any(shape[stage] for shape in shapes):
            totals = [sum(shape) for shape in shapes]
            rests, shapes = _rests(shapes, stage, ceilings)
            states, room = _back(states, through, totals, rests, len(shapes), room)
            through = 1.0
        else:
            shapes = [shape[:stage] for shape in shapes]
    return min(1.0, sum(states.values()))


def _back(
    states: dict[State, float],
    through: float,
    totals: Sequence[int],
    rests: Sequence[_Rest],
    width: int,
    room: int,
) -> tuple[dict[State, float], int]:
    """One stage further back: the states after it, and how many transitions may still be made."""
    after: dict[State, float] = {}
    for (reached, left), chance in states.items():
        # Every earlier stage is reached by at least as many, so what is left must cover them there too.
        cap = min(have // total for have, total in zip(left, totals, strict=True))
        fewest, odds = failure_odds(reached, through)
        first = reached + fewest
        within = odds[: max(0, cap - first + 1)]
        room -= len(within)
        if room < 0:
            raise TooMuchWork
        for pieces, odd in enumerate(within, first):
            state = pieces, _spend(left, pieces, rests, width)
            after[state] = after.get(state, 0.0) + chance * odd
    return after, room


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


def _ceiling(good: int, onward: float) -> int:
    """More pieces than this never reach a stage with this success from there on, but for negligible odds."""
    fewest, odds = failure_odds(good, onward)
    return good + fewest + len(odds) - 1
