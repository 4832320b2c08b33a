"""`handed-over`: the order is with its customer; its parts leave the book."""

from __future__ import annotations

import sys
from collections.abc import Callable
from dataclasses import replace
from typing import TYPE_CHECKING, Annotated

import typer

from inventory.catalogue import find, fold
from inventory.cli.answers import Answer, write
from inventory.cli.json.exact import Exact, Value
from inventory.cli.order_options import read_lost
from inventory.cli.screens.orders.handing_over import hand_over_screen
from inventory.cli.session import (
    AllOption,
    JsonOption,
    StoreOption,
    YesOption,
    agreed,
    booked_as,
    opened,
    say,
    shop_of,
    talk,
)
from inventory.errors import NeverMade
from inventory.jobs.orders.handing_over import HandingOver, HandOver, hand_over
from inventory.jobs.orders.money.paying import account, owed_in_words, with_hand_over
from inventory.jobs.orders.order_check import parts_involved
from inventory.jobs.orders.requests import request_of
from inventory.ledger.shop import Shop
from inventory.measures import Currency, currency, show_money

if TYPE_CHECKING:
    from inventory.store import Read, Store


def handed_over(
    order: Annotated[str, typer.Argument(help="The promised order.")],
    lost: Annotated[
        list[str] | None,
        typer.Option(help="Pieces spoiled on the way, as STAGE=N (turn=1); may be repeated."),
    ] = None,
    count: Annotated[
        int | None,
        typer.Option(help="How many of its pieces; all if not said. The rest stays promised.", min=1),
    ] = None,
    made_now: Annotated[
        bool,
        typer.Option("--made-now", help="What was not booked as made was made now: use its parts."),
    ] = False,
    paid: Annotated[bool, typer.Option("--paid", help="It is paid, as far as it was not before.")] = False,
    every: AllOption = False,
    yes: YesOption = False,
    store: StoreOption = None,
    as_json: JsonOption = False,
) -> None:
    """An order, or a part of it, is handed over: what went into it is used, first in, first out.

    For example:
    kitdrawer handed-over S41
    kitdrawer handed-over S42 --count 4
    kitdrawer handed-over S41 --lost turn=1
    kitdrawer handed-over S41 --paid
    """
    said = HandingOver(count, dict(read_lost(text) for text in lost or []), made_now)

    def work_out(read: Read) -> HandOver:
        made = _worked_out(read, order, said)
        return _with_money(read, made, order, said, paid=paid)

    with opened(store) as found:
        said = _asked(found, work_out, said, asks=not (yes or as_json))
        with found.reading() as read:
            coin = currency(read.currency)

        def show(made: HandOver) -> None:
            say([*hand_over_screen(made, coin, everything=every), ""])

        def body(_: int | None, made: HandOver) -> dict[str, Value]:
            return _json(made, coin)

        write(
            found,
            Answer(work_out, lambda made: made.proposal, show, "Book it as handed over?", _told, body),
            yes=yes,
            as_json=as_json,
        )


def _worked_out(read: Read, name: str, said: HandingOver) -> HandOver:
    book = read.book(())
    noted = find(book.orders, "order", name)

    def wanted(bare: Shop) -> set[str]:
        involved = parts_involved(bare.catalogue, request_of(noted), min(noted.due, bare.today))
        return {*involved, *(claim.part for claim in book.claims)}

    return hand_over(shop_of(read, wanted), noted, replace(said, session=_planned(read, noted.name)))


def _with_money(read: Read, made: HandOver, name: str, said: HandingOver, *, paid: bool) -> HandOver:
    """The hand-over with what is owed for its pieces said. paid: it is paid, in the same entry."""
    order, before, coin = find(read.orders(), "order", name), read.paid(), currency(read.currency)
    pieces = order.count if said.count is None else said.count
    if not paid:
        after = account(order, before, pieces)
        return replace(made, account=after, said=(*made.said, owed_in_words(after, coin)))
    payments = with_hand_over(order, before, pieces)
    came = sum(one.amount for one in payments)
    told = f"Paid {show_money(came, coin)}." if payments else "It was paid before."
    key = fold(order.name)
    after = account(order, {**before, key: before.get(key, 0) + came}, pieces)
    proposal = replace(made.proposal, payments=payments)
    return replace(made, proposal=proposal, account=after, said=(*made.said, told))


def _planned(read: Read, order: str) -> str:
    """The planned session an order stands in; empty where there is none."""
    return next(
        (
            one.name
            for one in read.sessions()
            if one.state == "planned" and any(fold(row.order) == fold(order) for row in one.rows)
        ),
        "",
    )


def _asked(
    store: Store, work_out: Callable[[Read], HandOver], said: HandingOver, *, asks: bool
) -> HandingOver:
    """What is said, and where somebody is there to ask: whether pieces nobody booked as made were made now."""
    if not asks or said.made_now:
        return said
    try:
        with store.reading() as read:
            work_out(read)
    except NeverMade as error:
        if not (sys.stdin and sys.stdin.isatty()):
            raise
        talk(error.message)
        if not agreed("Were they made now, so that their parts are used now?", yes=False):
            raise
        return replace(said, made_now=True)
    return said


def _told(number: int | None, made: HandOver) -> None:
    owed = made.account is not None and made.account.owed
    booked_as(number, made, *([("Who owes what", "kitdrawer orders --unpaid")] if owed else []))


def _json(made: HandOver, coin: Currency) -> dict[str, Value]:
    exact = Exact(coin.exponent)
    return {
        "currency": coin.code,
        "said": list(made.said),
        "cost": exact.money(made.cost),
        **_money(made, exact),
        "drawn": [
            {
                "part": one.part,
                "quantity": exact.amount(one.quantity),
                "cost": exact.money(one.cost),
                "found": exact.amount(one.found),
            }
            for one in made.drawn
        ],
    }


def _money(made: HandOver, exact: Exact) -> dict[str, Value]:
    """As `paid` says them; null where no price is agreed."""
    after = made.account
    return {
        "agreed": exact.money(after.agreed if after else None),
        "paid": exact.money(after.paid if after else None),
        "owed": exact.money(after.owed if after else None),
    }
