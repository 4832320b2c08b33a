"""`levels`: at what stock to order each part again, worked out from what was asked for."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated

import typer

from inventory.cli.json.exact import dumps
from inventory.cli.rates import RateOption, with_rates
from inventory.cli.session import JsonOption, StoreOption, opened, say, shop_of
from inventory.errors import BadInput
from inventory.measures import read_money

if TYPE_CHECKING:
    from inventory.jobs.ahead.levels import Levels
    from inventory.ledger.shop import Shop


def levels(
    part: Annotated[str, typer.Argument(help="Only this part.")] = "",
    money: Annotated[
        str, typer.Option(metavar="MONEY", help="The most that may lie in stock on average.")
    ] = "",
    before: Annotated[
        str, typer.Option(metavar="MARKET", help="What to have before this market, and when to order it.")
    ] = "",
    rate: RateOption = None,
    everything: Annotated[
        bool, typer.Option("--all", help="Every part that is expected to be used.")
    ] = False,
    store: StoreOption = None,
    as_json: JsonOption = False,
) -> None:
    """At what stock to order each part again, and up to what: from what was asked for, postage and lead times.

    For example:
    kitdrawer levels
    kitdrawer levels --money 400
    kitdrawer levels --before "harbour market"
    """
    from inventory.cli.past_demand import past_of, with_all_lateness
    from inventory.cli.screens.purchasing.levels import levels_json, levels_screen
    from inventory.jobs.ahead.levels import levels as worked_out

    with opened(store) as found, found.reading() as read:
        shop = with_all_lateness(read, with_rates(shop_of(read), rate or []))
        name = shop.catalogue.part(part).name if part else ""
        past = past_of(read, shop)
    most = read_money(money, shop.currency) if money else None
    if most is not None and most <= 0:
        raise BadInput(f"{money} cannot lie in stock.", hint="Give a sum above 0.")
    made = worked_out(shop, past, most_money=most / 10**shop.currency.exponent if most else None)
    if before:
        _before(shop, made, before, everything=everything, as_json=as_json)
        return
    say(dumps(levels_json(made, name)) if as_json else levels_screen(shop, made, name, everything=everything))


def _before(shop: Shop, made: Levels, market: str, *, everything: bool, as_json: bool) -> None:
    from inventory.cli.screens.purchasing.before import before_json, before_screen
    from inventory.jobs.ahead.before import before as to_have

    found = to_have(shop, made, market)
    say(dumps(before_json(found)) if as_json else before_screen(shop, found, everything=everything))
