"""`worth`: what the shelf is worth at a day, by lot, and how it came to be."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from inventory.cli.entering.stretch import SinceOption, stretch
from inventory.cli.json.exact import dumps
from inventory.cli.session import JsonOption, OverOption, StoreOption, opened, say
from inventory.measures import currency


def worth(
    on: Annotated[str, typer.Option(metavar="DATE", help="At the end of that day, not of today.")] = "",
    since: SinceOption = "",
    everything: Annotated[bool, typer.Option("--all", help="Every part.")] = False,
    save: Annotated[
        Path | None,
        typer.Option(metavar="FILE.xlsx", readable=False, help="By lot and by part as a workbook."),
    ] = None,
    overwrite: OverOption = False,
    store: StoreOption = None,
    as_json: JsonOption = False,
) -> None:
    """What the stock is worth, at the end of today or of another day, and how it came to be.

    For example:
    kitdrawer worth
    kitdrawer worth --on 2025-12-31
    kitdrawer worth --on 2025-12-31 --save worth.xlsx
    """
    from inventory.cli.screens.accounts.worth import worth_json, worth_screen
    from inventory.jobs.accounts.worth import worth as worked_out

    first, last = stretch(since, on)
    with opened(store) as found, found.reading() as read:
        coin = currency(read.currency)
        made = worked_out(read.past_shelf(first, last), read.every_part(), first, last)
    if save is not None:
        from inventory.sheets.accounts.worth import write_worth

        write_worth(save, made, coin, overwrite=overwrite)
    if as_json:
        say(dumps(worth_json(made, coin)))
        return
    say(worth_screen(made, coin, everything=everything, saved=save))
