"""Proposed documents: digests; the picture of the book."""

from __future__ import annotations

from datetime import date

from jobs import goods
from jobs.shop import Stock

from inventory.ledger import Balance, fingerprint


def test_the_same_content_has_the_same_fingerprint() -> None:
    """Order of keys does not matter, anything else does; it is 64 hexadecimal digits."""
    one = fingerprint({"a": 1, "b": date(2026, 5, 1)}, ["x"])
    assert one == fingerprint({"b": date(2026, 5, 1), "a": 1}, ["x"])
    assert len({one, fingerprint({"a": 1}, ["x"]), fingerprint(["x"], {"a": 1})}) == 3
    assert len(one) == 64
    assert int(one, 16) >= 0


def test_the_picture_answers_by_any_spelling() -> None:
    """Balances and lots are found however the name is written; an unknown part has none."""
    stock = Stock()
    stock.lot(goods.TUBE, 3000)
    stock.claim("A", goods.TUBE, 1000)
    book = stock.book
    assert book.balance(" Tube  27/64") == Balance(3000, 1000)
    assert book.balance(goods.TUBE).unclaimed == 2000
    assert [lot.quantity for lot in book.lots_of("TUBE 27/64")] == [3000]
    assert book.balance("nothing") == Balance()
    assert book.lots_of("nothing") == ()


def test_a_measured_lot_has_both_sizes() -> None:
    """Diameter and length make a one-off; either alone does not."""
    stock = Stock()
    stock.measured("root", "30 mm", "90 mm")
    stock.lot(goods.ANTLER, 1000, length=stock.lots[0].length)
    assert [lot.measured for lot in stock.lots] == [True, False]
