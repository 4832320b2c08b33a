"""Cheapest lists that HiGHS proved, and what they are in the search's own numbers: no test asks the search itself."""

from __future__ import annotations

import json
from dataclasses import dataclass
from fractions import Fraction
from pathlib import Path

from inventory.buying.listing import sort_out
from inventory.buying.problem import Packs, Problem, compile_problem
from inventory.buying.search.leaf import FREE, OFF, ONE, PAY
from inventory.buying.search.node import Node, Pick

from .basket_cases import FAMILIES, TODAY, Shop, family
from .whole_model import cheapest, served

KEPT = Path(__file__).with_name("best_lists.json")


@dataclass(frozen=True)
class Truth:
    """A list to be made, compiled, with its cheapest list and what that costs in atoms/65536."""

    shop: Shop
    problem: Problem
    best: Packs
    price: int


def of_family(name: str, lines: int, state: int, sellers: int) -> Truth:
    """One of the generated lists whose answer is kept; `test_truth` has HiGHS find them again."""
    kept = json.loads(KEPT.read_text())[f"{name}/{lines}/{sellers}/{state}"]
    return _truth(family(lines, state, sellers, FAMILIES[name]), kept["packs"], Fraction(kept["total"]))


def of(shop: Shop) -> Truth | None:
    """Any list, by HiGHS now; None where none can be sent."""
    answer = cheapest(served(shop))
    assert answer.certain
    return None if answer.total is None else _truth(shop, answer.packs, answer.total)


def _truth(shop: Shop, packs: dict[str, int], total: Fraction) -> Truth:
    good, _ = sort_out(shop.wants, shop.offers, shop.suppliers, TODAY)
    problem = compile_problem(good, shop.offers, shop.suppliers, shop.rates, TODAY)
    best = {n: packs[one.offer.key] for n, one in enumerate(problem.packs) if one.offer.key in packs}
    price = problem.price(best)
    assert price is not None
    assert price == total * problem.atom
    assert all(problem.covers_part(part, best) for part in range(len(problem.parts)))
    return Truth(shop, problem, best, price * ONE)


def picks(problem: Problem, bought: Packs) -> list[Pick]:
    """What each supplier does in a list."""
    goods, levels = problem.goods(bought), problem.levels(bought)
    assert goods is not None
    found = []
    for supplier, one in enumerate(problem.terms):
        free = one.free is not None and goods.get(supplier, 0) >= one.free
        mine = (
            tuple(levels.get(group, 0) for group in problem.of_supplier[supplier])
            if supplier in goods
            else ()
        )
        found.append(((FREE if free else PAY) if supplier in goods else OFF, mine))
    return found


def holds(problem: Problem, node: Node, bought: Packs) -> bool:
    """Whether a list lies in a node."""
    for supplier, (mode, levels) in enumerate(picks(problem, bought)):
        if mode not in node.modes[supplier]:
            return False
        for group, level in zip(problem.of_supplier[supplier], levels, strict=mode != OFF):
            if not node.low[group] <= level <= node.high[group]:
                return False
    return True


def atoms(one: Truth) -> int:
    """What the cheapest list costs."""
    return one.price // ONE
