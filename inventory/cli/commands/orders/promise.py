"""`promise`: say yes, and set the parts aside."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Annotated

import typer

from inventory.catalogue import Order, fold
from inventory.cli.answers import Answer, write
from inventory.cli.commands.orders.can_take import instead_of, order_named, whole_shop
from inventory.cli.drawing.texts import pasted, wrapped
from inventory.cli.json.exact import Exact, Value
from inventory.cli.json.order import order_json
from inventory.cli.order_options import (
    BlankOption,
    ByOption,
    ConfidenceOption,
    CountOption,
    ExtraOption,
    OrderOptions,
    OrPlatingOption,
    PlatingOption,
    RefillOption,
    read_confidence,
)
from inventory.cli.past.asked_for import with_leaves
from inventory.cli.screens.orders.promising import promise_screen
from inventory.cli.session import JsonOption, StoreOption, YesOption, booked_as, opened, say
from inventory.errors import BadInput
from inventory.jobs.hours.time_left import with_hours
from inventory.jobs.orders.alternatives import Alternative
from inventory.jobs.orders.order_check import OrderReport, check
from inventory.jobs.orders.promising import promise as propose
from inventory.jobs.orders.requests import request_of
from inventory.jobs.orders.reserving import without_claims
from inventory.ledger import Proposal
from inventory.ledger.shop import Shop
from inventory.measures import currency, plural

if TYPE_CHECKING:
    from inventory.store import Read


ACCOUNTS = ("claim", "due claim", "to buy")
"""Where what an order needs may stand."""


@dataclass(frozen=True, slots=True)
class Promise:
    """What is about to be promised."""

    shop: Shop
    order: Order
    report: OrderReport
    proposal: Proposal
    instead: Sequence[Alternative] = ()


def promise(
    order: Annotated[str, typer.Argument(help="The order's name: one noted in the book, or a new one.")],
    pattern: Annotated[
        str, typer.Option("--pattern", "-m", help="For a new order: what is to be made.")
    ] = "",
    plating: PlatingOption = "",
    blank: BlankOption = "",
    count: CountOption = None,
    by: ByOption = "",
    or_plating: OrPlatingOption = None,
    refill: RefillOption = "",
    extra_diameter: ExtraOption = "",
    customer: Annotated[str, typer.Option(help="For a new order: for whom.")] = "",
    price: Annotated[str, typer.Option(help="For a new order: the price of a piece.")] = "",
    confidence: ConfidenceOption = "90",
    yes: YesOption = False,
    store: StoreOption = None,
    as_json: JsonOption = False,
) -> None:
    """Take an order: what it needs is set aside, the shelf first, then what is due in; the rest is to buy.

    For example:
    kitdrawer promise S41
    kitdrawer promise T7 -m "Avocet pen" -p chrome -b "ash blank" --by 2026-12-20
    """
    sure = read_confidence(confidence)
    said = OrderOptions(
        pattern, plating, blank, count, by, or_plating, refill, extra_diameter, customer, price
    )

    def work_out(read: Read) -> Promise:
        if not said:
            return _promise(read, order_named(read, order), sure)
        _check_new(read, order.strip())
        return _promise(read, said.order(order.strip(), currency(read.currency)), sure)

    with opened(store) as found:
        write(
            found,
            Answer(work_out, lambda made: made.proposal, _show, "Promise it?", _tell, _json, _short),
            yes=yes,
            as_json=as_json,
        )


def _check_new(read: Read, name: str) -> None:
    if not name:
        raise BadInput("The order has no name.", hint="Give it one to find it by, such as “Stall 7”.")
    known = read.orders().get(fold(name))
    if known is not None and known.state != "released":
        raise BadInput(
            f"There is already an order “{known.name}” ({known.state}).",
            hint="Promise it by its name alone, or give the new one another name.",
        )


def _promise(read: Read, order: Order, confidence: float) -> Promise:
    request = request_of(order, confidence)
    whole = whole_shop(read, request)
    shop = without_claims(whole, request.order) if request.order else whole
    if order.state == "promised":
        report = with_hours(shop, check(shop, request, exactly=True))
        return Promise(shop, order, report, propose(shop, order, report))  # which refuses it
    report = with_leaves(read, shop, with_hours(shop, check(shop, request, exactly=True)))
    resolved = report.resolved
    spelled = Order(
        order.name,
        resolved.pattern.name,
        resolved.blank.name,
        order.count,
        order.due,
        tuple(plating for plating, _ in resolved.kits),
        order.customer,
        order.refill,
        order.extra_diameter,
        order.price,
        order.state,
        blanks=resolved.wish.words,
    )
    return Promise(shop, spelled, report, propose(shop, spelled, report), instead_of(read, whole, report))


def _show(made: Promise) -> None:
    say(promise_screen(made.shop, made.report, made.instead))
    say()


def _short(made: Promise) -> bool:
    return any(line.account == "to buy" for line in made.proposal.lines)


def _json(_: int | None, made: Promise) -> dict[str, Value]:
    exact = Exact(made.shop.currency.exponent)
    where = {"claim": "set_aside", "due claim": "due_in", "to buy": "to_buy"}
    claims: dict[str, Value] = {
        name: [
            {"part": line.part, "quantity": exact.amount(line.quantity)}
            for line in made.proposal.lines
            if line.account == account
        ]
        for account, name in where.items()
    }
    return {**order_json(made.shop, made.report), "order": made.order.name, **claims}


def _tell(number: int | None, made: Promise) -> None:
    if number is None:
        say("Not promised.")
        return
    lines = made.proposal.lines
    parts = {account: {line.part for line in lines if line.account == account} for account in ACCOUNTS}
    shelf, due = len(parts["claim"]), len(parts["due claim"])
    missing = len(parts["to buy"])
    text = f"“{made.order.name}” is promised: {plural(shelf, 'part')} set aside"
    text += f", {due} waiting for what is due in" if due else ""
    text += f", {missing} to buy" if missing else ""
    say(wrapped(f"{text}."))
    booked_as(
        number,
        made,
        ("Next", "kitdrawer shopping" if missing else f"kitdrawer plan {pasted(made.order.name)}"),
    )
