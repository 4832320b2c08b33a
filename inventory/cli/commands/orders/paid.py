"""`paid`: a customer paid for an order, or got money back."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated

import typer

from inventory.catalogue import find
from inventory.cli.answers import Answer, write
from inventory.cli.drawing.blocks import Fact
from inventory.cli.json.exact import Exact, Value
from inventory.cli.screens.entry import entry_screen
from inventory.cli.session import JsonOption, StoreOption, YesOption, booked_as, opened, say, shop_of
from inventory.jobs.orders.money.paying import Account, PaymentReport, pay
from inventory.measures import Currency, currency, read_money, show_money

if TYPE_CHECKING:
    from inventory.store import Read


def paid(
    order: Annotated[str, typer.Argument(help="The order.")],
    amount: Annotated[
        str, typer.Argument(metavar="[AMOUNT]", help="How much; all that is open if not said.")
    ] = "",
    back: Annotated[bool, typer.Option("--back", help="It is given back.")] = False,
    yes: YesOption = False,
    store: StoreOption = None,
    as_json: JsonOption = False,
) -> None:
    """An order is paid, all of it or a part; before it is made or after.

    For example:
    kitdrawer paid S42
    kitdrawer paid S42 50.00
    kitdrawer paid S42 50.00 --back
    """

    def work_out(read: Read) -> PaymentReport:
        shop = shop_of(read, lambda _: (), offers=False)
        meant = find(shop.book.orders, "order", order)
        return pay(shop, meant, read.paid(), read_money(amount, shop.currency) if amount else None, back=back)

    with opened(store) as found:
        with found.reading() as read:
            coin = currency(read.currency)

        def show(made: PaymentReport) -> None:
            say(
                entry_screen(
                    made.proposal.title,
                    made.proposal.on,
                    [Fact("So far", account_words(made.account, coin))],
                )
            )

        def body(_: int | None, made: PaymentReport) -> dict[str, Value]:
            exact = Exact(coin.exponent)
            return {
                "order": made.account.order.name,
                "currency": coin.code,
                "amount": exact.money(made.amount),
                **account_json(made.account, coin),
            }

        write(
            found,
            Answer(work_out, lambda made: made.proposal, show, "Book it?", booked_as, body),
            yes=yes,
            as_json=as_json,
        )


def account_words(one: Account, coin: Currency) -> str:
    """How an order stands with its money, in a sentence."""
    paid = f"{show_money(one.paid, coin)} paid"
    if one.open is None or one.agreed is None:
        return f"{paid}; no price was agreed."
    of = f"{paid} of {show_money(one.agreed, coin)}"
    if one.open < 0:
        return f"{of}: {show_money(-one.open, coin)} more than was agreed."
    return f"{of}: all of it." if not one.open else f"{of}, {show_money(one.open, coin)} open."


def account_json(one: Account, coin: Currency) -> dict[str, Value]:
    """The same for programs."""
    exact = Exact(coin.exponent)
    return {"agreed": exact.money(one.agreed), "paid": exact.money(one.paid), "owed": exact.money(one.owed)}
