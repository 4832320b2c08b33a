"""`spent`: money that went for no part: a stall, a commission, fuel, postage, packaging."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated

import typer

from inventory.catalogue import find
from inventory.cli.answers import Answer, write
from inventory.cli.json.exact import Exact, Value
from inventory.cli.screens.entry import entry_screen
from inventory.cli.session import JsonOption, StoreOption, YesOption, booked_as, opened, say, shop_of
from inventory.jobs.accounts.spending import expense, spending
from inventory.measures import currency, read_date, read_money
from inventory.measures.text import plain

if TYPE_CHECKING:
    from inventory.ledger import Proposal
    from inventory.store import Read


def spent(
    what: Annotated[str, typer.Argument(help='What for: "stall fee", commission, postage, packaging, fuel.')],
    amount: Annotated[str, typer.Argument(help="How much.")],
    at: Annotated[str, typer.Option(help="At which market, as `sold --at` has it.")] = "",
    on: Annotated[str, typer.Option(metavar="DATE", help="The day; else today.")] = "",
    order: Annotated[str, typer.Option(help="The order it was for.")] = "",
    yes: YesOption = False,
    store: StoreOption = None,
    as_json: JsonOption = False,
) -> None:
    """Money was spent on what is no part of the shelf: `earned` takes it off what was sold.

    For example:
    kitdrawer spent "stall fee" 45 --at "harbour market"
    kitdrawer spent postage 4.50 --order S42 --on 2026-11-20
    """
    words, where = plain(what, "name"), plain(at, "name") if at else ""
    day = read_date(on) if on else None

    def work_out(read: Read) -> Proposal:
        shop = shop_of(read, lambda _: (), offers=False)
        of = find(shop.book.orders, "order", order) if order else None
        return spending(
            shop, expense(shop, words, read_money(amount, shop.currency), day or shop.today, where, of)
        )

    def show(made: Proposal) -> None:
        say(entry_screen(made.title, made.on))

    with opened(store) as found:
        with found.reading() as read:
            coin = currency(read.currency)

        def body(_: int | None, made: Proposal) -> dict[str, Value]:
            (one,) = made.expenses
            money = Exact(coin.exponent).money(one.amount)
            told = {"what": one.what, "currency": coin.code, "amount": money, "on": one.on}
            return {**told, "at": one.at or None, "order": one.order}

        write(
            found,
            Answer(work_out, lambda made: made, show, "Book it?", booked_as, body),
            yes=yes,
            as_json=as_json,
        )
