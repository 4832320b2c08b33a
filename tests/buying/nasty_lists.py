"""Random lists with everything a price list can do at once: small, so that a whole-number model proves them fast."""

from __future__ import annotations

import random
from dataclasses import replace
from datetime import timedelta
from fractions import Fraction

from inventory.buying.terms import PackOffer, PriceBreak, SupplierTerms, Want

from .basket_cases import TODAY, Shop

RATES = {"EUR": Fraction(1), "GBP": Fraction(117, 100), "SEK": Fraction(9, 100), "CHF": Fraction(107, 99)}


def nasty(state: int) -> Shop:
    """One list: 1 to 4 suppliers, 1 to 6 parts, 1 to 3 wants of each."""
    draw = random.Random(f"nasty/{state}")
    dear = draw.choice((3, 15, 15, 300, 1500))
    suppliers = {name: _seller(draw, name, dear) for name in "abcd"[: draw.randint(1, 4)]}
    wants: list[Want] = []
    offers: list[PackOffer] = []
    for part in "pqrstu"[: draw.randint(1, 6)]:
        pack = draw.choice((500, 1000, 1000, 1500))
        wants += [_want(draw, part, pack) for _ in range(draw.choice((1, 1, 2, 3)))]
        base = draw.randint(1, dear)
        for name in suppliers:
            offers += [
                _offer(draw, f"{name}{part}{n}", name, part, pack, base)
                for n in range(draw.choice((0, 1, 1, 2)))
            ]
    return Shop(wants, offers, suppliers, RATES)


def _seller(draw: random.Random, name: str, dear: int) -> SupplierTerms:
    lead = draw.choice((2, 2, 10, 10, 25, None))
    postage = draw.choice((0, draw.randint(1, 3 * dear)))
    free = draw.choice((None, draw.randint(0, 10 * dear)))
    least = draw.choice((None, None, draw.randint(1, 8 * dear)))
    return SupplierTerms(name, lead, draw.choice(sorted(RATES)), postage, free, least)


def _want(draw: random.Random, part: str, pack: int) -> Want:
    days = draw.choice((None, None, 2, 5, 12, 30))
    day = None if days is None else TODAY + timedelta(days=days)
    orders = draw.choice(((), (), ("A1",)))
    return Want(part, draw.choice((pack, 250, 1000)) * draw.randint(1, 9), day, orders)


def _offer(draw: random.Random, key: str, seller: str, part: str, pack: int, base: int) -> PackOffer:
    many = draw.choice((1, 1, 2, 3, 5))
    start = draw.choice((1, 1, 1, 2, 3))
    price = draw.choice((0, round(base * many * draw.uniform(0.6, 1.3)), base * many))
    if draw.random() < 0.7:
        price = max(price, 1)
    steps = [PriceBreak(start, price)]
    for _ in range(draw.choice((0, 1, 1, 2))):
        start, price = start + draw.randint(1, 5), draw.randint(max(0, price - max(1, price // 3)), price)
        steps.append(PriceBreak(start, price))
    one = PackOffer(key, seller, part, pack * many, tuple(steps), draw.choice((None, "g", "g", "h")))
    if draw.random() < 0.3:
        first = 1 if one.price_group else one.steps[0].from_packs
        one = replace(one, at_most=draw.randint(first, first + 4))
    return one
