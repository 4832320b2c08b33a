"""`release`: give an order up."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated

import typer

from inventory.catalogue import find
from inventory.cli.booking import book
from inventory.cli.session import StoreOption, YesOption, opened, say, shop_of
from inventory.cli.tables import wrapped
from inventory.jobs.promising import release as propose
from inventory.ledger import Proposal

if TYPE_CHECKING:
    from inventory.store import Read


def release(
    order: Annotated[str, typer.Argument(help="The promised order.")],
    yes: YesOption = False,
    store: StoreOption = None,
) -> None:
    """Give a promised order up: its parts are free again, or go to the orders that wait for them.

    For example:
    kitdrawer release S41
    """

    def work_out(read: Read) -> Proposal:
        shop = shop_of(read, lambda _: (), offers=False)
        return propose(shop, find(shop.book.orders, "order", order))

    with opened(store) as found:
        number, done = book(found, work_out, lambda made: made, _show, "Release it?", yes=yes)
    say("Nothing was changed." if number is None else f"Released as document {number}.")
    if number is not None:
        for line in done.lines:
            if line.account == "claim" and line.quantity > 0:
                say(wrapped(f"{line.part} goes to “{line.order}”, which waited for it.", "· "))


def _show(made: Proposal) -> None:
    freed = [line for line in made.lines if line.account == "claim" and line.quantity < 0]
    say(wrapped(f"{made.title}: {len(freed)} parts are set free."))
