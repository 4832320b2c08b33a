"""Better lists near a list: parts moved, steps and thresholds filled up, packs put back."""

from __future__ import annotations

from collections.abc import Iterator

from inventory.buying.case import Case, Packs
from inventory.buying.tally import BROKEN, Tally

Changes = dict[int, int]
"""Packs more (or fewer, below 0), by offer."""


def descend(tally: Tally) -> None:
    """Make small changes to a list for as long as one helps."""
    parts = len(tally.case.parts)
    at = idle = 0
    while idle <= parts:  # what is left then was tried since the last change
        moves = _moves(tally.case, tally, at) if at < parts else _fills(tally.case, tally)
        idle = 0 if _take_best(tally, moves) else idle + 1
        at = (at + 1) % (parts + 1)


def _take_best(tally: Tally, moves: Iterator[Changes]) -> bool:
    found = min(((tally.after(move), at, move) for at, move in enumerate(moves)), default=None)
    if found is None or found[0] >= tally.price:
        return False
    tally.apply(found[2])
    return True


def _moves(case: Case, tally: Tally, part: int) -> Iterator[Changes]:
    """The whole part to one offer; or a pack less of an offer where the part stays covered."""
    held = {number: tally.bought[number] for number in case.by_part[part] if number in tally.bought}
    away = {number: -packs for number, packs in held.items()}
    for number in case.by_part[part]:
        alone = case.packs[number].alone
        if alone is not None and held.get(number) != alone:
            yield {**away, number: alone - held.get(number, 0)}
    yield from _shifts(case, part, held)
    for number, packs in held.items():
        if case.covers_part(part, {**held, number: packs - 1}):
            yield {number: -1}


def _shifts(case: Case, part: int, held: Packs) -> Iterator[Changes]:
    """A pack of one offer less, and what it held in packs of another."""
    for number, packs in held.items() if len(held) > 1 else ():
        size = case.packs[number].size
        for other in held:
            more = -(-size // case.packs[other].size)
            if other != number and case.covers_part(
                part, {**held, number: packs - 1, other: held[other] + more}
            ):
                yield {number: -1, other: more}


def _fills(case: Case, tally: Tally) -> Iterator[Changes]:
    """More packs of one offer, up to the next level of a group or a threshold of a supplier."""
    for group, count in enumerate(tally.counts):
        if count and (level := case.level(group, count) + 1) < len(case.groups[group].starts):
            prices = [
                (case.packs[number].prices[level] or BROKEN, number) for number in case.groups[group].packs
            ]
            yield {min(prices)[1]: case.groups[group].starts[level] - count}
    for supplier, terms in enumerate(case.terms):
        goods = tally.goods(supplier) if tally.used[supplier] else 0
        for due in {terms.least, terms.free or 0} if goods else ():
            if goods < due:
                yield from _filled(case, tally, supplier, due - goods)


def _filled(case: Case, tally: Tally, supplier: int, short: int) -> Iterator[Changes]:
    """So much more at one supplier, by each of its offers."""
    for number, pack in enumerate(case.packs):
        if pack.supplier == supplier:
            level = case.level(pack.group, tally.counts[pack.group]) if pack.group >= 0 else 0
            each = pack.own[-1][1] if pack.own else pack.prices[level]
            if each:
                yield {number: -(-short // each)}
