"""Who owes what, on the screen."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from inventory.cli.drawing.blocks import Cells, Listing, Screen
from inventory.cli.drawing.colour import look
from inventory.cli.drawing.draw import draw
from inventory.cli.drawing.texts import pasted
from inventory.jobs.orders.money.paying import Account, together
from inventory.measures import Currency, show_day, show_money


def unpaid_screen(accounts: Sequence[Account], coin: Currency, today: date, *, everything: bool) -> list[str]:
    """The sums first, then each order that is not paid in full, those of which something is owed first."""
    day = show_day(today)
    if not accounts:
        return draw(Screen(f"Everything is paid, {day}."))
    owed, more = together(accounts)
    head = (
        f"Owed {show_money(owed, coin)} for what customers have, {day}; "
        f"{show_money(more, coin)} more for what is promised."
    )
    columns = (
        Cells("Order"),
        Cells("For", folds=1),
        Cells("State", folds=4),
        Cells("Due", folds=3),
        Cells("Agreed", right=True, folds=2),
        Cells("Paid", right=True, folds=2),
        Cells("Owed", right=True),
    )
    ordered = sorted(accounts, key=lambda one: not one.owed)
    rows = [_row(one, coin, today.year) for one in ordered]
    following = ("Paid", f"kitdrawer paid {pasted(ordered[0].order.name)}")
    return draw(
        Screen(head, (), [[Listing(columns, rows, least=0)]], following=following), everything=everything
    )


def _row(one: Account, coin: Currency, year: int) -> list[str]:
    return [
        one.order.name,
        one.order.customer,
        one.order.state,
        show_day(one.order.due, year),
        "no price" if one.agreed is None else show_money(one.agreed, coin),
        show_money(one.paid, coin),
        look(show_money(one.owed, coin)) if one.owed and one.owed > 0 else "",
    ]
