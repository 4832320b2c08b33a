"""The wants, offers and terms of one list as plain integers, and what a choice of packs really costs.

Money becomes *atoms*: the largest fraction of a shop minor unit of which every price and postage is a whole number.
Quantities become multiples of the greatest common divisor of a part's packs.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date
from fractions import Fraction
from math import gcd, lcm

from inventory.buying.terms import PackOffer, SupplierTerms, Want, buyable

MOST_KNOWN = 256
"""Counts of packs whose cost at an offer's own steps is remembered: the search asks for the same few again."""

Packs = dict[int, int]
"""Packs bought, by the number of the compiled offer."""


@dataclass(slots=True)
class Pack:
    """One offer, compiled.

    `prices[level]` in atoms by the level of its price group (one level without a group); `own` holds (from, price)
    where its own count sets the step or `most` limits it.  `tier` is the first date it arrives for (one beyond the last
    where it is too late for all: it only fills up), `alone` the packs that cover the part (None where it cannot in
    time, or has not so many).
    """

    offer: PackOffer
    part: int
    supplier: int
    group: int
    size: int
    tier: int
    prices: list[int | None]
    own: list[tuple[int, int]] = field(default_factory=list)
    alone: int | None = None
    most: int | None = None
    _ladder: list[tuple[int, int, int]] = field(default_factory=list)
    _own: list[int | None] = field(default_factory=list)
    _laddered: int = 0

    def ladder(self, full: int) -> list[tuple[int, int, int]]:
        """(packs, size together, cost) by size, for own steps, of the counts that no larger count undercuts.

        Up to what covers `full`, the need of the part or a rest of it, and each later step's first count; further where
        more was asked for before.
        """
        if full > self._laddered:
            self._laddered, self._ladder = full, []
            enough = -(-full // self.size)
            least: int | None = None
            tried = {*range(1, min(enough, self.most or enough) + 1), *(start for start, _ in self.own)}
            for packs in sorted(tried, reverse=True):
                cost = self.own_cost(packs)
                if cost is not None and (least is None or cost < least):
                    least = cost
                    self._ladder.append((packs, packs * self.size, cost))
            self._ladder.reverse()
        return self._ladder

    def own_cost(self, packs: int) -> int | None:
        """Atoms for so many packs at the offer's own steps; None below the first one. Small counts are remembered."""
        known = self._own
        if packs < len(known):
            return known[packs]
        while len(known) < min(packs + 1, MOST_KNOWN):
            known.append(self._own_cost(len(known)))
        return self._own_cost(packs)

    def _own_cost(self, packs: int) -> int | None:
        if self.most is not None and packs > self.most:
            return None
        for start, price in reversed(self.own):
            if start <= packs:
                return price * packs
        return None


@dataclass(slots=True)
class Group:
    """A price group of one supplier: `starts[level]` is the count in packs from which the level holds.

    `cheapest[level]` is the lowest price of any of its packs there, atoms; 0 where none can be bought.
    """

    supplier: int
    starts: list[int]
    packs: list[int]
    cheapest: list[int] = field(default_factory=list)


@dataclass(slots=True)
class Terms:
    """One supplier, compiled: postage `fee`, `free` postage from (None: never) and `least` order, in atoms."""

    supplier: SupplierTerms
    fee: int
    free: int | None
    least: int


@dataclass(slots=True)
class Problem:
    """One list to be made.  `needs[part][tier]` is what must have arrived by the tier's date, cumulative, in sizes."""

    parts: list[str]
    needs: list[list[int]]
    by_part: list[list[int]]
    packs: list[Pack]
    groups: list[Group]
    terms: list[Terms]
    atom: int
    of_supplier: list[list[int]] = field(default_factory=list)

    def price(self, bought: Mapping[int, int]) -> int | None:
        """What this choice costs in atoms, postage included; None where a step or minimum order is not reached."""
        goods = self.goods(bought)
        if goods is None:
            return None
        total = 0
        for number, amount in goods.items():
            terms = self.terms[number]
            if amount < terms.least:
                return None
            total += amount if terms.free is not None and amount >= terms.free else amount + terms.fee
        return total

    def goods(self, bought: Mapping[int, int]) -> dict[int, int] | None:
        """Atoms of goods by supplier; None where fewer packs are bought than the first step allows."""
        levels = self.levels(bought)
        goods: dict[int, int] = {}
        for number, count in bought.items():
            cost = self.cost(number, count, levels)
            if cost is None:
                return None
            supplier = self.packs[number].supplier
            goods[supplier] = goods.get(supplier, 0) + cost
        return goods

    def levels(self, bought: Mapping[int, int]) -> dict[int, int]:
        """The level each price group reaches."""
        counts: dict[int, int] = {}
        for number, count in bought.items():
            group = self.packs[number].group
            if group >= 0:
                counts[group] = counts.get(group, 0) + count
        return {group: self.level(group, count) for group, count in counts.items()}

    def level(self, group: int, count: int) -> int:
        """The highest level whose count is reached; the lowest when none is."""
        starts = self.groups[group].starts
        return max((at for at, start in enumerate(starts) if start <= count), default=0)

    def cost(self, number: int, count: int, levels: Mapping[int, int]) -> int | None:
        """Atoms for `count` packs of one offer at the levels given; None where they cannot be bought."""
        pack = self.packs[number]
        if pack.own:
            return pack.own_cost(count)
        price = pack.prices[levels.get(pack.group, 0)]
        return None if price is None or count > (pack.most or count) else price * count

    def late(self, pack: Pack) -> bool:
        """Whether an offer comes too late for everything its part is wanted for."""
        return pack.tier == len(self.needs[pack.part])

    def in_time(self, part: int) -> list[Pack]:
        """The offers that serve some need of a part."""
        return [pack for pack in map(self.packs.__getitem__, self.by_part[part]) if not self.late(pack)]

    def covers_part(self, part: int, bought: Mapping[int, int]) -> bool:
        """Whether every need of one part is met."""
        for tier, need in enumerate(self.needs[part]):
            if (
                sum(
                    bought.get(n, 0) * self.packs[n].size
                    for n in self.by_part[part]
                    if self.packs[n].tier <= tier
                )
                < need
            ):
                return False
        return True


def compile_problem(
    wants: Sequence[Want],
    offers: Sequence[PackOffer],
    suppliers: Mapping[str, SupplierTerms],
    rates: Mapping[str, Fraction],
    today: date,
) -> Problem:
    """Wants that can all be met by these offers in time, as integers; a part's wants are one need with dates.

    Offers of these parts that come too late for any of them are kept where they may fill up a group or an order.
    """
    names = list(dict.fromkeys(want.part for want in wants if want.quantity > 0))
    useful = buyable(offer for offer in offers if offer.part in set(names))
    sellers = [suppliers[name] for name in dict.fromkeys(offer.supplier for offer in useful)]
    atom = lcm(*(Fraction(rates[one.currency]).denominator for one in sellers)) if sellers else 1
    scale = {one.name: int(Fraction(rates[one.currency]) * atom) for one in sellers}
    problem = Problem(
        names, [], [[] for _ in names], [], [], [_terms(one, scale[one.name]) for one in sellers], atom
    )
    places = {one.name: number for number, one in enumerate(sellers)}
    levels = _groups(problem, useful, places)
    for part, name in enumerate(names):
        mine = [offer for offer in useful if offer.part == name]
        _add_part(
            problem, part, [want for want in wants if want.part == name], mine, places, scale, levels, today
        )
    for group in problem.groups:
        columns = zip(*(problem.packs[number].prices for number in group.packs), strict=True)
        group.cheapest = [
            min((price for price in column if price is not None), default=0) for column in columns
        ]
    problem.of_supplier = [
        [g for g, group in enumerate(problem.groups) if group.supplier == s] for s in range(len(sellers))
    ]
    return problem


def _terms(one: SupplierTerms, scale: int) -> Terms:
    least = (one.minimum_order or 0) * scale
    free = None if one.free_from is None else one.free_from * scale
    fee = 0 if free is not None and free <= least else one.postage * scale
    return Terms(one, fee, free if fee else None, least)


def _groups(
    problem: Problem, offers: Sequence[PackOffer], places: Mapping[str, int]
) -> dict[tuple[str, str], int]:
    """Number the price groups in which the sum over several offers can matter."""
    members: dict[tuple[str, str], list[PackOffer]] = {}
    for offer in offers:
        if offer.price_group is not None:
            members.setdefault((offer.supplier, offer.price_group), []).append(offer)
    numbers: dict[tuple[str, str], int] = {}
    for key, mine in members.items():
        starts = sorted({1, *(step.from_packs for offer in mine for step in offer.steps)})
        if len(mine) > 1 and len(starts) > 1:
            numbers[key] = len(problem.groups)
            problem.groups.append(Group(places[key[0]], starts, []))
    return numbers


def _add_part(
    problem: Problem,
    part: int,
    wants: Sequence[Want],
    offers: Sequence[PackOffer],
    places: Mapping[str, int],
    scale: Mapping[str, int],
    levels: Mapping[tuple[str, str], int],
    today: date,
) -> None:
    days = sorted({want.needed_by or date.max for want in wants})
    unit = gcd(*(offer.pack for offer in offers))
    due = [sum(want.quantity for want in wants if (want.needed_by or date.max) <= day) for day in days]
    problem.needs.append([-(-need // unit) for need in due])
    for offer in offers:
        supplier = places[offer.supplier]
        arrives = problem.terms[supplier].supplier.arrives(today) or date.max
        tier = next((at for at, day in enumerate(days) if arrives <= day), len(days))
        if tier < len(days) or _may_fill(
            problem.terms[supplier], (offer.supplier, offer.price_group or "") in levels
        ):
            _add_pack(problem, part, offer, tier, offer.pack // unit, scale[offer.supplier], levels)


def _may_fill(terms: Terms, grouped: bool) -> bool:
    """Whether packs nobody needs can gain anything there: a price step of others, postage or a minimum order."""
    return grouped or terms.free is not None or terms.least > 0


def _add_pack(
    problem: Problem,
    part: int,
    offer: PackOffer,
    tier: int,
    size: int,
    scale: int,
    levels: Mapping[tuple[str, str], int],
) -> None:
    number = len(problem.packs)
    group = levels.get((offer.supplier, offer.price_group or ""), -1) if offer.price_group is not None else -1
    supplier = next(at for at, terms in enumerate(problem.terms) if terms.supplier.name == offer.supplier)
    starts = problem.groups[group].starts if group >= 0 else [1]
    pack = Pack(
        offer, part, supplier, group, size, tier, [_times(offer.price_at(start), scale) for start in starts]
    )
    pack.most = offer.at_most
    if group < 0 and (len(offer.steps) > 1 or offer.steps[0].from_packs > 1 or pack.most is not None):
        pack.own = [(step.from_packs, step.price * scale) for step in offer.steps]
    if tier == 0:
        alone = -(-problem.needs[part][-1] // size)
        pack.alone = alone if pack.most is None or alone <= pack.most else None
    problem.packs.append(pack)
    problem.by_part[part].append(number)
    if group >= 0:
        problem.groups[group].packs.append(number)


def _times(price: int | None, scale: int) -> int | None:
    return None if price is None else price * scale
