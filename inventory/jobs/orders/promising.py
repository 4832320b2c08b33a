"""Promising an order: its parts are set aside, the shelf first, then what is due in; the rest is to buy."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from datetime import date

from inventory.catalogue import Order, fold, state_called
from inventory.errors import Refused
from inventory.jobs.orders.needs import PartNeed
from inventory.jobs.orders.order_check import OrderReport
from inventory.jobs.orders.requests import refuse_retired, request_of
from inventory.ledger import Line, Proposal
from inventory.ledger.availability import off_in
from inventory.ledger.claims import let_go, settle
from inventory.ledger.lateness import counted_on
from inventory.ledger.shop import Shop


def promise(shop: Shop, order: Order, report: OrderReport) -> Proposal:
    """The document that takes an order. Raises Refused where it was taken before, is over, or of what is retired."""
    refuse_retired(shop.catalogue, request_of(order))
    known = shop.book.orders.get(fold(order.name))
    if known is not None and known.state in ("promised", "handed over"):
        hint = (
            "`orders` shows how it stands." if known.state == "promised" else "Give the new one another name."
        )
        raise Refused(f"The order “{known.name}” is already {known.state}.", hint=hint)
    lines = setting_aside(shop, order, report)
    chosen_now = known is not None and known.state == "wish" and known.blank != order.blank
    return Proposal(
        "promise",
        f"Promise {order.name}",
        shop.today,
        lines=tuple(lines),
        orders=() if known == order or chosen_now else (replace(order, state="wish"),),
        agreed=(order,) if chosen_now else (),
        order_states=((order.name, "promised"),),
        expected_version=shop.book.version,
    )


def setting_aside(shop: Shop, order: Order, report: OrderReport) -> tuple[Line, ...]:
    """The claims an order gets of what its answer needs: the shelf first, then what is due in, the rest to buy."""
    return tuple(
        line
        for part in _totals(report.plan.parts)
        for line in _set_aside(shop, order.name, part, report, order.due)
    )


def release(shop: Shop, order: Order) -> Proposal:
    """The document that gives an order up: its claims end, and what it held goes to those who wait."""
    if order.state != "promised":
        raise Refused(
            f"The order “{order.name}” is not promised: it is {state_called(order.state)}.",
            hint="`kitdrawer orders` shows how each stands.",
        )
    lines = let_go(shop.book, order.name)
    parts = {line.part: shop.book.balance(line.part).on_hand for line in lines if line.account == "claim"}
    off = off_in(shop.book, shop.catalogue.parts, shop.today)
    return Proposal(
        "release",
        f"Release {order.name}",
        shop.today,
        lines=(*lines, *settle(shop.book, parts, without=order.name, off=off)),
        order_states=((order.name, "released"),),
        expected_version=shop.book.version,
    )


def _totals(parts: Iterable[PartNeed]) -> tuple[PartNeed, ...]:
    """One need a part, its stages added up; tools are laid out, not set aside."""
    sums: dict[str, PartNeed] = {}
    for part in parts:
        if part.tool or not part.need:
            continue
        key = fold(part.part.name)
        old = sums.get(key)
        sums[key] = replace(old, need=old.need + part.need) if old else part
    return tuple(sums.values())


def _set_aside(shop: Shop, order: str, need: PartNeed, report: OrderReport, due: date) -> list[Line]:
    name = need.part.name
    lines, left = [], need.need
    if need.is_blank:
        for cut in report.plan.blanks.cuts:
            if cut.lot is not None:
                lines.append(
                    Line("claim", name, 1000 * cut.blanks, lot=cut.lot, order=order, reason="claimed")
                )
                left -= 1000 * cut.blanks
    there = need.free - sum(line.quantity for line in lines)
    if got := min(left, max(there, 0)):
        lines.append(Line("claim", name, got, order=order, reason="claimed"))
        left -= got
    for row in sorted(shop.book.due, key=lambda row: row.expected_on or date.max):
        free = row.quantity - row.claimed
        day = counted_on(shop.book, row, shop.today) if fold(row.part) == fold(name) else None
        if day is None or day > due or not left or not free:
            continue
        got = min(left, free)
        lines.append(Line("due claim", name, got, purchase=row.purchase, order=order, reason="claimed"))
        left -= got
    if left:
        lines.append(Line("to buy", name, left, order=order, reason="missing"))
    return lines
