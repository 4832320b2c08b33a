"""What an order costs its customer, held against an enumeration of all lists over the offers as the CSV has them."""

from __future__ import annotations

import csv
import random
from collections.abc import Iterator
from decimal import Decimal
from itertools import product
from math import ceil
from typing import Any

import pytest

from .conftest import SAMPLE, Kitdrawer

pytestmark = pytest.mark.usefixtures("store")

USD = Decimal("0.92")
Bundle = tuple[tuple[int, int], ...]
"""Offers by their place, each with so many packs."""


def rows(name: str) -> list[dict[str, str]]:
    with (SAMPLE / f"{name}.csv").open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


class Market:
    """The offers of the sample in plain numbers."""

    def __init__(self) -> None:
        self.suppliers = {row["supplier"]: row for row in rows("suppliers")}
        self.offers: dict[tuple[str, str, str, str], dict[str, Any]] = {}
        for row in rows("offers"):
            key = (row["supplier"], row["part"], row["pack"], row["supplier code"])
            one = self.offers.setdefault(key, {"steps": {}, "group": ""})
            one["steps"][int(row["from packs"] or 1)] = Decimal(row["price"])
            one["group"] = one["group"] or row["price group"]
        self.keys = list(self.offers)

    def of(self, part: str, days: int) -> list[int]:
        """Offers of a part that arrive in so many days."""
        return [
            at
            for at, key in enumerate(self.keys)
            if key[1] == part and int(self.suppliers[key[0]]["lead days"]) <= days
        ]

    def pack(self, at: int, nets: dict[str, Decimal]) -> Decimal:
        """How much of its part one pack of an offer holds, in the part's unit."""
        number, _, unit = self.keys[at][2].partition(" ")
        whole = unit.startswith(("bottle", "tube", "tin", "can", "pack", "jar"))
        return Decimal(number) * (nets[self.keys[at][1]] if whole else 1)

    def cost(self, list_: dict[int, int]) -> Decimal | None:
        """Goods and postage in euro; None under a minimum order or below a first step."""
        total = Decimal(0)
        groups: dict[tuple[str, str], int] = {}
        for at, packs in list_.items():
            if group := self.offers[self.keys[at]]["group"]:
                groups[self.keys[at][0], group] = groups.get((self.keys[at][0], group), 0) + packs
        goods: dict[str, Decimal] = {}
        for at, packs in list_.items():
            supplier, offer = self.keys[at][0], self.offers[self.keys[at]]
            reached = groups[supplier, offer["group"]] if offer["group"] else packs
            steps = [price for first, price in sorted(offer["steps"].items()) if first <= reached]
            if not steps:
                return None
            goods[supplier] = goods.get(supplier, Decimal(0)) + packs * steps[-1]
        for supplier, sum_ in goods.items():
            terms = self.suppliers[supplier]
            rate = USD if terms["currency"] == "USD" else Decimal(1)
            if terms["minimum order"] and sum_ < Decimal(terms["minimum order"]):
                return None
            free = terms["free postage from"] and sum_ >= Decimal(terms["free postage from"])
            total += rate * (sum_ + (0 if free else Decimal(terms["postage"] or 0)))
        return total


def bundles(
    market: Market, part: str, need: Decimal, days: int, nets: dict[str, Decimal]
) -> Iterator[Bundle]:
    """Ways to have so much of a part: up to three packs more than enough of one offer, or of two."""
    offers = market.of(part, days)
    for at in offers:
        least = ceil(need / market.pack(at, nets))
        yield from (((at, packs),) for packs in range(least, least + 4))
    for one, other in product(offers, offers):
        if one < other:
            for packs in range(1, ceil(need / market.pack(one, nets))):
                left = need - packs * market.pack(one, nets)
                yield (one, packs), (other, ceil(left / market.pack(other, nets)))


def least(market: Market, wanted: dict[str, Decimal], days: int, nets: dict[str, Decimal]) -> Decimal:
    """What the cheapest of all these lists costs."""
    ways = [list(bundles(market, part, need, days, nets)) for part, need in wanted.items()]
    costs = []
    for chosen in product(*ways):
        list_: dict[int, int] = {}
        for bundle in chosen:
            list_.update(dict(bundle))
        if (cost := market.cost(list_)) is not None:
            costs.append(cost)
    return min(costs)


WISHES = [
    ("Dunlin pen", plating, blank, count)
    for plating in ("gunmetal", "chrome", "rhodium")
    for blank in ("walnut blank", "olivewood blank")
    for count in (2, 5, 6)
]


@pytest.mark.parametrize("wish", random.Random(7).sample(WISHES, 6), ids=lambda wish: f"{wish[3]} {wish[1]}")
def test_what_is_bought_for_it_costs_least(kitdrawer: Kitdrawer, wish: tuple[str, str, str, int]) -> None:
    """Goods and postage of the quote are those of the cheapest list that an enumeration finds."""
    pattern, plating, blank, count = wish
    words = ("can-take", pattern, "--plating", plating, "--blank", blank, "--count", str(count))
    told = kitdrawer(*words, "--by", "2026-12-14", "--json").json
    wanted: dict[str, Decimal] = {}
    for row in told["parts"]:
        if row["short"]:
            wanted[row["part"]] = wanted.get(row["part"], Decimal(0)) + row["short"]
    quote = told["quote"]
    if not wanted:
        assert (quote["goods"], quote["postage"], quote["proven"]) == (0, 0, True)
        return
    assert len(wanted) <= 5
    nets = {
        row["part"]: Decimal(row["net"].split()[0]) for row in rows("supplies") if row["net"]
    }  # in the unit of the part: the sample's nets are
    assert quote["proven"]
    assert quote["goods"] + quote["postage"] == pytest.approx(
        least(Market(), wanted, 16, nets), abs=Decimal("0.01")
    )


def test_each_together_and_with_postage_are_one_sum(kitdrawer: Kitdrawer) -> None:
    """The price is the lowest sensible one, or the agreed one; postage comes on top once."""
    words = ("can-take", "Dunlin pen", "--plating", "gunmetal", "--blank", "walnut blank", "--count", "6")
    told = kitdrawer(*words, "--by", "2026-12-12", "--json").json
    quote = told["quote"]
    assert quote["each"] == told["lowest_price"]
    assert quote["together"] == 6 * quote["each"]
    assert quote["with_postage"] == quote["together"] + quote["postage"]
    screen = kitdrawer(*words, "--by", "2026-12-12").out
    (said,) = [line for line in screen.splitlines() if line.startswith("Say")]
    assert said == (
        f"Say      6 × {quote['each']} = {quote['together']} EUR, "
        f"{quote['with_postage']} with postage, by Sat 12 Dec"
    )
    agreed = kitdrawer("can-take", "--order", "S42", "--json").json["quote"]
    assert (agreed["each"], agreed["together"], agreed["agreed"]) == (24, 144, True)


def test_from_the_shelf_nothing_is_posted(kitdrawer: Kitdrawer) -> None:
    """One piece, one price."""
    screen = kitdrawer("can-take", "--order", "S46").out
    assert "Say      63.13 EUR, by Sun 20 Dec" in screen


def test_what_cannot_be_is_not_quoted(kitdrawer: Kitdrawer) -> None:
    """Nor what nobody knows the cost of."""
    told = kitdrawer("can-take", "--order", "S44", "--json").json
    assert (told["verdict"], told["quote"]) == ("cannot", None)
