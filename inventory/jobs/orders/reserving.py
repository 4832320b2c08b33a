"""The shop as it would be: with an order's claims let go, or with another order's parts taken."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace

from inventory.catalogue import Kit, Order, fold
from inventory.errors import KitdrawerError
from inventory.jobs.orders.order_check import OrderReport, check
from inventory.jobs.orders.requests import OrderRequest, request_of
from inventory.ledger import Balance, Claim, Lot
from inventory.ledger.claims import claims_of
from inventory.ledger.shop import Shop


def without_claims(shop: Shop, order: str) -> Shop:
    """The shop as if the order's own claims were free, so that it can be looked at (or served) anew."""
    own = claims_of(shop.book, order)
    freed = [replace(claim, quantity=-claim.quantity) for claim in own]
    return _claimed(replace(shop, book=replace(shop.book, claims=shop.book.claims_beside(order))), freed)


def promised_request(shop: Shop, order: Order, confidence: float = 0.9) -> OrderRequest:
    """The request a promised order stands for now: in the plating it holds, and not past though its day may be."""
    request = request_of(order, confidence)
    platings = held_platings(shop, order) or request.platings
    return replace(request, due=max(order.due, shop.today), platings=platings)


def held_platings(shop: Shop, order: Order) -> tuple[str, ...]:
    """The plating whose kits are set aside or to buy for the order: all its pieces are made in that one."""
    found = []
    for claim in claims_of(shop.book, order.name):
        detail = shop.catalogue.part(claim.part).detail
        if isinstance(detail, Kit):
            found.append(detail.plating)
    return tuple(dict.fromkeys(found))[:1]


IN_TURN = "Each enquiry was looked at once those due before it had taken their parts."
"""What a person is told who sees several judged."""


def in_turn(
    shop: Shop, orders: Iterable[Order], confidence: float = 0.9
) -> Iterator[tuple[Order, OrderReport | KitdrawerError]]:
    """Judge orders one after the other, earliest due first, each once those before it that can be taken have taken
    what they need. An order that cannot be worked out is given with its error, and takes nothing.
    """
    for order in sorted(orders, key=lambda order: (order.due, fold(order.name))):
        try:
            report = check(shop, request_of(order, confidence))
        except KitdrawerError as error:
            yield order, error
            continue
        yield order, report
        if report.verdict in ("from the shelf", "after buying"):
            shop = set_aside(shop, report)


def set_aside(shop: Shop, report: OrderReport) -> Shop:
    """The shop once this order has taken what it needs, of the shelf and of what is due in.

    What it buys besides is not there for others either.
    """
    due = {row.purchase: row.part for row in shop.book.due}
    taken = [
        Claim("", due[purchase], "due claim", quantity, purchase=purchase)
        for purchase, quantity in report.sourcing.taken.items()
    ]
    for need in report.plan.parts:
        if need.tool:
            continue
        left = min(need.need, need.free)
        if need.is_blank:
            for cut in report.plan.blanks.cuts:
                if cut.lot is not None:
                    taken.append(Claim("", need.part.name, "claim", 1000 * cut.blanks, lot=cut.lot))
                    left -= 1000 * cut.blanks
        taken.append(Claim("", need.part.name, "claim", max(left, 0)))
    return _claimed(shop, taken)


def _claimed(shop: Shop, claims: Iterable[Claim]) -> Shop:
    """The shop with more (or, negative, fewer) shelf and due-in claims in its balances, lots and due lines."""
    balances: dict[str, Balance] = dict(shop.book.balances)
    lots: dict[str, tuple[Lot, ...]] = dict(shop.book.lots)
    due = list(shop.book.due)
    for claim in claims:
        key = fold(claim.part)
        old = balances.get(key, Balance())
        if claim.account == "claim":
            balances[key] = replace(old, claimed=old.claimed + claim.quantity)
            lots[key] = tuple(
                replace(lot, claimed=lot.claimed + claim.quantity) if lot.id == claim.lot else lot
                for lot in lots.get(key, ())
            )
        elif claim.account == "due claim":
            balances[key] = replace(old, due_claimed=old.due_claimed + claim.quantity)
            due = [
                replace(row, claimed=row.claimed + claim.quantity) if row.purchase == claim.purchase else row
                for row in due
            ]
        else:
            balances[key] = replace(old, to_buy=old.to_buy + claim.quantity)
    return replace(shop, book=replace(shop.book, balances=balances, lots=lots, due=tuple(due)))
