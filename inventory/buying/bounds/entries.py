"""Each part's sellers as the bound by supplier sees them: what they earn for a part, and for a share of it in a mix.

A part has a price v, in atoms/65536, which it pays to whoever covers all of it; a *bundle*, the offers of one supplier
that are in no price group, may have a dearer price of its own where sellers may be mixed.  For less than all of it:

* a bundle of which the cheapest cover of the part costs A charges for packs of cost c the amount c + (v - A) where
  v >= A (a toll, once), c v / A where v < A;
* an offer in a price group, of which n packs cover the part, charges v / n for each pack.

What the part pays at least is the lesser of v and the cheapest mix of several sellers at these charges: an exact
knapsack over whole packs, which `PartEntries.least` solves.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field

from inventory.buying.problem import Pack, Problem

Ladder = list[tuple[int, int]]
"""(size together, cost) for growing counts of packs of one offer."""

Way = tuple[tuple[int, int], ...]
"""A mix of sellers: (entry, atoms of cost - of a bundle - or packs - of an offer in a group)."""

Chain = tuple[()] | tuple[int, int, "Chain"]

Stands = dict[int, tuple[int, Chain]]


@dataclass(slots=True)
class SellerEntry:
    """One seller of a part: `whole` is the cost A of a bundle (0 where it is given away), or the packs n of an offer in
    a price group.
    """

    supplier: int
    tier: int
    bundle: bool
    whole: int
    ladders: list[Ladder]
    best: tuple[int, int]
    place: int = -1

    def charge(self, price: int) -> tuple[int, int]:
        """(toll, atoms/65536 per atom or per pack) where this seller earns so much for the whole part."""
        if self.bundle and price >= self.whole << 16:
            return price - (self.whole << 16), 1 << 16
        return 0, price // self.whole

    def share(self, price: int, amount: int) -> float:
        """How much of the price's rise the charge for so much follows."""
        return 1.0 if self.bundle and price >= self.whole << 16 else min(1.0, amount / self.whole)


@dataclass(slots=True)
class PartEntries:
    """One part: what must have arrived by each tier, its sellers, and the mixes found so far."""

    needs: list[int]
    entries: list[SellerEntry]
    ways: list[Way] = field(default_factory=list)

    def earns(self, entry: SellerEntry, price: int, prices: Sequence[int]) -> int:
        """What a seller earns for the whole part: the part's price, or the seller's own where that is more."""
        own = prices[entry.place] if entry.place >= 0 else 0
        return own if own > price else price

    def known(self, part: int, prices: Sequence[int], off: Sequence[bool]) -> tuple[int, Way]:
        """The least of the price and the mixes known, without suppliers that are off; no way where it is the price."""
        price = prices[part]
        least: int = price
        found: Way = ()
        for way in self.ways:
            total = 0
            for at, amount in way:
                entry = self.entries[at]
                if off[entry.supplier]:
                    break
                toll, rate = entry.charge(self.earns(entry, price, prices))
                total += toll + rate * amount
            else:
                if total < least:
                    least, found = total, way
        return least, found

    def least(self, part: int, prices: Sequence[int], off: Sequence[bool]) -> int:
        """What the part pays at least; a mix not known yet is remembered."""
        price, limit = prices[part], self.known(part, prices, off)[0]
        sellers = [
            (at, entry, *entry.charge(self.earns(entry, price, prices)))
            for at, entry in enumerate(self.entries)
            if not off[entry.supplier]
        ]
        lowest = min(
            ((entry.best[0] * rate, entry.best[1]) for _, entry, _, rate in sellers), key=_ratio, default=None
        )
        tolls = sum(sorted([toll for _, _, toll, _ in sellers])[:2])
        if lowest is None or (limit - tolls) * lowest[1] <= self.needs[-1] * lowest[0]:
            return limit
        best = self._mixes(sellers, limit, lowest)
        if best is None:
            return limit
        way = tuple(sorted(_pieces(best[1])))
        if len(way) > 1:  # never one known already: it would be the limit
            self.ways.append(way)
        return best[0]

    def _mixes(
        self, sellers: Sequence[tuple[int, SellerEntry, int, int]], below: int, lowest: tuple[int, int]
    ) -> tuple[int, Chain] | None:
        """The cheapest mix below a limit, if any, tier by tier and seller by seller."""
        full = self.needs[-1]
        best: Stands = {0: (0, ())}
        for tier, need in enumerate(self.needs):
            for at, entry, toll, rate in sellers:
                if entry.tier == tier:
                    limit = best[full][0] if full in best else below
                    opened: Stands = {
                        held: (cost + toll, (at, 0, chain))
                        for held, (cost, chain) in best.items()
                        if (limit - cost - toll) * lowest[1] > (full - held) * lowest[0]
                    }
                    for ladder in entry.ladders if opened else ():
                        limit = _climb(opened, ladder, rate, limit, full, lowest)
                    for held, found in opened.items():
                        if held not in best or found[0] < best[held][0]:
                            best[held] = found
            best = {held: found for held, found in best.items() if held >= need}
        return best.get(full)


def _climb(opened: Stands, ladder: Ladder, rate: int, limit: int, full: int, lowest: tuple[int, int]) -> int:
    """Add any count of one offer's packs to every stand, in place; the limit a mix must stay below then."""
    for held, (cost, chain) in list(opened.items()):
        if not chain:
            continue
        at, amount, rest = chain
        for more, own in ladder:
            now = cost + own * rate
            if now >= limit:
                break
            place = held + more
            if place >= full:
                opened[full] = (now, (at, amount + own, rest))
                limit = now
                break
            if (limit - now) * lowest[1] > (full - place) * lowest[0] and (
                place not in opened or now < opened[place][0]
            ):
                opened[place] = (now, (at, amount + own, rest))
    return limit


def lines(problem: Problem, mixed: Sequence[int]) -> list[PartEntries]:
    """Every part with its sellers."""
    found = [
        PartEntries(problem.needs[part], list(_entries(problem, part))) for part in range(len(problem.parts))
    ]
    place = len(found)
    for part in mixed:
        for entry in found[part].entries:
            if entry.bundle:
                entry.place = place
                place += 1
    return found


def _entries(problem: Problem, part: int) -> Iterator[SellerEntry]:
    full = problem.needs[part][-1]
    bundles: dict[int, list[Pack]] = {}
    for pack in problem.in_time(part):
        if pack.group < 0:
            bundles.setdefault(pack.supplier, []).append(pack)
        else:
            count = -(-full // pack.size)
            ladder = [(packs * pack.size, packs) for packs in range(1, min(count, pack.most or count) + 1)]
            yield SellerEntry(pack.supplier, pack.tier, False, count, [ladder], (1, pack.size))
    for supplier, packs in bundles.items():
        ladders = [_ladder(pack, full) for pack in packs]
        best = min(((cost, min(size, full)) for ladder in ladders for size, cost in ladder), key=_ratio)
        yield SellerEntry(supplier, packs[0].tier, True, _whole(ladders, full), ladders, best)


def _ladder(pack: Pack, full: int) -> Ladder:
    if pack.own:
        return [(size, cost) for _, size, cost in pack.ladder(full)]
    price = pack.prices[0] or 0
    return [(packs * pack.size, price * packs) for packs in range(1, -(-full // pack.size) + 1)]


def _whole(ladders: Sequence[Ladder], full: int) -> int:
    """The cheapest cover of a whole part with these offers, atoms; all they have where that is not enough."""
    limit = sum(max(cost for _, cost in ladder) for ladder in ladders)
    nothing: Chain = 0, 0, ()
    to_the_end = 0, 1  # the rest may cost nothing
    opened: Stands = {0: (0, nothing)}
    for ladder in ladders:
        limit = _climb(opened, ladder, 1, limit, full, to_the_end)
    return limit


def _ratio(one: tuple[int, int]) -> int:
    return (one[0] << 64) // one[1]


def _pieces(chain: Chain) -> Iterator[tuple[int, int]]:
    while chain:
        at, amount, chain = chain
        yield at, amount
