"""The least that a list for certain parts can cost, found without making it: what a choice under a budget is cut by.

A floor holds for every list that brings these parts, whatever else it brings: each pack at the lowest price of its
offer's steps, whole packs of each part, and of the suppliers used some reach free postage and the others pay it.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from fractions import Fraction
from math import gcd, inf, lcm

from inventory.buying.terms import PackOffer, SupplierTerms, Want

MOST_SELLERS = 6
"""Suppliers up to which every set of them is looked at; with more, postage is left out of the floor."""
MOST_STEPS = 2000
"""Smallest pack steps of one part up to which whole packs are counted; beyond that its price by weight is taken."""


class Floors:
    """Floors in atoms (`atom` of them are one shop minor unit), for needs in thousandths by part."""

    def __init__(
        self,
        wants: Iterable[Want],
        offers: Iterable[PackOffer],
        suppliers: Mapping[str, SupplierTerms],
        rates: Mapping[str, Fraction],
    ) -> None:
        parts = {want.part for want in wants}
        offers = [offer for offer in offers if offer.part in parts]
        sellers = [suppliers[name] for name in dict.fromkeys(offer.supplier for offer in offers)]
        self.atom = lcm(*(Fraction(rates[one.currency]).denominator for one in sellers)) if sellers else 1
        scale = {one.name: int(Fraction(rates[one.currency]) * self.atom) for one in sellers}
        self._terms = [
            (
                one.postage * scale[one.name],
                None if one.free_from is None else one.free_from * scale[one.name],
                (one.minimum_order or 0) * scale[one.name],
            )
            for one in sellers
        ]
        at = {one.name: number for number, one in enumerate(sellers)}
        self._packs: dict[str, list[tuple[int, int, int]]] = {}
        for offer in offers:
            low = min(step.price for step in offer.steps) * scale[offer.supplier]
            self._packs.setdefault(offer.part, []).append((offer.pack, low, 1 << at[offer.supplier]))
        everyone = (1 << len(sellers)) - 1
        self._sets = range(1, everyone + 1) if len(sellers) <= MOST_SELLERS else range(everyone, everyone + 1)
        self._ways = [
            self._postage(used) if len(sellers) <= MOST_SELLERS else [(0, 0)] for used in self._sets
        ]
        self._parts: dict[tuple[str, int], list[float]] = {}
        self._tables: dict[tuple[str, int], list[float]] = {}
        self._sums: dict[frozenset[tuple[str, int]], float] = {}

    def cost(self, needs: Mapping[str, int]) -> float:
        """Atoms that any list for these needs costs at least; whole, or infinite where nobody sells a part."""
        key = frozenset((part, need) for part, need in needs.items() if need > 0)
        if key not in self._sums:
            self._sums[key] = self._cost(key) if key else 0
        return self._sums[key]

    def by_weight(self, part: str, quantity: int) -> Fraction:
        """Atoms that a quantity adds to any list at least: at the lowest price of a thousandth, parts of packs too."""
        return min(Fraction(low * quantity, pack) for pack, low, _ in self._packs[part])

    def _cost(self, needs: Iterable[tuple[str, int]]) -> float:
        """Over every set of suppliers: the parts' sum from these alone, and the least postage with it."""
        columns = zip(*(self._part(part, need) for part, need in needs), strict=True)
        goods = map(sum, columns)
        return min(
            (
                min(max(amount, reached) + paid for paid, reached in ways)
                for amount, ways in zip(goods, self._ways, strict=True)
                if amount < inf
            ),
            default=inf,
        )

    def _postage(self, used: int) -> list[tuple[int, int]]:
        """Ways to have a set of suppliers send: (postage paid, goods that must be reached in all for it).

        Whoever of them sends free of charge: their thresholds and the others' minimum orders are reached together.
        """
        sums = {(0, 0)}
        for number, (fee, free, least) in enumerate(self._terms):
            if used >> number & 1:
                ways = [(fee, least)] + ([(0, max(free, least))] if free is not None else [])
                sums = {
                    (paid + postage, reached + start) for paid, reached in sums for postage, start in ways
                }
        return sorted(sums)

    def _part(self, part: str, need: int) -> list[float]:
        """Atoms for a part alone from each set of suppliers."""
        key = part, need
        if key not in self._parts:
            self._parts[key] = [self._goods(part, need, used) for used in self._sets]
        return self._parts[key]

    def _goods(self, part: str, need: int, used: int) -> float:
        packs = [(pack, low) for pack, low, one in self._packs.get(part, ()) if one & used]
        if not packs:
            return inf
        unit = gcd(*(pack for pack, _ in packs))
        steps = -(-need // unit)
        if steps > MOST_STEPS:
            weight = min(Fraction(low * need, pack) for pack, low in packs)
            return -(-weight.numerator // weight.denominator)
        table = self._tables.setdefault((part, used), [0])
        sizes = [(pack // unit, low) for pack, low in packs]
        for count in range(len(table), steps + 1):
            table.append(min(low + table[max(count - size, 0)] for size, low in sizes))
        return table[steps]


def together(wants: Iterable[tuple[str, int]]) -> dict[str, int]:
    """Quantities by part."""
    sums: dict[str, int] = {}
    for part, quantity in wants:
        sums[part] = sums.get(part, 0) + quantity
    return sums
