"""Which of the blanks that would do is taken, held against every blank worked out by hand in small random shops."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st
from searching import examples

from inventory.catalogue import Blank, Offer, Part, PriceStep, Supplier, fold
from inventory.jobs.orders.blank_choice import _to_buy, could_give, never_of
from inventory.jobs.orders.order_check import OrderReport, check
from inventory.jobs.orders.requests import request_of
from inventory.ledger import Claim
from inventory.ledger.shop import Shop
from inventory.measures import read_length
from jobs import goods
from jobs.goods import SUPPLIERS
from jobs.shop import DUE, TODAY, order, plenty, shop

PIECES = {"62 mm": 1, "127 mm": 2, "190 mm": 3, "50 mm": 0}
"""Turnstones of 55.8 mm of tube and 3.2 mm allowance, with a cut of 1.2 mm, that a blank of a length gives."""
SOON, LATE, LATER = "Saltmarsh Turning", "Gull Rock Woods", "Skerry Timber"
DAYS = {SOON: 5, LATE: 30, LATER: 40}
POSTAGE = {SOON: 490, LATE: 300, LATER: 0}
VERDICTS = ("from the shelf", "after buying", "too late", "cannot")


@dataclass(frozen=True)
class Kind:
    """One kind of blank. cost: of each on the shelf; wished: days until somebody else wishes one, or never."""

    length: str
    there: int
    cost: int
    seller: str | None
    price: int
    wished: int | None


kinds = st.builds(
    Kind,
    st.sampled_from(sorted(PIECES)),
    st.integers(0, 4),
    st.sampled_from((100, 150, 200)),
    st.none() | st.sampled_from(sorted(DAYS)),
    st.sampled_from((100, 150, 200)),
    st.none() | st.integers(30, 32),
)


def shop_with(some: Sequence[Kind]) -> Shop:
    """Plenty of everything but of these blanks, b0 and on."""
    names = [f"b{at}" for at in range(len(some))]
    side = read_length("19 mm")
    blanks = (
        Part(n, Blank("olive wood", "square", side, read_length(one.length)))
        for n, one in zip(names, some, strict=True)
    )
    known = goods.catalogue().with_losses("olive wood").with_parts(*blanks)
    more = [Supplier(name, DAYS[name], POSTAGE[name], None, None, "EUR") for name in (LATE, LATER)]
    offers = {
        n: (Offer(one.seller, n, 1000, (PriceStep(1, one.price),)),)
        for n, one in zip(names, some, strict=True)
        if one.seller
    }
    known = replace(
        known,
        suppliers={fold(one.name): one for one in (*SUPPLIERS, *more)},
        offers={**known.offers, **offers},
    )
    stock = plenty()
    for n, one in zip(names, some, strict=True):
        if one.there:
            stock.lot(n, 1000 * one.there, one.cost * one.there)
        if one.wished is not None:
            stock.orders.append(order(f"wish {n}", 1, blank=n, due=TODAY + timedelta(days=one.wished)))
    return shop(stock, known)


def by_hand(one: Kind, count: int) -> tuple[int, ...]:
    """How good a blank is, the least best: by the words of the guide, in whole coins."""
    each = PIECES[one.length]
    if not each:
        return (3,)
    needed = -(-count // each)
    short = max(needed - one.there, 0)
    if short and one.seller is None:
        return (3,)
    days = DAYS[one.seller] if short and one.seller else 0
    verdict = 0 if not short else 1 if TODAY + timedelta(days=days) <= DUE else 2
    goods = short * one.price
    landed = goods + (POSTAGE[one.seller] if short and one.seller else 0)
    used = min(needed, one.there) * one.cost + goods
    wished = date.max.toordinal() if one.wished is None else one.wished
    return (verdict, short > 0, days if verdict == 2 else 0, landed, used, -wished)


@examples(120)
@given(some=st.lists(kinds, min_size=2, max_size=4), count=st.integers(1, 5), exactly=st.booleans())
@pytest.mark.cross_check
def test_the_choice_against_every_blank(some: list[Kind], count: int, exactly: bool) -> None:
    """The best by hand is taken, the first named of those that are alike; its reason names it."""
    words = " or ".join(f"b{at}" for at in range(len(some)))
    report = check(shop_with(some), request_of(order("Reed", count, blank=words)), exactly=exactly)
    ranked = [by_hand(one, count) for one in some]
    best = min(ranked)
    assert report.verdict == VERDICTS[best[0]]
    if best[0] < 3:
        assert report.resolved.blank.name == f"b{ranked.index(best)}"
        assert report.blank_because.startswith(f"b{ranked.index(best)}, of {len(some)} that would do: ")


def taken(*some: Kind, count: int = 2) -> OrderReport:
    """The answer for so many Turnstones of any of these."""
    words = " or ".join(f"b{at}" for at in range(len(some)))
    return check(shop_with(some), request_of(order("Reed", count, blank=words)), exactly=True)


USUAL = Kind("127 mm", 2, 200, SOON, 200, None)


@pytest.mark.parametrize(
    ("other", "said"),
    [
        (replace(USUAL, length="50 mm"), "all is on the shelf with no other"),
        (replace(USUAL, there=0), "all is on the shelf with no other"),
        (replace(USUAL, cost=300), "the cheapest that fits, 1"),
        (replace(USUAL, wished=30), "other enquiries want it latest"),
        (USUAL, "named before b1, which does as well"),
    ],
)
def test_the_reason_is_what_they_differ_in(other: Kind, said: str) -> None:
    """What decides is what is said."""
    assert f"b0, of 2 that would do: {said}" in taken(USUAL, other).blank_because


def test_the_list_that_costs_least_decides_where_all_have_to_be_bought() -> None:
    """Three blanks at 1.00 and free postage against two at 2.00 with 4.90."""
    dear, cheap = Kind("190 mm", 0, 0, SOON, 200, None), Kind("127 mm", 0, 0, SOON, 100, None)
    report = taken(dear, cheap, count=5)
    assert report.resolved.blank.name == "b1"
    assert "the list to buy costs least, 7.90 EUR; with b0 8.90 EUR" in report.blank_because


def test_one_blank_by_its_name_is_no_choice() -> None:
    """An order of the plain kind says nothing of a choice."""
    assert not any("would do" in said for said in taken(USUAL).why)


def test_who_holds_what_is_missing_is_named_where_another_would_do() -> None:
    """Reed holds the only b0 and would do with b1; nothing is moved unasked."""
    there = shop_with([replace(USUAL, there=1), USUAL])
    stock_order = replace(order("Reed", 2, blank="b0"), state="promised", blanks="b0 or b1")
    book = there.book
    claims = (*book.claims, Claim("Reed", "b0", "claim", 1000))
    balances = {**book.balances, "b0": replace(book.balances["b0"], claimed=1000)}
    orders = {**book.orders, "reed": stock_order}
    there = replace(there, book=replace(book, claims=claims, balances=balances, orders=orders))
    said = check(there, request_of(order("Finch", 2, blank="b0"))).why
    assert any("“Reed” holds 1 of b0 and would do with b1" in one for one in said)
    assert not any("holds" in one for one in check(there, request_of(order("Finch", 2, blank="b1"))).why)


@pytest.mark.parametrize(
    ("changes", "told"),
    [
        ({}, True),
        ({"due": TODAY - timedelta(days=1)}, True),
        ({"handed": 1}, False),
        ({"state": "wish"}, False),
        ({"blanks": ""}, False),
        ({"name": "Wren"}, False),
    ],
    ids=["as it is", "overdue", "begun", "a wish", "of one blank", "holds none"],
)
def test_whose_blank_another_would_do_for(changes: dict[str, object], told: bool) -> None:
    """A promise of which no piece is made yet, overdue or not, that holds the blank and would do with another."""
    there = shop_with([replace(USUAL, there=1), USUAL])
    one = replace(order("Reed", 2, blank="b0", state="promised", blanks="b0 or b1"), **changes)  # type: ignore[arg-type]  # fields by name
    book = replace(
        there.book,
        claims=(*there.book.claims, Claim("Reed", "b0", "claim", 1000)),
        orders={**there.book.orders, fold(one.name): one},
    )
    assert bool(tuple(could_give(replace(there, book=book), there.catalogue.part("b0")))) is told


@pytest.mark.parametrize(("there", "told"), [(200, True), (0, False)])
def test_another_would_do_only_where_it_lies_there(there: int, told: bool) -> None:
    """Kits and all else are there: it is the other blank that is asked about."""
    here = shop_with([replace(USUAL, there=1), replace(USUAL, there=there)])
    one = order("Reed", 2, blank="b0", state="promised", blanks="b0 or b1")
    claims = (*here.book.claims, Claim("Reed", "b0", "claim", 1000))
    book = replace(here.book, claims=claims, orders={**here.book.orders, "reed": one})
    assert bool(tuple(could_give(replace(here, book=book), here.catalogue.part("b0")))) is told


def test_a_list_of_a_price_nobody_can_convert_comes_last() -> None:
    """Goods and postage together; without the rate of one coin the sum is not known."""
    here = shop(plenty().without(goods.TUBE, goods.REFILL))
    report = check(here, request_of(order("Reed", 4)))
    goods_cost = sum(one.cost or 0 for one in report.sourcing.buy)
    assert _to_buy(report) == (False, goods_cost + 490)
    first, *others = report.sourcing.buy
    bought = (replace(first, cost=None), *others)
    unknown = replace(report, sourcing=replace(report.sourcing, buy=bought))
    assert _to_buy(unknown) == (True, goods_cost - (first.cost or 0) + 490)
    assert _to_buy(check(shop(), request_of(order("Reed", 4)))) == (False, 0)


def test_what_pieces_of_an_order_may_be_of() -> None:
    """The chosen blank, another of the set while none is made, nothing else."""
    there = shop_with([USUAL, USUAL])
    promised = replace(order("Reed", 2, blank="b0"), state="promised", blanks="b0 or b1")
    assert never_of(there, promised, "b0") == never_of(there, promised, "b1") == ""
    assert never_of(there, promised, "olive square") == "“Reed” is to be of b0 or b1, not of olive square."
    assert never_of(there, replace(promised, blanks=""), "b1") == "“Reed” is to be of b0, not of b1."
    assert "made of b0 already" in never_of(there, replace(promised, handed=1), "b1")
