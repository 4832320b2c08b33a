"""Better lists near a list: parts moved, steps and thresholds filled up, packs put back."""

from __future__ import annotations

from collections.abc import Iterator

from inventory.buying.heuristics.tally import BROKEN, ListTally
from inventory.buying.problem import Packs, Problem

Changes = dict[int, int]
"""Packs more (or fewer, below 0), by offer."""


def descend(tally: ListTally) -> None:
    """Make small changes to a list for as long as one helps."""
    parts = len(tally.problem.parts)
    at = idle = 0
    while idle <= parts:  # what is left then was tried since the last change
        moves = _moves(tally.problem, tally, at) if at < parts else _fills(tally.problem, tally)
        idle = 0 if _take_best(tally, moves) else idle + 1
        at = (at + 1) % (parts + 1)


def _take_best(tally: ListTally, moves: Iterator[Changes]) -> bool:
    found = min(((tally.after(move), at, move) for at, move in enumerate(moves)), default=None)
    if found is None or found[0] >= tally.price:
        return False
    tally.apply(found[2])
    return True


def _moves(problem: Problem, tally: ListTally, part: int) -> Iterator[Changes]:
    """The whole part to one offer; or a pack less of an offer where the part stays covered."""
    held = {number: tally.bought[number] for number in problem.by_part[part] if number in tally.bought}
    away = {number: -packs for number, packs in held.items()}
    for number in problem.by_part[part]:
        alone = problem.packs[number].alone
        if alone is not None and held.get(number) != alone:
            yield {**away, number: alone - held.get(number, 0)}
    yield from _shifts(problem, part, held)
    for number, packs in held.items():
        if problem.covers_part(part, {**held, number: packs - 1}):
            yield {number: -1}


def _shifts(problem: Problem, part: int, held: Packs) -> Iterator[Changes]:
    """A pack of one offer less, and what it held in packs of another."""
    for number, packs in held.items() if len(held) > 1 else ():
        size = problem.packs[number].size
        for other in held:
            more = -(-size // problem.packs[other].size)
            if other != number and problem.covers_part(
                part, {**held, number: packs - 1, other: held[other] + more}
            ):
                yield {number: -1, other: more}


def _fills(problem: Problem, tally: ListTally) -> Iterator[Changes]:
    """More packs of one offer, up to the next level of a group or a threshold of a supplier."""
    for group, count in enumerate(tally.counts):
        if count and (level := problem.level(group, count) + 1) < len(problem.groups[group].starts):
            prices = [
                (problem.packs[number].prices[level] or BROKEN, number)
                for number in problem.groups[group].packs
            ]
            yield {min(prices)[1]: problem.groups[group].starts[level] - count}
    for supplier, terms in enumerate(problem.terms):
        goods = tally.goods(supplier) if tally.used[supplier] else 0
        for due in {terms.least, terms.free or 0} if goods else ():
            if goods < due:
                yield from _filled(problem, tally, supplier, due - goods)


def _filled(problem: Problem, tally: ListTally, supplier: int, short: int) -> Iterator[Changes]:
    """So much more at one supplier, by each of its offers."""
    for number, pack in enumerate(problem.packs):
        if pack.supplier == supplier:
            level = problem.level(pack.group, tally.counts[pack.group]) if pack.group >= 0 else 0
            each = pack.own[-1][1] if pack.own else pack.prices[level]
            if each:
                yield {number: -(-short // each)}
