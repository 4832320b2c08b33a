"""What nobody priced costs what the latest fitting offer says, else it is unknown: never 0."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st
from jobs import goods
from jobs.shop import Stock
from searching import examples

from inventory.catalogue import Offer, PriceStep, Supplier, fold
from inventory.ledger import Count, apportion
from inventory.ledger.costs import BY_OFFER, SAID, UNKNOWN, Cost, Prices, unknown_of, unsaid, worst
from inventory.ledger.counting.differences import book_counts

SALT, FAR = "Saltmarsh Turning", "Far Shore Fittings"
SUPPLIERS = {fold(one.name): one for one in (Supplier(SALT, 5), Supplier(FAR, 30, currency="USD"))}


def prices(*offers: Offer, rate: Fraction | None = None) -> Prices:
    """Offers of tubes; rate: euros for a dollar."""
    return Prices({fold(goods.TUBE): offers}, SUPPLIERS, lambda coin: rate if coin == "USD" else Fraction(1))


def offer(price: int, seen: date | None = None, pack: int = 10_000, supplier: str = SALT) -> Offer:
    """Tubes in packs, cheaper by a fifth from ten packs on."""
    return Offer(
        supplier, goods.TUBE, pack, (PriceStep(1, price), PriceStep(10, price * 8 // 10)), seen_on=seen
    )


OLD, NEW = date(2026, 3, 1), date(2026, 9, 1)


@pytest.mark.parametrize(
    ("offers", "quantity", "cost"),
    [
        ((), 3000, None),
        ((offer(400),), 3000, 120),
        ((offer(400),), 100_000, 3200),
        ((offer(300, OLD), offer(400, NEW)), 10_000, 400),
        ((offer(300), offer(400, OLD)), 10_000, 400),
        ((offer(500, NEW), offer(400, NEW, pack=5000)), 10_000, 500),
        ((offer(100, NEW, supplier=FAR), offer(400, OLD)), 10_000, 400),
    ],
    ids=["none", "a share of a pack", "the step reached", "the latest", "a day is later than none", "cheapest that day",
         "a coin of unknown rate does not fit"],
)  # fmt: skip
def test_the_latest_fitting_offer_says_it(offers: tuple[Offer, ...], quantity: int, cost: int | None) -> None:
    """Price by the pack, at the step so many whole packs reach; the latest of those whose coin is known."""
    assert prices(*offers)(goods.TUBE.upper(), quantity) == cost


def test_an_offer_in_another_coin_is_changed() -> None:
    """100 US cents for ten at 0.92."""
    assert prices(offer(100, NEW, supplier=FAR), rate=Fraction(92, 100))(goods.TUBE, 10_000) == 92


def test_an_offer_of_nobody_known_does_not_fit() -> None:
    """Its coin cannot be told."""
    assert prices(offer(100, supplier="Nobody"))(goods.TUBE, 10_000) is None


def lines(stock: Stock, *counts: Count, offered: Prices) -> list[tuple[int, int, int]]:
    """Quantity, cost and mark of what comes onto the shelf."""
    done = book_counts(counts, stock.book, offered)
    return [(one.quantity, one.cost, one.cost_from) for one in done.lines if one.account == "shelf"]


def test_a_count_without_a_cost_costs_what_the_offer_says_else_nobody_knows() -> None:
    """A cost that is said, be it 0, is said; nothing is ever 0 because nobody spoke."""
    rows = (
        Count(goods.TUBE, 10_000),
        Count(goods.CHROME_KIT, 5000),
        Count(goods.GLUE, 1000, Fraction(0)),
    )
    assert lines(Stock(), *rows, offered=prices(offer(400))) == [
        (10_000, 400, BY_OFFER),
        (5000, 0, UNKNOWN),
        (1000, 0, SAID),
    ]


def test_more_of_a_lot_costs_what_the_lot_does_where_that_is_known() -> None:
    """The newest lot of known cost tells it; where none is known the offer does, else nobody."""
    stock = Stock()
    stock.lot(goods.TUBE, 4000, 200)
    stock.lot(goods.TUBE, 4000, 0, cost_from=UNKNOWN)
    assert lines(stock, Count(goods.TUBE, 10_000), offered=prices(offer(400))) == [(2000, 100, SAID)]
    dark = Stock()
    dark.lot(goods.TUBE, 4000, 0, cost_from=UNKNOWN)
    assert lines(dark, Count(goods.TUBE, 6000), offered=prices(offer(400))) == [(2000, 80, BY_OFFER)]
    assert lines(dark, Count(goods.TUBE, 6000), offered=prices()) == [(2000, 0, UNKNOWN)]
    bright = Stock()
    bright.lot(goods.TUBE, 4000, 160, cost_from=BY_OFFER)
    assert lines(bright, Count(goods.TUBE, 6000), offered=prices()) == [(2000, 80, BY_OFFER)]


def test_marks_of_several_things() -> None:
    """What is made of them is known no better than the least known; unknown stock is told by how much it is."""
    assert (worst([]), worst([BY_OFFER, SAID]), worst([SAID, UNKNOWN, BY_OFFER])) == (SAID, BY_OFFER, UNKNOWN)
    stock = Stock()
    stock.lot(goods.TUBE, 4000, 10)
    stock.lot(goods.TUBE, 3000, 0, cost_from=UNKNOWN)
    assert unknown_of(stock.lots) == 3000
    assert unsaid(goods.TUBE, 1000, prices()) == Cost(0, UNKNOWN)
    assert replace(Cost(3), cost_from=BY_OFFER) == unsaid(goods.TUBE, 1000, prices(offer(30)))


def test_postage_by_the_largest_remainders() -> None:
    """4.90 over 6.00, 5.90 and 5.20: the exact shares are 1.7193, 1.6906 and 1.4901, worked by hand."""
    assert apportion(490, (600, 590, 520)) == (172, 169, 149)
    assert apportion(490, (0, 0)) == (0, 0)
    assert apportion(1, (5, 5, 5)) == (1, 0, 0)


@given(st.integers(0, 10**6), st.lists(st.integers(0, 10**5), min_size=1, max_size=9))
@examples(80)
def test_shares_sum_exactly_and_lie_within_one_coin(total: int, weights: list[int]) -> None:
    """Whatever is shared, nothing is lost, nobody gets a whole coin too much or too little, and nothing for nothing."""
    shares = apportion(total, weights)
    whole = sum(weights)
    assert sum(shares) == (total if whole else 0)
    for share, weight in zip(shares, weights, strict=True):
        assert abs(share - Fraction(total * weight, whole or 1)) < 1
        assert share == 0 or weight > 0


def test_the_coins_left_over_go_to_the_largest_remainders() -> None:
    """Shares of 1 1/3, 2 2/3 and 4: the second has the largest rest, so the odd coin is its own."""
    assert apportion(8, (1, 2, 3)) == (1, 3, 4)
    assert apportion(3, (1, 2, 4)) == (0, 1, 2)  # 3/7, 6/7 and 1 5/7: two coins are left over
