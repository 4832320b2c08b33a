"""`orders`: requests and promises, and how each stands."""

from __future__ import annotations

from datetime import timedelta
from pathlib import Path
from typing import Annotated

import typer

from inventory.cli.json.exact import Exact, Value, dumps
from inventory.cli.session import JsonOption, StoreOption, ended, opened, say, shop_of
from inventory.errors import BadInput
from inventory.jobs.orders.standing.listing import Standing
from inventory.ledger.shop import Shop
from inventory.measures import show_date


def orders(
    order: Annotated[str, typer.Argument(help="Only this order, in full.")] = "",
    everything: Annotated[bool, typer.Option("--all", help="Handed-over and released ones too.")] = False,
    within: Annotated[
        str,
        typer.Option(
            metavar="DAYS", help="Only what is due so soon (7d, 2w), with what each lacks and the work left."
        ),
    ] = "",
    save: Annotated[
        Path | None,
        typer.Option(readable=False, metavar="FILE", help="With --within: a sheet of it (.xlsx or .csv)."),
    ] = None,
    overwrite: Annotated[bool, typer.Option("--overwrite", help="Replace what is there.")] = False,
    unpaid: Annotated[bool, typer.Option("--unpaid", help="What is not paid in full, and who owes.")] = False,
    store: StoreOption = None,
    as_json: JsonOption = False,
) -> None:
    """Enquiries and promises, and how each stands, earliest due first.

    For example:
    kitdrawer orders
    kitdrawer orders S42
    kitdrawer orders --all
    kitdrawer orders --within 7d
    kitdrawer orders --within 2w --save due.xlsx
    kitdrawer orders --unpaid
    """
    if save and not within:
        raise BadInput(
            "--save goes with --within.", hint="Say how soon: kitdrawer orders --within 2w --save FILE"
        )
    if unpaid:
        _unpaid(within or order, store, as_json=as_json, everything=everything)
        return
    if within:
        if order or everything:
            raise BadInput("--within is for all open orders.", hint="Leave the order's name and --all out.")
        _soon(within, store, save, as_json=as_json, overwrite=overwrite)
        return
    from inventory.jobs.orders.standing import listing as job

    with opened(store) as found, found.reading() as read:
        shop = shop_of(read)
        answer = job.standings(shop, order, everything=everything)
    if as_json:
        say(dumps({"currency": shop.currency.code, "orders": [_json(shop, one) for one in answer]}))
    else:
        from inventory.cli.screens.orders.listing import order_in_hand, orders_screen

        if order:
            say(order_in_hand(shop, answer[0], everything=everything))
        else:
            say(orders_screen(answer, shop.today, everything=everything))
    ended(short=any(one.late for one in answer))


def _unpaid(other: str, store: str | None, *, as_json: bool, everything: bool) -> None:
    """Who owes what."""
    if other:
        raise BadInput("--unpaid is for all orders.", hint="Leave the order's name and --within out.")
    from inventory.cli.commands.orders.paid import account_json
    from inventory.cli.screens.days.unpaid import unpaid_screen
    from inventory.jobs.orders.money.paying import together
    from inventory.jobs.orders.money.paying import unpaid as job

    with opened(store) as found, found.reading() as read:
        shop = shop_of(read, lambda _: (), offers=False)
        accounts = job(shop, read.paid())
    if not as_json:
        say(unpaid_screen(accounts, shop.currency, shop.today, everything=everything))
        return
    exact = Exact(shop.currency.exponent)
    owed, more = together(accounts)
    rows: list[Value] = [
        {
            "order": one.order.name,
            "customer": one.order.customer or None,
            "state": one.order.state,
            "due": one.order.due,
            **account_json(one, shop.currency),
        }
        for one in accounts
    ]
    sums = {"owed": exact.money(owed), "to_come": exact.money(more)}
    say(dumps({"currency": shop.currency.code, **sums, "orders": rows}))


def _soon(within: str, store: str | None, save: Path | None, *, as_json: bool, overwrite: bool) -> None:
    """What is due within so many days."""
    from inventory.cli.screens.due_soon import days_of, soon_json, soon_rows, soon_screen
    from inventory.jobs.orders.standing.due_soon import due_soon

    days = days_of(within)
    with opened(store) as found, found.reading() as read:
        shop = shop_of(read)
        until = shop.today + timedelta(days=days)
        answer = due_soon(shop, until)
    if save is not None:
        from inventory.sheets.orders.due_soon import write_due_soon

        title = f"Due by {show_date(until)}"
        write_due_soon(save, title, soon_rows(answer, shop.today), overwrite=overwrite)
    if as_json:
        rows = [{**_json(shop, one.standing), **soon_json(one)} for one in answer]
        say(dumps({"currency": shop.currency.code, "until": until, "orders": rows}))
    else:
        say([*soon_screen(answer, shop.today, until), *(["", f"Saved: {save}"] if save is not None else [])])
    ended(short=any(one.standing.late for one in answer))


def _json(shop: Shop, one: Standing) -> dict[str, Value]:
    exact, order = Exact(shop.currency.exponent), one.order
    return {
        "order": order.name,
        "state": order.state,
        "stands": one.stands,
        "late": one.late,
        "pattern": order.pattern,
        "blank": order.blank,
        "blank_wish": order.blanks or None,
        "count": order.whole,
        "handed_over": order.whole if order.state == "handed over" else order.handed,
        "due": order.due,
        "platings": list(order.platings),
        "customer": order.customer or None,
        "refill": order.refill,
        "price": exact.money(order.price),
        "claims": [
            {
                "part": claim.part,
                "from": {"claim": "the shelf", "due claim": "due in", "to buy": "to buy"}[claim.account],
                "quantity": exact.amount(claim.quantity),
            }
            for claim in one.claims
        ],
    }
