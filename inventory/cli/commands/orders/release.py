"""`release`: give an order up."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING, Annotated

import typer

from inventory.catalogue import find
from inventory.cli.answers import Answer, write
from inventory.cli.json.exact import Exact, Value
from inventory.cli.screens.entry import entry_screen, labelled
from inventory.cli.session import JsonOption, StoreOption, YesOption, booked_as, opened, say, shop_of
from inventory.jobs.orders.promising import release as propose
from inventory.ledger import Line, Proposal
from inventory.ledger.shop import Shop
from inventory.measures import plural

if TYPE_CHECKING:
    from inventory.store import Read


def release(
    order: Annotated[str, typer.Argument(help="The promised order.")],
    yes: YesOption = False,
    store: StoreOption = None,
    as_json: JsonOption = False,
) -> None:
    """Give a promised order up: its parts are free again, or go to the orders that wait for them.

    For example:
    kitdrawer release S41
    """

    def work_out(read: Read) -> Proposal:
        def held(bare: Shop) -> Iterable[str]:
            return [claim.part for claim in bare.book.claims_of(order)]

        shop = shop_of(read, held, offers=False)
        return propose(shop, find(shop.book.orders, "order", order))

    with opened(store) as found:
        write(
            found,
            Answer(work_out, lambda made: made, _show, "Release it?", booked_as, _json),
            yes=yes,
            as_json=as_json,
        )


def _handed_on(made: Proposal) -> list[Line]:
    return [line for line in made.lines if line.account == "claim" and line.quantity > 0]


def _json(_: int | None, made: Proposal) -> dict[str, Value]:
    exact = Exact(0)
    return {
        "released": [name for name, _ in made.order_states],
        "freed": sum(1 for line in made.lines if line.account == "claim" and line.quantity < 0),
        "handed_on": [
            {"order": line.order, "part": line.part, "quantity": exact.amount(line.quantity)}
            for line in _handed_on(made)
        ],
    }


def _show(made: Proposal) -> None:
    freed = [line for line in made.lines if line.account == "claim" and line.quantity < 0]
    goes = [f"{line.part} goes to “{line.order}”, which waited for it" for line in _handed_on(made)]
    said = labelled("Goes on", goes, made.on.year)
    say(entry_screen(f"{made.title}: {plural(len(freed), 'part is', 'parts are')} free again", made.on, said))
