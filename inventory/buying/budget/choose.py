"""What to buy when the money does not reach: whole promised orders first, then the most trouble avoided.

A choice of wants is measured by two numbers, the first before the second. *Orders*: how many promised orders get all
they still lack; an order half-bought is of no use. *Trouble*: the sum of `worth` of the wants that belong to no order.
Of all choices whose cheapest list, postage and price steps shared, stays within the budget the largest is taken, and
of equal ones the cheapest that was met. The search is complete: it goes on until no other choice can be larger.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from time import perf_counter

from inventory.buying.basket import Basket, Choice, Unfilled
from inventory.buying.budget.floors import Floors, together
from inventory.buying.terms import Want
from inventory.errors import Refused

BEYOND = "beyond the budget"
WAITING = 1
"""Trouble avoided by a part for an order that no list can make whole now: somebody has it, but not all of the rest."""

LEAST_TIME = 0.04
"""Seconds any one list gets, also when the time for all of them is up."""

Solve = Callable[[Sequence[Want], float], Basket]
Chosen = frozenset[int]
Score = tuple[int, Fraction]


@dataclass(frozen=True, slots=True)
class Item:
    """Wants, by number, that are bought together or not at all: an order's, or a part's up to one of its reasons."""

    wants: Chosen
    order: str = ""


def within(
    budget: int,
    wants: Sequence[Want],
    unfilled: Sequence[Unfilled],
    floors: Floors,
    solve: Solve,
    limit: float,
) -> Basket:
    """The best list for at most `budget` shop minor units.

    wants: those somebody can send in time; unfilled: the others. limit: seconds. `choice` of the basket says what it
    reaches and whether that is proven; a want left out says what the list would cost with it.
    """
    purse = _Purse(budget, wants, unfilled, floors, solve, perf_counter() + limit)
    purse.fill()
    purse.look(frozenset(), frozenset(purse.items))
    basket = purse.basket(purse.best, limit) or solve([], LEAST_TIME)
    left = [purse.left_out(number) for number in range(len(wants)) if number not in purse.best]
    orders, trouble = purse.score(purse.best)
    most = max(purse.open, (orders, trouble))
    every = purse.score(frozenset(range(len(wants))))
    proven = purse.sure and most == (orders, trouble)
    choice = Choice(orders, every[0], int(trouble), int(every[1]), most[0], int(most[1]), proven)
    return replace(basket, unfilled=(*unfilled, *left), choice=choice)


class _Purse:
    """The search: every item is in, out or open; a branch ends where its floor or its best score says so."""

    def __init__(
        self,
        budget: int,
        wants: Sequence[Want],
        unfilled: Sequence[Unfilled],
        floors: Floors,
        solve: Solve,
        until: float,
    ) -> None:
        self.budget, self.wants, self.floors, self.solve, self.until = budget, wants, floors, solve, until
        stuck = {order for one in unfilled for order in one.want.orders}
        names = dict.fromkeys(order for want in wants for order in want.orders if order not in stuck)
        self.orders = {
            name: frozenset(n for n, want in enumerate(wants) if name in want.orders) for name in names
        }
        self.items = [Item(numbers, name) for name, numbers in self.orders.items()] + self._stock(stuck)
        self.worth = {n: Fraction(self._worth(want)) for n, want in enumerate(wants)}
        self.weight = [floors.by_weight(want.part, want.quantity) for want in wants]
        self.best: Chosen = frozenset()
        self.open: Score = (0, Fraction(0))
        self.sure = True
        self._baskets: dict[Chosen, Basket | None] = {}

    def _stock(self, stuck: set[str]) -> list[Item]:
        """A part's wants one upon the other: a later reason asks for what it wants beyond the earlier ones."""
        before: dict[str, Chosen] = {}
        found = []
        for number, want in enumerate(self.wants):
            if set(want.orders) <= stuck:
                key = f"{want.part} {want.orders}"
                before[key] = before.get(key, frozenset()) | {number}
                found.append(Item(before[key]))
        return found

    def _worth(self, want: Want) -> int:
        return WAITING if want.orders else want.worth

    def score(self, chosen: Chosen) -> Score:
        """Whole orders, and trouble avoided by what belongs to none of them."""
        orders = sum(1 for wants in self.orders.values() if wants <= chosen)
        loose = (n for n in chosen if not any(n in wants for wants in self.orders.values()))
        return orders, sum((self.worth[n] for n in loose), Fraction(0))

    def basket(self, chosen: Chosen, seconds: float) -> Basket | None:
        """A list for these wants, the cheapest found in so many seconds. None where minimum orders allow none."""
        known = self._baskets.get(chosen)
        if chosen not in self._baskets or (known and not known.proven and known.seconds < seconds / 2):
            wants = [self.wants[n] for n in sorted(chosen)]
            try:
                found = self.solve(wants, seconds)
            except Refused:
                self._baskets[chosen] = None
                return None
            self._baskets[chosen] = found if known is None or found.total <= known.total else known
        return self._baskets[chosen]

    def total(self, chosen: Chosen) -> Fraction:
        """What the list of a choice within the budget costs."""
        basket = self.basket(chosen, LEAST_TIME)
        return basket.total if basket is not None else Fraction(0)

    def affordable(self, chosen: Chosen) -> bool:
        """Whether a list stays within the budget. Most are seen at once to do or not to do; the others get longer."""
        for seconds in (LEAST_TIME, 10 * LEAST_TIME, (self.until - perf_counter()) / 4):
            basket = self.basket(chosen, max(seconds, LEAST_TIME))
            if basket is None or basket.bound > self.budget:
                return False
            if basket.total <= self.budget:
                return True
        self.sure = False
        return False

    def fill(self) -> None:
        """A first choice, item by item, so that there is one when time is up."""
        items = list(self.items)
        while items:
            first = min(items, key=lambda item: self._rank(self.best, item))
            items.remove(first)
            wanted = self.best | first.wants
            if self.reached(wanted) and self.affordable(wanted):
                self.best = wanted

    def floor(self, chosen: Chosen) -> float:
        """Shop minor units that any list with these wants costs at least."""
        needs = together((self.wants[n].part, self.wants[n].quantity) for n in chosen)
        return self.floors.cost(needs) / self.floors.atom

    def reached(self, chosen: Chosen) -> bool:
        """Whether the floor leaves hope."""
        needs = together((self.wants[n].part, self.wants[n].quantity) for n in chosen)
        return self.floors.cost(needs) <= self.budget * self.floors.atom

    def look(self, chosen: Chosen, open_items: frozenset[Item]) -> None:
        """Find the best choice that holds `chosen` and, beyond it, some of the open items."""
        hopeful = [
            item for item in open_items if not item.wants <= chosen and self.reached(chosen | item.wants)
        ]
        most = self._at_most(chosen, hopeful)
        if most < self.score(self.best) or (most == self.score(self.best) and not self._cheaper(chosen)):
            return
        if perf_counter() > self.until:
            self.open = max(self.open, most)
            return
        everything = chosen.union(*(item.wants for item in hopeful))
        if self.reached(everything) and self.affordable(everything):
            self._keep(everything)
            return
        if not hopeful:
            return
        first = min(hopeful, key=lambda item: self._rank(chosen, item))
        self.look(chosen | first.wants, frozenset(hopeful) - {first})
        self.look(chosen, frozenset(item for item in hopeful if not item.wants >= first.wants))

    def _keep(self, chosen: Chosen) -> None:
        new, old = self.score(chosen), self.score(self.best)
        if new > old or (new == old and self.total(chosen) < self.total(self.best)):
            self.best = chosen

    def _cheaper(self, chosen: Chosen) -> bool:
        return self.floor(chosen) < self.total(self.best)

    def _rank(self, chosen: Chosen, item: Item) -> tuple[bool, Fraction, list[int]]:
        """Orders before stock; what adds least to the weight for what it is worth first."""
        new = item.wants - chosen
        weight = sum((self.weight[n] for n in new), Fraction(0))
        worth = Fraction(1) if item.order else max(sum(self.worth[n] for n in new), Fraction(1))
        return not item.order, weight / worth, sorted(item.wants)

    def _at_most(self, chosen: Chosen, hopeful: Sequence[Item]) -> Score:
        """A score nothing below this branch exceeds: items filled in by weight, the last one in part.

        What a list costs is at least its weight, the sum over its wants at the lowest price of a thousandth. An
        order counts with the wants no other order shares.
        """
        slack = self.budget * self.floors.atom - sum((self.weight[n] for n in chosen), Fraction(0))
        orders, trouble = self.score(chosen)
        shared = [n for item in hopeful if item.order for n in item.wants - chosen]
        own = sorted(
            sum((self.weight[n] for n in item.wants - chosen if shared.count(n) == 1), Fraction(0))
            for item in hopeful
            if item.order
        )
        left = slack
        for weight in own:
            left -= weight
            orders += left >= 0
        loose = {n for item in hopeful if not item.order for n in item.wants - chosen}
        for n in sorted((n for n in loose if self.worth[n]), key=lambda n: self.weight[n] / self.worth[n]):
            if self.weight[n] > slack:
                return orders, trouble + self.worth[n] * max(slack, Fraction(0)) / self.weight[n]
            slack -= self.weight[n]
            trouble += self.worth[n]
        return orders, trouble

    def left_out(self, number: int) -> Unfilled:
        """A want that is not bought, and what the list would cost with it (with its whole order)."""
        want = self.wants[number]
        holding = [item for item in self.items if number in item.wants]
        least = min(holding, key=lambda item: len(item.wants))
        wanted = self.best | least.wants
        if wanted not in self._baskets and perf_counter() > self.until:
            return Unfilled(want, BEYOND)
        basket = self.basket(wanted, max((self.until - perf_counter()) / 8, LEAST_TIME))
        return Unfilled(
            want, BEYOND, with_it=None if basket is None else basket.total, with_order=least.order
        )
