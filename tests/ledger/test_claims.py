"""Claims follow the shelf: earliest due first when it fills, latest due first when it empties."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

from hypothesis import given
from hypothesis import strategies as st
from jobs import goods
from jobs.shop import TODAY, Stock, order
from searching import examples

from inventory.ledger import Account, Claim, Line
from inventory.ledger.claims import claims_of, let_go, settle, settle_lots, with_lines


def stock_with(*dues: int) -> Stock:
    """Orders A, B, C … due in so many days."""
    stock = Stock()
    for name, days in zip("ABCDEF", dues, strict=False):
        stock.orders.append(order(name, due=TODAY + timedelta(days=days), state="promised"))
    return stock


def moves(lines: tuple[Line, ...]) -> list[tuple[Account, str | None, int]]:
    """What moves on which account for whom."""
    return [(line.account, line.order, line.quantity) for line in lines]


def test_what_comes_in_goes_to_the_earliest_due() -> None:
    """B is due before A and gets its two first; A gets the one that is left."""
    stock = stock_with(9, 3)
    stock.claim("A", goods.CHROME_KIT, 2000, "to buy")
    stock.claim("B", goods.CHROME_KIT, 2000, "to buy")
    assert moves(settle(stock.book, {goods.CHROME_KIT: 3000})) == [
        ("to buy", "B", -2000),
        ("claim", "B", 2000),
        ("to buy", "A", -1000),
        ("claim", "A", 1000),
    ]


def test_what_is_missing_is_taken_from_the_latest_due() -> None:
    """A is due last: all of its claim waits again before any of B's does."""
    stock = stock_with(9, 3)
    stock.lot(goods.CHROME_KIT, 4000)
    stock.claim("A", goods.CHROME_KIT, 2000)
    stock.claim("B", goods.CHROME_KIT, 2000)
    assert moves(settle(stock.book, {goods.CHROME_KIT.upper(): 1000})) == [
        ("claim", "A", -2000),
        ("to buy", "A", 2000),
        ("claim", "B", -1000),
        ("to buy", "B", 1000),
    ]


def test_an_order_nobody_knows_waits_last() -> None:
    """A claim whose order is not in the picture is served after every dated one."""
    stock = stock_with(9)
    stock.claim("Z", goods.TUBE, 1000, "to buy")
    stock.claim("A", goods.TUBE, 1000, "to buy")
    assert moves(settle(stock.book, {goods.TUBE: 1000})) == [("to buy", "A", -1000), ("claim", "A", 1000)]


def test_claims_that_end_in_the_same_document_do_not_count() -> None:
    """What A held is free for B once A's claims end."""
    stock = stock_with(3, 9)
    stock.lot(goods.TUBE, 1000)
    stock.claim("A", goods.TUBE, 1000)
    stock.claim("B", goods.TUBE, 1000, "to buy")
    assert settle(stock.book, {goods.TUBE: 1000}) == ()
    assert moves(settle(stock.book, {goods.TUBE: 1000}, without="a")) == [
        ("to buy", "B", -1000),
        ("claim", "B", 1000),
    ]


def test_claims_on_a_very_lot_go_when_the_lot_goes() -> None:
    """A measured blank that is not there any more is to buy again for the order due last."""
    stock = stock_with(3, 9)
    one, two = stock.measured("root", "30 mm", "70 mm"), stock.measured("tine", "25 mm", "70 mm")
    stock.claim("A", goods.ANTLER, 1000, lot=one)
    stock.claim("B", goods.ANTLER, 1000, lot=two)
    stock.claim("B", goods.ANTLER, 500, "to buy")
    lines = settle_lots(stock.book, {two: 0, one: 1000})
    assert [(line.account, line.quantity, line.lot) for line in lines] == [
        ("claim", -1000, two),
        ("to buy", 1000, None),
    ]


def test_two_orders_on_one_lot_keep_what_is_left_by_their_day() -> None:
    """Of a shrunken lot the order due first keeps its share."""
    stock = stock_with(9, 3)
    bottle = stock.lot(goods.ANTLER, 1000, name="box")
    stock.claim("A", goods.ANTLER, 400, lot=bottle)
    stock.claim("B", goods.ANTLER, 600, lot=bottle)
    assert moves(settle_lots(stock.book, {bottle: 700})) == [("claim", "A", -300), ("to buy", "A", 300)]


def test_letting_go_ends_every_claim() -> None:
    """All accounts of an order are brought to nothing, named lots and purchases included."""
    stock = stock_with(3, 9)
    lot = stock.measured("root", "30 mm", "70 mm")
    bought = stock.coming(goods.TUBE, 2000, TODAY)
    stock.claim("A", goods.ANTLER, 1000, lot=lot)
    stock.claims.append(Claim("A", goods.TUBE, "due claim", 2000, None, bought))
    stock.claim("A", goods.TUBE, 500, "to buy")
    stock.claim("B", goods.TUBE, 500, "to buy")
    assert len(claims_of(stock.book, " a ")) == 3
    assert with_lines(claims_of(stock.book, "A"), let_go(stock.book, "A")) == ()
    assert {line.purchase for line in let_go(stock.book, "A")} == {None, bought}


def test_lines_change_claims_and_leave_the_rest() -> None:
    """Claim lines add up with the claims they speak of; lines without an order are none."""
    claims = (Claim("A", goods.TUBE, "claim", 1000),)
    lines = (
        Line("claim", goods.TUBE.upper(), -400, order="a"),
        Line("to buy", goods.TUBE, 400, order="A"),
        Line("claim", goods.TUBE, 100, lot="new lot", order="B"),
        Line("shelf", goods.TUBE, 7000),
    )
    assert with_lines(claims, lines) == (
        Claim("A", goods.TUBE, "claim", 600),
        Claim("A", goods.TUBE, "to buy", 400),
        Claim("B", goods.TUBE, "claim", 100),
    )


cases = st.lists(st.tuples(st.integers(0, 20), st.integers(0, 9), st.integers(0, 9)), min_size=1, max_size=6)


@examples(90)
@given(cases, st.integers(0, 60))
def test_claims_never_exceed_what_is_there(orders: list[tuple[int, int, int]], there: int) -> None:
    """Claims are all the shelf can give and no more; every order still has or awaits what it asked for."""
    stock = stock_with(*(due for due, _, _ in orders))
    for name, (_, held, waits) in zip("ABCDEF", orders, strict=False):
        for account, quantity in (("claim", held), ("to buy", waits)):
            if quantity:
                stock.claims.append(replace(Claim(name, goods.TUBE, "claim", quantity), account=account))  # type: ignore[arg-type]  # one of two accounts
    lines = settle(stock.book, {goods.TUBE: there})
    left = with_lines(stock.claims, lines)
    asked = sum(held + waits for _, held, waits in orders)
    assert sum(c.quantity for c in left if c.account == "claim") == min(there, asked)
    assert all(c.quantity > 0 for c in left)
    for name, (_, held, waits) in zip("ABCDEF", orders, strict=False):
        assert sum(c.quantity for c in left if c.order == name) == held + waits


@examples(60)
@given(st.lists(st.tuples(st.integers(0, 20), st.integers(1, 9)), min_size=1, max_size=6), st.integers(0, 60))
def test_nobody_waits_while_a_later_order_is_served(orders: list[tuple[int, int]], there: int) -> None:
    """Where all wait, only the last one served may be served in part, and those after it not at all."""
    stock = stock_with(*(due for due, _ in orders))
    for name, (_, waits) in zip("ABCDEF", orders, strict=False):
        stock.claim(name, goods.TUBE, waits, "to buy")
    left = with_lines(stock.claims, settle(stock.book, {goods.TUBE: there}))
    got = {c.order: c.quantity for c in left if c.account == "claim"}
    by_day = sorted(zip("ABCDEF", orders, strict=False), key=lambda one: (one[1][0], one[0]))
    for name, (_, waits) in by_day:
        assert got.get(name, 0) == min(waits, there)
        there -= min(waits, there)


def test_what_is_out_of_date_goes_to_nobody() -> None:
    """Of nine on the shelf seven are past their day: who waits for four gets two, what is held already stays held."""
    stock = stock_with(3, 9)
    stock.claim("A", goods.CHROME_KIT, 4000, "to buy")
    assert moves(settle(stock.book, {goods.CHROME_KIT: 9000}, off=lambda _: 7000)) == [
        ("to buy", "A", -2000),
        ("claim", "A", 2000),
    ]
    stock.claim("B", goods.CHROME_KIT, 3000)
    assert moves(settle(stock.book, {goods.CHROME_KIT: 9000}, off=lambda _: 7000)) == []


def test_a_third_order_on_a_shrunken_lot_loses_no_more_than_it_had() -> None:
    """A keeps all, B half, and C gets nothing: two thousand of three are missing."""
    stock = stock_with(3, 6, 9)
    box = stock.lot(goods.ANTLER, 3000, name="box")
    for name in "ABC":
        stock.claim(name, goods.ANTLER, 1000, lot=box)
    assert moves(settle_lots(stock.book, {box: 1500})) == [
        *(("claim", "B", -500), ("to buy", "B", 500)),
        *(("claim", "C", -1000), ("to buy", "C", 1000)),
    ]
