"""`history`: what was made, spoiled, sold, spent, agreed and used over months or years, and what slept."""

from __future__ import annotations

from typing import Annotated

import typer

from inventory.cli.json.exact import dumps
from inventory.cli.session import ChartsOption, JsonOption, OverOption, StoreOption, opened, say, today
from inventory.errors import BadInput
from inventory.measures import currency, read_date, show_date


def history(
    since: Annotated[
        str, typer.Option(metavar="DATE", help="From that day on; else from the book's first.")
    ] = "",
    everything: Annotated[
        bool, typer.Option("--all", help="Every month, material, supplier, price and part.")
    ] = False,
    save: ChartsOption = None,
    overwrite: OverOption = False,
    store: StoreOption = None,
    as_json: JsonOption = False,
) -> None:
    """Your shop over months and years: made, spoiled, sold, spent, prices, use, orders on time, stock that slept.

    For example:
    kitdrawer history
    kitdrawer history --since 2026-01-01 --all
    kitdrawer history --save history.xlsx
    """
    from inventory.cli.screens.accounts.history import history_screen
    from inventory.jobs.accounts.history import history as grouped
    from inventory.jobs.accounts.history import monthly
    from inventory.jobs.accounts.use_history import use_history

    last = today()
    with opened(store) as found, found.reading() as read:
        first = read_date(since) if since else min(read.first_day() or last, last)
        if first > last:
            hint = f"Give a day up to {show_date(last)}, or leave --since out."
            raise BadInput(f"--since {show_date(first)} has not come yet.", hint=hint)
        coin = currency(read.currency)
        rows = read.past_rows(first, last, by_month=monthly(first, last))
        uses = use_history(
            read.written(), read.seen(), read.came_of, read.rate_words(), read.learned(), first
        )
        made = grouped(rows, uses, read.held_still(last), first, last)
    if save is not None:
        from inventory.sheets.accounts.history import write_history

        write_history(save, made, coin, overwrite=overwrite)
    if as_json:
        from inventory.cli.screens.accounts.history_json import history_json

        say(dumps(history_json(made, coin)))
        return
    say(history_screen(made, coin, everything=everything, saved=save))
