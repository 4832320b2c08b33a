"""What a part pays at least, to the atom: the lesser of its price and the cheapest mix, of every count of packs."""

from __future__ import annotations

import random
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import timedelta
from itertools import product
from math import lcm

from inventory.buying.bounds.entries import PartEntries, SellerEntry, lines
from inventory.buying.problem import Pack, Problem, compile_problem
from inventory.buying.search.leaf import ONE
from inventory.buying.terms import PackOffer, PriceBreak, SupplierTerms, Want

from .basket_cases import RATES, TODAY

Seller = tuple[int, int]
"""A supplier's offers in no group, (supplier, -1), or one offer in a group, (supplier, number of the offer)."""


@dataclass(frozen=True)
class Mixes:
    """A part, by seller the cost of covering it (of an offer in a group: the packs), and what every cover takes."""

    line: PartEntries
    whole: dict[Seller, int]
    covers: list[dict[Seller, int]]

    def least(self, price: int, own: dict[Seller, int], off: Sequence[bool]) -> int:
        """From the charges as the module's text defines them, in fractions that come out whole."""
        open_ = (taken for taken in self.covers if not any(off[supplier] for supplier, _ in taken))
        sums = (sum(self._charge(who, much, price, own) for who, much in taken.items()) for taken in open_)
        return min([price, *sums])

    def _charge(self, who: Seller, much: int, price: int, own: dict[Seller, int]) -> int:
        earned, whole = max(price, own.get(who, 0)), self.whole[who]
        if who[1] < 0 and earned >= whole * ONE:
            return much * ONE + earned - whole * ONE
        assert earned % whole == 0
        return earned // whole * much


def tried(pack: Pack, full: int) -> Iterator[tuple[int, int]]:
    """(packs, cost; of an offer in a group: packs) of every count that may be of use, one more included."""
    enough = max([-(-full // pack.size), *(start for start, _ in pack.own)]) + 1
    for many in range(enough + 1 if pack.most is None else min(enough, pack.most) + 1):
        if pack.group >= 0 or not many:
            yield many, many
        elif (cost := pack.own_cost(many) if pack.own else many * (pack.prices[0] or 0)) is not None:
            yield many, cost


def mixes(problem: Problem, line: PartEntries) -> Mixes:
    packs, needs = problem.in_time(0), problem.needs[0]
    full = needs[-1]
    sellers = [(one.supplier, at if one.group >= 0 else -1) for at, one in enumerate(packs)]
    covers: list[dict[Seller, int]] = []
    whole: dict[Seller, list[int]] = {}
    all_of: dict[Seller, int] = {}
    for who, pack in zip(sellers, packs, strict=True):
        all_of[who] = all_of.get(who, 0) + max(much for _, much in tried(pack, full))
    for counts in product(*(list(tried(pack, full)) for pack in packs)):
        taken: dict[Seller, int] = {}
        held = [0] * len(needs)
        for who, pack, (many, much) in zip(sellers, packs, counts, strict=True):
            if many:
                taken[who] = taken.get(who, 0) + much
                held = [now + many * pack.size * (pack.tier <= tier) for tier, now in enumerate(held)]
        if all(now >= need for now, need in zip(held, needs, strict=True)):
            covers.append(taken)
        if len(taken) == 1 and held[-1] >= full:
            ((who, much),) = taken.items()
            whole.setdefault(who, []).append(much)
    for who, pack in zip(sellers, packs, strict=True):
        if who[1] >= 0:
            whole[who] = [-(-full // pack.size)]
    return Mixes(line, {who: min(whole.get(who, [much])) for who, much in all_of.items()}, covers)


def drawn(draw: random.Random) -> Problem:
    """A part wanted by two days, two or three sellers: packs with and without steps, ends, and a price group."""
    sellers = {
        name: SupplierTerms(name, draw.choice((2, 2, 9)), "EUR") for name in "abc"[: draw.choice((2, 3))]
    }
    offers = [PackOffer("q", "a", "q", 1000, (PriceBreak(1, 1),))]
    sizes = draw.sample((1, 2, 3, 4, 5), len(sellers) + 1)
    for name, size in zip(sellers, sizes, strict=False):
        kind = draw.choice(("plain", "group", "group", "steps", "few", "two", "two"))
        offers += _offer(draw, f"{name}1", name, kind, size)
        if kind == "two":
            offers += _offer(draw, f"{name}2", name, kind, sizes[-1])
    day = TODAY + timedelta(days=5)
    wants = [Want("p", 1000 * draw.choice((4, 5, 7))), Want("q", 1000)]
    if any(sellers[one.supplier].lead_days == 2 for one in offers[1:]) and draw.random() < 0.5:
        wants.append(Want("p", 1000, day))
    return compile_problem(wants, offers, sellers, RATES, TODAY)


def _offer(draw: random.Random, key: str, seller: str, kind: str, size: int) -> list[PackOffer]:
    price = draw.choice((0, *range(1, 10)))
    one = PackOffer(key, seller, "p", 1000 * size, (PriceBreak(1, price),))
    if kind == "steps":
        steps = PriceBreak(draw.choice((1, 1, 1, 2)), price), PriceBreak(3, draw.randint(1, price))
        return [replace(one, steps=steps)]
    if kind in ("few", "two"):
        return [replace(one, at_most=draw.choice((1, 1, 2, None, None)))]
    if kind == "group":
        steps = PriceBreak(1, price), PriceBreak(3, draw.randint(1, price))
        mine = replace(one, steps=steps, price_group="g", at_most=draw.choice((None, None, 1)))
        return [mine, replace(mine, key=f"{key}q", part="q")]
    return [one]


def test_what_a_part_pays_is_the_cheapest_of_all_mixes_to_the_atom() -> None:
    """At prices that every rate divides; with dearer prices of sellers' own, and sellers that are off."""
    draw, mixed = random.Random(1), 0
    for problem in (drawn(draw) for _ in range(30)):
        line = lines(problem, [0])[0]
        found = mixes(problem, line)
        unit = lcm(*(one for one in found.whole.values() if one))
        top = max([1, *(much for (_, number), much in found.whole.items() if number < 0)])
        for one in line.entries:
            assert not one.bundle or one.whole == found.whole[one.supplier, -1]
        places = [(one.supplier, -1) for one in line.entries if one.bundle]
        for _ in range(8):
            price, *owns = (
                unit * draw.randrange(0, 1 + many * top * ONE // unit)
                for many in (draw.choice((1, 1, 1, 2)), *(2 for _ in places))
            )
            prices = [price, 0, *(own if draw.random() < 0.15 else 0 for own in owns)]
            own = dict(zip(places, prices[2:], strict=True))
            off = [draw.random() < 0.15 for _ in problem.terms]
            least = found.least(price, own, off)
            assert line.least(0, prices, off) == least
            assert line.known(0, prices, off)[0] == least
            mixed += least < price
    assert mixed > 40


def test_a_bundle_costs_its_cheapest_cover() -> None:
    """Three packs of one seller, some with an end: tried count by count."""
    draw = random.Random(2)
    for _ in range(60):
        offers = [
            PackOffer(f"{at}", "a", "p", 1000 * draw.randint(2, 6), (PriceBreak(1, draw.randint(0, 5)),))
            for at in range(3)
        ]
        offers = [replace(one, at_most=draw.choice((None, 1, 2))) for one in offers]
        seller = {"a": SupplierTerms("a", 3, "EUR")}
        problem = compile_problem([Want("p", 1000 * draw.randint(6, 15))], offers, seller, RATES, TODAY)
        line = lines(problem, [0])[0]
        (entry,) = line.entries
        assert entry.whole == mixes(problem, line).whole[0, -1]


def test_a_bundle_of_three_sizes() -> None:
    """Ten: in one pack for 10; seven for 7 and the only three for 2 are cheaper."""
    found = ((10, 10, None), (7, 7, None), (3, 2, 1))
    offers = [
        PackOffer(f"{at}", "a", "p", 1000 * size, (PriceBreak(1, price),), at_most=most)
        for at, (size, price, most) in enumerate(found)
    ]
    seller = {"a": SupplierTerms("a", 3, "EUR")}
    line = lines(compile_problem([Want("p", 10_000)], offers, seller, RATES, TODAY), [0])[0]
    assert [entry.whole for entry in line.entries] == [9]


def test_who_gives_a_part_away_earns_all_of_its_price() -> None:
    entry = SellerEntry(0, 0, True, 0, [], (0, 1))
    assert [entry.charge(price) for price in (0, 7)] == [(0, ONE), (7, ONE)]
    assert entry.share(0, 0) == 1


def test_a_pack_given_away_fills_up_what_another_seller_leaves() -> None:
    """Five: a four of the first seller, at 20 of the 21 that all of them cost there, and one that the second gives."""
    sellers = {name: SupplierTerms(name, 3, "EUR") for name in "ab"}
    found = (("a", 4, 20, None), ("a", 1, 1, 1), ("b", 1, 0, 1), ("b", 5, 20, None))
    offers = [
        PackOffer(f"{at}", name, "p", 1000 * size, (PriceBreak(1, price),), at_most=most)
        for at, (name, size, price, most) in enumerate(found)
    ]
    line = lines(compile_problem([Want("p", 5000)], offers, sellers, RATES, TODAY), [0])[0]
    assert [entry.whole for entry in line.entries] == [21, 20]
    assert line.least(0, [42_000, 0, 0], [False, False]) == 40_000
