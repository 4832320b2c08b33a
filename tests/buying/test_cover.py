"""The cheapest cover of a part, to the atom: offers at any price or weight, with ends and days, count by count."""

from __future__ import annotations

import random
from itertools import product

import pytest

from inventory.buying.knapsack import NEVER, Priced, cover, packs_of
from inventory.buying.problem import Pack
from inventory.buying.terms import PackOffer, PriceBreak

OFFER = PackOffer("kit", "a", "kit", 1000, (PriceBreak(1, 1),))


def priced(draw: random.Random, number: int, full: int, tiers: int) -> Priced:
    """At one price, or at steps of its own with a weight; some with an end, some too late."""
    size, tier = draw.randint(1, 5), draw.randrange(tiers + 1) if draw.random() < 0.4 else 0
    most = draw.choice((None, None, None, 1, 2, 3))
    enough = -(-full // size)
    pack = Pack(OFFER, 0, 0, -1, size, tier, [None], most=most)
    pack.alone = enough if tier == 0 and (most is None or enough <= most) else None
    if draw.random() < 0.5:
        return number, pack, draw.randint(0, draw.choice((9, 300))), 0
    start, price = draw.choice((1, 1, 2)), draw.randint(1, 9)
    pack.own = [(start, price)]
    if draw.random() < 0.6:
        pack.own.append((start + draw.randint(1, 3), draw.randint(0, price)))
    if most is not None and most < start:
        pack.most = start
    return number, pack, None, draw.choice((1, 2, 40))


def cost(one: Priced, packs: int) -> int | None:
    """Of so many packs of an offer; None where they cannot be bought."""
    _, pack, price, weight = one
    if pack.most is not None and packs > pack.most:
        return None
    if price is not None:
        return price * packs
    reached = [each for start, each in pack.own if start <= packs]
    return reached[-1] * packs * weight if reached else None


def met(needs: list[int], offers: list[Priced], counts: dict[int, int]) -> bool:
    return all(
        sum(counts.get(number, 0) * pack.size for number, pack, _, _ in offers if pack.tier <= tier) >= need
        for tier, need in enumerate(needs)
    )


def test_the_cheapest_cover_is_found() -> None:
    draw = random.Random(1)
    never = 0
    for _ in range(1200):
        needs = sorted(draw.randint(1, 7) for _ in range(draw.choice((1, 1, 2))))
        offers = [priced(draw, number, needs[-1], len(needs)) for number in range(draw.choice((1, 2, 3, 3)))]
        ends = [max([-(-needs[-1] // one[1].size), *(start for start, _ in one[1].own)]) for one in offers]
        costs = []
        for counts in product(*(range(end + 1) for end in ends)):
            if met(needs, offers, dict(enumerate(counts))):
                paid = [cost(one, many) for one, many in zip(offers, counts, strict=True) if many]
                if None not in paid:
                    costs.append(sum(one or 0 for one in paid))
        least, plan = cover(needs, offers)
        assert least == min(costs, default=NEVER)
        never += not costs
        bought: dict[int, int] = {}
        for number, packs in packs_of(plan):
            bought[number] = bought.get(number, 0) + packs
        if costs:
            assert met(needs, offers, bought)
            assert all(packs <= ends[number] for number, packs in bought.items())
            assert sum(cost(offers[number], packs) or 0 for number, packs in bought.items()) == least
    assert 0 < never < 300


def test_nothing_is_needed_or_offered() -> None:
    pack = Pack(OFFER, 0, 0, -1, 1, 0, [3], alone=1)
    assert cover([0], [(0, pack, 3, 0)]) == (0, ())
    assert cover([1], []) == (NEVER, ())


def offer(number: int, size: int, price: int, *, own: int = 0, most: int | None = None) -> Priced:
    """An offer for a need of up to ten; own: the weight of its price as a step of its own."""
    steps = [(1, price)] if own else []
    return number, Pack(OFFER, 0, 0, -1, size, 0, [price], steps, most=most), None if own else price, own


def test_two_packs_given_away_go_with_a_dearer_one() -> None:
    """Four: a pack of two at 82 and the two that are given away, in place of four at 100."""
    given = offer(1, 1, 0, own=100, most=2)
    whole = offer(2, 4, 100)
    whole[1].alone = 1
    assert cover([4], [offer(0, 2, 82), given, whole])[0] == 82


@pytest.mark.parametrize("own", [0, 1])
def test_a_pack_of_each_where_neither_alone_fits(own: int) -> None:
    """Ten: six for 24 and four for 17; two of the six would cost 48, ten in one pack 60."""
    six, four, ten = offer(0, 6, 24), offer(1, 4, 17, own=own), offer(2, 10, 60)
    six[1].alone, ten[1].alone = 2, 1
    assert cover([10], [six, four, ten])[0] == 41
