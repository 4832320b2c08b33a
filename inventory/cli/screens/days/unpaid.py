"""Who owes what, on the screen."""

from __future__ import annotations

from collections.abc import Sequence

from inventory.cli.screens.tables import Column, table, wrapped
from inventory.jobs.orders.money.paying import Account, together
from inventory.measures import Currency, plural, show_date, show_money

MOST = 16
"""Orders on the screen; all of them with --all."""


def unpaid_screen(accounts: Sequence[Account], coin: Currency, *, everything: bool) -> list[str]:
    """The sums first, then each order that is not paid in full."""
    if not accounts:
        return ["Everything is paid."]
    owed, more = together(accounts)
    lines = wrapped(
        f"Owed {show_money(owed, coin)} for what customers have; {show_money(more, coin)} more for what is promised."
    )
    columns = (
        Column("Order", gives=True),
        Column("For", gives=True),
        Column("State"),
        Column("Due"),
        Column("Agreed", right=True),
        Column("Paid", right=True),
        Column("Owed", right=True),
    )
    shown = accounts if everything else accounts[:MOST]
    rows = [_row(one, coin) for one in shown]
    lines += ["", *table(columns, rows)]
    if rest := len(accounts) - len(shown):
        lines.append(f"… and {plural(rest, 'more order')}: --all")
    return [*lines, "", f'Paid: kitdrawer paid "{accounts[0].order.name}"']


def _row(one: Account, coin: Currency) -> list[str]:
    return [
        one.order.name,
        one.order.customer,
        one.order.state,
        show_date(one.order.due),
        "no price" if one.agreed is None else show_money(one.agreed, coin),
        show_money(one.paid, coin),
        show_money(one.owed, coin) if one.owed and one.owed > 0 else "",
    ]
