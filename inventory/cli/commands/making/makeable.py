"""`makeable`: the largest set of pieces the shelf gives, or the one that earns most."""

from __future__ import annotations

from typing import Annotated

import typer

from inventory.cli.json.exact import dumps
from inventory.cli.session import JsonOption, StoreOption, opened, say, shop_of
from inventory.errors import BadInput


def makeable(
    hours: Annotated[
        str, typer.Option(metavar="H", help="The hours there are, as 6 or 2.5; else without end.")
    ] = "",
    earns: Annotated[
        bool,
        typer.Option(
            "--earns", help="The set that earns most at what such pieces sold for, not the largest."
        ),
    ] = False,
    everything: Annotated[bool, typer.Option("--all", help="Every row.")] = False,
    store: StoreOption = None,
    as_json: JsonOption = False,
) -> None:
    """What can be made from the shelf: the most pieces, or the set that earns most, and what one more part would add.

    For example:
    kitdrawer makeable
    kitdrawer makeable --hours 6 --earns
    """
    from inventory.cli.screens.making.makeable import makeable_json, makeable_screen
    from inventory.jobs.stock.makeable import makeable as worked_out
    from inventory.jobs.stock.makeable import sold_for

    minutes = _minutes(hours)
    with opened(store) as found, found.reading() as read:
        shop = shop_of(read)
        made = worked_out(shop, read.settings(), minutes, sold_for(shop) if earns else None, quickly=False)
    if as_json:
        say(dumps(makeable_json(made, shop.currency)))
        return
    say(makeable_screen(made, shop, minutes, everything=everything))


def _minutes(text: str) -> int | None:
    """Raises BadInput for what are no hours."""
    if not text:
        return None
    try:
        minutes = round(60 * float(text.strip().removesuffix("h").replace(",", ".")))
    except (ValueError, OverflowError):
        minutes = 0
    if not 0 < minutes <= 60 * 1000:
        raise BadInput(f"“{text}” are no hours.", hint="Write a number above 0, such as 6 or 2.5.")
    return minutes
