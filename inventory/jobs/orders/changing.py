"""An order as the customer wants it now: judged again, and what is set aside for it moved in the same entry."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, fields, replace

from inventory.catalogue import Order, Part, fold
from inventory.errors import BadInput, Refused
from inventory.jobs.orders.finished import made_for
from inventory.jobs.orders.order_check import OrderReport, check
from inventory.jobs.orders.promising import setting_aside
from inventory.jobs.orders.requests import OrderRequest, refuse_retired, request_of
from inventory.jobs.stock.drawing import shop_of
from inventory.ledger import Line, Proposal
from inventory.ledger.availability import off_in
from inventory.ledger.claims import let_go, settle
from inventory.ledger.documents.drafting import Draft
from inventory.ledger.shop import Shop
from inventory.measures import plural, show_date, show_money


@dataclass(frozen=True, slots=True)
class ChangedOrder:
    """The proposed document, the order before and after, and what it needs now.

    freed: parts of which less is set aside for it or to buy, thousandths; handed_on: what others that waited get.
    """

    proposal: Proposal
    shop: Shop
    before: Order
    order: Order
    report: OrderReport
    freed: tuple[tuple[Part, int], ...] = ()
    handed_on: tuple[Line, ...] = ()


def change(
    shop: Shop, before: Order, wanted: Order, confidence: float = 0.9, *, as_it_is: bool = False
) -> ChangedOrder:
    """The order as it is wanted now. wanted: with the whole count, also what is with the customer already.

    as_it_is: nothing of it need change, for its plan is made anew.

    Raises Refused where it is over, BadInput where nothing changes or fewer are wanted than were handed over.
    """
    if before.state not in ("wish", "promised"):
        raise Refused(
            f"The order “{before.name}” is {before.state}.", hint="Note what is wanted as a new order."
        )
    if wanted.count <= before.handed:
        there = f"{plural(before.handed, 'piece')} of “{before.name}” {'is' if before.handed == 1 else 'are'}"
        raise BadInput(
            f"{there} with the customer already.", hint=f"Want more than {before.handed}, with --count."
        )
    order = replace(wanted, count=wanted.count - before.handed, handed=before.handed)
    if shop.catalogue.pattern(order.pattern).name != shop.catalogue.pattern(before.pattern).name:
        refuse_retired(shop.catalogue, request_of(order))
    draft = Draft(shop.book, shop.prices)
    draft.add(let_go(shop.book, before.name))
    freed = shop_of(shop, draft)
    report = check(freed, wanted_request(shop, order, confidence))
    order = _spelled(order, report)
    if order == before and not as_it_is:
        raise BadInput(
            f"“{before.name}” is so already.", hint="Say what changes, such as --count 3 or --by 2026-12-20."
        )
    handed_on = _move(shop, draft, order, report) if before.state == "promised" else ()
    proposal = Proposal(
        "change",
        f"Change {order.name}: {', '.join(differences(shop, before, order)) or 'its plan'}",
        shop.today,
        lines=tuple(draft.lines) if before.state == "promised" else (),
        agreed=(order,),
        order_states=((order.name, before.state),),
        expected_version=shop.book.version,
    )
    return ChangedOrder(proposal, freed, before, order, report, tuple(_freed(shop, draft, order)), handed_on)


def wanted_request(shop: Shop, order: Order, confidence: float = 0.9) -> OrderRequest:
    """What an order asks for that is judged anew: of any blank that would do, as long as none of it is made yet."""
    begun = order.handed or made_for(shop, order.name)
    return replace(request_of(order, confidence), blank=order.blank if begun else order.blanks or order.blank)


def _spelled(order: Order, report: OrderReport) -> Order:
    """The order in the book's own words, of the blank that was chosen."""
    resolved = report.resolved
    platings = tuple(plating for plating, _ in resolved.kits)
    blanks = resolved.wish.words or (order.blanks if fold(order.blank) == fold(resolved.blank.name) else "")
    return replace(
        order, pattern=resolved.pattern.name, blank=resolved.blank.name, platings=platings, blanks=blanks
    )


def _move(shop: Shop, draft: Draft, order: Order, report: OrderReport) -> tuple[Line, ...]:
    """Set aside for the order what it needs now, then give others what is over; what those get."""
    parts = {line.part for line in draft.lines if line.account == "claim"}
    # whose turn it is goes by the day it is wanted now
    draft.book = replace(draft.book, orders={**draft.book.orders, fold(order.name): order})
    draft.add(setting_aside(shop_of(shop, draft), order, report))
    there = {part: draft.book.balance(part).on_hand for part in sorted(parts)}
    off = off_in(draft.book, shop.catalogue.parts, shop.today)
    return tuple(line for line in draft.add(settle(draft.book, there, off=off)) if line.quantity > 0)


def _freed(shop: Shop, draft: Draft, order: Order) -> Iterator[tuple[Part, int]]:
    """Parts of which the order has less than before, set aside, due or to buy together."""
    moved: Counter[str] = Counter()
    for line in draft.lines:
        if line.order and fold(line.order) == fold(order.name):
            moved[line.part] -= line.quantity
    for name, less in moved.items():
        if less > 0:
            yield shop.catalogue.part(name), less


_CALLED = {"whole": "count", "extra_diameter": "extra diameter", "blanks": "blanks that would do"}


def differences(shop: Shop, before: Order, now: Order) -> Iterable[str]:
    """What is otherwise: `count 6 → 4`."""
    names = [
        "whole",
        *(one.name for one in fields(Order) if one.name not in ("name", "count", "handed", "state")),
    ]
    for name in names:
        was, says = (_shown(shop, name, getattr(one, name)) for one in (before, now))
        if was != says:
            yield f"{_CALLED.get(name, name)} {was or '(none)'} → {says or '(none)'}"


def _shown(shop: Shop, name: str, value: object) -> str:
    if name == "price":
        return "" if value is None else show_money(int(str(value)), shop.currency)
    if isinstance(value, tuple):
        return " or ".join(map(str, value))
    return "" if value is None else show_date(value) if name == "due" else str(value)  # type: ignore[arg-type]  # a day
