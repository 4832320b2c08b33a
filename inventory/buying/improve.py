"""Better lists near a list: parts moved, steps and thresholds filled up, suppliers left out, packs too many put back."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from inventory.buying.bound import OFF, PAY, Bounds, Corner
from inventory.buying.case import Case, Packs
from inventory.buying.tally import BROKEN, Tally

Changes = dict[int, int]
"""Packs more (or fewer, below 0), by offer."""


def improved(bounds: Bounds, bought: Packs) -> tuple[int | None, Packs]:
    """A list no dearer than the one given, and its price in atoms; None for the price while it breaks a term."""
    tally = Tally(bounds.case, bought)
    while True:
        _descend(bounds.case, tally)
        changes = _largest(bounds, tally)
        if changes is None:
            return (tally.price if tally.price < BROKEN else None), tally.bought
        tally.apply(changes)


def _descend(case: Case, tally: Tally) -> None:
    """Small changes for as long as one helps."""
    busy = True
    while busy:
        busy = False
        for part in range(len(case.parts)):
            busy |= _take_best(tally, _moves(case, tally, part))
        busy |= _take_best(tally, _fills(case, tally))


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
    for number, packs in held.items():
        if case.covers_part(part, {**held, number: packs - 1}):
            yield {number: -1}


def _fills(case: Case, tally: Tally) -> Iterator[Changes]:
    """More packs of one offer, up to the next level of its group or a threshold of its supplier."""
    goods = [tally.goods(supplier) for supplier in range(len(case.terms))]
    for number, pack in enumerate(case.packs):
        if tally.used[pack.supplier]:
            terms = case.terms[pack.supplier]
            level = case.level(pack.group, tally.counts[pack.group]) if pack.group >= 0 else 0
            each = pack.prices[level] if not pack.own else pack.own_cost(tally.bought.get(number, 1))
            for due in (terms.least, terms.free or 0):
                if each and goods[pack.supplier] < due:
                    yield {number: -(-(due - goods[pack.supplier]) // each)}
            if pack.group >= 0 and level + 1 < len(case.groups[pack.group].starts):
                yield {number: case.groups[pack.group].starts[level + 1] - tally.counts[pack.group]}


def _largest(bounds: Bounds, tally: Tally) -> Changes | None:
    """The best of the large changes, each with the small ones after it; None when none helps."""
    best: tuple[int, Packs] | None = None
    for packs in _rebuilt(bounds, tally):
        other = Tally(bounds.case, packs)
        if other.price < tally.price + tally.price // 33:
            _descend(bounds.case, other)
        if other.price < (tally.price if best is None else best[0]):
            best = (other.price, other.bought)
    return None if best is None else difference(tally.bought, best[1])


def _rebuilt(bounds: Bounds, tally: Tally) -> Iterator[Packs]:
    """The cheapest cover at the list's own levels; with one supplier left out or let in; with one group a level up."""
    case = bounds.case
    levels = [case.level(group, count) for group, count in enumerate(tally.counts)]
    used = [PAY if packs else OFF for packs in tally.used]
    yield from _at(bounds, used, levels)
    for supplier, mode in enumerate(used):
        raised = list(levels)
        for group in case.of_supplier[supplier]:
            raised[group] = len(case.groups[group].starts) - 1
        if mode == OFF:
            yield from _at(bounds, _put(used, supplier, PAY), raised)
        elif used.count(PAY) > 1:
            yield from _at(bounds, _put(used, supplier, OFF), levels)
            yield from _at(bounds, used, raised)
    for group, level in enumerate(levels):
        if used[case.groups[group].supplier] == PAY:
            if level + 1 < len(case.groups[group].starts):
                yield from _at(bounds, used, _put(levels, group, level + 1))
            if level:
                yield from _at(bounds, used, _put(levels, group, level - 1))


def _put(values: list[int], at: int, value: int) -> list[int]:
    return [*values[:at], value, *values[at + 1 :]]


def _at(bounds: Bounds, modes: list[int], levels: list[int]) -> Iterator[Packs]:
    at = tuple(levels)
    found = bounds.relax(Corner(tuple(modes), at, at, [0] * len(modes), [0] * len(at)))
    if found is not None:
        yield found.bought


def difference(old: Mapping[int, int], new: Mapping[int, int]) -> Changes:
    """The changes that make one list of the other."""
    changes = {number: new.get(number, 0) - old.get(number, 0) for number in {*old, *new}}
    return {number: change for number, change in changes.items() if change}
