"""A plain book kept in memory: applies proposed documents line by line and refuses what a book must refuse."""

from __future__ import annotations

from dataclasses import replace

from inventory.catalogue import fold
from inventory.ledger import Claim, DueIn, Line, Lot, Proposal
from inventory.ledger.shop import Shop
from jobs.shop import Stock


def booked(shop: Shop, proposal: Proposal) -> Shop:
    """The shop after the document; an AssertionError where it would break the book."""
    assert proposal.expected_version == shop.book.version
    stock = _stock(shop)
    numbers = _new_lots(stock, proposal)
    for one in proposal.lines:
        lot = numbers[one.lot] if isinstance(one.lot, str) else one.lot
        _move(stock, one, lot)
    stock.lots = [lot for lot in stock.lots if lot.quantity]
    stock.claims = [claim for claim in stock.claims if claim.quantity]
    for new in proposal.orders:
        stock.orders = [one for one in stock.orders if fold(one.name) != fold(new.name)] + [new]
    for name, state in proposal.order_states:
        stock.orders = [replace(o, state=state) if fold(o.name) == fold(name) else o for o in stock.orders]
    stock.to_count = (*shop.book.to_count, *proposal.to_count)
    sound(stock)
    return replace(shop, book=stock.book)


def sound(stock: Stock) -> None:
    """Nothing below nothing, no cost without stock, no claim without what it claims."""
    book = stock.book
    for lots in book.lots.values():
        for lot in lots:
            assert lot.quantity > 0
            assert lot.cost >= 0
            assert 0 <= lot.claimed <= lot.quantity
    for balance in book.balances.values():
        assert 0 <= balance.claimed <= balance.on_hand
        assert 0 <= balance.due_claimed <= balance.due_in
        assert balance.to_buy >= 0
    for row in book.due:
        assert 0 <= row.claimed <= row.quantity
    assert all(claim.quantity > 0 for claim in book.claims)


def _stock(shop: Shop) -> Stock:
    book = shop.book
    stock = Stock(version=book.version + 1)
    stock.lots = [lot for lots in book.lots.values() for lot in lots]
    stock.claims, stock.due = list(book.claims), [replace(row, claimed=0) for row in book.due]
    stock.orders = list(book.orders.values())
    return stock


def _new_lots(stock: Stock, proposal: Proposal) -> dict[str, int]:
    numbers: dict[str, int] = {}
    for new in proposal.lots:
        number = 5000 + 100 * stock.version + len(numbers)
        lot = Lot(number, new.part, new.name, new.received_on, 0, 0, 0, new.opened_on, new.use_by)
        stock.lots.append(replace(lot, smallest_diameter=new.smallest_diameter, length=new.length))
        numbers[new.tag] = number
    return numbers


def _move(stock: Stock, one: Line, lot: int | None) -> None:
    if one.account == "shelf":
        at = next(i for i, there in enumerate(stock.lots) if there.id == lot)
        now = stock.lots[at]
        assert fold(now.part) == fold(one.part)
        stock.lots[at] = replace(
            now,
            quantity=now.quantity + one.quantity,
            cost=now.cost + one.cost,
            cost_from=now.cost_from + one.cost_from,
        )
        assert stock.lots[at].quantity >= 0
    elif one.account == "due":
        stock.due = [_less(row, one) for row in stock.due]
    else:
        _claim(stock, one, lot)


def _less(row: DueIn, one: Line) -> DueIn:
    same = row.purchase == one.purchase
    return replace(row, quantity=row.quantity + one.quantity, cost=row.cost + one.cost) if same else row


def _claim(stock: Stock, one: Line, lot: int | None) -> None:
    purchase = one.purchase if isinstance(one.purchase, int) else None
    key = fold(one.order or ""), fold(one.part), one.account, lot, purchase
    for i, c in enumerate(stock.claims):
        if (fold(c.order), fold(c.part), c.account, c.lot, c.purchase) == key:
            stock.claims[i] = replace(c, quantity=c.quantity + one.quantity)
            assert stock.claims[i].quantity >= 0
            return
    assert one.quantity > 0
    stock.claims.append(Claim(one.order or "", one.part, one.account, one.quantity, lot, purchase))
