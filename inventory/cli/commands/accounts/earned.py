"""`earned`: what was sold for what, what it took, and what is left."""

from __future__ import annotations

from typing import Annotated

import typer

from inventory.cli.entering.stretch import SinceOption, UntilOption, stretch
from inventory.cli.json.exact import dumps
from inventory.cli.session import ChartsOption, JsonOption, OverOption, StoreOption, opened, say
from inventory.errors import BadInput


def earned(
    since: SinceOption = "",
    until: UntilOption = "",
    by: Annotated[
        str,
        typer.Option(metavar="WHAT", help="month, pattern, material, plating, kind (of sale) or session."),
    ] = "month",
    everything: Annotated[bool, typer.Option("--all", help="Every row and every sum.")] = False,
    save: ChartsOption = None,
    overwrite: OverOption = False,
    store: StoreOption = None,
    as_json: JsonOption = False,
) -> None:
    """What was sold for what, what it took, what is left, and what an hour earned; this year's, else as you say.

    For example:
    kitdrawer earned
    kitdrawer earned --by pattern
    kitdrawer earned --since 2025-01-01 --until 2025-12-31 --save earned-2025.xlsx
    """
    from inventory.cli.past.earned import goal_stands, looking_back
    from inventory.cli.screens.accounts.earned import earned_json, earned_screen
    from inventory.jobs.accounts.earned import earned as worked_out
    from inventory.reports.accounts.earned import GROUPS

    group = next((one for one in GROUPS if one == by.strip().casefold()), None)
    if group is None:
        raise BadInput(f"Earnings cannot be sorted by “{by}”.", hint=f"Sort them by {', '.join(GROUPS)}.")
    first, last = stretch(since, until)
    with opened(store) as found, found.reading() as read:
        shop = looking_back(read)
        made = worked_out(shop, read.settings(), read.past_sales(first, last), first, last)
        goals = goal_stands(read, shop)
    if save is not None:
        from inventory.sheets.accounts.earned import write_earned

        write_earned(save, made, shop.currency, overwrite=overwrite)
    if as_json:
        say(dumps(earned_json(made, shop.currency, group, goals)))
        return
    say(earned_screen(made, shop.currency, group, goals, everything=everything, saved=save))
