"""Offers of which a supplier has only so many packs: what can be had, and where a search starts."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from datetime import date

from inventory.buying.basket import Unfilled
from inventory.buying.problem import Problem
from inventory.buying.terms import PackOffer, SupplierTerms, Want


def within_reach(
    wants: Sequence[Want], offers: Sequence[PackOffer], suppliers: Mapping[str, SupplierTerms], today: date
) -> tuple[list[Want], list[Unfilled]]:
    """The wants as far as suppliers have packs left, and what is beyond; orders are served before stock.

    What arrives by a day may serve every later day, so a want gets the least that is left over on any day from its own
    on.  Wants come back in their order, cut to what can be had.
    """
    supply: dict[str, list[tuple[date, int | None]]] = {}
    for offer in offers:
        day = suppliers[offer.supplier].arrives(today) or date.max
        packs = offer.at_most
        supply.setdefault(offer.part, []).append((day, None if packs is None else packs * offer.pack))
    scarce = {part for part, sent in supply.items() if any(size is not None for _, size in sent)}
    given: dict[int, int] = {}
    order = sorted(range(len(wants)), key=lambda n: (not wants[n].orders, _day(wants[n])))
    for n in order:
        given[n] = wants[n].quantity
        if wants[n].part in scarce:
            given[n] = min(given[n], _room(wants, n, given, supply[wants[n].part]))
    good = [replace(one, quantity=given[n]) for n, one in enumerate(wants) if given[n]]
    beyond = [
        Unfilled(
            replace(one, quantity=one.quantity - given[n]),
            "no more can be had" if one.needed_by is None else "no more can be had in time",
            min((day for day, _ in supply[one.part] if _day(one) < day < date.max), default=None),
        )
        for n, one in enumerate(wants)
        if given[n] < one.quantity
    ]
    return good, beyond


def _day(want: Want) -> date:
    return want.needed_by or date.max


def _room(
    wants: Sequence[Want], n: int, given: Mapping[int, int], supply: Sequence[tuple[date, int | None]]
) -> int:
    """What is left for a want after those served before it, in thousandths of the part's unit."""
    mine = _day(wants[n])
    before = [(_day(wants[o]), given[o]) for o in given if o != n and wants[o].part == wants[n].part]
    rooms = [wants[n].quantity]
    for last in {mine, *(day for day, _ in before if day > mine)}:
        sizes = [size for day, size in supply if day <= last]
        taken = [amount for day, amount in before if day <= last]
        if None not in sizes:
            rooms.append(sum(size or 0 for size in sizes) - sum(taken))
    return max(0, min(rooms))


def dearest(problem: Problem) -> int:
    """More atoms than any list without needless packs costs: where a search may start that has no list yet."""
    total = 1
    for terms in problem.terms:
        total += terms.fee + 2 * terms.least + (terms.free or 0)
    for pack in problem.packs:
        starts = [start for start, _ in pack.own]
        starts += problem.groups[pack.group].starts if pack.group >= 0 else []
        prices = [each for _, each in pack.own] + [each for each in pack.prices if each is not None]
        packs = -(-problem.needs[pack.part][-1] // pack.size) + max(starts, default=0) + 1
        total += max(prices, default=0) * (packs if pack.most is None else min(packs, pack.most))
    return 2 * total
