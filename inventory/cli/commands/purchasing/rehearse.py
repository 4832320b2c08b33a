"""`rehearse`: the coming weeks many times over, with ways of buying side by side."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from inventory.cli.json.exact import dumps
from inventory.cli.rates import RateOption, with_rates
from inventory.cli.session import JsonOption, StoreOption, opened, say, shop_of


def rehearse(
    weeks: Annotated[int, typer.Option(metavar="N", help="So many weeks.")] = 26,
    futures: Annotated[int, typer.Option(metavar="N", help="So many futures.")] = 1000,
    seed: Annotated[int, typer.Option(metavar="N", help="Others with another number.", min=0)] = 1,
    save: Annotated[
        Path | None, typer.Option(readable=False, metavar="FILE.xlsx", help="With charts, as a workbook.")
    ] = None,
    overwrite: Annotated[bool, typer.Option("--overwrite", help="Replace a file that is there.")] = False,
    rate: RateOption = None,
    everything: Annotated[bool, typer.Option("--all", help="Every part that may run out.")] = False,
    store: StoreOption = None,
    as_json: JsonOption = False,
) -> None:
    """What may become of the coming weeks: orders late, money in stock, what runs out, by how you buy.

    For example:
    kitdrawer rehearse
    kitdrawer rehearse --weeks 12 --save ahead.xlsx
    """
    from inventory.cli.past.asked_for import past_of, with_all_lateness
    from inventory.cli.screens.purchasing.rehearse import rehearse_json, rehearse_screen
    from inventory.jobs.ahead.rehearsal import Rehearsing
    from inventory.jobs.ahead.rehearsal import rehearse as rehearsed
    from inventory.jobs.ahead.scene import notices

    with opened(store) as found, found.reading() as read:
        shop = with_all_lateness(read, with_rates(shop_of(read), rate or []))
        past, notice = past_of(read, shop), notices(shop, read.first_taken())
    told = rehearsed(shop, past, Rehearsing(weeks, futures, seed, notice))
    if save is not None:
        from inventory.sheets.reports.rehearsal import write_rehearsal

        write_rehearsal(save, told, overwrite=overwrite)
    if as_json:
        say(dumps(rehearse_json(told)))
        return
    say(rehearse_screen(told, everything=everything, saved=save is not None))
    if save is not None:
        say(["", f"Saved: {save}"])
